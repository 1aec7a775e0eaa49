"""A fixed situation to show, a sitting that only writes down what it is asked, and a look at what is drawn."""

import inspect
from collections.abc import Callable, Iterable

import pytest
from textual.app import App

from coach.journal.events import Turn
from coach.journal.reading import Reading
from coach.limits.due import Limit, Reached
from coach.plan.commission import Canvas, Mixture, Paint, Pass, Passage, Plan, runs_of
from coach.review.painted import Painted, SessionRow
from coach.screens.app import CoachApp
from coach.session.moves import Move
from coach.session.progress import Phase, TurnRecord
from coach.session.situation import Situation

MIN_MS = 60_000
BEGUN_MS = 1_795_600_800_000
"""Some morning in November 2026, in milliseconds since 1970."""

SHADOW = Passage(name="socket shadow", planned_s=14 * 60, value=2, area_cm2=12, mixture="deep flesh")
LID = Passage(name="upper lid", planned_s=9 * 60, value=3, beside="socket shadow")
IRIS = Passage(name="iris", planned_s=6 * 60, value=4)
EYES = (SHADOW, LID, IRIS)

PLAN = Plan(
    commission="The orchard keeper",
    canvases=(Canvas(name="Hall", place="left"), Canvas(name="School", place="right")),
    passes=(Pass(name="eyes", passages=EYES, runs=runs_of("eyes", EYES)),),
    palette=(Paint(name="burnt umber"), Paint(name="yellow ochre")),
    mixtures=(Mixture(name="deep flesh", parts=(("burnt umber", 3), ("yellow ochre", 2))),),
)

LED = Turn(
    pass_name="eyes",
    run=1,
    passages=("socket shadow", "upper lid"),
    canvas="Hall",
    place=1,
    planned_s=23 * 60,
)
FOLLOWED = LED._replace(canvas="School", place=2)


def reading(after_min: int) -> Reading:
    """The clocks so many minutes after the first stroke."""
    return Reading(wall_ms=BEGUN_MS + after_min * MIN_MS, offset_s=3600, elapsed_ms=after_min * MIN_MS, boot="")


RECORD = TurnRecord(
    turn=LED,
    begun=reading(0),
    ended=reading(25),
    worked_ms=25 * MIN_MS,
    session=1,
    notes=("cooler than the photo",),
    is_marked=True,
)

SITUATION = Situation(
    plan=PLAN,
    phase=Phase.WORKING,
    turn=FOLLOWED,
    canvas=PLAN.canvases[1],
    passages=(SHADOW, LID),
    turn_no=2,
    turn_count=4,
    done_frac=0.4,
    turn_ms=7 * MIN_MS + 5000,
    block_ms=52 * MIN_MS,
    day_ms=52 * MIN_MS,
    off_ms=0,
    notes=("keep the edge soft",),
    is_marked=False,
    went_other_way=False,
    before=(RECORD,),
    coming=(
        Turn(pass_name="eyes", run=2, passages=("iris",), canvas="School", place=1, planned_s=360),
        Turn(pass_name="eyes", run=2, passages=("iris",), canvas="Hall", place=2, planned_s=360),
    ),
    reached=(Reached(limit=Limit.BLOCK, so_far_ms=52 * MIN_MS, limit_ms=50 * MIN_MS),),
    absence=None,
    leads=(1, 0),
)


class FakeSitting:
    """Writes down what it is asked; each move moves the turn number on and is named in a remark."""

    def __init__(self, situation: Situation, asked: list[str], remarks: tuple[str, ...]) -> None:
        self.now, self.asked, self.remarks = situation, asked, remarks

    def situation(self) -> Situation:
        return self.now

    def make(self, move: Move) -> None:
        name = move.__name__
        if name == "note":
            name = f"note: {inspect.getclosurevars(move).nonlocals['text']}"
        self.asked.append(name)
        self.remarks = (f"recorded: {name}",)

    def tick(self) -> None:
        self.now = self.now._replace(turn_ms=self.now.turn_ms + 1000)


@pytest.fixture
def situation() -> Situation:
    """The second turn of the work, on the right canvas, with a block that is over."""
    return SITUATION


@pytest.fixture
def record() -> TurnRecord:
    """The first turn of the work, over."""
    return RECORD


@pytest.fixture
def painted_turns() -> Callable[[Iterable[TurnRecord]], Painted]:
    """A journal of turns, all in one session."""

    def made(turns: Iterable[TurnRecord]) -> Painted:
        session = SessionRow(number=1, begun=reading(0), ended=reading(60), worked_ms=60 * MIN_MS)
        return Painted(turns=tuple(turns), sessions=(session,), unfinished_ms=0)

    return made


@pytest.fixture
def painted(record: TurnRecord, painted_turns: Callable[..., Painted]) -> Painted:
    """Three turns: two of the first run and a skipped one."""
    followed = record._replace(turn=FOLLOWED, begun=reading(25), ended=reading(49), notes=(), is_marked=False)
    iris = followed._replace(
        turn=SITUATION.coming[0], begun=reading(49), ended=reading(50), worked_ms=MIN_MS, is_skipped=True
    )
    return painted_turns((record, followed, iris))


@pytest.fixture
def asked() -> list[str]:
    """What the app asked of its sitting, in order."""
    return []


@pytest.fixture
def coach_app(situation: Situation, asked: list[str], painted: Painted) -> Callable[..., CoachApp]:
    """Make an app that shows a situation, remarks and a journal that never change by themselves."""

    def made(
        now: Situation = situation,
        *,
        remarks: tuple[str, ...] = (),
        told: Painted = painted,
        light: bool = False,
    ) -> CoachApp:
        return CoachApp(FakeSitting(now, asked, remarks), lambda: told, light=light)

    return made


@pytest.fixture
def drawn() -> Callable[[App[object]], str]:
    """Return every character that an app shows, line by line."""

    def text_of(app: App[object]) -> str:
        return "\n".join(strip.text for strip in app.screen._compositor.render_strips())

    return text_of
