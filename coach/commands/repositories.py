"""What the screens ask of the disk: the plan and its text, its photo, its journals, and a place for what is edited."""

from collections.abc import Sequence
from difflib import unified_diff
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Final

from coach.commands.log_of_plan import earlier_states, journal_state
from coach.errors import CoachError
from coach.journal.events import Kind
from coach.plan.commission import CanvasSize, Plan
from coach.plan.problems import PlanError
from coach.plan.reading import read_plan
from coach.plan.writing_in_place import edited_text
from coach.review.forecast_input import ForecastInput, forecast_input
from coach.screens.composition.state import Marked, Sitter
from coach.screens.plan.repository import OpenedPlan, PlanProgress, SaveResult
from coach.session.moves import following, taking_up
from coach.session.session_service import SessionService
from coach.store.photo import PhotoFileError, photo_size, read_linear_light
from coach.store.plan_file import PlanFile, Saved, save_plan
from coach.store.system_clock import SystemClock
from coach.text import counted, cut, sanitized

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from coach.shapes.photo_window import Box
    from coach.shapes.reference import Reference


SAVED: Final = "Saved. The easel knows it."


def refuse_where_only_shown(session: SessionService, refused: str) -> None:
    """Refuse to write where this coach only shows.

    Args:
        session: The session.
        refused: What is not done then, such as "not written".

    Raises:
        CoachError: The session records nothing; the sentence says why.
    """
    if session.read_only:
        raise CoachError(f"{refused}: {session.read_only}")


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
    return SAVED


class PlanForecastSource:
    """Reads journals by a connection of its own, so that it may be asked from a thread."""

    def __init__(self, plan_path: Path, session: SessionService, clock: SystemClock) -> None:
        """Serve the plan of a session."""
        self._path, self._session, self._clock = plan_path, session, clock
        self._written: list[tuple[str, str]] = []

    def asked(self) -> ForecastInput:
        """Return what to ask a forecast now: the plan in its file, or the one in force where that has faults."""
        file = PlanFile(self._path)
        try:
            plan = read_plan(file.read(), file.name)
        except PlanError:
            plan = self._session.plan
        return forecast_input(plan, journal_state(self._path), self._clock.today(), earlier_states(self._path, plan))

    def now_ms(self) -> int:
        """Return the elapsed clock, in milliseconds."""
        return self._clock.read().elapsed_ms

    def record(self, canvas: str, stage: Kind) -> str:
        """Record what followed the last stroke on a canvas and return in a sentence what was done."""
        refuse_where_only_shown(self._session, "not recorded")
        self._written.clear()
        self._session.make(following(canvas, stage))
        return self._session.remark

    def write(self, before: Plan, after: Plan) -> str:
        """Write a changed plan into its file and return what was done, with the lines before and after."""
        refuse_where_only_shown(self._session, "not written")
        file = PlanFile(self._path)
        text = file.read()
        if read_plan(text, file.name) != before:
            raise CoachError("the plan was changed meanwhile; ask for the forecast again", where=file.name)
        said = write_edit(file, text, before, after, "the change lies")
        written = file.read()
        if read_plan(written, file.name) != after:
            return said  # another hand was faster, and its plan stays
        self._written.append((text, written))
        return f"{said} {_changed_lines(text, written)}"

    def lines_of(self, before: Plan, after: Plan) -> tuple[str, ...]:
        """Return the lines of the plan's file that a change would alter, each as it would stand then."""
        text = PlanFile(self._path).read()
        changed = unified_diff(text.splitlines(), edited_text(text, before, after).splitlines(), n=0, lineterm="")
        return tuple(sanitized(own[1:]) for own in list(changed)[2:] if own.startswith("+"))

    def take_back(self) -> str:
        """Take back the last change that was written into the plan and return in a sentence what was done."""
        refuse_where_only_shown(self._session, "not taken back")
        file = PlanFile(self._path)
        if not self._written:
            raise CoachError(
                "nothing was written here that could be taken back; u on the Easel takes back what was recorded"
            )
        before, written = self._written[-1]
        if file.read() != written or save_plan(file.path, before, read_text=written).kept_beside is not None:
            raise CoachError("the plan was changed meanwhile; nothing is taken back", where=file.name)
        self._written.pop()
        return f"Taken back. {_changed_lines(written, before)}"


_LINE_CELLS: Final = 60


def _changed_lines(before: str, after: str) -> str:
    """Return the first line that differs, as it was and as it is, and how many more do."""
    lines = list(unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm=""))[2:]
    gone, new = ([own[1:].strip() for own in lines if own.startswith(sign)] for sign in "-+")
    first, then = (f"“{cut(sanitized(own[0]), _LINE_CELLS)}”" if own else "no such line" for own in (gone, new))
    more = max(len(gone), len(new)) - 1
    return f"Before: {first}, now: {then}" + (f", and {counted(more, 'more line')}." if more else ".")


