"""Each fault in a sound YAML text: its place in the file and the plan, the offending text, and a way out."""

import datetime as dt

import pytest

from coach.plan.problems import PlanError, Problem, did_you_mean
from coach.plan.reading import read_plan
from tests.plan.fault_table import FAULTS

_C = "canvases: [Hall, School]\n"
_P = "passes: [{name: eyes, passages: [iris]}]\n"
_PALETTE = "palette: [umber, ochre]\n"


def _problems(text: str) -> tuple[Problem, ...]:
    with pytest.raises(PlanError) as caught:
        read_plan(text, "plan.yaml")
    return caught.value.problems


def _told(text: str) -> tuple[str, str, str]:
    (problem,) = _problems(text)
    return problem.where, problem.what, problem.suggestion


@pytest.mark.parametrize(("line", "where", "what", "suggestion"), FAULTS)
def test_a_line_that_cannot_be_is_told_with_its_place_and_a_way_out(
    line: str, where: str, what: str, suggestion: str
) -> None:
    (problem,) = _problems(_C + _P + line + "\n")
    assert problem.line >= 3
    assert (problem.where, problem.what, problem.suggestion) == (where, what, suggestion)


WRONG_PASSAGES = [
    ("minutes: 1_000", '"1_000" is not a time', "write 14 min or 1 h 30 min"),
    ("minutes: 0x1F", '"0x1F" is not a time', "write 14 min or 1 h 30 min"),
    ("minutes: .inf", '".inf" is not a time', "write 14 min or 1 h 30 min"),
    ("minutes: no", '"no" is not a time', "write 14 min or 1 h 30 min"),
    ("minutes: 0", '"0" is not between 1 s and 24 h', "write 14 min or 1 h 30 min"),
    ("minutes: -14 min", '"-14 min" is not a time', "a time is greater than 0: write 14 min"),
    ("value: 11", '"11" is not a number from 0 to 10', "write a number such as 3 or 2.5"),
    ("value: -1", '"-1" is not a number from 0 to 10', "write a number such as 3 or 2.5"),
    ("area: 12", '"12" is not an area greater than 0', "write 12 cm2"),
    ("area: 0 cm2", '"0 cm2" is not an area greater than 0', "write an area such as 12 cm2"),
    ('area: "1,500 cm2"', '"1,500 cm2" is not an area greater than 0', "write an area such as 12 cm2"),
    ("beside: iris", 'no earlier passage of this pass is called "iris"', "write one of: socket"),
    ("lead: Barn", 'there is no canvas "Barn"', "write one of: Hall, School"),
    ("brush: 400 mm", '"400 mm" is not the width of a brush, 0.5 to 300 mm', "write a width such as 6 mm"),
    ("check: mirorr", '"mirorr" is not known here', 'did you mean "mirror"'),
    ("shapes: 12", '"12" is not the id of a shape', "write k and a number, such as k12"),
    ("difficulty: 10.5", '"10.5" is not a number greater than 0, at most 10', "write a number such as 1.5"),
]


@pytest.mark.parametrize(("field", "what", "suggestion"), WRONG_PASSAGES)
def test_a_wrong_figure_of_a_passage_is_told(field: str, what: str, suggestion: str) -> None:
    text = _C + f"passes: [{{name: eyes, passages: [socket, {{name: iris, {field}}}]}}]\n"
    where = f"passes[1].passages[2].{field.partition(':')[0]}"
    assert _told(text) == (where, what, suggestion)


WRONG_CHECKS = [
    ("{name: m, check: mirror, area: 1 cm2, mixture: dark}", "delete area, mixture"),
    ("{name: m, check: mirror}, {name: iris, beside: m}", "name a passage that is painted"),
    ("{name: m, check: mirror}, {name: iris, over: m}", "name a passage that is painted"),
]


@pytest.mark.parametrize(("passages", "suggestion"), WRONG_CHECKS)
def test_a_check_that_would_lay_paint_is_told(passages: str, suggestion: str) -> None:
    told = _told(_C + f"passes: [{{name: eyes, passages: [{passages}]}}]\n")
    assert told[1:] == ('"m" is a check and lays no paint', suggestion)


def test_a_shape_in_two_passages_of_a_pass_is_told_and_in_two_passes_it_is_not() -> None:
    socket, iris = "{name: socket, shapes: [k1, k2]}", "{name: iris, shapes: [k3, k2]}"
    where, what, suggestion = _told(_C + f"passes: [{{name: eyes, passages: [{socket}, {iris}]}}]\n")
    assert where == "passes[1].passages[2].shapes"
    assert what == '"k2" belongs to "socket" in this pass'
    assert suggestion == "name a shape in one passage of a pass only"
    look = "{name: look, check: colour, shapes: k1}"
    read_plan(_C + f"passes: [{{name: eyes, passages: [{socket}, {look}]}}]\n", "")
    read_plan(_C + f"passes: [{{name: block-in, passages: [{socket}]}}, {{name: eyes, passages: [{iris}]}}]\n", "")


