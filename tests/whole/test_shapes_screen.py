"""The Shapes screen of the real program: a photo taken apart, a shape cut, a power cut, all of it saved."""

from pathlib import Path

import pytest

from coach.plan.reading import read_plan
from coach.store.shape_file import load_shapes
from tests.whole.terminal import coach

_PHOTO = Path(__file__).parents[2] / "plans" / "evening-study.jpg"
_TEXT = """\
# by hand
photo: sitter.jpg
canvases: [{name: Hall, size: 24 x 30 cm}, {name: School, size: 24 x 30 cm}]
passes:
  - {name: face, passages: [light side, dark side]}   # two of them
"""


@pytest.mark.parametrize("has_power_cut", [False, True])
def test_a_photo_is_taken_apart_and_its_shapes_stand_beside_the_plan(tmp_path: Path, *, has_power_cut: bool) -> None:
    plan, photo = tmp_path / "plan.yaml", tmp_path / "sitter.jpg"
    plan.write_text(_TEXT, encoding="utf-8")
    photo.write_bytes(_PHOTO.read_bytes())
    with coach(plan) as terminal:
        terminal.until_shown("what else")
        terminal.type("t")
        terminal.until_shown("Is this the head?")
        terminal.type("enter")
        terminal.until_shown("value", "in no passage")
        terminal.type("o", "a")
        terminal.until_shown('belongs to "light side".')
        terminal.type("/ground", "enter", "k")
        terminal.until_shown("Cut: ")
        if has_power_cut:
            draft = plan.with_suffix(".draft")
            terminal.until(lambda: draft.exists() and "shapes: [k" in draft.read_text(encoding="utf-8"))
        else:
            terminal.type("w")
            terminal.until_shown("Saved in plan.yaml and plan.shapes.svg.")
            assert terminal.leave() == 0
    if has_power_cut:
        assert plan.read_text(encoding="utf-8") == _TEXT
        with coach(plan) as terminal:
            terminal.until_shown("You left shapes unsaved last time: t shows them.")
            terminal.type("t")
            terminal.until_shown("The shapes of last time are here")
            terminal.type("w")
            terminal.until_shown("Saved in plan.yaml and plan.shapes.svg.")
            assert terminal.leave() == 0
    text = plan.read_text(encoding="utf-8")
    written = read_plan(text, "plan.yaml")
    assert text.startswith("# by hand\n")
    assert "# two of them" in text
    assert (len(written.heads), written.shapes) == (1, "plan.shapes.svg")
    loaded = load_shapes(plan, "plan.shapes.svg", "sitter.jpg")
    assert loaded.problems == ()
    assert written.passes[0].passages[0].shapes[0] in {shape.id for shape in loaded.shape_map.shapes}
    assert loaded.shape_map.next_number > len(loaded.shape_map.shapes)
    assert photo.read_bytes() == _PHOTO.read_bytes()
    assert not plan.with_suffix(".draft").exists()
