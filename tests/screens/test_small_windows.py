"""Every screen of the coach in a small window: at 20 x 5 its answer stands, at 40 x 12 nothing that answers is cut."""

import datetime as dt
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple, cast

import pytest
from textual.app import App
from textual.pilot import Pilot

from coach.commands import painting
from coach.commands.new import CommissionDesk
from coach.commands.opening import open_session
from coach.composition.proposal.questions import QUESTIONS, answers_of
from coach.journal.reading import local_time
from coach.screens.app import CoachApp
from coach.screens.chooser.screen import ChooserApp
from coach.screens.chooser.view import CommissionCard
from coach.screens.commission.screen import NewCommissionApp
from tests.painter import Habits, paint_journal
from tests.screens.driving import Anything, press, shown, until
from tests.sessions import SetClock

if TYPE_CHECKING:
    from coach.store.system_clock import SystemClock

PLANS: Final = Path(__file__).parents[2] / "plans"


class DayAfter(SetClock):
    """The day after the simulated painter has painted."""

    def __init__(self) -> None:
        super().__init__()
        self.boot = "second"
        self.go(minutes=24 * 60)

    def today(self) -> dt.date:
        """Return the day."""
        return local_time(self.read()).date()


class Stop(NamedTuple):
    """A screen on the walk.

    Attributes:
        keys: What leads there from the stop before.
        answer: What stands at 20 x 5: the answer, or what it begins with.
        whole: What is not cut at 40 x 12, broken over lines as it may be.
    """

    keys: tuple[str, ...]
    answer: str
    whole: str


WALK: Final = {
    "easel": Stop((), r"← Hall .*upside down .*0:00 READY", r"Jan\. And \d+ more\."),
    "before the first stroke": Stop(("f",), r"← Hall", r"\d+ turns fit into today's 3 h\. .*first upside down"),
    "log": Stop(("l",), r"6 TURNS", r"Three hours on one day; Hall led \d times?, School \d\. .*followed 25 of 30 min"),
    "fairness": Stop(("tab",), r"[▀█]", r"led \d times?, School \d: \d+ minutes apart, the least possible\."),
    "hours": Stop(("tab",), r"NEARLY", r"Three hours on one day, with a notice \(!\): too few rests\. .*15 Jan"),
    "deadline": Stop(("g",), r"IN TIME", r"As good as certain that all is handed over by Sat 1 May\."),
    "what if": Stop(("c",), r"> hours a p… 5 h", r"> hours a painting day 5 h"),
    "plan": Stop(("v",), r"SOUND", r"6 of 152 turns done; 28 h 32 min a canvas\."),
    "composition": Stop(("i",), r"9/10", r"9/10 .*of life size: a head .*of 21 cm on 40 x 50 .*cm\."),
    "shapes": Stop(("t",), r"ground at the left", r"ground at the left .*value 3\.9"),
    "compare": Stop(("b",), r"TWO PHOTOS", r"One photo of both, exchange them, a second photo from the same spot\."),
    "help": Stop(("question_mark",), r"Enter", r"Enter press it Esc back"),
}
"""The screens, each by its door; that of a colleague's pages stands here as theirs is when it is whole."""


def on_screen(app: App[Anything]) -> str:
    """Return what is shown, its lines joined by one space."""
    return " ".join(shown(app).split())


async def stand(pilot: Pilot[Anything], wanted: str) -> None:
    """Wait until a pattern stands on the screen."""
    await until(pilot, lambda: re.search(wanted, on_screen(pilot.app)) is not None)


@pytest.fixture
def app(tmp_path: Path) -> Iterator[CoachApp]:
    """Lend the app as the command opens it, on a demo plan with six turns painted the day before."""
    for path in PLANS.glob("orchard-keeper*"):
        shutil.copy(path, tmp_path)
    plan, clock = tmp_path / "orchard-keeper.yaml", cast("SystemClock", DayAfter())
    paint_journal(plan, Habits(), 6)
    session, access = open_session(plan, clock)
    yield CoachApp(session, painting._screens(plan, session, clock), light=False)
    access.close()


@pytest.mark.parametrize(("size", "whole"), [((20, 5), False), ((40, 12), True)])
async def test_every_screen_answers_in_a_small_window(app: CoachApp, size: tuple[int, int], whole: bool) -> None:
    async with app.run_test(size=size) as pilot:
        for stop in WALK.values():
            await press(pilot, *stop.keys)
            await stand(pilot, stop.whole if whole else stop.answer)
            assert max(len(line) for line in shown(app).splitlines()) <= size[0]


@pytest.mark.parametrize(
    ("size", "said"),
    [((20, 5), r"The ferry sisters: (perhaps|…)"), ((40, 12), r"Due 1 May 2027, 6 in 10; last painted 15 Jan\.")],
)
async def test_the_chooser_answers_in_a_small_window(size: tuple[int, int], said: str) -> None:
    card = CommissionCard("The ferry sisters", dt.date(2027, 5, 1), 0.4, dt.date(2027, 1, 15), 0.6)
    chooser = ChooserApp(["ferry-sisters.yaml", "orchard-keeper.yaml"], lambda _: card)
    async with chooser.run_test(size=size) as pilot:
        await stand(pilot, said)


@pytest.mark.parametrize("size", [(20, 5), (40, 12)])
async def test_a_new_commission_asks_in_a_small_window(tmp_path: Path, size: tuple[int, int]) -> None:
    desk = CommissionDesk(tmp_path)
    new = NewCommissionApp(desk, answers_of(desk.kept.load(), dt.date(2027, 1, 15)), light=False)
    async with new.run_test(size=size) as pilot:
        await stand(pilot, QUESTIONS[0].asks.split()[0] if size[0] < 40 else QUESTIONS[0].asks)
