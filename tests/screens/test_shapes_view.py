"""The Shapes screen as text: the value large, what a shape touches, and what gives way where there is little room."""

from dataclasses import replace

import pytest
from rich.cells import cell_len

from coach.composition.setup_cautions import photo_notes
from coach.screens.lines import Line
from coach.screens.shapes.repository import OpenedShapes
from coach.screens.shapes.state import begun, choosing, pointing, with_passage
from coach.screens.shapes.view import (
    Beside,
    ShownShape,
    below_line,
    below_text,
    beside_lines,
    chips_for,
    measured_shape,
    shape_lines,
    shown_shape,
    waiting_for,
)
from coach.shapes.edges import EdgeKind
from coach.shapes.features import Feature
from coach.shapes.shape import Apart, Neighbour, Shape, widest_brush_mm
from tests.screens.made_shapes import MAP, OPENED, PHOTO, PLAN, SHAPES, VERSION, linear, without

NEAR = (
    Neighbour(id="k2", edge=EdgeKind.HARD, width_frac=0.001, length_px=50),
    Neighbour(id="k3", edge=EdgeKind.SOFT, width_frac=0.02, length_px=20),
)
LIT = Shape(
    id="k1",
    feature=Feature.FACE,
    name="cheek left, light",
    lab=(70.1, 12.2, 20.3),
    value=6.9,
    spread_l=3.2,
    area_px=1000,
    reach_px=8,
    outline=SHAPES[0].outline,
    neighbours=NEAR,
)
SHOWN = ShownShape(
    name="cheek left, light",
    feature=Feature.FACE,
    passages=(("face", "light side"),),
    measured=LIT,
    touching=("k2", "k3"),
    names={one.id: one.name for one in SHAPES},
    area_cm2={"Hall": 250.0, "School": 250.0},
    mm_per_px=5.0,
    brushes_mm=(4.0, 14.0, 60.0),
)


def texts(lines: tuple[Line, ...]) -> list[str]:
    return [line.text.rstrip() for line in lines]


def test_name_value_size_edges_and_passage_stand_under_each_other() -> None:
    lines = texts(shape_lines(SHOWN, 32, 30, with_figures=False))
    assert lines[:2] == ["cheek left", "light"]
    assert lines[6].endswith("  value")
    assert lines[8:10] == ["dark 1 2 3 4 5 6 7 8 9 light", "                 ▲"]
    assert lines[11:13] == ["250 cm²", "brush 14 mm"]
    assert lines[14:16] == ["━━ hard  cheek right, dark", "╌╌ soft  ground, middle"]
    assert lines[17] == "face / light side"


@pytest.mark.parametrize(("value", "place"), [(0.2, 5), (1.0, 5), (5.0, 13), (5.4, 14), (9.9, 21)])
def test_the_mark_stands_under_the_step_of_the_scale(value: float, place: int) -> None:
    shape = replace(LIT, value=value)
    (mark,) = [
        line for line in texts(shape_lines(SHOWN._replace(measured=shape), 32, 30, with_figures=False)) if "▲" in line
    ]
    assert mark.index("▲") == place


def test_in_a_narrow_place_the_scale_has_no_words() -> None:
    lines = texts(shape_lines(SHOWN, 20, 30, with_figures=False))
    assert lines[8:10] == ["1 2 3 4 5 6 7 8 9", "            ▲"]


def test_figures_stand_in_the_place_of_the_edges() -> None:
    lines = texts(shape_lines(SHOWN, 50, 30, with_figures=True))
    assert "L* 70.1  a* 12.2  b* 20.3" in lines
    assert "k1, face, 1000 pixels" in lines
    assert "hard 25.0 cm   0.1 %  cheek right, dark" in lines
    assert "hard 25.0 cm  cheek right, dark" in texts(shape_lines(SHOWN, 32, 30, with_figures=True))
    no_size = SHOWN._replace(mm_per_px=None, area_cm2={})
    assert "hard  cheek right, dark" in texts(shape_lines(no_size, 32, 30, with_figures=True))


def test_the_photo_is_no_sitter_and_whose_it_is_stands_among_the_facts() -> None:
    shown = SHOWN._replace(notes=photo_notes(PLAN._replace(rights="the studio's own", consent="by letter")))
    facts = " ".join(" ".join(texts(shape_lines(shown, 34, 23, with_figures=True))).split())
    assert "A photo's darks and lights are not the sitter's" in facts
    assert "Photo rights: the studio's own." in facts
    assert "Consent: by letter." in facts
    assert "sitter" not in " ".join(texts(shape_lines(shown, 34, 23, with_figures=False)))


def test_canvases_of_two_sizes_have_two_areas_and_several_values_are_said() -> None:
    shown = SHOWN._replace(area_cm2={"Hall": 250.0, "Mill": 31.26}, paint_value=7.17)
    shape = replace(LIT, spread_l=9.0, reach_px=0.1)
    lines = texts(shape_lines(shown._replace(measured=shape), 32, 30, with_figures=False))
    for line in (
        "more than one value here",
        f"in the photo {LIT.value:.1f}",
        "250 cm² on Hall",
        "31.3 cm² on Mill",
        "brush under 1 mm",
    ):
        assert line in lines


def test_what_it_touches_is_named_before_the_edges_are_measured() -> None:
    shape = replace(LIT, neighbours=())
    lines = texts(shape_lines(SHOWN._replace(measured=shape, passages=()), 32, 30, with_figures=False))
    assert "touches  cheek right, dark" in lines
    assert "in no passage" in lines
    assert texts(shape_lines(SHOWN._replace(measured=None), 32, 30, with_figures=False)) == ["cheek left", "light"]


