"""The chooser: how far each commission is, whether its day holds, and the last page of a work that is not begun."""

import datetime as dt
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from coach.commands.choosing import CommissionShelf
from coach.screens.chooser.screen import ChooserApp
from coach.screens.chooser.view import CommissionCard, chooser_page, nothing_page
from coach.screens.lines import Line, Role
from coach.screens.page import MOST_WORDS, page_lines, words_of
from coach.store.system_clock import SystemClock
from coach.text import cells
from tests.painter import Habits, paint_journal
from tests.screens.driving import press, shown, until_shown
from tests.sessions import TWO_CANVASES

DUE = dt.date(2027, 5, 1)
CARD = CommissionCard("The orchard keeper", DUE, 0.62, dt.date(2027, 3, 3), 0.9)
LONG = CARD._replace(name="The orchard keeper and all of her daughters and sons in their best clothes")
CJK = CARD._replace(name="果樹園の番人とその娘たちと息子たちの大きな肖像画の注文")


@pytest.mark.parametrize(
    ("card", "word", "sentence"),
    [
        (CARD, "in time", "Due 1 May 2027, 9 in 10; last painted 3 Mar."),
        (CARD._replace(chance=0.6), "perhaps", "Due 1 May 2027, 6 in 10; last painted 3 Mar."),
        (CARD._replace(chance=0.2), "late", "Due 1 May 2027, 2 in 10; last painted 3 Mar."),
        (CARD._replace(chance=None), "62%", "Due 1 May 2027; last painted 3 Mar."),
        (CARD._replace(done_frac=1.0), "painted", "Due 1 May 2027, 9 in 10; last painted 3 Mar."),
        (CommissionCard("ferry", done_frac=0.0), "0%", "Nothing painted yet."),
        (CommissionCard("ferry"), "reading", "The plan and its journal are being read."),
        (CommissionCard("ferry", fault="x"), "faults", "This plan has faults; Enter says which."),
    ],
)
def test_the_chosen_commission_is_told_in_a_word_and_a_sentence(card: CommissionCard, word: str, sentence: str) -> None:
    page = chooser_page([CARD, card], 1, 80, 24)
    assert (page.word, page.sentence) == (word, sentence)
    assert [bar.is_chosen for bar in page.bars] == [False, True]


@pytest.mark.parametrize("card", [CARD, LONG, CJK])
@pytest.mark.parametrize("count", [1, 3, 200])
def test_the_chooser_is_read_at_a_glance_and_shows_the_chosen_one_at_every_size(
    card: CommissionCard, count: int
) -> None:
    cards = [card] * count
    rows = page_lines(chooser_page(cards, count - 1, 80, 24), 80, 24)
    assert words_of(rows) <= MOST_WORDS
    for columns, lines in ((80, 24), (120, 40), (200, 60), (40, 12), (20, 5)):
        page = chooser_page(cards, count - 1, columns, lines)
        rows = page_lines(page, columns, lines)
        assert len(rows) == lines
        assert max(cells(row.text) for row in rows) <= columns
        assert lines < 12 or any(row.text.startswith("→") for row in rows)
    assert any(row.text.startswith(card.name[:8]) for row in rows)
    assert words_of([Line(nothing_page(0).sentence, Role.CANVAS)]) <= 14


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
def test_the_chooser_looks_as_it_did(snapshot: SnapshotAssertion, size: tuple[int, int]) -> None:
    cards = [CARD, LONG._replace(done_frac=0.1, chance=0.3), CommissionCard("ferry.yaml", fault="x")]
    for page in (chooser_page(cards, 0, *size), nothing_page(1)):
        assert "\n".join(row.text for row in page_lines(page, *size)) == snapshot


def test_the_shelf_tells_what_is_painted_and_foretells_the_day(tmp_path: Path) -> None:
    plan = tmp_path / "orchard.yaml"
    plan.write_text(TWO_CANVASES + "due: 2099-05-01\nweek: {mon-fri: 1 h}\n", encoding="utf-8")
    paint_journal(plan, Habits(noise=0, slip_frac=0), 2)
    broken = tmp_path / "broken.yaml"
    broken.write_text("canvases: 3\n", encoding="utf-8")
    shelf = CommissionShelf([plan, broken])
    card = shelf.card(0)
    assert card.name == "The orchard keeper"
    assert card.done_frac == pytest.approx(2 * 23 / (2 * 59))
    assert card.last_painted is not None
    assert shelf.card(1).fault
    assert shelf.card_with_chance(1) == shelf.card(1)
    assert shelf.card_with_chance(0).chance == pytest.approx(1, abs=0.01)
    assert card.due is not None
    assert card.due > SystemClock().today()


async def test_what_is_read_comes_in_behind_the_page_and_a_click_chooses() -> None:
    app = ChooserApp(["one", "two"], lambda number: CARD._replace(name=f"Work {number}"))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "Work 1")
        row = next(y for y, line in enumerate(shown(app).split("\n")) if "Work 1" in line)
        await pilot.click(offset=(4, row))
        await until_shown(pilot, "→ Work 1")
        await press(pilot, "up")
        assert "→ Work 0" in shown(app)
        await pilot.press("enter")
    assert app.return_value == 0
