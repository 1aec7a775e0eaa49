"""The fairness report on simulated painters whose gains are known, and at its edges."""

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.json_values import json_value
from coach.review.fairness.figures import FairnessReport
from coach.review.fairness.report import report
from coach.review.fairness.sentences import plan_can_tell
from tests.bench.review_bench import false_sentences, falsehoods
from tests.simulated_runs import THREE, TWO, Truth, led, one_run


def told(truth: Truth, *, seed: int = 11, to_come: int | None = 0) -> FairnessReport:
    return report(truth.painted(seed), to_come=to_come)


def starting(said: FairnessReport, words: str) -> str:
    """Return the one sentence that starts with these words."""
    (found,) = [sentence for sentence in said.sentences if sentence.startswith(words)]
    return found


def test_gain_of_going_second_and_what_it_spared() -> None:
    """12 % saved exactly; each canvas followed in half of the minutes."""
    found = told(Truth(runs=40, follow_frac=0.88, noise=0))

    assert found.follow is not None
    assert found.follow.ratio_frac == pytest.approx(0.88, abs=1e-9)
    assert found.follow == replace(found.follow, confidence_frac=0.95, runs=40)
    true = [
        sum(
            r.minutes[1] / 0.88 * 0.12 for r in Truth(runs=40, follow_frac=0.88, noise=0).painted(11) if r.order[1] == c
        )
        for c in TWO
    ]
    assert [share.minutes_spared for share in found.canvases] == pytest.approx(true)
    spared = f"Hall about {true[0]:.0f} min and School about {true[1]:.0f} min"
    assert f"Going second saved about 12 % of the time (12 to 12 %); that spared {spared}." in found.sentences


def test_who_led_more_was_spared_less() -> None:
    found = told(Truth(runs=30, follow_frac=0.8, slower={"School": 2.0}, lead=lambda no: int(no % 3 == 0)))
    hall, school = sorted(found.canvases, key=lambda share: share.canvas)

    assert (hall.canvas, hall.leads, school.leads) == ("Hall", 20, 10)
    assert hall.minutes_led > school.minutes_led
    assert (hall.minutes_spared or 0) < (school.minutes_spared or 0)
    assert found.sentences[0].startswith("Fair: no. Hall led ")


def test_a_lead_of_seconds_is_not_called_the_same_minutes() -> None:
    said = report(led({"School": [0.2], "Hall": []}), to_come=None).sentences[0]
    assert said == "Fair: yes. School led first: less than a minute apart, the least possible."


def test_burden_of_going_second() -> None:
    assert starting(told(Truth(runs=40, follow_frac=1.3)), "Going second took about 2").count(" cost Hall about ") == 1
    assert "times the time" in starting(told(Truth(runs=40, follow_frac=2.5)), "Going second took about 2.")


def test_a_slower_canvas_is_not_mistaken_for_a_gain() -> None:
    """Hall led 30 of 40 runs, School is 20 % slower: following still saved 12 %."""
    found = told(Truth(runs=40, noise=0, follow_frac=0.88, slower={"School": 1.2}, lead=lambda i: int(i % 4 == 0)))

    assert found.follow is not None
    assert found.follow.ratio_frac == pytest.approx(0.88, abs=1e-9)
    assert starting(found, "School took") == "School took about 20 % more time than Hall, whoever led (20 to 20 %)."


def test_the_slower_canvas_is_named() -> None:
    assert "times the time of School" in starting(told(Truth(runs=40, slower={"Hall": 3.0})), "Hall took about 3")
    assert (
        starting(told(Truth(canvases=THREE, runs=40, slower={"Mill": 1.5})), "Mill took")
        .split(", whoever")[0]
        .endswith("more time than the canvases together")
    )


def test_no_difference_worth_naming() -> None:
    found = told(Truth(runs=40, noise=0.02, run_noise=0.02), seed=3)

    assert "Going second made no difference to speak of: less than 5 % either way." in found.sentences
    assert "Hall and School took the same time, give or take 5 %, whoever led." in found.sentences
    assert (
        "Practice: each time you had painted twice as many runs, a run took the same time, give or take 5 %."
        in found.sentences
    )


