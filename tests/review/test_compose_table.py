"""Canvases and paint as they are printed."""

from coach.composition.choices import choices_of, rule_of
from coach.composition.photo_boxes import PhotoSize, read_head
from coach.composition.quantity import quantities_of
from coach.composition.setup_cautions import STANDING, cautions_of
from coach.composition.sizes import canvas_named
from coach.plan.reading import read_plan
from coach.review import compose_table

TALL = PhotoSize(width_px=4000, height_px=6000)
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
    heads = [read_head("Anna:500,1200,1200,2100"), read_head("Berta:2800,1200,3500,2100")]
    choices = choices_of(TALL, heads, (), [canvas_named("16 x 20 in")])

    row = dict(zip(compose_table.CHOICE_COLUMNS, compose_table.choice_rows(choices)[0], strict=True))
    lines = compose_table.choice_lines(choices, remarks=["said once"])

    assert row == {
        "canvas": "16 x 20 in, upright",
        "head_cm": "9.1/9.1",
        "man_%": "39/39",
        "woman_%": "41/41",
        "lost": "17 %",
        "px/cm": "98.4",
    }
    assert lines[0] == "said once"
    assert lines[1] == "16 x 20 in, upright: crop 0,700 4000 x 5000 px; the boxes of the heads cover 130 cm2"
    assert lines[2].startswith("16 x 20 in, upright: Anna's eyes 9.5 cm below the top edge")
    # 500 px at 98.4 px to the centimetre are 5.1 cm.
    assert lines[2].endswith("room to the edges: left 5.1, top 5.1, right 28.4, bottom 36.6 cm")
    assert lines[4].startswith("16 x 20 in, upright: Anna 9.1 cm and Berta 9.1 cm: under half life size")
    assert rule_of() in lines


def test_piles_paints_and_what_is_left_out_are_told() -> None:
    found = quantities_of(read_plan(PLAN, "plan.yaml"))

    assert compose_table.mixture_rows(found) == [("dark", "80", "1.0", "umber 0.50, white 0.50", "stated")]
    assert compose_table.pile_rows(found) == [("nose", "dark", "1.0", "1.0", "umber 0.50, white 0.50", "stated")]
    assert compose_table.paint_rows(found) == [("white", "0.50", "1", "stated"), ("umber", "0.50", "1", "stated")]
    said = compose_table.quantity_lines(found)
    assert "Not counted, as the plan states neither area nor size of canvas: mouth: c." in said
    assert compose_table.quantity_lines(found)[-1].startswith("Reckoned with 1 layer of 100 µm, 25 % mixed on top")


def test_of_three_heads_a_row_tells_the_smallest_and_the_largest() -> None:
    """900, 950 and 750 px at 98.4 px to the centimetre; 236.4 mm is a man's mean head, 222.0 mm a woman's."""
    heads = [*map(read_head, ("A:500,1200,1200,2100", "B:1500,1000,2200,1950", "C:2800,1200,3500,1950"))]
    row = compose_table.choice_rows(choices_of(TALL, heads, (), [canvas_named("16 x 20 in")]))[0]

    assert row[1:4] == ("7.6–9.7", "32–41", "34–43")


def test_of_a_head_that_is_cut_only_that_is_told() -> None:
    heads = [*map(read_head, ("A:0,0,700,900", "B:3300,5100,4000,6000"))]
    lines = compose_table.choice_lines(choices_of(TALL, heads, (), [canvas_named("40 x 50 cm")])[:1])

    assert not any("A's eyes" in line for line in lines)
    assert "40 x 50 cm, upright: A's head is cut by the top edge" in lines


def test_an_estimate_is_marked_and_a_tiny_amount_told() -> None:
    passages = "[{name: a, area: 50 mm2, mixture: dark}, {name: b, mixture: light}]"
    text = f"canvases: [{{name: Hall, size: 10 x 10 cm}}]\npasses: [{{name: nose, passages: {passages}}}]"
    found = quantities_of(read_plan(text, "plan.yaml"), waste_frac=0, layers=100)

    # A nose is a tenth of a head, which is a tenth of 100 cm2; half a square centimetre of it is stated.
    assert compose_table.pile_rows(found) == [
        ("nose", "dark", "0.50", "1.0", "", "stated"),
        ("nose", "light", "0.50", "1.0", "", "estimate"),
    ]
    assert compose_table.pile_rows(quantities_of(read_plan(text, "plan.yaml")))[0][2] == "0.01"
    assert any(line.startswith("Estimate: the plan states no area") for line in compose_table.quantity_lines(found))


def test_cautions_are_told_with_their_source_and_the_standing_sentence_last() -> None:
    cautions = cautions_of(read_plan(PLAN, "plan.yaml"))
    lines = compose_table.caution_lines(cautions)

    assert lines[-1] == STANDING
    assert all(one.source in line for one, line in zip(cautions, lines, strict=False))
