"""Plan and shapes in their files: what was opened, what is saved, and what is not saved yet as a draft."""

import asyncio
import json
from dataclasses import replace

from coach.errors import CoachError
from coach.plan.reading import read_plan
from coach.plan.writing_in_place import edited_text
from coach.screens.shapes.repository import OpenedShapes, ShapesRepository, Version
from coach.screens.shapes.state import ShapesState, begun, sentence, with_version
from coach.shapes.svg import read_svg, write_svg


class ShapesFiles:
    """Keeps what lies in the files apart from what is meant."""

    def __init__(self, repository: ShapesRepository, left_over: str) -> None:
        """Ask a repository; `left_over` is the text of a draft that an earlier opening left."""
        self.repository = repository
        self.opened: OpenedShapes | None = None
        """What lies in the files; None until they are read."""
        self._left_over = left_over

    def take(self, opened: OpenedShapes) -> ShapesState | None:
        """Take what was read, with the draft on top, and return the state; None where there are no shapes yet."""
        self.opened, state = taken_up(opened, self._left_over)
        self._left_over = ""
        return state

    async def save(self, state: ShapesState | None) -> tuple[ShapesState | None, str, bool]:
        """Save what is meant; return the state after it, what is said of it, and whether nothing is unsaved."""
        opened = self.opened
        if state is None or opened is None or (state.is_saved and opened.svg is not None):
            return state, "Nothing is changed that could be saved.", True
        version = state.version
        try:
            saved = await asyncio.to_thread(self.repository.save, opened, version)
        except CoachError as error:
            return state, sentence(error), False
        if saved.difference:
            return state, saved.said, False
        svg = write_svg(version.shape_map, opened.svg)
        self.opened = opened._replace(text=saved.text, plan=version.plan, svg=svg, shape_map=version.shape_map)
        return state._replace(saved=version), saved.said, True

    def draft(self, state: ShapesState | None) -> object:
        """Return what is not saved; None for nothing."""
        return self._left_over or (None if state is None or state.is_saved else state.version)

    def draft_text(self, draft: object) -> str:
        """Return what `draft` returned as a text that another opening takes up."""
        if isinstance(draft, Version) and self.opened is not None:
            return kept_text(self.opened, draft)
        return str(draft)

    def drop(self) -> None:
        """Drop the draft that was left."""
        self._left_over = ""


def kept_text(opened: OpenedShapes, version: Version) -> str:
    """Return what is meant, and what it was opened as, as a text that `taken_up` reads."""
    return json.dumps(
        {
            "before": opened.text,
            "svg_before": None if opened.svg is None else opened.svg.decode("utf-8", "replace"),
            "edited": edited_text(opened.text, opened.plan, version.plan),
            "svg": write_svg(version.shape_map, opened.svg).decode(),
        }
    )


def taken_up(opened: OpenedShapes, kept: str) -> tuple[OpenedShapes, ShapesState | None]:
    """Return what the files hold, with the edits on top, one undo away, that an earlier opening kept.

    Args:
        opened: The plan and its shapes as they lie in the files.
        kept: What `kept_text` returned then; empty for nothing.

    Returns:
        What the edits are made of, and the state; None where there are no shapes. Where the files were changed since,
        the edits are made of what those were before, so that saving finds both and loses neither.
    """
    state = None if opened.shape_map is None else begun(Version(opened.plan, opened.shape_map))
    if not kept:
        return opened, state
    try:
        texts = json.loads(kept)
        before, svg_before = str(texts["before"]), texts["svg_before"]
        svg = None if svg_before is None else str(svg_before).encode()
        edited, edited_svg = str(texts["edited"]), str(texts["svg"]).encode()
        if (edited, edited_svg) == (opened.text, opened.svg):  # saved, and the coach cut off before this was dropped
            return opened, state
        version = Version(read_plan(edited, ""), read_svg(edited_svg)[0])
        said = "The shapes of last time are here: w saves them, u takes them back."
        if (before, svg) != (opened.text, opened.svg):
            said = f"{said} The files were changed since."
            old = None if svg is None else read_svg(svg)[0]
            opened = opened._replace(text=before, plan=read_plan(before, ""), svg=svg, shape_map=old)
            state = None if old is None else begun(Version(opened.plan, old))
    except (ValueError, TypeError, KeyError, CoachError):
        said = "The shapes of last time cannot be read any more."
        return opened, None if state is None else state._replace(said=said)
    if state is None:
        nothing = version._replace(shape_map=replace(version.shape_map, shapes=()))
        return opened, begun(version)._replace(saved=nothing, said=said)
    return opened, with_version(state, version, said)
