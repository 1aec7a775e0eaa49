"""The plan that is proposed from answers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.composition.life_size import LIFE_MM
from coach.composition.proposal.answers import Answers, default_answers
from coach.composition.proposal.feature_table import FEATURE_NAMED, FINENESSES
from coach.composition.proposal.palette_table import PALETTE_NAMED
from coach.composition.proposal.parts import MOST_RUN_MIN, rounded_cm2
from coach.composition.proposal.proposal import proposed_plan
from coach.composition.proposal.questions import QUESTIONS, check_answer
from coach.forecast.layers import layer_warnings
from coach.plan.commission import CanvasSize, Pass, Plan
from coach.plan.reading import problems_on, read_plan
from coach.plan.writing import plan_text
from coach.review.advice import advice_on
from tests.composition.proposal.said import TODAY, answers


def answered(**texts: str) -> Answers:
    """Answer the questions of these keys, in their order."""
    said = default_answers(TODAY)
    for question in QUESTIONS:
        if question.key in texts:
            taken = check_answer(question, texts[question.key], said)
            assert isinstance(taken, Answers), taken
            said = taken
    return said


FERRY = answered(
    sitters="elder, younger",
    commission="The ferry sisters",
    count="3",
    canvases="North, Harbour, Mill",
    due="2027-06-19",
    week="mon-tue: 4 h, thu-fri: 5 h, sat: 3 h",
    size="50 x 60 cm",
)


def minutes(plan: Plan) -> int:
    return sum(run.planned_s for run in plan.runs) // 60


def pass_named(plan: Plan, name: str) -> Pass:
    return next(one for one in plan.passes if one.name == name)


def test_the_ferry_sisters_have_a_pass_of_each_feature_for_each_sister_and_one_ground() -> None:
    plan = proposed_plan(FERRY)
    features = ("eyes", "nose", "mouth", "ears", "hair", "clothing")
    names = [one.name for one in plan.passes]

    assert names[:4] == ["transfer", "block-in", "elder eyes", "younger eyes"]
    assert names[-2:] == ["ground", "edges and accents"]
    assert set(names[2:-2]) == {f"{who} {it}" for who in FERRY.sitters for it in features}
    assert [(one.name, one.place) for one in plan.canvases] == [("North", "1"), ("Harbour", "2"), ("Mill", "3")]
    assert {one.size for one in plan.canvases} == {CanvasSize(500, 600)}
    assert (plan.after.framing_working_days, plan.after.transport_working_days) == (5, 2)
    assert plan.after.drying_days is None


def test_every_mixture_of_the_ferry_sisters_has_a_recipe_from_the_palette_and_none_is_idle() -> None:
    plan = proposed_plan(FERRY)
    used = {passage.mixture for one_pass in plan.passes for passage in one_pass.passages}

    assert {mixture.name for mixture in plan.mixtures} == used - {None}
    assert all(mixture.parts for mixture in plan.mixtures)
    assert {paint for one in plan.mixtures for paint, _ in one.parts} <= {paint.name for paint in plan.palette}


def test_the_ferry_sisters_read_back_as_they_were_written() -> None:
    plan = proposed_plan(FERRY)

    assert read_plan(plan_text(plan), "ferry.yaml") == plan
    assert problems_on(plan, TODAY) == ()


def test_the_proposal_reads_as_if_written_by_hand() -> None:
    text = plan_text(proposed_plan(FERRY))

    assert "- {name: cast shadow, value: 3, minutes: 23, area: 2.5 cm2, mixture: deep flesh, over: 'elder" in text
    assert "week: {mon-tue: 4 h, thu-fri: 5 h, sat: 3 h}" in text


@pytest.mark.parametrize("palette", PALETTE_NAMED)
def test_a_portrait_of_the_usual_kind_is_planned_as_painters_work(palette: str) -> None:
    """Nothing speaks against it: ground and block-in first, lean before fat, hair beside ground, 25 to 40 h a head."""
    plan = proposed_plan(answered(palette=palette))

    assert advice_on(plan) == ()
    assert layer_warnings(plan) == ()
    assert max(run.planned_s for run in plan.runs) <= 60 * MOST_RUN_MIN


def test_the_proposal_is_near_a_plan_made_by_hand() -> None:
    """The orchard keeper of the demo: one sitter on 40 x 50 cm, planned passage by passage without this table."""
    with open("plans/orchard-keeper.yaml", encoding="utf-8") as file:  # noqa: PTH123
        by_hand = read_plan(file.read(), "orchard-keeper.yaml")
    proposed = proposed_plan(answered(size="40 x 50 cm"))

    assert minutes(proposed) == pytest.approx(minutes(by_hand), rel=0.25)
    for stage in ("transfer", "block-in", "edges and accents"):
        assert stage in {one.name for one in proposed.passes} & {one.name for one in by_hand.passes}


@pytest.mark.parametrize(
    ("exact", "rounded"), [(123.4, 123.0), (10.2, 10.0), (9.8, 10.0), (4.3, 4.5), (1.1, 1.0), (0.34, 0.3), (0.001, 0.1)]
)
def test_an_estimated_area_is_rounded_as_a_painter_would_state_it(exact: float, rounded: float) -> None:
    assert rounded_cm2(exact) == rounded


def test_only_several_canvases_have_places_and_only_several_sitters_are_named() -> None:
    plan = proposed_plan(answered(sitters="Ada", count="1", features="eyes"))

    assert (plan.canvases[0].place, plan.passes[-2].name) == (None, "eyes")
    assert plan.commission == "Portrait of Ada"


@given(answers())
def test_any_answers_give_a_plan_without_faults(said: Answers) -> None:
    plan = proposed_plan(said)

    assert read_plan(plan_text(plan), "plan.yaml") == plan
    assert problems_on(plan, TODAY) == ()


@given(answers(), st.floats(10, LIFE_MM))
def test_a_finer_plan_takes_longer_at_any_size(said: Answers, head_mm: float) -> None:
    plans = [proposed_plan(said._replace(head_mm=head_mm, fineness=fineness)) for fineness in FINENESSES]

    assert minutes(plans[0]) < minutes(plans[1]) < minutes(plans[2])


@given(answers(), st.floats(10, LIFE_MM), st.floats(10, LIFE_MM))
def test_a_larger_head_never_takes_less_time(said: Answers, one_mm: float, other_mm: float) -> None:
    smaller, larger = (proposed_plan(said._replace(head_mm=mm)) for mm in sorted((one_mm, other_mm)))

    assert minutes(smaller) <= minutes(larger)


@pytest.mark.parametrize("feature", [name for name, one in FEATURE_NAMED.items() if one.is_on_head])
def test_every_feature_of_a_head_takes_longer_on_a_head_twice_as_tall(feature: str) -> None:
    plans = [proposed_plan(answered(features=feature, head=head)) for head in ("8 cm", "16 cm", "32 cm")]

    assert minutes(plans[0]) < minutes(plans[1]) < minutes(plans[2])


def test_clothing_and_ground_go_with_the_canvas() -> None:
    small, large = (
        proposed_plan(answered(features="clothing, ground", size=size, head="12 cm"))
        for size in ("40 x 50 cm", "80 x 100 cm")
    )
    areas = [sum(one.area_cm2 or 0 for one in pass_named(plan, "ground").passages) for plan in (small, large)]

    assert areas == [900, 3600]
