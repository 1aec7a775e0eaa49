"""`coach check`, `order` and `log` through their front door: answers, forms, exit statuses."""

import json
from pathlib import Path

import pytest

from coach.cli import main
from tests.painter import Habits, paint_journal
from tests.sessions import TWO_CANVASES
from tests.shapes.test_svg import FILE as SHAPES

Out = pytest.CaptureFixture[str]
LAYERS = """
canvases: [Hall, School]
palette: [{name: lamp black, pigment: PBk6}, {name: burnt umber, pigment: PBr7}]
mixtures: [{name: slow, parts: {lamp black: 1}}, {name: fast, parts: {burnt umber: 1}}]
passes:
  - {name: ground, passages: [{name: wash, mixture: slow}]}
  - {name: eyes, passages: [{name: glaze, mixture: fast, over: ground / wash}]}
"""


def plan_at(folder: Path, text: str = TWO_CANVASES) -> str:
    (folder / "plan.yaml").write_text(text, encoding="utf-8")
    return str(folder / "plan.yaml")


def test_a_sound_plan_is_said_to_be_sound_with_what_speaks_against_its_layers(tmp_path: Path, capsys: Out) -> None:
    assert main(["check", plan_at(tmp_path, LAYERS)]) == 0
    said = " ".join(capsys.readouterr().out.split())

    assert "yaml is sound: 2 canvases" in said
    assert "Fast over slow: glaze (eyes)" in said


def test_advice_is_printed_and_is_no_fault(tmp_path: Path, capsys: Out) -> None:
    plan = plan_at(tmp_path, "canvases: [Hall]\npasses: [{name: eyes, passages: [{name: iris, value: 1}]}]\n")
    assert main(["check", plan]) == 0
    sentence = "iris (eyes) asks for a value darker than paint reaches, about 2."
    assert f"Advice: {sentence}" in " ".join(capsys.readouterr().out.split())
    assert main(["check", plan, "--json"]) == 0
    advice = [{"about": "values", "passages": [["eyes", "iris"]], "sentence": sentence}]
    assert json.loads(capsys.readouterr().out) == {"problems": [], "advice": advice, "shapes": []}


SHAPED = """shapes: plan.shapes.svg
crop: [0, 0, 75, 150]
values: {photo: [0, 10], paint: [2, 9.5]}
canvases: [Hall]
passes: [{name: eyes, passages: [{name: lid, shapes: [k1, k9]}, {name: white, shapes: [k5]}]}]
"""


