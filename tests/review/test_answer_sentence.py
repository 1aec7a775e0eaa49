"""Was it fair? The word, the sentence and the figures never contradict each other, whatever was painted."""

import re
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.review.fairness.figures import FairnessReport
from coach.review.fairness.report import all_runs, last_plan, report, report_painted
from coach.review.fairness.run_times import RunTimes
from coach.review.fairness.sentences import MOST_WORDS, answer_sentence
from coach.review.log_table import log_lines, painted_alone, total_lines
from coach.screens.log.fairness_page import answer_word
from coach.session.journal_state import JournalState, state_of
from coach.text import counted
from tests.painter import Habits, Painter
from tests.sessions import Easel
from tests.simulated_runs import THREE, TWO, Truth

NUMBERS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]
CHECKED = """
canvases: [{canvases}]
order: {order}
limits: {{press: 0 s}}
passes:
  - {{name: eyes, passages: [{{name: lid, minutes: 12}}, {{name: iris, minutes: 9}}, {{name: look, check: mirror, minutes: 2}}]}}
  - {{name: nose, passages: [{{name: wing, minutes: 31}}, {{name: tip, minutes: 22}}, {{name: far, check: step back}}]}}
  - {{name: mouth, passages: [{{name: seam, minutes: 14}}, {{name: lower lip, minutes: 18}}]}}
"""  # noqa: E501  plan text


def minutes_said(sentence: str) -> float:
    """Return the minutes that the leads lie apart by the sentence."""
    if "the same minutes" in sentence or "less than a minute" in sentence:
        return 0
    found = re.search(r"(\w+) minutes? (?:apart|more)", sentence)
    assert found is not None, sentence
    return NUMBERS.index(found[1]) if found[1] in NUMBERS else int(found[1])


def assert_agrees(told: FairnessReport, runs: tuple[RunTimes, ...]) -> None:
    """Check word, sentence and figures by adding the runs up again."""
    word, sentence = answer_word(told), answer_sentence(told)
    shared = [run for run in runs if len(run.order) > 1]
    assert len(sentence.split()) <= MOST_WORDS
    if not shared:
        assert word in {"NOT YET", "NO LEADS"}
        assert sentence.startswith("Nothing ")
        return
    assert told.balance is not None
    assert told.sentences[0].startswith(f"Fair: {word.lower()}. {sentence}")
    assert len([said for said in told.sentences if said.startswith("Fair")]) == 1
    led = {share.canvas: sum(run.mean_min for run in shared if run.order[0] == share.canvas) for share in told.canvases}
    is_even = all(len(run.order) == len(told.canvases) for run in shared)
    apart_min = max(led.values()) - min(led.values())
    # Runs weigh whole seconds there.
    rounding_min = 0.5 * len(shared) / 60
    if is_even:
        assert minutes_said(sentence) == pytest.approx(apart_min, abs=0.51 + 2 * rounding_min)
    apart_frac = apart_min / sum(led.values())
    if "the least possible" in sentence:
        assert word == "YES"
    elif is_even:
        slack = rounding_min / sum(led.values()) + 0.0001
        assert word == "YES" or apart_frac > 0.02 - slack
        assert word != "YES" or apart_frac <= 0.02 + slack
        assert (word == "NO") == (apart_frac > 0.05) or abs(apart_frac - 0.05) <= slack
    if (more := re.match(r"(\w+) led .* more than (\w+)", sentence)) and is_even:
        assert word != "YES"
        assert led[more[1]] > led[more[2]] - rounding_min
    if counts := re.match(r"(\w+) led (\d+) times?((?:, \w+ \d+)*):", sentence):
        said = {counts[1]: int(counts[2])} | {
            name: int(number) for name, number in re.findall(r", (\w+) (\d+)", counts[3])
        }
        assert said == {share.canvas: share.leads for share in told.canvases}
    if "the same minutes" in sentence:
        assert apart_min < 1


