"""Pace through the day, from the turns of a timeline."""

from collections.abc import Iterable
from dataclasses import dataclass

from coach.forecast.day_pace import HourPace, Interval, day_pace_sentence, late_against_early, pace_by_hour
from coach.forecast.turn_times import TurnTime, sorted_turns
from coach.journal.reading import local_time
from coach.review.hours.timeline import Timeline
from coach.review.hours.walk import Worked
from coach.session.progress import TurnRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPace:
    """How the pace changes as the day goes on.

    Attributes:
        sentence: What becomes of it after the fourth hour.
        late: Late over early pace; None with too few turns to tell.
        by_hour: The pace in every hour of work of a day.
        left_out: Turns whose time cannot be believed, until the painter corrects them.
    """

    sentence: str
    late: Interval | None
    by_hour: tuple[HourPace, ...]
    left_out: tuple[TurnTime, ...]


def day_pace_of(line: Timeline, worked: Iterable[Worked]) -> DayPace:
    """Return the pace of the turns that were painted; those skipped count not."""
    on_duty_ms: dict[int, int] = {}
    for one in worked:
        on_duty_ms.setdefault(one.piece.turn_no, one.day_ms)
    turns = [
        _turn_time(record, on_duty_ms[no])
        for no, record in enumerate(line.turns)
        if no in on_duty_ms and not record.is_skipped
    ]
    counted, left_out = sorted_turns(turns)
    return DayPace(
        sentence=day_pace_sentence(counted),
        late=late_against_early(counted),
        by_hour=pace_by_hour(counted),
        left_out=left_out,
    )


def _turn_time(record: TurnRecord, on_duty_ms: int) -> TurnTime:
    turn = record.turn
    return TurnTime(
        pass_name=turn.pass_name,
        is_lead=turn.place == 1,
        planned_s=turn.planned_s,
        worked_s=record.worked_ms / 1000,
        on_duty_s=on_duty_ms / 1000,
        words=f"{' + '.join(turn.passages)} on {turn.canvas}, {local_time(record.begun):%Y-%m-%d %H:%M}",
    )