def test_what_is_wrong_with_the_shapes_is_told_and_what_the_plan_has_against_them(tmp_path: Path, capsys: Out) -> None:
    plan = plan_at(tmp_path, SHAPED)
    assert main(["check", plan, "--json"]) == 0
    svg = f"{tmp_path}/plan.shapes.svg"
    assert json.loads(capsys.readouterr().out)["shapes"] == [f"{svg}: there is no such file of shapes"]
    Path(svg).write_bytes(SHAPES.replace(b"<title>eye left, dark<", b"<title>lid<"))
    assert main(["check", plan, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["shapes"] == [
        f'{svg}:12: k1 "lid": was called "eye left, dark"',
        f"{svg}: lid (eyes) has k9, which the file of shapes has not",
        f"{svg}: no passage has k7",
        f"{svg}: the crop cuts k7",
    ]
    assert main(["check", plan]) == 0
    assert "no passage has k7" in capsys.readouterr().out


@pytest.mark.parametrize("as_json", [False, True])
def test_a_faulty_plan_ends_with_status_1_and_every_fault(tmp_path: Path, capsys: Out, *, as_json: bool) -> None:
    plan = plan_at(tmp_path, "canvases: [Hall, Hall]\npasses: [{name: eyes, passages: [{name: iris, value: 20}]}]\n")
    assert main(["check", plan, *(["--json"] if as_json else [])]) == 1
    printed = capsys.readouterr()

    if as_json:
        assert len(json.loads(printed.out)["problems"]) == 2
    else:
        assert "line 1" in printed.err or ":1:" in printed.err
        assert len(printed.err.splitlines()) >= 2


def test_every_key_of_a_plan_is_listed_without_a_plan(capsys: Out) -> None:
    assert main(["check", "--keys"]) == 0
    listed = capsys.readouterr().out
    assert "In limits:" in listed
    assert main(["check", "--keys", "--json"]) == 0
    keys = json.loads(capsys.readouterr().out)["keys"]
    assert keys[0] == {
        "where": "",
        "key": "commission",
        "type": "text",
        "bounds": "1 to 300 characters",
        "is_required": False,
        "example": "commission: The orchard keeper",
        "sentence": "The name of the commission.",
    }
    assert all(row["key"] in listed for row in keys)
    assert main(["check"]) == 2
    assert "--keys" in capsys.readouterr().err


def test_a_due_day_that_is_past_is_a_problem(tmp_path: Path, capsys: Out) -> None:
    plan = plan_at(tmp_path, TWO_CANVASES + "due: 2020-01-01\n")
    assert main(["check", plan]) == 1
    assert "2020-01-01" in capsys.readouterr().err
    assert main(["check", plan, "--json"]) == 1


def test_the_order_is_a_table_or_json_and_other_orders_can_be_tried(tmp_path: Path, capsys: Out) -> None:
    plan = plan_at(tmp_path)
    assert main(["order", plan]) == 0
    assert "there and back: " in capsys.readouterr().out
    assert main(["order", plan, "--json", "--strategy", "fixed", "--seed", "4"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert (answer["order"], answer["older_name"], answer["seed"]) == ("always the same", "fixed", 4)
    assert main(["order", plan, "--compare"]) == 0
    assert "The plan is painted by there and back" in capsys.readouterr().out
    assert main(["order", plan, "--compare", "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)) == 5


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--strategy", "zigzag"), "there is no order zigzag; one of: even turns, there"),
        (("--seed", "-1"), "a seed is a whole number of 0 or more"),
        (("--seed", "many"), "invalid int value"),
    ],
)
def test_wrong_words_end_with_status_2(tmp_path: Path, capsys: Out, words: tuple[str, ...], sentence: str) -> None:
    assert main(["order", plan_at(tmp_path), *words]) == 2
    assert sentence in capsys.readouterr().err


def test_the_order_shows_what_was_painted_and_afresh_the_plan_alone(tmp_path: Path, capsys: Out) -> None:
    plan = plan_at(tmp_path)
    paint_journal(Path(plan), Habits())
    assert main(["order", plan, "--json"]) == 0
    turns = json.loads(capsys.readouterr().out)["turns"]
    assert main(["order", plan, "--json", "--afresh"]) == 0
    afresh = json.loads(capsys.readouterr().out)["turns"]

    assert all(turn["painted"] for turn in turns)
    assert not any(turn["painted"] for turn in afresh)
    assert len(turns) == len(afresh) == 10


def test_the_order_says_that_a_canvas_is_away(tmp_path: Path, capsys: Out) -> None:
    assert main(["order", plan_at(tmp_path, TWO_CANVASES + "away: School until 9999-01-01\n")]) == 0
    assert "School is away until 9999-01-01: its turns wait" in capsys.readouterr().out


def test_the_log_in_every_form(tmp_path: Path, capsys: Out) -> None:
    plan = plan_at(tmp_path)
    assert main(["log", plan]) == 1
    assert "nothing is painted yet" in capsys.readouterr().err
    assert main(["log", plan, "--fairness"]) == 0
    assert "5 runs will be too few to tell what going second is worth." in capsys.readouterr().out
    assert main(["log", plan, "--fairness", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["runs_to_come"] == 5
    paint_journal(Path(plan), Habits())

    assert main(["log", plan]) == 0
    assert "Led: " in capsys.readouterr().out
    assert main(["log", plan, "--csv", "--canvas", "Hall", "--pass", "nose"]) == 0
    rows = capsys.readouterr().out.splitlines()
    assert len(rows) == 3
    assert main(["log", plan, "--canvas", "Hall", "--pass", "nose"]) == 0
    assert "Only pass nose and canvas Hall:" in capsys.readouterr().out
    assert main(["log", plan, "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)["turns"]) == 10
    assert main(["log", plan, "--fairness"]) == 0
    assert capsys.readouterr().out.startswith("Fair: ")
    assert main(["log", plan, "--fairness", "--canvas", "Hall"]) == 2
    assert "leave --canvas out" in capsys.readouterr().err
    assert main(["log", plan, "--fairness", "--csv"]) == 2
    assert "not as --csv" in capsys.readouterr().err


def test_alkyd_in_the_plan_does_not_silence_what_goes_over_the_oil_that_is_laid(tmp_path: Path, capsys: Out) -> None:
    """Trade facts B5.1 and B3: titanium white in oil takes 4 to 8 days; B2.11: alkyd less than one."""
    text = """
canvases: [Hall, School]
palette: [{name: white, pigment: PW6}]
passes:
  - {name: face, passages: [{name: cheek, minutes: 10, mixture: white}]}
  - {name: glaze, passages: [{name: blush, minutes: 10, mixture: white, over: face / cheek}]}
"""
    path = tmp_path / "alkyd.yaml"
    path.write_text(text)
    paint_journal(path, Habits(), 2)
    path.write_text(text + "forecast: {medium: alkyd}\n")

    assert main(["check", str(path)]) == 0
    assert "Fast over slow: blush (glaze) dries in up to 1 d and lies over cheek (face)" in capsys.readouterr().out
    (tmp_path / "alkyd.journal").unlink()
    assert main(["check", str(path)]) == 0
    assert "Fast over slow" not in capsys.readouterr().out
