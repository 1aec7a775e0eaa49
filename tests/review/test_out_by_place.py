"""Whether the canvas that led or that followed is out more often: the exact test, and what simulated painters show."""

import random
from typing import Any

import pytest
from scipy.stats import binomtest

from coach.journal.compared import KeptComparison, KeptPassage, KeptValue, difference_between
from coach.journal.events import Event, Kind, Turn
from coach.journal.reading import Reading
from coach.review.fairness.out_by_place import OutByPlace, at_least, out_by_place
from coach.review.fairness.report import report_painted
from coach.review.fairness.run_times import runs_painted
from coach.review.fairness.sentences import out_sentences
from coach.screens.log.fairness_page import fairness_page
from coach.session.journal_state import JournalState

AT = Reading(wall_ms=1_800_000_000_000, offset_s=0, elapsed_ms=0, boot="one")
PAIR = ("Hall", "School")
SIMULATED = 200


class Studio:
    """Two canvases whose turns, comparison and marks are written down one after the other."""

    def __init__(self) -> None:
        self.state = JournalState()
        self.passages: list[KeptPassage] = []
        self.values: list[KeptValue] = []
        self._add(Kind.SESSION_BEGUN)

    def _add(self, kind: Kind, **held: Any) -> None:
        ms = 600_000 * (self.state.seq + 1)
        at = AT._replace(wall_ms=AT.wall_ms + ms, elapsed_ms=ms)
        self.state.add(Event(seq=self.state.seq + 1, at=at, kind=kind, **held))

    def paint(self, number: int, passages: int, lead: str) -> None:
        """Paint a run of so many passages on both canvases."""
        names = tuple(f"{number}-{own}" for own in range(passages))
        for place, canvas in enumerate(sorted(PAIR, key=lambda name: name != lead), 1):
            self._add(Kind.TURN_DONE, turn=Turn("eyes", number, names, canvas, place, 600))

    def call(self, name: str, out: str = "") -> None:
        """Let a comparison call a passage, and the order of values tell of a canvas, where it does."""
        self.passages.append(KeptPassage("eyes", name, 3.0, 2.0, 4.0, (3.0, 0.0, 0.0), True, "Hall is lighter"))
        if out:
            self.values.append(KeptValue("eyes", name, out, 0.8, "too light"))

    def mark(self, name: str, canvas: str) -> None:
        """Mark a passage for return."""
        self._add(Kind.MARKED_FOR_RETURN, turn=Turn("eyes", int(name.partition("-")[0]), (name,), canvas, 1, 600))

    def told(self) -> OutByPlace:
        """Compare the canvases and return what is told."""
        found = KeptComparison(PAIR, (), 0.8, tuple(self.passages), off_values=tuple(self.values))
        self._add(Kind.COMPARED, comparison=found)
        out = out_by_place(self.state, runs_painted(self.state.turns))
        assert out is not None
        return out


def studio(runs: int, *, is_alike: bool = True) -> Studio:
    """Return a studio in which so many runs were painted, the lead in turn, or by Hall alone."""
    made = Studio()
    for number in range(1, runs + 1):
        made.paint(number, 2, PAIR[number % 2] if is_alike else "Hall")
    return made


@pytest.mark.parametrize(("least", "tries", "chance"), [(9, 10, 0.5), (0, 7, 0.5), (6, 6, 0.6), (640, 1200, 0.5)])
def test_the_tail_is_that_of_a_general_library(least: int, tries: int, chance: float) -> None:
    expected = binomtest(least, tries, chance, alternative="greater").pvalue
    assert at_least(least, tries, chance) == pytest.approx(expected, rel=1e-9)


def test_the_canvas_that_followed_is_out_more_often_where_it_is_in_nine_runs_of_ten() -> None:
    made = studio(20)
    for number in range(1, 11):
        lead, follow = PAIR[number % 2], PAIR[1 - number % 2]
        made.call(f"{number}-0", lead if number == 3 else follow)
    told = made.told()

    assert (told.leading, told.following, told.leads_more) == (1, 9, False)
    assert told.p == pytest.approx(binomtest(9, 10).pvalue)
    assert out_sentences(told) == ("The canvas that followed is out more often: 9 times out of 10.",)


