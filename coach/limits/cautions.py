"""What is said of the hours of the body, each with its source; information, never medical advice."""

from typing import Final, NamedTuple

from coach.limits.exceeded import ExceededLimit
from coach.limits.rule_table import Grade, Key, rule_of
from coach.plan.commission import Limits
from coach.text import span

DEFER: Final = "follow the label, local rules and qualified advice"
"""How each caution ends. Source: DESIGN.md section 9."""

BODY: Final = f"information, not medical advice: {DEFER}"
"""How each caution about the hours of the body ends."""


class Caution(NamedTuple):
    """A caution in one line, and where it comes from in another."""

    text: str
    source: str


END_OF_SESSION: Final = (
    Caution(
        text=f"oily rags can catch fire by themselves within hours: spread them out to dry outdoors, "
        f"never in a pile, then into a closed metal tin with water; {DEFER}",
        source="NFPA tip sheet on oily rags; Harvard GSD workshop page (both read)",
    ),
)
"""Said when a session ends."""

_FACTS: Final = {
    Key.DAY: "{so_far} of work today, the limit is {limit}",
    Key.BLOCK: "{so_far} of unbroken work, a rest is due (block {limit})",
    Key.LONG_REST: "{so_far} of work without a long rest, one is due within {limit}",
    Key.BETWEEN_DAYS: "only {so_far} off since the last day's work, less than {limit}",
    Key.AWAKE: "{so_far} awake, the limit is {limit}",
    Key.WEEK: "{so_far} of work in seven days, the limit is {limit}",
    Key.FREE_STRETCH: "in seven days at most {so_far} off in one piece, less than {limit}",
    Key.STANDING: "{so_far} on one spot, the limit is {limit}: move, or sit for a while",
    Key.STANDING_DAY: "{so_far} of standing today, the limit is {limit}",
    Key.NIGHT: "it is {so_far}: from {limit} to 6:00 work is night work",
    Key.MEAL: "it is {so_far}: the meal was to be at {limit}",
}


def fact_of(passed: ExceededLimit) -> str:
    """Return in a few words which limit is passed, and by which figure."""
    said = time_of_day if passed.key in (Key.NIGHT, Key.MEAL) else span
    return _FACTS[passed.key].format(so_far=said(passed.so_far_ms), limit=said(passed.limit_ms))


def time_of_day(ms: int) -> str:
    """Return a time of day as it is read from the clock: "23:05"."""
    return f"{ms // 3_600_000 % 24}:{ms // 60_000 % 60:02}"


class _Own(NamedTuple):
    """One figure of the plan: what it allows, and the rule whose source its yardstick has."""

    field: str
    allows: str
    key: Key
    grade: Grade
    is_least: bool = False


_OWN: Final = (
    _Own("block_s", "blocks of {}", Key.BLOCK, Grade.NOTICE),
    _Own("rest_s", "rests of {}", Key.BLOCK, Grade.NOTICE, is_least=True),
    _Own("long_rest_s", "a long rest of {}", Key.LONG_REST, Grade.CAUTION, is_least=True),
    _Own("long_rest_within_s", "{} of work in a day before a long rest", Key.LONG_REST, Grade.CAUTION),
    _Own("day_s", "{} of work a day", Key.DAY, Grade.NOTICE),
    _Own("caution_day_s", "{} of work a day until a caution", Key.DAY, Grade.CAUTION),
    _Own("strong_day_s", "{} of work a day until a strong caution", Key.DAY, Grade.STRONG),
    _Own("between_days_s", "{} off between two days", Key.BETWEEN_DAYS, Grade.CAUTION, is_least=True),
    _Own("week_s", "{} of work in seven days", Key.WEEK, Grade.CAUTION),
    _Own("free_stretch_s", "{} off in one piece in seven days", Key.FREE_STRETCH, Grade.CAUTION, is_least=True),
    _Own("awake_s", "{} awake", Key.AWAKE, Grade.CAUTION),
    _Own("standing_s", "{} on one spot", Key.STANDING, Grade.NOTICE),
)

_YARDSTICK: Final = Limits()


def relaxed_limits(limits: Limits) -> tuple[str, ...]:
    """Return one sentence for each limit of the plan that is looser than the yardstick, with its source.

    Args:
        limits: The plan's limits.

    Returns:
        Sentences in a fixed sequence; none where the plan is as strict as the yardstick or stricter.
    """
    return tuple(_sentence(own, limits) for own in _OWN if _is_looser(own, limits))


def _is_looser(own: _Own, limits: Limits) -> bool:
    figure_s, yardstick_s = _both_s(own, limits)
    return figure_s < yardstick_s if own.is_least else figure_s > yardstick_s


def _sentence(own: _Own, limits: Limits) -> str:
    figure_s, yardstick_s = _both_s(own, limits)
    allowed = own.allows.format(_said(figure_s))
    return f"The plan allows {allowed}; the yardstick is {_said(yardstick_s)} ({rule_of(own.key, own.grade).source})."


def _both_s(own: _Own, limits: Limits) -> tuple[int, int]:
    return getattr(limits, own.field), getattr(_YARDSTICK, own.field)


def _said(figure_s: int) -> str:
    seconds = figure_s % 60
    whole = span(1000 * figure_s)
    return f"{whole} {seconds} s" if seconds and figure_s > seconds else whole
