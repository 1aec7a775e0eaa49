"""Keeping in the journal what `coach compare` finds, where no other coach has it open."""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from coach.commands.opening import session_over
from coach.journal.compared import KeptPhoto
from coach.session.comparing import record_comparison
from coach.store.canvas_photos import canvas_photo
from coach.store.journal_access import OPEN_ELSEWHERE, open_to_work
from coach.store.plan_file import PlanFile
from coach.store.shape_file import photo_sha256
from coach.store.system_clock import SystemClock
from coach.text import sanitized

if TYPE_CHECKING:
    from coach.compare.findings import Comparison


def kept_in_journal(plan_path: Path, found: Iterable["Comparison"], photos: Sequence[Path]) -> list[str]:
    """Keep comparisons in the journal of a plan and say in sentences that they are kept, or why they are not.

    Args:
        plan_path: The plan's file.
        found: What was found; only what two photos tell is kept.
        photos: The photos, in the order in which the comparisons name them.

    Raises:
        JournalError: The journal can neither be written nor read.
    """
    exchanged = [one for one in found if one.exchanged]
    if not exchanged:
        return []
    file, said = PlanFile(plan_path), list[str]()
    access = open_to_work(plan_path)
    try:
        if access.read_only == OPEN_ELSEWHERE:
            return ["Not kept in the journal: a coach has it open. Close that one, or compare there: key b."]
        text = file.read()
        session = session_over(file, text, access, SystemClock())
        if session.read_only:
            return [f"Not kept in the journal: {session.read_only}."]
        session.open(text)
        for one in exchanged:
            session.make(
                record_comparison(one, [_photo(path) for path in photos if sanitized(path.name) in one.photos])
            )
            said.append(session.remark)
    finally:
        access.close()
    return said


def _photo(path: Path) -> KeptPhoto:
    photo = canvas_photo(path)
    return KeptPhoto(photo.name, photo_sha256(path) or "", photo.taken_at.isoformat(timespec="seconds"))