def test_what_is_open_says_whether_the_runs_to_come_will_tell() -> None:
    truth = Truth(noise=0.2)

    assert "to come will tell." in starting(
        told(truth, to_come=400), "Whether going second saves time cannot be told yet: "
    )
    assert "the 3 runs to come will hardly be enough" in starting(told(truth, to_come=3), "Whether going second")
    assert " more runs would tell." in starting(told(truth, to_come=None), "Whether going second")


@pytest.mark.parametrize("runs", [1, 5, 6, 30])
def test_after_the_last_turn_nothing_speaks_of_runs_still_needed(runs: int) -> None:
    said = " ".join(told(Truth(runs=runs, noise=0.3, run_noise=0.4), to_come=0).sentences)

    assert not any(word in said for word in ("to come", "would tell", "will tell", "needed", "yet", "too early"))


def test_as_many_runs_as_asked_for_do_tell() -> None:
    """The estimate keeps its word: with the runs it asks for, the interval is within 5 % either way."""
    few = told(Truth(runs=30, noise=0.15)).follow
    assert few is not None

    many = told(Truth(runs=few.runs_needed, noise=0.15), seed=3).follow

    assert many is not None
    assert many.high_frac is not None
    assert many.low_frac is not None
    assert (many.high_frac / many.low_frac) ** 0.5 - 1 == pytest.approx(0.05, rel=0.35)


@pytest.mark.parametrize(
    ("runs", "steady", "uneven"), [(10, "11 %", "23 %"), (20, "7 %", "14 %"), (40, "5 %", "9 %"), (80, "3 %", "6 %")]
)
def test_what_a_plan_can_tell_before_painting(runs: int, steady: str, uneven: str) -> None:
    """facts/order.md part 0, 7 (noise 0.1 and 0.2): simulated there, a formula here, so a point apart is allowed."""
    (said,) = plan_can_tell(runs, 2)
    figures = [int(word) for word in said.removesuffix(".").replace(",", "").split() if word.isdigit()]

    assert figures[0] == runs
    assert figures[1:] == pytest.approx([int(steady[:-2]), int(uneven[:-2])], abs=1)
    assert plan_can_tell(4, 2) == ("4 runs will be too few to tell what going second is worth.",)
    assert plan_can_tell(runs, 1) == ()


def test_a_canvas_that_led_everything() -> None:
    found = told(Truth(lead=lambda _: 0))

    assert not found.place_and_canvas_told_apart
    assert found.follow_with_canvases_allowed_for is None
    assert found.sentences[1].endswith(
        "but Hall led every run: whether that is the place or the canvas cannot be told."
    )
    assert told(Truth(canvases=THREE, lead=lambda _: 0)).sentences[1].startswith("North led every run, so")


def test_canvases_that_never_change_places_with_the_others() -> None:
    """A and B share the first two places, C and D the last two: the halves have no place in common."""
    runs = [one_run(order, (10.0, 9.0, 8.0, 8.0)) for order in [("A", "B", "C", "D"), ("B", "A", "D", "C")] * 4]

    assert report(runs, to_come=None).sentences[1].startswith("Some canvases never changed places with the others")


def test_one_canvas_has_minutes_and_practice_only() -> None:
    found = told(Truth(canvases=("Hall",), runs=24, noise=0, run_noise=0, rate_frac=0.9))

    assert (found.compared_runs, found.left_out_runs, found.follow) == (0, 0, None)
    assert (
        found.sentences[0]
        == "Practice: each time you had painted twice as many runs, a run took about 10 % less time (10 to 10 %)."
    )
    assert len(found.sentences) == 3


