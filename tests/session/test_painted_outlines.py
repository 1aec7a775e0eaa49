"""What is painted keeps the outline it was painted in, whatever becomes of the shapes."""

from collections.abc import Mapping

from coach.journal.body import body_of
from coach.journal.events import Kind
from coach.review.log_table import plain_row
from coach.session import moves
from coach.session.journal_state import state_of
from coach.session.session_service import SessionService
from tests.sessions import Easel

PLAN = """
canvases: [Hall, School]
photo: keeper.png
shapes: keeper.shapes.svg
order: always the same
limits: {press: 0 s}
passes:
  - name: eyes
    passages:
      - {name: lid, shapes: [k1, k2]}
      - {name: step back, check: step back, shapes: k1}
      - {name: iris, shapes: [k3, k9]}
  - {name: accents, passages: [{name: lid light, shapes: k1}]}
"""
OLD = {"k1": "M0,0 9,0 9,9Z", "k2": "M9,0 20,0 9,9Z", "k3": "M1,1 2,1 2,2Z"}
NEW = {**OLD, "k1": "M0,0 8,0 9,9Z"}


class DrawnShapes:
    """A file of shapes in memory."""

    def __init__(self, paths: Mapping[str, str]) -> None:
        self.paths = paths

    def prepare(self, name: str) -> None:
        assert name == "keeper.shapes.svg"

    def read(self, name: str) -> Mapping[str, str]:
        self.prepare(name)
        return self.paths


class ShapedEasel(Easel):
    """An easel with a file of shapes beside the plan."""

    def __init__(self, text: str = PLAN) -> None:
        self.drawn = DrawnShapes(OLD)
        super().__init__(text)

    def opened(self, *, read_only: str = "") -> SessionService:
        session = SessionService(
            plan=self.plan,
            journal=self.journal,
            clock=self.clock,
            source=self.source,
            last_seen=self.word,
            read_only=read_only,
            outlines=self.drawn,
        )
        session.open(self.source.text)
        return session

    def paint(self, turns: int) -> None:
        """Paint so many turns."""
        for _ in range(turns):
            self.session.make(moves.go_on)

    @property
    def stored(self) -> list[Mapping[str, str]]:
        """What the journal stores with the turns that are done."""
        return [event.outlines for event in self.journal.events if event.kind is Kind.TURN_DONE]


def test_an_outline_is_stored_once_and_again_only_where_it_was_drawn_anew() -> None:
    easel = ShapedEasel()
    easel.paint(2)
    easel.drawn.paths = NEW
    easel.paint(1)
    assert easel.stored == [{"k1": OLD["k1"], "k2": OLD["k2"]}, {"k1": NEW["k1"], "k2": ""}]


def test_an_edit_of_an_outline_changes_nothing_of_what_is_painted() -> None:
    easel = ShapedEasel()
    easel.paint(2)
    easel.drawn.paths = NEW
    easel.paint(8)
    turns = easel.session.state.turns
    assert [dict(record.outlines) for record in turns] == [
        {"k1": OLD["k1"], "k2": OLD["k2"]},
        {"k1": NEW["k1"], "k2": NEW["k2"]},
        *[{}] * 2,  # nothing is painted in a check
        *[{"k3": OLD["k3"]}] * 2,  # the file has no k9
        *[{"k1": NEW["k1"]}] * 2,
    ]
    assert state_of(easel.journal.events).turns == turns
    assert plain_row(turns[0])["outlines"] == {"k1": OLD["k1"], "k2": OLD["k2"]}


def test_what_was_stored_with_a_turn_that_is_undone_is_stored_anew() -> None:
    easel = ShapedEasel()
    easel.paint(2)
    easel.session.make(moves.undo)
    easel.paint(2)
    assert easel.stored == [{"k1": OLD["k1"], "k2": OLD["k2"]}] * 2 + [{"k1": "", "k2": ""}]
    easel.reopen()
    assert [dict(record.outlines) for record in easel.session.state.turns] == [{"k1": OLD["k1"], "k2": OLD["k2"]}] * 2


def test_a_plan_without_shapes_writes_what_it_wrote_before() -> None:
    bare = PLAN.replace("shapes: keeper.shapes.svg\n", "").replace(", shapes: [k1, k2]", "").replace(", shapes: k1", "")
    for text in (bare.replace(", shapes: [k3, k9]", ""), PLAN.replace("shapes: keeper.shapes.svg\n", "")):
        shaped, plain = ShapedEasel(text), Easel(text)
        for easel in (shaped, plain):
            for _ in range(4):
                easel.session.make(moves.go_on)
        assert [body_of(event) for event in shaped.journal.events] == [body_of(event) for event in plain.journal.events]
        assert not any(shaped.stored)
