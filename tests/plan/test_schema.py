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
from coach.plan.schema import schema_text

_ROOT = Path(__file__).parents[2]
_PATH = _ROOT / "coach/plan/plan.schema.json"
_SCHEMA = json.loads(_PATH.read_text(encoding="utf-8"))
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
    _C + _P + _PALETTE + "mixtures: [{name: dark, parts: {umber: 2.5, ochre: '2'}}]\n",
    _C + _P + "palette: [{name: white, pigment: PW6}, 7]\n",
    _canvas("place: LEFT, size: 40 x 50 cm"),
    _canvas("place: 12, size: 16×20 in"),
    _passage("value: 0, minutes: 0.5, area: 12 cm2"),
    _passage("value: 10.0, minutes: 1 h 30 min, area: 2 in²"),
    _passage("minutes: '14', mixture: dark, beside: socket"),
    _passage("difficulty: 1.5, lead: Hall"),
    _P + f"canvases: [{', '.join('ABCDEFGHIJKL')}]\n",
    _C + _P + f"commission: '{'a  b' * 100}'\n",
    _C + _P + "limits: {day: 11 h, week: 168 h, free-stretch: 36 h, awake: 17 h, standing: 45 min}\n",
    _C + _P + "limits: {long-rest: 30 min, long-rest-within: 5 h, long-day: 9 h, longest-day: 11 h}\n",
    _C + _P + "limits: {press: 0.7 s}\n",
    _C + _P + "limits: {press: 0 s, block: 40 min}\n",
    _C + _P + "limits: {press: '3,0s'}\n",
    _C + _P + "off: [2027-03-26, 2027-4-10..2027-04-18, 2027-05-01 .. 2027-05-01]\n",
    _C + _P + "off: [{every: 'FREQ=WEEKLY;BYDAY=FR', from: 2027-01-08}]\n",
    _C
    + _P
    + "off: [{every: 'rrule:interval=2;freq=Monthly; BYMONTHDAY=-1;until=20280101T000000Z', from: 2027-01-08}]\n",
    _C + _P + "also: {2027-04-24: 8 h, 2027-04-25..2027-04-26: 0 h, 2027-4-30: 24 h}\n",
    _C + _P + "also: [{day: 2027-04-24, time: 8 h}, {every: FREQ=DAILY;COUNT=3, from: 2027-1-2, time: 4 h}]\n",
    _C + _P + "forecast: {spread: none, seed: 7, room: 18 C, medium: alkyd, film: 100 um}\n",
    _C + _P + "forecast: {spread: Learned, seed: '0', room: 40, medium: oil, film: '62,5 µm'}\n",
    _C + _P + "forecast: {room: 5.5 °C}\n",
    _C + _P + "learn-from: [evening-study.journal, the ferry sisters.journal]\n",
    _C + _P + "palette: [{name: white, dries: 2.5 days, price: 8.5}, {name: umber, pigment: PBr7, price: '12,50'}]\n",
    _C + _P + _PALETTE + "mixtures: [{name: dark, parts: {umber: 3}, oil: Fat}, {name: mid, parts: {umber: 1}}]\n",
    _passage("over: socket"),
    _passage("into: eyes / socket"),
    _C
    + _P
    + "photo: the sitter.jpg\nheads: [{name: keeper, box: [0, 1, '2', 1000000]}, {name: boy, box: [1, 1, 2, 2]}]\n",
    _C + _P + "keep: [[0, 0, 1, 1], [5, 6, 7, 8]]\n",
    _C + _P + "crop: [0, 0, 1, 1]\nshapes: the sitter.shapes.svg\nphotos: our canvases\nrights: mine\nconsent: given\n",
    _C + _P + "values: {photo: [0, 10], paint: ['2', 9.5]}\n",
    _C + _P + "brushes: [3 mm, 0.25 in]\n",
    _C + _P + "brushes: 1,5 cm\n",
    _passage("shapes: [k1, k2], brush: 6 mm"),
    _passage("shapes: k12, check: Upside down, minutes: 3"),
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
    _C + _P + "limits: {press: 3.1 s}\n",
    _C + _P + "limits: {press: 0.7}\n",
    _C + _P + "limits: {press: 1 min}\n",
    _C + _P + "after: {drying: 9 working days}\n",
    _C + _P + "after: {framing: 3 days}\n",
    _C + _P + "palette: []\n",
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
    _passage("over: socket, into: socket"),
    _passage("over: [socket]"),
    _C + _P + "limits: {week: 48}\n",
    _C + _P + "limits: {free-stretch: 0 h}\n",
    _C + _P + "off: 2027-03-26\n",
    _C + _P + "off: []\n",
    _C + _P + "off: [26 March 2027]\n",
    _C + _P + "off: [2027-03-26-2027-03-28]\n",
    _C + _P + "off: [{every: 'FREQ=WEEKLY'}]\n",
    _C + _P + "off: [{every: 'BYDAY=FR', from: 2027-01-08}]\n",
    _C + _P + "off: [{every: 'FREQ=HOURLY', from: 2027-01-08}]\n",
    _C + _P + "off: [{every: 'COUNT=3;FREQ=DAILY;UNTIL=20270201', from: 2027-01-08}]\n",
    _C + _P + "off: [{every: 'UNTIL=20270201;FREQ=DAILY;COUNT=3', from: 2027-01-08}]\n",
    _C + _P + "off: [{every: 'FREQ=DAILY', from: 2027-01-08, time: 4 h}]\n",
    _C + _P + "also: {someday: 8 h}\n",
    _C + _P + "also: {2027-04-24: 8}\n",
    _C + _P + "also: [{day: 2027-04-24}]\n",
    _C + _P + "also: [{every: 'FREQ=DAILY', time: 4 h}]\n",
    _C + _P + "also: [{every: 'FREQ=DAILY', from: 2027-01-08, day: 2027-01-08, time: 4 h}]\n",
    _C + _P + "also: [2027-04-24]\n",
    _C + _P + "forecast: {spread: some}\n",
    _C + _P + "forecast: {seed: 1.5}\n",
    _C + _P + "forecast: {room: 0}\n",
    _C + _P + "forecast: {room: 45}\n",
    _C + _P + "forecast: {room: 4.9 C}\n",
    _C + _P + "forecast: {room: 40.5 C}\n",
    _C + _P + "forecast: {room: 68 F}\n",
    _C + _P + "forecast: {medium: acrylic}\n",
    _C + _P + "forecast: {film: 100}\n",
    _C + _P + "forecast: {speed: fast}\n",
    _C + _P + "learn-from: evening-study.journal\n",
    _C + _P + "learn-from: [old/evening-study.journal]\n",
    _C + _P + "learn-from: ['..\\evening-study.journal']\n",
    _C + _P + "learn-from: ['C:study.journal']\n",
    _C + _P + "learn-from: [.journal]\n",
    _C + _P + "learn-from: [evening-study.yaml]\n",
    _C + _P + "palette: [{name: white, dries: 3}]\n",
    _C + _P + "palette: [{name: white, dries: 0.0 days}]\n",
    _C + _P + _PALETTE + "mixtures: [{name: dark, parts: {umber: 3}, oil: thin}]\n",
    _C + _P + "photo: photos/sitter.jpg\n",
    _C + _P + "photo: ../sitter.jpg\n",
    _C + _P + "photo: C:sitter.jpg\n",
    _C + _P + "photo:\n",
    _C + _P + "heads: []\n",
    _C + _P + "heads: [keeper]\n",
    _C + _P + "heads: [{name: keeper, box: [1, 2, 3]}]\n",
    _C + _P + "heads: [{name: keeper, box: '1, 2, 3, 4'}]\n",
    _C + _P + "heads: [{name: keeper, box: [-1, 2, 3, 4]}]\n",
    _C + _P + "heads: [{box: [1, 2, 3, 4]}]\n",
    _C + _P + "keep: [1, 2, 3, 4]\n",
    _C + _P + "crop: [[0, 0, 1, 1]]\n",
    _C + _P + "shapes: sitter.svg\n",
    _C + _P + "shapes: x/sitter.shapes.svg\n",
    _C + _P + "values: {photo: [0, 10]}\n",
    _C + _P + "values: {photo: [0, 11], paint: [2, 9.5]}\n",
    _C + _P + "values: {photo: [0], paint: [2, 9.5]}\n",
    _C + _P + "brushes: [3]\n",
    _passage("shapes: [12]"),
    _passage("shapes: []"),
    _passage("brush: wide"),
    _passage("check: squint"),
    _passage("check: mirror, mixture: dark"),
    _passage("check: mirror, lead: Hall"),
    _C + _P + "keep: [[1, 2, 3, 4.5]]\n",
    _C + _P + "keep: [[1, 2, 3, 1000001]]\n",
    _C + _P + f"keep: [{', '.join(['[1, 2, 3, 4]'] * 13)}]\n",
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
    (_passage("over: chin"), "the schema follows no names"),
    (_C + _P + "limits: {week: 169 h}\n", "a pattern cannot add hours"),
    (_C + _P + "limits: {day: 9 h, long-day: 8 h}\n", "times cannot be compared"),
    (_C + _P + "limits: {rest: 10 min, long-rest: 5 min}\n", "times cannot be compared"),
    (_C + _P + "off: [2027-02-30]\n", "a pattern knows no calendar"),
    (_C + _P + "off: [2027-04-18..2027-04-10]\n", "days cannot be compared"),
    (_C + _P + "off: [2027-04-18..2037-04-18]\n", "days cannot be compared"),
    (_C + _P + "off: [{every: FREQ=DAILY;BYMONTH=13, from: 2027-01-08}]\n", "the rule is long, its pattern short"),
    (_C + _P + "off: [{every: FREQ=DAILY, from: 1899-01-08}]\n", "days cannot be compared"),
    (_C + _P + "also: {2027-04-24: 25 h}\n", "a pattern cannot add hours"),
    (_C + _P + "also: {2027-04-24: 8 h, 2027-04-20..2027-04-26: 6 h}\n", "keys cannot be compared"),
    (_C + _P + "forecast: {film: 4 um}\n", "a pattern knows no bounds"),
    (_C + _P + "learn-from: [a.journal, A.journal]\n", "the schema compares whole entries only"),
    (_C + _P + "palette: [{name: white, dries: 366 days}]\n", "a pattern knows no bounds"),
    (_C + _P + "palette: [{name: white, price: '1000001'}]\n", "a pattern knows no bounds"),
    (_C + _P + "keep: [[3, 1, 3, 2]]\n", "figures cannot be compared"),
    (_C + _P + "values: {photo: [5, 5], paint: [2, 9.5]}\n", "figures cannot be compared"),
    (_passage("brush: 0.4 mm"), "a pattern knows no bounds"),
    (_passage("shapes: [k1, k1]"), "the schema compares whole entries only"),
    (_C + _P + "heads: [{name: a, box: [1, 3, 2, 2]}]\n", "figures cannot be compared"),
    (
        _C + _P + "heads: [{name: a, box: [1, 2, 3, 4]}, {name: A, box: [1, 2, 3, 4]}]\n",
        "the schema compares whole entries only",
    ),
    (_C + _C + _P, "the loader drops the first of two keys"),
)


def _as_json(data: Any) -> Any:
    if isinstance(data, dict):
        # YAML 1.1 takes the key `off` for a truth value; editors read YAML 1.2, where it is a text.
        return {"off" if key is False else str(_as_json(key)): _as_json(value) for key, value in data.items()}
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


def test_the_published_schema_is_what_the_table_of_keys_makes() -> None:
    assert schema_text() == _PATH.read_text(encoding="utf-8"), (
        "python -m coach.plan.schema > coach/plan/plan.schema.json"
    )


@pytest.mark.parametrize("name", ["evening-study", "ferry-sisters", "orchard-keeper"])
def test_the_schema_takes_the_plans_that_come_along(name: str) -> None:
    assert _schema_takes((_ROOT / f"plans/{name}.yaml").read_text(encoding="utf-8"))
