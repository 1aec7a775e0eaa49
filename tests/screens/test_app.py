"""The app by its keys: what each key records, what the note and the Log do, and that no name steers anything."""

from collections.abc import Callable

import pytest
from textual import events
from textual.pilot import Pilot
from textual.widgets import Input

from coach.journal.events import Kind
from coach.screens.chooser.screen import DEMO, NEW, ChooserApp
from coach.screens.easel.screen import EaselScreen
from coach.screens.log.screen import LogScreen
from coach.session import moves
from coach.session.cues import Cue
from coach.session.records import Phase
from tests.screens.driving import (
    SIZE,
    Anything,
    app_on,
    begun,
    kinds,
    notes,
    press,
    shown,
    until,
    until_shown,
)
from tests.sessions import TWO_CANVASES, Easel


async def click_markup(pilot: Pilot[Anything]) -> None:
    """Click into every place on the screen where a name with a link in it stands."""
    for y, line in enumerate(shown(pilot.app).splitlines()):
        if "@click" in line:
            await pilot.click(offset=(line.index("@click") + 18, y))


@pytest.mark.parametrize("key", ["space", "enter", "pagedown", "right"])
async def test_each_key_of_go_on_begins_a_session_and_then_ends_the_turn(key: str) -> None:
    easel = Easel()
    async with app_on(easel).run_test(size=SIZE) as pilot:
        await press(pilot, key)
        assert easel.session.situation().phase is Phase.WORKING
        easel.clock.go(seconds=20)
        await press(pilot, key)
    assert kinds(easel) == [Kind.TURN_DONE]


@pytest.mark.parametrize(
    ("key", "kind"),
    [
        ("o", Kind.WENT_OTHER_WAY),
        ("p", Kind.PAUSED),
        ("r", Kind.REST_BEGUN),
        ("m", Kind.MARKED),
        ("x", Kind.SKIPPED),
        ("e", Kind.SESSION_ENDED),
    ],
)
async def test_a_key_records_its_move(key: str, kind: Kind) -> None:
    easel = begun()
    async with app_on(easel).run_test(size=SIZE) as pilot:
        await press(pilot, key)
    assert kinds(easel) == [kind]


async def test_u_takes_back_the_last_move_and_p_twice_goes_on() -> None:
    easel = begun()
    async with app_on(easel).run_test(size=SIZE) as pilot:
        await press(pilot, "m", "u", "p", "p")
    assert kinds(easel) == [Kind.MARKED, Kind.UNDONE, Kind.PAUSED, Kind.WORK_RESUMED]
    assert not easel.session.situation().is_marked


async def test_enter_counts_the_time_away_as_work() -> None:
    easel = begun()
    easel.clock.go(minutes=5)
    easel.reopen()
    async with app_on(easel).run_test(size=SIZE) as pilot:
        assert "away 5 min" in shown(pilot.app)
        await press(pilot, "enter")
        assert "away 5 min" not in shown(pilot.app)
    assert kinds(easel) == [Kind.CAME_BACK, Kind.AWAY_WORKED]
    assert easel.session.situation().turn_ms == 9 * 60_000


async def test_a_refused_key_says_why_and_records_nothing() -> None:
    easel = Easel()
    async with app_on(easel).run_test(size=SIZE) as pilot:
        await press(pilot, "u")
        assert "There is nothing to take back." in shown(pilot.app)
    assert easel.journal.events[-1].kind is Kind.PLAN_READ


async def test_d_changes_between_dark_and_light_and_q_leaves_the_session_open() -> None:
    easel = begun()
    app = app_on(easel)
    async with app.run_test(size=SIZE) as pilot:
        themes = [app.theme]
        for _ in range(2):
            await press(pilot, "d")
            themes.append(app.theme)
        assert themes == ["studio-dark", "studio-light", "studio-dark"]
        await pilot.press("q")
    assert not app.is_running
    assert easel.session.situation().phase is Phase.WORKING


