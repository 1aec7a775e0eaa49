"""The rules of the hours of the body: what is measured, from when it speaks, how gravely, and by which yardstick."""

import enum
from typing import Final, NamedTuple

_H: Final = 3600


class Grade(enum.IntEnum):
    """How gravely a limit speaks; the higher the graver."""

    NOTICE = 1
    CAUTION = 2
    STRONG = 3


class Key(enum.StrEnum):
    """What a rule is about."""

    DAY = "day"
    BLOCK = "block"
    LONG_REST = "long rest"
    BETWEEN_DAYS = "between days"
    AWAKE = "awake"
    WEEK = "week"
    FREE_STRETCH = "free stretch"
    STANDING = "standing"
    STANDING_DAY = "standing day"
    NIGHT = "night"
    MEAL = "meal"


class Rule(NamedTuple):
    """One grade of one rule.

    Attributes:
        key: What it is about.
        grade: How gravely it speaks.
        so_far: Name of the figure of `Hours` that is measured, in milliseconds; empty where it is the time of day,
            which goes on beyond 24 h until 6:00.
        fields: Names of the `Limits` that set when it speaks, its own first. The loosest of them counts, so
            that a graver grade never speaks before the painter's own limit.
        at_s: Where the plan has no limit of its own for this grade, the figure that stands for it, in seconds.
        is_least: Whether the limit must be kept at least; otherwise it is not to be reached.
        yardstick: The yardstick in one sentence.
        source: Where the yardstick comes from, in one line.
    """

    key: Key
    grade: Grade
    so_far: str
    fields: tuple[str, ...]
    yardstick: str
    source: str
    at_s: int | None = None
    is_least: bool = False


_SALMINEN: Final = "Salminen 2016, Ergonomics Open Journal 9:15 (abstract read)"
_STANDING: Final = "EU-OSHA, OSHwiki on prolonged standing (read)"

RULES: Final = (
    Rule(
        key=Key.DAY,
        grade=Grade.NOTICE,
        so_far="day_ms",
        fields=("day_s",),
        yardstick="A day of 8 h of work is what longer days are compared with.",
        source=_SALMINEN,
    ),
    Rule(
        key=Key.DAY,
        grade=Grade.CAUTION,
        so_far="day_ms",
        fields=("caution_day_s", "day_s"),
        yardstick="In days of 10 h injuries were 15 % more frequent than in days of 8 h.",
        source=_SALMINEN,
    ),
    Rule(
        key=Key.DAY,
        grade=Grade.STRONG,
        so_far="day_ms",
        fields=("strong_day_s", "caution_day_s", "day_s"),
        yardstick="In days of 12 h injuries were 38 % more frequent than in days of 8 h, beyond that 147 %.",
        source=_SALMINEN,
    ),
    Rule(
        key=Key.BLOCK,
        grade=Grade.NOTICE,
        so_far="block_ms",
        fields=("block_s",),
        yardstick="After 50 min of unbroken work a rest of 10 min; short rests often are better than long ones seldom.",
        source="HSE guidance L26: 5 to 10 min after 50 to 60 min at a screen (secondary)",
    ),
    Rule(
        key=Key.LONG_REST,
        grade=Grade.CAUTION,
        so_far="since_long_rest_ms",
        fields=("long_rest_within_s",),
        yardstick="A rest of 20 min or more before 6 h of work in a day.",
        source="Directive 2003/88/EC art. 4; Working Time Regulations 1998 reg. 12, one such rest a day (secondary)",
    ),
    Rule(
        key=Key.BETWEEN_DAYS,
        grade=Grade.CAUTION,
        so_far="night_ms",
        fields=("between_days_s",),
        is_least=True,
        yardstick="From one day's work to the next at least 11 h off.",
        source="Directive 2003/88/EC art. 3; Working Time Regulations 1998 reg. 10 (secondary)",
    ),
    Rule(
        key=Key.BETWEEN_DAYS,
        grade=Grade.STRONG,
        so_far="night_ms",
        fields=("between_days_s",),
        at_s=9 * _H,
        is_least=True,
        yardstick="With less than 9 h off between days the risk rises by about 6 % for each hour lost.",
        source="a rail-planning help page and an open risk-index file (secondary)",
    ),
    Rule(
        key=Key.AWAKE,
        grade=Grade.CAUTION,
        so_far="up_ms",
        fields=("awake_s",),
        yardstick="Beyond about 16 h awake lapses of attention add up.",
        source="Van Dongen et al. 2003, Sleep 26:117: 15 h 50 min (secondary)",
    ),
    Rule(
        key=Key.AWAKE,
        grade=Grade.STRONG,
        so_far="up_ms",
        fields=("awake_s",),
        at_s=17 * _H,
        yardstick="After 17 to 19 h awake some tests come out as with 0.05 % of alcohol in the blood, or worse.",
        source="Williamson & Feyer 2000, Occup. Environ. Med. 57:649 (abstract read)",
    ),
    Rule(
        key=Key.WEEK,
        grade=Grade.CAUTION,
        so_far="week_ms",
        fields=("week_s",),
        yardstick="At most 48 h of work in seven days, as an average.",
        source="Directive 2003/88/EC art. 6; Working Time Regulations 1998: over 17 weeks (secondary)",
    ),
    Rule(
        key=Key.FREE_STRETCH,
        grade=Grade.CAUTION,
        so_far="longest_free_ms",
        fields=("free_stretch_s",),
        is_least=True,
        yardstick="Once in seven days 35 h off in one piece: a day of 24 h and the night's 11 h.",
        source="Directive 2003/88/EC arts. 3 and 5 (secondary)",
    ),
    Rule(
        key=Key.STANDING,
        grade=Grade.NOTICE,
        so_far="standing_ms",
        fields=("standing_s",),
        yardstick="More than 1 h on one spot is prolonged standing.",
        source=_STANDING,
    ),
    Rule(
        key=Key.STANDING_DAY,
        grade=Grade.NOTICE,
        so_far="standing_day_ms",
        fields=("standing_s",),
        at_s=4 * _H,
        yardstick="More than 4 h of standing in a day is prolonged standing.",
        source=_STANDING,
    ),
    Rule(
        key=Key.NIGHT,
        grade=Grade.CAUTION,
        so_far="",
        fields=(),
        at_s=23 * _H,
        yardstick="Between 23:00 and 6:00 injuries were about 30 % more frequent than in the morning.",
        source="Folkard & Tucker 2003, Occup. Med. 53:95, as quoted (secondary); WTR 1998: night time (from memory)",
    ),
    Rule(
        key=Key.MEAL,
        grade=Grade.NOTICE,
        so_far="",
        fields=("meal_s",),
        yardstick="A meal at its time, away from the easel.",
        source="common practice, no source",
    ),
)
"""Every grade of every rule, a key's lighter grades first; among equal grades the earlier key is said first.

Source: facts of the trade, sections A and H. None of it binds a painter who works for himself.
"""


def rule_of(key: Key, grade: Grade) -> Rule:
    """Return the rule of that key and grade, which is one of `RULES`."""
    return next(rule for rule in RULES if (rule.key, rule.grade) == (key, grade))
