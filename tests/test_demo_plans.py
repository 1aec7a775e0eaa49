"""The demo plans: what is shipped is what is drawn."""

import numpy as np
import pytest
from PIL import Image

from tests.demo_photos import PHOTOS, PLANS, levels_of


@pytest.mark.parametrize("name", PHOTOS)
def test_the_photo_that_is_shipped_is_the_one_that_is_drawn(name: str) -> None:
    path = PLANS / f"{name}.jpg"
    with Image.open(path) as photo:
        shipped = np.asarray(photo.convert("RGB"), dtype=float)
    apart = np.abs(shipped - levels_of(PHOTOS[name]()))

    assert apart.mean() < 2
    assert np.percentile(apart, 99) < 12
    assert path.stat().st_size < 150_000
