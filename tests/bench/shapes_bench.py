"""Shapes seen in a photo held against a general library, against drawn heads of which all is known, and their cost."""

import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from statistics import median
from subprocess import run
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Final

import numpy as np
import skimage
from PIL import Image
from scipy.spatial import cKDTree
from skimage.color import deltaE_ciede2000, lab2rgb
from skimage.feature import Cascade
from skimage.segmentation import felzenszwalb, slic

from coach.colour.light import lab_of, linear_of
from coach.composition.crop import Crop
from coach.composition.photo_boxes import PhotoSize
from coach.plan.commission import Canvas, Plan
from coach.screens.shapes import edits
from coach.screens.shapes.picture import ShapesPicture
from coach.screens.shapes.repository import OpenedPhoto, Version
from coach.screens.shapes.state import ShapesState, begun, choosing
from coach.shapes.edges import RISE, EdgeKind, kind_of
from coach.shapes.features import FEATURES, Feature, HeadBox, features_at
from coach.shapes.merging import neighbour_pairs
from coach.shapes.photo_window import PhotoWindow, whole
from coach.shapes.reference import Reference
from coach.shapes.seeing import see, shape_labels
from coach.shapes.shape import Apart, Picture, measured, scale_for, take_apart
from coach.shapes.shape_map import ShapeMapError, map_of
from coach.store.photo import read_linear_light
from tests.shapes.drawn_heads import LAYOUTS, Drawn, drawn_head

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]
    Labels = NDArray[np.int32]

_CUT: Final = (121, 0, 321, 250)
"""Head and shoulders on the portrait photograph that scikit-image ships."""

_ROWS: Final = 420
_HEAD: Final = HeadBox(name="sitter", left=161, top=16, right=281, bottom=177)
"""The head, in pixels of that photograph."""

_LARGE_CUT: Final = (61, 0, 381, 400)
"""What is enlarged to 12 megapixels."""

_PHOTO_BOUNDS: Final = {30: (5.2, 6.2), 60: (4.4, 5.0), 120: (3.9, 4.4)}
"""Count of shapes to the largest mean CIEDE2000 over the whole and over eyes and mouth."""

_FACE_COUNTS: Final = (60, 90, 120)
_GRAPH_FRAC: Final = 0.6
_SEEDS: Final = (200, 201, 202)
_COUNT: Final = 30
_HEAD_ROWS: Final = 360
_CM_PX: Final = _HEAD_ROWS / 20
"""The head is 20 cm high."""

_RUNS: Final = 3

_REFERENCE_CELLS: Final = (36, 22)
_REFERENCE_PX: Final = (720, 560)
"""Rows and columns of a photo as it is kept for showing."""

_REFERENCE_TIMES: Final = 200
_REFERENCE_MS: Final = 0.3

_FRAME_MS: Final = 16
"""A frame of 60 Hz: an edit is seen in the next one, and its figures in the one after that."""

_EACH_HEAD: Final = 50
_SCREEN_CELLS: Final = (76, 38)
_PLAN: Final = Plan(canvases=(Canvas("Hall"),), passes=())

_MEMORY_MIB: Final = 600
_TIMES: Final = 4.0


def shapes_figures() -> Iterator[str]:
    """Yield a line for each level: what was measured, its bound, and whether it is met."""
    yield from _photograph()
    for layout in LAYOUTS:
        yield from _drawn(layout)
    yield from _reference()
    yield from _edits()
    yield from _cost()


