"""A saving of a plan and its shapes, killed before each thing that it does on the disk, and what is read after each.

Run in a process of its own, which has no threads, with a folder and the kind of saving; prints what was read each time.
"""

import json
import os
import signal
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from coach.store import safe_files
from coach.store.pair_saving import finish_pair
from coach.store.plan_file import PlanFile, PlanFileError, ShapesToSave, save_plan

if TYPE_CHECKING:
    from _typeshed import FileDescriptorLike

ON_DISK = frozenset({"open", "os.rename", "os.remove", "os.link", "os.chmod", "os.chown"})
OLD, NEW = "passes: [old]\n", "passes: [new, and longer]\n"


def main(folder: Path, kind: str) -> None:
    """Kill a saving at its first step, its second, and so on, until it is done."""
    for point in range(1000):
        plan, shapes = folder / f"{point}" / "plan.yaml", folder / f"{point}" / "plan.shapes.svg"
        plan.parent.mkdir()
        if kind != "new":
            plan.write_text(OLD)
            shapes.write_text("old shapes")
        if kind == "twin":
            os.link(plan, plan.with_name("twin.yaml"))
        child = os.fork()
        if not child:
            _save(plan, shapes, point, kind)
            os._exit(0)
        is_done = not os.waitpid(child, 0)[1]
        if point % 2:
            finish_pair(plan)  # as the reader of the shapes does
        try:
            read = PlanFile(plan).read()
        except PlanFileError as error:
            read = error.what
        names = sorted(path.name for path in plan.parent.iterdir() if not path.name.startswith(".coach-"))
        print(json.dumps([read, shapes.read_text() if shapes.exists() else None, names, is_done]))
        if is_done:
            return


def _save(plan: Path, shapes: Path, point: int, kind: str) -> None:
    left = [point]

    def step() -> None:
        left[0] -= 1
        if left[0] < 0:
            os.kill(os.getpid(), signal.SIGKILL)

    sync = os.fsync

    def fsync(fd: "FileDescriptorLike") -> None:
        step()
        sync(fd)

    def in_place(path: Path, content: bytes) -> None:
        path.write_bytes(content[: len(content) // 2])
        step()
        path.write_bytes(content)

    is_new = kind == "new"
    drawn = ShapesToSave(path=shapes, content=b"new shapes", read_content=None if is_new else b"old shapes")
    os.fsync = fsync
    safe_files.write_in_place = in_place
    sys.addaudithook(lambda event, _: step() if event in ON_DISK else None)
    save_plan(plan, NEW, read_text=None if is_new else OLD, shapes=drawn)
    left[0] = 1000


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
