"""Text made to hurt, or that is no YAML, is told in bounded work, by the loader in C and by the one in pure Python."""

import contextlib

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.plan import node_reading, yaml_text
from coach.plan.key_table import KEYS_INSIDE
from coach.plan.node_reading import MOST_PROBLEMS, NodeReader
from coach.plan.problems import PlanError, Problem
from coach.plan.reading import read_plan
from coach.plan.yaml_text import tree_of

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


_MARKS = (
    "[",
    "]",
    "{",
    "}",
    ": ",
    "- ",
    ", ",
    "\n",
    "\n  ",
    "\t",
    "&a ",
    "*a",
    "!!x ",
    "'",
    '"',
    "\\",
    "#",
    "|\n",
    "%",
)
_WORDS = ("name", "passages", "---\n", "<<", "=", "~", "1:30", "-5", "2027-13-45", "iris", "\x1b", "\ufeff")
_SCRAPS = st.sampled_from((*KEYS_INSIDE[""], *_MARKS, *_WORDS))


@given(text=st.text() | st.lists(_SCRAPS, max_size=40).map("".join))
@settings(max_examples=100, deadline=None)
def test_nothing_but_a_plan_error_comes_out(text: str) -> None:
    with contextlib.suppress(PlanError):
        read_plan(text, "plan.yaml")


@pytest.mark.parametrize("key", [key for key in KEYS_INSIDE[""] if key not in ("canvases", "passes", "mixtures")])
def test_a_fault_elsewhere_never_hides_a_faulty_canvas(key: str) -> None:
    with pytest.raises(PlanError) as caught:
        read_plan(f"canvases: []\npasses: 3\n{key}: [[]]\n", "plan.yaml")
    assert [problem.line for problem in caught.value.problems] == [1, 2, 3]
