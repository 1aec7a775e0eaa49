"""What is said of the hours of the body, each with its source; information, never medical advice."""

from typing import Final, NamedTuple

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
