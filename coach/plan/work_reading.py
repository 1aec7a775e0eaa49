"""The work itself: passes and their passages."""

from collections.abc import Mapping
from typing import Final

from yaml.nodes import Node

from coach.plan.commission import RETURN_TO, Mixture, Pass, Passage, Run, runs_of
from coach.plan.layer_reading import EarlierPassages
from coach.plan.node_reading import Asker, inside
from coach.plan.part_reading import named_fields, optional, read_named
from coach.plan.problems import did_you_mean, quoted
from coach.plan.value_reading import read_area_cm2, read_duration_s, read_number

_PASSAGE_KEYS: Final = ("value", "minutes", "area", "mixture", "beside", "difficulty", "lead", "over", "into")
_VALUE_WHITE: Final = 10.0
_HARDEST: Final = 10.0


class WorkReader:
    """Reads passes; knows the mixtures and canvases that passages may name."""

    def __init__(self, mixtures: tuple[Mixture, ...] | None, canvases: tuple[str, ...]) -> None:
        """Check names of mixtures against `mixtures`; None where the plan gives no recipes."""
        self._canvases = canvases
        self._mixtures = None if mixtures is None else dict.fromkeys(mixture.name for mixture in mixtures)
        self._earlier = EarlierPassages()

    def read_pass(self, ask: Asker, node: Node, where: str) -> Pass | None:
        """Return one pass with its runs; a passage may only stand beside an earlier one."""
        named = named_fields(ask, node, where, (), {"passages": "passages: [first shape, second shape]"})
        if named is None or "passages" not in named[1]:
            return None
        name, fields = named
        if name.startswith(RETURN_TO):
            what = f"a pass may not be called {quoted(name)}: the coach names the corrections so"
            ask.faults.note(node, where, what, name.removeprefix(RETURN_TO))
        earlier: dict[str, str] = {}

        def read_next(ask: Asker, node: Node, where: str) -> Passage | None:
            passage = self._read_passage(ask, node, where, name, earlier)
            if passage is not None:
                earlier.setdefault(passage.name.casefold(), passage.name)
                self._earlier.add(name, passage.name)
            return passage

        place = inside(where, "passages")
        passages = read_named(ask, fields["passages"], place, read_next)
        if not passages:
            return None
        runs = runs_of(name, passages)
        for run in runs:
            _note_contradictions(ask, fields["passages"], place, run)
        return Pass(name=name, passages=passages, runs=runs)

    def _read_passage(
        self, ask: Asker, node: Node, where: str, pass_name: str, earlier: Mapping[str, str]
    ) -> Passage | None:
        named = named_fields(ask, node, where, _PASSAGE_KEYS)
        if named is None:
            return None
        name, fields = named

        def read_layer(ask: Asker, node: Node, where: str) -> tuple[str, str] | None:
            return self._earlier.read(ask, node, where, pass_name)

        if "over" in fields and "into" in fields:
            what = f"{quoted(name)} lies over a dry passage or is painted into a wet one, not both"
            ask.faults.note(fields["into"], where, what, "delete over or into")
        return Passage(
            name=name,
            planned_s=optional(ask, fields, where, "minutes", _read_minutes),
            value=optional(ask, fields, where, "value", _read_value),
            area_cm2=optional(ask, fields, where, "area", read_area_cm2),
            mixture=optional(ask, fields, where, "mixture", self._read_mixture_name),
            difficulty=optional(ask, fields, where, "difficulty", _read_difficulty) or 1.0,
            lead=optional(ask, fields, where, "lead", self._read_lead),
            beside=self._read_beside(ask, fields.get("beside"), inside(where, "beside"), earlier),
            over=optional(ask, fields, where, "over", read_layer),
            into=optional(ask, fields, where, "into", read_layer),
        )

    def _read_mixture_name(self, ask: Asker, node: Node, where: str) -> str | None:
        name = ask.text(node, where)
        if name is None or self._mixtures is None or name in self._mixtures:
            return name
        meant = did_you_mean(name, self._mixtures) or "add it under mixtures"
        ask.faults.note(node, where, f"there is no mixture {quoted(name)}", meant)
        return None

    def _read_lead(self, ask: Asker, node: Node, where: str) -> str | None:
        name = ask.text(node, where)
        if name is None or name in self._canvases:
            return name
        ask.faults.note(node, where, f"there is no canvas {quoted(name)}", did_you_mean(name, self._canvases))
        return None

    @staticmethod
    def _read_beside(ask: Asker, node: Node | None, where: str, earlier: Mapping[str, str]) -> str | None:
        name = None if node is None else ask.text(node, where)
        if node is None or name is None or earlier.get(name.casefold()) == name:
            return name
        meant = did_you_mean(name, earlier.values()) or "name a passage above it, or delete beside"
        ask.faults.note(node, where, f"no earlier passage of this pass is called {quoted(name)}", meant)
        return None


def _note_contradictions(ask: Asker, node: Node, where: str, run: Run) -> None:
    together = " + ".join(run.passage_names)
    if len({passage.lead for passage in run.passages if passage.lead}) > 1:
        what = f"{quoted(together)} form one run but name different leads"
        ask.faults.note(node, where, what, "name one lead for the run")
    for passage in run.passages:
        if passage.over and passage.over[0] == run.pass_name and passage.over[1] in run.passage_names:
            what = f"{quoted(together)} are painted in one run, so {quoted(passage.over[1])} is still wet"
            ask.faults.note(node, where, what, f"write into: {passage.over[1]}, or delete beside")


def _read_minutes(ask: Asker, node: Node, where: str) -> int | None:
    return read_duration_s(ask, node, where, bare_minutes=True)


def _read_difficulty(ask: Asker, node: Node, where: str) -> float | None:
    difficulty = read_number(ask, node, where, most=_HARDEST)
    if difficulty == 0:
        ask.faults.note(node, where, "a difficulty is greater than 0", "write a number such as 1.5")
    return difficulty


def _read_value(ask: Asker, node: Node, where: str) -> float | None:
    return read_number(ask, node, where, most=_VALUE_WHITE)
