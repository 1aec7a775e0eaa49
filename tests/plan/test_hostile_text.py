"""Text made to hurt is refused in bounded work, by the loader in C and by the one in pure Python."""

import pytest
import yaml

from coach.plan import node_reading, yaml_text
from coach.plan.node_reading import MOST_PROBLEMS, NodeReader
from coach.plan.problems import PlanError, Problem
from coach.plan.reading import read_plan

_C = "canvases: [Hall, School]\n"
_P = "passes: [{name: eyes, passages: [iris]}]\n"


@pytest.fixture(autouse=True, params=[yaml.SafeLoader, getattr(yaml, "CSafeLoader", yaml.SafeLoader)])
def _each_loader(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(yaml_text, "_Loader", request.param)


def _problems(text: str) -> tuple[Problem, ...]:
    with pytest.raises(PlanError) as caught:
        read_plan(text, "plan.yaml")
    return caught.value.problems


@pytest.mark.parametrize(
    "text",
    [
        "[" * 20_000,
        "canvases: " + "{a: " * 20_000,
        "".join(" " * depth + "a:\n" for depth in range(1500)),
        _C + "passes: " + "[" * 20_000 + "]" * 20_000,
    ],
    ids=["open brackets", "open braces", "deep indents", "closed brackets"],
)
def test_nesting_without_end_is_refused_in_one_sentence(text: str) -> None:
    (problem,) = _problems(text)
    assert problem.what.startswith("brackets or indents nest too deep")
    assert problem.suggestion == "a plan needs no more than six levels"


def test_ten_levels_of_doubling_cost_no_more_questions_than_nodes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Walked in full, the last list would hold 1024 names."""
    asked: list[str] = []
    ask_first = NodeReader.is_first_visit

    def counting(self: NodeReader, node: yaml.Node, where: str) -> bool:
        asked.append(where)
        return ask_first(self, node, where)

    monkeypatch.setattr(node_reading.NodeReader, "is_first_visit", counting)
    doubled = "".join(f"  - &a{n} {{name: n{n}, passages: [*a{n - 1}, *a{n - 1}]}}\n" for n in range(1, 11))
    problems = _problems(_C + "passes:\n  - &a0 {name: n0, passages: [iris]}\n" + doubled)

    assert [problem.suggestion for problem in problems] == ["write it out in both places"] * 20
    assert len(asked) < 150


def test_a_list_that_holds_itself_is_refused() -> None:
    (problem,) = _problems(_C + _P + "palette: &a [*a]\n")
    assert (problem.line, problem.where) == (3, "palette[1]")
    assert "an alias (*name) repeats a list" in problem.what


def test_an_alias_to_a_whole_passage_is_told_once() -> None:
    text = _C + "passes: [{name: eyes, passages: [&a {name: iris}]}, {name: nose, passages: [*a]}]\n"
    (problem,) = _problems(text)
    assert (problem.line, problem.column, problem.where) == (2, 34, "passes[2].passages[1]")
    assert problem.suggestion == "write it out in both places"


def test_faults_beyond_what_anyone_can_mend_end_the_reading() -> None:
    shapes = "".join(f"      - {{name: shape {n}, beside: shope {n}}}\n" for n in range(3 * MOST_PROBLEMS))
    problems = _problems(_C + "passes:\n  - name: eyes\n    passages:\n" + shapes)
    assert len(problems) == MOST_PROBLEMS + 1
    assert (problems[0].line, problems[0].what) == (0, "there are more than 200 faults; these were found first")


@pytest.mark.parametrize(
    "text",
    ['commission: "\\UFFFFFFFF"\n' + _C + _P, "%YAML 1." + "9" * 5000 + "\n---\n" + _C],
    ids=["code point beyond Unicode", "version of 5000 digits"],
)
def test_numbers_too_large_for_the_loader_end_as_a_sentence(text: str) -> None:
    (problem,) = _problems(text)
    assert "not YAML" in problem.what or "no such code" in problem.what
    assert problem.suggestion


@pytest.mark.parametrize(
    ("character", "name"),
    [
        ("\x1b", "U+001B"),
        ("\x00", "U+0000"),
        ("\x7f", "U+007F"),
        ("\x9b", "U+009B"),
        ("\ud800", "U+D800"),
        ("\ufeff", "U+FEFF"),
        ("\uffff", "U+FFFF"),
    ],
)
def test_a_raw_control_character_is_named_at_its_own_column(character: str, name: str) -> None:
    """Source: YAML 1.1 section 5.1, production c-printable (from memory); bytes before it do not shift the column."""
    (problem,) = _problems(f"{_C}commission: äöü🎨{character}\n{_P}")
    assert (problem.line, problem.column) == (2, 17)
    assert problem.what == f"the invisible character {name} has no place in a plan"
    assert problem.suggestion == "delete it"


def test_a_byte_order_mark_may_begin_the_text() -> None:
    assert read_plan("\ufeff" + _C + _P, "plan.yaml").passes[0].name == "eyes"


@pytest.mark.parametrize("written", ["\\e[31m", "\\x9b31m", "\\u202e", "\\u2066", "\\u2028", "\\0", "\\a"])
def test_an_escaped_control_character_is_shown_as_a_stand_in(written: str) -> None:
    """Source: control sets, ECMA-48; bidirectional controls, Unicode Standard Annex 9 (titles from memory)."""
    name = read_plan(f'{_C}{_P}commission: "a{written}b"\n', "plan.yaml").commission
    assert name.startswith("a\N{REPLACEMENT CHARACTER}")
    assert name.replace("\N{REPLACEMENT CHARACTER}", "").isprintable()


@pytest.mark.parametrize("tag", ["!x", "!!binary", "!!python/name:os.system", "!!set"])
def test_a_tag_is_refused_wherever_it_stands(tag: str) -> None:
    (problem,) = _problems(f"{_C}{_P}commission: {tag} aGVsbG8=\n")
    assert (problem.line, problem.column, problem.where) == (3, 13, "commission")
    assert problem.what == f'the tag "{tag}" has no place in a plan'
    (problem,) = _problems(f"{_C}passes: [{tag} {{name: eyes, passages: [iris]}}]\n")
    assert (problem.line, problem.column, problem.where) == (2, 10, "passes[1]")


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n", "---\n", "   ", "{}", "[]"])
def test_a_plan_without_a_word_is_called_empty(text: str) -> None:
    (problem,) = _problems(text)
    assert (problem.line, problem.what) == (0, "the plan is empty")
    assert problem.suggestion == "write at least canvases and passes"
