"""Every sentence of the Easel, to be read through in one go: plain English of one who paints, one thing at a time."""

import datetime as dt
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from coach.forecast.layers import Openness
from coach.journal.events import Turn
from coach.journal.reading import local_time
from coach.limits.cautions import BODY, time_of_day
from coach.limits.exceeded import ExceededLimit, NextRest
from coach.limits.rule_table import Grade, Key
from coach.plan.commission import RETURN_TO, Canvas, Passage, Plan, pass_words
from coach.screens.easel.state import EaselState
from coach.session.records import Absence, TurnRecord
from coach.session.situation import Situation
from coach.session.wet_and_dry import WetEdge
from coach.text import clock, cut, joined, span


def _opened(text: str) -> str:
    """Return a text as it opens a sentence."""
    return text[:1].upper() + text[1:]


WORDS: Final[Mapping[EaselState, str]] = MappingProxyType(
    {
        EaselState.NOT_BEGUN: "ready",
        EaselState.WORKING: "",
        EaselState.LOOKING: "look",
        EaselState.OVER: "over",
        EaselState.REST_DUE: "rest?",
        EaselState.RESTING: "rest left",
        EaselState.REST_OVER: "rested",
        EaselState.PAUSED: "pause",
        EaselState.AWAY: "away?",
        EaselState.SESSION_OVER: "today",
        EaselState.WAITING: "away",
        EaselState.FINISHED: "turns",
    }
)
"""The word that is drawn for each state; where the coach asks, it ends in a question mark."""

GO_ON: Final[Mapping[EaselState, str]] = MappingProxyType(
    {
        EaselState.NOT_BEGUN: "begin",
        EaselState.SESSION_OVER: "paint on",
        EaselState.RESTING: "carry on",
        EaselState.REST_OVER: "carry on",
        EaselState.PAUSED: "carry on",
    }
)
"""What Space does, where it is not "done"."""

DONE: Final = "done"
TODAY, FOLLOWS, BACK = "today", "what follows", "back"
NOT_MIRRORED, UPRIGHT = "not mirrored", "upright"
FINISHED: Final = "finished"
RAGS: Final = "Oily rags: spread apart outdoors, never piled. Lids on. Follow label and local rules."
"""Source: as `limits.cautions.END_OF_SESSION`, whose whole text stands among the facts of the page that follows."""
"""The caution at the end of a session."""

PAINTED, DID_NOT_PAINT = "yes, I painted", "no"
DRY, STILL_WET = "dry", "still wet"
ANOTHER_FIRST, LEAVE_IT = "another first", "leave it"
TEN_MORE, NOT_TODAY, PUT_AWAY, RIGHT = "ten more minutes", "not today", "put away", "it is right"
"""The answers to what the coach asks."""

FIELDS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "note": "note: Enter keeps it, Esc drops it",
        "minutes": "minutes really painted on the last turn: Enter keeps them, Esc drops them",
    }
)
"""What a field asks for."""

LOOKS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "mirror": "Look at both in a mirror.",
        "upside down": "Turn canvas and photo upside down.",
        "step back": "Step back across the room.",
        "fresh eye": "What do you see first?",
        "colour": "Hold the colours against the photo.",
    }
)
"""What to do in each kind of check."""

NO_PAINT: Final = "no paint"
IN_COLOUR, IN_VALUES, SCREEN_COLOUR, MIRRORED, UPSIDE_DOWN = (
    "screen colour, not paint",
    "values only",
    "screen colour",
    "mirrored",
    "upside down",
)
"""What is said of the picture: its colours, and how it is turned."""

_LIMITS: Final[Mapping[Key, str]] = MappingProxyType(
    {
        Key.DAY: "You have painted {so_far} today; your day is {limit}.",
        Key.BLOCK: "You have painted {so_far} without a rest.",
        Key.LONG_REST: "{so_far} of work without a long rest: take one now.",
        Key.BETWEEN_DAYS: "Only {so_far} off since you last painted; {limit} is the least.",
        Key.AWAKE: "You have been awake {so_far}; {limit} is enough.",
        Key.WEEK: "{so_far} of work in seven days; {limit} is enough.",
        Key.FREE_STRETCH: "In seven days you had {so_far} off in one piece; {limit} is the least.",
        Key.STANDING: "{so_far} on one spot: walk a little, or sit down.",
        Key.STANDING_DAY: "{so_far} on your feet today: sit for a while.",
        Key.NIGHT: "It is {so_far}. From {limit} on, hand and eye slip more easily.",
        Key.MEAL: "It is {so_far}; you meant to eat at {limit}.",
    }
)
_GRADES: Final = {Grade.NOTICE: "", Grade.CAUTION: "Caution: ", Grade.STRONG: "Strong caution: "}


