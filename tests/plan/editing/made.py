"""A small plan with every kind of reference, and edits of any plan drawn by chance."""

from collections.abc import Callable
from functools import cache, partial
from pathlib import Path
from typing import Final

from hypothesis import strategies as st

from coach.plan.commission import Passage, Plan
from coach.plan.editing import figures, passages, passes
from coach.plan.editing.edited import Done, Edited
from coach.plan.reading import read_plan

PLANS: Final = sorted(Path("tests/cases/plans").glob("*.yaml"))

LAYERED: Final = """\
# The head of the plan.
canvases: [Hall, School]   # two
limits: {block: 50 min}
mixtures:
  - {name: dark, parts: {umber: 2}}  # the darkest
  - {name: light, parts: {umber: 1}}
palette: [umber]

passes:
  # Eyes come first.
  - name: eyes
    passages:
      # the deepest
      - {name: socket, value: 2, minutes: 14, mixture: dark}  # thin
      - {name: lid, value: 4, beside: socket}
      - iris   # keep it clean
      - {name: light, value: 9, into: iris}

  # ---- the rest ----

  # the nose
  - name: nose
    passages: [ridge, {name: tip, beside: ridge, lead: Hall}, {name: glaze, over: eyes / socket}]

  - name: ground
    passages:
      - name: sky
        value: 7    # high
        minutes: 20
      - name: tree
        value: 3
        over: sky   # when dry

      # the last stroke
      - {name: edge, beside: tree, value: 5}
"""

NAMES: Final = st.sampled_from(
    ("iris", "Iris", "new shape", "a/b", "", "no", "- x: #", "🎨 é", "return to eyes", "1:30")
)


@cache
def layered() -> Plan:
    """Return the plan that `LAYERED` reads as."""
    return read_plan(LAYERED, "plan.yaml")


def passage(plan: Plan, pass_name: str, name: str) -> Passage:
    """Return a passage of a plan."""
    return next(p for one in plan.passes if one.name == pass_name for p in one.passages if p.name == name)


def names(plan: Plan, pass_name: str) -> list[str]:
    """Return the names of the passages of a pass, in order."""
    return next([p.name for p in one.passages] for one in plan.passes if one.name == pass_name)


@st.composite
def an_edit(draw: st.DrawFn, plan: Plan, done: Done = frozenset()) -> Callable[[], Edited]:
    """Draw any edit of a plan; it may be one that is refused."""
    one_pass = draw(st.sampled_from(plan.passes))
    name = draw(st.sampled_from(one_pass.passages)).name
    other = draw(st.sampled_from(plan.passes))
    beside = draw(st.sampled_from(one_pass.passages)).name
    by, new = draw(st.integers(-3, 3)), draw(NAMES)
    at = (plan, one_pass.name, name)
    value = draw(st.none() | st.floats(0, 10))
    seconds = draw(st.none() | st.integers(1, 86400))
    first = Passage(new, value=value, planned_s=seconds, difficulty=1.5, over=(other.name, other.passages[0].name))
    edits: list[Callable[[], Edited]] = [
        partial(passages.add_passage, plan, one_pass.name, first._replace(over=None), after=name),
        partial(passages.add_passage, plan, one_pass.name, first),
        partial(passages.add_passage, plan, one_pass.name, Passage(new, check="mirror"), after=name),
        partial(passages.rename_passage, *at, new, done=done),
        partial(passages.delete_passage, *at, done=done),
        partial(passes.add_pass, plan, new, first, after=other.name),
        partial(passes.rename_pass, plan, one_pass.name, new, done=done),
        partial(passes.move_pass, plan, one_pass.name, by),
        partial(passes.delete_pass, plan, one_pass.name, done=done),
        partial(passages.move_passage, *at, by),
        partial(passages.move_run, plan, one_pass.name, draw(st.integers(0, 3)), by),
        partial(passages.move_to_pass, *at, other.name, after=other.passages[0].name, done=done),
        partial(passages.move_to_pass, *at, other.name, done=done),
        partial(passages.join, *at, beside),
        partial(passages.split, *at, done=done),
        partial(passes.sort_dark_to_light, plan, one_pass.name),
        partial(figures.change, *at, "minutes", draw(st.sampled_from(["", "14", "1.5", "45 s", "25 h"]))),
        partial(figures.change, *at, "value", draw(st.sampled_from(["", "0", "2,5", "10", "11"]))),
        partial(figures.change, *at, "area", draw(st.sampled_from(["", "12", "2 in2", "0.3 mm2"]))),
        partial(figures.change, *at, "difficulty", draw(st.sampled_from(["", "0.5", "2"]))),
        partial(figures.change, *at, "mixture", draw(st.sampled_from(["", "dark", "light", "warm dark"]))),
        partial(figures.change, *at, "brush", draw(st.sampled_from(["", "6", "1 cm", "400 mm"]))),
        partial(figures.change, *at, "shapes", draw(st.sampled_from(["", "k1", "k1, k2", "k2 k3", "12"]))),
        partial(figures.change, *at, "check", draw(st.sampled_from(["", "mirror", "fresh eye"]))),
        partial(figures.change, *at, "lead", draw(st.sampled_from(["", *(one.name for one in plan.canvases)]))),
        partial(figures.change, *at, "over", draw(st.sampled_from(["", beside, f"{other.name} / {beside}"]))),
        partial(figures.change, *at, "into", draw(st.sampled_from(["", beside, f"{other.name}/{beside}"]))),
    ]
    return draw(st.sampled_from(edits))
