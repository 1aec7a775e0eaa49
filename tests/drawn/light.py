"""Surfaces as a camera sees them: the nearest points, one window, its shadows, a soft lens and grain."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.ndimage import binary_closing, distance_transform_edt, gaussian_filter

from tests.drawn.surface import Floats, Surface


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A surface on the photo: where the crown's middle lies and how high a head is, in pixels."""

    surface: Surface
    x_px: float
    y_px: float
    head_px: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Light:
    """One light and what the room gives back.

    Attributes:
        towards: Where it comes from: right, down, towards the viewer.
        key: Its colour and strength.
        fill: The same of the room.
        penumbra_frac: How fast a cast shadow softens with the way it falls.
    """

    towards: tuple[float, float, float]
    key: tuple[float, float, float] = (1.09, 1.05, 0.98)
    fill: tuple[float, float, float] = (0.147, 0.157, 0.176)
    penumbra_frac: float = 0.14


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """What lies in front at each pixel."""

    is_hit: "np.typing.NDArray[np.bool_]"
    depth: Floats
    colour: Floats
    normal: Floats
    shine: Floats


def photographed(
    pieces: Sequence[Placed], ground: Floats, light: Light, *, lens_px: float = 0.9, grain_frac: float = 0.008
) -> Floats:
    """Return linear light of the pieces before a ground of shape (rows, columns, 3)."""
    seen = _seen(pieces, (ground.shape[0], ground.shape[1]))
    head_px = max(piece.head_px for piece in pieces)
    towards = np.array(light.towards) / np.linalg.norm(light.towards)
    open_frac = 1 - _in_shadow(seen, towards, head_px, light.penumbra_frac)
    facing = np.clip((seen.normal @ towards + 0.08) / 1.08, 0, 1) * open_frac
    room = (0.62 - 0.38 * seen.normal[..., 1] + 0.25 * seen.normal[..., 0]) * _openness(seen, head_px)
    between = towards + np.array([0, 0, 1])
    glitter = np.clip(seen.normal @ (between / np.linalg.norm(between)), 0, 1) ** 24 * seen.shine * open_frac
    lit = seen.colour * (facing[..., None] * np.array(light.key) + room[..., None] * np.array(light.fill))
    lit = lit + (0.95 * glitter)[..., None] * np.array(light.key)
    cover = gaussian_filter(seen.is_hit.astype(float), 0.8)[..., None]
    sharp = cover * lit + (1 - cover) * ground
    soft = gaussian_filter(sharp, (lens_px, lens_px, 0))
    noise = gaussian_filter(np.random.default_rng(7).normal(size=soft.shape[:2]), 0.7)
    return np.asarray(np.clip(soft * (1 + grain_frac / noise.std() * noise[..., None]), 0, 1))


def _seen(pieces: Sequence[Placed], size: tuple[int, int]) -> _Seen:
    rows, columns = size
    parts = [_points(piece) for piece in pieces]
    place, colour, normal, shine = (np.concatenate([part[no] for part in parts]) for no in range(4))
    is_inside = (place[:, :2] >= 0).all(axis=1) & (place[:, 0] < columns - 0.5) & (place[:, 1] < rows - 0.5)
    place, colour, normal, shine = place[is_inside], colour[is_inside], normal[is_inside], shine[is_inside]
    pixel = np.round(place[:, 1]).astype(int) * columns + np.round(place[:, 0]).astype(int)
    nearest = np.full(rows * columns, -np.inf)
    np.maximum.at(nearest, pixel, place[:, 2])
    in_front = place[:, 2] > nearest[pixel] - 3
    pixel = pixel[in_front]
    count = np.bincount(pixel, minlength=rows * columns)
    is_hit = (count > 0).reshape(size)
    up, along = distance_transform_edt(~is_hit, return_distances=False, return_indices=True)

    def mean(values: Floats) -> Floats:
        flat = np.bincount(pixel, values[in_front], minlength=rows * columns) / np.maximum(count, 1)
        return np.asarray(flat.reshape(size)[up, along])

    across = np.stack([mean(normal[:, no]) for no in range(3)], axis=-1)
    return _Seen(
        is_hit=binary_closing(np.pad(is_hit, 4, mode="edge"), iterations=3)[4:-4, 4:-4],
        depth=mean(place[:, 2]),
        colour=np.stack([mean(colour[:, no]) for no in range(3)], axis=-1),
        normal=across / (np.linalg.norm(across, axis=-1, keepdims=True) + 1e-9),
        shine=mean(shine),
    )


def _points(piece: Placed) -> tuple[Floats, Floats, Floats, Floats]:
    """Return places in pixels, colours, normals and shine of the points of a surface."""
    surface = piece.surface
    placed = surface.points * piece.head_px + np.array([piece.x_px, piece.y_px, 0])
    normal = np.cross(np.gradient(placed, axis=1), np.gradient(placed, axis=0))
    normal /= np.linalg.norm(normal, axis=-1, keepdims=True) + 1e-12
    normal = np.where(normal[..., 2:] < 0, -normal, normal)
    is_there = np.isfinite(placed).all(axis=-1) & np.isfinite(normal).all(axis=-1)
    return placed[is_there], surface.colour[is_there], normal[is_there], surface.shine[is_there]


def _in_shadow(seen: _Seen, towards: Floats, head_px: float, penumbra_frac: float) -> Floats:
    """Return how far each pixel lies in a cast shadow, by going towards the light over the depths."""
    depth = np.where(seen.is_hit, seen.depth, -1e4)
    rows, columns = depth.shape
    across = float(np.hypot(towards[0], towards[1]))
    most = np.zeros_like(depth)
    for way in np.arange(4, 0.9 * head_px, 4):
        x, y = round(float(towards[0] / across * way)), round(float(towards[1] / across * way))
        there = np.full_like(depth, -1e4)
        top, bottom, left, right = max(0, -y), min(rows, rows - y), max(0, -x), min(columns, columns - x)
        there[top:bottom, left:right] = depth[top + y : bottom + y, left + x : right + x]
        over = there - (depth + way * towards[2] / across) - 2
        most = np.maximum(most, np.clip(over / (6 + penumbra_frac * way), 0, 1))
    return np.asarray(gaussian_filter(most, 0.004 * head_px))


def _openness(seen: _Seen, head_px: float) -> Floats:
    """Return how much of the room each pixel sees: less where its surroundings lie before it."""
    depth = np.where(seen.is_hit, seen.depth, np.median(seen.depth[seen.is_hit]) - head_px / 4)
    found = np.ones_like(depth)
    for wide, strength in ((0.02, 6), (0.06, 3)):
        before = (gaussian_filter(depth, wide * head_px) - depth) / head_px
        found *= 1 - np.clip(before * strength, 0, 0.55)
    return found
