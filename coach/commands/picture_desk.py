"""What the Composition screen asks of the disk: the photo beside a plan, and a place for what is marked in it."""

from pathlib import Path
from threading import Lock

from coach.commands.edited_plan import refuse_where_only_shown, write_edit
from coach.errors import CoachError
from coach.plan.commission import CanvasSize, Plan
from coach.plan.reading import read_plan
from coach.screens.composition.desk import Marked, Sitter
from coach.screens.composition.marks import Cells
from coach.session.session_service import SessionService
from coach.store.photo import PhotoFileError, half_blocks, photo_size
from coach.store.plan_file import PlanFile


class PictureDesk:
    """Reads the plan's file anew each time, so that it may be asked from threads; photos are only read."""

    def __init__(self, plan_path: Path, sitting: SessionService) -> None:
        """Serve the plan of a sitting, in that file."""
        self._path, self._sitting = plan_path, sitting
        self._one_at_a_time = Lock()  # the guard against files that unpack without end is one of the whole program

    def sitter(self, photo: str | None) -> Sitter:
        """Return the plan's photo, or another one beside the plan, with what the plan marks."""
        file = PlanFile(self._path)
        plan = read_plan(file.read(), file.name)
        name = photo or plan.photo
        sizes = tuple(dict.fromkeys(canvas.size for canvas in plan.canvases if canvas.size is not None))
        sitter = Sitter(_marked(plan), sizes, name)
        try:
            with self._one_at_a_time:
                return sitter if name is None else sitter._replace(size=photo_size(self._path.parent / name))
        except PhotoFileError as error:
            return sitter._replace(fault=str(error))

    def half_blocks(self, photo: str, columns: int, rows: int) -> Cells:
        """Return a photo beside the plan in so many cells."""
        with self._one_at_a_time:
            return half_blocks(self._path.parent / photo, columns, rows)

    def write(self, before: Marked, after: Marked, size: CanvasSize | None) -> str:
        """Write marks, and a size for every canvas, into the plan and return in a sentence what was done."""
        refuse_where_only_shown(self._sitting, "not written")
        file = PlanFile(self._path)
        text = file.read()
        plan = read_plan(text, file.name)
        if _marked(plan) != before:
            what = "the plan says something else of its photo meanwhile; 0 reads it again and drops what is marked here"
            raise CoachError(what, where=file.name)
        canvases = plan.canvases if size is None else tuple(one._replace(size=size) for one in plan.canvases)
        marked = plan._replace(photo=after.photo, heads=after.heads, keeps=after.keeps, canvases=canvases)
        return write_edit(file, text, plan, marked, "the marks lie")


def _marked(plan: Plan) -> Marked:
    return Marked(plan.photo, plan.heads, plan.keeps)
