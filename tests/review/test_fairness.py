"""The fairness review on simulated painters whose gains are known, and at its edges."""

import json
from collections.abc import Callable, Mapping, Sequence
from math import exp, log, log2
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.review.fairness.canvas_sentences import canvas_sentences
from coach.review.fairness.fair_review import review_fairness
from coach.review.fairness.fairness_figures import Fairness
from coach.review.fairness.fairness_plain import fairness_as_plain
from coach.review.fairness.place_fit import centred_logs, is_told_apart, place_fit
from coach.review.fairness.run_times import RunTimes
from coach.review.fairness.verdict import Verdict, verdict

TWO = ("Hall", "School")
THREE = ("North", "Harbour", "Mill")


def simulated(
    canvases: tuple[str, ...],
    runs: int,
    *,
    gain_frac: float = 0.12,
    spread: float = 0.08,
    slower: Mapping[str, float] | None = None,
    rate_frac: float = 1.0,
    lead: Callable[[int], int] = lambda i: i,
    passes: Sequence[str] = ("eyes",),
    seed: int = 11,
) -> tuple[RunTimes, ...]:
    """Return the runs of a painter who gains a known fraction on every following turn."""
    chance = Random(seed)  # noqa: S311 - repeatable data
    found = []
    for i in range(runs):
        turn = lead(i) % len(canvases)
        order = canvases[turn:] + canvases[:turn]
        planned_min = chance.uniform(5, 40)
        minutes = tuple(
            planned_min
            * (i + 1) ** log2(rate_frac)
            * (1 - gain_frac if place else 1)
            * (slower or {}).get(canvas, 1.0)
            * exp(chance.gauss(0, spread))
            for place, canvas in enumerate(order)
        )
        found.append(
            RunTimes(
                pass_name=passes[i * len(passes) // runs],
                run_no=i + 1,
                order=order,
                minutes=minutes,
                planned_min=planned_min,
            )
        )
    return tuple(found)


def one_run(order: tuple[str, ...] = TWO, minutes: tuple[float, ...] = (10.0, 9.0), run_no: int = 1) -> RunTimes:
    return RunTimes(pass_name="eyes", run_no=run_no, order=order, minutes=minutes, planned_min=10)


def test_gain_of_going_second_without_scatter() -> None:
    """12 % saved, exactly; leads shared 19 and 19, so the help was equal."""
    fairness = review_fairness(simulated(TWO, 38, spread=0.0))

    assert fairness.follow is not None
    assert fairness.follow.ends is not None
    assert fairness.follow.ratio_frac == pytest.approx(0.88, abs=1e-12)
    assert fairness.follow.ends.low_frac == pytest.approx(0.88, abs=1e-12)
    assert fairness.follow.sign_flip.p == 1 / 10_001
    assert fairness.sentences[0] == (
        "Going second saved about 12 % (12 to 12 %); Hall and School had that help equally (19 and 19 times)."
    )
    assert fairness.sentences[1] == "Hall and School took the same time to within 5 %, the order allowed for."


def test_intervals_hold_the_truth_as_often_as_they_claim() -> None:
    """Of 200 painters about 190 truths lie inside each 95 % interval; 179 is 4 standard errors below."""
    inside = {"follow": 0, "canvas": 0, "practice": 0}
    for seed in range(200):
        fairness = review_fairness(simulated(TWO, 21, spread=0.15, slower={"School": 1.05}, rate_frac=0.93, seed=seed))
        assert fairness.follow is not None
        assert fairness.allowed is not None
        intervals = {
            "follow": (fairness.follow.ends, 0.88),
            "canvas": (fairness.allowed.canvases[0].ends, 1.05),
            "practice": (fairness.practice.ends, 0.93),
        }
        for name, (ends, truth) in intervals.items():
            assert ends is not None
            inside[name] += ends.low_frac <= truth <= ends.high_frac

    assert min(inside.values()) >= 179
    assert max(inside.values()) < 200


def test_slower_canvas_is_not_mistaken_for_a_gain() -> None:
    """Hall led 30 of 40 runs, School is 20 % slower: only the analysis that allows for it finds the 12 %."""
    runs = simulated(TWO, 40, spread=0.0, slower={"School": 1.2}, lead=lambda i: int(i % 4 == 0))

    fairness = review_fairness(runs, canvases=TWO)

    assert fairness.follow is not None
    assert fairness.allowed is not None
    assert fairness.follow.ratio_frac > 1
    assert fairness.allowed.follow_ratio_frac == pytest.approx(0.88, abs=1e-12)
    assert fairness.allowed.canvases[0].ratio_frac == pytest.approx(1.2, abs=1e-12)
    assert fairness.sentences[:2] == (
        (
            "With the canvases allowed for, going second saved about 12 % (12 to 12 %); "
            "Hall and School had that help unequally (10 and 30 times)."
        ),
        "School took about 20 % more time than Hall, the order allowed for (20 to 20 %).",
    )


def test_the_slower_of_two_canvases_is_named() -> None:
    fairness = review_fairness(simulated(TWO, 40, slower={"Hall": 3.0}), canvases=TWO)

    assert fairness.sentences[1].startswith("Hall took about 2.98 ")
    assert "times the time of School" in fairness.sentences[1]


def test_burden_of_going_second() -> None:
    assert review_fairness(simulated(TWO, 38, gain_frac=-0.3)).sentences[0].startswith("Going second took about 3")
    assert (
        "had that burden equally (19 and 19 times)" in review_fairness(simulated(TWO, 38, gain_frac=-1.5)).sentences[0]
    )


def test_too_few_runs_say_how_many_more() -> None:
    for done in range(1, 6):
        sentences = review_fairness(simulated(TWO, done)).sentences
        assert f"painted on every canvas, {6 - done} more needed." in sentences[0]
        assert sentences[-1] == f"Too few runs to tell what practice did: {6 - done} more needed."
    assert "saved" in review_fairness(simulated(TWO, 6, spread=0.001)).sentences[0]


def test_wide_interval_says_how_many_more() -> None:
    """Spread of the difference about 0.3 * sqrt(2): (1.96 * 0.424 / ln 1.05)^2 = 290 runs in all."""
    fairness = review_fairness(simulated(TWO, 60, gain_frac=0.0, spread=0.3, seed=4))

    assert fairness.follow is not None
    assert 200 < fairness.follow.runs_needed < 400
    assert "made no clear difference (from " in fairness.sentences[0]
    assert "more runs would tell to within 5 %." in fairness.sentences[0]
    assert fairness.sentences[1].startswith("No clear difference between Hall and School")


def test_as_many_runs_as_asked_for_do_tell() -> None:
    """The estimate keeps its word: with the runs it asks for, the interval is within 5 % either way."""
    few = review_fairness(simulated(TWO, 30, gain_frac=0.0, spread=0.15, seed=2)).follow
    assert few is not None

    many = review_fairness(simulated(TWO, few.runs_needed, gain_frac=0.0, spread=0.15, seed=3)).follow

    assert many is not None
    assert many.ends is not None
    assert log(many.ends.high_frac / many.ends.low_frac) / 2 == pytest.approx(log(1.05), rel=0.35)


def test_no_difference_worth_naming() -> None:
    sentences = review_fairness(simulated(TWO, 38, gain_frac=0.0, spread=0.02)).sentences

    assert sentences[0] == (
        "Going second made no difference worth naming: less than 5 % either way. "
        "Hall and School went second equally (19 and 19 times)."
    )


def test_canvas_that_led_everything() -> None:
    fairness = review_fairness(simulated(TWO, 20, lead=lambda _: 0))

    assert not fairness.is_told_apart
    assert fairness.allowed is None
    assert (
        "Hall led every run, so place and canvas cannot be told apart until School leads too."
        in (fairness.sentences[0])
    )


def test_canvas_that_led_everything_among_three() -> None:
    sentences = review_fairness(simulated(THREE, 20, lead=lambda _: 0)).sentences

    assert sentences[0] == ("North led every run, so place and canvas cannot be told apart until another canvas leads.")


def test_canvases_that_never_change_places_with_the_others() -> None:
    """A and B share the first two places, C and D the last two: the halves have no place in common."""
    orders = [("A", "B", "C", "D"), ("B", "A", "D", "C")] * 4
    runs = [one_run(order, (10.0, 9.0, 8.0, 8.0)) for order in orders]

    assert not is_told_apart(runs)
    assert review_fairness(runs).sentences[0] == (
        "Some canvases never changed places with the others, so place and canvas cannot be told apart."
    )


def test_three_canvases_without_scatter() -> None:
    """Gain and canvas differences come back exactly, also where the leads are uneven."""
    for lead in (lambda i: i, lambda i: (0, 0, 0, 1, 2)[i % 5]):
        runs = simulated(THREE, 30, spread=0.0, slower={"Mill": 1.1}, lead=lead)
        fairness = review_fairness(runs, canvases=THREE)
        assert fairness.allowed is not None
        assert fairness.allowed.follow_ratio_frac == pytest.approx(0.88, abs=1e-9)
        ratios = {one.canvas: one.ratio_frac for one in fairness.allowed.canvases}
        assert ratios["Mill"] / ratios["North"] == pytest.approx(1.1, abs=1e-9)
        assert ratios["North"] == pytest.approx(1.1 ** (-1 / 3), abs=1e-9)
        assert "saved about 12 %" in fairness.sentences[0]


def test_hundreds_of_runs_on_three_canvases() -> None:
    """Mill at 5 % more than the others lies 1.05^(2/3) = 1.033 above the mean of its runs."""
    fairness = review_fairness(simulated(THREE, 600, slower={"Mill": 1.05}), canvases=THREE)

    assert fairness.allowed is not None
    mill = fairness.allowed.canvases[2]
    assert mill.ends is not None
    assert mill.ends.low_frac < 1.05 ** (2 / 3) < mill.ends.high_frac
    assert any(sentence.startswith("Mill took about 3 % more time") for sentence in fairness.sentences)


def test_canvases_without_figures_have_no_sentence_and_no_verdict() -> None:
    assert canvas_sentences(review_fairness(simulated(TWO, 2))) == []
    assert verdict(None) is Verdict.OPEN


def test_place_fit_equals_the_plain_means_where_places_are_balanced() -> None:
    runs = simulated(THREE, 30, slower={"Mill": 1.1})
    by_place = zip(*(centred_logs(run) for run in runs), strict=True)

    fit = place_fit(runs, THREE)

    assert list(fit.place_logs) == pytest.approx([sum(values) / 30 for values in by_place], abs=1e-12)
    assert sum(fit.canvas_logs) == pytest.approx(0, abs=1e-12)


def test_one_canvas_has_minutes_and_practice_only() -> None:
    fairness = review_fairness(simulated(("Hall",), 12, spread=0.0, rate_frac=0.9))

    assert (fairness.compared_runs, fairness.left_out_runs, fairness.follow) == (0, 0, None)
    assert len(fairness.sentences) == 2
    assert fairness.sentences[0].startswith("Minutes painted: Hall ")
    assert fairness.sentences[1] == ("Practice over all runs: each doubling of the runs saved about 10 % (10 to 10 %).")


def test_runs_lacking_a_canvas_are_left_out_and_counted() -> None:
    lone = one_run(("Hall",), (30.0,), 9)

    fairness = review_fairness([*simulated(TWO, 8), lone])

    assert (fairness.runs, fairness.compared_runs, fairness.left_out_runs) == (9, 8, 1)
    assert [share.turns for share in fairness.canvases] == [9, 8]
    assert "Left out of the comparison, because a canvas is lacking: 1 run." in fairness.sentences
    assert fairness.follow == review_fairness(simulated(TWO, 8)).follow


def test_practice_by_pass() -> None:
    passes = ["eyes"] * 7 + ["nose"] * 4 + ["mouth"]

    fairness = review_fairness(simulated(TWO, 12, rate_frac=0.9, spread=0.0, passes=passes))

    found = [(own.pass_name, own.runs) for own in fairness.practice_by_pass]
    assert found == [("eyes", 7), ("nose", 4), ("mouth", 1)]
    assert fairness.practice_by_pass[0].rate_frac == pytest.approx(0.9, abs=1e-12)
    assert fairness.practice_by_pass[1].rate_frac is None
    assert fairness.sentences[-1] == ("Too few runs to tell what practice did in nose (2 more) and mouth (5 more).")


def test_nothing_painted() -> None:
    assert review_fairness(()).sentences == ("No run has been painted yet.",)
    assert review_fairness((), canvases=TWO).follow is None
    json.dumps(fairness_as_plain(review_fairness(())), allow_nan=False)


@pytest.mark.parametrize("names", [TWO, THREE, ("Hall",), tuple("ABCDEFGHIJKL")])
@pytest.mark.parametrize("runs", [1, 2, 3, 7, 25])
def test_plain_data_is_json(names: tuple[str, ...], runs: int) -> None:
    fairness = review_fairness(simulated(names, runs, passes=("eyes", "nose")))

    plain = fairness_as_plain(fairness)

    assert json.loads(json.dumps(plain, allow_nan=False)) == plain
    assert plain["sentences"] == list(fairness.sentences)


def test_plain_keys() -> None:
    plain = fairness_as_plain(review_fairness(simulated(TWO, 8)))

    assert list(plain) == [
        "runs",
        "compared_runs",
        "left_out_runs",
        "canvases",
        "place_and_canvas_told_apart",
        "follow",
        "follow_with_canvases_allowed_for",
        "canvas_differences",
        "practice",
        "practice_by_pass",
        "sentences",
    ]


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.tuples(st.booleans(), st.floats(1e-9, 1e9), st.floats(1e-9, 1e9), st.floats(1e-9, 1e9)),
        min_size=1,
        max_size=30,
    )
)
def test_any_minutes_give_an_answer(turns: list[tuple[bool, float, float, float]]) -> None:
    runs = [
        RunTimes(
            pass_name="eyes" if i % 2 else "nose",
            run_no=i + 1,
            order=TWO if hall else TWO[::-1],
            minutes=(first, second),
            planned_min=planned_min,
        )
        for i, (hall, first, second, planned_min) in enumerate(turns)
    ]

    fairness = review_fairness(runs, canvases=TWO)

    json.dumps(fairness_as_plain(fairness), allow_nan=False)
    assert fairness == review_fairness(runs, canvases=TWO)
    assert sum(share.leads for share in fairness.canvases) == len(runs)


