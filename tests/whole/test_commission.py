"""A commission of three canvases from its first page to the hand-over, by keys: each moment shows its own page."""

from pathlib import Path
from typing import Any, Final

import pytest
from textual.pilot import Pilot

from coach.commands.log_of_plan import journal_state
from coach.journal.events import STAGE_WORDS
from coach.journal.reading import local_time
from coach.plan.commission import RETURN_TO, Plan
from coach.plan.reading import read_plan
from coach.screens.app import CoachApp
from coach.screens.easel.screen import EaselScreen
from coach.screens.moments.screen import MomentScreen
from coach.session.journal_state import JournalState
from coach.session.records import Phase
from coach.session.situation import Situation
from coach.store.demo import demo_folder
from tests.glance import too_much
from tests.pages import Stop, looked_at, pass_time, stop_at
from tests.screens.driving import shown
from tests.studio import Act, Studio

TURN_MIN: Final = 6
"""This painter is quick, so that the whole commission goes into a week."""

OWN_WORDS: Final = 10
DAY_MIN: Final = 150
CANVASES: Final = ("North", "Harbour", "Mill")
ANSWERS: Final = (
    ("Who sits for it?", "younger"),
    ("Which photo", "ferry-sisters.jpg"),
    ("Where is the head", ""),
    ("What is the commission called?", "The ferry sisters"),
    ("How many canvases?", "3"),
    ("What are they called", ", ".join(CANVASES)),
    ("handed over?", "2027-06-19"),
    ("How many hours", "mon-sun: 5 h"),
    ("How large", ""),
    ("Which palette?", ""),
    ("How finely", "coarse"),
)


class Week:
    """A painter at a plan in a studio, and what the journal holds."""

    def __init__(self, studio: Studio, plan: str) -> None:
        self.studio, self.plan = studio, plan
        self.is_painted = False

    def journal(self) -> JournalState:
        return journal_state(self.studio.folder / self.plan)

    def read(self) -> Plan:
        return read_plan((self.studio.folder / self.plan).read_text(encoding="utf-8"), self.plan)

    @property
    def canvases(self) -> list[str]:
        return [canvas.name for canvas in self.read().canvases]

    def open(self, act: Act) -> None:
        """Open the coach on the plan, and sleep."""
        self.studio.coach(self.plan, acts=(act,))
        self.sleep()

    def sleep(self) -> None:
        """Let the night pass, until nine."""
        now = local_time(self.studio.clock.read())
        self.studio.clock.go(minutes=(33 - now.hour) * 60 - now.minute)

    async def press(self, pilot: Pilot[Any], keys: str, ready: str = "", *, letters: int = 1) -> None:
        """Press keys and see the page of the moment, at a glance."""
        own_words = OWN_WORDS if letters > 1 else 0
        stop = Stop("now", keys, ready, words_in_letters=letters, own_words=own_words)
        await stop_at(pilot, self.studio, stop)
        assert too_much(stop, looked_at(pilot)) == [], shown(pilot.app)

    async def first_turns(self, pilot: Pilot[Any]) -> None:
        """Begin; take the wrong canvas, note, mark, skip and take that back, rest."""
        await self.press(pilot, "space", letters=3)
        assert self.journal().phase is Phase.WORKING
        before = situation(pilot)
        await self.press(pilot, "o", "out of turn", letters=3)
        assert situation(pilot).canvas != before.canvas
        await self.press(pilot, "n 'cooler than it looks' enter", letters=3)
        assert situation(pilot).notes == ("cooler than it looks",)
        await self.press(pilot, "m", letters=3)
        assert situation(pilot).is_marked
        await self.turn(pilot)
        assert [record.notes for record in self.journal().turns] == [("cooler than it looks",)]
        assert len(self.journal().marks) == 1
        turn = situation(pilot).turn
        await self.press(pilot, "x", letters=3)
        assert situation(pilot).turn != turn
        await self.press(pilot, "u", letters=3)
        assert situation(pilot).turn == turn
        await self.press(pilot, "r", letters=3)
        assert self.journal().phase is Phase.RESTING
        await pass_time(pilot, self.studio, 11)
        await self.press(pilot, "space", letters=3)
        assert self.journal().phase is Phase.WORKING

    async def turn(self, pilot: Pilot[Any]) -> None:
        """Paint the turn in hand to its end; rest where the coach asks for it."""
        await pass_time(pilot, self.studio, TURN_MIN)
        await self.answer(pilot)
        now = situation(pilot)
        if now.block_ms >= now.plan.limits.block_s * 1000:
            await self.press(pilot, "r", letters=3)
            await pass_time(pilot, self.studio, 11)
            await self.press(pilot, "space", letters=3)
        await self.press(pilot, "space", letters=3)

    async def answer(self, pilot: Pilot[Any]) -> None:
        """Answer each question, what is felt with dry and what is told with seen."""
        easel = pilot.app.screen
        assert isinstance(easel, EaselScreen)
        for _ in range(10):
            asks = easel._asks
            if not asks:
                break
            self.studio.clock.go(seconds=2)
            await pilot.press("enter" if asks[0].yes == "find_dry" else "escape")
            await pilot.pause()

    async def day(self, pilot: Pilot[Any]) -> None:
        """Paint until the day or the work is over, and read the page after it."""
        if situation(pilot).phase is Phase.NOT_BEGUN:
            await self.press(pilot, "f", "before the first stroke")
            await self.press(pilot, "space", letters=3)
        await self.answer(pilot)
        while situation(pilot).turn is not None and situation(pilot).day_ms < DAY_MIN * 60_000:
            await self.turn(pilot)
        if situation(pilot).turn is None:
            self.is_painted = True
            await self.press(pilot, "f" if isinstance(pilot.app.screen, EaselScreen) else "", "after the last stroke")
            return
        await self.press(pilot, "e", "after the session")
        assert isinstance(pilot.app.screen, MomentScreen)
        assert self.journal().phase is Phase.NOT_BEGUN

    async def hand_over(self, pilot: Pilot[Any]) -> None:
        """Record what follows the last stroke on each canvas, a few days between."""
        await self.press(pilot, "f", "after the last stroke")
        for stage, word in STAGE_WORDS.items():
            self.studio.clock.go(minutes=3 * 24 * 60)
            for canvas in self.canvases:
                await self.press(pilot, "enter", word)
                assert (canvas, stage) in self.journal().stages
        await self.press(pilot, "", "The work is done.")

    def paint(self) -> None:
        """Paint on, day by day, to the last stroke and the hand-over, and read the log."""
        for _ in range(7):
            if not self.is_painted:
                self.open(self.day)
        assert self.is_painted
        self.open(self.hand_over)
        painted = {(record.turn.canvas, name) for record in self.journal().turns for name in record.turn.passages}
        asked = {(canvas, one.name) for canvas in self.canvases for each in self.read().passes for one in each.passages}
        assert asked <= painted
        assert any(RETURN_TO in record.turn.pass_name for record in self.journal().turns)
        log = self.studio.coach("log", self.plan)
        assert "cooler than it looks" in log
        assert all(canvas in log for canvas in self.canvases)
        assert "Fair: " in self.studio.coach("log", self.plan, "--fairness")