@given(
    st.sampled_from([TWO, THREE, tuple("ABCDE"), tuple("ABCDEFGHIJKL")]),
    st.integers(1, 40),
    st.sampled_from([1, 2, 3, 1000]),
    st.floats(0.001, 20),
    st.integers(0, 9999),
)
@settings(max_examples=80, deadline=None)
def test_word_sentence_and_figures_agree_on_any_runs(
    names: tuple[str, ...], count: int, every: int, size: float, seed: int
) -> None:
    truth = Truth(canvases=names, runs=count, lead=lambda no: no // every)
    runs = tuple(
        RunTimes(
            pass_name=run.pass_name,
            run_no=run.run_no,
            order=run.order,
            minutes=tuple(minutes * size for minutes in run.minutes),
            planned_min=run.planned_min,
        )
        for run in truth.painted(seed)
    )
    assert_agrees(report(runs, to_come=0, canvases=names), runs)


@given(
    st.sampled_from(["Hall, School", "North, Harbour, Mill", "Hall"]),
    st.sampled_from(["even turns", "there and back", "always the same", "by lot"]),
    st.integers(1, 25),
    st.sampled_from([0.0, 0.3, 1.0]),
    st.integers(0, 999),
)
@settings(max_examples=40, deadline=None)
def test_word_sentence_figures_and_log_agree_on_simulated_journals_and_checks_lead_nothing(
    canvases: str, order: str, turns: int, slips: float, seed: int
) -> None:
    easel = Easel(CHECKED.format(canvases=canvases, order=order))
    Painter(easel.session, easel.clock, Habits(seed=seed, slip_frac=slips)).paint(turns)
    painted = state_of(easel.journal.after(0))
    told, runs = report_painted(painted, None)

    assert_agrees(told, runs)
    assert not {run.run_no for run in runs if run.pass_name == "eyes"} & {
        record.turn.run for record in painted.turns if record.turn.check and record.turn.pass_name == "eyes"
    }
    assert_log_agrees(painted, told)


def assert_log_agrees(painted: JournalState, told: FairnessReport) -> None:
    """Check that the rows of the log, its totals and the figures count the same leads."""
    plan = last_plan(painted)
    runs = all_runs(painted, plan)
    lines = log_lines(painted, painted.turns, painted_alone(painted, runs, plan), 200)
    rows = [line.text.split() for line in lines if not line.is_head]
    leads = Counter(row[1] for row in rows if row[2] == "led")
    pending = {run.order[0] for run in runs if len(run.order) == 1}
    for share in told.canvases:
        # A run that waits for its follower is led already, and counted once it is painted on two canvases.
        assert leads[share.canvas] - share.leads in ({0, 1} if share.canvas in pending else {0})
    assert sum(row[2] == "check" for row in rows) == sum(bool(record.turn.check) for record in painted.turns)
    (led,) = [line for line in total_lines(painted, painted.turns, runs) if line.startswith("Led: ")] or [""]
    if told.compared_runs:
        assert led.endswith(f" of {counted(told.compared_runs, 'run')}.")
        assert all(f"{share.canvas} {share.leads}" in led for share in told.canvases if share.leads)


def test_long_names_give_way_to_a_shorter_sentence() -> None:
    names = ("The hall of the old observatory", "The school by the river at Nether Field")
    fair = report(Truth(canvases=names, runs=40, noise=0, run_noise=0).painted(3), to_come=0)
    unfair = report(Truth(canvases=names, runs=9, lead=lambda _: 0).painted(3), to_come=0)

    assert answer_sentence(fair).startswith("The leads are ") or "All led" in answer_sentence(fair)
    assert re.fullmatch(r"The leads are \d+ minutes apart in \w+ hours\.", answer_sentence(unfair))


def test_many_canvases_are_not_named_one_by_one() -> None:
    runs = Truth(canvases=tuple("ABCDEFGHIJKL"), runs=24, lead=lambda no: no, noise=0, run_noise=0).painted(3)
    even = tuple(
        RunTimes(pass_name="eyes", run_no=no, order=run.order, minutes=(10.0,) * 12, planned_min=10)
        for no, run in enumerate(runs)
    )

    assert answer_sentence(report(even, to_come=0)) == "Each led 2 of 24 times: the same minutes."
