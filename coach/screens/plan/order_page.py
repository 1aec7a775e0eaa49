"""The order of work with its balance, and what speaks against a plan: reckoned when the painter's keys rest."""

from collections.abc import Collection, Mapping, Sequence
from functools import lru_cache
from itertools import chain, groupby, pairwise
from typing import Final, NamedTuple

from coach.forecast.layers import layer_warnings, layers_of
from coach.journal.events import Turn
from coach.plan.commission import Address, Plan
from coach.plan.reading import problems_on
from coach.review.advice import advice_on
from coach.review.order_table import balance_lines, order_report, waiting_line
from coach.screens.answer_head import answer_head
from coach.screens.leads import BAR, THICK_BAR, THIN_BAR, label_cells, lead_strip
from coach.screens.lines import BLANK, Line, Role, fitted
from coach.screens.plan.repository import PlanProgress
from coach.session.announcing import work_after_edit
from coach.session.wet_and_dry import paint_on_canvases
from coach.session.work import Work, turns_ahead, work_of
from coach.text import counted, first_shown, paragraphs, span

MOST_SENTENCE_WORDS: Final = 14
_EVEN_PERCENT: Final = 2
"""The lead counts as even within so much. Source: what the orders promise, `order/strategies.py`."""

_LEAST_PICTURE_CELLS: Final = 24
_LEGEND: Final = f"{BAR} painted   {THIN_BAR} to come   {THICK_BAR} this row"


class OrderedRun(NamedTuple):
    """A run with its number in the plan, its canvases, the one that leads first, and the minutes planned on each."""

    pass_name: str
    number: int
    order: tuple[str, ...]
    mean_min: float


class OrderPage(NamedTuple):
    """The order of the work.

    Attributes:
        names: The canvases.
        runs: The runs that somebody leads, painted and to come, in the order of the plan.
        ahead: Numbers of those to come.
        leads: How often each canvas leads.
        apart_min: How many minutes the one that leads most is ahead in the end of the one that leads least.
        is_even: Whether that is as little as an order promises.
        balance: Sentences about the whole work.
        turns: A line for each turn to come.
        turn_no_of: Number in `turns`, from 0, of the first turn of a run, by pass and number of the run.
        of_passes: Sentences about the balance of each pass.
    """

    names: tuple[str, ...]
    runs: tuple[OrderedRun, ...]
    ahead: frozenset[int]
    leads: Mapping[str, int]
    apart_min: float
    is_even: bool
    balance: tuple[str, ...]
    turns: tuple[str, ...]
    turn_no_of: Mapping[tuple[str, int], int]
    of_passes: tuple[str, ...]


class Warnings(NamedTuple):
    """What speaks against a plan that can be painted all the same, faults and advice.

    Attributes:
        of: Sentences by the pass and passage they are about.
        whole: Sentences about no passage.
        turns: How many turns the plan has; 0 where no journal tells.
    """

    of: Mapping[Address, tuple[str, ...]] = {}
    whole: tuple[str, ...] = ()
    turns: int = 0

    @property
    def sentences(self) -> tuple[str, ...]:
        """All of them, each once: those about the whole plan first."""
        return tuple(dict.fromkeys((*self.whole, *chain.from_iterable(self.of.values()))))


def order_page(plan: Plan, progress: PlanProgress) -> OrderPage:
    """Return the order of the turns to come, with the balance of the whole work, done and to come."""
    absent = plan.absent_on(progress.today)
    state, first = progress.state, None
    if progress.work is None or state is None:
        work = work_of(plan, progress.places, marks=progress.marks, absent=absent)
    else:
        work = work_after_edit(plan, progress.work, state, progress.work.absent if state.session else absent)
        first = state.in_hand.canvas if state.in_hand else None
    turns = list(turns_ahead(work, progress.places, first))
    run_count = len(plan.runs)
    report = order_report(work._replace(runs=work.runs[:run_count], orders=work.orders[:run_count]))
    said, balance = balance_lines(report), report.balance
    pass_count = len(plan.passes)
    turn_no_of: dict[tuple[str, int], int] = {}
    for number, turn in enumerate(turns):
        turn_no_of.setdefault((turn.pass_name, turn.run), number)
    waiting = waiting_line(plan, progress.today)
    runs, ahead = _led(work, {shape[:2] for shape in progress.places})
    apart_min = max(balance.lead_minutes.values()) - min(balance.lead_minutes.values())
    return OrderPage(
        names=report.canvases,
        runs=runs,
        ahead=ahead,
        leads=balance.leads,
        apart_min=apart_min,
        is_even=round(apart_min) == 0 or balance.apart_percent <= _EVEN_PERCENT,
        balance=tuple(filter(None, (said[0], *said[1 + pass_count :], waiting))),
        turns=tuple(_turn_line(turn) for turn in turns),
        turn_no_of=turn_no_of,
        of_passes=tuple(said[1 : 1 + pass_count]),
    )