def _reference() -> Iterator[str]:
    """Yield how long the place of a passage takes from a photo that is decoded."""
    drawn = drawn_head("frontal", _SEEDS[0])
    apart = take_apart(Picture(linear=drawn.linear, left_px=0, top_px=0, scale=1), [drawn.head], _COUNT)
    kept = Picture(linear=np.resize(drawn.linear, (*_REFERENCE_PX, 3)), left_px=0, top_px=0, scale=1)
    reference = Reference(kept, {shape.id: shape.outline for shape in apart.shapes}, [drawn.head])
    asked = [[shape.id] for shape in apart.shapes]
    taken_s = [
        _taken_s(lambda: [reference.reference(ids, *_REFERENCE_CELLS) for ids in asked])
        for _ in range(_REFERENCE_TIMES // len(asked))
    ]
    columns, rows = _REFERENCE_CELLS
    yield _line(f"a passage outlined in {columns} x {rows} cells, ms", 1000 * min(taken_s) / len(asked), _REFERENCE_MS)


def _photograph() -> Iterator[str]:
    part, head = _part(_CUT, _ROWS)
    srgb = np.asarray(part) / 255
    picture = Picture(linear=linear_of(srgb), left_px=0, top_px=0, scale=1)
    lab = lab_of(picture.linear)
    rows, columns = (grid.astype(float) for grid in np.indices(lab.shape[:2]))
    small = features_at(columns, rows, [head])
    looks = np.isin(small, [FEATURES.index(Feature.EYES), FEATURES.index(Feature.MOUTH)])
    seen = see(picture.linear, [head])
    for count, (most, most_looks) in _PHOTO_BOUNDS.items():
        apart = measured(picture, seen, shape_labels(seen, count), [head])
        flat = np.array([shape.lab for shape in apart.shapes])[apart.labels]
        differences = _apart(lab, flat)
        whole, eyes = float(differences.mean()), float(differences[looks].mean())
        regions = _graph_based(srgb, count)
        other = float(_apart(lab, _flat(lab, regions)).mean())
        yield _line(f"photograph, {len(apart.shapes)} shapes, CIEDE2000 over the whole", whole, most)
        yield _line(f"photograph, {len(apart.shapes)} shapes, CIEDE2000 over eyes and mouth", eyes, most_looks)
        named = f"photograph, times graph-based segmentation ({regions.max() + 1} shapes, {other:.1f})"
        yield _line(named, whole / other, _GRAPH_FRAC)
    for count in _FACE_COUNTS:
        apart = measured(picture, seen, shape_labels(seen, count), [head])
        flat = lab2rgb(np.array([shape.lab for shape in apart.shapes])[apart.labels])
        yield _line(
            f"photograph, {count} shapes, faces found in the flat picture", _faces(flat, head), 1, is_least=True
        )


def _faces(srgb: "Pixels", head: HeadBox) -> int:
    """Return how many faces the packaged detector finds whose middle lies about the middle of the head."""
    cascade = Cascade(str(Path(skimage.__file__).parent / "data" / "lbpcascade_frontalface_opencv.xml"))
    found = cascade.detect_multi_scale((srgb * 255).astype(np.uint8), 1.2, 1, (60, 60), (250, 250))
    across = [(one["c"] + one["width"] / 2 - head.left) / (head.right - head.left) for one in found]
    down = [(one["r"] + one["height"] / 2 - head.top) / (head.bottom - head.top) for one in found]
    return sum(1 / 3 < x < 2 / 3 and 1 / 3 < y < 0.8 for x, y in zip(across, down, strict=True))


def _apart(one: "Pixels", other: "Pixels") -> "Pixels":
    found: Pixels = deltaE_ciede2000(one, other)  # type: ignore[no-untyped-call]
    return found


def _part(cut: tuple[int, int, int, int], rows: int) -> tuple[Image.Image, HeadBox]:
    """Return a part of the photograph, scaled to so many rows, and the head in it."""
    left, top, right, bottom = cut
    times = rows / (bottom - top)
    with Image.open(Path(skimage.__file__).parent / "data" / "astronaut.png") as image:
        sides = round((right - left) * times), rows
        part = image.convert("RGB").crop(cut).resize(sides, Image.Resampling.BICUBIC)
    whole = Picture(linear=np.empty(0), left_px=left, top_px=top, scale=times)
    return part, whole.head(_HEAD)


def _graph_based(srgb: "Pixels", count: int) -> "Labels":
    """Return the segmentation of Felzenszwalb and Huttenlocher whose number of shapes is nearest, by bisection."""
    low, high = 1.0, 1e5
    tried = []
    for _ in range(16):
        scale = (low * high) ** 0.5
        regions = felzenszwalb(srgb, scale=scale, sigma=0.8, min_size=20)
        tried.append(regions)
        low, high = (scale, high) if regions.max() + 1 > count else (low, scale)
    return min(tried, key=lambda regions: abs(int(regions.max()) + 1 - count))


def _flat(lab: "Pixels", regions: "Labels") -> "Pixels":
    sizes = np.bincount(regions.ravel())
    means = np.stack([np.bincount(regions.ravel(), lab[..., no].ravel()) / sizes for no in range(3)], axis=1)
    return means[regions]


@dataclass(slots=True)
class _Tally:
    """What was counted over the seeds of a layout."""

    worst_accuracy: float = 1.0
    lost: int = 0
    found: int = 0
    light_right: int = 0
    area_right: int = 0
    edges: int = 0
    edges_right: int = 0
    soft: int = 0
    soft_right: int = 0
    open_edges: int = 0


def _drawn(layout: str) -> Iterator[str]:
    tally = _Tally()
    for seed in _SEEDS:
        drawn = drawn_head(layout, seed)
        picture = Picture(linear=drawn.linear, left_px=0, top_px=0, scale=1)
        apart = take_apart(picture, [drawn.head], _COUNT)
        _count_shapes(tally, drawn, apart)
        _count_edges(tally, drawn, apart)
    name = f"drawn head, {layout}, {len(_SEEDS)} seeds"
    yield _line(f"{name}, worst achievable segmentation accuracy", tally.worst_accuracy, 0.985, is_least=True)
    yield _line(f"{name}, lost of {len(_SEEDS) * len(LAYOUTS[layout])} shapes", tally.lost, 1)
    for what, right, of, least in (
        ("L* within 1.0", tally.light_right, tally.found, 0.90),
        ("area within 10 %", tally.area_right, tally.found, 0.90),
        ("edges named right", tally.edges_right, tally.edges, 0.90),
        ("soft edges named right", tally.soft_right, tally.soft, 0.75),
    ):
        yield _line(f"{name}, {what}, part of {of}", right / max(of, 1), least, is_least=True)
    yield f"{name}, edges on no true border or on two, left out: {tally.open_edges}"


def _count_shapes(tally: _Tally, drawn: Drawn, apart: Apart) -> None:
    overlap = np.zeros((len(apart.shapes), len(drawn.names)))
    np.add.at(overlap, (apart.labels.ravel(), drawn.truth.ravel()), 1)
    owner = overlap.argmax(axis=1)
    tally.worst_accuracy = min(tally.worst_accuracy, float(overlap.max(axis=1).sum()) / apart.labels.size)
    for number, whole_px in enumerate(overlap.sum(axis=0)):
        own = np.flatnonzero(owner == number)
        if overlap[own, number].sum() < 0.7 * whole_px:
            tally.lost += 1
            continue
        largest = own[overlap[own, number].argmax()]
        there = (apart.labels == largest) & (drawn.truth == number)
        true_l = lab_of(drawn.sharp[there].mean(axis=0))[0]
        tally.found += 1
        tally.light_right += abs(apart.shapes[largest].lab[0] - true_l) <= 1.0
        tally.area_right += abs(overlap[own].sum() - whole_px) <= 0.1 * whole_px


def _count_edges(tally: _Tally, drawn: Drawn, apart: Apart) -> None:
    """Count the edges of contrast 10 and 1 cm at least whose border lies on one true border for 70 % of it."""
    true = _true_borders(drawn)
    places = {shape.id: no for no, shape in enumerate(apart.shapes)}
    for one, shape in enumerate(apart.shapes):
        for near in shape.neighbours:
            other = places[near.id]
            contrast = abs(shape.lab[0] - apart.shapes[other].lab[0])
            if other < one or near.length_px < _CM_PX or contrast < 10:
                continue
            pair = _true_pair(drawn, true, apart.labels, one, other)
            if pair is None:
                tally.open_edges += 1
                continue
            kind = kind_of(RISE * drawn.blur_px(*pair) / _HEAD_ROWS, contrast)
            tally.edges += 1
            tally.edges_right += near.edge is kind
            tally.soft += kind is EdgeKind.SOFT
            tally.soft_right += kind is EdgeKind.SOFT and near.edge is kind


def _border_points(labels: "Labels", one: int, other: int) -> "Pixels":
    """Return the middles of the sides of pixels at which two shapes touch, row and column."""
    found = []
    for before, after, step in ((labels[:-1], labels[1:], (0.5, 0.0)), (labels[:, :-1], labels[:, 1:], (0.0, 0.5))):
        meet = ((before == one) & (after == other)) | ((before == other) & (after == one))
        found.append(np.argwhere(meet) + step)
    return np.concatenate(found)


def _true_borders(drawn: Drawn) -> "tuple[cKDTree, list[tuple[int, int]]]":
    points, pairs = [], []
    for one, other in neighbour_pairs(drawn.truth).tolist():
        found = _border_points(drawn.truth, one, other)
        points.append(found)
        pairs += [(one, other)] * len(found)
    return cKDTree(np.concatenate(points)), pairs


def _true_pair(
    drawn: Drawn, true: "tuple[cKDTree, list[tuple[int, int]]]", labels: "Labels", one: int, other: int
) -> tuple[int, int] | None:
    """Return the true border on which 70 % of a found one lies: 3 px away at most, or within the ramp of a soft one."""
    tree, pairs = true
    apart_px, nearest = tree.query(_border_points(labels, one, other))
    votes: Counter[tuple[int, int]] = Counter()
    for place, far_px in zip(nearest.tolist(), apart_px.tolist(), strict=True):
        votes[pairs[place]] += far_px <= max(3.0, RISE / 2 * drawn.blur_px(*pairs[place]))
    pair, most = votes.most_common(1)[0]
    return pair if most >= 0.7 * len(nearest) else None


def _edits() -> Iterator[str]:
    """Yield how long the Shapes screen takes to cut or join a shape of 12 megapixels, and to draw it."""
    part, box = _part(_LARGE_CUT, 4000)
    scale = scale_for([box], 3200 * 4000)
    small = part.resize((round(3200 * scale), round(4000 * scale)), Image.Resampling.BICUBIC)
    picture = Picture(linear=linear_of(np.asarray(small) / 255), left_px=0, top_px=0, scale=scale)
    shape_map = map_of(take_apart(picture, [box], 50), photo_width_px=3200, photo_height_px=4000, photo_sha256="")
    crop = Crop(left_px=0, top_px=0, width_px=3200, height_px=4000)
    photo = OpenedPhoto(PhotoSize(width_px=3200, height_px=4000), "", crop, picture, (box,))
    shown, window = ShapesPicture(photo), whole(photo.bounds, *_SCREEN_CELLS)
    start = begun(Version(_PLAN, shape_map))
    for name in ("cut", "joined"):
        taken_s = []
        for shape in shape_map.shapes:
            shown.follow(shape_map)
            near = shown.touching(shape.id)
            edit = edits.cut if name == "cut" else edits.joined_to(near[0])
            with suppress(ShapeMapError):  # one that is too small to be cut
                taken_s.append(_taken_s(partial(_edited, choosing(start, shape.id), edit, shown, window)))
        slowest = f"a shape {name} and drawn, of {len(taken_s)}, {1000 * max(taken_s):.0f} ms at most"
        yield _line(f"{slowest}, the middle one, ms", 1000 * median(taken_s), _FRAME_MS)


def _edited(state: ShapesState, edit: edits.ShapeEdit, shown: ShapesPicture, window: PhotoWindow) -> None:
    state = edits.applied(state, edit, shown.photo)
    shown.follow(state.shape_map)
    shown.dots(window, state)
    shown.measured_alone(state.chosen)


def _cost() -> Iterator[str]:
    part, box = _part(_LARGE_CUT, 4000)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "large.jpg"
        part.save(path, quality=90)
        scale = scale_for([box], 3200 * 4000)
        ours_s, base_s = [], []
        for _ in range(_RUNS):
            ours_s.append(_taken_s(lambda: _seen(path, box)))
            base_s.append(_taken_s(lambda: _plainly(path, scale)))
        words = ("shapes", "--photo", str(path), "--count", "50", "--json", "--head")
        head = f"sitter:{box.left:.0f},{box.top:.0f},{box.right:.0f},{box.bottom:.0f}"
        script = (
            "import resource, sys; from coach.cli import main; main(sys.argv[1:]);"
            "sys.stderr.write(str(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss))"
        )
        asked = run([sys.executable, "-c", script, *words, head], capture_output=True, check=True)
    ours, base = median(ours_s), median(base_s)
    yield _line(
        f"12 megapixels to 50 shapes, {ours:.1f} s, times {base:.1f} s of a general library", ours / base, _TIMES
    )
    yield _line("its memory, MiB", int(asked.stderr) / 1024, _MEMORY_MIB)


def _seen(path: Path, box: HeadBox) -> Apart:
    scale = scale_for([box], 3200 * 4000)
    linear = read_linear_light(path, (0, 0, 3200, 4000), scale)
    return take_apart(Picture(linear=linear, left_px=0, top_px=0, scale=scale), [box], 50)


def _plainly(path: Path, scale: float) -> "Labels":
    with Image.open(path) as image:
        small = image.convert("RGB").resize((round(3200 * scale), round(4000 * scale)), Image.Resampling.BICUBIC)
    regions: Labels = slic(np.asarray(small), n_segments=2500, compactness=6, start_label=0)
    return regions


def _taken_s(work: Callable[[], object]) -> float:
    begun_s = time.process_time()  # of the processor: a busy machine does not stretch it
    work()
    return time.process_time() - begun_s


def _line(name: str, measured_: float, bound: float, *, is_least: bool = False) -> str:
    is_met = measured_ >= bound if is_least else measured_ <= bound
    return f"{name}: {measured_:.3f}; {'met' if is_met else 'missed'}, at {'least' if is_least else 'most'} {bound:g}"
