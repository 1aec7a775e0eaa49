"""The file in which a memo is kept beside the journal; it can be deleted at any time."""

import json
import zlib
from contextlib import suppress
from pathlib import Path
from typing import Final

from coach.errors import CoachError
from coach.session.memo import Memo, memo_of, plain_memo

_UNUSABLE: Final = (OSError, ValueError, TypeError, LookupError, AttributeError, RecursionError, CoachError)
"""What reading a memo of another coach, or of nobody, can end in."""


class MemoFile:
    """A memo's file."""

    def __init__(self, path: Path) -> None:
        """Name the file; nothing is read yet."""
        self._path = path

    def load(self, plan_text: str) -> Memo | None:
        """Return the memo of a plan with this text, or None where there is none that can be used."""
        try:
            checksum, content = self._path.read_bytes().split(b"\n", 1)
            if checksum != _checksum(content):
                return None
            memo = memo_of(json.loads(content))
        except _UNUSABLE:
            return None
        return memo if memo.base.plan_text == plan_text else None

    def save(self, memo: Memo) -> None:
        """Keep a memo, whole or not at all; a disk that refuses it costs only time at the next opening."""
        content = json.dumps(plain_memo(memo), ensure_ascii=False).encode()
        draft = self._path.with_name(self._path.name + "-new")
        try:
            draft.write_bytes(_checksum(content) + b"\n" + content)
            draft.replace(self._path)
        except OSError:
            with suppress(OSError):
                draft.unlink()


def _checksum(content: bytes) -> bytes:
    """Return what shows a figure that the disk has garbled: it would read as well as the right one."""
    return b"%08x" % zlib.crc32(content)