def _led(work: Work, begun: Collection[Address]) -> tuple[tuple[OrderedRun, ...], frozenset[int]]:
    """Return the runs that somebody leads, and the numbers of those of which nothing is begun."""
    names = [canvas.name for canvas in work.plan.canvases]
    runs: list[OrderedRun] = []
    ahead: set[int] = set()
    for run, order in zip(work.runs, work.orders, strict=True):
        if len(order) > 1 and not run.is_check:
            if not any((run.pass_name, name) in begun for name in run.passage_names):
                ahead.add(len(runs))
            runs.append(
                OrderedRun(run.pass_name, run.number, tuple(names[number] for number in order), run.planned_s / 60)
            )
    return tuple(runs), frozenset(ahead)


def warnings_of(plan: Plan, progress: PlanProgress) -> Warnings:
    """Return what speaks against a plan on a day, faults and advice, each sentence with the passages it is about."""
    whole = [
        "; ".join(filter(None, (f"{problem.where}: {problem.what}", problem.suggestion)))
        for problem in problems_on(plan, progress.today)
    ]
    found: dict[Address, list[str]] = {}
    if any(passage.over for one in plan.passes for passage in one.passages):
        painted = {} if progress.state is None else paint_on_canvases(plan, progress.state)
        left = list(layer_warnings(plan, painted))
        for layer in layers_of(plan):  # the sentences come in the order of the layers, and each names its own first
            pass_name, passage = layer.above
            name = f"{passage.name} ({pass_name})"
            while left and (f": {name} dries in" in left[0] or f"the mixture of {name} is" in left[0]):
                found.setdefault((pass_name, passage.name), []).append(left.pop(0))
        whole += left
    for advice in advice_on(plan):
        for address in advice.passages:
            found.setdefault(address, []).append(advice.sentence)
        whole += [] if advice.passages else [advice.sentence]
    work = progress.work
    turns = work.turn_count + _turns_asked(plan) - _turns_asked(work.plan) if work else 0
    return Warnings(of={address: tuple(own) for address, own in found.items()}, whole=tuple(whole), turns=turns)


def _turns_asked(plan: Plan) -> int:
    """Return how many turns a plan asks for, the looks again beside it left out."""
    return sum(run.is_for(canvas.name) for run in plan.runs for canvas in plan.canvases)


def order_word(order: OrderPage | None) -> str:
    """Return whether the lead is shared evenly in the end, in a word."""
    if order is None:
        return "WAIT"
    if not order.runs:
        return "NO LEADS"
    return "EVEN" if order.is_even else f"{round(order.apart_min)} MIN"


def order_sentence(order: OrderPage | None) -> str:
    """Return how often each canvas leads, in a sentence of at most 14 words."""
    if order is None:
        return "The order is being planned."
    if not order.runs:
        return "No work is taken from one canvas to another."
    (first, count), *others = order.leads.items()
    minutes = round(order.apart_min)
    end = f"{minutes} min apart in the end" if minutes else "even in the end"
    said = f"{first} leads {count} times{''.join(f', {name} {number}' for name, number in others)}; {end}."
    if len(said.split()) <= MOST_SENTENCE_WORDS:
        return said
    return f"Each canvas leads {min(order.leads.values())} to {max(order.leads.values())} times; {end}."


def order_view(order: OrderPage | None, run: tuple[str, int], columns: int, lines: int) -> tuple[Line, ...]:
    """Return the answer, and below it who leads when, pass by pass, exactly `lines` lines; `run` is looked at."""
    wanted = 2 * (len(order.names) + 2) if order else 0
    head = answer_head(
        "the order · who leads?", order_word(order), order_sentence(order), columns, lines, wanted=wanted
    )
    every = [*head, *lead_picture(order, run, columns, lines - len(head))] if order else head
    return (*every, *[BLANK] * (lines - len(every)))


def lead_picture(order: OrderPage, run: tuple[str, int], columns: int, lines: int) -> list[Line]:
    """Return who leads when in strips one below the other, each of whole passes, with what the bars mean below."""
    signs = dict.fromkeys(order.ahead, THIN_BAR)
    signs |= {no: THICK_BAR for no, one in enumerate(order.runs) if (one.pass_name, one.number) == run}
    most = (lines - 2) // (len(order.names) + 2)
    if not order.runs or columns < _LEAST_PICTURE_CELLS:
        return []
    if most < 1:
        return lead_strip(order.runs, order.names, columns, lines, signs)
    drawn: list[Line] = []
    for first, part, wide in _bands(order, most, columns):
        drawn += lead_strip(part, order.names, wide, lines, {no - first: sign for no, sign in signs.items()})
    return [*drawn, BLANK, Line(_LEGEND, Role.HEAD)] if drawn else []


