"""The crop: worked cases, and the closed search against trying every crop there is."""

from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.composition.crop import Crop, best_crop, painted_crop, usual_margin_mm
from coach.composition.life_size import LIFE_MM
from coach.composition.photo_boxes import PhotoSize
from coach.plan.commission import Canvas, CanvasSize, MarkedBox, MarkedHead, Plan

TALL = PhotoSize(width_px=4000, height_px=6000)
SMALL_CANVASES = [(400, 500), (500, 400), (730, 920), (100, 180), (195, 130), (300, 300), (50, 60)]


def box(left: int, top: int, right: int, bottom: int) -> MarkedBox:
    return MarkedBox(left_px=left, top_px=top, right_px=right, bottom_px=bottom)


def head(*sides: int, name: str = "Anna") -> MarkedHead:
    return MarkedHead(name=name, box=box(*sides))


@pytest.mark.parametrize(
    ("canvas_mm", "sides_px"),
    [((400, 500), (4000, 5000)), ((730, 920), (4000, 5041)), ((500, 400), (4000, 3200)), ((100, 180), (3333, 6000))],
)
def test_the_largest_crop_of_a_ratio(canvas_mm: tuple[int, int], sides_px: tuple[int, int]) -> None:
    """trade-checks.md 54 and 55; the others by the identity of trade.md C1.5."""
    crop = best_crop(TALL, CanvasSize(*canvas_mm), (), ())

    assert (crop.width_px, crop.height_px) == sides_px
    assert (crop.left_px, crop.top_px) == ((4000 - sides_px[0]) // 2, (6000 - sides_px[1]) // 2)


def test_the_crown_lies_two_inches_below_the_edge_of_a_16_x_20_inch_canvas() -> None:
    """trade.md C3.7: 50.8 mm at 250 px to the inch (trade-checks.md 57) are 500 px."""
    crop = best_crop(TALL, CanvasSize(406.4, 508), [head(1500, 1200, 2200, 2100)], ())

    assert crop == Crop(left_px=0, top_px=700, width_px=4000, height_px=5000)


def test_what_must_stay_moves_the_crop_from_its_place() -> None:
    kept = best_crop(TALL, CanvasSize(406.4, 508), [head(1500, 1200, 2200, 2100)], [box(0, 5800, 10, 5900)])

    assert kept.top_px == 900


def test_a_wanted_share_of_life_tightens_the_crop_to_it() -> None:
    crop = best_crop(TALL, CanvasSize(406.4, 508), [head(1500, 1200, 2200, 2100)], (), life_frac=0.5)

    assert 900 / crop.height_px * 508 == pytest.approx(LIFE_MM / 2, abs=0.05)


def test_a_share_out_of_reach_stops_where_the_head_still_has_its_margins() -> None:
    """A tenth of the canvas above and below: h - h // 5 reaches 900 px at h = 1124 (1123 leaves 899)."""
    crop = best_crop(TALL, CanvasSize(400, 500), [head(1500, 1200, 2200, 2100)], (), life_frac=2.0)

    assert crop.height_px == 1124
    assert crop.top_px == 1200 - 112


def test_where_not_all_fits_the_heads_go_first() -> None:
    """The crop is 100 x 80 px; a tenth of 80 px lies above the crown, and the part to keep is given up."""
    tall = PhotoSize(width_px=100, height_px=600)

    crop = best_crop(tall, CanvasSize(500, 400), [head(40, 300, 60, 330)], [box(0, 0, 100, 10)])

    assert (crop.height_px, crop.top_px) == (80, 292)


def test_heads_that_do_not_fit_are_cut_alike_at_both_ends() -> None:
    wide = PhotoSize(width_px=600, height_px=100)
    people = [head(200, 40, 220, 70), head(280, 40, 300, 70, name="Berta")]

    crop = best_crop(wide, CanvasSize(400, 500), people, ())

    assert (200 - crop.left_px, crop.right_px - 300) == (-10, -10)


# Boxes are drawn inside the photo; canvases cover both limits and thin shapes.
@st.composite
def pictures(draw: st.DrawFn) -> tuple[PhotoSize, CanvasSize, list[MarkedHead], list[MarkedBox]]:
    photo = PhotoSize(width_px=draw(st.integers(4, 26)), height_px=draw(st.integers(4, 26)))

    def one() -> MarkedBox:
        left, top = draw(st.integers(0, photo.width_px - 1)), draw(st.integers(0, photo.height_px - 1))
        right = draw(st.integers(left + 1, min(photo.width_px, left + 9)))
        bottom = draw(st.integers(top + 1, min(photo.height_px, top + 9)))
        return box(left, top, right, bottom)

    heads = [MarkedHead(name=str(number), box=one()) for number in range(draw(st.integers(1, 2)))]
    keeps = [one() for _ in range(draw(st.integers(0, 1)))]
    return photo, CanvasSize(*draw(st.sampled_from(SMALL_CANVASES))), heads, keeps


def every_crop(photo: PhotoSize, canvas: CanvasSize) -> Iterator[Crop]:
    """Every crop of a row: the side that the photo limits counts pixels, the other is the nearest pixel (half: up)."""
    width_um, height_um = round(canvas.width_mm * 1000), round(canvas.height_mm * 1000)
    if photo.height_px * width_um >= photo.width_px * height_um:
        sides = [(w, max(1, int(w * height_um / width_um + 0.5))) for w in range(1, photo.width_px + 1)]
    else:
        sides = [(max(1, int(h * width_um / height_um + 0.5)), h) for h in range(1, photo.height_px + 1)]
    for width, height in sides:
        for left in range(photo.width_px - width + 1):
            for top in range(photo.height_px - height + 1):
                yield Crop(left_px=left, top_px=top, width_px=width, height_px=height)


def holds(crop: Crop, part: MarkedBox) -> bool:
    across = crop.left_px <= part.left_px and part.right_px <= crop.right_px
    return across and crop.top_px <= part.top_px and part.bottom_px <= crop.bottom_px


def off_place(crop: Crop, canvas: CanvasSize, heads: list[MarkedHead]) -> tuple[float, float]:
    """How far the heads are from the middle, and the highest crown from its margin, in pixels."""
    left, right = min(h.box.left_px for h in heads), max(h.box.right_px for h in heads)
    top, bottom = min(h.box.top_px for h in heads), max(h.box.bottom_px for h in heads)
    margin = int(crop.height_px * usual_margin_mm(canvas.height_mm) / canvas.height_mm)
    above = min(margin, (crop.height_px - (bottom - top)) // 2)
    return abs((left - crop.left_px) - (crop.right_px - right)), abs(top - crop.top_px - above)


@settings(max_examples=150, deadline=None)
@given(pictures())
def test_no_crop_that_holds_all_loses_less_or_lies_better(
    picture: tuple[PhotoSize, CanvasSize, list[MarkedHead], list[MarkedBox]],
) -> None:
    photo, canvas, heads, keeps = picture
    parts = [*(h.box for h in heads), *keeps]
    able = [crop for crop in every_crop(photo, canvas) if all(holds(crop, part) for part in parts)]
    found = best_crop(photo, canvas, heads, keeps)
    if not able:
        assert not all(holds(found, part) for part in parts)
        return

    def cost(crop: Crop) -> tuple[float, ...]:
        return -crop.width_px * crop.height_px, *off_place(crop, canvas, heads)

    assert found in able
    assert cost(found) == min(map(cost, able))


@settings(max_examples=150, deadline=None)
@given(pictures(), st.sampled_from([0.1, 0.3, 0.5, 0.75, 1.2]))
def test_no_crop_with_margins_comes_nearer_to_the_wanted_share(
    picture: tuple[PhotoSize, CanvasSize, list[MarkedHead], list[MarkedBox]], life_frac: float
) -> None:
    photo, canvas, heads, keeps = picture
    parts = [*(h.box for h in heads), *keeps]
    mean_px = sum(h.box.height_px for h in heads) / len(heads)
    across = max(h.box.right_px for h in heads) - min(h.box.left_px for h in heads)
    down = max(h.box.bottom_px for h in heads) - min(h.box.top_px for h in heads)

    def has_margins(crop: Crop) -> bool:
        beside = int(2 * crop.width_px * usual_margin_mm(canvas.width_mm) / canvas.width_mm)
        above = int(2 * crop.height_px * usual_margin_mm(canvas.height_mm) / canvas.height_mm)
        return crop.width_px - across >= beside and crop.height_px - down >= above

    def cost(crop: Crop) -> tuple[float, ...]:
        off = abs(mean_px * canvas.height_mm / crop.height_px / LIFE_MM - life_frac)
        return off, -crop.width_px * crop.height_px, *off_place(crop, canvas, heads)

    able = [c for c in every_crop(photo, canvas) if all(holds(c, part) for part in parts) and has_margins(c)]
    found = best_crop(photo, canvas, heads, keeps, life_frac)

    if able:
        assert found in able
        assert cost(found) == min(map(cost, able))
    else:
        assert found == best_crop(photo, canvas, heads, keeps)


def test_a_plan_paints_the_crop_it_states_or_the_best_for_its_first_canvas_or_all() -> None:
    photo = PhotoSize(width_px=400, height_px=300)
    plan = Plan(canvases=(Canvas("Hall"), Canvas("School", size=CanvasSize(300, 300))), passes=())
    stated = plan._replace(crop=MarkedBox(10, 20, 110, 500))

    assert painted_crop(stated, photo) == Crop(left_px=10, top_px=20, width_px=100, height_px=280)
    assert painted_crop(plan._replace(crop=MarkedBox(900, 900, 950, 950)), photo).width_px == 1
    assert painted_crop(plan, photo) == best_crop(photo, CanvasSize(300, 300), (), ())
    whole = painted_crop(plan._replace(canvases=plan.canvases[:1]), photo)
    assert (whole.width_px, whole.height_px) == (400, 300)
