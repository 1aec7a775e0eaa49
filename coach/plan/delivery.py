"""What the day of delivery hangs on: days off, what comes after the last stroke, and how it is foretold."""

import datetime as dt
from typing import NamedTuple


class DayRange(NamedTuple):
    """Days from `first` to `last`, both included; `last` is not before `first`."""

    first: dt.date
    last: dt.date


class Repeat(NamedTuple):
    """Days that come again: an RRULE of RFC 5545 (without `RRULE:`), counted from the day `start`."""

    rule: str
    start: dt.date


Days = DayRange | Repeat


class After(NamedTuple):
    """What comes after the last stroke; None where the plan does not state it.

    Attributes:
        drying_days: Days, 0 or more.
        framing_working_days: Working days at the framer, 0 or more.
        transport_working_days: Working days under way, 0 or more.
    """

    drying_days: int | None = None
    framing_working_days: int | None = None
    transport_working_days: int | None = None


class Framer(NamedTuple):
    """What the framer needs.

    Attributes:
        after_touch_dry_days: Days a picture that is dry to touch still stays in the studio, 0 or more.
        has_spacers: Whether the frame keeps glass and rebate off the paint.
        off: Days on which the framer is closed, beside Saturdays and Sundays.
    """

    after_touch_dry_days: int = 0
    has_spacers: bool = False
    off: tuple[Days, ...] = ()


class Approval(NamedTuple):
    """A stop that the client causes.

    Attributes:
        after: Name of the pass that is shown when it is painted on every canvas.
        wait_days: Days until the answer, 0 or more; no later pass is painted before.
    """

    after: str
    wait_days: int


class Forecast(NamedTuple):
    """How the day of delivery is foretold.

    Attributes:
        is_spread: Whether pace, hours and drying vary by chance; False is plain arithmetic on the calendar.
        seed: Decides the draws, 0 or more.
        room_c: Temperature of the room, in degrees Celsius.
        medium: "oil" for plain oil or "alkyd".
        film_um: Thickness of a wet layer, in micrometres, greater than 0.
    """

    is_spread: bool = True
    seed: int = 0
    room_c: float = 20.0
    medium: str = "oil"
    film_um: float = 100.0