def _bands(order: OrderPage, most: int, columns: int) -> list[tuple[int, Sequence[OrderedRun], int]]:
    """Return the runs in at most so many bands of whole passes, about as long.

    Each band is told by the number of its first run, its runs, and its columns: a minute is as broad in all of them.
    """
    total = sum(run.mean_min for run in order.runs)
    so_far, firsts, number = 0.0, [0], 0
    stretches = [tuple(group) for _, group in groupby(order.runs, key=lambda run: run.pass_name)]
    for stretch in stretches:
        middle = so_far + sum(run.mean_min for run in stretch) / 2
        if middle >= len(firsts) * total / most and number:
            firsts.append(number)
        so_far += sum(run.mean_min for run in stretch)
        number += len(stretch)
    parts = [(first, order.runs[first:end]) for first, end in pairwise((*firsts, len(order.runs)))]
    longest = max(sum(run.mean_min for run in part) for _, part in parts)
    label = label_cells(order.names) + 1
    return [
        (first, part, label + _columns_of(part, (columns - label) / longest, columns - label)) for first, part in parts
    ]


def _columns_of(runs: Sequence[OrderedRun], per_minute: float, most: int) -> int:
    """Return the columns of a band, so many a minute, but one a run at least, and one between passes."""
    least = len(runs) + len({run.pass_name for run in runs}) - 1
    return min(most, max(least, round(per_minute * sum(run.mean_min for run in runs))))


def turns_from(order: OrderPage, run: tuple[str, int], columns: int, lines: int) -> tuple[Line, ...]:
    """Return the turns to come from those of a run on, or from the first, at most so many."""
    first = order.turn_no_of.get(run, 0)
    return tuple(fitted(Line(turn, Role.DETAIL), columns) for turn in order.turns[first : first + lines])


def page_view(
    page: OrderPage | None, run: tuple[str, int] | None, columns: int, lines: int, first: int | None = None
) -> tuple[Line, ...]:
    """Return the page for `columns` x `lines`.

    Args:
        page: The page; None while it is being reckoned.
        run: Pass and number of the run in hand, whose turn is marked and shown; None shows the beginning.
        columns: Cells in a line.
        lines: Lines, exactly so many are returned.
        first: The first line to show; None follows the run in hand.
    """
    if page is None:
        every = [Line(order_sentence(None), Role.HEAD)]
        return tuple(every + [BLANK] * (lines - 1))[:lines]
    head, foot = _head(page, columns), _foot(page, columns)
    turn_no = page.turn_no_of.get(run) if run else None
    count = len(head) + len(page.turns) + len(foot)
    if first is None:
        first = first_shown(0 if turn_no is None else len(head) + turn_no, count, lines)
    shown = [_line_at(page, head, foot, number, turn_no) for number in range(first, min(first + lines, count))]
    blanks = [BLANK] * (lines - len(shown))
    return tuple(fitted(line, columns) for line in (*shown, *blanks))


def page_line_count(page: OrderPage | None, columns: int) -> int:
    """Return how many lines the page has in all."""
    return 1 if page is None else len(_head(page, columns)) + len(page.turns) + len(_foot(page, columns))


def _line_at(page: OrderPage, head: list[str], foot: list[str], number: int, turn_no: int | None) -> Line:
    if number < len(head):
        return Line(head[number], Role.HEAD if number == 0 else Role.DETAIL)
    place = number - len(head)
    if place < len(page.turns):
        mark = "> " if place == turn_no else "  "
        return Line(mark + page.turns[place], Role.DETAIL)
    return Line(foot[place - len(page.turns)], Role.DETAIL)


def _head(page: OrderPage, columns: int) -> list[str]:
    return [f"The order: {counted(len(page.turns), 'turn')} to come", *_wrapped(page.balance, columns), ""]


def _foot(page: OrderPage, columns: int) -> list[str]:
    return ["", *_wrapped(page.of_passes, columns)]


@lru_cache(maxsize=8)
def _wrapped(texts: tuple[str, ...], columns: int) -> tuple[str, ...]:
    return tuple(paragraphs(texts, columns))


def _turn_line(turn: Turn) -> str:
    leads = " leads" if turn.is_lead else ""
    return f"{turn.canvas}{leads} · {turn.pass_name}: {' + '.join(turn.passages)} · {span(turn.planned_s * 1000)}"
