"""A plan that can be painted is advised on, each piece of advice in one sentence that names what it is about."""

import pytest

from coach.plan.reading import read_plan
from coach.review.advice import Advice, advice_on

SOUND = """
canvases: [{name: Hall, size: 30 x 40 cm}, {name: School, size: 30 x 40 cm}]
photo: keeper.jpg
heads: [{name: keeper, box: [400, 300, 1000, 1200]}]
crop: [0, 0, 2400, 3200]
shapes: keeper.shapes.svg
values: {photo: [0, 10], paint: [2, 9.5]}
palette: [umber, white]
mixtures: [{name: thin, parts: {umber: 1}, oil: lean}, {name: rich, parts: {umber: 1, white: 2}, oil: fat}]
passes:
  - name: block-in
    passages:
      - {name: ground dark, value: 3, minutes: 180, mixture: thin, shapes: k1}
      - {name: hair mass, value: 2, minutes: 120, mixture: thin, shapes: k2}
      - {name: face in light, value: 7, minutes: 300, mixture: thin, shapes: [k3, k4]}
      - {name: three steps back, check: step back}
  - name: eyes
    passages: [{name: lid, value: 4, minutes: 500, mixture: rich, over: face in light, shapes: k3}]
  - name: hair
    passages:
      - {name: fringe, value: 2.5, minutes: 300, mixture: rich, over: hair mass, shapes: k2}
      - {name: wall behind it, value: 3, minutes: 200, mixture: rich, into: fringe, shapes: k1}
"""
"""A head of 9 cm, under half of life size, in two layers: 26 h on each canvas."""


def advised(text: str) -> tuple[Advice, ...]:
    return advice_on(read_plan(text, "plan.yaml"))


def test_a_plan_as_painters_work_is_left_alone() -> None:
    assert advised(SOUND) == ()


EARLY = """passes:
  - name: first light
    passages: [{name: brow, minutes: 10, mixture: thin}]
"""
BARE = """
canvases: [Hall, School]
passes:
  - {name: ground, passages: [{name: wall, minutes: 300}]}
  - {name: mouth, passages: [{name: lips, minutes: 600}]}
"""
TRIPPED = [
    (
        SOUND.replace("passes:\n", EARLY).replace("block-in", "masses").replace("value: 7", "value: 6"),
        "ground",
        (
            "brow (first light) comes before ground dark (masses): on bare white every colour looks too dark, so lay"
            " the ground first."
        ),
    ),
    (
        BARE,
        "block-in",
        "lips (mouth) is finished on bare canvas: block in the big values first, the ground among them.",
    ),
    (
        SOUND.replace("passes:\n", EARLY.replace("passages: [", "passages: [{name: ground, minutes: 9}, ")),
        "block-in",
        "brow (first light) is finished before face in light (block-in) is blocked in: block everything in first.",
    ),
    (
        SOUND.replace("into: fringe, ", "").replace("wall behind it", "strands").replace("hair mass", "mass"),
        "hair",
        "fringe (hair) never meets ground dark (block-in) wet: paint them in one pass, or one into the other.",
    ),
    (
        SOUND.replace("over: face in light, ", "").replace("mixture: thin, shapes: [k3", "mixture: rich, shapes: [k3")
        .replace("value: 4, minutes: 500, mixture: rich", "value: 4, minutes: 500, mixture: thin"),
        "oil",
        "lid (eyes) is lean and comes over face in light (block-in), which is fat: go from lean to fat.",
    ),
    (
        SOUND.replace("hair mass, value: 2", "hair mass, value: 1"),
        "values",
        "hair mass (block-in) asks for a value darker than the plan's range of paint, 2.",
    ),
    (
        BARE.replace("wall", "wall, value: 1").replace("600", "40").replace("300", "40"),
        "values",
        "wall (ground) asks for a value darker than paint reaches, about 2.",
    ),
    (
        SOUND.replace("paint: [2, 9.5]", "paint: [1, 9.5]"),
        "values",
        "The plan's range of paint, [1, 9.5], is wider than paint reaches, about [2, 9.5] by measured oil colours.",
    ),
    (
        SOUND.replace("values: {photo: [0, 10], paint: [2, 9.5]}\n", ""),
        "values",
        (
            "A photo goes darker and lighter than paint: give every canvas one range, values: {photo: [0, 10], "
            "paint: [2, 9.5]}."
        ),
    ),
    (
        SOUND.replace("minutes: 500", "minutes: 5").replace("minutes: 300", "minutes: 60"),
        "hours",
        "10 h a head on each canvas is not much: 24 to 40 h are usual for a head of this size in two layers.",
    ),
    (
        SOUND.replace("minutes: 500", "minutes: 1400").replace("minutes: 300", "minutes: 600"),
        "hours",
        "52 h a head on each canvas is a lot: 24 to 40 h are usual for a head of this size in two layers.",
    ),
    (
        SOUND.replace("shapes: keeper.shapes.svg\n", ""),
        "shapes",
        (
            "ground dark (block-in), hair mass (block-in), face in light (block-in) and 3 more name shapes, and the "
            "plan no file of shapes: write shapes: NAME.shapes.svg."
        ),
    ),
]  # fmt: skip


@pytest.mark.parametrize(("text", "about", "sentence"), TRIPPED)
def test_a_plan_that_goes_against_one_of_them_is_told_so_and_nothing_else(text: str, about: str, sentence: str) -> None:
    assert [(one.about, one.sentence) for one in advised(text)] == [(about, sentence)]


def test_a_small_study_in_one_layer_is_left_alone() -> None:
    """At most an hour or so on each canvas: common practice, no source."""
    study = "canvases: [{name: Hall, size: 20 x 25 cm}]\npasses:\n  - {name: ground, passages: [wall]}\n"
    assert advised(study + "  - {name: eyes, passages: [{name: lid, minutes: 45}]}\n") == ()
    longer = advised(study + "  - {name: eyes, passages: [{name: lid, minutes: 95}]}\n")
    assert [one.about for one in longer] == ["block-in", "hours"]


def test_names_that_tell_no_feature_are_not_advised_on() -> None:
    assert advised("canvases: [Hall]\npasses: [{name: mañana, passages: [{name: ojos, minutes: 300}]}]\n") == ()


def test_hours_go_by_the_size_of_the_head() -> None:
    """By hand: a head of 229 mm, life size, is twice 115 mm: 40 h times 2 to the power of 1.2 is 92 h at most."""
    large = SOUND.replace("size: 30 x 40 cm", "size: 61.1 x 81.5 cm").replace("minutes: 500", "minutes: 1440")
    assert advised(large.replace("minutes: 300", "minutes: 1440")) == ()
    much = large.replace("minutes: 300", "minutes: 1440").replace("minutes: 180", "minutes: 1440")
    (one,) = advised(much.replace("minutes: 200", "minutes: 1440").replace("minutes: 120", "minutes: 1440"))
    assert one.sentence.endswith("25 to 92 h are usual for a head of this size in two layers.")


def test_the_sentence_about_hours_is_for_one_of_several_heads() -> None:
    text = SOUND.replace(
        "box: [400, 300, 1000, 1200]}", "box: [400, 300, 1000, 1200]}, {name: son, box: [9, 9, 609, 909]}"
    )
    (one,) = advised(text)
    assert one.sentence.startswith("13 h a head on each canvas is not much")
