"""The file in which a memo is kept beside the journal; it can be deleted at any time."""

import json
import os
from contextlib import suppress
from pathlib import Path

from coach.session.memo import Memo, memo_of, plain_memo


class MemoFile:
    """A memo's file."""

    def __init__(self, path: Path) -> None:
        """Name the file; nothing is read yet."""
        self._path = path

    def load(self, plan_text: str) -> Memo | None:
        """Return the memo of a plan with this text, or None where there is none that can be used."""
        try:
            memo = memo_of(json.loads(self._path.read_bytes()))
        except (OSError, ValueError, TypeError, KeyError):
            return None
        return memo if memo.base.plan_text == plan_text else None

    def save(self, memo: Memo) -> None:
        """Keep a memo, whole or not at all; a disk that refuses it costs only time at the next opening."""
        draft = self._path.with_name(self._path.name + "-new")
        with suppress(OSError):
            draft.write_text(json.dumps(plain_memo(memo), ensure_ascii=False), encoding="utf-8")
            os.replace(draft, self._path)
