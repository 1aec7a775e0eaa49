"""The text of a plan into a `Plan`, or every fault in it at once."""

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from itertools import pairwise
from typing import Any, Final

from yaml.nodes import MappingNode, Node, SequenceNode

from coach.plan.calendar_reading import CalendarReader
from coach.plan.commission import RETURN_TO, Address, Limits, Pass, Passage, Plan, Run, runs_of
from coach.plan.delivery import Approval
from coach.plan.key_table import (
    KEYS_INSIDE,
    MOST_STOPS,
    NOT_OF_A_CHECK,
    PARTS,
    RECORD_TYPES,
    RISING,
    Figures,
    ListOf,
    PlanKey,
    Records,
)
from coach.plan.layers import EarlierPassages
from coach.plan.node_reading import NodeReader, ProblemList, inside, text_of
from coach.plan.photo_reading import PhotoReader
from coach.plan.problems import Problem, did_you_mean, quoted
from coach.plan.time_types import AWAY, HOURS_OF_DAY, weekdays
from coach.plan.value_types import ValueType, WrongValueError
from coach.plan.yaml_text import tree_of

_NAMED_BY_OTHERS: Final = ("palette", "mixtures", "canvases", "passes")
"""Keys that are read first, each before those that name its entries."""


def read_plan(text: str, file_name: str) -> Plan:
    """Return the plan written in `text`.

    Args:
        text: YAML, as the published schema (`plan.schema.json`) describes it.
        file_name: Name used in the sentences about faults.

    Raises:
        PlanError: The plan has faults; all of them are in the error, each with line, column and a suggestion.
    """
    problems = ProblemList(file_name)
    plan = _PlanReader(NodeReader(problems)).plan(tree_of(text, file_name))
    if problems.problems:
        raise problems.error()
    return plan


def problems_on(plan: Plan, today: dt.date) -> tuple[Problem, ...]:
    """Return what is wrong with a plan that can be read, seen from `today`; painting can go on all the same."""
    if plan.due is None or plan.due >= today:
        return ()
    what = f"{plan.due.isoformat()} is past: today is {today.isoformat()}"
    return (Problem(line=0, column=0, where="due", what=what, suggestion="write the day that was agreed"),)


