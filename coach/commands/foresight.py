"""What the Deadline screen asks of the disk: the plan, its journals, and a place for a changed plan."""

from pathlib import Path

from coach.commands.edited_plan import refuse_where_only_shown, write_edit
from coach.commands.log_of_plan import earlier_events, events_of
from coach.errors import CoachError
from coach.plan.commission import Plan
from coach.plan.problems import PlanError
from coach.plan.reading import read_plan
from coach.review.outlook_from_log import Asked, asked_of
from coach.session.session_service import SessionService
from coach.store.plan_file import PlanFile
from coach.store.system_clock import SystemClock


class Foresight:
    """Reads journals by a connection of its own, so that it may be asked from a thread."""

    def __init__(self, plan_path: Path, sitting: SessionService, clock: SystemClock) -> None:
        """Serve the plan of a sitting."""
        self._path, self._sitting, self._clock = plan_path, sitting, clock

    def asked(self) -> Asked:
        """Return what to ask a forecast now: the plan in its file, or the one in force where that has faults."""
        file = PlanFile(self._path)
        try:
            plan = read_plan(file.read(), file.name)
        except PlanError:
            plan = self._sitting.plan
        return asked_of(plan, events_of(self._path), self._clock.today(), earlier_events(self._path, plan))

    def now_ms(self) -> int:
        """Return the elapsed clock, in milliseconds."""
        return self._clock.read().elapsed_ms

    def write(self, before: Plan, after: Plan) -> str:
        """Write a changed plan into its file and return in a sentence what was done."""
        refuse_where_only_shown(self._sitting, "not written")
        file = PlanFile(self._path)
        text = file.read()
        if read_plan(text, file.name) != before:
            raise CoachError("the plan was changed meanwhile; ask for the forecast again", where=file.name)
        return write_edit(file, text, before, after, "the change lies")
