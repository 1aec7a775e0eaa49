"""The published schema says of a plan what the reader says."""

import datetime as dt
import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from coach.plan import reading
from coach.plan.problems import PlanError

_ROOT = Path(__file__).parents[2]
_SCHEMA = json.loads((_ROOT / "coach/plan/plan.schema.json").read_text(encoding="utf-8"))
_CHECK = jsonschema.Draft202012Validator(_SCHEMA)

_C = "canvases: [Hall, School]\n"
_P = "passes: [{name: eyes, passages: [iris]}]\n"
_PALETTE = "palette: [umber, ochre]\n"


def _passage(fields: str) -> str:
    return _C + f"passes: [{{name: eyes, passages: [socket, {{name: iris, {fields}}}]}}]\n"


def _canvas(fields: str) -> str:
    return _P + f"canvases: [{{name: Hall, {fields}}}]\n"


VALID = (
    _C + _P,
    _C + _P + "commission: The ferry sisters\ndue: 2027-06-19\n",
    _C + _P + "commission: no\ndue: 2027-5-1\n",
    _P + "canvases: [1, yes, 2027-05-01]\n",
    _C + _P + "order: nested mirror\nseed: 0\nbatch: 100\n",
    _C + _P + "seed: '2147483647'\nbatch: 012\n",
    _C + _P + "away: School until 2027-03-04\n",
    _C + _P + "away: [Hall until 2027-03-04, School until 2027-3-5]\n",
    _C + _P + "week: {mon-fri: 5 h, Sat: 0 h}\n",
    _C + _P + "limits: {block: 50 min, rest: 10min, day: '7,5 h', between-days: 11 hours}\n",
    _C + _P + "after: {drying: 9 days, framing: 1 working day, transport: 0 working days}\n",
    _C + _P + _PALETTE + "mixtures: [{name: dark, parts: {umber: 3, ochre: '2'}}]\n",
    _C + _P + "palette: [{name: white, pigment: PW6}, 7]\n",
    _canvas("place: LEFT, size: 40 x 50 cm"),
    _canvas("place: 12, size: 16×20 in"),
    _passage("value: 0, minutes: 0.5, area: 12 cm2"),
    _passage("value: 10.0, minutes: 1 h 30 min, area: 2 in²"),
    _passage("minutes: '14', mixture: dark, beside: socket"),
    _passage("difficulty: 1.5, lead: Hall"),
    _P + f"canvases: [{', '.join('ABCDEFGHIJKL')}]\n",
    _C + _P + f"commission: '{'a  b' * 100}'\n",
)

INVALID = (
    _C,
    _P,
    "[]",
    "canvases: []\n" + _P,
    _P + f"canvases: [{', '.join('ABCDEFGHIJKLM')}]\n",
    "canvases: Hall\n" + _P,
    _C + "passes: [eyes]\n",
    _C + "passes: [{name: eyes, passages: []}]\n",
    _C + _P + "comission: typing slip\n",
    _C + _P + "commission:\n",
    _C + _P + f"commission: {'a' * 301}\n",
    _C + _P + "due: 1 May 2027\n",
    _C + _P + "order: zigzag\n",
    _C + _P + "seed: -1\n",
    _C + _P + "batch: 0\n",
    _C + _P + "batch: 1.5\n",
    _C + _P + "away: School\n",
    _C + _P + "away: []\n",
    _C + _P + "week: {someday: 5 h}\n",
    _C + _P + "week: {mon: 5}\n",
    _C + _P + "limits: {block: 50}\n",
    _C + _P + "limits: {block: 0 min}\n",
    _C + _P + "limits: {pause: 5 min}\n",
    _C + _P + "after: {drying: 9 working days}\n",
    _C + _P + "after: {framing: 3 days}\n",
    _C + _P + "palette: []\n",
    _C + _P + _PALETTE + "mixtures: [dark]\n",
    _C + _P + _PALETTE + "mixtures: [{name: dark, parts: {}}]\n",
    _C + _P + _PALETTE + "mixtures: [{name: dark, parts: {umber: 0}}]\n",
    _canvas("place: above"),
    _canvas("place: 13"),
    _canvas("size: 40 cm"),
    _passage("minutes: -5"),
    _passage("minutes: 0"),
    _passage("minutes: 1441"),
    _passage("minutes: [3]"),
    _passage("value: 11"),
    _passage("area: 0 cm2"),
    _passage("area: 12"),
    _passage("area: '1,500 cm2'"),
    _C + _P + "due: '2027-05- 1'\n",
    _passage("difficulty: 0"),
    _passage("difficulty: 11"),
    _passage("colour: red"),
)

