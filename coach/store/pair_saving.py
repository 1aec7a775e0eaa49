"""A plan and its file of shapes saved as one: a kill leaves both as they were or both as they are to be.

Both texts, as they were and as they are to be, lie whole in a record beside the plan before either file is touched; the
record goes when both are written. Whoever reads the plan or its shapes finishes first what a record still holds.
"""

import errno
import json
import os
from base64 import b64decode, b64encode
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from coach.errors import CoachError
from coach.plan.value_types import is_plain_name
from coach.store.folder_lock import folder_held
from coach.store.safe_files import check_ordinary, create, overwrite, read_ordinary, replace
from coach.text import sanitized

_MOST_BYTES: Final = 64 * 2**20
"""Size of the largest record: two plans and two files of shapes, as large as they may be."""

SHAPES_ENDING: Final = ".shapes.svg"
"""What the name of a file of shapes ends in."""

_EDITED: Final = ".edited"
_MOST_VERSIONS: Final = 1000


class CutSavingError(CoachError):
    """A saving of plan and shapes was cut short and cannot simply be finished; what lies where is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """A plan and its shapes, to be saved as one.

    Attributes:
        plan: The plan's own file, no link.
        shapes: The file of shapes.
        before: What both held; None for a file that is not there.
        after: What both are to hold.
    """

    plan: Path
    shapes: Path
    before: tuple[bytes | None, bytes | None]
    after: tuple[bytes, bytes]


def save_pair(plan_path: Path, pair: Pair) -> None:
    """Save a plan and its shapes; the folder is held.

    Raises:
        OSError: They cannot be saved; both are as they were, or what is left is finished by the next reader.
    """
    record = _record_path(plan_path)
    kept = [None if one is None else b64encode(one).decode() for one in (*pair.before, *pair.after)]
    draft = record.with_name(f".{record.name}-new")
    replace(record, json.dumps({"shapes": pair.shapes.name, "contents": kept}).encode(), draft=draft)
    try:
        _write(plan_path, pair, pair.after)
    except OSError:
        _write(plan_path, pair, pair.before)
        record.unlink()
        raise
    record.unlink()


def finish_pair(plan_path: Path) -> None:
    """Finish a saving of a plan and its shapes that was cut short.

    Where another hand has changed one of them since, both go back to what they were before, that change in its place,
    and what was to be saved lies beside them.

    Raises:
        CutSavingError: It cannot be finished; or another hand was in between, which is said once.
    """
    record = _record_path(plan_path)
    if not os.path.lexists(record):
        return
    where = sanitized(str(plan_path))
    target = Path(os.path.realpath(plan_path))
    try:
        with folder_held(target.parent):
            pair = _read(record, target, plan_path.parent)
            beside = None if pair is None else _settle(plan_path, pair)
            with suppress(FileNotFoundError):
                record.unlink()
    except OSError as error:
        what = f"a saving of the plan and its shapes was cut short and cannot be finished: {error.strerror or error}"
        raise CutSavingError(what, where=where) from error
    if beside:
        names = " and ".join(sanitized(path.name) for path in beside)
        what = f"a saving was cut short and another hand wrote meanwhile: that stays, and the rest lies in {names}"
        raise CutSavingError(what, where=where)


def keep_beside(path: Path, ending: str, content: bytes) -> Path:
    """Return a new file beside one that another hand has changed, `NAME.edited` and the ending.

    Raises:
        OSError: It cannot be written, or too many lie there already.
    """
    for number in range(1, _MOST_VERSIONS):
        edited = _EDITED if number == 1 else f"{_EDITED}-{number}"
        beside = path.with_name(f"{path.name.removesuffix(ending)}{edited}{ending}")
        with suppress(FileExistsError):
            create(beside, content)
            return beside
    raise FileExistsError(errno.EEXIST, f"there are {_MOST_VERSIONS - 1} edited versions beside it; clear them away")


def spare_path(plan_path: Path) -> Path:
    """Return where the whole text of a plan lies while its file is written over in place."""
    return plan_path.with_name(f"{plan_path.stem}.saving{plan_path.suffix}")


def content_of(path: Path) -> bytes | None:
    """Return what a file holds; None where there is none.

    Raises:
        OSError: It cannot be read, or is no ordinary file.
    """
    return read_ordinary(path, _MOST_BYTES) if check_ordinary(path) else None


def _record_path(plan_path: Path) -> Path:
    return plan_path.with_name(f"{plan_path.stem}.saving-shapes")


def _read(record: Path, target: Path, folder: Path) -> Pair | None:
    """Return what a record holds; None where it was finished meanwhile, or is no record of this coach."""
    try:
        held = json.loads(content_of(record) or b"null")
        name = held["shapes"]
        old_plan, old_shapes, plan, shapes = (None if one is None else b64decode(one) for one in held["contents"])
    except (ValueError, TypeError, KeyError, RecursionError):
        return None
    is_beside = isinstance(name, str) and is_plain_name(name) and name.endswith(SHAPES_ENDING)
    if not is_beside or plan is None or shapes is None:
        return None
    return Pair(plan=target, shapes=folder / name, before=(old_plan, old_shapes), after=(plan, shapes))


def _settle(plan_path: Path, pair: Pair) -> list[Path]:
    """Write what was to be saved, or what was there before and the rest beside it; return what lies beside."""
    plan, shapes = content_of(pair.plan), content_of(pair.shapes)
    is_torn = content_of(spare_path(plan_path)) == pair.after[0]  # written over in place, and cut in the middle of it
    is_ours = [is_torn or plan in (pair.before[0], pair.after[0]), shapes in (pair.before[1], pair.after[1])]
    if all(is_ours):
        _write(plan_path, pair, pair.after)
        return []
    beside = [
        keep_beside(plan_path, plan_path.suffix, pair.after[0]),
        keep_beside(pair.shapes, SHAPES_ENDING, pair.after[1]),
    ]
    before = [old if own else now for old, own, now in zip(pair.before, is_ours, (plan, shapes), strict=True)]
    _write(plan_path, pair, before)
    return beside


def _write(plan_path: Path, pair: Pair, contents: Sequence[bytes | None]) -> None:
    """Write both files where they are not so already; None takes one away."""
    spare = spare_path(plan_path)
    for path, content in zip((pair.plan, pair.shapes), contents, strict=True):
        if content is None:
            path.unlink(missing_ok=True)
        elif content_of(path) is None:
            create(path, content)
        elif content_of(path) != content:
            overwrite(path, content, spare=spare if path == pair.plan else None)
    if pair.plan.exists() and content_of(spare) == content_of(pair.plan):
        spare.unlink()
