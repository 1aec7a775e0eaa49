"""Every key of a plan: where it stands, what it takes, and what it is for.

Reader, writer, editing, the published schema and the reference of `coach check --keys` follow this table: a new key
is a row here, a field of the plan's data, and a line in the room that uses it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from coach.plan import commission as plan_data
from coach.plan import delivery
from coach.plan.commission import CHECKS, MOST_CANVASES, MOST_MARKED, RETURN_TO, SEATED, STANDING
from coach.plan.strategy import OLDER_NAMES, Strategy
from coach.plan.time_types import (
    AWAY,
    CLOCK_TIME,
    DAY,
    DAY_S,
    DAYS,
    FIRST_DAY,
    HOURS_OF_DAY,
    MEASURED_DAYS,
    MINUTES,
    RULE,
    TIME,
    WEEKDAYS_PATTERN,
    days_of,
    short_time,
    time_up_to,
)
from coach.plan.value_range import ValueRange
from coach.plan.value_types import (
    AREA,
    BRUSH,
    FOLDER_NAME,
    JOURNAL_NAME,
    PHOTO_NAME,
    PLACE,
    SHAPE_ID,
    SHAPES_NAME,
    SIZE,
    TEXT,
    Schema,
    ValueType,
    celsius,
    micrometres,
    number,
    one_of,
    whole_number,
    yes_or_no,
)

MOST_JOURNALS: Final = 20
MOST_DAYS: Final = 366
MOST_STOPS: Final = 30
MOST_SEED: Final = 2**31 - 1
MOST_PX: Final = 1_000_000
"""How far from the top left corner of a photo a box may reach, in pixels."""

RISING: Final = (("day", "long-day", "longest-day"), ("rest", "long-rest"))
"""Keys of `limits` of which a later one is never less than an earlier one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListOf:
    """A list of 1 to `most` single values; where `is_one_bare` a single one may stand without a list.

    What is no text at all is told to be written in `form`; one that stands twice is told with `noun` before it.
    """

    item: ValueType[Any]
    most: int | None = None
    is_one_bare: bool = False
    form: str = "one text"
    noun: str = "the name "

    @property
    def type(self) -> str:
        """What it is, in words."""
        return f"{self.item.type}, or a list of it" if self.is_one_bare else f"list, each a {self.item.type}"

    @property
    def bounds(self) -> str:
        """Between what it lies."""
        return "; ".join(filter(None, (f"1 to {self.most}" if self.most else "1 or more", self.item.bounds)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Records:
    """A list of 1 to `most` mappings with names that differ, whose keys stand under the list's own name here."""

    type = "list of entries"
    most: int | None = None

    @property
    def bounds(self) -> str:
        """Between what it lies."""
        return f"{f'1 to {self.most}' if self.most else '1 or more'}, with names that differ"


class Figures:
    """A mapping whose keys stand under its own name here."""

    type = "keys of its own"
    bounds = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Structure:
    """What has a form of its own, which `coach.plan.reading` and `coach.plan.writing` know by the key."""

    type: str
    bounds: str
    schema: Schema = field(default_factory=dict, repr=False)


_Taken = ValueType[Any] | ListOf | Records | Figures | Structure


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanKey:
    """One key of a plan.

    Attributes:
        name: As it is written.
        inside: Key of the mapping or list it stands in; empty for the plan itself.
        takes: What may stand behind it.
        sentence: What it is for.
        example: Key and value as they may be written.
        data_field: Field of the plan's data that holds it; empty where it has another form there.
        is_required: Whether it must be there.
        opens_group: Whether an empty line comes before it in a new text.
    """

    name: str
    inside: str
    takes: _Taken
    sentence: str
    example: str
    data_field: str = ""
    is_required: bool = False
    opens_group: bool = False


def _keys_inside(inside: str) -> Callable[..., PlanKey]:
    def key(name: str, takes: _Taken, sentence: str, example: str, data_field: str = "", **more: bool) -> PlanKey:
        return PlanKey(
            name=name,
            inside=inside,
            takes=takes,
            sentence=sentence,
            example=f"{name}: {example}",
            data_field=data_field or name,
            **more,
        )

    return key


_plan, _canvas, _head = _keys_inside(""), _keys_inside("canvases"), _keys_inside("heads")
_limit, _after, _forecast = _keys_inside("limits"), _keys_inside("after"), _keys_inside("forecast")
_paint, _mixture, _pass, _passage = map(_keys_inside, ("palette", "mixtures", "passes", "passages"))
_values = _keys_inside("values")
_off, _also = _keys_inside("off"), _keys_inside("also")
_framer, _approval = _keys_inside("framer"), _keys_inside("approval")

_SEED: Final = whole_number(0, MOST_SEED)
SIDE_PX: Final = whole_number(0, MOST_PX)
_TIME_OF_WEEK: Final = time_up_to(7 * DAY_S)
PARTS: Final = number(1000, example="2 or 2.5", above_0=True)
_WEEK: Final = Structure(
    type="days, each with a time",
    bounds="mon to sun or spans of them; 0 h to 24 h",
    schema={
        "type": "object",
        "patternProperties": {WEEKDAYS_PATTERN: HOURS_OF_DAY.schema},
        "additionalProperties": False,
    },
)
_BOX: Final = Structure(
    type="[left, top, right, bottom] in pixels",
    bounds=f"whole numbers, 0 to {MOST_PX}; right greater than left, bottom than top",
    schema={"type": "array", "minItems": 4, "maxItems": 4, "items": SIDE_PX.schema},
)
VALUE: Final = number(10, example="3 or 2.5")
_SPAN: Final = Structure(
    type="[darkest, lightest] as values",
    bounds="0 to 10; the lightest greater than the darkest",
    schema={"type": "array", "minItems": 2, "maxItems": 2, "items": VALUE.schema},
)
_BOXES: Final = Structure(
    type=f"list of boxes, each {_BOX.type}",
    bounds=f"1 to {MOST_MARKED}; {_BOX.bounds}",
    schema={"type": "array", "minItems": 1, "maxItems": MOST_MARKED, "items": _BOX.schema},
)
_DAYS_OFF: Final = Structure(type="list of days or rules", bounds=f"1 to {MOST_DAYS}, 12 rules")
_DAYS_ALSO: Final = Structure(
    type="days, each with a time, or a list of them", bounds=f"1 to {MOST_DAYS}, 12 rules; no day with two times"
)
_APPROVAL: Final = Structure(type="list of stops", bounds=f"1 to {MOST_STOPS}, each after another pass")
_PARTS_OF_PAINTS: Final = Structure(
    type="paints, each with a number",
    bounds="paints of the palette; greater than 0, at most 1000",
    schema={"type": "object", "minProperties": 1, "propertyNames": TEXT.schema, "additionalProperties": PARTS.schema},
)

# fmt: off
KEYS: Final = (
    _plan("commission", TEXT, "The name of the commission.", "The orchard keeper"),
    _plan("due", DAY, "The day it must be handed over.", "2027-05-01"),
    _plan("canvases", Records(most=MOST_CANVASES), "The replicas; each may be just a name.", "[Hall, School]",
        is_required=True, opens_group=True),
    _canvas("name", TEXT, "Its short name.", "Hall", is_required=True),
    _canvas("place", PLACE, "Where it stands on the easel.", "left"),
    _canvas("size", SIZE, "Its width and height.", "40 x 50 cm"),
    _plan("photo", PHOTO_NAME, "The photo it is painted from.", "sitter.jpg", opens_group=True),
    _plan("heads", Records(most=MOST_MARKED), "The heads in the photo.",
        "[{name: keeper, box: [1500, 1200, 2200, 2100]}]"),
    _head("name", TEXT, "Whose head it is.", "keeper", is_required=True),
    _head("box", _BOX, "From crown to chin and from side to side.", "[1500, 1200, 2200, 2100]", is_required=True),
    _plan("keep", _BOXES, "What must stay in the picture.", "[[0, 50, 900, 600]]", "keeps"),
    _plan("crop", _BOX, "The part of the photo that is painted.", "[900, 600, 2900, 3100]"),
    _plan("shapes", SHAPES_NAME, "The shapes that were found in the photo.", "sitter.shapes.svg"),
    _plan("values", Figures(), "How the photo's values are fitted into those that paint reaches, on every canvas.",
        "{photo: [0, 10], paint: [2, 9.5]}"),
    _values("photo", _SPAN, "The darkest and the lightest value of the photo.", "[0, 10]", is_required=True),
    _values("paint", _SPAN, "The values they are painted in.", "[2, 9.5]", is_required=True),
    _plan("photos", FOLDER_NAME, "The folder with the photos of your canvases, for `coach compare`; it is only read.",
        "canvas-photos"),
    _plan("rights", TEXT, "Whose photo it is, and what may be done with it.", "by the painter, for these portraits"),
    _plan("consent", TEXT, "What the sitter has agreed to.", "to be painted and shown, not named"),
    _plan("order", one_of(*(strategy.value for strategy in Strategy), older=tuple(OLDER_NAMES)),
        "How the lead changes from run to run; `coach order PLAN --compare` shows each.", "there and back",
        opens_group=True),
    _plan("seed", _SEED, "Decides what chance decides in the order.", "7"),
    _plan("batch", whole_number(1, 100), "So many neighbouring runs stay on a canvas before it changes.", "2"),
    _plan("away", ListOf(item=AWAY, is_one_bare=True, form="School until 2027-03-04"),
        "Canvases that are away, each until it is back.", "School until 2027-03-04"),
    _plan("week", _WEEK, "Work promised on each day; days not named have none.", "{mon-fri: 5 h, sat: 3 h}", "week_s",
        opens_group=True),
    _plan("off", _DAYS_OFF,
        "Days on which nobody paints, whatever the week says.", "[2027-03-26, 2027-04-10..2027-04-18]"),
    _off("every", RULE, "Days off that come again.", '"FREQ=WEEKLY;BYDAY=FR"', is_required=True),
    _off("from", FIRST_DAY, "The day the rule is counted from.", "2027-01-08", is_required=True),
    _plan("also", _DAYS_ALSO,
        "Hours for single days; they go before `off` and `week`, a date before a rule.", "{2027-04-24: 8 h}"),
    _also("day", DAYS, "A day or days with hours of their own.", "2027-04-24", is_required=True),
    _also("every", RULE, "In place of a day: days that come again.", '"FREQ=WEEKLY;BYDAY=FR"', is_required=True),
    _also("from", FIRST_DAY, "The day the rule is counted from.", "2027-01-08", is_required=True),
    _also("time", HOURS_OF_DAY, "The work promised on such a day.", "4 h", is_required=True),
    _plan("posture", one_of(STANDING, SEATED), "How you paint; seated, nothing is said of standing.", SEATED),
    _plan("limits", Figures(), "The hours of the body, where yours differ from the usual.",
        "{block: 50 min, rest: 10 min}"),
    _limit("block", TIME, "Unbroken work until a rest is due.", "50 min", "block_s"),
    _limit("rest", TIME, "Time off that counts as a rest.", "10 min", "rest_s"),
    _limit("long-rest", TIME, "Time off that counts as a long rest, not less than `rest`.", "20 min", "long_rest_s"),
    _limit("long-rest-within", TIME, "Work within which a long rest is due.", "6 h", "long_rest_within_s"),
    _limit("day", TIME, "Work of a day until a notice.", "8 h", "day_s"),
    _limit("long-day", TIME, "Work of a day until a caution, not less than `day`.", "10 h", "caution_day_s"),
    _limit("longest-day", TIME, "Work of a day until a strong caution, not less than `long-day`.", "12 h",
        "strong_day_s"),
    _limit("between-days", TIME, "Time off between two days.", "11 h", "between_days_s"),
    _limit("week", _TIME_OF_WEEK, "Work in seven days.", "48 h", "week_s"),
    _limit("free-stretch", _TIME_OF_WEEK, "Time off in one piece, once in seven days.", "35 h", "free_stretch_s"),
    _limit("awake", TIME, "Time awake, since the day's first work at least, until a caution.", "16 h", "awake_s"),
    _limit("standing", TIME, "Time on one spot.", "60 min", "standing_s"),
    _limit("meal", CLOCK_TIME, "When you eat, by the clock; a long rest is due then.", "12:30", "meal_s"),
    _limit("press", short_time(3, example="0.7 s, or 0 s so that every press counts"),
        "Quiet before a key goes on, so that a held key counts once; 0 s lets every press count.", "0.7 s", "press_s"),
    _plan("after", Figures(), "What comes after the last stroke.", "{drying: 9 days, framing: 3 working days}"),
    _after("drying", days_of(working=False), "Days it dries; told by the paints where it is not stated.", "9 days",
        "drying_days"),
    _after("framing", days_of(working=True), "Working days at the framer.", "3 working days", "framing_working_days"),
    _after("transport", days_of(working=True), "Working days under way.", "2 working days", "transport_working_days"),
    _plan("framer", Figures(), "What the framer needs.", "{after-touch-dry: 14 days, spacers: yes}"),
    _framer("after-touch-dry", days_of(working=False), "Days from dry to touch until it may go to the framer.",
        "14 days", "after_touch_dry_days"),
    _framer("spacers", yes_or_no("yes", "no"), "Whether the frame keeps glass and rebate off the paint.", "yes",
        "has_spacers"),
    _framer("off", _DAYS_OFF, "Days on which the framer is closed, beside Saturdays and Sundays.",
        "[2027-04-05..2027-04-16]"),
    _plan("approval", _APPROVAL, "Stops at which the client answers before the next pass begins.",
        "[{after: eyes, wait: 3 days}]"),
    _approval("after", TEXT, "The pass that is shown, once it is painted on every canvas.", "eyes", is_required=True),
    _approval("wait", days_of(working=False), "Days until the answer.", "3 days", "wait_days", is_required=True),
    _plan("forecast", Figures(), "How the day of delivery is foretold.", "{room: 18 C, medium: oil}"),
    _forecast("spread", yes_or_no("learned", "none"),
        "`learned`: pace, hours and drying vary as the journal shows. `none`: plain arithmetic.", "none", "is_spread"),
    _forecast("seed", _SEED, "Decides the draws; the same seed gives the same answer.", "7"),
    _forecast("room", celsius(5, 40), "Warmth of the room it dries in.", "18 C", "room_c"),
    _forecast("medium", one_of("oil", "alkyd"), "What the paint is bound with.", "alkyd"),
    _forecast("film", micrometres(5, 3000), "Wet thickness of one layer.", "100 um", "film_um"),
    _plan("learn-from", ListOf(item=JOURNAL_NAME, most=MOST_JOURNALS),
        "Journals of earlier commissions from which the pace is learned.", "[evening-study.journal]", "learn_from"),
    _plan("brushes", ListOf(item=BRUSH, is_one_bare=True, form="6 mm", noun=""), "The widths of your brushes.",
        "[3 mm, 6 mm, 12 mm]", "brushes_mm", opens_group=True),
    _plan("palette", Records(), "The paints; each may be just a name.", "[umber, ochre]", opens_group=True),
    _paint("name", TEXT, "Its name.", "white", is_required=True),
    _paint("pigment", TEXT, "Its colour index name.", "PW6"),
    _paint("dries", MEASURED_DAYS, "Days to touch-dry that you measured.", "3 days", "dries_days"),
    _paint("price", number(1_000_000, example="8.50", above_0=True), "What a tube of it costs, in your money.", "8.50"),
    _plan("mixtures", Records(), "The recipes, each may be just a name; where there are any, passages name only these.",
        "[{name: deep flesh, parts: {umber: 2, ochre: 1}}]", opens_group=True),
    _mixture("name", TEXT, "Its name.", "deep flesh", is_required=True),
    _mixture("parts", _PARTS_OF_PAINTS, "Parts of each paint; without them it is mixed to match the photo.",
        "{umber: 2, ochre: 1}"),
    _mixture("oil", one_of("lean", "middle", "fat"), "How rich in oil it is.", "fat"),
    _plan("passes", Records(), "The features, each taken through on every canvas.", "[{name: eyes, passages: [iris]}]",
        is_required=True, opens_group=True),
    _pass("name", TEXT, f'Its name; one that begins with "{RETURN_TO}" is kept for corrections.', "eyes",
        is_required=True),
    _pass("passages", Records(), "Its passages, in order; each may be just a name.", "[socket shadow, iris]",
        is_required=True),
    _passage("name", TEXT, "Its name, unique in its pass.", "iris", is_required=True),
    _passage("check", one_of(*CHECKS), "A turn without paint: how the canvas is looked at.", "mirror"),
    _passage("shapes", ListOf(item=SHAPE_ID, is_one_bare=True, form="k12", noun=""),
        "Its shapes in the file of shapes.", "[k12, k13]"),
    _passage("value", VALUE, "Darkness to lightness, 0 black to 10 white (Munsell value).", "3"),
    _passage("minutes", MINUTES, "Time planned on one canvas; counts 15, or 3 for a check, where it is not stated.",
        "14", "planned_s"),
    _passage("area", AREA, "Its area on one canvas.", "12 cm2", "area_cm2"),
    _passage("mixture", TEXT, "The mixture it is painted with.", "deep flesh"),
    _passage("brush", BRUSH, "The width of the brush.", "6 mm", "brush_mm"),
    _passage("beside", TEXT, "The earlier passage of this pass whose edge it meets wet.", "socket shadow"),
    _passage("difficulty", number(10, example="1.5", above_0=True),
        "What a minute of it weighs when the lead is shared.", "1.5"),
    _passage("lead", TEXT, "The canvas that is to lead its run.", "Hall"),
    _passage("over", TEXT, "Earlier passage, as its name or pass / passage, that must be dry to touch first.",
        "socket shadow"),
    _passage("into", TEXT, "Earlier passage it is painted into while that is wet; not together with `over`.",
        "socket shadow"),
)
# fmt: on
"""Every key, in the order in which a plan is written."""

NOT_OF_A_CHECK: Final = ("value", "area", "mixture", "brush", "beside", "difficulty", "lead", "over", "into")
"""Keys of a passage that say something of paint or of who leads."""

RECORD_TYPES: Final[Mapping[str, Any]] = {
    "": plan_data.Plan,
    "canvases": plan_data.Canvas,
    "heads": plan_data.MarkedHead,
    "values": ValueRange,
    "limits": plan_data.Limits,
    "after": delivery.After,
    "framer": delivery.Framer,
    "approval": delivery.Approval,
    "forecast": delivery.Forecast,
    "palette": plan_data.Paint,
    "mixtures": plan_data.Mixture,
    "passes": plan_data.Pass,
    "passages": plan_data.Passage,
}
"""The plan's data by the key whose value they hold; their own defaults stand for what is not written."""

KEYS_INSIDE: Final[Mapping[str, Mapping[str, PlanKey]]] = {
    inside: {key.name: key for key in KEYS if key.inside == inside} for inside in dict.fromkeys(k.inside for k in KEYS)
}
"""Keys by name, by what they stand in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyReference:
    """What is said of a key to whoever writes a plan.

    Attributes:
        where: What it stands in, such as `limits` or `passes[].passages[]`; `[]` is each entry of a list, and empty is
            the plan itself.
        key: Its name.
        type: What it takes.
        bounds: Between what that lies; empty where nothing bounds it.
        is_required: Whether it must be there.
        example: Key and value as they may be written.
        sentence: What it is for, and what stands for it where it is not written.
    """

    where: str
    key: str
    type: str
    bounds: str
    is_required: bool
    example: str
    sentence: str


def key_reference() -> tuple[KeyReference, ...]:
    """Return a row for every key of a plan, in the order in which a plan is written."""
    return tuple(
        KeyReference(
            where=_place(key.inside),
            key=key.name,
            type=key.takes.type,
            bounds=key.takes.bounds,
            is_required=key.is_required,
            example=key.example,
            sentence=described(key),
        )
        for key in KEYS
    )


def _usual_text(key: PlanKey) -> str:
    """Return what stands for a key where it is not written, as it would be written; empty where nothing does."""
    record = RECORD_TYPES.get(key.inside)
    usual = None if record is None else record._field_defaults.get(key.data_field)
    return key.takes.write(usual) if isinstance(key.takes, ValueType) and usual not in (None, "") else ""


def described(key: PlanKey) -> str:
    """Return what a key is for, and what stands for it where it is not written."""
    usual = _usual_text(key)
    return f"{key.sentence} {usual} where it is not written." if usual else key.sentence


def _place(section: str) -> str:
    """Return the dotted place of a mapping."""
    holder = next((key for key in KEYS if key.name == section and key.name in KEYS_INSIDE), None)
    if holder is None:
        return ""
    above = f"{_place(holder.inside)}."
    return f"{above.lstrip('.')}{section}{'' if isinstance(holder.takes, Figures) else '[]'}"
