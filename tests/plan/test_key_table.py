"""Every key of a plan stands once in the table, and what the table says of it is true."""

import pytest

from coach.plan.key_table import KEYS, KEYS_INSIDE, RECORD_TYPES, PlanKey, key_reference
from coach.plan.reading import read_plan

_NEEDED = {"canvases": "canvases: [Hall, School]", "passes": "passes: [{name: eyes, passages: [iris]}]"}
_AROUND = {
    "canvases": {"name": "name: Hall"},
    "heads": {"name": "name: keeper", "box": "box: [1, 2, 3, 4]"},
    "palette": {"name": "name: umber"},
    "mixtures": {"name": "name: deep flesh", "parts": "parts: {umber: 1}"},
    "passes": {"name": "name: eyes", "passages": "passages: [iris]"},
    "passages": {"name": "name: iris"},
    "values": {"photo": "photo: [0, 10]", "paint": "paint: [2, 9.5]"},
    "off": {"every": "every: FREQ=DAILY", "from": "from: 2027-01-08"},
    "approval": {"after": "after: eyes", "wait": "wait: 3 days"},
    "also": {"day": "day: 2027-04-24", "time": "time: 1 h"},
}
_NOT_WRITTEN = {"passes": {"runs"}}
"""Fields that follow from others."""


def _plan_with(key: PlanKey) -> str:
    around = {**_AROUND.get(key.inside, {}), key.name: key.example}
    if key.inside == "also" and key.name in ("every", "from"):
        around = {"every": "every: FREQ=DAILY", "from": "from: 2027-01-08", "time": "time: 1 h", key.name: key.example}
    inner = "{" + ", ".join(around.values()) + "}"
    lines = {**_NEEDED, "palette": "palette: [umber, ochre]"}
    if key.inside in ("limits", "after", "framer", "forecast", "values"):
        lines[key.inside] = f"{key.inside}: {inner}"
    elif key.inside == "passages":
        lines["passes"] = f"passes: [{{name: eyes, passages: [socket shadow, {inner}]}}]"
    elif key.inside:
        lines[key.inside] = f"{key.inside}: [{inner}]"
    else:
        lines[key.name] = key.example
    return "\n".join(lines.values()) + "\n"


@pytest.mark.parametrize("key", KEYS, ids=lambda key: f"{key.inside}.{key.name}")
def test_every_example_can_be_written_where_its_key_stands(key: PlanKey) -> None:
    read_plan(_plan_with(key), "plan.yaml")
    assert key.sentence.endswith(".")


def test_every_field_of_a_plan_has_its_key() -> None:
    for section, record in RECORD_TYPES.items():
        fields = set(record._fields) - _NOT_WRITTEN.get(section, set())
        assert {key.data_field for key in KEYS_INSIDE[section].values()} == fields


def test_the_reference_says_where_a_key_stands_what_it_takes_and_what_is_usual() -> None:
    rows = {f"{row.where}.{row.key}": row for row in key_reference()}
    assert len(rows) == len(KEYS)
    assert rows["passes[].passages[].value"].bounds == "0 to 10"
    assert rows["limits.block"].sentence == "Unbroken work until a rest is due. 50 min where it is not written."
    assert rows["forecast.spread"].sentence.endswith("learned where it is not written.")
    assert rows[".canvases"].is_required