@pytest.mark.parametrize(
    ("closing", "kept", "recorded"),
    [
        ("enter", ["so far"], [Kind.NOTED]),
        ("escape", [], []),
        ("pagedown", ["so far"], [Kind.NOTED, Kind.TURN_DONE]),
    ],
)
async def test_enter_keeps_a_note_esc_drops_it_and_the_pedal_keeps_it_and_goes_on(
    closing: str, kept: list[str], recorded: list[Kind]
) -> None:
    easel = begun()
    async with app_on(easel).run_test(size=SIZE) as pilot:
        await press(pilot, "n", *"so", "space", *"far")
        assert kinds(easel) == []
        await press(pilot, closing)
        assert not any(field.display for field in pilot.app.screen.query(Input))
        assert (notes(easel), kinds(easel)) == (kept, recorded)
        easel.clock.go(seconds=20)
        await press(pilot, "space")
    assert kinds(easel) == [*recorded, Kind.TURN_DONE]


async def test_the_letters_of_moves_are_letters_in_a_note_and_an_empty_note_is_not_kept() -> None:
    easel = begun()
    async with app_on(easel).run_test(size=SIZE) as pilot:
        await press(pilot, "n", *"oprnmsuweldq", "enter", "n", "enter", "n", "space", "pagedown")
    assert notes(easel) == ["oprnmsuweldq"]
    assert kinds(easel) == [Kind.NOTED, Kind.TURN_DONE]


@pytest.mark.parametrize("closing", ["l", "escape"])
async def test_the_log_opens_with_l_and_closes_with_l_and_escape(closing: str) -> None:
    app = app_on(begun())
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "l")
        assert isinstance(app.screen, LogScreen)
        assert "Nothing is painted yet" in shown(app)
        await press(pilot, closing)
        assert isinstance(app.screen, EaselScreen)


async def test_o_shows_the_next_canvas_and_c_asks_for_a_pass() -> None:
    easel = begun()
    for _ in range(3):
        easel.session.make(moves.go_on)
        easel.pass_time(5)
    app = app_on(easel)
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "l")
        seen = []
        for keys in ("", "o", "o", "o", "c2", "c1"):
            await press(pilot, *keys)
            head, *rows = shown(app).splitlines()
            seen.append((head.split("what was done")[1].strip(), sum(" min " in f"{row} " for row in rows)))
    canvases = list(dict.fromkeys(event.turn.canvas for event in easel.journal.events if event.turn))
    assert sorted(canvases) == ["Hall", "School"]
    assert [head for head, _ in seen] == ["", *(f"· {canvas}" for canvas in canvases), "", "· eyes", ""]
    assert seen[0][1] == seen[3][1] == seen[1][1] + seen[2][1] == 3


async def test_keys_of_the_easel_do_nothing_on_the_log() -> None:
    easel = begun()
    easel.session.make(moves.go_on)
    app = app_on(easel)
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "l", "space", "enter", "pagedown", "right", *"oprnmsuwe")
        assert isinstance(app.screen, LogScreen)
    assert kinds(easel) == [Kind.TURN_DONE]


async def test_names_and_notes_with_markup_are_shown_as_written_and_do_nothing() -> None:
    text = TWO_CANVASES.replace("Hall", "'[@click=app.quit]Hall[/]'").replace("eyes", "'[red]eyes'")
    easel = begun(text)
    easel.session.make(moves.noting("[@click=app.quit]a note[/]"))
    app = app_on(easel)
    async with app.run_test(size=(120, 40)) as pilot:
        for _ in range(2):
            if "[@click=app.quit]Hall[/]" in shown(app).splitlines()[1]:
                break
            await press(pilot, "o")
        await click_markup(pilot)
        assert app.is_running
        await press(pilot, "f")
        assert "[red]eyes" in shown(app)
        await press(pilot, "f")
        assert "[@click=app.quit]Hall[/]" in shown(app)
        easel.pass_time(1)
        await press(pilot, "space", "l", "c", "2", "o")
        await click_markup(pilot)
        assert app.is_running
        assert "what was done · [red]eyes · [@click=app.quit]Hall[/]" in shown(app)


