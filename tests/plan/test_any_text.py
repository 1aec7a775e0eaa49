"""Whatever the text, a reading ends in a plan or in sentences, with either loader."""

import contextlib

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.plan import yaml_text
from coach.plan.key_table import KEYS_INSIDE
from coach.plan.problems import PlanError
from coach.plan.reading import read_plan

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


@pytest.mark.parametrize("loader", [yaml.SafeLoader, getattr(yaml, "CSafeLoader", yaml.SafeLoader)])
@given(text=st.text() | st.lists(_SCRAPS, max_size=40).map("".join))
@settings(max_examples=100, deadline=None)
def test_nothing_but_a_plan_error_comes_out(loader: type[yaml.SafeLoader], text: str) -> None:
    with pytest.MonkeyPatch.context() as patch, contextlib.suppress(PlanError):
        patch.setattr(yaml_text, "_Loader", loader)
        read_plan(text, "plan.yaml")


@pytest.mark.parametrize("key", [key for key in KEYS_INSIDE[""] if key not in ("canvases", "passes", "mixtures")])
def test_a_fault_elsewhere_never_hides_a_faulty_canvas(key: str) -> None:
    with pytest.raises(PlanError) as caught:
        read_plan(f"canvases: []\npasses: 3\n{key}: [[]]\n", "plan.yaml")
    assert [problem.line for problem in caught.value.problems] == [1, 2, 3]
