"""The demo plans that come with the program."""

from importlib.resources import files
from pathlib import Path
from typing import Final

from coach.errors import CoachError
from coach.store.safe_files import write_new

_DEMO: Final = "orchard-keeper.yaml"


def demo_folder() -> Path:
    """Return the folder of the demo plans: in the installed package, or beside it in a checkout."""
    package = Path(str(files("coach")))
    installed = package / "plans"
    return installed if installed.is_dir() else package.parent / "plans"


def put_demo_here(folder: Path) -> Path:
    """Return the demo plan in a folder, copied into it with its photo and shapes where it is not there yet.

    Raises:
        CoachError: It cannot be written there, or the program was installed without its plans.
    """
    target, source = folder / _DEMO, demo_folder() / _DEMO
    if target.exists():
        return target
    beside = sorted(path for path in source.parent.glob(f"{source.stem}.*") if path != source)
    for path in (*beside, source):  # the plan last: where it is there, so is what it names
        if path == source or not (folder / path.name).exists():
            try:
                content = path.read_bytes()
            except OSError as fault:
                raise CoachError("the demo plan did not come with this installation", where=str(path)) from fault
            write_new(folder / path.name, content, error=CoachError)
    return target
