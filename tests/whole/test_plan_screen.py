"""The Plan screen of the real program: edited by keys in a real terminal, saved to a real disk."""

from pathlib import Path

from coach.plan.reading import read_plan
from tests.whole.terminal import coach

_TEXT = """\
# two canvases for one wall
canvases: [Hall, School]
limits: {press: 0 s}
passes:
  - name: eyes
    passages:
      - {name: iris, minutes: 10}   # mind the edge
      - {name: lash line, minutes: 6}
"""


def test_a_plan_is_edited_beside_the_easel_saved_with_its_comments_and_taken_up(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(_TEXT, encoding="utf-8")
    with coach(plan) as terminal:
        terminal.until_shown("turn 1 of 4", "what else")
        terminal.type("space")
        terminal.until_shown("Space done")
        terminal.type("space")
        terminal.until_shown("turn 2 of 4")
        terminal.type("v")
        terminal.until_shown("is it sound?")
        terminal.type("x")
        terminal.until_shown("cannot be deleted")
        terminal.type("down", "a")
        terminal.until_shown("name of the new passage")
        terminal.type("light", "enter")
        terminal.until_shown('"light" is added', "NOT SAVED")
        terminal.type("j")
        terminal.until_shown('"light" is beside "lash line"')
        terminal.type("q")
        terminal.until_shown("2 edits are not saved.")
        terminal.type("escape")
        terminal.until(lambda: "not saved." not in terminal.text)
        terminal.type("w")
        terminal.until(lambda: "Saved." in terminal.text and "NOT SAVED" not in terminal.text)
        terminal.type("v")
        terminal.until_shown("turn 2 of 4")
        terminal.type("space")
        terminal.until_shown("turn 3 of 4", "lash line + light")
        assert terminal.leave() == 0
    text = plan.read_text(encoding="utf-8")
    assert text.startswith("# two canvases for one wall\n")
    assert "- {name: iris, minutes: 10}   # mind the edge\n" in text
    assert [run.passage_names for run in read_plan(text, "").runs] == [("iris",), ("lash line", "light")]


def test_two_editors_at_once_lose_nothing_and_the_painter_sees_the_difference(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(_TEXT, encoding="utf-8")
    other = _TEXT.replace("minutes: 6", "minutes: 7")
    with coach(plan) as terminal:
        terminal.until_shown("turn 1 of 4", "what else")
        terminal.type("v")
        terminal.until_shown("is it sound?")
        terminal.type("enter", "down", "enter")
        terminal.until_shown("minutes on a canvas")
        terminal.type("25", "enter")
        terminal.until_shown("25 min")
        plan.write_text(other, encoding="utf-8")
        terminal.type("w")
        terminal.until_shown("changed by another hand", "minutes: 25", "minutes: 7", "plan.edited.yaml")
        terminal.type("escape")
        terminal.until_shown("is it sound?")
        terminal.type("escape")
        terminal.until_shown("turn 1 of 4")
        assert terminal.leave() == 0
    assert plan.read_text(encoding="utf-8") == other
    assert plan.with_name("plan.edited.yaml").read_text(encoding="utf-8") == _TEXT.replace("minutes: 10", "minutes: 25")
