"""A head: cross-sections from crown to chin, bumps on them, and what the skin, the eyes and the hair look like."""

from dataclasses import dataclass

import numpy as np

from tests.drawn.surface import Floats, Surface, beyond, grain, hill, mixed, profile, srgb, tube

_EYE = (0.142, 0.505)
_IRIS = 0.0245


@dataclass(frozen=True, slots=True, kw_only=True)
class Looks:
    """What a sitter looks like; colours in levels 0 to 255.

    Attributes:
        skin: Colour of the skin in the light.
        ruddy: What the cheeks and the nose tend to.
        lips: Colour of the lower lip.
        hair: Colour of the hair.
        brow: Colour of the eyebrows.
        iris: Colour of the eyes.
        age: 0 for smooth, 1 for lined.
        beard: 0 for none, 1 for a full one.
        nose: How large the nose is, 1 as usual.
        jaw: How wide the jaw is, 1 as usual.
        lips_full: How full the lips are.
        hairline: Height at which the hair begins over the forehead.
        receding: How far it lies back over the temples.
        sides: Down to which height the hair covers the sides.
        thick: How thick the hair lies.
        parting: Where the hair is parted, right of the middle; the hairline rises there.
        lids: How far the upper lids are lowered, 0 to 1.
        soft: 0 for a strong brow and hollow cheeks, 1 for neither.
        seed: Of strands and blotches.
    """

    skin: tuple[int, int, int]
    ruddy: tuple[int, int, int]
    lips: tuple[int, int, int]
    hair: tuple[int, int, int]
    brow: tuple[int, int, int]
    iris: tuple[int, int, int]
    age: float
    beard: float = 0.0
    nose: float = 1.0
    jaw: float = 1.0
    lips_full: float = 1.0
    hairline: float = 0.15
    receding: float = 0.03
    sides: float = 0.60
    thick: float = 0.035
    parting: float = 0.0
    lids: float = 0.5
    soft: float = 0.0
    seed: int = 1


def head_of(looks: Looks, rows: int) -> tuple[Surface, ...]:
    """Return the head, of so many rows of points, and its ears."""
    heights = (1 - np.cos(np.pi * np.linspace(0, 1, rows))) / 2 * 1.03
    points = tube(heights, _wide(heights, looks), _front(heights), columns=round(0.9 * rows))
    x, y, z = np.moveaxis(points, -1, 0)
    points[..., 2] += _bumps(x, y, looks) * np.clip(z / 0.25, 0, 1)
    colour, shine = _skin(x, y, looks)
    colour = _eyes(x, y, colour, looks)
    for cover, thick, strands in (_hair(x, y, looks), _beard(x, y, looks)):
        colour = mixed(colour, srgb(*looks.hair) * np.clip(1 + 0.33 * strands, 0.3, 2)[..., None], cover)
        shine = shine * (1 - cover) + 0.07 * cover
        outwards = np.stack([x, y - 0.42, z], axis=-1)
        outwards /= np.linalg.norm(outwards, axis=-1, keepdims=True) + 1e-9
        points += outwards * (cover * (thick + 0.004 * strands))[..., None]
    return (Surface(points=points, colour=colour, shine=shine), *(_ear(side, looks) for side in (-1, 1)))


def _domed(way: Floats) -> Floats:
    """Return a quarter of a circle that rises from 0 at 0 to 1 at 1."""
    return np.sqrt(1 - (1 - np.clip(way, 0, 1)) ** 2)


def _wide(y: Floats, looks: Looks) -> Floats:
    jaw, domed = looks.jaw, _domed(y / 0.1) * _domed((1.03 - y) / 0.15)
    return domed * profile(
        y, (0, 0.262), (0.1, 0.265), (0.2, 0.312), (0.32, 0.345), (0.45, 0.352), (0.58, 0.343),
        (0.7, 0.312 * jaw), (0.8, 0.272 * jaw), (0.88, 0.225 * jaw), (0.95, 0.18 * jaw), (1.03, 0.16 * jaw),
    )  # fmt: skip


def _front(y: Floats) -> Floats:
    domed = _domed(y / 0.1) * _domed((1.03 - y) / 0.1)
    return domed * profile(
        y, (0, 0.3), (0.1, 0.305), (0.2, 0.375), (0.32, 0.4), (0.45, 0.4), (0.58, 0.405),
        (0.7, 0.41), (0.8, 0.405), (0.9, 0.395), (0.96, 0.375), (1.03, 0.35),
    )  # fmt: skip