@pytest.mark.parametrize("value", ["[3]", "{a: 3}"])
@pytest.mark.parametrize("key", ["minutes", "value", "area", "mixture", "beside", "difficulty", "lead", "name"])
def test_a_list_or_a_mapping_is_no_figure_of_a_passage(key: str, value: str) -> None:
    name = "" if key == "name" else "name: iris, "
    where, what, suggestion = _told(_C + f"passes: [{{name: eyes, passages: [{{{name}{key}: {value}}}]}}]\n")
    assert where == f"passes[1].passages[1].{key}"
    assert what.endswith("stands where a text belongs")
    assert suggestion == "write one text"


@pytest.mark.parametrize("value", ["[3]", "{a: 3}"])
@pytest.mark.parametrize("key", ["due", "order", "seed", "batch"])
def test_a_list_or_a_mapping_is_no_single_value_of_a_plan(key: str, value: str) -> None:
    where, what, _ = _told(f"{_C}{_P}{key}: {value}\n")
    assert where == key
    assert what.endswith("stands where a text belongs")


@pytest.mark.parametrize(("key", "value"), [("place", "[left]"), ("size", "{a: b}")])
def test_a_list_or_a_mapping_is_no_figure_of_a_canvas(key: str, value: str) -> None:
    where, what, _ = _told(f"{_P}canvases: [{{name: Hall, {key}: {value}}}]\n")
    assert where == f"canvases[1].{key}"
    assert what.endswith("stands where a text belongs")


def test_an_alias_to_a_list_or_to_a_canvas_is_told_and_nothing_is_made_of_it() -> None:
    text = "canvases: &c [&h {name: Hall}, *h]\npasses: [{name: eyes, passages: *c}]\n"
    assert [(p.line, p.where, p.what) for p in _problems(text)] == [
        (1, "passes[1].passages", "an alias (*name) repeats a list from here"),
        (1, "canvases[2]", "an alias (*name) repeats `key: value` from here"),
    ]


def test_what_is_missing_is_told_once_with_an_example() -> None:
    assert _told(_C) == ("", 'the key "passes" is missing', "write passes: [{name: eyes, passages: [iris]}]")
    assert _told("canvases:\n" + _P)[:2] == ("canvases", "nothing stands where a list belongs")
    for written in ("eyes", "{name: eyes}"):
        where, what, suggestion = _told(_C + f"passes: [{written}]\n")
        assert where == "passes[1]"
        assert "passages" in what
        assert "passages: [socket shadow, iris]" in suggestion


def test_recipes_name_paints_of_the_palette_and_passages_name_recipes() -> None:
    recipe = _PALETTE + "mixtures: [{name: dark, parts: {umbra: 1, ochre: 2}}]\n"
    assert _told(_C + _P + recipe)[1:] == ('the palette has no "umbra"', 'did you mean "umber"')
    assert _told(_C + _P + "mixtures: [{name: dark, parts: {umber: 1}}]\n")[2] == "name it under palette"
    recipe = _PALETTE + "mixtures: [{name: dark, parts: {umber: 1}}]\n"
    passage = "passes: [{name: eyes, passages: [{name: iris, mixture: %s}]}]\n"
    assert read_plan(_C + passage % "dark" + recipe, "").passes[0].passages[0].mixture == "dark"
    assert read_plan(_C + passage % "anything", "").passes[0].passages[0].mixture == "anything"
    assert _told(_C + passage % "drak" + recipe)[1:] == ('there is no mixture "drak"', 'did you mean "dark"')


def test_parts_are_numbers_above_0_up_to_1000() -> None:
    for parts in ("{umber: 0}", "{umber: 0.0}", "{umber: -1}", "{umber: 1001}", "{umber: ²}"):
        where, what, suggestion = _told(_C + _P + _PALETTE + f"mixtures: [{{name: dark, parts: {parts}}}]\n")
        assert where == "mixtures[1].parts.umber"
        assert what.endswith("is not a number greater than 0, at most 1000")
        assert suggestion == "write a number such as 2 or 2.5"


def test_a_price_is_a_number_above_0() -> None:
    for price in ("0", "-8", "8 EUR", "free", "1000001"):
        where, what, _ = _told(_C + _P + f"palette: [{{name: umber, price: {price}}}]\n")
        assert where == "palette[1].price"
        assert what.endswith("is not a number greater than 0, at most 1000000")


