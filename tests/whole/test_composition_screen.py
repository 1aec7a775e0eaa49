"""The Composition screen of the real program: a head marked by keys in a real terminal, kept in a real plan."""

from pathlib import Path

from PIL import Image

from coach.plan.commission import MarkedBox, MarkedHead
from coach.plan.reading import read_plan
from tests.whole.terminal import coach

_TEXT = """\
# one head, two canvases
canvases: [{name: Hall, size: 40 x 50 cm}, School]   # School has no size yet
passes:
  - {name: eyes, passages: [iris, lash line]}
"""


def test_a_photo_is_named_a_head_marked_a_canvas_taken_and_all_of_it_stands_in_the_plan(tmp_path: Path) -> None:
    plan, photo = tmp_path / "plan.yaml", tmp_path / "sitter.png"
    plan.write_text(_TEXT, encoding="utf-8")
    Image.new("RGB", (400, 600), (90, 60, 40)).save(photo)
    before = photo.read_bytes()
    with coach(plan) as terminal:
        terminal.until_shown("turn 1 of 4", "what else")
        terminal.type("i")
        terminal.until_shown("The plan names no photo: c takes its name.")
        terminal.type("c2")
        terminal.until_shown("the photo's file beside the plan")
        terminal.type("sitter.png", "enter")
        terminal.until_shown("composition · sitter.png", "No face was found")
        terminal.type("a2", "up", "z", "up", "z", "c1")
        terminal.until_shown("name of this head")
        terminal.type("keeper", "enter")
        terminal.until_shown("keeper", "Enter: every canvas 40 x 50 cm, upright; now upright")
        terminal.type("enter")
        terminal.until_shown("Every canvas will be 40 x 50 cm, upright.")
        terminal.type("q")
        terminal.until_shown("What is marked in the photo is not in the plan.")
        terminal.type("w")
        terminal.until(lambda: not terminal.is_open)
        assert terminal.wait() == 0
    text = plan.read_text(encoding="utf-8")
    written = read_plan(text, "plan.yaml")
    assert text.startswith("# one head, two canvases\n")
    assert "   # School has no size yet\n" in text
    assert (written.photo, written.heads) == ("sitter.png", (MarkedHead("keeper", MarkedBox(158, 229, 242, 338)),))
    assert {canvas.size for canvas in written.canvases} == {(400.0, 500.0)}
    assert photo.read_bytes() == before
