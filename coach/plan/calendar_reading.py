"""Days off and days with hours of their own: dates, ranges and days that come again."""

from collections.abc import Iterator
from typing import Final

from yaml.nodes import MappingNode, Node

from coach.plan.delivery import DayRange, Days, Repeat
from coach.plan.key_table import KEYS_INSIDE, MOST_DAYS
from coach.plan.node_reading import NodeReader, inside, text_of
from coach.plan.problems import quoted
from coach.plan.repeat_rule import has_days
from coach.plan.time_types import DAYS, FIRST_DAY, HOURS_OF_DAY, RULE

_MOST_REPEATS: Final = 12


class CalendarReader:
    """Reads `off` and `also`; bounds how many rules one of them holds, for each rule costs work to check."""

    def __init__(self, nodes: NodeReader) -> None:
        """Ask nodes through `nodes`."""
        self._nodes = nodes
        self._repeat_count = 0

    def off(self, node: Node, where: str) -> tuple[Days, ...]:
        """Return the days of `off`: a list of dates, ranges and repeats."""
        self._repeat_count = 0
        found: list[Days | None] = []
        for item, place in self._entries(node, where):
            if isinstance(item, MappingNode):
                found.append(self._repeat(self._nodes.fields(item, place, KEYS_INSIDE["off"]), place))
            else:
                found.append(self._nodes.value(item, place, DAYS.read))
        return tuple(days for days in found if days is not None)

    def also(self, node: Node, where: str) -> tuple[tuple[Days, int], ...]:
        """Return the days of `also` with their seconds: a mapping from days, or a list that may hold repeats."""
        self._repeat_count = 0
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
                self._nodes.problems.note(day_node, where, what, "give each day one time")
            written.append((days, seconds, text))
        return tuple(found)

    def _entries(self, node: Node, where: str) -> Iterator[tuple[Node, str]]:
        items = self._nodes.items(node, where, most=MOST_DAYS)[:MOST_DAYS]
        return ((item, f"{where}[{number}]") for number, item in enumerate(items, start=1))

    def _mapped(self, node: Node, where: str) -> Iterator[tuple[Node, Days, int, str]]:
        pairs = self._nodes.pairs(node, where, "2027-04-24: 8 h")
        if len(pairs) > MOST_DAYS:
            self._nodes.problems.note(node, where, f"{len(pairs)} days are named", f"name at most {MOST_DAYS}")
        for key_node, key, value_node in pairs[:MOST_DAYS]:
            place = inside(where, key)
            days = self._nodes.read(key_node, place, key, DAYS.read)
            seconds = self._nodes.value(value_node, place, HOURS_OF_DAY.read)
            if days is not None and seconds is not None:
                yield key_node, days, seconds, f"{key}: {text_of(value_node)}"

    def _listed(self, node: Node, where: str) -> Iterator[tuple[Node, Days, int, str]]:
        for item, place in self._entries(node, where):
            names_a_day = isinstance(item, MappingNode) and any(text_of(key) == "day" for key, _ in item.value)
            others = ("every", "from") if names_a_day else ("day",)
            keys = {name: key for name, key in KEYS_INSIDE["also"].items() if name not in others}
            fields = self._nodes.fields(item, place, keys)
            days: Days | None = None
            if not names_a_day:
                days = self._repeat(fields, place)
            elif "day" in fields:
                days = self._nodes.value(fields["day"], inside(place, "day"), DAYS.read)
            if "time" not in fields:
                continue
            seconds = self._nodes.value(fields["time"], inside(place, "time"), HOURS_OF_DAY.read)
            if days is not None and seconds is not None:
                written = fields["day" if names_a_day else "every"]
                yield item, days, seconds, f"{text_of(written)}: {text_of(fields['time'])}"

    def _repeat(self, fields: dict[str, Node], where: str) -> Repeat | None:
        every, start_node = fields.get("every"), fields.get("from")
        place = inside(where, "every")
        rule = None if every is None else self._nodes.value(every, place, RULE.read)
        start = None if start_node is None else self._nodes.value(start_node, inside(where, "from"), FIRST_DAY.read)
        if every is None or rule is None:
            return None
        self._repeat_count += 1
        if self._repeat_count > _MOST_REPEATS:
            what = f"there are more than {_MOST_REPEATS} rules"
            self._nodes.problems.note(every, place, what, "name the days by date")
            return None
        repeat = None if start is None else Repeat(rule=rule, start=start)
        if repeat and not has_days(repeat):
            what = f"no day ever comes by the rule {quoted(text_of(every))}"
            self._nodes.problems.note(every, place, what, "change the rule or the day under from")
            return None
        return repeat


def _meet(one: DayRange, other: DayRange) -> bool:
    return one.first <= other.last and other.first <= one.last