def _bumps(x: Floats, y: Floats, looks: Looks) -> Floats:
    """Return how far the features stand out of the cross-sections."""
    a = np.abs(x)
    strong = 1 - 0.6 * looks.soft
    found = strong * 0.018 * hill(a, y, (0.14, 0.422), (0.10, 0.03)) + strong * 0.012 * hill(
        x, y, (0, 0.43), (0.05, 0.03)
    )
    found -= (0.042 - 0.008 * looks.soft) * hill(a, y, (0.135, 0.492), (0.085, 0.042)) + 0.022 * hill(
        a, y, (0.062, 0.478), (0.03, 0.036)
    )
    found += 0.036 * hill(a, y, _EYE, (0.058, 0.034)) - 0.008 * hill(a, y, (0.142, 0.468), (0.065, 0.008))
    found += _nose(a, y) * looks.nose
    found += _mouth(x, y, looks) + 0.03 * hill(x, y, (0, 0.925), (0.075, 0.045))
    found += 0.030 * hill(a, y, (0.215, 0.575), (0.09, 0.055)) - 0.018 * strong * hill(
        a, y, (0.225, 0.735), (0.07, 0.08)
    )
    return found + looks.age * _lines(x, y)


def _nose(a: Floats, y: Floats) -> Floats:
    high = profile(y, (0.4, 0), (0.455, 0.012), (0.5, 0.034), (0.58, 0.078), (0.64, 0.112), (0.672, 0.118),
                   (0.695, 0.085), (0.714, 0.02), (0.73, 0))  # fmt: skip
    wide = profile(y, (0.4, 0.05), (0.5, 0.034), (0.6, 0.04), (0.66, 0.05), (0.7, 0.05))
    wings = 0.05 * hill(a, y, (0.062, 0.68), (0.026, 0.026), 2.6) - 0.016 * hill(a, y, (0.092, 0.682), (0.01, 0.03))
    return high * np.exp(-((a / wide) ** 2.4)) + wings


def _seam(x: Floats) -> Floats:
    """Return the height at which the lips meet."""
    return 0.795 + 0.12 * x**2


def _mouth(x: Floats, y: Floats, looks: Looks) -> Floats:
    full = looks.lips_full
    lips = 0.016 * hill(x, y, (0, 0.774), (0.085, 0.016)) + 0.021 * hill(x, y, (0, 0.824), (0.07, 0.019))
    seam = np.exp(-(((y - _seam(x)) / 0.006) ** 2)) * beyond(0.118 - np.abs(x), 0.006)
    around = 0.016 * hill(x, y, (0, 0.79), (0.13, 0.07)) - 0.006 * hill(x, y, (0, 0.735), (0.014, 0.025))
    return full * lips + around - 0.011 * seam - 0.018 * hill(x, y, (0, 0.868), (0.08, 0.018))


def _lines(x: Floats, y: Floats) -> Floats:
    """Return the folds of age."""
    a = np.abs(x)
    found = 0.010 * hill(a, y, (0.14, 0.567), (0.05, 0.014)) - 0.008 * hill(a, y, (0.145, 0.592), (0.06, 0.009))
    found -= 0.013 * _fold(a, y, (0.085, 0.665), (0.158, 0.815), 0.016)
    found += 0.010 * _fold(a, y, (0.115, 0.665), (0.19, 0.81), 0.03)
    for number, height in enumerate((0.27, 0.315, 0.355)):
        wave = height + 0.012 * np.cos(9 * x + number)
        found -= 0.0022 * np.exp(-(((y - wave) / 0.008) ** 2)) * beyond(0.2 - a, 0.03)
    return found


def _fold(a: Floats, y: Floats, start: tuple[float, float], end: tuple[float, float], wide: float) -> Floats:
    across, down = end[0] - start[0], end[1] - start[1]
    along = np.clip(((a - start[0]) * across + (y - start[1]) * down) / (across**2 + down**2), 0, 1)
    away = np.hypot(a - start[0] - along * across - 0.012 * np.sin(np.pi * along), y - start[1] - along * down)
    return np.exp(-((away / wide) ** 2)) * np.sin(np.pi * np.clip(along, 0.08, 0.92))


