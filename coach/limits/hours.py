"""What the hours of the body add up to, from milliseconds of work and of time off; no clock is read here."""

from collections import deque
from collections.abc import Iterable
from copy import copy
from typing import Final

from coach.plan.commission import Limits

NIGHT_MS: Final = 6 * 3600 * 1000
"""A break from work this long ends the day. Source: common practice, no source."""

WEEK_MS: Final = 7 * 24 * 3600 * 1000
"""The days that a week looks back on, as elapsed time: 168 hours."""

STANDING_ENDS_MS: Final = 5 * 60 * 1000
"""Time off this long ends standing on one spot. Source: common practice, no source."""

_DEFAULT: Final = Limits()


class Hours:
    """An account of work and time off. Times are milliseconds; those below 0 count as 0.

    Time off that is shorter than a rest is neither work nor rest: it neither ends a block nor adds to it. Time off
    is one piece until some work follows it, however many parts it came in.

    Attributes:
        rest_ms: Time off that ends a block.
        long_rest_ms: Time off that is a long rest.
        block_no: Number of blocks ended so far.
        day_no: Number of days ended so far.
        block_ms: Unbroken work.
        since_long_rest_ms: Time since the last long rest of the day, or since the day's first work, short rests
            included: six hours of a working day are hours by the clock.
        day_ms: Work of the day.
        off_ms: Time off since the last work.
        night_ms: Time off before the day; None on the first day.
        standing_ms: Work on one spot.
        standing_day_ms: Work of the day done standing.
        awake_ms: Time since waking, of which old journals tell; None where it is not known.
        since_begun_ms: Time since the day's first work, time off included; the painter is awake for so long at least.
        is_off: Whether no work is in hand.
        now_ms: All time added so far.
        stints: Begin and end of each unbroken work of the last 168 hours, by `now_ms`.
        gaps: Of the gaps between them those that no later one outlasts: the end and the length of each, the longest
            first. They are kept along so that the longest is known at once.
    """

    def __init__(
        self,
        *,
        rest_ms: int = _DEFAULT.rest_s * 1000,
        long_rest_ms: int = _DEFAULT.long_rest_s * 1000,
    ) -> None:
        """Start before the first work, with nothing known of the time before."""
        self.rest_ms = rest_ms
        self.long_rest_ms = long_rest_ms
        self.block_no = 0
        self.day_no = 0
        self.block_ms = 0
        self.since_long_rest_ms = 0
        self.day_ms = 0
        self.off_ms = 0
        self.night_ms: int | None = None
        self.standing_ms = 0
        self.standing_day_ms = 0
        self.awake_ms: int | None = None
        self.since_begun_ms = 0
        self.is_off = True
        self.now_ms = 0
        self._unseen_ms = 0
        self._has_worked = False
        self.stints: deque[tuple[int, int]] = deque()
        self._stints_ms = 0
        self.gaps: deque[tuple[int, int]] = deque()

    def copied(self) -> "Hours":
        """Return a copy that goes on by itself."""
        twin = copy(self)
        twin.stints, twin.gaps = self.stints.copy(), self.gaps.copy()
        return twin

    def resume(self) -> None:
        """Work is taken in hand; the time off before it is over once some work is done."""
        self.is_off = False

    def work(self, ms: int) -> None:
        """Add work."""
        if ms <= 0:
            return
        self._lay_stint(self.now_ms, self.now_ms + ms)
        self.now_ms += ms
        self._forget()
        self.is_off, self.off_ms, self._unseen_ms, self._has_worked = False, 0, 0, True
        self.block_ms += ms
        self.since_long_rest_ms += ms
        self.day_ms += ms
        self.standing_ms += ms
        self.standing_day_ms += ms
        self.since_begun_ms += ms
        if self.awake_ms is not None:
            self.awake_ms += ms

    def off(self, ms: int) -> None:
        """Add time off: a pause, a rest, time away, a closed lid, time between sessions."""
        if ms <= 0:
            return
        before_ms, self.off_ms = self.off_ms, self.off_ms + ms
        self.now_ms += ms
        self._forget()
        self.is_off = True
        if self.day_ms:
            self.since_long_rest_ms += ms
            self.since_begun_ms += ms
        self._stay_awake(ms)
        if self.off_ms >= STANDING_ENDS_MS:
            self.standing_ms = 0
        if before_ms < self.rest_ms <= self.off_ms:
            self.block_ms = 0
            self.block_no += 1
        if self.off_ms >= self.long_rest_ms:
            self.since_long_rest_ms = 0
        if self.off_ms >= NIGHT_MS:
            self._end_day(is_new=before_ms < NIGHT_MS)

    def woke(self, ms_ago: int) -> None:
        """Note that the painter woke so long ago; it holds until time off that is long enough to sleep in."""
        self.awake_ms, self._unseen_ms = max(0, ms_ago), 0

    def retime(self, excess_ms: int, since_ms: int) -> None:
        """Take back work that was none: the key was forgotten and the time was off.

        Args:
            excess_ms: The work taken back; it ended where the work of the last `since_ms` began.
            since_ms: Work since then.
        """
        stints = _without(self.stints, self.now_ms - since_ms - excess_ms, self.now_ms - since_ms)
        self.stints, self.gaps, self._stints_ms = deque(), deque(), 0
        for begin, end in stints:
            self._lay_stint(begin, end)
        self.day_ms = since_ms if excess_ms >= NIGHT_MS else max(0, self.day_ms - excess_ms)
        self.standing_day_ms = min(self.standing_day_ms, self.day_ms)
        self.standing_ms = since_ms if excess_ms >= STANDING_ENDS_MS else max(0, self.standing_ms - excess_ms)
        is_rest = excess_ms >= self.rest_ms
        self.block_ms = since_ms if is_rest else max(0, self.block_ms - excess_ms)
        self.block_no += is_rest
        if excess_ms >= NIGHT_MS:
            self.day_no, self.night_ms, self.since_begun_ms = self.day_no + 1, excess_ms, since_ms
        if excess_ms >= self.long_rest_ms:
            self.since_long_rest_ms = since_ms

    @property
    def up_ms(self) -> int:
        """How long the painter is awake at least: since waking where that is known, else since the day's first work."""
        return self.since_begun_ms if self.awake_ms is None else self.awake_ms

    @property
    def week_ms(self) -> int:
        """Work in the last 168 hours."""
        if not self.stints:
            return 0
        return self._stints_ms - max(0, self.now_ms - WEEK_MS - self.stints[0][0])

    @property
    def longest_free_ms(self) -> int:
        """The longest time without work within the last 168 hours; what lies before the first work was free."""
        if not self.stints:
            return WEEK_MS
        before_ms = self.stints[0][0] - (self.now_ms - WEEK_MS)
        return max(before_ms, self.gaps[0][1] if self.gaps else 0, self.now_ms - self.stints[-1][1])

    def _lay_stint(self, begin: int, end: int) -> None:
        self._stints_ms += end - begin
        if self.stints and self.stints[-1][1] == begin:
            begin = self.stints.pop()[0]
        elif self.stints:
            gap_ms = begin - self.stints[-1][1]
            while self.gaps and self.gaps[-1][1] <= gap_ms:
                self.gaps.pop()
            self.gaps.append((begin, gap_ms))
        self.stints.append((begin, end))

    def _forget(self) -> None:
        """Let go of what ended more than 168 hours ago, and of the gaps that do not lie within them."""
        while self.stints and self.stints[0][1] <= self.now_ms - WEEK_MS:
            begin, end = self.stints.popleft()
            self._stints_ms -= end - begin
        while self.gaps and (not self.stints or self.gaps[0][0] <= self.stints[0][0]):
            self.gaps.popleft()

    def _stay_awake(self, ms: int) -> None:
        if self.awake_ms is None:
            return
        self.awake_ms += ms
        self._unseen_ms += ms
        if self._unseen_ms >= NIGHT_MS:
            self.awake_ms, self._unseen_ms = None, 0

    def _end_day(self, *, is_new: bool) -> None:
        self.day_no += is_new
        self.block_ms = self.since_long_rest_ms = self.day_ms = self.standing_day_ms = self.since_begun_ms = 0
        if self._has_worked:
            self.night_ms = self.off_ms


def _without(stints: Iterable[tuple[int, int]], begin: int, end: int) -> list[tuple[int, int]]:
    """Return the stints without what lies from `begin` to `end`."""
    kept = [piece for first, last in stints for piece in ((first, min(last, begin)), (max(first, end), last))]
    return [(first, last) for first, last in kept if first < last]
