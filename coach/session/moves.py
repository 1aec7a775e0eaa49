"""A move of the painter into the event it records, or the reason why there is nothing to record.

Each move takes how things stand and returns an event, still without its number, at the given reading.
"""

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from coach.errors import CoachError
from coach.journal.events import STAGE_WORDS, UNDOABLE, Event, Kind, Turn, in_force, undone_by
from coach.journal.reading import Reading, local_time, passed_ms
from coach.limits.exceeded import easel_at, not_today, notices, ten_more
from coach.limits.rule_table import Key
from coach.session.journal_state import JournalState, text_of_silenced
from coach.session.records import SKIPPED, Phase
from coach.session.situation import turn_in_hand
from coach.session.wet_and_dry import asked_dry, dry_run_ahead, paint_of_turn, wet_edges
from coach.session.work import Work, open_canvases, turns_ahead
from coach.text import counted, joined, sanitized, span

MOST_NOTE = 500
"""How many characters a note may have."""

BURST_MS: Final = 1000
"""Turns that ended closer than this are one burst of a held key, and are undone together. Source: ours."""


class Standing(NamedTuple):
    """How things stand: the work, what the journal adds up to, and the events that can still be undone."""

    work: Work
    state: JournalState
    events: Sequence[Event]


Move = Callable[[Standing, Reading], Event]


class MoveRefused(CoachError):  # noqa: N818  a refusal is no error
    """The move makes no sense now; the sentence says why."""


def go_on(now: Standing, at: Reading) -> Event:
    """Begin a session, end a pause or rest, or end the turn in hand: whatever comes next."""
    turn = _turn(now)
    if now.state.phase is Phase.NOT_BEGUN:
        return _plain(Kind.SESSION_BEGUN, at)
    if now.state.phase is not Phase.WORKING:
        return _plain(Kind.WORK_RESUMED, at)
    return Event(seq=0, at=at, kind=Kind.TURN_DONE, turn=turn, as_painted=paint_of_turn(now.work, turn))


def go_other_way(now: Standing, at: Reading) -> Event:
    """Take the run in hand on another canvas first; pressed again, on the next one, or back in order."""
    turn = _turn(now)
    canvases = open_canvases(now.work, now.state.places, turn)
    if len(canvases) == 1:
        raise MoveRefused(f"Only {turn.canvas} is left to paint here.")
    following = (canvases.index(turn.canvas) + 1) % len(canvases)
    if following == 0:
        return _plain(Kind.WENT_OTHER_WAY, at)
    return _of_turn(Kind.WENT_OTHER_WAY, turn._replace(canvas=canvases[following]), at)


def pause(now: Standing, at: Reading) -> Event:
    """Stop the clock on the turn, or go on after a pause."""
    _need_session(now)
    if now.state.phase is Phase.WORKING:
        return _plain(Kind.PAUSED, at)
    return _plain(Kind.WORK_RESUMED, at)


def rest(now: Standing, at: Reading) -> Event:
    """Begin a rest."""
    _need_session(now)
    if now.state.phase is Phase.RESTING:
        raise MoveRefused("You are resting already. Carry on when you are ready.")
    return _plain(Kind.REST_BEGUN, at)


def noting(text: str) -> Move:
    """Return the move that keeps a note; line ends become spaces, steering characters are replaced."""

    def note(now: Standing, at: Reading) -> Event:
        kept = sanitized(text).strip()
        if not kept:
            raise MoveRefused("An empty note is not kept.")
        if len(kept) > MOST_NOTE:
            raise MoveRefused(f"A note holds {MOST_NOTE} characters; this one has {len(kept)}.")
        return Event(seq=0, at=at, kind=Kind.NOTED, turn=_turn(now), text=kept)

    return note


def mark(now: Standing, at: Reading) -> Event:
    """Mark the turn in hand so that its passages are looked at again; pressed again, take the mark back."""
    return _of_turn(Kind.UNMARKED if now.state.is_marked else Kind.MARKED, _turn(now), at)


def skip(now: Standing, at: Reading) -> Event:
    """Pass over the turn in hand: it is not painted."""
    _need_session(now)
    return _of_turn(Kind.SKIPPED, _turn(now), at)


def taking_up(pass_name: str, passages: Sequence[str]) -> Move:
    """Return the move that lets skipped passages come again, on the first canvas on which they were skipped."""

    def take_up(now: Standing, at: Reading) -> Event:
        for canvas in now.work.plan.canvases:
            skipped = [name for name in passages if now.state.places.get((pass_name, name, canvas.name)) == SKIPPED]
            record = now.state.record_of((pass_name, skipped[0], canvas.name)) if skipped else None
            if record is not None:
                return _of_turn(Kind.TAKEN_UP, record.turn._replace(passages=tuple(skipped)), at)
        raise MoveRefused("Nothing of it was skipped.")

    return take_up


