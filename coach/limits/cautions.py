"""Short cautions where they matter, each with its source; information, never medical advice."""

from typing import Final, NamedTuple

from coach.limits.reached import Passed
from coach.limits.rule_table import Key
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
        text=f"oily rags can heat up by themselves and burn within hours: spread them out to dry outdoors, "
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
}


def fact_of(passed: Passed) -> str:
    """Return in a few words which limit is passed, and by which figure."""
    return _FACTS[passed.key].format(so_far=span(passed.so_far_ms), limit=span(passed.limit_ms))
