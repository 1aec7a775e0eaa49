"""What the painter answered to the limits, a sentence each."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from coach.journal.events import Event, Kind
from coach.journal.reading import Reading, local_time
from coach.limits.cautions import fact_of
from coach.limits.reached import Passed
from coach.limits.rule_table import Key
from coach.review.hours.days_kept import GRADE_WORDS
from coach.review.hours.timeline import Moment
from coach.session.progress import silenced_in
from coach.text import span

_ENDED_BY_A_REST: Final = (Key.BLOCK, Key.LONG_REST, Key.STANDING)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """An answer: the clocks when it was given, and its words."""

    at: Reading
    words: str

    @property
    def sentence(self) -> str:
        """The answer with its local time, such as "2027-03-27 14:05 ten more minutes"."""
        return f"{local_time(self.at):%Y-%m-%d %H:%M} {self.words}"


def painter_answers(moments: Sequence[tuple[Moment, tuple[Passed, ...]]]) -> tuple[Answer, ...]:
    """Return the answers in order; a rest is one where a limit was passed that a rest ends."""
    return tuple(
        Answer(at=moment.event.at, words=words) for moment, passed in moments for words in _words(moment, passed)
    )


def _words(moment: Moment, passed: Sequence[Passed]) -> Iterator[str]:
    event = moment.event
    match event.kind:
        case Kind.REST_BEGUN:
            yield from _rest_words(passed)
        case Kind.GRANTED:
            yield "ten more minutes"
        case Kind.NOT_TODAY:
            yield f"not today: {_silenced_words(event.text)}"
        case Kind.WOKE:
            yield f"woke at {event.text}"
        case Kind.RETIMED:
            yield from _corrected_words(event, moment.before_ms)


def _rest_words(passed: Sequence[Passed]) -> Iterator[str]:
    facts = [fact_of(one) for one in passed if one.key in _ENDED_BY_A_REST]
    if facts:
        yield f"rest begun after {facts[0]}"


def _silenced_words(text: str) -> str:
    silenced = sorted(silenced_in(text), key=lambda pair: (-pair[1], pair[0]))
    return ", ".join(f"{key} ({GRADE_WORDS[grade]})" for key, grade in silenced) or "a limit that is no longer kept"


def _corrected_words(event: Event, before_ms: int) -> Iterator[str]:
    if event.turn is not None and before_ms:
        what = f"{' + '.join(event.turn.passages)} on {event.turn.canvas}"
        yield f"time corrected: {what} took {span(int(event.text))}, not {span(before_ms)}"
