"""A passage lies over an earlier one, or is painted into it: by its name, or as `pass / passage`."""

import pytest

from coach.plan.commission import Pass
from coach.plan.problems import PlanError
from coach.plan.reading import read_plan

_EYES = "{name: eyes, passages: [socket, iris]}"


def _passes(passages: str) -> tuple[Pass, ...]:
    text = (
        f"canvases: [Hall]\npasses: [{_EYES}, {{name: nose, passages: [ridge, socket]}}, {{name: end, {passages}}}]\n"
    )
    return read_plan(text, "plan.yaml").passes


def _told(passages: str) -> tuple[str, str, str]:
    with pytest.raises(PlanError) as caught:
        _passes(passages)
    (problem,) = caught.value.problems
    assert problem.line == 2
    return problem.where, problem.what, problem.suggestion


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("first", ("end", "first")),
        ("end / first", ("end", "first")),
        ("iris", ("eyes", "iris")),
        ("eyes/socket", ("eyes", "socket")),
        ("nose / socket", ("nose", "socket")),
    ],
)
def test_an_earlier_passage_is_named_alone_or_with_its_pass(written: str, meant: tuple[str, str]) -> None:
    for key in ("over", "into"):
        passage = _passes(f"passages: [first, {{name: x, {key}: {written}}}]")[2].passages[1]
        assert getattr(passage, key) == meant


def test_the_passage_of_the_same_pass_is_meant_first() -> None:
    passages = _passes("passages: [socket, {name: x, over: socket}]")[2].passages
    assert passages[1].over == ("end", "socket")


FAULTS = [
    ("{name: x, over: irs}", "passages[1].over", 'no earlier passage is called "irs"', 'did you mean "iris"'),
    (
        "{name: x, into: eye / iris}",
        "passages[1].into",
        'no earlier passage is called "eye / iris"',
        'did you mean "eyes / iris"',
    ),
    (
        "{name: x, over: x}",
        "passages[1].over",
        'no earlier passage is called "x"',
        "write one of: socket, iris, ridge",
    ),
    (
        "{name: x, over: socket}",
        "passages[1].over",
        '"socket" stands in several passes',
        'write "eyes / socket" or "nose / socket"',
    ),
    (
        "{name: x, over: iris, into: ridge}",
        "passages[1]",
        '"x" lies over a dry passage or is painted into a wet one, not both',
        "delete over or into",
    ),
    (
        "a, {name: b, beside: a}, {name: c, beside: b, over: a}",
        "passages",
        '"a + b + c" are painted in one run, so "a" is still wet',
        "write into: a, or delete beside",
    ),
]


@pytest.mark.parametrize(("passages", "where", "what", "suggestion"), FAULTS)
def test_a_layer_that_cannot_be_is_told(passages: str, where: str, what: str, suggestion: str) -> None:
    assert _told(f"passages: [{passages}]") == (f"passes[3].{where}", what, suggestion)


def test_the_first_passage_of_a_plan_has_none_to_lie_over() -> None:
    with pytest.raises(PlanError, match="name a passage above it, as pass / passage"):
        read_plan("canvases: [Hall]\npasses: [{name: eyes, passages: [{name: x, over: y}]}]\n", "plan.yaml")