def test_runs_on_one_canvas_only_are_left_out_and_counted() -> None:
    found = report([*Truth(runs=8).painted(1), one_run(("Hall",), (30.0,), "mouth")], to_come=0)

    assert (found.runs, found.compared_runs, found.left_out_runs) == (9, 8, 1)
    assert "Painted alone, so not compared: 1 turn." in found.sentences
    assert report([one_run(("Hall",)[:1], (5.0,)), one_run(("School",), (5.0,))], to_come=0).sentences[0] == (
        "Nothing is painted on two canvases, so no canvas has led."
    )


def test_a_canvas_that_was_painted_alone_keeps_nothing_from_being_told_of_the_others() -> None:
    together = Truth(runs=30, noise=0, follow_frac=0.9).painted(1)

    found = report([*together, one_run(("Attic",), (30.0,), "mouth")], to_come=0, canvases=("Attic", *TWO))

    assert found.follow_with_canvases_allowed_for is not None
    assert found.follow_with_canvases_allowed_for.ratio_frac == pytest.approx(0.9)
    assert [(one.canvas, one.against) for one in found.canvas_differences] == [("School", "Hall")]


def test_return_marks_are_told_where_there_are_enough() -> None:
    def marked(places: list[int]) -> FairnessReport:
        orders = [TWO, TWO[::-1]] * len(places)
        return report(
            [replace(one_run(o), marked=frozenset({o[k]})) for o, k in zip(orders, places, strict=False)], to_come=0
        )

    assert starting(marked([0] * 9 + [1]), "Return").endswith("fell more often on a canvas that led: in 9 of 10 runs.")
    assert starting(marked([1] * 6), "Return").endswith("on a canvas that followed: in 6 of 6 runs.")
    assert "3 on canvases that led, 4 on canvases that followed; no clear difference" in starting(
        marked([0] * 3 + [1] * 4), "Return"
    )
    assert not [said for said in marked([0] * 5).sentences if said.startswith("Return")]


def test_what_happened_on_the_way() -> None:
    runs = [
        *led({"Hall": [10] * 4, "School": []}),
        *(replace(run, pass_name="nose") for run in led({"School": [10] * 4, "Hall": []})),
    ]

    said = report(runs, to_come=0).sentences

    assert "Fair: yes. Hall led 4 times, School 4: the same minutes." in said
    assert "Pass by pass the lead was uneven: eyes (Hall 40 minutes more) and nose (School 40 minutes more)." in said
    assert "School led 4 times on end." in said


def test_nothing_painted() -> None:
    assert report((), to_come=None).sentences == ("Nothing has been painted yet.",)
    assert (
        report((), to_come=30, canvases=TWO).sentences[1].startswith("Its 30 runs will tell what going second is worth")
    )


@pytest.mark.parametrize("names", [TWO, THREE, ("Hall",), tuple("ABCDEFGHIJKL")])
@pytest.mark.parametrize("runs", [1, 2, 3, 7, 25])
def test_the_report_is_json(names: tuple[str, ...], runs: int) -> None:
    found = told(Truth(canvases=names, runs=runs))

    plain = json_value(found)

    assert json.loads(json.dumps(plain, allow_nan=False)) == plain


def test_the_keys_of_old_stand() -> None:
    plain = json.loads(json.dumps(json_value(told(Truth(runs=8)))))
    ends = {"low_frac", "high_frac", "runs_needed"}

    assert plain.keys() > {
        "runs",
        "compared_runs",
        "left_out_runs",
        "canvases",
        "place_and_canvas_told_apart",
        "sentences",
    }
    assert plain["canvases"][0].keys() > {"canvas", "turns", "minutes", "leads", "follows"}
    assert plain["follow"].keys() > ends | {"runs", "ratio_frac", "confidence_frac", "sign_flip_p", "sign_flip_exact"}
    assert plain["follow_with_canvases_allowed_for"].keys() == ends | {"ratio_frac"}
    assert plain["canvas_differences"][0].keys() >= ends | {
        "canvas", "against", "ratio_frac", "p", "rank_ratio_frac", "rank_p", "relabelling_p",
    }  # fmt: skip
    assert plain["practice"].keys() == ends | {"runs", "rate_frac"}
    assert plain["practice_by_pass"][0].keys() == ends | {"pass", "runs", "rate_frac"}


