"""A simulated painter: sits down, paints turn by turn with a known pace, errs now and then, rests, goes home.

`python -m tests.painter PLAN` paints the journal beside a copy of a plan, to be looked at.
"""

import random
import sys
from dataclasses import dataclass
from math import exp, log, log2
from pathlib import Path

from coach.errors import CoachError
from coach.journal.reading import local_time
from coach.plan.reading import read_plan
from coach.session import moves
from coach.session.records import Phase
from coach.session.session_service import SessionService
from coach.store.journal_access import open_to_work
from coach.store.plan_file import PlanFile
from tests.sessions import LastWord, SetClock

BEAT_S = 25
"""Seconds between two ticks: less than the silence that counts as a time away."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """How the painter paints.

    Attributes:
        seed: Decides every chance.
        follow_frac: Minutes of a following turn against a leading one.
        learning_frac: Minutes of the second run of all against the first (a unit curve, Crawford).
        noise: Standard deviation of the natural logarithm of the minutes.
        slip_frac: Share of the runs that are begun on the other canvas.
        session_min: Minutes after which the painter goes home.
        block_min: Minutes after which the painter rests; None for the block of the plan.
        days: Painting days in a week, Monday first.
        feels_paint: Whether the painter feels the paint of earlier days when asked, and finds it dry.
    """

    seed: int = 1
    follow_frac: float = 0.88
    learning_frac: float = 0.97
    noise: float = 0.1
    slip_frac: float = 0.1
    session_min: float = 240
    block_min: float | None = None
    days: int = 7
    feels_paint: bool = False


class Painter:
    """Paints at a session until the work is done or enough turns are."""

    def __init__(self, session: SessionService, clock: SetClock, habits: Habits) -> None:
        """Take a seat; nothing is painted yet."""
        self._session, self._clock, self._habits = session, clock, habits
        self._chance = random.Random(habits.seed)  # noqa: S311  a painter is no secret
        self._runs_begun = 0

    def paint(self, most_turns: int = 10_000) -> int:
        """Paint and return how many turns were painted."""
        turns = 0
        while turns < most_turns and self._session.situation().turn is not None:
            self._sit_down()
            self._paint_turn()
            turns += 1
            self._stop_in_time()
        self._session.make(moves.end_session)
        return turns

    def _sit_down(self) -> None:
        if self._session.situation().phase is not Phase.WORKING:
            self._session.make(moves.go_on)
        while self._habits.feels_paint and self._session.situation().asked_dry is not None:
            self._session.make(moves.find_dry)

    def _paint_turn(self) -> None:
        turn = self._session.situation().turn
        if turn is not None and turn.place == 1:
            self._runs_begun += 1
            if self._chance.random() < self._habits.slip_frac:
                self._session.make(moves.go_other_way)
        self._let_pass(self._minutes())
        self._session.make(moves.go_on)

    def _minutes(self) -> float:
        turn = self._session.situation().turn
        if turn is None:
            return 0
        habits = self._habits
        learned = exp(log2(habits.learning_frac) * log(max(1, self._runs_begun)))
        place = habits.follow_frac if turn.place > 1 else 1
        return turn.planned_s / 60 * learned * place * self._chance.lognormvariate(0, habits.noise)

    def _let_pass(self, minutes: float) -> None:
        seconds = round(minutes * 60)
        while seconds > 0:
            step = min(BEAT_S, seconds)
            self._clock.go(seconds=step)
            self._session.tick()
            seconds -= step

    def _stop_in_time(self) -> None:
        situation = self._session.situation()
        if situation.day_ms >= self._habits.session_min * 60_000:
            self._session.make(moves.end_session)
            self._clock.go(minutes=24 * 60 - self._habits.session_min)
            while local_time(self._clock.read()).isoweekday() > self._habits.days:
                self._clock.go(minutes=24 * 60)
        elif situation.block_ms >= (self._habits.block_min or situation.plan.limits.block_s / 60) * 60_000:
            self._session.make(moves.rest)
            self._let_pass(12)


def paint_journal(plan: Path, habits: Habits, most_turns: int = 10_000, clock: SetClock | None = None) -> int:
    """Paint the journal beside a plan, at this clock, and return the number of turns painted."""
    file, clock = PlanFile(plan), clock or SetClock()
    text = file.read()
    access = open_to_work(plan)
    try:
        session = SessionService(
            plan=read_plan(text, file.name), journal=access.journal, clock=clock, source=file, last_seen=LastWord()
        )
        session.open(text)
        return Painter(session, clock, habits).paint(most_turns)
    finally:
        access.close()


if __name__ == "__main__":
    try:
        print(paint_journal(Path(sys.argv[1]), Habits()), "turns painted")
    except CoachError as error:
        sys.exit(str(error))
