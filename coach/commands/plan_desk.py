"""What the Plan screen asks of the disk: the plan and its text, what is done of it, and a place for the edited plan."""

from pathlib import Path

from coach.commands.edited_plan import refuse_where_only_shown
from coach.plan.commission import Plan
from coach.plan.reading import read_plan
from coach.plan.writing import edited_text
from coach.screens.plan.desk import Kept, Opened, Standing
from coach.session.session_service import SessionService
from coach.store.plan_file import PlanFile, save_plan
from coach.store.system_clock import SystemClock
from coach.text import sanitized


class PlanDesk:
    """Serves one sitting; only `save` may be called from a thread."""

    def __init__(self, plan_path: Path, sitting: SessionService, clock: SystemClock) -> None:
        """Serve the plan of a session, and what its journal adds up to."""
        self._file, self._sitting, self._clock = PlanFile(plan_path), sitting, clock

    def opened(self) -> Opened:
        """Return the plan as it is written now; a text that the sitting has read already is not read again."""
        text = self._file.read()
        if self._sitting.state.plan_text == text:
            return Opened(text, self._sitting.plan)
        return Opened(text, read_plan(text, self._file.name))

    def standing(self) -> Standing:
        """Return what the journal holds of the work now."""
        state, now = self._sitting.state, self._sitting.situation()
        begun = now.turn_ms > 0 or now.notes or now.is_marked or now.went_other_way
        return Standing(self._clock.today(), state.places, state.marks, now.turn, bool(begun))

    def save(self, opened: Opened, plan: Plan) -> Kept:
        """Save a plan that was made of `opened`, in the painter's own text."""
        refuse_where_only_shown(self._sitting, "not saved")
        text = edited_text(opened.text, opened.plan, plan)
        saved = save_plan(self._file.path, text, read_text=opened.text)
        name = sanitized(self._file.path.name)
        if saved.kept_beside is None:
            return Kept(text, f"Saved in {name}; the easel takes it up at the next key.")
        beside = sanitized(saved.kept_beside.name)
        said = f"{name} was changed by another hand and stays so; your plan lies in {beside}."
        return Kept(text, said, saved.difference or ("Both say the same.",))
