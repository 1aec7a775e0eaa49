"""An edited plan on its way into its file: refused where the coach only shows, spliced into the painter's own text."""

from coach.errors import CoachError
from coach.plan.commission import Plan
from coach.plan.writing import edited_text
from coach.session.session_service import SessionService
from coach.store.plan_file import PlanFile, Saved, save_plan
from coach.text import sanitized


def refuse_where_only_shown(sitting: SessionService, refused: str) -> None:
    """Refuse to write where this coach only shows.

    Args:
        sitting: The sitting.
        refused: What is not done then, such as "not written".

    Raises:
        CoachError: The sitting records nothing; the sentence says why.
    """
    if sitting.read_only:
        raise CoachError(f"{refused}: {sitting.read_only}")


def write_edit(file: PlanFile, text: str, before: Plan, after: Plan, what: str) -> str:
    """Write an edit into a plan's file and return in a sentence what was done.

    Args:
        file: The plan's file.
        text: The text that was read from it.
        before: The plan that it reads as.
        after: The plan it is to be.
        what: What lies beside the plan if another hand has changed it meanwhile, such as "the change lies".

    Raises:
        CoachError: It cannot be written.
    """
    saved: Saved = save_plan(file.path, edited_text(text, before, after), read_text=text)
    if saved.kept_beside is not None:
        return f"{file.name} was changed meanwhile; {what} in {sanitized(saved.kept_beside.name)}"
    return f"written into {file.name}; the easel takes it up at the next key"
