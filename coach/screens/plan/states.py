"""How far a passage is on each canvas: a sign and a word for it."""

import enum
from collections.abc import Iterable

from coach.plan.commission import RETURN_TO, Plan
from coach.screens.plan.desk import Standing, corrected_pass
from coach.screens.plan.tree import Row
from coach.session.journal_state import SKIPPED


class State(enum.Enum):
    """How far a passage is on a canvas; the value is its sign and its word."""

    TO_COME = ("·", "to come")
    IN_HAND = ("»", "in hand")
    DONE = ("√", "done")
    SKIPPED = ("-", "skipped")
    MARKED = ("↺", "marked for return")
    PARTLY = ("+", "partly")

    @property
    def sign(self) -> str:
        """One character, one cell wide."""
        return self.value[0]

    @property
    def word(self) -> str:
        """The word for it."""
        return self.value[1]


LEGEND = "  ".join(f"{state.sign} {state.word}" for state in State)
"""What the signs mean."""


class States:
    """Answers how far the rows of a plan are; what it has said of a pass it need not reckon again."""

    def __init__(self, plan: Plan, standing: Standing) -> None:
        """Answer for the canvases of a plan."""
        self._standing = standing
        self._canvases = tuple(canvas.name for canvas in plan.canvases)
        self._of_pass: dict[int, tuple[Row, tuple[State, ...]]] = {}

    def of(self, row: Row) -> tuple[State, ...]:
        """Return how far a row is on each canvas."""
        if row.passage is not None:
            return tuple(self._state(row.one_pass.name, row.passage.name, canvas) for canvas in self._canvases)
        if row.run is not None:
            return self._together(row.one_pass.name, row.run.passage_names)
        if id(row) not in self._of_pass:  # the row is kept with the answer, so that its id stays its own
            names = [passage.name for passage in row.one_pass.passages]
            self._of_pass[id(row)] = (row, self._together(row.one_pass.name, names))
        return self._of_pass[id(row)][1]

    def _together(self, pass_name: str, names: Iterable[str]) -> tuple[State, ...]:
        known = tuple(names)
        return tuple(_together({self._state(pass_name, name, canvas) for name in known}) for canvas in self._canvases)

    def _state(self, pass_name: str, name: str, canvas: str) -> State:
        places, marks, turn = self._standing.places, self._standing.marks, self._standing.in_hand
        is_there = turn is not None and turn.canvas == canvas and corrected_pass(turn.pass_name) == pass_name
        if is_there and turn is not None and name in turn.passages:
            return State.IN_HAND
        shape = (pass_name, name, canvas)
        while shape in places:
            if shape not in marks:
                return State.SKIPPED if places[shape] == SKIPPED else State.DONE
            shape = (RETURN_TO + shape[0], name, canvas)
        return State.MARKED if shape[0] != pass_name else State.TO_COME


def _together(states: set[State]) -> State:
    if len(states) == 1:
        return next(iter(states))
    if states == {State.DONE, State.SKIPPED}:
        return State.DONE
    return next((state for state in (State.IN_HAND, State.MARKED) if state in states), State.PARTLY)
