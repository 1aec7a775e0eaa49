"""Heads that are proposed: on the portrait photograph that scikit-image ships, and on none."""

import numpy as np
import pytest
from skimage.data import astronaut
from skimage.transform import resize

from coach.shapes.head_finding import LOOKED_AT_PX, FoundHead, heads_found

MARKED = (161, 16, 281, 177)
"""The head, in pixels of that photograph, marked by hand."""


def looked_at(times: int = 1) -> "np.ndarray[tuple[int, ...], np.dtype[np.uint8]]":
    small = resize(astronaut(), (LOOKED_AT_PX, LOOKED_AT_PX), anti_aliasing=True)
    return np.concatenate([(small * 255).astype(np.uint8)] * times, axis=1)


def test_the_head_that_is_found_is_about_the_one_that_is_marked() -> None:
    found = heads_found(looked_at(), 1)
    scale = LOOKED_AT_PX / 512

    assert len(found) == 1
    assert found[0] == pytest.approx([side * scale for side in MARKED], abs=0.12 * 161 * scale)


def test_two_sitters_are_found_from_left_to_right() -> None:
    found = heads_found(looked_at(times=2), 2)

    assert [round(head.left / LOOKED_AT_PX) for head in found] == [0, 1]


def test_in_a_picture_of_nobody_no_head_is_found() -> None:
    assert heads_found(np.full((300, 400, 3), 90, dtype=np.uint8), 3) == []


def test_no_box_reaches_beyond_the_picture() -> None:
    cut = looked_at()[40:200]
    assert all(head >= FoundHead(0, 0, 0, 0) and head.bottom <= len(cut) for head in heads_found(cut, 1))
