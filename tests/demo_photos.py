"""The photos of the demo plans, drawn by code: `python -m tests.demo_photos` writes them into plans/."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

import numpy as np
from PIL import Image

from coach.colour.light import srgb_of
from tests.drawn.clothing import bun_of, coat_of, collar_of, hood_of, neck_of, neckerchief_of, scarf_of, shoulders_of
from tests.drawn.head import Looks, head_of
from tests.drawn.light import Light, Placed, photographed
from tests.drawn.surface import Floats, Surface, beyond, grain, mixed, srgb

PLANS: Final = Path(__file__).parents[1] / "plans"

_KEEPER: Final = Looks(
    skin=(208, 160, 130), ruddy=(192, 112, 92), lips=(160, 96, 84), hair=(156, 150, 142), brow=(128, 118, 108),
    iris=(74, 78, 72), age=1.0, beard=1.0, hairline=0.115, receding=0.06, thick=0.028, seed=1,
)  # fmt: skip
_ELDER: Final = Looks(
    skin=(214, 170, 146), ruddy=(186, 110, 98), lips=(150, 88, 84), hair=(126, 120, 116), brow=(92, 80, 74),
    iris=(66, 84, 98), age=0.75, soft=0.7, jaw=0.9, nose=0.88, hairline=0.12, thick=0.045, seed=2,
)  # fmt: skip
_YOUNGER: Final = Looks(
    skin=(220, 180, 156), ruddy=(204, 128, 112), lips=(172, 96, 92), hair=(122, 84, 56), brow=(104, 76, 58),
    iris=(70, 92, 110), age=0.05, soft=1.0, jaw=0.84, nose=0.76, lips_full=1.3, lids=0.25, hairline=0.12, sides=0.75,
    thick=0.05, seed=5,
)  # fmt: skip
_SITTER: Final = Looks(
    skin=(206, 152, 116), ruddy=(186, 100, 76), lips=(150, 84, 70), hair=(58, 44, 36), brow=(52, 40, 34),
    iris=(58, 44, 34), age=0.3, soft=0.3, jaw=0.96, hairline=0.12, thick=0.05, parting=-0.1, seed=9,
)  # fmt: skip


def orchard_keeper() -> Floats:
    """Return a bearded man in a green coat, a window on his right hand."""
    head = [piece.turned(-14, 1, 2) for piece in head_of(_KEEPER, 750)]
    worn = [
        neck_of(srgb(*_KEEPER.skin), _KEEPER.age),
        coat_of(srgb(86, 96, 64), srgb(222, 216, 200), seed=20),
        collar_of(srgb(222, 216, 200)),
        *neckerchief_of(srgb(150, 52, 42), seed=30),
    ]
    pieces = _placed([*head, *(piece.turned(-8) for piece in worn)], (455, 165, 450))
    ground = _backdrop((900, 1125), ((70, 64, 56), (132, 124, 110), (58, 52, 46), (104, 96, 84)), seed=40)
    light = Light(towards=(-0.80, -0.42, 0.46), key=(1.12, 1.07, 0.99), fill=(0.165, 0.17, 0.18))
    return photographed(pieces, ground, light)


def ferry_sisters() -> Floats:
    """Return two women at the rail of a ferry, water and hills behind them."""
    elder = [piece.turned(16, 2, -3) for piece in (*head_of(_ELDER, 520), bun_of(srgb(110, 102, 98)))]
    oilskin = (neck_of(srgb(*_ELDER.skin), _ELDER.age), shoulders_of(srgb(58, 74, 96), seed=50, folds=0.018))
    elder += [piece.turned(10) for piece in (*oilskin, *scarf_of(srgb(150, 62, 52), seed=55))]
    younger = [piece.turned(-12, 3, 4) for piece in (*head_of(_YOUNGER, 520), *hood_of(srgb(214, 212, 206), seed=60))]
    jersey = (neck_of(srgb(*_YOUNGER.skin), _YOUNGER.age), shoulders_of(srgb(140, 56, 48), seed=70, folds=0.016))
    younger += [piece.turned(-8) for piece in jersey]
    light = Light(towards=(-0.72, -0.50, 0.50), key=(1.08, 1.08, 1.06), fill=(0.20, 0.215, 0.24))
    pieces = _placed(elder, (325, 210, 300)) + _placed(younger, (665, 300, 290))
    return photographed(pieces, _sea(1000, 1200), light)


def evening_study() -> Floats:
    """Return a young man under one lamp."""
    head = [piece.turned(18, 2, -2) for piece in head_of(_SITTER, 600)]
    worn = [
        neck_of(srgb(*_SITTER.skin), _SITTER.age),
        coat_of(srgb(74, 60, 52), srgb(196, 184, 164), seed=80),
        collar_of(srgb(204, 190, 168)),
    ]
    pieces = _placed([*head, *(piece.turned(10) for piece in worn)], (345, 190, 340))
    ground = _backdrop((720, 900), ((44, 36, 30), (66, 52, 40), (36, 30, 26), (52, 42, 34)), seed=90)
    light = Light(towards=(0.80, -0.46, 0.42), key=(1.26, 1.08, 0.82), fill=(0.10, 0.094, 0.09))
    return photographed(pieces, ground, light)


PHOTOS: Final[dict[str, Callable[[], Floats]]] = {
    "orchard-keeper": orchard_keeper,
    "ferry-sisters": ferry_sisters,
    "evening-study": evening_study,
}


def levels_of(linear: Floats) -> "np.typing.NDArray[np.uint8]":
    """Return a picture in linear light in levels 0 to 255."""
    return np.round(srgb_of(linear) * 255).astype(np.uint8)


def _placed(pieces: Sequence[Surface], at: tuple[float, float, float]) -> list[Placed]:
    x_px, y_px, head_px = at
    return [Placed(surface=piece, x_px=x_px, y_px=y_px, head_px=head_px) for piece in pieces]


def _backdrop(size: tuple[int, int], corners: Sequence[tuple[int, int, int]], *, seed: int) -> Floats:
    """Return a brushed ground between four colours: top left, top right, bottom left, bottom right."""
    columns, rows = size
    down, across = np.linspace(0, 1, rows)[:, None, None], np.linspace(0, 1, columns)[None, :, None]
    left_top, right_top, left_bottom, right_bottom = (srgb(*corner) for corner in corners)
    top, bottom = (1 - across) * left_top + across * right_top, (1 - across) * left_bottom + across * right_bottom
    brushed = 0.05 * grain((rows, columns), (40, 60), seed) + 0.02 * grain((rows, columns), (6, 22), seed + 1)
    return np.asarray(((1 - down) * top + down * bottom) * (1 + brushed[..., None]))


def _sea(columns: int, rows: int) -> Floats:
    """Return a sky, hills, water and the rail of a ferry."""
    down, across = np.linspace(0, 1, rows)[:, None], np.linspace(0, 1, columns)[None, :]
    shape = (rows, columns)
    level = np.broadcast_to(down, shape)
    sky = mixed(np.broadcast_to(srgb(206, 208, 206), (*shape, 3)), srgb(222, 214, 200), level / 0.42)
    hills = 0.405 - 0.035 * np.exp(-(((across - 0.8) / 0.22) ** 2)) - 0.02 * np.exp(-(((across - 0.15) / 0.1) ** 2))
    found = mixed(sky, srgb(140, 152, 156), beyond(level - hills, 0.002))
    water = mixed(np.broadcast_to(srgb(150, 164, 170), (*shape, 3)), srgb(84, 104, 118), (level - 0.42) / 0.45)
    waves = 0.10 * grain(shape, (3, 40), 101) * np.clip((level - 0.42) * 3, 0.1, 1)
    found = mixed(found, water * (1 + waves[..., None]), beyond(level - 0.42, 0.001))
    rail = np.exp(-(((level - 0.70) / 0.016) ** 8)) + np.exp(-(((level - 0.82) / 0.009) ** 8))
    return mixed(found * (1 + 0.03 * grain(shape, (30, 70), 100))[..., None], srgb(58, 54, 50), rail)


def main() -> None:
    """Draw the photos."""
    for name, draw in PHOTOS.items():
        Image.fromarray(levels_of(draw())).save(PLANS / f"{name}.jpg", quality=88, subsampling=0, optimize=True)


if __name__ == "__main__":
    main()
