"""The file in which the answers about a new commission are kept until its plan is written."""

import json
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Final

from coach.errors import CoachError
from coach.store.new_file import create, replace
from coach.text import sanitized

_NAME: Final = ".coach-new.json"
_MOST_BYTES: Final = 2**20


class KeptAnswersError(CoachError):
    """The answers cannot be kept; what was kept before is kept still."""


class KeptAnswersFile:
    """A folder's file of answers; it can be deleted at any time."""

    def __init__(self, folder: Path) -> None:
        """Name the file; nothing is read yet."""
        self._path = folder / _NAME

    def load(self) -> object:
        """Return what was kept, of whatever kind; None where nothing is there or it is no JSON."""
        try:
            if not self._path.is_file():
                return None
            with self._path.open("rb") as file:
                content = file.read(_MOST_BYTES + 1)
            return None if len(content) > _MOST_BYTES else json.loads(content)
        except (OSError, ValueError, RecursionError):
            return None

    def save(self, plain: Mapping[str, str]) -> None:
        """Keep answers in the place of those kept before; they are on the disk when this returns.

        Args:
            plain: Texts by the keys of their questions.

        Raises:
            KeptAnswersError: The disk or the folder takes no file.
        """
        content = json.dumps(dict(plain), ensure_ascii=False, indent=2).encode("utf-8", errors="replace") + b"\n"
        try:
            (replace if self._path.is_file() else create)(self._path, content)
        except OSError as error:
            what = f"the answers cannot be kept: {error.strerror or error}"
            raise KeptAnswersError(what, where=sanitized(str(self._path))) from error

    def delete(self) -> None:
        """Keep nothing any more; a file that cannot be deleted is offered again, and that is all."""
        with suppress(OSError):
            self._path.unlink()
