"""The keys of all screens together: one meaning a letter, capital or small; chips, clicks and the page behind `?`."""

import re
from collections import defaultdict
from pathlib import Path
from typing import Final

import pytest
from textual.app import App
from textual.binding import Binding
from textual.dom import DOMNode

from coach.journal.events import Kind
from coach.screens.app import CoachApp
from coach.screens.chips import HELP, MOST, Chip, chip, chip_line, key_name
from coach.screens.choice import ChoiceScreen
from coach.screens.chooser.screen import ChooserApp
from coach.screens.commission.screen import CommissionScreen
from coach.screens.compare.screen import CompareScreen
from coach.screens.composition.screen import CompositionScreen
from coach.screens.deadline.screen import DeadlineScreen
from coach.screens.easel.screen import EaselScreen
from coach.screens.help.screen import HelpScreen
from coach.screens.help.view import help_view
from coach.screens.key_path import KeyPathApp
from coach.screens.key_table import KEYS, MEANINGS, KeyUse, key_use
from coach.screens.lines import Look
from coach.screens.log.pages import FairnessScreen, HoursScreen
from coach.screens.log.screen import LogScreen
from coach.screens.moments.screen import MomentScreen
from coach.screens.plan.screen import PlanScreen
from coach.screens.shapes.screen import ShapesScreen
from coach.screens.unsaved import LeavingScreen
from coach.text import cells
from tests.screens.driving import SIZE, Anything, app_on, begun, bindings_of, kinds, notes, painted, press, shown, until
from tests.sessions import Easel

SCREENS: Final[dict[str, type[DOMNode]]] = {
    "easel": EaselScreen,
    "moment": MomentScreen,
    "plan": PlanScreen,
    "deadline": DeadlineScreen,
    "composition": CompositionScreen,
    "log": LogScreen,
    "fairness": FairnessScreen,
    "hours": HoursScreen,
    "shapes": ShapesScreen,
    "compare": CompareScreen,
    "choice": ChoiceScreen,
    "leaving": LeavingScreen,
    "commission": CommissionScreen,
    "chooser": ChooserApp,
    "help": HelpScreen,
    "app": CoachApp,
}


def keys_of(use: KeyUse) -> list[str]:
    return use.keys.split(",")


def where(app: App[Anything], text: str) -> tuple[int, int]:
    """Return column and line of the middle of a text on the screen."""
    for y, line in enumerate(shown(app).splitlines()):
        if text in line:
            return cells(line[: line.index(text)]) + cells(text) // 2, y
    raise AssertionError(shown(app))


def test_every_screen_takes_its_keys_from_the_table_and_from_nowhere_else() -> None:
    assert SCREENS.keys() == KEYS.keys()
    for name, screen in SCREENS.items():
        bound = [(binding.key, binding.action, binding.id) for binding in bindings_of(screen)]
        assert bound == [(use.keys, use.action, f"{name}.{use.name}") for use in KEYS[name]]


def test_a_letter_means_one_thing_on_all_screens() -> None:
    meanings = defaultdict(set)
    for uses in KEYS.values():
        for use in uses:
            for key in keys_of(use):
                if len(key) == 1 and key.isalpha():
                    meanings[key].add(use.meaning)
    assert {letter: found for letter, found in meanings.items() if len(found) != 1} == {}
    letters = [key for keys, _ in MEANINGS.values() for key in keys.split(",")]
    assert len(letters) == len(set(letters))
    assert {letter: next(iter(found)) for letter, found in meanings.items()}.items() <= {
        letter: meaning for meaning, (keys, _) in MEANINGS.items() for letter in keys.split(",")
    }.items()


def test_the_letters_that_painters_know_stay() -> None:
    """Those of the issue that asked for one meaning a letter."""
    known = {"deadline": "g", "log": "l", "plan": "v", "composition": "i", "light": "d", "quit": "q", "undo": "u"}
    known |= {"save": "w", "drop": "x", "facts": "f", "note": "n"}
    assert {meaning: MEANINGS[meaning][0] for meaning in known} == known
    assert MEANINGS["help"][0].split(",") == ["question_mark", "f1"]


@pytest.mark.parametrize("screen", KEYS)
def test_no_key_of_a_screen_does_two_things_and_each_is_told_in_few_words(screen: str) -> None:
    outside = () if screen in {"chooser", "commission", "leaving", "app"} else KEYS["app"]
    own = [key for use in KEYS[screen] for key in keys_of(use)]
    assert len(own) == len(set(own))
    assert not set(own) & {key for use in outside for key in keys_of(use)} - {"question_mark", "f1"}
    names = [use.name for use in KEYS[screen]]
    assert len(names) == len(set(names))
    for use in KEYS[screen]:
        assert use.says[0].isupper()
        assert len(use.label.split()) <= 3
        assert len(use.says) <= 48