def _skin(x: Floats, y: Floats, looks: Looks) -> tuple[Floats, Floats]:
    """Return the colour and the shine of the skin, lips and nostrils with it."""
    a = np.abs(x)
    colour = np.broadcast_to(srgb(*looks.skin), (*x.shape, 3))
    blush = 0.42 * hill(a, y, (0.19, 0.63), (0.09, 0.07)) + 0.45 * hill(x, y, (0, 0.665), (0.055, 0.04))
    blush += 0.15 * hill(x, y, (0, 0.93), (0.08, 0.05)) + 0.22 * hill(a, y, (0.14, 0.57), (0.07, 0.03))
    colour = mixed(colour, srgb(*looks.ruddy), blush)
    colour = mixed(
        colour, srgb(*(min(level + 22, 255) for level in looks.skin)), 0.3 * hill(x, y, (0, 0.28), (0.2, 0.1))
    )
    colour = colour * (1 + 0.03 * grain(x.shape, (14, 14), looks.seed))[..., None]
    shine = 0.08 + 0.16 * hill(x, y, (0, 0.66), (0.03, 0.03)) + 0.08 * hill(x, y, (-0.04, 0.27), (0.14, 0.07))
    shine += 0.05 * hill(a, y, (0.2, 0.57), (0.06, 0.03))
    edge, full = beyond(0.112 - a, 0.006), 0.004 * (looks.lips_full - 1)
    upper = beyond(y - (0.757 - full + 0.012 * np.exp(-((a / 0.018) ** 2)) + 1.1 * a**2), 0.004) * beyond(
        _seam(x) - y, 0.003
    )
    lower = beyond(y - _seam(x), 0.003) * beyond(0.848 + full - 1.9 * a**2 - y, 0.005)
    colour = mixed(colour, 0.72 * srgb(*looks.lips), 0.85 * upper * edge)
    colour = mixed(colour, srgb(*looks.lips), 0.75 * lower * edge)
    seam = np.exp(-(((y - _seam(x)) / 0.0055) ** 2)) * beyond(0.118 - a, 0.006)
    colour = mixed(colour, srgb(62, 32, 30), 0.8 * seam)
    colour = mixed(colour, srgb(50, 28, 24), 0.9 * hill(a, y, (0.034, 0.704), (0.018, 0.009), 3))
    return colour, shine + 0.12 * lower * edge


def _eyes(x: Floats, y: Floats, colour: Floats, looks: Looks) -> Floats:
    """Return the colour with eyes, lashes and brows in it."""
    a = np.abs(x)
    aside = a - _EYE[0]
    open_frac = np.clip(1 - (aside / 0.063) ** 2, 0, 1)
    upper = _EYE[1] + 0.001 - (0.027 - 0.008 * looks.lids) * open_frac**0.7 - 0.06 * np.clip(aside, -0.07, 0)
    lower = _EYE[1] + 0.002 + 0.014 * open_frac - 0.03 * np.clip(aside, 0, 0.07)
    across = x - np.sign(x) * _EYE[0] - 0.004
    out = np.hypot(across, y - _EYE[1] + 0.005)
    ball = mixed(
        np.broadcast_to(srgb(190, 180, 170), colour.shape),
        srgb(120, 100, 92),
        0.7 * np.clip(np.abs(aside) / 0.063, 0, 1) ** 3,
    )
    ball = mixed(ball, srgb(84, 66, 58), 0.75 * np.exp(-(((y - upper) / 0.013) ** 2)))
    iris = mixed(
        np.broadcast_to(srgb(*looks.iris), colour.shape),
        srgb(150, 132, 104),
        0.35 * hill(across, y, (0.006, _EYE[1] + 0.006), (0.014, 0.01)),
    )
    ball = mixed(
        ball, mixed(iris, srgb(26, 20, 18), 0.8 * np.exp(-(((out - _IRIS) / 0.004) ** 2))), beyond(_IRIS - out, 0.0018)
    )
    ball = mixed(ball, srgb(14, 12, 12), beyond(0.011 - out, 0.0018))
    colour = mixed(
        colour, ball, beyond(y - upper, 0.0022) * beyond(lower - y, 0.0022) * beyond(0.063 - np.abs(aside), 0.003)
    )
    side = beyond(0.068 - np.abs(aside), 0.004)
    colour = mixed(colour, srgb(44, 30, 26), 0.9 * side * np.exp(-(((y - upper) / 0.005) ** 2)))
    colour = mixed(colour, srgb(112, 68, 58), 0.5 * side * np.exp(-(((y - lower) / 0.004) ** 2)))
    colour = mixed(colour, srgb(118, 70, 58), 0.5 * side * np.exp(-(((y - upper + 0.019) / 0.005) ** 2)))
    colour = mixed(colour, np.full(3, 2.0), np.exp(-((np.hypot(across + 0.009, y - _EYE[1] + 0.011) / 0.0052) ** 4)))
    arch = 0.398 + 1.3 * (a - 0.155) ** 2
    band = np.exp(-(((y - arch) / (0.017 - 0.03 * np.clip(a - 0.15, 0, 0.2))) ** 2)) * beyond(a - 0.055, 0.008)
    hairs = np.clip(0.75 + 0.3 * grain(x.shape, (2, 3), looks.seed + 3), 0, 1)
    return mixed(colour, srgb(*looks.brow), band * beyond(0.235 - a, 0.012) * hairs)


