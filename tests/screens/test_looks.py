"""What is seen in light and dark, without colour, after a resize, under the Log and from the palette.

Contrast is that of WCAG 2.2 (success criterion 1.4.3: 4.5 for text), with its relative luminance (from memory).
"""

import re

import pytest
from rich.style import Style
from textual.app import App
from textual.theme import Theme

from coach.screens.app import CoachApp
from coach.screens.chooser.screen import ChooserApp
from coach.screens.screen_factory import ScreenFactory
from coach.screens.theme import STUDIO_DARK, STUDIO_LIGHT
from coach.screens.widgets.board import LineBoard
from coach.session import moves
from coach.session.journal_state import JournalState, state_of
from tests.screens.driving import Anything, app_on, shown
from tests.sessions import Easel

LEAST_CONTRAST = 4.5


def on_second_turn() -> Easel:
    """Return an easel four minutes into the second turn."""
    easel = Easel()
    easel.session.make(moves.go_on)
    easel.pass_time(3)
    easel.session.make(moves.go_on)
    easel.pass_time(4)
    return easel


def styles(app: App[Anything]) -> set[Style]:
    """Return the looks of everything written on the screen; block letters and scroll bars are not text."""
    parts = [part for strip in app.screen._compositor.render_strips() for part in strip]
    return {part.style for part in parts if part.style is not None and any(map(str.isalnum, part.text))}


def luminance(triplet: tuple[int, int, int]) -> float:
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in (part / 255 for part in triplet)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(style: Style) -> float:
    assert style.color is not None
    assert style.bgcolor is not None
    ink, ground = (luminance(colour.get_truecolor()) for colour in (style.color, style.bgcolor))
    return (max(ink, ground) + 0.05) / (min(ink, ground) + 0.05)


@pytest.mark.parametrize("keys", [(), ("l",)])
@pytest.mark.parametrize("light", [False, True])
@pytest.mark.parametrize("no_colour", [False, True])
async def test_all_text_stands_out_from_its_ground(
    monkeypatch: pytest.MonkeyPatch, keys: tuple[str, ...], light: bool, no_colour: bool
) -> None:
    if no_colour:
        monkeypatch.setenv("NO_COLOR", "1")
    easel = on_second_turn()
    easel.pass_time(51)
    app = app_on(easel, light=light)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press(*keys)
        await pilot.pause()
        faint = {style for style in styles(app) if contrast(style) < LEAST_CONTRAST}
        assert faint == set()
        inks = {style.color.get_truecolor() for style in styles(app) if style.color is not None}
        assert all(len(set(ink)) == 1 for ink in inks) or not no_colour
        if not keys:
            assert "without a rest" in shown(app)


@pytest.mark.parametrize("theme", [STUDIO_DARK, STUDIO_LIGHT])
def test_every_colour_of_a_theme_is_a_grey(theme: Theme) -> None:
    """A coloured screen unsettles an eye that judges colour: ISO 3664 asks for neutral surrounds (from memory)."""
    named = {name: getattr(theme, name) for name in ("primary", "secondary", "accent", "warning", "error", "success")}
    named |= {name: getattr(theme, name) for name in ("foreground", "background", "surface", "panel")} | theme.variables
    assert {name: colour for name, colour in named.items() if len({*re.findall("..", colour[1:])}) != 1} == {}


async def test_after_a_resize_the_easel_fills_the_new_terminal() -> None:
    app = app_on(on_second_turn())
    async with app.run_test(size=(120, 40)) as pilot:
        for size in ((40, 12), (20, 5), (9, 4), (200, 60), (80, 24)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
            board = app.screen.query_one(LineBoard)
            assert len(board._view) == size[1]
            assert max(len(line) for line in shown(app).splitlines()) == size[0]
            assert " ? " in shown(app) or size[1] < 12


@pytest.mark.parametrize("size", [(40, 12), (80, 24), (120, 40)])
async def test_an_open_note_takes_one_line_and_moves_nothing(size: tuple[int, int]) -> None:
    app = app_on(on_second_turn())
    async with app.run_test(size=size) as pilot:
        before = shown(app).splitlines()
        await pilot.press("n", "x")
        await pilot.pause()
        after = shown(app).splitlines()
        assert after[:-1] == before[:-1]
        assert after[-1].strip() == "x"
        await pilot.resize_terminal(40, 12)
        await pilot.pause()
        assert shown(app).splitlines()[-1].strip() == "x"


async def test_under_the_log_the_session_ticks_and_the_easel_is_not_drawn() -> None:
    easel = on_second_turn()
    app = app_on(easel)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("l")
        await pilot.pause()
        before = app._easel._board._view
        easel.clock.go(seconds=9)
        app._tick()
        await pilot.pause()
        assert app._easel._board._view is before
        assert easel.word.reading == easel.clock.read()
        await pilot.press("l")
        await pilot.pause()
        assert app._easel._board._view != before


async def test_a_log_of_2000_turns_opens_and_is_read_to_its_end() -> None:
    easel = on_second_turn()
    turn = state_of(easel.journal.after(0)).turns[0]
    told = JournalState()
    told.turns = [turn._replace(worked_ms=60_000 * n) for n in range(2000)]
    app = CoachApp(easel.session, ScreenFactory(lambda: told), light=False)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l")
        await pilot.pause()
        assert "1999 of 23 min" in shown(app)
        await pilot.press("end")
        await pilot.pause()
        assert " 0 of 23 min" in shown(app).splitlines()[-2]


async def test_the_chooser_shows_the_last_of_many_plans_when_it_is_highlighted() -> None:
    app = ChooserApp([f"plans/[red]{number}[/].yaml" for number in range(200)])
    async with app.run_test(size=(60, 12)) as pilot:
        await pilot.press("end")
        await pilot.pause()
        assert "plans/[red]199[/].yaml" in shown(app)
        assert "Which commission?" in shown(app)
        await pilot.press("enter")
    assert app.return_value == 199
