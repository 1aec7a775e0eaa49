"""A pedal or a remote is learned by pressing it."""

from collections.abc import Mapping

from coach.errors import CoachError
from coach.screens.pedal import PedalApp
from tests.screens.driving import SIZE, press, shown, until_shown

MEANINGS = ("go on", "take back", "pause")


async def test_a_key_is_learned_by_pressing_it_changed_and_forgotten() -> None:
    kept: list[dict[str, str]] = []
    app = PedalApp(MEANINGS, {"f13": "pause"}, lambda learned: kept.append(dict(learned)))
    async with app.run_test(size=SIZE) as pilot:
        assert "Press your pedal" in await until_shown(pilot, "F13  pause")
        await press(pilot, "k")
        assert "k came. What should it mean?" in shown(app)
        await press(pilot, "enter")
        assert "k means go on." in shown(app)
        await press(pilot, "f13", "4")
        await press(pilot, "k", "3")
        await press(pilot, "k", "escape", "escape")
    assert kept == [{"f13": "pause", "k": "go on"}, {"k": "go on"}, {"k": "pause"}]
    assert app._exit


async def test_a_key_that_has_a_meaning_is_not_taken_from_it() -> None:
    app = PedalApp(MEANINGS, {}, lambda _: None)
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "n")
        assert "n works already: write a note on this turn." in shown(app)
        await press(pilot, "pagedown")
        assert "PageDown works already: done: on to the next turn." in shown(app)


async def test_what_cannot_be_kept_is_said_and_names_from_the_file_steer_nothing() -> None:
    def refuse(_: Mapping[str, str]) -> None:
        raise CoachError("your settings cannot be kept: the disk is full")

    app = PedalApp(MEANINGS, {"[red]\x1b": "pause"}, refuse, said="Your settings are damaged.", light=True)
    async with app.run_test(size=SIZE) as pilot:
        said = await until_shown(pilot, "Your settings are damaged.")
        assert "[red]\ufffd" in said
        await press(pilot, "k", "1")
        assert "the disk is full" in shown(app)