@pytest.mark.parametrize(
    ("key", "kind"), [("M", Kind.MARKED), ("shift+o", Kind.WENT_OTHER_WAY), ("E", Kind.SESSION_ENDED)]
)
async def test_caps_lock_and_shift_change_no_letter(key: str, kind: Kind) -> None:
    easel = begun()
    async with app_on(easel).run_test(size=SIZE) as pilot:
        await press(pilot, key)
    assert kinds(easel) == [kind]


async def test_a_note_keeps_its_capitals() -> None:
    easel = begun()
    async with app_on(easel).run_test(size=SIZE) as pilot:
        await press(pilot, "N", *"Edge", "enter")
    assert notes(easel) == ["Edge"]


async def test_caps_lock_works_where_a_list_has_the_focus() -> None:
    app = app_on(begun())
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "L", "C")
        assert isinstance(app.screen, ChoiceScreen)


async def test_a_chip_and_its_words_do_what_its_key_does() -> None:
    easel = begun()
    app = app_on(easel)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        for text in (" m ", "look again"):
            await pilot.click(offset=where(app, text))
            await until(pilot, lambda: bool(kinds(easel)))
    assert kinds(easel) == [Kind.MARKED, Kind.UNMARKED]


async def test_the_answers_of_a_notice_can_be_clicked() -> None:
    easel = begun()
    easel.clock.go(minutes=5)
    easel.reopen()
    app = app_on(easel)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        await pilot.click(offset=where(app, "yes, I painted"))
        await until(pilot, lambda: Kind.AWAY_WORKED in kinds(easel))


async def test_escape_takes_a_notice_away_and_records_nothing() -> None:
    easel = begun()
    easel.clock.go(minutes=5)
    easel.reopen()
    app = app_on(easel)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert "yes, I painted" in shown(app)
        await press(pilot, "escape")
        assert "yes, I painted" not in shown(app)
    assert kinds(easel) == [Kind.CAME_BACK]


UNOFFERED: Final = ("no", "larger", "smaller", "mirror", "upside_down", "change")
"""Keys of the Easel that do nothing on the first turn without a photo."""


UNSCROLLED: Final = ("up", "down", "page_up", "page_down", "next", "before")
"""Keys of the pages behind the Log that do nothing while the answer is shown, of one pass."""


def offered(app: CoachApp) -> set[str]:
    """Return the names of the keys of the Easel that `?` offers."""
    return {use.name for use in KEYS["easel"] if app._easel.offers(use.name)}


async def test_only_keys_that_do_something_are_offered() -> None:
    easel = begun()
    app = app_on(easel)
    every = {use.name for use in KEYS["easel"]}
    async with app.run_test(size=SIZE) as pilot:
        assert offered(app) == every - {*UNOFFERED}
        await press(pilot, "space")
        assert offered(app) == every - {*UNOFFERED, "other"} | {"change"}
        await press(pilot, "r")
        assert offered(app) == every - {*UNOFFERED, "other", "rest"} | {"change"}
        await press(pilot, "e")
        assert offered(app) == {"go_on", "yes", "no", "note", "mark", "change", "undo", "facts"}
        await press(pilot, "escape", "question_mark")
        assert "other canvas" not in shown(app)


async def test_after_the_last_turn_only_what_still_does_something_is_offered() -> None:
    app = app_on(painted())
    async with app.run_test(size=SIZE):
        assert offered(app) & {"go_on", "yes", "other", "note", "mark", "drop"} == set()
        assert {"undo", "facts"} <= offered(app)


@pytest.mark.parametrize("opening", [(), ("l",), ("l", "tab"), ("l", "tab", "tab")])
@pytest.mark.parametrize("asks", ["question_mark", "f1"])
async def test_help_lists_what_can_be_pressed_and_nothing_else(opening: tuple[str, ...], asks: str) -> None:
    app = app_on(begun())
    async with app.run_test(size=(80, 60)) as pilot:
        await press(pilot, *opening)
        able = {one.binding.id for one in app.screen.active_bindings.values() if one.binding.id}
        able -= {f"app.{door}" for door in ("deadline", "plan", "composition", "shapes", "sound")}  # there is none
        able -= {f"easel.{name}" for name in UNOFFERED}
        able -= {
            "log.change",
            "log.other",
            *(f"{page}.{name}" for page in ("fairness", "hours") for name in UNSCROLLED),
        }
        await press(pilot, asks)
        assert isinstance(app.screen, HelpScreen)
        assert sorted(app.screen._uses) == sorted(map(key_use, able))
        said = shown(app)
        for use in app.screen._uses:
            assert f" {key_name(keys_of(use)[0])} " in said
            assert all(word in said for word in use.says.split())
        await press(pilot, "escape")
        assert not isinstance(app.screen, HelpScreen)


