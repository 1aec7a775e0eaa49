"""The picture in half blocks: its colours, its signs of brightness where colours are few, and the mouse on it."""

import numpy as np
import pytest
from rich.segment import Segment
from textual import events
from textual.app import App, ComposeResult

from coach.screens.theme import STUDIO_DARK, STUDIO_LIGHT
from coach.screens.widgets.half_blocks import SHADES, HalfBlocks, Mark, MarkRole, shades_of

RED, BLUE, WHITE, BLACK = (200, 30, 30), (30, 30, 200), (255, 255, 255), (0, 0, 0)


class Shown(App[None]):
    """Shows two cells: red over blue, white over white; and keeps what the mouse did."""

    def __init__(self, theme: str = STUDIO_DARK.name) -> None:
        super().__init__()
        self.register_theme(STUDIO_DARK)
        self.register_theme(STUDIO_LIGHT)
        self.theme = theme
        self.spanned: list[HalfBlocks.Spanned] = []
        self.wheeled: list[HalfBlocks.Wheeled] = []

    def compose(self) -> ComposeResult:
        yield HalfBlocks()

    def on_mount(self) -> None:
        self.query_one(HalfBlocks).show_dots(np.array([[RED, WHITE], [BLUE, WHITE]], dtype=np.uint8))

    def on_half_blocks_spanned(self, message: HalfBlocks.Spanned) -> None:
        self.spanned.append(message)

    def on_half_blocks_wheeled(self, message: HalfBlocks.Wheeled) -> None:
        self.wheeled.append(message)


async def test_a_cell_has_the_colours_of_its_two_dots_and_one_sign_where_they_are_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("COLORTERM", "truecolor")
    async with Shown().run_test(size=(10, 4)) as pilot:
        first, second, *_ = pilot.app.query_one(HalfBlocks).render_line(0)
        assert (first.text, second.text[0]) == ("▀", " ")
        assert first.style is not None
        assert second.style is not None
        assert first.style.color is not None
        assert [first.style.color.triplet, first.style.bgcolor and first.style.bgcolor.triplet] == [RED, BLUE]
        assert second.style.bgcolor is not None
        assert second.style.bgcolor.triplet == WHITE


@pytest.mark.parametrize(("theme", "signs"), [(STUDIO_DARK.name, " █"), (STUDIO_LIGHT.name, "█ ")])
async def test_with_few_colours_there_are_signs_of_brightness(
    monkeypatch: pytest.MonkeyPatch, theme: str, signs: str
) -> None:
    monkeypatch.delenv("COLORTERM", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    async with Shown(theme).run_test(size=(10, 4)) as pilot:
        assert pilot.app.query_one(HalfBlocks).render_line(0).text[:2] == signs


async def test_signs_lie_over_the_picture_and_beyond_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLORTERM", "truecolor")
    async with Shown().run_test(size=(10, 4)) as pilot:
        picture = pilot.app.query_one(HalfBlocks)
        picture.show_marks({0: {1: Mark("像", MarkRole.IN_HAND), 2: Mark("", MarkRole.IN_HAND)}})
        await pilot.pause()
        assert picture.render_line(0).text.rstrip() == "▀像"
        picture.show_marks({})
        assert picture.render_line(0).text.rstrip() == "▀"


async def test_of_a_picture_as_large_as_before_only_what_differs_is_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLORTERM", "truecolor")
    async with Shown().run_test(size=(10, 4)) as pilot:
        picture = pilot.app.query_one(HalfBlocks)
        dots = np.zeros((6, 2, 3), dtype=np.uint8)
        picture.show_dots(dots)
        await pilot.pause()
        drawn: list[int] = []

        def row(y: int) -> list[Segment]:
            drawn.append(y)
            return []

        monkeypatch.setattr(picture, "_row", row)
        other = dots.copy()
        other[3, 1] = RED
        picture.show_dots(other)
        await pilot.pause()
        assert drawn == [1]
        picture.show_dots(other.copy())
        await pilot.pause()
        assert drawn == [1]
        picture.show_dots(None)
        await pilot.pause()
        assert picture.render_line(1).text.strip() == ""


async def test_the_wheel_tells_where_and_which_way() -> None:
    async with Shown().run_test(size=(10, 4)) as pilot:
        await pilot._post_mouse_events([events.MouseScrollUp], HalfBlocks, offset=(1, 0))
        await pilot._post_mouse_events([events.MouseScrollDown], HalfBlocks, offset=(5, 3))
        await pilot.pause()
        told = pilot.app.wheeled  # type: ignore[attr-defined]
        assert [(one.at, one.is_up) for one in told] == [((1, 0), True), ((1, 0), False)]


async def test_the_mouse_tells_the_cells_it_spans_and_selects_no_text() -> None:
    async with Shown().run_test(size=(10, 4)) as pilot:
        await pilot.mouse_down(HalfBlocks, offset=(0, 0))
        await pilot.hover(HalfBlocks, offset=(7, 3))
        await pilot.mouse_up(HalfBlocks, offset=(7, 3))
        await pilot.mouse_down(HalfBlocks, offset=(7, 3))  # beside the picture
        await pilot.mouse_up(HalfBlocks, offset=(7, 3))
        told = [(one.one, one.other, one.is_over) for one in pilot.app.spanned]  # type: ignore[attr-defined]
        assert told[0] == ((0, 0), (1, 0), False)
        assert [one for one in told if one[2]] == [((0, 0), (1, 0), True)]
        assert pilot.app.screen.selections == {}


def test_signs_of_brightness_are_stretched_from_the_darkest_to_the_lightest_cell() -> None:
    greys = np.repeat(np.linspace(0, 255, len(SHADES), dtype=np.uint8)[None, :, None], 3, axis=2)
    dots = np.concatenate((greys, greys))
    assert shades_of(dots, is_light=False) == (SHADES,)
    assert shades_of(dots, is_light=True) == (SHADES[::-1],)
    colours = np.array([[(0, 0, 255), (255, 0, 0), (0, 255, 0)]] * 2, dtype=np.uint8)
    (row,) = shades_of(colours, is_light=False)
    assert [*row] == sorted(row, key=SHADES.index)
    assert shades_of(colours[:0], is_light=False) == ()
    assert shades_of(np.full((2, 1, 3), 9, dtype=np.uint8), is_light=False) == (SHADES[0],)
