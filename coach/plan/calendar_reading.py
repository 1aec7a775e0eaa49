"""Days off and days with hours of their own: dates, ranges and days that come again."""

import datetime as dt
from collections.abc import Iterator
from typing import Final

from yaml.nodes import MappingNode, Node

from coach.plan.commission import DayRange, Days, Repeat
from coach.plan.node_reading import Asker, inside, text_of
from coach.plan.problems import quoted
from coach.plan.repeat_rule import has_days, rule_fault, rule_of
from coach.plan.value_reading import day_written, days_in, read_day, read_hours_of_day_s

_MOST_ENTRIES: Final = 366
_MOST_REPEATS: Final = 12
_LONGEST_DAYS: Final = 3 * 366
_EARLIEST_YEAR: Final = 1900
_REPEAT_EXAMPLES: Final = {"every": 'every: "FREQ=WEEKLY;BYDAY=FR"', "from": "from: 2027-01-08"}
_TIME_EXAMPLE: Final = {"time": "time: 4 h"}
_DAY_EXAMPLE: Final = {"day": "day: 2027-04-24"}


class CalendarReader:
    """Reads `off` and `also`; bounds how many rules one of them holds, for each rule costs work to check."""

    def __init__(self, ask: Asker) -> None:
        """Ask through `ask`."""
        self._ask = ask
        self._repeat_count = 0

    def off(self, node: Node, where: str) -> tuple[Days, ...]:
        """Return the days of `off`: a list of dates, ranges and repeats."""
        entries = enumerate(self._entries(node, where), start=1)
        found = (self._off_entry(item, f"{where}[{number}]") for number, item in entries)
        return tuple(days for days in found if days is not None)

    def also(self, node: Node, where: str) -> tuple[tuple[Days, int], ...]:
        """Return the days of `also` with their seconds: a mapping from days, or a list that may hold repeats."""
        found: list[tuple[Days, int]] = []
        written: list[tuple[DayRange, int, str]] = []
        entries = self._mapped(node, where) if isinstance(node, MappingNode) else self._listed(node, where)
        for day_node, days, seconds, text in entries:
            found.append((days, seconds))
            if isinstance(days, Repeat):
                continue
            other = next((old for old in written if old[1] != seconds and _meet(old[0], days)), None)
            if other:
                what = f"{quoted(text)} contradicts {quoted(other[2])}"
                self._ask.faults.note(day_node, where, what, "give each day one time")
            written.append((days, seconds, text))
        return tuple(found)

    def _entries(self, node: Node, where: str) -> list[Node]:
        return self._ask.items(node, where, most=_MOST_ENTRIES)[:_MOST_ENTRIES]

    def _off_entry(self, node: Node, where: str) -> Days | None:
        if not isinstance(node, MappingNode):
            return self._day(node, where)
        fields = self._ask.fields(node, where, _REPEAT_EXAMPLES, ())
        return self._repeat(fields.get("every"), fields.get("from"), where)

    def _mapped(self, node: Node, where: str) -> Iterator[tuple[Node, Days, int, str]]:
        pairs = self._ask.pairs(node, where, "2027-04-24: 8 h")
        if len(pairs) > _MOST_ENTRIES:
            self._ask.faults.note(node, where, f"{len(pairs)} days are named", f"name at most {_MOST_ENTRIES}")
        for key_node, key, value_node in pairs[:_MOST_ENTRIES]:
            place = inside(where, key)
            days = self._range(key_node, where, key)
            seconds = read_hours_of_day_s(self._ask, value_node, place)
            if days is not None and seconds is not None:
                yield key_node, days, seconds, f"{key}: {text_of(value_node)}"

    def _listed(self, node: Node, where: str) -> Iterator[tuple[Node, Days, int, str]]:
        for number, item in enumerate(self._entries(node, where), start=1):
            place = f"{where}[{number}]"
            names_a_day = isinstance(item, MappingNode) and any(key.value == "day" for key, _ in item.value)
            required = (_DAY_EXAMPLE if names_a_day else _REPEAT_EXAMPLES) | _TIME_EXAMPLE
            fields = self._ask.fields(item, place, required, ())
            if names_a_day:
                days = self._day(fields.get("day"), inside(place, "day"))
            else:
                days = self._repeat(fields.get("every"), fields.get("from"), place)
            time = fields.get("time")
            seconds = None if time is None else read_hours_of_day_s(self._ask, time, inside(place, "time"))
            if time is not None and days is not None and seconds is not None:
                written = fields["day" if names_a_day else "every"]
                yield item, days, seconds, f"{text_of(written)}: {text_of(time)}"

    def _day(self, node: Node | None, where: str) -> Days | None:
        text = None if node is None else self._ask.text(node, where)
        return None if node is None or text is None else self._range(node, where, text)

    def _range(self, node: Node, where: str, text: str) -> DayRange | None:
        first_text, dots, last_text = (part.strip() for part in text.partition(".."))
        named = days_in(text)
        if not dots and len(named) > 1:
            what = f"{quoted(text)} names more than one day"
            self._ask.faults.note(node, where, what, f"write {named[0]}..{named[1]}, or one day for each entry")
            return None
        first = day_written(self._ask, node, where, first_text)
        last = day_written(self._ask, node, where, last_text) if dots else first
        if first is None or last is None:
            return None
        if last < first:
            self._ask.faults.note(node, where, f"{quoted(text)} ends before it begins", f"write {last}..{first}")
            return None
        if (last - first).days > _LONGEST_DAYS:
            self._ask.faults.note(node, where, f"{quoted(text)} covers more than 3 years", "end it earlier")
            return None
        return DayRange(first=first, last=last)

    def _repeat(self, every: Node | None, start_node: Node | None, where: str) -> Repeat | None:
        text = None if every is None else self._ask.text(every, inside(where, "every"))
        start = None if start_node is None else self._start(start_node, inside(where, "from"))
        if every is None or text is None:
            return None
        self._repeat_count += 1
        if self._repeat_count > _MOST_REPEATS:
            what = f"there are more than {_MOST_REPEATS} rules"
            self._ask.faults.note(every, inside(where, "every"), what, "name the days by date")
            return None
        rule = rule_of(text)
        fault = rule_fault(rule)
        repeat = None if start is None or fault else Repeat(rule=rule, start=start)
        if repeat and not has_days(repeat):
            fault = (f"no day ever comes by the rule {quoted(text)}", "change the rule or the day under from")
        if fault:
            self._ask.faults.note(every, inside(where, "every"), *fault)
            return None
        return repeat

    def _start(self, node: Node, where: str) -> dt.date | None:
        day = read_day(self._ask, node, where)
        if day is None or day.year >= _EARLIEST_YEAR:
            return day
        what = f"{quoted(day.isoformat())} lies before {_EARLIEST_YEAR}"
        self._ask.faults.note(node, where, what, "write the first day that is meant")
        return None


def _meet(one: DayRange, other: DayRange) -> bool:
    return one.first <= other.last and other.first <= one.last
