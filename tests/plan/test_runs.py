"""Runs gather the passages that meet wet; figures of a run come from its passages."""

import datetime as dt

from hypothesis import given
from hypothesis import strategies as st

from coach.plan.commission import DEFAULT_PLANNED_S, Canvas, Mixture, Passage, Plan, pass_words, runs_of


@st.composite
def _passages(draw: st.DrawFn) -> tuple[Passage, ...]:
    """Draw passages of which each stands alone or beside any earlier one."""
    besides = [draw(st.none() | st.integers(0, n - 1)) if n else None for n in range(draw(st.integers(1, 25)))]
    return tuple(
        Passage(name=f"p{n}", beside=None if beside is None else f"p{beside}") for n, beside in enumerate(besides)
    )


@given(_passages())
def test_runs_hold_every_passage_once_and_never_part_neighbours(passages: tuple[Passage, ...]) -> None:
    runs = runs_of("eyes", passages)
    run_of = {passage.name: run.number for run in runs for passage in run.passages}

    assert sorted(p.name for run in runs for p in run.passages) == sorted(p.name for p in passages)
    assert [run.number for run in runs] == list(range(1, len(runs) + 1))
    assert len(runs) == sum(passage.beside is None for passage in passages)
    assert all(run_of[p.name] == run_of[p.beside] for p in passages if p.beside is not None)


@given(_passages())
def test_runs_keep_the_order_of_the_plan(passages: tuple[Passage, ...]) -> None:
    place = {passage.name: number for number, passage in enumerate(passages)}
    runs = [[place[name] for name in run.passage_names] for run in runs_of("eyes", passages)]
    assert all(run == sorted(run) for run in runs)
    assert [run[0] for run in runs] == sorted(run[0] for run in runs)


def test_a_run_sums_its_times_and_takes_the_usual_one_where_none_is_stated() -> None:
    passages = (
        Passage(name="socket", planned_s=600, difficulty=2.0),
        Passage(name="lid", beside="socket", lead="School"),
    )
    (run,) = runs_of("eyes", passages)
    assert run.planned_s == 600 + DEFAULT_PLANNED_S
    assert run.weighted_s == 1200 + DEFAULT_PLANNED_S
    assert run.lead == "School"
    light = (Passage("glint", planned_s=1, difficulty=0.1),)
    assert runs_of("eyes", light)[0].weighted_s == 1
    assert runs_of("eyes", passages[:1])[0].lead is None


def test_a_canvas_is_away_until_the_day_it_is_back() -> None:
    away = (("School", dt.date(2027, 3, 4)),)
    plan = Plan(canvases=(Canvas(name="Hall"), Canvas(name="School")), passes=(), away=away)
    assert plan.absent_on(dt.date(2027, 3, 3)) == {1}
    assert plan.absent_on(dt.date(2027, 3, 4)) == frozenset()


def test_a_recipe_is_found_by_its_name() -> None:
    dark = Mixture(name="dark", parts=(("umber", 2), ("ochre", 1)))
    plan = Plan(canvases=(), passes=(), mixtures=(dark,))
    assert plan.mixture_named("dark") == dark
    assert plan.mixture_named("light") is None
    assert plan.mixture_named(None) is None


def test_a_return_in_a_return_is_counted_and_not_named_again() -> None:
    assert [pass_words("return to " * count + "eyes") for count in (0, 1, 2, 3, 4, 11, 22)] == [
        "eyes",
        "return to eyes",
        *(f"{number} return to eyes" for number in ("2nd", "3rd", "4th", "11th", "22nd")),
    ]