Cover = tuple[Floats, Floats, Floats]
"""How far hair covers the skin, how thick it lies, and its strands as noise of spread one."""


def _hair(x: Floats, y: Floats, looks: Looks) -> Cover:
    a = np.abs(x)
    line = (
        looks.hairline
        + looks.receding * hill(a, y * 0, (0.19, 0), (0.05, 1))
        - 0.03 * hill(x, y * 0, (looks.parting, 0), (0.05, 1))
    )
    line = line + 0.55 * beyond(a - 0.292, 0.012) + 0.012 * grain(x.shape, (14, 7), looks.seed + 5)
    cover = beyond(line - y, 0.02) * beyond(looks.sides - y, 0.02)
    strands = 0.5 * grain(x.shape, (40, 2), looks.seed + 7) + 0.5 * grain(x.shape, (30, 6), looks.seed + 8)
    rise = (
        (1 - np.cos(np.pi * np.clip(np.maximum((looks.hairline + 0.05 - y) / 0.16, (a - 0.285) / 0.06), 0.04, 1)))
        / 2
        * np.clip((looks.sides + 0.05 - y) / 0.15, 0.2, 1)
    )
    thick = looks.thick * rise * (1 + 0.18 * grain(x.shape, (40, 16), looks.seed + 9))
    return cover, thick, strands


def _beard(x: Floats, y: Floats, looks: Looks) -> Cover:
    a = np.abs(x)
    line = 0.80 - 0.95 * np.clip(a - 0.15, 0, 0.3) ** 0.9 * np.clip((a - 0.14) / 0.1, 0, 1)
    cover = beyond(y - line + 0.008 * grain(x.shape, (12, 8), looks.seed + 11), 0.02)
    cover *= 1 - hill(x, y, (0, 0.823), (0.095, 0.03), 3)
    whiskers = hill(a, y - 0.35 * a**2, (0, 0.765), (0.145, 0.032), 3) * beyond(y - 0.724, 0.005)
    cover = np.maximum(cover, np.maximum(whiskers, hill(a, y, (0.132, 0.81), (0.03, 0.06), 3)))
    strands = 0.6 * grain(x.shape, (22, 2.5), looks.seed + 13) + 0.4 * grain(x.shape, (12, 6), looks.seed + 14)
    full = 1 + 0.25 * grain(x.shape, (26, 14), looks.seed + 15) + 1.2 * hill(x, y, (0, 0.97), (0.2, 0.1))
    return np.clip(cover * looks.beard, 0, 0.96), 0.032 * full, strands


def _ear(side: int, looks: Looks) -> Surface:
    down, back = np.meshgrid(np.linspace(-1, 1, 260), np.linspace(-1, 1, 200), indexing="ij")
    out = np.hypot(back, down)
    hollow = np.exp(-((back / 0.38) ** 2 + ((down - 0.05) / 0.42) ** 2))
    rim = np.exp(-(((out - 0.8) / 0.13) ** 2)) * beyond(0.75 - 0.9 * down - 0.1 * back, 0.2)
    away = 0.035 + 0.022 * np.sqrt(np.clip(1 - out**2, 0, 1)) + 0.018 * rim - 0.02 * hollow
    points = np.stack(
        [
            side * (0.335 + 1.2 * away + 0.03 * np.clip(back, 0, 1)),
            0.555 + 0.115 * down,
            -0.025 - 0.062 * back * (1 - 0.25 * np.clip(down, 0, 1)) - 0.02 * np.abs(back),
        ],
        axis=-1,
    )
    points[out > 1] = np.nan
    skin = mixed(np.broadcast_to(srgb(*looks.skin), points.shape), srgb(*looks.ruddy), np.full(out.shape, 0.5))
    return Surface(points=points, colour=mixed(skin, srgb(70, 36, 30), 0.75 * hollow), shine=np.full(out.shape, 0.08))
