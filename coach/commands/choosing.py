"""What the chooser tells of the commissions in a folder."""

from collections.abc import Sequence
from pathlib import Path

from coach.commands.log_of_plan import earlier_states, journal_state
from coach.errors import CoachError
from coach.journal.reading import local_time
from coach.plan.reading import read_plan
from coach.screens.chooser.view import CommissionCard
from coach.session.work import work_of_journal
from coach.store.plan_file import PlanFile
from coach.store.system_clock import SystemClock
from coach.text import sanitized


class CommissionShelf:
    """Plans and their journals, read by number; may be asked from a thread."""

    def __init__(self, paths: Sequence[Path]) -> None:
        """Serve plans; nothing is read yet."""
        self.paths = paths
        self._cards: dict[int, CommissionCard] = {}

    @property
    def names(self) -> list[str]:
        """The names of the plans."""
        return [sanitized(str(path)) for path in self.paths]

    def card(self, number: int) -> CommissionCard:
        """Return how far a commission is; a fault where it cannot be read."""
        path, name = self.paths[number], self.names[number]
        try:
            plan = read_plan(PlanFile(path).read(), name)
            state = journal_state(path)
            work = work_of_journal(plan, state, absent=plan.absent_on(SystemClock().today()))
        except CoachError as error:
            card = CommissionCard(name, fault=str(error))
        else:
            card = CommissionCard(
                plan.commission or name,
                plan.due,
                work.done_s / work.planned_s,
                local_time(state.turns[-1].ended).date() if state.turns else None,
            )
        self._cards[number] = card
        return card

    def card_with_chance(self, number: int) -> CommissionCard:
        """Return the same with the chance of its due day; the card as it is where nothing can be foretold."""
        from coach.forecast.answer import brief_of  # noqa: PLC0415  the page stands before numbers are loaded
        from coach.review.forecast_input import forecast_input  # noqa: PLC0415

        card, path = self._cards[number], self.paths[number]
        if card.fault or card.due is None:
            return card
        try:
            plan = read_plan(PlanFile(path).read(), self.names[number])
            asked = forecast_input(plan, journal_state(path), SystemClock().today(), earlier_states(path, plan))
        except CoachError:
            return card
        return card._replace(chance=brief_of(asked.plan, asked.outlook).chance)
