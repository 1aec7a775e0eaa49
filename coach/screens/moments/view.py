"""The pages of a moment: what each says, made from a situation and from what a thread has worked out. Pure."""

import datetime as dt
from collections.abc import Mapping
from typing import Final, NamedTuple

from coach.forecast.answer import Brief
from coach.forecast.outlook import Stage
from coach.forecast.sentences import LIKELY, chance_in_ten, day_words
from coach.journal.events import STAGE_WORDS, Kind
from coach.limits.cautions import END_OF_SESSION
from coach.plan.commission import pass_words
from coach.review.painting_day import DayAhead, DayBehind
from coach.screens.chips import HELP, Chip, chip
from coach.screens.easel.wording import RAGS, day_of, short_place
from coach.screens.lines import Role
from coach.screens.moments import wording
from coach.screens.page import Bar, Page
from coach.session.situation import Situation
from coach.text import counted, span

_FEW_CANVASES: Final = 3
_STAGES: Final = tuple(STAGE_WORDS)


class Known(NamedTuple):
    """What a thread has worked out.

    Attributes:
        today: Today.
        ahead: What is ahead today.
        brief: The days, and the chance of the due day.
        stages: What followed the last stroke.
    """

    today: dt.date
    ahead: DayAhead
    brief: Brief
    stages: tuple[Stage, ...]


class Step(NamedTuple):
    """What is recorded next after the last stroke."""

    canvas: str
    stage: Kind


def moment_page(situation: Situation, known: Known | None, behind: DayBehind | None, fault: str = "") -> Page:
    """Return the page of the moment.

    Args:
        situation: The situation.
        known: What a thread has worked out; None while it works.
        behind: What was done in the last session; None where there was none.
        fault: Why nothing is worked out; empty where it is.
    """
    if situation.turn is None and situation.done_frac >= 1:
        page = _after_last(situation, known, behind)
    elif situation.day_ms and behind is not None:
        page = _after_session(situation, behind)
    else:
        page = _before(situation, known)
    return page._replace(facts=(fault, *page.facts)) if fault else page


def next_step(situation: Situation, stages: tuple[Stage, ...]) -> Step | None:
    """Return what is recorded next: the earliest stage that a canvas still lacks, canvas by canvas."""
    reached = _reached(stages)
    steps = [
        (reached.get(canvas.name, -1) + 1, number, canvas.name) for number, canvas in enumerate(situation.plan.canvases)
    ]
    stage, _, canvas = min(steps)
    return Step(canvas, _STAGES[stage]) if stage < len(_STAGES) else None


def _reached(stages: tuple[Stage, ...]) -> dict[str, int]:
    reached: dict[str, int] = {}
    for one in stages:
        reached[one.canvas] = max(reached.get(one.canvas, -1), _STAGES.index(one.kind))
    return reached


def _before(situation: Situation, known: Known | None) -> Page:
    plan, canvas = situation.plan, situation.canvas
    number = plan.canvases.index(canvas) + 1 if canvas else 0
    word = wording.canvas_word(canvas, number) if canvas else "away"
    plain = wording.canvas_plain(canvas) if canvas else "What is left waits for a canvas that is away"
    other = (chip("moment.other"),) if len(situation.open_canvases) > 1 else ()
    chips = (chip("moment.begin"), *other, chip("moment.facts"), HELP)
    first = Bar("first", None, short_place(situation.passages[0].name), Role.CANVAS) if situation.passages else None
    head = (wording.BEFORE, wording.commission(plan))
    if known is None:
        bars = (first,) if first else ()
        return Page(*head, word, plain, "The canvas above begins.", bars, chips)
    ahead = known.ahead
    bars = (*((first,) if first else ()), *_hours_bars(ahead), *_due_bars(situation, known), *_wet_bars(ahead))
    sentence = wording.fits(len(ahead.turns), ahead.hours_s, is_promised=ahead.is_promised)
    return Page(*head, word, plain, sentence, (*bars, *_pile_bars(ahead)), chips, _before_facts(situation, known))