def count_away_as_work(now: Standing, at: Reading) -> Event:
    """Count the last time away as work."""
    absence = now.state.absence
    if absence is None:
        raise MoveRefused("There is no time away to count.")
    if absence.ended_session:
        raise MoveRefused("You were away overnight; that cannot count as work.")
    return Event(seq=0, at=at, kind=Kind.AWAY_WORKED, target=absence.seq)


def work_ten_more(now: Standing, at: Reading) -> Event:
    """Put the end of the block ten minutes off."""
    _need_session(now)
    seen, limits = now.state.seen_at(at), now.work.plan.limits
    if seen.hours.block_ms < limits.block_s * 1000:
        raise MoveRefused("No rest is due yet.")
    deferrals = ten_more(seen.deferrals, limits, seen.hours)
    return Event(seq=0, at=at, kind=Kind.GRANTED, text=str(deferrals.granted_ms))


def silence_today(now: Standing, at: Reading) -> Event:
    """Let the limits that are passed now be silent for today; a graver grade speaks again."""
    _need_session(now)
    seen = now.state.seen_at(at)
    plan = now.work.plan
    said = notices(plan.limits, seen.hours, seen.deferrals, easel_at(local_time(at), plan.posture))
    passed = [one for one in said if one.key is not Key.BLOCK]
    if not passed:
        raise MoveRefused("There is nothing to silence; a rest is put off by ten more minutes.")
    deferrals = seen.deferrals
    for one in passed:
        deferrals = not_today(deferrals, one, seen.hours)
    return Event(seq=0, at=at, kind=Kind.NOT_TODAY, text=text_of_silenced(deferrals.silenced))


def find_dry(now: Standing, at: Reading) -> Event:
    """Answer that the passage the coach asks about is dry to touch."""
    return _dryness(now, at, Kind.FOUND_DRY)


def find_wet(now: Standing, at: Reading) -> Event:
    """Answer that the passage the coach asks about is still wet."""
    return _dryness(now, at, Kind.FOUND_WET)


def take_dry_run(now: Standing, at: Reading) -> Event:
    """Take the first run ahead that is dry below, and let the run in hand wait."""
    turn = _turn(now)
    other = dry_run_ahead(now.work, now.state, at)
    if other is None and not any(edge.dry_from for edge in wet_edges(now.work, now.state, [turn], at)):
        raise MoveRefused("Nothing wet lies under this turn: it need not wait.")
    if other is None:
        raise MoveRefused("All else lies over paint that is wet or not laid yet: wait, or feel whether it is dry.")
    return _of_turn(Kind.DRY_RUN_FIRST, other, at)


def following(canvas: str, stage: Kind) -> Move:
    """Return the move that records what followed the last stroke on a canvas: one of the kinds of `STAGE_WORDS`."""

    def follow(now: Standing, at: Reading) -> Event:
        if any(turn.canvas == canvas for turn in turns_ahead(now.work, now.state.places)):
            raise MoveRefused(f"{canvas} is not finished: paint what is left, or skip it.")
        order = list(STAGE_WORDS)
        later = order[order.index(stage) :] if stage is not Kind.PHOTOGRAPHED else [stage]
        for other in later:
            if (canvas, other) in now.state.stages:
                raise MoveRefused(f"{canvas}: {STAGE_WORDS[other]} is recorded already.")
        return Event(seq=0, at=at, kind=stage, text=canvas)

    return follow


def retiming(text: str) -> Move:
    """Return the move that corrects the time of the last turn; the text is the minutes really painted."""

    def retime(now: Standing, at: Reading) -> Event:
        last = now.state.last
        if last is None or last.is_skipped:
            raise MoveRefused("No turn is over yet whose minutes could be corrected.")
        try:
            minutes = float(text.strip().replace(",", "."))
        except ValueError:
            raise MoveRefused(f"“{sanitized(text).strip()}” is no number of minutes; write one, such as 25.") from None
        if not 0 < minutes * 60_000 <= last.worked_ms:
            raise MoveRefused(f"The clock says {last.worked_ms / 60_000:.0f} min for that turn; give fewer.")
        return Event(seq=0, at=at, kind=Kind.RETIMED, turn=last.turn, text=str(round(minutes * 60_000)))

    return retime


def undo(now: Standing, at: Reading) -> Event:
    """Take back the last move that still counts, as far back as the end of the session before the last."""
    events = in_force(now.events)
    ends_undone = {event.target for event in events if event.kind is Kind.UNDONE}
    for event in reversed(events):
        if event.kind is Kind.TURN_DONE:
            first, *others = _burst(events, event)
            return Event(seq=0, at=at, kind=Kind.UNDONE, target=first, text=",".join(map(str, others)))
        is_begun = event.kind is Kind.SESSION_BEGUN
        if is_begun and ends_undone:
            raise MoveRefused("Nothing more can be taken back: the session before is over.")
        if is_begun or event.kind in UNDOABLE or (event.kind is Kind.SESSION_ENDED and event.seq not in ends_undone):
            return Event(seq=0, at=at, kind=Kind.UNDONE, target=event.seq)
    raise MoveRefused("There is nothing to take back.")


