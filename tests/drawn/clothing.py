"""Necks and what is worn below them."""

import numpy as np

from tests.drawn.surface import Floats, Surface, ball, beyond, grain, mixed, plain, profile, srgb, tube


def neck_of(skin: Floats, age: float, *, back: float = 0.04) -> Surface:
    """Return a neck, its tendons seen with age."""
    heights = np.linspace(0.82, 1.32, 240)
    wide = profile(heights, (0.82, 0.2), (1.0, 0.195), (1.15, 0.205), (1.32, 0.25))
    front = profile(heights, (0.82, 0.2), (1.0, 0.19), (1.15, 0.19), (1.25, 0.15), (1.32, 0.08))
    points = tube(heights, wide, front, columns=300, power=2)
    x, y = points[..., 0], points[..., 1]
    points[..., 2] += 0.011 * age * np.exp(-(((np.abs(x) - (0.13 - 0.16 * (y - 1))) / 0.02) ** 2)) - back
    return plain(points, 0.92 * skin)


def shoulders_of(colour: Floats, *, seed: int, slope: float = 1.0, folds: float = 0.012) -> Surface:
    """Return chest and shoulders in cloth of one colour."""
    heights = np.linspace(1.02, 3.6, 1250)
    wide = profile(
        heights,
        (1.02, 0.16),
        (1.12, 0.24),
        (1.2, 0.36),
        (1.3, 0.54),
        (1.42, 0.7),
        (1.56, 0.8),
        (1.72, 0.87),
        (2.0, 0.95),
        (3.6, 1.04),
    )
    front = profile(heights, (1.02, 0.06), (1.2, 0.2), (1.4, 0.31), (1.8, 0.37), (3.6, 0.42))
    points = tube(heights, wide, front, columns=950, power=2.6, is_front=True)
    x = points[..., 0]
    points[..., 1] += (slope - 1) * np.abs(x) * 0.3
    drawn = 9 * (1.1 * np.hypot(x, 0.15) - 0.8 * points[..., 1]) + 1.8 * grain(x.shape, (90, 90), seed)
    creases = 0.9 * np.sin(drawn) + 0.6 * grain(x.shape, (110, 30), seed + 1)
    arm = np.exp(-(((np.abs(x) - 0.66 + 0.05 * (points[..., 1] - 1.6)) / 0.03) ** 2)) * beyond(
        points[..., 1] - 1.72, 0.06
    )
    points[..., 2] -= 0.06 * arm
    points[..., 2] += folds * creases * np.clip((points[..., 1] - 1.25) / 0.3, 0, 1) - 0.1
    return plain(points, colour, 0.03)


def coat_of(cloth: Floats, linen: Floats, *, seed: int) -> Surface:
    """Return a coat with lapels, open over a shirt."""
    coat = shoulders_of(cloth, seed=seed)
    x, y = coat.points[..., 0], coat.points[..., 1]
    a = np.abs(x)
    opening = 0.20 * np.clip((1.98 - y) / 0.75, 0, 1.1)
    lapel = opening + np.clip(0.23 - 0.25 * np.abs(y - 1.52), 0, 0.23) * beyond(1.98 - y, 0.01)
    notch = np.exp(-(((y - 1.42 - 0.25 * (a - 0.3)) / 0.018) ** 2)) * beyond(a - opening - 0.10, 0.01)
    on_lapel = beyond(lapel - a, 0.006) * (1 - np.clip(notch * beyond(lapel - a, 0.006), 0, 1))
    is_shirt = beyond(opening - a, 0.005)
    points = coat.points.copy()
    points[..., 2] += 0.035 * on_lapel * (1 - is_shirt) - 0.03 * is_shirt
    colour = mixed(coat.colour, 0.55 * cloth, 0.9 * np.exp(-(((a - lapel) / 0.010) ** 2)) * beyond(2.0 - y, 0.02))
    colour = mixed(colour, linen, is_shirt)
    for height in (2.12, 2.4):
        is_button = beyond(0.028 - np.hypot(x - 0.02, y - height), 0.003)
        points[..., 2] += 0.02 * is_button
        colour = mixed(colour, srgb(52, 42, 32), is_button)
    return Surface(points=points, colour=colour, shine=coat.shine)


def collar_of(linen: Floats, *, low: float = 1.16, point: float = 0.17) -> Surface:
    """Return a turned-down shirt collar, open in front."""
    heights = np.linspace(0.97, 1.40, 400)
    wide = profile(heights, (0.97, 0.235), (1.05, 0.255), (1.2, 0.31), (1.4, 0.37))
    front = profile(heights, (0.97, 0.2), (1.05, 0.235), (1.2, 0.29), (1.4, 0.35))
    points = tube(heights, wide, front, columns=600, power=2.1)
    x, y = points[..., 0], points[..., 1]
    a = np.abs(x)
    bottom = low + point * np.exp(-(((a - 0.15) / 0.075) ** 2))
    top = 1.12 - 0.30 * np.clip(a - 0.05, 0, 0.5)
    is_there = (y < bottom) & (y > top) & (a > 0.035 + 0.42 * np.clip(y - 1.1, 0, 1))
    points[..., 2] -= 0.02
    points[~is_there] = np.nan
    return plain(points, linen, 0.03)


