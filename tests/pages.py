"""Every page of the program: how it is reached by keys from a folder of the demo's commissions, as data.

A walk is one start of the program in a folder; its stops are the pages, each reached from the one before.
"""

import re
import shutil
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, Final, NamedTuple

from rich.segment import Segment
from textual.pilot import Pilot

from coach.screens.app import CoachApp
from coach.screens.lines import Look
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.half_blocks import HalfBlocks
from coach.store.demo import demo_folder
from tests.compare.made_plan import made_plan
from tests.painter import BEAT_S, Habits, paint_journal
from tests.screens.driving import press, shown, until_shown
from tests.screens.made_canvases import scene
from tests.studio import Act, Studio


class Stop(NamedTuple):
    """A page on a walk.

    Attributes:
        page: Its name; empty where the walk only passes.
        keys: The keys that lead to it from the stop before, as the framework names them; "'...'" types a text.
        ready: What stands on it when all of it is there.
        minutes: Minutes that pass at the easel before the keys.
        listed_from: A pattern of the first line that is not read at a glance: a list or a calendar, the page's picture.
        words_in_letters: Most words in block letters; the Easel has three.
        own_words: So many of its words may be long names and recipes of the plan, which the page cannot shorten.
    """

    page: str
    keys: str
    ready: str
    minutes: float = 0
    listed_from: str = ""
    words_in_letters: int = 1
    own_words: int = 0


class Walk(NamedTuple):
    """One start of the program.

    Attributes:
        prepare: Lays out the folder.
        words: The words of the command.
        stops: The pages, for each app that opens.
    """

    prepare: Callable[[Studio], None]
    words: tuple[str, ...]
    stops: tuple[tuple[Stop, ...], ...]


class Shown(NamedTuple):
    """A page as it was shown.

    Attributes:
        strips: The lines of the terminal.
        text: The same as a text, pictures left blank.
        chips: How many chips stand in its last lines.
    """

    strips: list[list[Segment]]
    text: str
    chips: int


ORCHARD, FERRY = "orchard-keeper", "ferry-sisters"
HEEDFUL: Final = Habits(block_min=25, session_min=200, days=5, slip_frac=0.04, feels_paint=True)
"""Rests before a block is over, keeps the days off, and answers."""

KEY_S: Final = 2
"""Seconds between two keys: no burst."""

LIST: Final = " 2027 · "
"""Heads a day in the Log."""


def lay_out(studio: Studio, *names: str) -> None:
    """Copy demo plans into the folder, with all that lies beside them."""
    for name in names:
        for path in demo_folder().glob(f"{name}.*"):
            shutil.copy(path, studio.folder)


def _shelf(studio: Studio) -> None:
    lay_out(studio, FERRY, "evening-study")
    painted_orchard(studio, 70)


def _photo(studio: Studio) -> None:
    shutil.copy(demo_folder() / f"{ORCHARD}.jpg", studio.folder / "sitter.jpg")


def _canvases(studio: Studio) -> None:
    made_plan(studio.folder, scene())


def painted_orchard(studio: Studio, turns: int) -> None:
    """Lay out the orchard plan with so many turns of it painted, on the day after."""
    lay_out(studio, ORCHARD)
    paint_journal(studio.folder / f"{ORCHARD}.yaml", HEEDFUL, turns, studio.clock)
    studio.clock.go(minutes=20 * 60)


