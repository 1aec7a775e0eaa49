"""All pages by one table: read at a glance at 80 x 24, and as they were at two sizes."""

import pytest

from tests.glance import too_much
from tests.pages import WALKS, walked


@pytest.mark.parametrize("name", WALKS)
def test_each_page_has_one_word_in_letters_one_sentence_four_keys_and_at_most_60_words(name: str) -> None:
    stops = {stop.page: stop for app in WALKS[name].stops for stop in app}
    found = {page: too_much(stops[page], shown) for page, shown in walked(name).items()}
    assert {page: much for page, much in found.items() if much} == {}
