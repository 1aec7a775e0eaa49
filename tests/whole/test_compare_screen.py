"""The Compare screen of the real program: two photos by a window, a power cut, and the four things that are out."""

from pathlib import Path

import pytest

from tests.compare.made_plan import PHOTOS, made_plan
from tests.compare.scenes import NAMES, Canvas, Room, photographed
from tests.compare.test_comparison import CHANGED, LEFT_EYE
from tests.whole.terminal import coach

_TURNS = 2 * 23


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a plan with two photos in a room with a window on the left: three shapes differ, an eye lies 5 mm off."""
    room = Room(ratio=0.68, gradient=0.2, slope=0.1, curve=0.2, noise=0.01, seed=11, width_px=2000)
    hall, school = Canvas().sheet, Canvas(colours=CHANGED, moved=dict.fromkeys(LEFT_EYE, (5, 0))).sheet
    shots = (
        photographed(hall, school, NAMES, room),
        photographed(school, hall, NAMES[::-1], room, is_second=True),
    )
    return made_plan(tmp_path_factory.mktemp("window"), shots)


def test_two_photos_by_a_window_name_four_things_and_no_more(plan: Path) -> None:
    before = {path.name: path.read_bytes() for path in (plan.parent / PHOTOS).iterdir()}
    with coach(plan, columns=100, lines=30) as terminal:
        terminal.until_shown("what else")
        for _ in range(_TURNS + 1):
            terminal.type("space")
        terminal.type("b")
        terminal.until_shown("photo1.jpg", "photo2.jpg", "compare these")
        terminal.type("enter")
        terminal.until_shown("photo 1 of 2", "Hall: upper left corner", limit_s=60)
        draft = plan.with_suffix(".draft")
        terminal.until(lambda: draft.exists() and "photo2.jpg" in draft.read_text(encoding="utf-8"))
        before_the_key = draft.read_text(encoding="utf-8")
        terminal.type("tab", "right")
        terminal.until(lambda: draft.read_text(encoding="utf-8") != before_the_key)
        terminal.kill()
    with coach(plan, columns=100, lines=30) as terminal:
        terminal.until_shown("And 1 more.", "what else")  # that corners are half set, after the oily rags
        terminal.type("b")
        terminal.until_shown("photo 1 of 2", "Hall: upper left corner", limit_s=60)
        terminal.type("tab", "left", "enter")
        terminal.until_shown("Does Hall stand on the left in this photo?")
        terminal.type("enter")
        terminal.until_shown("photo 2 of 2", "left School, right Hall")
        terminal.type("enter")
        terminal.until_shown("1 of 4", limit_s=60)
        seen = {}
        for number in range(4):
            terminal.until_shown(f"{number + 1} of 4", " than ")
            terminal.until_quiet(0.3)
            rows = [row.strip() for row in terminal.screen.display]
            place = next(no for no, row in enumerate(rows) if " than " in row)
            seen[rows[place + 1].partition(" · ")[0]] = rows[place]
            terminal.type("right")
        assert seen == {
            "cheek left, middle": "Hall is darker than School.",
            "coat, dark": "Hall is stronger and darker than School.",
            "collar, light": "Hall is lighter and greyer than School.",
            "left eye": "5 mm further right on School than on Hall.",
        }
        terminal.until_shown("1 of 4", limit_s=60)
        terminal.type("enter")
        terminal.until_shown("On which canvas is it looked at again?")
        terminal.type("2")
        terminal.until_shown("Marked on School")
        assert terminal.leave() == 0
    assert {path.name: path.read_bytes() for path in (plan.parent / PHOTOS).iterdir()} == before