class PlanFileRepository:
    """Serves one session; only `save` may be called from a thread."""

    def __init__(self, plan_path: Path, session: SessionService, clock: SystemClock) -> None:
        """Serve the plan of a session, and what its journal adds up to."""
        self._file, self._session, self._clock = PlanFile(plan_path), session, clock

    def opened(self) -> OpenedPlan:
        """Return the plan as it is written now; a text that the session has read already is not read again."""
        text = self._file.read()
        if self._session.state.plan_text == text:
            return OpenedPlan(text, self._session.plan)
        return OpenedPlan(text, read_plan(text, self._file.name))

    def progress(self) -> PlanProgress:
        """Return what the journal holds of the work now."""
        state, now = self._session.state.copied(), self._session.situation()
        begun = now.turn_ms > 0 or now.notes or now.is_marked or now.went_other_way
        return PlanProgress(
            self._clock.today(), state.places, state.marks, now.turn, bool(begun), self._session.work, state
        )

    def take_up_skipped(self, pass_name: str, passages: Sequence[str]) -> str:
        """Let skipped passages come again, and return in words what was done, or why nothing was."""
        self._session.make(taking_up(pass_name, passages))
        said, self._session.remark = self._session.remark, ""  # it is told on the Plan, not once more on the Easel
        return said

    def reference(self, plan: Plan) -> "Reference | None":
        """Return the plan's photo ready to be shown; None where it names none."""
        from coach.store.reference_photo import load_reference  # noqa: PLC0415  loaded when it is asked for

        return load_reference(self._file.path, plan)

    def save(self, opened: OpenedPlan, plan: Plan) -> SaveResult:
        """Save a plan that was made of `opened`, in the painter's own text."""
        refuse_where_only_shown(self._session, "not saved")
        text = edited_text(opened.text, opened.plan, plan)
        saved = save_plan(self._file.path, text, read_text=opened.text)
        name = sanitized(self._file.path.name)
        if saved.kept_beside is None:
            return SaveResult(text, SAVED)
        beside = sanitized(saved.kept_beside.name)
        said = f"{name} was changed by another hand and stays so; your plan lies in {beside}."
        return SaveResult(text, said, saved.difference or ("Both say the same.",))


class PhotoFileRepository:
    """Reads the plan's file anew each time, so that it may be asked from threads; photos are only read."""

    def __init__(self, plan_path: Path, session: SessionService) -> None:
        """Serve the plan of a session, in that file."""
        self._path, self._session = plan_path, session
        self._one_at_a_time = Lock()  # the guard against files that unpack without end is one of the whole program

    def sitter(self, photo: str | None) -> Sitter:
        """Return the plan's photo, or another one beside the plan, with what the plan marks."""
        file = PlanFile(self._path)
        plan = read_plan(file.read(), file.name)
        name = photo or plan.photo
        sizes = tuple(dict.fromkeys(canvas.size for canvas in plan.canvases if canvas.size is not None))
        is_sized = all(canvas.size is not None for canvas in plan.canvases)
        sitter = Sitter(_marked(plan), sizes, name, is_sized=is_sized)
        try:
            with self._one_at_a_time:
                return sitter if name is None else sitter._replace(size=photo_size(self._path.parent / name))
        except PhotoFileError as error:
            return sitter._replace(fault=str(error))

    def light(self, photo: str, box: "Box", scale: float) -> "NDArray[np.float64]":
        """Return the linear light of a part of a photo beside the plan, scaled."""
        with self._one_at_a_time:
            return read_linear_light(self._path.parent / photo, box, scale, is_shown=True)

    def write(self, before: Marked, after: Marked, size: CanvasSize | None) -> str:
        """Write marks, and a size for every canvas, into the plan and return in a sentence what was done."""
        refuse_where_only_shown(self._session, "not written")
        file = PlanFile(self._path)
        text = file.read()
        plan = read_plan(text, file.name)
        if _marked(plan) != before:
            what = "the plan says something else of its photo meanwhile; c reads it again and drops what is marked here"
            raise CoachError(what, where=file.name)
        canvases = plan.canvases if size is None else tuple(one._replace(size=size) for one in plan.canvases)
        marked = plan._replace(photo=after.photo, heads=after.heads, keeps=after.keeps, canvases=canvases)
        return write_edit(file, text, plan, marked, "the marks lie")


def _marked(plan: Plan) -> Marked:
    return Marked(plan.photo, plan.heads, plan.keeps)