@settings(max_examples=15, deadline=None)
@given(st.integers(6, 24), st.floats(0.01, 100), st.integers(0, 99))
def test_unit_of_time_and_names_do_not_matter(runs: int, factor: float, seed: int) -> None:
    """Minutes or hours, Hall or School: the ratios stay or turn over."""
    painted = simulated(TWO, runs, slower={"School": 1.1}, seed=seed)
    scaled = review_fairness([_scaled(run, factor) for run in painted], canvases=TWO)
    plain = review_fairness(painted, canvases=TWO)
    swapped = review_fairness(painted, canvases=TWO[::-1])

    assert _ratio(scaled) == pytest.approx(_ratio(plain), rel=1e-9)
    assert _canvas_ratio(scaled) == pytest.approx(_canvas_ratio(plain), rel=1e-9)
    assert _canvas_ratio(swapped) == pytest.approx(1 / _canvas_ratio(plain), rel=1e-9)


def _scaled(run: RunTimes, factor: float) -> RunTimes:
    return RunTimes(
        pass_name=run.pass_name,
        run_no=run.run_no,
        order=run.order,
        minutes=tuple(minutes * factor for minutes in run.minutes),
        planned_min=run.planned_min * factor,
    )


def _ratio(fairness: Fairness) -> float:
    assert fairness.follow is not None
    return fairness.follow.ratio_frac


def _canvas_ratio(fairness: Fairness) -> float:
    assert fairness.allowed is not None
    return fairness.allowed.canvases[0].ratio_frac


def test_ten_thousand_runs() -> None:
    fairness = review_fairness(simulated(TWO, 10_000, spread=0.2))

    assert _ratio(fairness) == pytest.approx(0.88, abs=0.01)
    assert "(5000 and 5000 times)" in fairness.sentences[0]


def test_names_stand_as_they_are() -> None:
    """A name is data: nothing in it is read as markup or as a format."""
    names = ("[red]{0}%s", "School")

    assert "[red]{0}%s" in review_fairness(simulated(names, 8)).sentences[0]
