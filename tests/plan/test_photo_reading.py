"""The photo of a plan lies beside it, and the boxes marked in it are upright."""

import pytest

from coach.plan.commission import MarkedBox, MarkedHead
from coach.plan.problems import PlanError
from coach.plan.reading import read_plan

_PLAN = "canvases: [Hall]\npasses: [{name: eyes, passages: [iris]}]\n"
_SIDES = "write [left, top, right, bottom] in whole pixels, such as [1500, 1200, 2200, 2100]"
_BESIDE = "put the photo beside the plan and write sitter.jpg"


def test_a_plan_names_its_photo_the_heads_in_it_and_what_must_stay() -> None:
    text = "photo: sitter.jpg\nheads: [{name: keeper, box: [1, 2, 30, 40]}]\nkeep: [[0, 50, 10, 60]]\n"
    plan = read_plan(_PLAN + text, "plan.yaml")

    assert plan.photo == "sitter.jpg"
    assert plan.heads == (MarkedHead("keeper", MarkedBox(1, 2, 30, 40)),)
    assert plan.keeps == (MarkedBox(0, 50, 10, 60),)


def test_a_plan_without_a_photo_has_none_and_nothing_marked() -> None:
    plan = read_plan(_PLAN, "plan.yaml")
    assert (plan.photo, plan.heads, plan.keeps) == (None, (), ())


@pytest.mark.parametrize(
    "name", ["../sitter.jpg", "/sitter.jpg", "photos/sitter.jpg", "a\\b.jpg", "C:a.jpg", ".jpg", ".."]
)
def test_a_photo_that_is_no_plain_name_is_refused(name: str) -> None:
    assert _told(f"photo: {name}") == ("photo", f'"{name}" is not the plain name of a file beside the plan', _BESIDE)


@pytest.mark.parametrize(
    ("text", "where", "what", "suggestion"),
    [
        ("keep: [7]", "keep[1]", '"7" stands where a box belongs', _SIDES),
        ("keep: [[1, 2, 3]]", "keep[1]", "a box has 4 sides, not 3", _SIDES),
        (
            "keep: [[1, 2, 1, 4]]",
            "keep[1]",
            "right, 1, is not greater than left, 1",
            "write [left, top, right, bottom]",
        ),
        (
            "keep: [[1, 9, 3, 4]]",
            "keep[1]",
            "bottom, 4, is not greater than top, 9",
            "write [left, top, right, bottom]",
        ),
        ("keep: [[1, 2, 3, 4.5]]", "keep[1]", '"4.5" is not a whole number from 0 to 1000000', "write 0"),
        ("heads: [keeper]", "heads[1]", '"keeper" has no box', "write {name: ..., box: [1500, 1200, 2200, 2100]}"),
        ("heads: [{name: a}]", "heads[1]", 'the key "box" is missing', "write box: [1500, 1200, 2200, 2100]"),
        (
            "heads: [{name: a, box: [1, 2, 3, 4]}, {name: A, box: [1, 2, 3, 4]}]",
            "heads[2]",
            'the name "A" stands twice',
            "give each its own name",
        ),
        ("photo: [sitter.jpg]", "photo", "a list stands where a text belongs", "write one text"),
        ("heads: [[1, 2, 3, 4]]", "heads[1]", "a list stands where a text belongs", "write one text"),
        ("heads: [{name: a, box: left}]", "heads[1].box", '"left" stands where a box belongs', _SIDES),
    ],
)
def test_a_box_that_cannot_be_is_told_at_its_place(text: str, where: str, what: str, suggestion: str) -> None:
    assert _told(text) == (where, what, suggestion)


def test_a_thirteenth_box_is_one_too_many() -> None:
    boxes = ", ".join(f"[{number}, 0, 99, 9]" for number in range(13))
    assert _told(f"keep: [{boxes}]") == ("keep", "the list has 13 entries", "name at most 12")


def test_a_box_that_is_an_alias_is_refused_like_any_other() -> None:
    _, what, suggestion = _told("keep: [&box [1, 2, 3, 4], *box]")
    assert what == "an alias (*name) repeats a list from here"
    assert suggestion == "write it out in both places"


def _told(text: str) -> tuple[str, str, str]:
    with pytest.raises(PlanError) as caught:
        read_plan(_PLAN + text + "\n", "plan.yaml")
    (problem,) = caught.value.problems
    assert problem.line == 3
    return problem.where, problem.what, problem.suggestion
