"""What was typed and not yet saved, kept beside a plan until it is: the next opening offers it."""

import enum
import json
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Final

from coach.errors import CoachError
from coach.store.safe_files import read_ordinary, replace
from coach.text import sanitized

_MOST_BYTES: Final = 4 * 2**20
_ANSWERS: Final = ".coach-new.json"


class Draft(enum.StrEnum):
    """The kinds of unsaved work; the value is the key in the file and what the painter is told."""

    PLAN = "plan edits"
    MARKS = "composition marks"
    SHAPES = "shapes"
    CORNERS = "corners"
    WHAT_IFS = "what-ifs"
    NOTE = "note"


class DraftError(CoachError):
    """Unsaved work cannot be kept; what was kept before is kept still."""


class DraftFile:
    """A file of texts, each under a key, that can be deleted at any time."""

    def __init__(self, path: Path) -> None:
        """Name the file; nothing is read yet."""
        self.path = path

    def load(self) -> dict[str, str]:
        """Return the texts kept, by their keys; none where nothing is there or it cannot be read."""
        try:
            content = read_ordinary(self.path, _MOST_BYTES + 1)
            held = json.loads(content) if len(content) <= _MOST_BYTES else None
        except (OSError, ValueError, RecursionError):
            return {}
        if not isinstance(held, dict):
            return {}
        return {key: text for key, text in held.items() if isinstance(text, str)}

    def save(self, texts: Mapping[str, str]) -> None:
        """Keep texts in the place of those kept before; they are on the disk when this returns.

        Raises:
            DraftError: The disk or the folder takes no file.
        """
        content = json.dumps(dict(texts), ensure_ascii=False, indent=2).encode("utf-8", errors="replace") + b"\n"
        try:
            replace(self.path, content)
        except OSError as error:
            what = f"what is not saved cannot be kept: {error.strerror or error}"
            raise DraftError(what, where=sanitized(str(self.path))) from error

    def put(self, kind: Draft, text: str) -> None:
        """Keep the text of one kind beside the others; an empty text drops it.

        Raises:
            DraftError: The disk or the folder takes no file.
        """
        held = {key: other for key, other in self.load().items() if key != kind}
        if text:
            self.save(held | {kind.value: text})
        elif held:
            self.save(held)
        else:
            self.delete()

    def delete(self) -> None:
        """Keep nothing any more; a file that cannot be deleted is offered again, and that is all."""
        with suppress(OSError):
            self.path.unlink()


def draft_file(plan_path: Path) -> DraftFile:
    """Return the file of unsaved work beside a plan, `NAME.draft`."""
    return DraftFile(plan_path.with_suffix(".draft"))


def answers_file(folder: Path) -> DraftFile:
    """Return the file in which the answers about a new commission are kept until its plan is written."""
    return DraftFile(folder / _ANSWERS)