_HOUR_MS: Final = 3_600_000
_MOST_NAME_CELLS: Final = 24
_WHOLE_CM2: Final = 10


def place_of(name: str) -> str:
    """Return the place in the name of a passage: the words before its first comma."""
    return name.split(",", maxsplit=1)[0].strip() or name


def rest_of(name: str) -> str:
    """Return what the name of a passage says behind its place."""
    return name.partition(",")[2].strip()


def short(name: str) -> str:
    """Return a name as it stands in a sentence: cut where it is too long for one."""
    return cut(name, _MOST_NAME_CELLS)


def short_place(name: str) -> str:
    """Return the place in the name of a passage, or the name of a canvas, as it stands in a sentence."""
    return short(place_of(name))


def short_clock(ms: int) -> str:
    """Return a time of at most five signs: minutes and seconds, from 100 minutes on hours and minutes."""
    if ms < 100 * 60_000:
        return f"{ms // 60_000}:{ms // 1000 % 60:02}"
    return hours_and_minutes(ms)


def hours_and_minutes(ms: int) -> str:
    """Return a time as "3h16"."""
    return f"{ms // _HOUR_MS}h{ms // 60_000 % 60:02}"


def place_line(canvas: Canvas) -> str:
    """Return the place of a canvas that is drawn by its name, where no arrow shows it."""
    return "" if canvas.place in ("left", "right", None) else f"place {canvas.place}"


def numbered(situation: Situation) -> str:
    """Return the first passage by its number in its pass."""
    turn = situation.turn
    of_pass = next((one.passages for one in situation.plan.passes if turn and one.name == turn.pass_name), ())
    names = [passage.name for passage in of_pass]
    name = situation.passages[0].name if situation.passages else ""
    return f"passage {names.index(name) + 1}" if name in names else "passage"


def time_letters(situation: Situation, state: EaselState) -> str:
    """Return the time that is drawn: on the turn, beyond it, of the rest that is left, away, or of the day."""
    letters = short_clock(situation.turn_ms)
    match state:
        case EaselState.OVER if situation.turn is not None:
            letters = f"+{short_clock(situation.turn_ms - situation.turn.planned_s * 1000)}"
        case EaselState.RESTING:
            letters = short_clock(situation.rest_left_ms + 999)  # 0:00 only when it is over
        case EaselState.REST_OVER:
            letters = short_clock(situation.off_ms)
        case EaselState.AWAY if situation.absence is not None:
            letters = short_clock(situation.absence.away_ms)
        case EaselState.SESSION_OVER:
            day_ms = situation.day_ms
            letters = hours_and_minutes(day_ms) if day_ms >= _HOUR_MS else span(day_ms)
        case EaselState.WAITING:
            letters = ""
        case EaselState.FINISHED:
            letters = str(situation.turn_count)
    return letters


def caption(situation: Situation, state: EaselState) -> str:
    """Return what the time is measured against."""
    if situation.turn is None or state is EaselState.SESSION_OVER:
        return ""
    planned = f"of {span(situation.turn.planned_s * 1000)}"
    match state:
        case EaselState.RESTING | EaselState.REST_OVER:
            return f"of {span(situation.off_ms + situation.rest_left_ms)}" if situation.rest_left_ms else "long enough"
        case EaselState.OVER | EaselState.AWAY:
            return f"{clock(situation.turn_ms)} {planned}"
        case EaselState.LOOKING:
            return f"{planned}, {NO_PAINT}"
        case _:
            return planned


def share_done(situation: Situation, state: EaselState) -> float | None:
    """Return how much of the turn, or of the rest, is over: more than 1 beyond it; None where neither goes on."""
    if state in (EaselState.RESTING, EaselState.REST_OVER):
        return situation.off_ms / max(1, situation.off_ms + situation.rest_left_ms)
    if situation.turn is None or state is EaselState.SESSION_OVER:
        return None
    return situation.turn_ms / (situation.turn.planned_s * 1000)