def _burst(events: Sequence[Event], last: Event) -> list[int]:
    """Return the numbers of the turns that were done within a second of one another, up to the last."""
    done = [event for event in events if event.kind in UNDOABLE and event.seq <= last.seq]
    numbers = [last.seq]
    for later, earlier in pairwise(reversed(done)):
        if earlier.kind is not Kind.TURN_DONE or passed_ms(earlier.at, later.at) >= BURST_MS:
            break
        numbers.insert(0, earlier.seq)
    return numbers


def end_session(now: Standing, at: Reading) -> Event:
    """Leave the easel; what is begun goes on in the next session."""
    _need_session(now)
    return _plain(Kind.SESSION_ENDED, at)


_TAKEN_BACK: Final = {
    Kind.SESSION_BEGUN: "the beginning of the session",
    Kind.WENT_OTHER_WAY: "the change of canvas",
    Kind.PAUSED: "the pause",
    Kind.REST_BEGUN: "the rest",
    Kind.WORK_RESUMED: "going on after the break",
    Kind.NOTED: "the note",
    Kind.MARKED: "the mark to look again",
    Kind.UNMARKED: "taking the mark off",
    Kind.AWAY_WORKED: "counting the time away as work",
    Kind.GRANTED: "ten more minutes",
    Kind.NOT_TODAY: "silence for today",
    Kind.WOKE: "the time of waking",
    Kind.FOUND_DRY: "the answer “dry”",
    Kind.FOUND_WET: "the answer “still wet”",
    Kind.RETIMED: "the corrected time",
    Kind.DRY_RUN_FIRST: "taking another passage while this one waits",
    Kind.COMPARED: "the comparison",
    Kind.MEANT: "“it is meant so”",
    Kind.MEANT_NO_MORE: "“no longer meant so”",
}


def in_words(event: Event, before: Standing) -> str:
    """Return what an event did that the screen shows nowhere else; empty where there is nothing to say."""
    match event.kind:
        case Kind.UNDONE:
            return _undone_in_words(event, before)
        case Kind.UNMARKED:
            return "No longer marked to look at again."
        case Kind.TAKEN_UP | Kind.MARKED_FOR_RETURN if event.turn:
            return f"{' + '.join(event.turn.passages)} on {event.turn.canvas} comes again."
        case stage if stage in STAGE_WORDS:
            return f"{event.text}: {STAGE_WORDS[stage]}."
        case Kind.AWAY_WORKED if before.state.absence:
            return f"{span(before.state.absence.away_ms)} away count as work."
    return _compared_in_words(event)


def _compared_in_words(event: Event) -> str:
    if event.comparison is not None:
        return f"Kept: {joined(event.comparison.canvases)} compared."
    if event.difference is None:
        return ""
    is_meant = event.kind is Kind.MEANT
    return (
        f"{event.difference.name} is {'meant so: it is named no more' if is_meant else 'named again where it differs'}."
    )


def _undone_in_words(event: Event, before: Standing) -> str:
    numbers = set(undone_by(event))
    undone = [one for one in before.events if one.seq in numbers]
    if len(undone) > 1:
        return f"{counted(len(undone), 'turn')} taken back: their keys came within a second of one another."
    for one in undone:
        if one.kind is Kind.SESSION_ENDED:
            return "The session goes on: its end is taken back."
        if one.kind in STAGE_WORDS:
            return f"Taken back: {one.text} {STAGE_WORDS[one.kind]}."
        if one.kind in _TAKEN_BACK:
            return f"Taken back: {_TAKEN_BACK[one.kind]}."
        if one.turn is not None:
            done = {
                Kind.SKIPPED: "skipped",
                Kind.TAKEN_UP: "to come again",
                Kind.MARKED_FOR_RETURN: "to come again",
            }.get(one.kind, "painted")
            return f"Taken back: {' + '.join(one.turn.passages)} on {one.turn.canvas} was {done}."
    return ""


def _dryness(now: Standing, at: Reading, kind: Kind) -> Event:
    asked = asked_dry(now.work, now.state.seen_at(at), at)
    if asked is None:
        raise MoveRefused("The coach asks about no passage now.")
    return _of_turn(kind, asked.turn, at)


def _need_session(now: Standing) -> None:
    if now.state.phase is Phase.NOT_BEGUN:
        raise MoveRefused("No session has begun; Space begins one.")


def _turn(now: Standing) -> Turn:
    turn = turn_in_hand(now.work, now.state)
    if turn is None and now.work.turns_done < now.work.turn_count:
        away = [now.work.plan.canvases[number].name for number in sorted(now.work.absent)]
        raise MoveRefused(f"Nothing is left to paint until {' and '.join(away)} is back.")
    if turn is None:
        raise MoveRefused("The work is finished: nothing is left to paint.")
    return turn


def _plain(kind: Kind, at: Reading) -> Event:
    return Event(seq=0, at=at, kind=kind)


def _of_turn(kind: Kind, turn: Turn, at: Reading) -> Event:
    return Event(seq=0, at=at, kind=kind, turn=turn)