def _hours_bars(ahead: DayAhead) -> list[Bar]:
    if not ahead.hours_s:
        return []
    return [Bar("hours today", ahead.turns_s / ahead.hours_s, wording.hours(ahead.turns_s), Role.TIME)]


def _due_bars(situation: Situation, known: Known) -> list[Bar]:
    due, chance = situation.plan.due, known.brief.chance
    if due is None:
        return []
    return [Bar(f"due {day_of(due)}", chance, "" if chance is None else chance_in_ten(chance).lower())]


def _wet_bars(ahead: DayAhead) -> list[Bar]:
    if not ahead.wet:
        return []
    last, count = max(one.dry for one in ahead.wet), sum(one.passages for one in ahead.wet)
    return [Bar("let dry", None, f"{counted(count, 'passage')} until {day_of(last)}")]


def _pile_bars(ahead: DayAhead) -> list[Bar]:
    """Return a line for each mixture, of what is mixed before all of today's passes; bars are for times and chances."""
    piles: dict[str, float] = {}
    for pile in ahead.piles:
        if pile.mixture is not None:
            piles[pile.mixture] = piles.get(pile.mixture, 0.0) + pile.ml
    return [Bar(short_place(mixture), None, f"mix {ml:.0f} ml") for mixture, ml in piles.items()]


def _before_facts(situation: Situation, known: Known) -> tuple[str, ...]:
    ahead, brief = known.ahead, known.brief
    piles = [
        f"mix {pile.ml:.1f} ml {pile.mixture or 'of no named mixture'} for {pile.before}"
        + (f", also for {', '.join(pile.also_for)}" if pile.also_for else "")
        + _parts(pile.paints_ml)
        for pile in ahead.piles
    ]
    turns = [
        f"{turn.canvas}: {pass_words(turn.pass_name)}, {' + '.join(turn.passages)},"
        f" {wording.hours(turn.planned_s)} planned"
        for turn in ahead.turns
    ]
    wet = [
        f"{one.canvas}: {counted(one.passages, 'passage')} may be wet until {day_words(one.dry)}" for one in ahead.wet
    ]
    due = situation.plan.due
    handed = brief.delivered.p80
    days = [
        *([] if due is None else [f"due {day_words(due)}"]),
        *([] if handed is None else [f"handed over by {day_words(handed)}, {LIKELY}"]),
        f"turns for today take {wording.hours(ahead.turns_s)} of {wording.hours(ahead.hours_s)}",
    ]
    return (*days, *turns, *piles, *wet)


def _parts(paints_ml: Mapping[str, float]) -> str:
    parts = [f"{ml:.1f} ml {paint}" for paint, ml in paints_ml.items()]
    return f": {' + '.join(parts)}" if len(parts) > 1 else ""


def _after_session(situation: Situation, behind: DayBehind) -> Page:
    plan = situation.plan
    most = max((one.worked_ms for one in behind.canvases), default=0) or 1
    is_few = len(behind.canvases) <= _FEW_CANVASES
    bars = [
        Bar(
            short_place(one.canvas),
            one.worked_ms / most,
            f"{span(one.worked_ms)}, led {one.led}" if is_few else f"led {one.led}",
        )
        for one in behind.canvases
    ]
    begins = wording.canvas_plain(situation.canvas) if situation.canvas else ""
    place = short_place(situation.passages[0].name) if situation.passages else ""
    following = [Bar("next", None, f"{short_place(begins)}: {place}")] if begins else []
    out = _compare_bars(behind)
    total = Bar("all", situation.done_frac, f"{min(situation.done_frac, 0.99):.0%} painted", Role.TIME)
    until = f"{behind.rested_until:%H:%M}"
    when = "" if behind.next_day is None else f"; paint again {day_words(behind.next_day)[:-5]}"
    off = span(plan.limits.between_days_s * 1000)
    return Page(
        moment=wording.AFTER,
        commission=wording.commission(plan),
        word=counted(behind.turns, "turn"),
        plain=counted(behind.turns, "turn"),
        sentence=f"{span(behind.worked_ms)} painted. Rest until {until}{when}.",
        bars=(*bars, *out, *following, *([] if out else [total])),
        chips=(chip("moment.begin", "paint on"), chip("app.both" if out else "app.log"), chip("moment.facts"), HELP),
        facts=(
            f"time off between two days: {off}, over on {day_words(behind.rested_until.date())} at {until}",
            *(
                f"{one.canvas}: {counted(one.turns, 'turn')}, {span(one.worked_ms)}, led {counted(one.led, 'turn')}"
                for one in behind.canvases
            ),
            *behind.compared.sentences,
            *(f"{caution.text} (Source: {caution.source}.)" for caution in END_OF_SESSION),
        ),
        caution=RAGS,
    )