class _PlanReader:
    """Reads by the table of keys; knows what was read so far, for some keys name the entries of others."""

    def __init__(self, nodes: NodeReader) -> None:
        self._nodes = nodes
        self._names: dict[str, Mapping[str, None]] = {"palette": {}, "canvases": {}, "passes": {}}
        self._pass_name = ""
        self._above: dict[str, str] = {}
        self._shape_in: dict[str, str] = {}
        self._checks: set[Address] = set()
        self._earlier = EarlierPassages()
        calendar, photo = CalendarReader(nodes), PhotoReader(nodes)
        self._structures: Mapping[str, Callable[[Node, str], Any]] = {
            "week": self._week,
            "off": calendar.off,
            "also": calendar.also,
            "keep": photo.boxes,
            "box": photo.box,
            "crop": photo.box,
            "photo": photo.span,
            "paint": photo.span,
            "parts": self._parts,
            "approval": self._approvals,
        }
        self._references: Mapping[tuple[str, str], Callable[[str], Any]] = {
            ("", "away"): self._away,
            ("approval", "after"): self._shown_pass,
            ("passages", "mixture"): self._mixture,
            ("passages", "lead"): self._canvas,
            ("passages", "beside"): self._beside,
            ("passages", "over"): self._layer,
            ("passages", "into"): self._layer,
        }

    def plan(self, root: Node) -> Plan:
        keys = KEYS_INSIDE[""]
        fields = self._nodes.fields(root, "", keys)
        values: dict[str, Any] = {"canvases": (), "passes": ()}
        for name in dict.fromkeys((*_NAMED_BY_OTHERS, *keys)):
            if name not in fields:
                continue
            value = self._value(keys[name], fields[name], name)
            if value is not None:
                values[keys[name].data_field] = value
            if name in _NAMED_BY_OTHERS:
                self._names[name] = dict.fromkeys(entry.name for entry in value)
        return Plan(**values)

    def _value(self, key: PlanKey, node: Node, where: str) -> Any:  # noqa: ANN401  what the key takes
        match key.takes:
            case ValueType() as one:
                return self._nodes.value(node, where, self._references.get((key.inside, key.name), one.read))
            case ListOf() as several:
                return self._list(key, several, node, where)
            case Records() as entries:
                return self._records(key.name, node, where, entries.most)
            case Figures():
                return self._figures(key.name, node, where)
        return self._structures[key.name](node, where)

    def _values(self, fields: Mapping[str, Node], where: str, keys: Iterable[PlanKey]) -> dict[str, Any]:
        found = (
            (key, self._value(key, fields[key.name], inside(where, key.name))) for key in keys if key.name in fields
        )
        return {key.data_field: value for key, value in found if value is not None}

    def _list(self, key: PlanKey, several: ListOf, node: Node, where: str) -> tuple[Any, ...]:
        read = self._references.get((key.inside, key.name), several.item.read)
        if several.is_one_bare and not isinstance(node, SequenceNode):
            value = self._nodes.value(node, where, read, form=several.form)
            return () if value is None else (value,)
        found: list[Any] = []
        names: set[str] = set()
        for number, item in enumerate(self._nodes.items(node, where, most=several.most), start=1):
            place = f"{where}[{number}]"
            value = self._nodes.value(item, place, read, form=several.form)
            if isinstance(value, str | float) and str(value).casefold() in names:
                what = f"{several.noun}{quoted(text_of(item))} stands twice"
                self._nodes.problems.note(item, place, what, "keep one of them")
            elif value is not None:
                found.append(value)
                names.add(str(value).casefold())
        return tuple(found)

    def _figures(self, section: str, node: Node, where: str) -> Any:  # noqa: ANN401  the data of that section
        keys = KEYS_INSIDE[section]
        fields = self._nodes.fields(node, where, keys)
        values = self._values(fields, where, keys.values())
        if section == "limits":
            values = self._risen(fields, where, values)
        if not all(key.data_field in values for key in keys.values() if key.is_required):
            return None
        return RECORD_TYPES[section](**values)

    def _records(self, section: str, node: Node, where: str, most: int | None) -> tuple[Any, ...]:
        """Return the entries of a list whose names all differ, capitals aside."""
        entries: dict[str, Any] = {}
        for number, item in enumerate(self._nodes.items(node, where, most=most), start=1):
            place = f"{where}[{number}]"
            entry = self._record(section, item, place)
            if entry is None:
                continue
            if entry.name.casefold() in entries:
                what = f"the name {quoted(entry.name)} stands twice"
                self._nodes.problems.note(item, place, what, "give each its own name")
            else:
                entries[entry.name.casefold()] = entry
        return tuple(entries.values())

    def _record(self, section: str, node: Node, where: str) -> Any:  # noqa: ANN401  the data of that section
        """Return an entry, a mapping or just a name; None where something it needs is not there."""
        keys = KEYS_INSIDE[section]
        is_mapping = isinstance(node, MappingNode)
        fields = self._nodes.fields(node, where, keys) if is_mapping else {"name": node}
        if "name" not in fields:
            return None
        name = self._nodes.text(fields["name"], inside(where, "name") if is_mapping else where)
        if name is None:
            return None
        if section == "passes":
            self._open_pass(name, node, where)
        others = [key for key in keys.values() if key.name != "name"]
        values = {"name": name, **self._values(fields, where, others)}
        required = [key for key in others if key.is_required]
        for key in required if not is_mapping else ():
            suggestion = f"write {{name: ..., {key.example}}}"
            self._nodes.problems.note(node, where, f"{quoted(name)} has no {key.name}", suggestion)
        if not all(key.data_field in values for key in required):
            return None
        if section == "passes":
            return self._closed_pass(name, values["passages"], fields["passages"], inside(where, "passages"))
        return self._passage(values, fields, where) if section == "passages" else RECORD_TYPES[section](**values)

    def _open_pass(self, name: str, node: Node, where: str) -> None:
        self._pass_name, self._above, self._shape_in = name, {}, {}
        if name.startswith(RETURN_TO):
            what = f"a pass may not be called {quoted(name)}: the coach names the corrections so"
            self._nodes.problems.note(node, where, what, name.removeprefix(RETURN_TO))

    def _closed_pass(self, name: str, passages: tuple[Passage, ...], node: Node, where: str) -> Pass | None:
        runs = runs_of(name, passages)
        for run in runs:
            self._note_contradictions(run, node, where)
        return Pass(name=name, passages=passages, runs=runs) if passages else None

    def _note_contradictions(self, run: Run, node: Node, where: str) -> None:
        together = " + ".join(run.passage_names)
        if len({passage.lead for passage in run.passages if passage.lead}) > 1:
            what = f"{quoted(together)} form one run but name different leads"
            self._nodes.problems.note(node, where, what, "name one lead for the run")
        for passage in run.passages:
            if passage.over and passage.over[0] == run.pass_name and passage.over[1] in run.passage_names:
                what = f"{quoted(together)} are painted in one run, so {quoted(passage.over[1])} is still wet"
                self._nodes.problems.note(node, where, what, f"write into: {passage.over[1]}, or delete beside")

    def _passage(self, values: Mapping[str, Any], fields: Mapping[str, Node], where: str) -> Passage:
        passage = Passage(**values)
        if "over" in fields and "into" in fields:
            what = f"{quoted(passage.name)} lies over a dry passage or is painted into a wet one, not both"
            self._nodes.problems.note(fields["into"], where, what, "delete over or into")
        if passage.check:
            self._checks.add((self._pass_name, passage.name))
            self._note_paint(passage.name, fields, where)
        else:
            self._note_shared_shapes(passage, fields, where)
        self._above.setdefault(passage.name.casefold(), passage.name)
        self._earlier.add((self._pass_name, passage.name))
        return passage

    def _note_paint(self, name: str, fields: Mapping[str, Node], where: str) -> None:
        paint = [key for key in NOT_OF_A_CHECK if key in fields]
        if paint:
            what = f"{quoted(name)} is a check and lays no paint"
            self._nodes.problems.note(fields[paint[0]], where, what, f"delete {', '.join(paint)}")

    def _note_shared_shapes(self, passage: Passage, fields: Mapping[str, Node], where: str) -> None:
        for shape in passage.shapes:
            owner = self._shape_in.setdefault(shape, passage.name)
            if owner != passage.name:
                what = f"{quoted(shape)} belongs to {quoted(owner)} in this pass"
                place = inside(where, "shapes")
                self._nodes.problems.note(fields["shapes"], place, what, "name a shape in one passage of a pass only")

    def _painted(self, address: Address) -> Address:
        if address in self._checks:
            raise WrongValueError(
                f"{quoted(address[1])} is a check and lays no paint", "name a passage that is painted"
            )
        return address

    def _away(self, text: str) -> tuple[str, dt.date]:
        name, back = AWAY.read(text)
        return self._canvas(name), back

    def _canvas(self, name: str) -> str:
        if name not in self._names["canvases"]:
            raise WrongValueError(f"there is no canvas {quoted(name)}", did_you_mean(name, self._names["canvases"]))
        return name

    def _mixture(self, name: str) -> str:
        recipes = self._names.get("mixtures")
        if recipes is not None and name not in recipes:
            meant = did_you_mean(name, recipes) or "add it under mixtures"
            raise WrongValueError(f"there is no mixture {quoted(name)}", meant)
        return name

    def _beside(self, name: str) -> str:
        if self._above.get(name.casefold()) != name:
            meant = did_you_mean(name, self._above.values()) or "name a passage above it, or delete beside"
            raise WrongValueError(f"no earlier passage of this pass is called {quoted(name)}", meant)
        return self._painted((self._pass_name, name))[1]

    def _layer(self, name: str) -> tuple[str, str]:
        return self._painted(self._earlier.named(name, self._pass_name))

    def _week(self, node: Node, where: str) -> tuple[int, ...]:
        week_s = [0] * 7
        named: set[int] = set()
        for key_node, key, value_node in self._nodes.pairs(node, where, "mon-fri: 5 h"):
            numbers = self._nodes.read(key_node, where, key, lambda text: weekdays(text, named))
            if numbers is None:
                continue
            hours_s = self._nodes.value(value_node, inside(where, key), HOURS_OF_DAY.read)
            for number in numbers:
                week_s[number] = hours_s or 0
        return tuple(week_s)

    def _parts(self, node: Node, where: str) -> tuple[tuple[str, float], ...]:
        parts: list[tuple[str, float]] = []
        example = "{a paint: 2, another paint: 1}"
        if isinstance(node, MappingNode) and not node.value:
            self._nodes.problems.note(node, where, "no parts are named", f"write {example}")
        for key_node, paint, value_node in self._nodes.pairs(node, where, example):
            count = self._nodes.value(value_node, inside(where, paint), PARTS.read)
            if count is None:
                continue
            parts.append((paint, count))
            if paint not in self._names["palette"]:
                meant = did_you_mean(paint, self._names["palette"]) or "name it under palette"
                self._nodes.problems.note(key_node, where, f"the palette has no {quoted(paint)}", meant)
        return tuple(parts)

    def _approvals(self, node: Node, where: str) -> tuple[Approval, ...]:
        keys, found = KEYS_INSIDE["approval"], dict[str, Approval]()
        for number, item in enumerate(self._nodes.items(node, where, most=MOST_STOPS), start=1):
            place = f"{where}[{number}]"
            values = self._values(self._nodes.fields(item, place, keys), place, keys.values())
            if len(values) < len(keys):
                continue
            stop = Approval(**values)
            if stop.after in found:
                what = f"the client answers twice after {quoted(stop.after)}"
                self._nodes.problems.note(item, place, what, "keep one of them")
            found[stop.after] = stop
        return tuple(found.values())

    def _shown_pass(self, name: str) -> str:
        if name not in self._names["passes"]:
            raise WrongValueError(f"there is no pass {quoted(name)}", did_you_mean(name, self._names["passes"]))
        return name

    def _risen(self, fields: Mapping[str, Node], where: str, stated: Mapping[str, int]) -> dict[str, Any]:
        """Return limits in which figures that must rise do: one that is not stated gives way to those that are."""
        usual: dict[str, Any] = Limits()._asdict()
        for rising in RISING:
            names = [(key, KEYS_INSIDE["limits"][key].data_field) for key in rising]
            self._note_falls(fields, where, [(key, stated[name]) for key, name in names if name in stated])
            for number, (_, name) in enumerate(names):
                least = max((stated[other] for _, other in names[:number] if other in stated), default=0)
                most = min((stated[other] for _, other in names[number:] if other in stated), default=None)
                risen = max(usual[name], least)
                usual[name] = risen if most is None else min(risen, most)
        return usual | dict(stated)

    def _note_falls(self, fields: Mapping[str, Node], where: str, stated: list[tuple[str, int]]) -> None:
        for (less, less_s), (more, more_s) in pairwise(stated):
            if more_s < less_s:
                written, other = (text_of(fields[key]) for key in (more, less))
                what = f"{more}, {quoted(written)}, is shorter than {less}, {quoted(other)}"
                self._nodes.problems.note(fields[more], inside(where, more), what, f"write {more}: {other} or longer")