def head(situation: Situation, state: EaselState) -> tuple[str, str]:
    """Return what stands above everything, on the left and on the right."""
    turn, commission = situation.turn, situation.plan.commission
    if turn is None:
        if state is EaselState.WAITING:
            return f"What is left waits for {joined([canvas.name for canvas in situation.away])}", commission
        return f"Every turn is painted, {situation.turn_count} in all", commission
    at = f"turn {situation.turn_no} of {situation.turn_count}"
    marks = {
        pass_words(turn.pass_name): turn.pass_name.startswith(RETURN_TO),
        "marked": situation.is_marked,
        "out of turn": situation.went_other_way,
    }
    left = " · ".join([at, *(text for text, is_so in marks.items() if is_so)])
    right = rest_ahead(situation.next_rest)
    match state:
        case EaselState.SESSION_OVER:
            left, right = f"Session over: {span(situation.day_ms)} painted", f"next: {at}"
        case EaselState.REST_OVER:
            right = "Rest over. Carry on when you are ready."
        case EaselState.PAUSED:
            right = f"stopped for {clock(situation.off_ms)}"
        case EaselState.NOT_BEGUN | EaselState.RESTING:
            right = commission
    return left, right


def rest_ahead(coming: NextRest) -> str:
    """Return when the next rest is."""
    kind = "long rest" if coming.key is Key.LONG_REST else "rest"
    return f"{kind} in {span(coming.in_ms)}" if coming.in_ms else f"{kind} now"


def recipe(passage: Passage, plan: Plan) -> str:
    """Return the parts of the passage's pile: "3 burnt umber + 2 yellow ochre"; empty where the plan has none."""
    mixture = plan.mixture_named(passage.mixture)
    return " + ".join(f"{count:g} {paint}" for paint, count in mixture.parts) if mixture else ""


def brush(passage: Passage) -> str:
    """Return the brush; empty where the plan names none."""
    return "" if passage.brush_mm is None else f"{passage.brush_mm:g} mm brush"


def before_line(record: TurnRecord) -> str:
    """Return what another canvas of the run took, and what was noted there."""
    if record.is_skipped:
        return f"{short(record.turn.canvas)}: skipped"
    marked = ", marked" if record.is_marked else ""
    return f"{short(record.turn.canvas)} took {clock(record.worked_ms)}{marked}{quoted(record.notes)}"


def quoted(notes: Sequence[str]) -> str:
    """Return notes behind what they belong to."""
    return ": " + " ".join(f"“{note}”" for note in notes) if notes else ""


def coming_line(turns: Sequence[Turn], canvas: str) -> str:
    """Return the next turn, seen from a canvas."""
    if not turns:
        return "Next: nothing, this is the last turn"
    again = " again" if turns[0].canvas == canvas else ""
    return f"Next: {short(turns[0].canvas)}{again}, {passages_in(turns[0])}"


def passages_in(turn: Turn) -> str:
    """Return the places of a turn's passages, for a sentence."""
    return " + ".join(map(short_place, turn.passages))


def said(situation: Situation, state: EaselState) -> list[str]:
    """Return what is said where there is no notice: what was noted, what the other canvas took, what comes next."""
    if situation.canvas is None or state is EaselState.SESSION_OVER:
        return []
    own = [f"Noted{quoted(situation.notes)}"] if situation.notes else []
    before = map(before_line, situation.before[-1:])
    return [*own, *before, coming_line(situation.coming, situation.canvas.name)]


def back_line(situation: Situation) -> str:
    """Return when the canvases that are waited for are back."""
    until = dict(situation.plan.away)
    return "back " + joined([day_of(day) for day in sorted({until[canvas.name] for canvas in situation.away})])


def day_of(day: dt.date) -> str:
    """Return a day as "20 Jan"."""
    return f"{day.day} {day:%b}"