def situation(pilot: Pilot[Any]) -> Situation:
    assert isinstance(pilot.app, CoachApp)
    return pilot.app._session.situation()


@pytest.fixture
def studio(tmp_path: Path) -> Studio:
    return Studio(tmp_path)


def test_from_a_new_commission_to_the_hand_over(studio: Studio) -> None:
    (studio.folder / "ferry-sisters.jpg").write_bytes((demo_folder() / "ferry-sisters.jpg").read_bytes())
    week = Week(studio, "the-ferry-sisters.yaml")

    async def agree(pilot: Pilot[Any]) -> None:
        for asks, says in ANSWERS:
            await week.press(pilot, "", asks)
            await week.press(pilot, f"'{says}' enter" if says else "enter")
        await week.press(pilot, "", "The file of the plan")
        await week.press(pilot, "enter", "Take care")
        await stop_at(pilot, studio, Stop("", "enter", ""))
        while pilot.app.return_value is None:
            await pilot.pause(0.02)

    async def first_day(pilot: Pilot[Any]) -> None:
        await week.press(pilot, "", "before the first stroke")
        await week.first_turns(pilot)
        await week.day(pilot)

    studio.coach("new", acts=(agree, first_day))
    week.sleep()
    week.paint()


def test_from_the_demo_to_the_hand_over(studio: Studio) -> None:
    """The demo has two canvases; the painter writes a third into its plan, and ends with the third pass."""
    week = Week(studio, "orchard-keeper.yaml")

    async def look(pilot: Pilot[Any]) -> None:
        await week.press(pilot, "", "The orchard keeper", letters=3)
        await week.press(pilot, "f", "before the first stroke")

    async def first_day(pilot: Pilot[Any]) -> None:
        await week.first_turns(pilot)
        await week.day(pilot)

    studio.coach("--demo", acts=(look,))
    plan = studio.folder / week.plan
    text = plan.read_text(encoding="utf-8").partition("\n  - name: forehead")[0]
    third = "  - {name: Mill, size: 40 x 50 cm}\n"
    plan.write_text(text.replace("\nweek:", f"{third}\nweek:", 1), encoding="utf-8")
    week.open(first_day)
    week.paint()
