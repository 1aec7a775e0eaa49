"""The situation in words: times, places, warnings. Pure text, one line each."""

from coach.journal.events import Turn
from coach.limits.due import Limit, Reached
from coach.plan.commission import Canvas, Passage, Plan
from coach.session.progress import Absence, Phase, TurnRecord
from coach.session.situation import Situation

_CAUTION = "information, not medical advice"
RAGS = "oily rags can catch fire by themselves: follow the label, local rules and qualified advice"
"""Shown at the end of a session. Source: facts of the trade, section E; DESIGN.md section 9."""


def clock(ms: int) -> str:
    """Return a time as m:ss, or h:mm:ss from an hour on."""
    minutes, seconds = divmod(ms // 1000, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{seconds:02}" if hours else f"{minutes}:{seconds:02}"


def span(ms: int) -> str:
    """Return a time in words such as "45 s", "12 min" or "3 h 05 min"; whole minutes, cut off."""
    minutes = ms // 60_000
    if minutes == 0:
        return f"{ms // 1000} s"
    hours, minutes = divmod(minutes, 60)
    if minutes == 0:
        return f"{hours} h"
    return f"{hours} h {minutes:02} min" if hours else f"{minutes} min"


def placed_name(canvas: Canvas) -> str:
    """Return the canvas's name with an arrow, or a number, for its place on the easel."""
    match canvas.place:
        case "left":
            return f"← {canvas.name}"
        case "right":
            return f"{canvas.name} →"
        case None:
            return canvas.name
        case number:
            return f"{number}: {canvas.name}"


def passage_line(passage: Passage, plan: Plan) -> str:
    """Return what to mix for a passage: its name, value, mixture with its parts, area."""
    facts = []
    if passage.value is not None:
        facts.append(f"value {passage.value:g}")
    if passage.mixture is not None:
        mixture = plan.mixture_named(passage.mixture)
        parts = " + ".join(f"{count} {paint}" for paint, count in mixture.parts) if mixture else ""
        facts.append(f"{passage.mixture} ({parts})" if parts else passage.mixture)
    if passage.area_cm2 is not None:
        facts.append(f"{passage.area_cm2:.3g} cm²")
    return f"{passage.name}: {', '.join(facts)}" if facts else passage.name


def before_line(record: TurnRecord) -> str:
    """Return what another canvas of the run took and what was noted there."""
    role = "led" if record.turn.place == 1 else "followed"
    said = f"{record.turn.canvas} {role}: {clock(record.worked_ms)}"
    if record.is_skipped:
        said = f"{record.turn.canvas}: skipped"
    marked = " · marked for return" if record.is_marked else ""
    return said + marked + "".join(f" · “{note}”" for note in record.notes)


def coming_line(turns: tuple[Turn, ...]) -> str:
    """Return the next turns."""
    if not turns:
        return "next: nothing; this is the last turn"
    said = (f"{turn.canvas}, {' + '.join(turn.passages)}" for turn in turns)
    return "next: " + " · then: ".join(said)


def hours_line(situation: Situation) -> str:
    """Return block and day so far, and who led how often."""
    limits = situation.plan.limits
    leads = ", ".join(
        f"{canvas.name} {count}" for canvas, count in zip(situation.plan.canvases, situation.leads, strict=True)
    )
    return (
        f"block {span(situation.block_ms)} of {span(limits.block_s * 1000)}"
        f" · day {span(situation.day_ms)} of {span(limits.day_s * 1000)} · led: {leads}"
    )


def head_line(situation: Situation) -> str:
    """Return where the work stands: phase, pass, turn, share done, commission."""
    turn = situation.turn
    at = f"{turn.pass_name} · " if turn else ""
    count = f"turn {situation.turn_no} of {situation.turn_count}" if turn else f"{situation.turn_count} turns"
    done_frac = min(situation.done_frac, 0.99) if turn else 1  # nothing is all done while a turn is left
    said = f"{situation.phase.value} · {at}{count} · {done_frac:.0%} done"
    return f"{said} · {situation.plan.commission}" if situation.plan.commission else said


def time_words(situation: Situation) -> str:
    """Return the words that stand largest after canvas and passage: the time on the turn, or of the rest."""
    match situation.phase:
        case Phase.RESTING:
            return f"Rest {clock(situation.off_ms)}"
        case Phase.PAUSED:
            return f"Pause {clock(situation.off_ms)}"
        case _:
            return clock(situation.turn_ms)


def time_line(situation: Situation) -> str:
    """Return what the time is measured against."""
    if situation.turn is None:
        return ""
    planned = f"of {span(situation.turn.planned_s * 1000)} planned"
    match situation.phase:
        case Phase.RESTING:
            rest_ms = situation.plan.limits.rest_s * 1000
            left = rest_ms - situation.off_ms
            return f"{span(left)} of rest left" if left > 0 else "rested; go on when you like"
        case Phase.PAUSED:
            return f"{clock(situation.turn_ms)} {planned}"
        case Phase.NOT_BEGUN:
            begun = f"{clock(situation.turn_ms)} so far, " if situation.turn_ms else ""
            return f"{begun}{planned} · Space begins a session"
        case _:
            return planned


def limit_line(reached: Reached) -> str:
    """Return the calm line for a limit that is reached."""
    so_far, limit = span(reached.so_far_ms), span(reached.limit_ms)
    match reached.limit:
        case Limit.BLOCK:
            return f"{so_far} of unbroken work: a rest is due (block {limit})"
        case Limit.DAY:
            return f"{so_far} of work today, over the day's {limit}: {_CAUTION}"
        case Limit.BETWEEN_DAYS:
            return f"only {so_far} off since the last day's work, {limit} is the yardstick: {_CAUTION}"


def away_line(situation: Situation) -> str:
    """Return which canvases are away and until when."""
    until = dict(situation.plan.away)
    return "away: " + ", ".join(f"{canvas.name} until {until[canvas.name].isoformat()}" for canvas in situation.away)


def absence_line(absence: Absence) -> str:
    """Return how long the coach was away and what that counted as."""
    if absence.ended_session:
        return f"the coach was closed for {span(absence.away_ms)}: the last session ended when it was last seen"
    if absence.away_ms == 0:
        return "the time away is not known: the clock was set back"
    return f"away {span(absence.away_ms)}, not counted as work (w counts it)"
