"""All pages by one table: read at a glance at 80 x 24, and as they were at two sizes."""

import pytest
from syrupy.assertion import SnapshotAssertion

from tests.glance import too_much
from tests.pages import WALKS, walked

GLANCE = (80, 24)


@pytest.mark.parametrize("size", [GLANCE, (120, 40)])
@pytest.mark.parametrize("name", WALKS)
def test_each_page_looks_as_it_did(snapshot: SnapshotAssertion, name: str, size: tuple[int, int]) -> None:
    """Letter by letter; pictures are left blank, for their dots are tried where they are made.

    At a glance there is one word in letters, one sentence, four keys and at most 60 words.
    """
    stops = {stop.page: stop for app in WALKS[name].stops for stop in app}
    much = {}
    for page, shown in walked(name, size).items():
        assert shown.text == snapshot(name=f"{page}, {size[0]}x{size[1]}")
        if size == GLANCE:
            much[page] = too_much(stops[page], shown)
    assert not any(much.values()), much