@pytest.mark.parametrize(
    ("keys", "chosen"),
    [(("enter",), 0), (("down", "enter"), 1), (("down", "A"), NEW), (("q",), None), (("escape",), None)],
)
async def test_the_chooser_returns_the_chosen_number_a_new_commission_or_none(
    keys: tuple[str, ...], chosen: int | None
) -> None:
    app = ChooserApp(["[@click=app.quit]orchard[/]", "ferry"])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert "[@click=app.quit]orchard[/]" in shown(app)
        assert " a  new" in shown(app)
        await pilot.press(*keys)
    assert app.return_value == chosen


@pytest.mark.parametrize(
    ("keys", "chosen"), [(("enter",), NEW), (("a",), NEW), (("down", "enter"), DEMO), (("q",), None)]
)
async def test_without_a_plan_the_chooser_offers_a_new_commission_and_the_demo(
    keys: tuple[str, ...], chosen: int | None
) -> None:
    app = ChooserApp([], light=True)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert app.theme == "studio-light"
        assert "There is no commission in this folder yet" in shown(app)
        assert "begin a new commission" in shown(app)
        assert "try ours" in shown(app)
        await pilot.press(*keys)
    assert app.return_value == chosen


async def test_letters_in_one_burst_with_the_key_of_a_note_are_in_the_note() -> None:
    easel = begun()
    app = app_on(easel)
    async with app.run_test(size=SIZE) as pilot:
        app._warm()
        await pilot.pause()
        for key in "nquiet":
            app.post_message(events.Key(key, key))
        await press(pilot, "enter")
    assert notes(easel) == ["quiet"]
    assert kinds(easel) == [Kind.NOTED]


@pytest.mark.parametrize("around", [("l", "escape"), ("l", "l"), ("n", "escape"), ("tab", "l", "tab", "l")])
async def test_nothing_holds_focus_on_the_easel_while_painting(around: tuple[str, ...]) -> None:
    app = app_on(begun())
    async with app.run_test(size=SIZE) as pilot:
        app._warm()
        await press(pilot, *around)
        assert isinstance(app.screen, EaselScreen)
        assert app.focused is None


class FakeSounds:
    """Keeps what is played."""

    def __init__(self) -> None:
        self.played: list[Cue] = []
        self.learned = {"f13": "pagedown", "b": "full_stop"}
        self.fault = ""

    def load(self) -> str:
        return self.fault

    def switch(self) -> str:
        return "Sound is on."

    def play(self, cue: Cue, ring: Callable[[], None]) -> None:
        assert callable(ring)
        self.played.append(cue)


async def test_a_limit_is_heard_once_even_behind_the_log_and_a_move_when_it_is_accepted() -> None:
    easel, sounds = Easel(), FakeSounds()
    app = app_on(easel, sounds=sounds)
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "space", "u", "u", "space", "l")
        assert sounds.played == [Cue.MOVE] * 3  # the second undo is refused
        sounds.played.clear()
        for minutes in (20, 31, 2):  # a turn of 23 min, a block of 50 min
            easel.pass_time(minutes)
            app._tick()
            app._tick()
    assert sounds.played == [Cue.REST_DUE]


async def test_a_key_that_was_learned_does_on_the_easel_what_it_means() -> None:
    easel = begun()
    app = app_on(easel, sounds=FakeSounds())
    async with app.run_test(size=SIZE) as pilot:
        await until(pilot, lambda: bool(app.learned))
        await press(pilot, "b", "b", "n", *"abc", "f13")
        assert kinds(easel) == [Kind.PAUSED, Kind.WORK_RESUMED, Kind.NOTED, Kind.TURN_DONE]
    assert notes(easel) == ["abc"]


async def test_bad_settings_are_told_in_a_sentence_and_sound_is_switched_by_a_key() -> None:
    sounds = FakeSounds()
    sounds.fault = "Your settings are damaged."
    app = app_on(begun(), sounds=sounds)
    async with app.run_test(size=SIZE) as pilot:
        await until(pilot, lambda: bool(app.learned))
        app._tick()
        assert "Your settings are damaged." in await until_shown(pilot, "settings")
        await press(pilot, "h")
        assert "Sound is on." in shown(app)
    assert sounds.played == [Cue.MOVE]
