"""The field of the Easel: opened at once, closed without a trace, and never in the way of the pedal."""

import pytest
from textual import events

from coach.journal.events import Kind
from coach.screens.easel.screen import _FIELD_KEYS, EaselScreen
from tests.screens.test_app import SIZE, app_on, begun, bindings_of, kinds, notes, press


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


@pytest.mark.parametrize("around", [("l", "escape"), ("l", "l"), ("n", "escape"), ("tab", "l", "b", "l")])
async def test_nothing_holds_focus_on_the_easel_while_painting(around: tuple[str, ...]) -> None:
    app = app_on(begun())
    async with app.run_test(size=SIZE) as pilot:
        app._warm()
        await press(pilot, *around)
        assert isinstance(app.screen, EaselScreen)
        assert app.focused is None


def test_the_keys_that_open_the_field_are_those_of_its_bindings() -> None:
    bound = {binding.key: binding.action for binding in bindings_of(EaselScreen) if "open_field" in binding.action}
    assert bound == {key: f"open_field('{asked}')" for key, asked in _FIELD_KEYS.items()}
