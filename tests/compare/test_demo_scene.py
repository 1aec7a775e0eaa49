"""The orchard keeper twice: three passages that differ and an eye that lies elsewhere are four findings."""

from pathlib import Path
from typing import Final

import numpy as np
from scipy.ndimage import distance_transform_edt

from coach.compare.comparison import compare
from coach.plan.reading import read_plan
from coach.store.painted_passages import painted_passages
from tests.compare.scenes import PAINT_DOTS_PER_MM, SIZE, Room, Sheet, photographed

PLAN: Final = Path("plans/orchard-keeper.yaml")
NAMES: Final = ("Hall", "School")
CHANGED: Final = {
    "right collar": (0.8, 0.74, 0.62),
    "flush of the cheek": (1.1, 0.85, 0.8),
    "left front": (1.05, 1.2, 1),
}
"""Light of a passage on School for one of Hall: 4 to 8 apart in CIEDE2000."""

EYE: Final = (
    "sockets",
    "iris",
    "folds below",
    "lid shadows",
    "brows",
    "lower lids",
    "white of the eye",
    "lid folds",
    "upper lids",
    "dark of the lashes",
    "catchlights",
)
MOVED_MM: Final = 5


def test_three_changed_passages_and_a_moved_eye_of_a_real_plan_are_four_findings() -> None:
    plan = read_plan(PLAN.read_text(encoding="utf-8"), PLAN.name)
    painted, outlines = painted_passages(plan, PLAN, NAMES, {})
    names = [one.passage for one in painted]
    hall, school = (np.array([one.light for one in painted]) for _ in NAMES)
    for name, factors in CHANGED.items():
        school[names.index(name)] *= factors
    rows, columns = (
        ((np.arange(side * PAINT_DOTS_PER_MM) + 0.5) * outlines.dots_per_mm / PAINT_DOTS_PER_MM).astype(int)
        for side in (SIZE.height_mm, SIZE.width_mm)
    )
    labels = outlines.labels[np.ix_(rows, columns)]
    eyes = np.isin(labels, [names.index(name) for name in EYE])
    right = eyes & (np.arange(len(columns)) > np.flatnonzero(eyes.any(axis=0)).mean())
    nearest = distance_transform_edt(right, return_distances=False, return_indices=True)
    elsewhere, by = labels[tuple(nearest)], round(MOVED_MM * PAINT_DOTS_PER_MM)
    elsewhere[np.roll(right, by, axis=1)] = labels[right]
    one, other = Sheet(labels=labels, light=hall), Sheet(labels=elsewhere, light=np.clip(school, 0, 1))
    room = Room(ratio=0.75, gradient=0.15, curve=0.2, width_px=2400)
    photos = [
        photographed(one, other, NAMES, room),
        photographed(other, one, NAMES[::-1], room, is_second=True),
    ]

    found = compare(photos, painted, outlines)

    assert {shape.passage for shape in found.shapes if shape.called} == CHANGED.keys()
    (eye,) = found.moved
    assert (eye.feature, eye.canvas) == ("right eye", "School")
    assert np.hypot(eye.right_mm - MOVED_MM, eye.down_mm) < 1
    assert {off.passage for off in found.off_values} <= CHANGED.keys()