@settings(max_examples=25)
@given(
    st.lists(
        st.tuples(st.booleans(), st.floats(1e-9, 1e9), st.floats(1e-9, 1e9), st.floats(1e-9, 1e9)),
        min_size=1,
        max_size=30,
    )
)
def test_any_minutes_give_an_answer(turns: list[tuple[bool, float, float, float]]) -> None:
    runs = [
        replace(one_run(TWO if hall else TWO[::-1], (first, second), "eyes" if i % 2 else "nose"), planned_min=planned)
        for i, (hall, first, second, planned) in enumerate(turns)
    ]

    found = report(runs, to_come=4)

    json.dumps(json_value(found), allow_nan=False)
    assert found == report(runs, to_come=4)
    assert sum(share.leads for share in found.canvases) == len(runs)


@settings(max_examples=15)
@given(st.integers(6, 24), st.floats(0.01, 100), st.integers(0, 99))
def test_unit_of_time_and_names_do_not_matter(count: int, factor: float, seed: int) -> None:
    """Minutes or hours, Hall or School: the ratios stay or turn over."""
    runs = Truth(runs=count, slower={"School": 1.1}).painted(seed)
    turned = {"Hall": "School", "School": "Hall"}
    scaled = [
        replace(r, minutes=tuple(m * factor for m in r.minutes), planned_min=r.planned_min * factor) for r in runs
    ]
    swapped = [replace(r, order=tuple(turned[name] for name in r.order)) for r in runs]
    plain, other, names = (report(own, to_come=0) for own in (runs, scaled, swapped))

    assert plain.follow is not None
    assert other.follow is not None
    assert other.follow.ratio_frac == pytest.approx(plain.follow.ratio_frac, rel=1e-6)
    assert other.canvas_differences[0].ratio_frac == pytest.approx(plain.canvas_differences[0].ratio_frac, rel=1e-6)
    assert [one.canvas for one in names.canvas_differences] == ["Hall"]
    assert names.canvas_differences[0].ratio_frac == pytest.approx(plain.canvas_differences[0].ratio_frac, rel=1e-6)


def test_names_stand_as_they_are() -> None:
    """A name is data: nothing in it is read as markup or as a format."""
    assert "[red]{0}%s" in told(Truth(canvases=("[red]{0}%s", "School"), runs=8)).sentences[0]


def test_import_loads_no_numeric_library() -> None:
    code = "import sys, coach.review.fairness.report; sys.exit(bool({'numpy', 'scipy'} & set(sys.modules)))"

    assert subprocess.run([sys.executable, "-c", code], cwd=Path(__file__).parents[2], check=False).returncode == 0


def test_the_sentences_of_simulated_works_are_true_as_often_as_they_say() -> None:
    """Of 80 works at most 9 may hold a false sentence on a subject that is false once in twenty (3 standard errors)."""
    found = false_sentences(80, seed=4)

    assert found.pop("fairness") == 0
    assert found.pop("one against another") == 0
    assert max(found.values()) <= 9 / 80


def test_the_reader_of_sentences_sees_a_false_one() -> None:
    """A sentence told of a painter who has other habits is called false; else the count above could not fail."""
    truth = Truth(runs=40, noise=0.05, run_noise=0.05, follow_frac=0.85, slower={"School": 1.3}, rate_frac=0.9)
    runs = truth.painted(1)
    other = Truth(slower={"School": 1.0})
    found = told(truth, seed=1)

    assert falsehoods(found, truth, runs) == set()
    assert falsehoods(found, other, runs) == {"place", "canvas", "practice"}
    wrong = replace(
        found, sentences=("Fair: nearly. ...", "Return marks fell more often on a canvas that led: in 7 of 7.")
    )
    assert falsehoods(wrong, truth, led({"Hall": [20, 20], "School": []})) == {"fairness", "marks"}