@pytest.mark.parametrize("way", ["key", "enter", "click"])
async def test_what_help_lists_can_be_done_from_it(way: str) -> None:
    easel = begun()
    app = app_on(easel)
    async with app.run_test(size=(80, 40)) as pilot:
        await press(pilot, "question_mark")
        if way == "key":
            await press(pilot, "m")
        elif way == "enter":
            number = [use.name for use in app.screen._uses].index("mark")  # type: ignore[attr-defined]
            await press(pilot, *["down"] * number, "enter")
        else:
            await pilot.click(offset=where(app, "Mark this turn"))
        await until(pilot, lambda: kinds(easel) == [Kind.MARKED])
        assert isinstance(app.screen, EaselScreen)
        await press(pilot, "question_mark", "l")
        await until(pilot, lambda: isinstance(app.screen, LogScreen))


@pytest.mark.parametrize("size", [(80, 24), (40, 12), (120, 40)])
async def test_every_key_of_help_comes_into_view_when_it_is_chosen(size: tuple[int, int]) -> None:
    columns, lines = size
    uses = [*KEYS["plan"], *KEYS["app"]]
    for number in range(len(uses)):
        view = help_view(uses, number, columns, lines)
        assert len(view) <= lines
        assert all(cells(line.text) <= columns for line in view)
        assert any(piece.look is Look.CHOSEN for line in view for piece in line.pieces)


@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
async def test_help_says_that_more_follows_and_end_leads_to_the_last_key(size: tuple[int, int]) -> None:
    app = app_on(begun())
    async with app.run_test(size=size) as pilot:
        await press(pilot, "question_mark")
        is_long = "↓ more" in shown(app)
        await press(pilot, "end")
        assert isinstance(app.screen, HelpScreen)
        assert app.screen._chosen == len(app.screen._uses) - 1
        assert "↓ more" not in shown(app)
        assert ("↑ more" in shown(app)) == is_long
    assert is_long or size[1] > 12


async def test_at_the_end_of_the_day_help_has_the_words_of_the_chip_and_esc_leads_back_to_the_page() -> None:
    app = app_on(begun())
    async with app.run_test(size=(80, 40)) as pilot:
        await press(pilot, "f", "question_mark")
        assert isinstance(app.screen, HelpScreen)
        await press(pilot, "escape")
        assert isinstance(app.screen, EaselScreen)
        await press(pilot, "f", "e")
        await until(pilot, lambda: isinstance(app.screen, MomentScreen))
        await press(pilot, "question_mark")
        assert "Paint on" in shown(app)
        await press(pilot, "escape")
        assert isinstance(app.screen, MomentScreen)
        await press(pilot, "escape", "question_mark")
        assert "Paint on" in shown(app)
        assert "Done" not in shown(app)


def test_chips_give_way_from_the_last_and_the_first_and_the_help_stay() -> None:
    chips = (chip("easel.go_on"), chip("easel.note"), chip("easel.mark"), HELP)
    assert len(chips) == MOST
    assert chip_line(chips, 80).text == " Space  done    n  note    m  look again    ?  what else"
    for columns in range(13, 81):
        text = chip_line(chips, columns).text
        assert cells(text) <= columns
        assert text.startswith(" Space ")
        assert " ?" in text
    assert chip_line((Chip("question_mark", "what else"),), 3).text == " ? "


def test_the_table_of_keys_in_the_readme_names_keys_that_there_are() -> None:
    text = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    rows = text.split("| key | what it does at the easel |\n")[1].split("\n\n")[0].splitlines()[1:]
    named = {key for row in rows for key in re.split(r"[ ,]+", row.split("|")[1].strip())}
    known = {key_name(key) for uses in KEYS.values() for use in uses for key in keys_of(use)}
    known |= {keys for keys, _ in MEANINGS.values()}
    assert named - known == set()
    assert {"Space", "o", "n", "m", "u"} <= named


async def test_the_framework_s_own_palette_is_gone() -> None:
    app = app_on(Easel())
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "ctrl+p")
        assert isinstance(app.screen, EaselScreen)
    assert issubclass(CoachApp, KeyPathApp)
    assert not [
        binding for binding in CoachApp.BINDINGS if isinstance(binding, Binding) and "palette" in binding.action
    ]


def test_a_use_is_found_by_its_full_name() -> None:
    assert key_use("easel.mark").keys == "m"