def test_the_painters_mark_tells_which_canvas_is_out_before_the_values_do_and_a_run_counts_once() -> None:
    made = studio(8)
    for number in range(1, 9):
        lead, follow = PAIR[number % 2], PAIR[1 - number % 2]
        for own in (0, 1):
            made.call(f"{number}-{own}", follow)
            made.mark(f"{number}-{own}", lead)
    told = made.told()

    assert (told.leading, told.following, told.leads_more) == (8, 0, True)
    assert out_sentences(told) == ("The canvas that led is out more often: 8 times out of 8.",)


def test_what_is_meant_so_or_out_on_both_or_on_an_unknown_canvas_counts_not() -> None:
    made = studio(8)
    made.call("1-0", "Hall")
    made.state.meant[difference_between("eyes", "1-0", PAIR)] = AT
    made.call("2-0")
    made.call("3-0", "Hall")
    made.call("3-1", "School")
    made.call("gone", "School")
    told = made.told()

    assert (told.leading, told.following, told.p) == (0, 0, 1.0)
    assert out_sentences(told) == ()


def test_where_one_canvas_led_every_run_nothing_is_claimed() -> None:
    made = studio(40, is_alike=False)
    for number in range(1, 41):
        made.call(f"{number}-0", "Hall")
    told = made.told()

    assert (told.leading, told.p) == (40, 1.0)
    assert out_sentences(told) == ()


def test_without_a_comparison_nothing_is_told() -> None:
    assert out_by_place(JournalState(), ()) is None
    assert out_sentences(None) == ()


def claims(seed: int, *, hall_out: float, follow_out: float, runs: int, lead: str) -> bool:
    """Return whether anything is claimed of a painter.

    Args:
        seed: Decides every chance.
        hall_out: How often Hall is out of the two where the place does not matter.
        follow_out: How often it is the place that decides, for the canvas that followed.
        runs: How many runs there are.
        lead: "in turn", "by lot", or "mostly Hall".
    """
    chance = random.Random(seed)  # noqa: S311  a painter is no secret
    made = Studio()
    for number in range(1, runs + 1):
        lot = {"in turn": number % 2, "by lot": chance.random() < 0.5, "mostly Hall": chance.random() < 0.3}[lead]
        leader = PAIR[int(lot)]
        made.paint(number, 2, leader)
        if chance.random() < 0.3:
            out = PAIR[chance.random() >= hall_out]
            if chance.random() < follow_out:
                out = PAIR[1 - PAIR.index(leader)]
            made.call(f"{number}-0", out)
            if chance.random() < 0.6:  # the next passage of the run comes from the same mixture
                made.call(f"{number}-1", out)
    return bool(out_sentences(made.told()))


@pytest.mark.parametrize("lead", ["in turn", "by lot", "mostly Hall"])
@pytest.mark.parametrize("hall_out", [0.5, 0.9])
def test_of_painters_whose_place_does_not_matter_at_most_one_in_twenty_is_told_that_it_does(
    lead: str, hall_out: float
) -> None:
    said = sum(claims(seed, hall_out=hall_out, follow_out=0.0, runs=60, lead=lead) for seed in range(SIMULATED))
    assert said / SIMULATED <= 0.05


def test_painters_whose_following_canvas_is_mostly_out_are_told_so() -> None:
    said = sum(claims(seed, hall_out=0.5, follow_out=0.8, runs=60, lead="in turn") for seed in range(100))
    assert said >= 80


def test_the_fairness_report_and_its_page_say_it_too() -> None:
    made = studio(12)
    for number in range(1, 13):
        made.call(f"{number}-0", PAIR[1 - number % 2])
    made.told()
    report, runs = report_painted(made.state, None)
    said = "The canvas that followed is out more often: 12 times out of 12."

    assert said in report.sentences
    for columns, lines in ((80, 24), (200, 60)):
        page = fairness_page(report, runs, None, columns, lines)
        assert len(page) <= lines
        assert said in " ".join(line.text.strip() for line in page)
    assert all(len(fairness_page(report, runs, None, 40, lines)) <= lines for lines in range(1, 24))
