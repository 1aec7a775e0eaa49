"""What is not YAML is told in a painter's words, the same with both loaders."""

import pytest
import yaml

from coach.plan import yaml_text
from coach.plan.problems import PlanError
from coach.plan.yaml_text import tree_of

CASES = [
    ("canvases:\n\t- Hall\n", 2, 1, "a tab stands where spaces belong", "indent with spaces"),
    ("a: b\nc: d: e\n", 2, 5, 'a colon stands where none belongs, at ": e"', "indent neighbours alike"),
    ("canvases\npasses: 3\n", 2, 7, 'a colon stands where none belongs, at ": 3"', "indent neighbours alike"),
    ("a: - b\n", 1, 4, "a list cannot begin here", "on its own line"),
    ("a: @b\n", 1, 4, 'a text cannot begin like this, at "@b"', "quotes"),
    ("a: `b`\n", 1, 4, 'a text cannot begin like this, at "`b`"', "quotes"),
    ("a: %b\n", 1, 4, "a text cannot begin like this", "quotes"),
    ("a: }\n", 1, 4, "a text cannot begin like this", "quotes"),
    ("a: & b\n", 1, 5, "a text cannot begin like this", "quotes"),
    ("a: *b\n", 1, 4, 'a text cannot begin like this, at "*b"', "quotes"),
    ("a: |b\n", 1, 5, "a text cannot begin like this", "quotes"),
    ("a: [b\nc: d\n", 2, 2, "a comma or a closing ] is missing before this", "[first, second]"),
    ("a: [{b: c]\n", 1, 10, "a comma or a closing } is missing before this", "{name: iris"),
    ("a: [{b: c d: e}]\n", 1, 12, 'a comma or a closing } is missing before this, at ": e}]"', "{name: iris"),
    ("a: b\n c: d\n", 2, 3, "a colon stands where none belongs", "indent neighbours alike"),
    ("a:\n   - b\n  - c\n", 3, 3, 'what stands here does not fit what stands before it, at "- c"', "indent"),
    ("a: 'it's'\n", 1, 8, "what stands here does not fit what stands before it", "close every quote"),
    ("- a\nb: c\n", 2, 1, "what stands here does not fit what stands before it", "indent"),
    ("[a]]\n", 1, 4, "what stands here does not fit what stands before it", "indent"),
    ('a: b\nc: "d\ne: f\n', 2, 4, 'a quotation mark is opened and never closed, at ""d"', "where the text ends"),
    ("a: 'b\n---\n", 1, 4, "a quotation mark is opened and never closed", "where the text ends"),
    ("a: b\nc\nd: e\n", None, None, "a colon and a space are missing after a key", "write key: value"),
    ("a: b\n---\nc: d\n", 2, 1, "a second document begins here", "one plan in a file"),
]


@pytest.fixture(params=[yaml.SafeLoader, getattr(yaml, "CSafeLoader", yaml.SafeLoader)], autouse=True)
def _each_loader(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(yaml_text, "_Loader", request.param)


@pytest.mark.parametrize(("text", "line", "column", "what", "suggestion"), CASES)
def test_a_slip_is_told_with_its_place_and_a_way_out(
    text: str, line: int | None, column: int | None, what: str, suggestion: str
) -> None:
    with pytest.raises(PlanError) as caught:
        tree_of(text, "plan.yaml")
    (problem,) = caught.value.problems
    assert (problem.line, problem.column) == (line or problem.line, column or problem.column)
    assert what in problem.what
    assert suggestion in problem.suggestion


def test_an_unknown_code_in_quotes_is_told() -> None:
    for written in ('"\\q"', '"\\x4"'):
        with pytest.raises(PlanError, match="a backslash in double quotes") as caught:
            tree_of(f"a: {written}\n", "plan.yaml")
        assert caught.value.problems[0].suggestion == "write \\\\ for \\"


def test_what_no_sentence_is_ready_for_is_told_in_the_words_of_the_parser() -> None:
    with pytest.raises(PlanError, match=r"plan.yaml:1:.*this is not YAML: .*incompatible"):
        tree_of("%YAML 2.0\n---\na: b\n", "plan.yaml")
