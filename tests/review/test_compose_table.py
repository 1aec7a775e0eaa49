"""Canvases and paint as they are printed."""

from coach.composition.arguments import read_head, read_photo_spec
from coach.composition.choices import choices_of, rule_of
from coach.composition.quantity import quantities_of
from coach.composition.sizes import canvas_named
from coach.plan.reading import read_plan
from coach.review import compose_table

PLAN = """
canvases: [{name: Hall, size: 16 x 20 in}, School]
palette: [white, umber]
mixtures: [{name: dark, parts: {umber: 1, white: 1}}]
passes:
  - name: nose
    passages: [{name: a, area: 40 cm2, mixture: dark}, {name: b, area: 1 mm2, mixture: dark}]
  - name: mouth
    passages: [c]
"""


def test_a_row_tells_head_life_loss_scale_and_crop() -> None:
    """trade-checks.md 54, 57 and 59, for two heads side by side."""
    photo = read_photo_spec("4000x6000")
    assert photo is not None
    heads = [read_head("Anna:500,1200,1200,2100"), read_head("Berta:2800,1200,3500,2100")]
    choices = choices_of(photo, heads, (), [canvas_named("16 x 20 in")])

    row = dict(zip(compose_table.CHOICE_COLUMNS, compose_table.choice_rows(choices)[0], strict=True))
    lines = compose_table.choice_lines(choices, remarks=["said once"])

    assert row == {
        "canvas": "16 x 20 in, upright",
        "head_cm": "9.1/9.1",
        "life_%": "39-41/39-41",
        "lost": "17 %",
        "px/cm": "98.4",
        "crop": "0,700 4000x5000",
    }
    assert lines[0] == "said once"
    assert lines[1].startswith("16 x 20 in, upright: Anna's eyes 9.5 cm below the top edge")
    # 500 px at 98.4 px to the centimetre are 5.1 cm.
    assert lines[1].endswith("room to the edges: left 5.1, top 5.1, right 28.4, bottom 36.6 cm")
    assert lines[3].startswith("16 x 20 in, upright: Anna 9.1 cm and Berta 9.1 cm: under half life size")
    assert rule_of() in lines


def test_piles_paints_and_what_is_left_out_are_told() -> None:
    found = quantities_of(read_plan(PLAN, "plan.yaml"))

    assert compose_table.mixture_rows(found) == [("nose", "dark", "80", "1.0", "stated")]
    assert compose_table.paint_rows(found) == [("white", "0.5", "1", "stated"), ("umber", "0.5", "1", "stated")]
    assert "not counted, for no area and no size of a canvas is stated: mouth: c" in compose_table.quantity_lines(found)