def neckerchief_of(cloth: Floats, *, seed: int) -> tuple[Surface, ...]:
    """Return a kerchief about the neck with its knot and two ends."""
    heights = np.linspace(1.0, 1.24, 200)
    wide = profile(heights, (1.0, 0.205), (1.08, 0.245), (1.16, 0.25), (1.24, 0.23))
    front = profile(heights, (1.0, 0.18), (1.08, 0.225), (1.16, 0.24), (1.24, 0.22))
    band = tube(heights, wide, front, columns=450, power=2)
    band[..., 1] += 0.10 * np.exp(-((band[..., 0] / 0.16) ** 2)) - 0.02
    band[..., 2] += 0.010 * grain(band.shape[:2], (24, 80), seed) - 0.01
    knot = ball((0.01, 1.245, 0.235), (0.062, 0.055, 0.055), cloth, folds=0.09, seed=seed + 1)
    ends = [_end(side, cloth, seed + 2 + no) for no, side in enumerate((-1, 1))]
    return (plain(band, cloth, 0.04), knot, *ends)


def _end(side: int, cloth: Floats, seed: int) -> Surface:
    down, across = np.meshgrid(np.linspace(0, 1, 250), np.linspace(-1, 1, 150), indexing="ij")
    wide = 0.028 + 0.075 * down
    points = np.stack(
        [
            0.01 + side * 0.085 * down + across * wide,
            1.26 + 0.30 * down - 0.06 * np.abs(across) * down * (1 - side * across * 0.5),
            0.25 + 0.02 * down + 0.014 * grain(down.shape, (150, 55), seed) - 0.02 * across**2,
        ],
        axis=-1,
    )
    return plain(points, 0.94 * cloth, 0.04)


def bun_of(colour: Floats) -> Surface:
    """Return a knot of hair on top of the head, behind."""
    return ball((0.0, -0.02, -0.12), (0.15, 0.12, 0.13), colour, folds=0.05, seed=12)


def scarf_of(cloth: Floats, *, seed: int) -> tuple[Surface, ...]:
    """Return a thick scarf about the neck, one end hanging."""
    heights = np.linspace(0.98, 1.36, 240)
    wide = profile(heights, (0.98, 0.22), (1.1, 0.31), (1.22, 0.34), (1.36, 0.3))
    front = profile(heights, (0.98, 0.2), (1.1, 0.29), (1.22, 0.32), (1.36, 0.27))
    band = tube(heights, wide, front, columns=450, power=2)
    band[..., 1] += 0.05 * np.exp(-((band[..., 0] / 0.2) ** 2)) - 0.02
    band[..., 2] += 0.016 * grain(band.shape[:2], (40, 130), seed) - 0.03
    down, across = np.meshgrid(np.linspace(0, 1, 300), np.linspace(-1, 1, 100), indexing="ij")
    end = np.stack(
        [
            0.1 + 0.09 * across * (1 + 0.15 * down) + 0.04 * down,
            1.26 + 0.62 * down,
            0.3 - 0.03 * across**2 + 0.1 * down + 0.012 * grain(down.shape, (180, 64), seed + 1),
        ],
        axis=-1,
    )
    return (plain(band, cloth, 0.02), plain(end, 0.95 * cloth, 0.02))


def hood_of(cloth: Floats, *, seed: int) -> tuple[Surface, ...]:
    """Return a hood that stands round the face and lies on the shoulders."""
    down, around = np.meshgrid(np.linspace(0, np.pi, 700), np.linspace(-np.pi / 2, np.pi / 2, 700), indexing="ij")
    unit = np.stack([np.sin(down) * np.sin(around), -np.cos(down), np.sin(down) * np.cos(around)], axis=-1)
    size = 1 + 0.015 * np.sin(down) ** 2 * grain(down.shape, (86, 54), seed)
    points = np.array([0.0, 0.5, -0.1]) + unit * np.array([0.49, 0.66, 0.52]) * size[..., None]
    x, y, z = np.moveaxis(points, -1, 0)
    points[((x / 0.375) ** 2 + ((y - 0.48) / 0.56) ** 2 < 1) & (z > -0.1)] = np.nan
    about, across = np.meshgrid(np.linspace(0, 2 * np.pi, 1100), np.linspace(0, 2 * np.pi, 50), indexing="ij")
    thick = 0.03 + 0.006 * grain(about.shape, (43, 250), seed + 1)
    wide, high = 0.385 + thick * np.cos(across), 0.565 + thick * np.cos(across)
    rim = np.stack([wide * np.sin(about), 0.48 - high * np.cos(about), 0.20 + thick * np.sin(across)], axis=-1)
    heights = np.linspace(0.86, 1.5, 420)
    cape = tube(
        heights,
        profile(heights, (0.86, 0.33), (1.1, 0.38), (1.3, 0.43), (1.5, 0.46)),
        profile(heights, (0.86, 0.1), (1.0, 0.2), (1.1, 0.3), (1.3, 0.4), (1.5, 0.44)),
        columns=700,
        power=2,
    )
    cape[..., 1] += 0.1 * np.exp(-((cape[..., 0] / 0.25) ** 2)) * beyond(cape[..., 1] - 1.2, 0.05) - 0.02
    cape[..., 2] += 0.014 * grain(cape.shape[:2], (125, 40), seed + 2) - 0.06
    lining = np.stack([0.46 * unit[..., 0], 0.5 + 0.62 * unit[..., 1], -0.25 - 0 * unit[..., 2]], axis=-1)
    outside = [plain(piece, cloth, 0.02) for piece in (points, rim, cape)]
    return (*outside, plain(lining, 0.4 * cloth, 0.0))