WALKS: Final[dict[str, Walk]] = {
    "nothing yet": Walk(lambda _: None, (), ((Stop("chooser, nothing yet", "", "begin a new"),),)),
    "chooser": Walk(_shelf, (), ((Stop("chooser", "down down", "Due 1 May"),),)),
    "demo": Walk(
        lambda _: None,
        ("--demo",),
        (
            (
                Stop("easel, not begun", "", "begin", words_in_letters=3),
                Stop("before the first stroke", "f", "today's"),
                Stop("log, nothing yet", "escape l", "Nothing is painted yet"),
                Stop("was it fair, nothing yet", "tab", "Nothing has been painted yet"),
            ),
        ),
    ),
    "new commission": Walk(
        _photo,
        ("new",),
        (
            (
                Stop("new, sitters", "", "Who sits for it?"),
                Stop("new, photo", "'keeper' enter", "Which photo"),
                Stop("new, heads", "'sitter.jpg' enter", "found in the photo"),
                Stop("new, commission", "enter", "What is the commission called?"),
                Stop("new, how many canvases", "'The orchard keeper' enter", "How many canvases?"),
                Stop("new, names of the canvases", "enter", "What are they called"),
                Stop("new, due day", "'Hall, School' enter", "handed over?"),
                Stop("new, hours", "'2027-05-01' enter", "How many hours"),
                Stop("new, size", "enter", "How large"),
                Stop("new, palette", "enter", "Which palette?"),
                Stop("new, fineness", "enter", "How finely"),
                Stop("new, the plan", "enter", "The file of the plan"),
                Stop("new, care", "enter", "Oily rags:"),
                Stop("new, cautions", "f", "oily rags:", listed_from="oily rags:"),
                Stop("", "enter", ""),
            ),
            (Stop("new, before the first stroke", "", "before the first stroke"),),
        ),
    ),
    "half painted": Walk(
        lambda studio: painted_orchard(studio, 70),
        (f"{ORCHARD}.yaml",),
        (
            (
                Stop("before a session", "f", "today's"),
                Stop("figures of the day", "f", "planned", listed_from="due"),
                Stop("easel, working", "escape space", "of ", 12, words_in_letters=3),
                Stop("easel, a note", "n 'softer'", "softer", words_in_letters=3),
                Stop("easel, other canvas", "enter o", "of ", words_in_letters=3),
                Stop("easel, figures", "f", "Noted", listed_from="%"),
                Stop("easel, picture alone", "escape plus", "colour"),
                Stop("help", "minus question_mark", "Now", listed_from="Now"),
                Stop("log", "escape l", "led", listed_from=LIST),
                Stop("was it fair", "tab", "minutes ahead"),
                Stop("was it fair, figures", "f", "Fair", listed_from="Going second"),
                Stop("hours", "escape tab", "day"),
                Stop("hours, figures", "f", "What was kept", listed_from="What"),
                Stop("which pass", "escape tab c", "Which pass?", listed_from="all passes"),
                Stop("deadline", "escape g", "handed over", listed_from="Mo "),
                Stop("deadline, what if", "c", "What if", listed_from="hours a painting"),
                Stop("deadline, figures", "escape f", "Left to paint", listed_from="Paint "),
                Stop("plan", "escape escape v", "turns done", listed_from="Hall    School"),
                Stop("plan, form", "enter", "name", listed_from="name"),
                Stop("plan, where it is", "escape tab", "where is it?"),
                Stop("plan, order", "tab", "order", listed_from="leads"),
                Stop("plan, not saved", "tab end x g", "not saved", listed_from="Hall    School"),
                Stop("composition", "x i", "keeper", listed_from="marked"),
                Stop("shapes", "escape t", "value"),
                Stop("compare, no photos", "escape b", "photo", listed_from="┌"),
                Stop("easel, rest due", "escape", "without a rest", 50, words_in_letters=3),
                Stop("easel, resting", "r", "carry on", 3, words_in_letters=3),
                *(Stop("", "space", "", 15) for _ in range(3)),
                Stop("after the session", "e", "Rest until"),
            ),
        ),
    ),
    "compared": Walk(
        _canvases,
        ("plan.yaml",),
        (
            (
                Stop("compare, how", "b", "photo2.jpg"),
                Stop("compare, corners", "enter", "Hall: upper left corner"),
                Stop("compare, names", "enter", "stand on the left"),
                Stop("compare, answer", "enter enter", "1 of 4"),
                Stop("compare, moved", "left left", "drawing"),
                Stop("compare, facts", "f", "agree", listed_from="collar, light"),
                Stop("compare, landmarks", "escape tab", "points right"),
            ),
        ),
    ),
    "painted": Walk(
        lambda studio: painted_orchard(studio, 1000),
        (f"{ORCHARD}.yaml",),
        (
            (
                Stop("easel, finished", "", "Every turn is painted", words_in_letters=3),
                Stop("after the last stroke", "f", "Dry"),
                Stop("to the framer", "enter enter", "framer"),
                Stop("handed over", " ".join(["enter"] * 8), "done"),
                Stop("log, at the end", "l", "led", listed_from=" 2027"),
                Stop("was it fair, at the end", "tab", "minutes ahead"),
                Stop("deadline, at the end", "g", "handed over", listed_from="Mo "),
            ),
        ),
    ),
}


async def stop_at(pilot: Pilot[Any], studio: Studio, stop: Stop) -> None:
    """Go on to a page, and wait until all of it stands there."""
    await pass_time(pilot, studio, stop.minutes)
    for key in re.findall(r"'[^']*'|\S+", stop.keys):
        _pass(pilot, studio, KEY_S)
        await press(pilot, *(key[1:-1] if key.startswith("'") else (key,)))
    if stop.page:
        while not all(worker.is_finished for worker in pilot.app.workers):
            await pilot.pause(0.02)
        await until_shown(pilot, stop.ready)
        if isinstance(pilot.app, CoachApp):
            pilot.app._tick()  # what the clock says is drawn now, whenever the app's own tick comes
            await pilot.pause()


async def pass_time(pilot: Pilot[Any], studio: Studio, minutes: float) -> None:
    """Let minutes pass at the easel while the coach ticks."""
    for _ in range(round(minutes * 60 / BEAT_S)):
        _pass(pilot, studio, BEAT_S)
    if minutes and isinstance(pilot.app, CoachApp):
        pilot.app._tick()


def _pass(pilot: Pilot[Any], studio: Studio, seconds: float) -> None:
    studio.clock.go(seconds=seconds)
    if isinstance(pilot.app, CoachApp):
        pilot.app._session.tick()


def looked_at(pilot: Pilot[Any]) -> Shown:
    """Return what is shown now."""
    screen = pilot.app.screen
    rows = shown(pilot.app).split("\n")
    for picture in screen.query(HalfBlocks):
        left, top, right, bottom = picture.region.corners
        for y in range(top, bottom if picture.display else top):
            rows[y] = rows[y][:left] + " " * (right - left) + rows[y][right:]
    boards = [board for board in screen.query(LineBoard) if board.display and board.region]
    return Shown(
        strips=[list(strip) for strip in screen._compositor.render_strips()],
        text="\n".join(row.rstrip() for row in rows),
        chips=sum(piece.look is Look.CHIP for board in boards for line in board._view[-1:] for piece in line.pieces),
    )


@cache
def walked(name: str, size: tuple[int, int] = (80, 24), look: str = "dark") -> dict[str, Shown]:
    """Return the pages of a walk, by their names, in a window of a size and a look."""
    walk = WALKS[name]
    found: dict[str, Shown] = {}

    def act_of(stops: tuple[Stop, ...]) -> Act:
        async def act(pilot: Pilot[Any]) -> None:
            for stop in stops:
                await stop_at(pilot, studio, stop)
                if stop.page:
                    found[stop.page] = looked_at(pilot)

        return act

    with tempfile.TemporaryDirectory() as folder:
        studio = Studio(Path(folder), size=size, look=look)
        walk.prepare(studio)
        studio.coach(*walk.words, acts=tuple(map(act_of, walk.stops)))
    return found
