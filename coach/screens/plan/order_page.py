"""The order of work with its balance, and what speaks against a plan: reckoned when the painter's keys rest."""

from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from coach.forecast.layers import layer_warnings, layers_of
from coach.journal.events import Turn
from coach.plan.commission import Address, Plan
from coach.plan.reading import problems_on
from coach.review.order_table import balance_lines, order_report, waiting_line
from coach.screens.lines import Line, Role, fitted
from coach.screens.plan.repository import PlanProgress
from coach.session.announcing import work_after_edit
from coach.session.wet_and_dry import paint_on_canvases
from coach.session.work import turns_ahead, work_of
from coach.text import first_shown, paragraphs, span


class OrderPage(NamedTuple):
    """The order of the work to come.

    Attributes:
        balance: Sentences about the whole work.
        turns: A line for each turn to come.
        turn_no_of: Number in `turns`, from 0, of the first turn of a run, by pass and number of the run.
        of_passes: Sentences about the balance of each pass.
    """

    balance: tuple[str, ...]
    turns: tuple[str, ...]
    turn_no_of: Mapping[tuple[str, int], int]
    of_passes: tuple[str, ...]


class Warnings(NamedTuple):
    """What speaks against a plan that can be painted all the same.

    Attributes:
        of: Sentences by the pass and passage they are about.
        whole: Sentences about no passage.
    """

    of: Mapping[Address, tuple[str, ...]] = {}
    whole: tuple[str, ...] = ()


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
    said = balance_lines(order_report(work._replace(runs=work.runs[:run_count], orders=work.orders[:run_count])))
    pass_count = len(plan.passes)
    turn_no_of: dict[tuple[str, int], int] = {}
    for number, turn in enumerate(turns):
        turn_no_of.setdefault((turn.pass_name, turn.run), number)
    waiting = waiting_line(plan, progress.today)
    return OrderPage(
        balance=tuple(filter(None, (said[0], *said[1 + pass_count :], waiting))),
        turns=tuple(_turn_line(turn) for turn in turns),
        turn_no_of=turn_no_of,
        of_passes=tuple(said[1 : 1 + pass_count]),
    )


def warnings_of(plan: Plan, progress: PlanProgress) -> Warnings:
    """Return what speaks against a plan on a day, each sentence with the passage it is about."""
    whole = [
        "; ".join(filter(None, (f"{problem.where}: {problem.what}", problem.suggestion)))
        for problem in problems_on(plan, progress.today)
    ]
    if not any(passage.over for one in plan.passes for passage in one.passages):
        return Warnings(whole=tuple(whole))
    painted = {} if progress.state is None else paint_on_canvases(plan, progress.state)
    left = list(layer_warnings(plan, painted))
    found: dict[Address, tuple[str, ...]] = {}
    for layer in layers_of(plan):  # the sentences come in the order of the layers, and each names its own first
        pass_name, passage = layer.above
        name = f"{passage.name} ({pass_name})"
        own = []
        while left and (f": {name} dries in" in left[0] or f"the mixture of {name} is" in left[0]):
            own.append(left.pop(0))
        if own:
            found[pass_name, passage.name] = tuple(own)
    return Warnings(of=found, whole=(*whole, *left))


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
        every = [Line("Order of work: it is being planned", Role.HEAD)]
        return tuple(every + [Line("", Role.DETAIL)] * (lines - 1))[:lines]
    head, foot = _head(page, columns), _foot(page, columns)
    turn_no = page.turn_no_of.get(run) if run else None
    count = len(head) + len(page.turns) + len(foot)
    if first is None:
        first = first_shown(0 if turn_no is None else len(head) + turn_no, count, lines)
    shown = [_line_at(page, head, foot, number, turn_no) for number in range(first, min(first + lines, count))]
    blanks = [Line("", Role.DETAIL)] * (lines - len(shown))
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
    count = len(page.turns)
    turns = "1 turn" if count == 1 else f"{count} turns"
    return [f"Order of work: {turns} to come", *_wrapped(page.balance, columns), ""]


def _foot(page: OrderPage, columns: int) -> list[str]:
    return ["", *_wrapped(page.of_passes, columns)]


@lru_cache(maxsize=8)
def _wrapped(texts: tuple[str, ...], columns: int) -> tuple[str, ...]:
    return tuple(paragraphs(texts, columns))


def _turn_line(turn: Turn) -> str:
    leads = " leads" if turn.is_lead else ""
    return f"{turn.canvas}{leads} · {turn.pass_name}: {' + '.join(turn.passages)} · {span(turn.planned_s * 1000)}"
