"""All pages by one table: read at a glance at 80 x 24, and as they were at two sizes."""

import pytest
from syrupy.assertion import SnapshotAssertion

from tests.glance import too_much
from tests.pages import WALKS, walked


@pytest.mark.parametrize("name", WALKS)
def test_each_page_has_one_word_in_letters_one_sentence_four_keys_and_at_most_60_words(name: str) -> None:
    stops = {stop.page: stop for app in WALKS[name].stops for stop in app}
    found = {page: too_much(stops[page], shown) for page, shown in walked(name).items()}
    assert {page: much for page, much in found.items() if much} == {}


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
@pytest.mark.parametrize("name", WALKS)
def test_each_page_looks_as_it_did(snapshot: SnapshotAssertion, name: str, size: tuple[int, int]) -> None:
    """Letter by letter; pictures are left blank, for their dots are tried where they are made."""
    for page, shown in walked(name, size).items():
        assert shown.text == snapshot(name=f"{page}, {size[0]}x{size[1]}")