@pytest.mark.parametrize("lines", range(1, 40))
@pytest.mark.parametrize("columns", [12, 30, 44, 60])
def test_there_are_never_more_lines_or_cells_than_there_is_room(columns: int, lines: int) -> None:
    name = "漢字の名前がとても長い形, 半分明るいところ, second"
    many = tuple(Neighbour(id=f"k{no}", edge=EdgeKind.LOST, width_frac=0, length_px=9) for no in range(2, 30))
    shape = replace(LIT, neighbours=many)
    shown = SHOWN._replace(name=name, measured=shape, names={f"k{no}": name for no in range(30)})
    made = shape_lines(shown, columns, lines, with_figures=False)
    assert len(made) <= lines
    assert all(cell_len(line.text) <= columns for line in made)
    assert made[0].text.startswith("漢")


def test_the_value_is_there_on_the_smallest_screen_and_larger_on_a_large_one() -> None:
    assert "value 6.9" in texts(shape_lines(SHOWN, 18, 4, with_figures=False))
    assert len([line for line in texts(shape_lines(SHOWN, 60, 50, with_figures=False)) if "█" in line]) > 5


def test_the_widest_of_the_painters_brushes_that_fits_is_named() -> None:
    assert [widest_brush_mm(reach, (4, 14, 60)) for reach in (3, 4, 20, 99)] == [3, 4, 14, 60]
    assert widest_brush_mm(7.5, ()) == 7.5


def test_problems_stand_first_and_waiting_is_said() -> None:
    problems = ("plan.shapes.svg:7: k2 [b]x[/b]: crosses itself; draw its outline without crossings",)
    lines = texts(beside_lines(Beside(SHOWN, problems=problems), 40, 20))
    assert " ".join(line.strip() for line in lines) == problems[0]
    assert texts(beside_lines(Beside(waits="The photo is being read."), 12, 3)) == ["The photo is", "being read."]
    assert beside_lines(Beside(SHOWN), 40, 20) == shape_lines(SHOWN, 40, 20, with_figures=False)


def test_what_is_missing_is_named_with_the_key_that_helps() -> None:
    bare = OPENED._replace(photo=PHOTO._replace(heads=()))
    assert waiting_for(None) == "The photo is being read."
    assert waiting_for(OpenedShapes("", PLAN._replace(photo=None), "")).endswith(
        "names no photo: i opens the composition."
    )
    assert waiting_for(OPENED._replace(photo=None)) == "The photo cannot be shown."
    assert waiting_for(OPENED) == "The shapes are coming."
    assert [waiting_for(bare, found) for found in (None, 0, 1, 2)] == [
        "A head is being looked for.",
        "No head is found: i opens the composition.",
        "Is this the head? Enter takes it.",
        "Are these the heads? Enter takes them.",
    ]


def test_the_chosen_shape_is_told_with_its_canvas_and_its_passages() -> None:
    state = begun(VERSION)
    shown = shown_shape(state, PHOTO, LIT, ["k2"])
    assert shown is not None
    assert shown.area_cm2 == {"Hall": 250, "School": 250}
    assert shown.passages == (("face", "light side"),)
    assert shown_shape(state._replace(chosen=""), PHOTO, None, []) is None


def test_what_was_measured_holds_while_the_outline_is_the_same() -> None:
    apart = Apart(shapes=(LIT,), labels=linear(1)[..., 0].astype("int32"), flat_differences=(1.0,), photo_blur=0.0)
    state = begun(VERSION)
    assert measured_shape((MAP, apart), state) is LIT
    assert measured_shape((without("k1"), apart), state) is None
    assert measured_shape((MAP, apart), choosing(state, "k2")) is None
    assert measured_shape(None, state) is None
    assert measured_shape((MAP, apart), state._replace(chosen="")) is None


def test_below_stands_what_was_said_else_the_passage_in_hand() -> None:
    state = with_passage(begun(VERSION), 1)
    assert below_text(state) == "face / light side: 1 shape"
    assert below_text(state._replace(passage=("face", "step back"))) == "face / step back: no shape yet"
    assert below_text(state._replace(said="Cut.")) == "Cut."
    assert below_text(begun(VERSION)) == ""
    two = PLAN._replace(
        passes=(PLAN.passes[0]._replace(passages=(PLAN.passes[0].passages[0]._replace(shapes=("k1", "k2")),)),)
    )
    assert below_text(state._replace(versions=(VERSION._replace(plan=two),))) == "face / light side: 2 shapes"
    assert below_line("漢" * 30, 11).text == "漢" * 5 + "…"


def test_the_chips_are_those_that_matter_now() -> None:
    state = begun(VERSION)
    assert [one.label for one in chips_for(state, has_problems=True)] == ["understood", "what else"]
    assert [one.label for one in chips_for(None, has_problems=False)][:2] == ["back", "mark it"]
    assert [one.label for one in chips_for(None, has_problems=False, is_asked=True)][:2] == ["take", "mark it"]
    assert [one.label for one in chips_for(state, has_problems=False)][:3] == ["closer", "squint", "change"]
    assert [one.label for one in chips_for(with_passage(state, 1), has_problems=False)][:2] == [
        "in, out",
        "next passage",
    ]
    pointed = pointing(state, (0, 0))
    assert [one.label for one in chips_for(pointed, has_problems=False)][:2] == ["take corner", "cut"]
    assert pointed.pointer is not None
    taken = pointed._replace(pointer=pointed.pointer._replace(corner=(20, 10)))
    assert [one.label for one in chips_for(taken, has_problems=False)][:1] == ["leave it here"]