def _compare_bars(behind: DayBehind | None) -> tuple[Bar, ...]:
    """Return in one line what is out between the canvases, or that they can be compared; the chip names the key."""
    if behind is None:
        return ()
    label, says = wording.to_compare(behind.compared, can_compare=behind.can_compare)
    return (Bar(label, None, says, Role.NOTICE),) if says else ()


def _after_last(situation: Situation, known: Known | None, behind: DayBehind | None) -> Page:
    plan = situation.plan
    head = (wording.LAST, wording.commission(plan))
    step = None if known is None else next_step(situation, known.stages)
    out = _compare_bars(behind) if known is None or step is not None else ()
    second = chip("app.both" if out else "app.deadline")
    chips: tuple[Chip, ...] = (second, chip("app.log"), HELP)
    if known is None:
        return Page(*head, "finished", "finished", "Every turn is painted.", out, chips)
    reached = _reached(known.stages)
    days = [
        Bar(
            short_place(canvas.name),
            (reached.get(canvas.name, -1) + 1) / len(_STAGES),
            _stage_said(reached, canvas.name),
        )
        for canvas in plan.canvases
    ]
    if step is not None:
        what = f"{short_place(step.canvas)}: {wording.NEXT_STAGE[step.stage]}"
        chips = (chip("moment.step", what), second, chip("moment.facts"), HELP)
    word = _last_word(step, known)
    return Page(
        moment=wording.LAST,
        commission=wording.commission(plan),
        word=word,
        plain=word,
        sentence=_last_sentence(step, known.brief),
        bars=(*days, *out),
        chips=chips,
        facts=_last_facts(plan.due, known),
        caution=RAGS if situation.day_ms else "",
    )


def _stage_said(reached: dict[str, int], canvas: str) -> str:
    return STAGE_WORDS[_STAGES[reached[canvas]]] if canvas in reached else "in the studio"


def _last_word(step: Step | None, known: Known) -> str:
    """Return what the work does now."""
    if step is None:
        return "handed over"
    dry = known.brief.touch_dry.p80
    match step.stage:
        case Kind.PHOTOGRAPHED | Kind.TO_FRAMER:
            return "drying" if dry is not None and dry > known.today else "dry"
        case Kind.FROM_FRAMER:
            return "framing"
        case _:
            return "framed" if step.stage is Kind.SENT else "sent"


def _last_sentence(step: Step | None, brief: Brief) -> str:
    if step is None:
        return "The work is done."
    days = ((brief.touch_dry.p80, "dry"), (brief.framed.p80, "framed"), (brief.delivered.p80, "handed over"))
    said = ", ".join(f"{word} {day_of(one)}" for one, word in days if one is not None)
    return f"{said[:1].upper()}{said[1:]}." if said else "No day can be told."


def _last_facts(due: dt.date | None, known: Known) -> tuple[str, ...]:
    brief = known.brief
    rows = (("dry to touch", brief.touch_dry), ("framed", brief.framed), ("handed over", brief.delivered))
    said = [
        f"{word}: {day_words(days.p80)}, {LIKELY}, {day_words(days.p50)} as likely as not"
        for word, days in rows
        if days.p80 is not None and days.p50 is not None
    ]
    stages = [f"{one.canvas}: {STAGE_WORDS[one.kind]} {day_words(one.day)}" for one in known.stages]
    return (*([] if due is None else [f"due {day_words(due)}"]), *said, *stages)