def limit_line(passed: ExceededLimit) -> str:
    """Return what is said of a limit that is passed; a caution of the body says what it is."""
    said = time_of_day if passed.key in (Key.NIGHT, Key.MEAL) else span
    text = _LIMITS[passed.key].format(so_far=said(passed.so_far_ms), limit=said(passed.limit_ms))
    is_caution = passed.key is not Key.BLOCK
    return f"{_GRADES[passed.grade]}{text}" + (f" {_opened(BODY)}." if is_caution else "")


def edge_line(edge: WetEdge) -> str:
    """Return what is wrong below a passage ahead."""
    canvas, passage, below = map(short_place, (edge.canvas, edge.passage, edge.below))
    if edge.dry_from is not None:
        _, planned = edge.dry_from
        return f"{canvas}: {below} under {passage} is wet, perhaps until {day_of(planned)}."
    if edge.openness is Openness.SET:
        return f"{_opened(below)} on {canvas} has set: {passage} cannot meet it wet any more."
    return f"{_opened(below)} on {canvas} sets soon: {passage} is to meet it wet."


def asked_line(record: TurnRecord) -> str:
    """Return the question whether a passage is dry to touch."""
    turn = record.turn
    day = day_of(local_time(record.ended).date())
    what = f"{short(turn.passages[-1])} ({short(pass_words(turn.pass_name))})"
    return f"Feel {what} of {day} on {short(turn.canvas)}: is it dry?"


def forgotten_line(record: TurnRecord) -> str:
    """Return what is said of a turn that took too long to be believed."""
    turn, took = record.turn, span(record.worked_ms)
    return (
        f"{_opened(passages_in(turn))} on {short(turn.canvas)} took {took}. Forgot the key? c enters the real minutes."
    )


def absence_line(absence: Absence) -> str:
    """Return the question about the time away."""
    return f"You were away {span(absence.away_ms)}. Did you paint meanwhile?"


def and_more(count: int) -> str:
    """Return how many notices stand behind the one that is shown; empty for none."""
    return f"And {count} more." if count else ""


def all_canvases(plan: Plan) -> str:
    """Return the names of all canvases."""
    return joined([canvas.name for canvas in plan.canvases])


def bar(share: float, columns: int) -> str:
    """Return the bar of a turn or a rest; where it is over, what lies beyond is hatched, in proportion."""
    if share > 1:
        planned = round(columns / share)
        return "█" * planned + "▒" * (columns - planned)
    halves = int(share * columns * 2)
    return ("█" * (halves // 2) + "▌" * (halves % 2)).ljust(columns, "░")


def facts(situation: Situation) -> list[str]:
    """Return the facts of the turn, a line each."""
    plan, limits = situation.plan, situation.plan.limits
    leads = ", ".join(f"{canvas.name} {count}" for canvas, count in zip(plan.canvases, situation.leads, strict=True))
    done_frac = min(situation.done_frac, 0.99) if situation.turn else 1  # nothing is all done while a turn is left
    until = dict(plan.away)
    return [
        *([_opened(pass_words(situation.turn.pass_name))] if situation.turn else []),
        f"{done_frac:.0%} of the work is done, by planned minutes",
        f"Today {span(situation.day_ms)} of {span(limits.day_s * 1000)}; at work for {span(situation.block_ms)}, "
        + rest_ahead(situation.next_rest),
        f"Led so far, in turns: {leads}",
        *([situation.of_order] if situation.of_order else []),
        *(passage_line(passage, plan) for passage in situation.passages),
        *(before_line(record) for record in situation.before),
        *(f"Noted: “{note}”" for note in situation.notes),
        *(f"{turn.canvas}: {' + '.join(turn.passages)}, {span(turn.planned_s * 1000)}" for turn in situation.coming),
        *(f"{canvas.name} is away until {day_of(until[canvas.name])}" for canvas in situation.away),
    ]


def passage_line(passage: Passage, plan: Plan) -> str:
    """Return all that the plan says of a passage."""
    facts = [
        "" if passage.value is None else f"value {passage.value:g}",
        passage.mixture or "",
        recipe(passage, plan),
        "" if passage.area_cm2 is None else f"{passage.area_cm2:.{0 if passage.area_cm2 >= _WHOLE_CM2 else 1}f} cm²",
        brush(passage),
        LOOKS.get(passage.check or "", ""),
    ]
    said = ", ".join(fact for fact in facts if fact)
    return f"{passage.name}: {said}" if said else passage.name
