"""Any sound plan survives the memo; no text does worse than be refused."""

import contextlib
import json

from hypothesis import given, settings
from hypothesis import strategies as st

from coach.plan.limit_reading import LIMIT_KEYS
from coach.plan.plain_plan import plain_plan, plan_of
from coach.plan.problems import PlanError
from coach.plan.reading import OPTIONAL, ORDERS, REQUIRED, read_plan

_NAMES = st.lists(st.text("abcdé 🎨[]'", min_size=1).map(str.strip).filter(bool), min_size=1, max_size=4).map(
    lambda names: [f"{number} {' '.join(name.split())}" for number, name in enumerate(names)]
)
_PASSAGE_FIELDS = st.fixed_dictionaries(
    {},
    optional={
        "value": st.integers(0, 10),
        "minutes": st.integers(1, 1440),
        "area": st.integers(1, 999).map("{} cm2".format),
        "difficulty": st.sampled_from([0.5, 1, 2.5]),
        "mixture": st.just("dark"),
        "over": st.just("ground / sky"),
    },
)

_FRIDAYS = {"every": "FREQ=WEEKLY;BYDAY=FR", "from": "2027-01-08"}
_GROUND = {"name": "ground", "passages": ["sky"]}


@st.composite
def _plan_texts(draw: st.DrawFn) -> str:
    canvases = draw(_NAMES)
    passages: list[dict[str, object]] = []
    for name in draw(_NAMES):
        fields = draw(_PASSAGE_FIELDS)
        if len(passages) > 0 and draw(st.booleans()):
            fields["beside"] = draw(st.sampled_from(passages))["name"]
        passages.append({"name": name, **fields})
    passages[0]["lead"] = canvases[0]
    if "over" not in passages[-1]:
        passages[-1]["into"] = "sky"
    optional = {
        "commission": st.just("study"),
        "due": st.dates().filter(lambda day: day.year > 999).map(str),
        "order": st.sampled_from(ORDERS),
        "seed": st.integers(0, 2**31 - 1),
        "batch": st.integers(1, 100),
        "away": st.just(f"{canvases[0]} until 2027-03-04"),
        "week": st.just({"mon-fri": "5 h"}),
        "limits": st.fixed_dictionaries(
            {}, optional=dict.fromkeys(LIMIT_KEYS, st.just("40 min")) | {"press": st.just("0 s")}
        ),
        "after": st.just({"drying": "9 days"}),
        "palette": st.just([{"name": "umber", "pigment": "PBr7", "dries": "2.5 days"}, "ochre"]),
        "off": st.just(["2027-03-26", "2027-04-10..2027-04-18", _FRIDAYS]),
        "also": st.just([{"day": "2027-04-24", "time": "8 h"}, {**_FRIDAYS, "time": "0 h"}]),
        "forecast": st.just({"spread": "none", "seed": 7, "room": "18 C", "medium": "alkyd", "film": "60 um"}),
        "learn-from": st.just(["evening-study.journal"]),
        "photo": st.just("sitter.jpg"),
        "heads": st.just([{"name": "keeper", "box": [1, 2, 30, 40]}, {"name": "boy", "box": [0, 0, 9, 9]}]),
        "keep": st.just([[0, 50, 10, 60]]),
    }
    fields = draw(st.fixed_dictionaries({}, optional=optional))
    if "palette" in fields:
        fields["mixtures"] = [{"name": "dark", "parts": {"umber": 3, "ochre": 1}, "oil": "fat"}]
    written = [{"name": name, "place": 1, "size": "40 x 50 cm"} for name in canvases]
    whole = {"canvases": written, "passes": [_GROUND, {"name": "eyes", "passages": passages}], **fields}
    return "\n".join(f"{key}: {json.dumps(value, ensure_ascii=False)}" for key, value in whole.items())


@given(_plan_texts())
@settings(max_examples=60, deadline=None)
def test_a_sound_plan_is_the_same_after_the_memo(text: str) -> None:
    plan = read_plan(text, "plan.yaml")
    assert plan_of(json.loads(json.dumps(plain_plan(plan)))) == plan


_KEYS = st.sampled_from([*REQUIRED, *OPTIONAL])
_VALUES = st.text() | st.text("0123456789:-.²٣ []{}&*!#|minhXZ\n", max_size=30)
_LINES = st.lists(st.tuples(_KEYS, _VALUES).map(": ".join)).map("\n".join)


@given(st.text() | _LINES)
@settings(max_examples=250, deadline=None)
def test_any_text_is_read_or_refused_in_plain_sentences(text: str) -> None:
    with contextlib.suppress(PlanError):
        read_plan(text, "plan.yaml")