def test_passages_of_one_run_name_one_lead() -> None:
    passages = "[{name: a, lead: Hall}, {name: b, beside: a, lead: School}]"
    what = '"a + b" form one run but name different leads'
    assert _told(_C + f"passes: [{{name: eyes, passages: {passages}}}]\n")[1:] == (what, "name one lead for the run")


def test_a_passage_beside_one_whose_name_stands_twice_is_told_not_crashed_on() -> None:
    problems = _problems(_C + "passes: [{name: eyes, passages: [a, A, {name: b, beside: A}]}]\n")
    assert [problem.what for problem in problems] == [
        'the name "A" stands twice',
        'no earlier passage of this pass is called "A"',
    ]


def test_every_kind_of_space_counts_as_one_space() -> None:
    passages = '["upper\\u00a0 lid", {name: iris, minutes: "14\\u202fmin", beside: upper lid}]'
    text = f"{_C}passes: [{{name: eyes, passages: {passages}}}]\n"
    (run,) = read_plan(text, "plan.yaml").runs
    assert run.passage_names == ("upper lid", "iris")
    assert run.passages[1].planned_s == 14 * 60


def test_a_sentence_names_the_file_the_place_and_a_way_out_and_stays_short() -> None:
    name = "x" * 300
    text = _C + f"passes: [{{name: eyes, passages: [{name}, {{name: iris, beside: nobody}}]}}]\n"
    with pytest.raises(PlanError) as caught:
        read_plan(text, "my plan.yaml")
    sentence = str(caught.value)
    assert sentence.startswith("my plan.yaml:2:")
    assert (
        ': passes[1].passages[2].beside: no earlier passage of this pass is called "nobody"; write one of: xxx'
        in sentence
    )
    assert len(sentence) < 250
    assert Problem(line=0, column=0, where="", what="it is empty").sentence("p.yaml") == "p.yaml: it is empty"


def test_no_name_is_suggested_where_none_is_near_and_there_are_too_many_to_list() -> None:
    assert did_you_mean("iris", [f"shape {n}" for n in range(17)]) == ""
    assert did_you_mean("iris", []) == ""
    assert did_you_mean("irsi", ["iris", *(f"shape {n}" for n in range(400))]) == 'did you mean "iris"'
    assert did_you_mean("irsi", ["iris", *(f"shape {n}" for n in range(500))]) == ""


def test_a_pass_may_not_take_the_name_the_coach_gives_to_corrections() -> None:
    text = "canvases: [Hall]\npasses: [{name: return to eyes, passages: [iris]}]"

    assert _told(text) == (
        "passes[1]",
        'a pass may not be called "return to eyes": the coach names the corrections so',
        "eyes",
    )


def test_more_days_than_a_year_has_are_told_at_once() -> None:
    first = dt.date(2027, 1, 1)
    days = ", ".join(f"{first + dt.timedelta(days=number)}: 1 h" for number in range(367))
    assert _told(f"{_C}{_P}also: {{{days}}}\n") == ("also", "367 days are named", "name at most 366")


def test_a_key_with_a_tag_is_told_and_never_read() -> None:
    what = [problem.what for problem in _problems(f"{_C}{_P}also: [{{!!x day: 2027-04-24, time: 8 h}}]\n")]
    assert what == ['the key "day" is missing', 'the tag "!!x" has no place in a plan']


def test_a_thirteenth_box_is_one_too_many() -> None:
    boxes = ", ".join(f"[{number}, 0, 99, 9]" for number in range(13))
    assert _told(f"{_C}{_P}keep: [{boxes}]\n") == ("keep", "the list has 13 entries", "name at most 12")


def test_a_box_that_is_an_alias_is_refused_like_any_other() -> None:
    _, what, suggestion = _told(_C + _P + "keep: [&box [1, 2, 3, 4], *box]\n")
    assert what == "an alias (*name) repeats a list from here"
    assert suggestion == "write it out in both places"


def _layered(passages: str) -> str:
    earlier = "{name: eyes, passages: [socket, iris]}, {name: nose, passages: [ridge, socket]}"
    return f"canvases: [Hall]\npasses: [{earlier}, {{name: end, {passages}}}]\n"


WRONG_LAYERS = [
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


@pytest.mark.parametrize(("passages", "where", "what", "suggestion"), WRONG_LAYERS)
def test_a_layer_that_cannot_be_is_told(passages: str, where: str, what: str, suggestion: str) -> None:
    assert _told(_layered(f"passages: [{passages}]")) == (f"passes[3].{where}", what, suggestion)


def test_the_first_passage_of_a_plan_has_none_to_lie_over() -> None:
    with pytest.raises(PlanError, match="name a passage above it, as pass / passage"):
        read_plan("canvases: [Hall]\npasses: [{name: eyes, passages: [{name: x, over: y}]}]\n", "plan.yaml")
