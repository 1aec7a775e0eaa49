"""Three canvases and more, photographed two at a time: what is told of all, and which photos are missing."""

from dataclasses import replace
from itertools import pairwise

import pytest

from coach.compare.chain import ChainOfPairs, compare_chain
from coach.compare.subject import Photographed
from tests.compare.scenes import Canvas, Room, outlines, painted, photographed

COAT, COLLAR = "coat, dark", "collar, light"
CANVASES = {
    "Hall": Canvas(),
    "School": Canvas(colours={COAT: (64, 64, 76)}),
    "Attic": Canvas(colours={COAT: (64, 64, 76), COLLAR: (184, 172, 150)}, moved={"nostrils, dark": (0, 5)}),
}


def photo(left: str, right: str, *, is_second: bool = False, seed: int = 1) -> Photographed:
    found = photographed(
        CANVASES[left].sheet, CANVASES[right].sheet, (left, right), Room(seed=seed, has_cards=True), is_second=is_second
    )
    return replace(found, name=f"{left}-{right}.jpg")


def both(one: str, other: str, seed: int = 1) -> list[Photographed]:
    return [photo(one, other, seed=seed), photo(other, one, is_second=True, seed=seed)]


def told(photos: list[Photographed]) -> ChainOfPairs:
    return compare_chain(photos, painted(), outlines(), lambda _: {})


def test_the_ends_of_two_pairs_are_held_against_each_other() -> None:
    found = told([*both("Hall", "School"), *both("School", "Attic", seed=2)])
    called = {one.canvases: [shape.passage for shape in one.shapes if shape.called] for one in found.pairs}

    assert not found.missing
    assert called.keys() == {("Hall", "School"), ("School", "Attic"), ("Hall", "Attic")}
    assert called["Hall", "School"] == [COAT]
    assert called["School", "Attic"] == [COLLAR]
    assert set(called["Hall", "Attic"]) == {COAT, COLLAR}
    assert found.pairs[-1].light_ratio is None


def test_the_order_in_which_canvases_are_named_changes_no_verdict() -> None:
    there = told([*both("Hall", "School"), *both("School", "Attic", seed=2)]).pairs[-1]
    back = told([*both("Attic", "School", seed=2), *both("Hall", "School")]).pairs[-1]

    assert {*there.canvases} == {*back.canvases}
    assert {one.passage for one in there.shapes if one.called} == {one.passage for one in back.shapes if one.called}


@pytest.mark.parametrize("count", [2, 3])
def test_a_pair_without_its_exchange_is_missing_and_said(count: int) -> None:
    names = ["Hall", "School", "Attic"][:count]
    found = told([photo(one, other) for one, other in pairwise(names)])

    assert not found.pairs
    assert "Hall and School: exchange them and take one more photo, with School on the left." in found.missing
    assert any(f"{count} canvases need {2 * count - 2} photos" in one for one in found.missing)


def test_a_canvas_that_hangs_on_no_other_is_missing_and_said() -> None:
    found = told([*both("Hall", "School"), photo("School", "Attic")])

    assert [one.canvases for one in found.pairs] == [("Hall", "School")]
    assert found.missing[0] == "School and Attic: exchange them and take one more photo, with Attic on the left."
    assert found.missing[1].endswith("Attic cannot be held against Hall yet.")


def test_a_passage_that_two_canvases_do_not_share_is_left_out_of_their_pair_alone() -> None:
    photos = [*both("Hall", "School"), *both("School", "Attic", seed=2)]
    found = compare_chain(
        photos, painted(), outlines(), lambda pair: {("all", COAT): "not finished"} if "Attic" in pair else {}
    )
    left_out = {one.canvases: [shape.passage for shape in one.not_compared] for one in found.pairs}

    assert COAT not in left_out["Hall", "School"]
    assert COAT in left_out["School", "Attic"]
    assert COAT in left_out["Hall", "Attic"]
