"""The bell: once for a limit that is passed, on any screen, where it is asked for."""

import pytest

from coach.review.painted import painted_of
from coach.screens.app import CoachApp
from coach.screens.screen_factory import ScreenFactory
from coach.session import moves
from tests.sittings import Easel


@pytest.mark.parametrize(("rings", "expected"), [(True, 2), (False, 0)])
async def test_the_bell_rings_once_for_each_limit_even_behind_the_log(
    monkeypatch: pytest.MonkeyPatch, *, rings: bool, expected: int
) -> None:
    easel = Easel()
    easel.sitting.make(moves.go_on)
    app = CoachApp(easel.sitting, ScreenFactory(lambda: painted_of([])), light=False, rings=rings)
    rung: list[str] = []
    monkeypatch.setattr(app, "bell", lambda: rung.append("bell"))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l")
        for minutes in (49, 2, 10):  # a block of 50 min, an hour on one spot
            easel.pass_time(minutes)
            app._tick()
            app._tick()

    assert len(rung) == expected