ONLY_THE_READER_SEES = (
    (_passage("minutes: 1:30"), "YAML 1.1 hands the schema 90"),
    (_passage("minutes: 1_000"), "YAML 1.1 hands the schema 1000"),
    (_passage("minutes: 25 h"), "a pattern cannot add hours"),
    (_canvas("size: 1 x 50 cm"), "a pattern cannot convert units"),
    (_C + _P + "due: 2027-02-30\n", "a pattern knows no calendar"),
    (_C + _P + "week: {fri-mon: 5 h}\n", "a pattern knows no order of days"),
    (_C + _P + "week: {mon: 5 h, mon-fri: 4 h}\n", "keys cannot be compared"),
    (_P + "canvases: [Hall, hall]\n", "the schema compares whole entries only"),
    (_passage("beside: chin"), "the schema follows no names"),
    (_passage("lead: Attic"), "the schema follows no names"),
    (_C + _P + "away: Attic until 2027-03-04\n", "the schema follows no names"),
    (_C + _C + _P, "the loader drops the first of two keys"),
)


def _as_json(data: Any) -> Any:
    if isinstance(data, dict):
        return {str(_as_json(key)): _as_json(value) for key, value in data.items()}
    if isinstance(data, list):
        return [_as_json(entry) for entry in data]
    return data.isoformat() if isinstance(data, dt.date) else data


def _schema_takes(text: str) -> bool:
    try:
        data = yaml.safe_load(text)
    except ValueError:  # 2027-02-30 is a date to the loader; an editor sees the text
        data = yaml.load(text, Loader=yaml.BaseLoader)  # noqa: S506  BaseLoader makes texts only
    return _CHECK.is_valid(_as_json(data))


def _reader_takes(text: str) -> bool:
    try:
        reading.read_plan(text, "plan.yaml")
    except PlanError:
        return False
    return True


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(_SCHEMA)


@pytest.mark.parametrize("text", VALID)
def test_schema_and_reader_take_a_sound_plan(text: str) -> None:
    assert (_schema_takes(text), _reader_takes(text)) == (True, True)


@pytest.mark.parametrize("text", INVALID)
def test_schema_and_reader_refuse_a_faulty_plan(text: str) -> None:
    assert (_schema_takes(text), _reader_takes(text)) == (False, False)


@pytest.mark.parametrize(("text", "reason"), ONLY_THE_READER_SEES)
def test_only_the_reader_sees_some_faults(text: str, reason: str) -> None:
    assert (_schema_takes(text), _reader_takes(text)) == (True, False), reason


def test_the_schema_knows_exactly_the_keys_and_orders_of_the_reader() -> None:
    assert set(_SCHEMA["properties"]) == {*reading.REQUIRED, *reading.OPTIONAL}
    assert set(_SCHEMA["required"]) == set(reading.REQUIRED)
    assert _SCHEMA["properties"]["order"]["enum"] == list(reading.ORDERS)


@pytest.mark.parametrize("name", ["evening-study", "ferry-sisters", "orchard-keeper"])
def test_the_schema_takes_the_plans_that_come_along(name: str) -> None:
    assert _schema_takes((_ROOT / f"plans/{name}.yaml").read_text(encoding="utf-8"))
