"""A plan is saved whole or not at all, and nobody's text is ever overwritten unread."""

import errno
import fcntl
import os
import stat
import subprocess
import sys
import tempfile
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from coach.store import folder_lock
from coach.store.plan_file import (
    MOST_BYTES,
    PlanFile,
    PlanSavingError,
    Saved,
    beyond_size,
    cut_saving,
    finish_saving,
    save_plan,
)

OLD = "canvases: [Hall]\npasses: [{name: eyes, passages: [iris]}]\n"
NEW = OLD.replace("iris", "iris, lid")
THEIRS = OLD.replace("Hall", "School")

AS_NOBODY = """
import os, sys
from pathlib import Path
from coach.store.plan_file import PlanSavingError, save_plan
if os.geteuid() == 0:
    os.setuid(65534)
try:
    save_plan(Path(sys.argv[1]), "new", read_text=sys.argv[2])
except PlanSavingError as error:
    print(error)
"""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "plan.yaml"
    path.write_text(OLD)
    return path


def _refused(path: Path, text: str = NEW) -> str:
    with pytest.raises(PlanSavingError) as caught:
        save_plan(path, text, read_text=OLD)
    said = str(caught.value)
    assert "\n" not in said
    return said


def _names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_plan_is_saved_in_its_place_with_its_mode_and_leaves_nothing_behind(plan: Path) -> None:
    plan.chmod(0o640)
    assert save_plan(plan, NEW, read_text=OLD) == Saved(path=plan)
    assert plan.read_text() == NEW
    assert stat.S_IMODE(plan.stat().st_mode) == 0o640
    assert _names(plan.parent) == ["plan.yaml"]


def test_a_new_plan_is_made_but_never_over_one_that_is_there(tmp_path: Path, plan: Path) -> None:
    fresh = tmp_path / "fresh.yaml"
    assert save_plan(fresh, NEW, read_text=None) == Saved(path=fresh)
    assert fresh.read_text() == NEW
    assert save_plan(plan, NEW, read_text=None).kept_beside == tmp_path / "plan.edited.yaml"
    assert plan.read_text() == OLD


def test_a_plan_that_is_gone_is_made_again(plan: Path) -> None:
    plan.unlink()
    save_plan(plan, NEW, read_text=OLD)
    assert plan.read_text() == NEW


@pytest.mark.parametrize(
    ("as_it_was", "as_it_is"),
    [
        (OLD.encode("utf-8-sig"), NEW.encode("utf-8-sig")),
        (OLD.replace("\n", "\r\n").encode(), NEW.replace("\n", "\r\n").encode()),
    ],
)
def test_line_ends_and_a_byte_order_mark_stay_as_they_were(plan: Path, as_it_was: bytes, as_it_is: bytes) -> None:
    plan.write_bytes(as_it_was)
    save_plan(plan, NEW, read_text=PlanFile(plan).read())
    assert plan.read_bytes() == as_it_is


def test_what_another_hand_wrote_meanwhile_stays_and_both_versions_are_kept(plan: Path) -> None:
    plan.write_text(THEIRS)
    saved = save_plan(plan, NEW, read_text=OLD)
    assert plan.read_text() == THEIRS
    assert saved.kept_beside == plan.with_name("plan.edited.yaml")
    assert saved.kept_beside.read_text() == NEW
    assert saved.difference == (
        "--- plan.yaml on the disk",
        "+++ plan.yaml edited here",
        "@@ -1,3 +1,3 @@",
        "-canvases: [School]",
        "-passes: [{name: eyes, passages: [iris]}]",
        "+canvases: [Hall]",
        "+passes: [{name: eyes, passages: [iris, lid]}]",
        " ",
    )


def test_the_version_kept_beside_never_overwrites_another(plan: Path) -> None:
    plan.write_text(THEIRS)
    kept = [save_plan(plan, NEW + f"# {number}\n", read_text=OLD).kept_beside for number in range(3)]
    assert [path.name for path in kept if path] == ["plan.edited.yaml", "plan.edited-2.yaml", "plan.edited-3.yaml"]
    assert [path.read_text() for path in kept if path] == [NEW + f"# {number}\n" for number in range(3)]


def test_what_another_hand_made_unreadable_stays_too(plan: Path) -> None:
    plan.write_bytes(OLD.encode("utf-16"))
    saved = save_plan(plan, NEW, read_text=OLD)
    assert saved.kept_beside
    assert saved.difference == (f"{plan}: the file is saved as UTF-16; save it as UTF-8",)
    assert plan.read_bytes() == OLD.encode("utf-16")


def test_the_same_edit_made_elsewhere_is_no_difference(plan: Path) -> None:
    plan.write_text(NEW)
    assert save_plan(plan, NEW, read_text=OLD) == Saved(path=plan)


def test_the_difference_is_harmless_to_show(plan: Path) -> None:
    plan.write_text(OLD + "# \x1b[2J\u202e\n")
    shown = "".join(save_plan(plan, NEW, read_text=OLD).difference)
    assert not {"\x1b", "\u202e"} & set(shown)


def test_a_link_stays_a_link_and_what_it_leads_to_is_saved(tmp_path: Path, plan: Path) -> None:
    link = tmp_path / "links" / "today.yaml"
    link.parent.mkdir()
    link.symlink_to(plan)
    save_plan(link, NEW, read_text=OLD)
    assert link.is_symlink()
    assert plan.read_text() == NEW
    assert save_plan(link, OLD, read_text=OLD).kept_beside == tmp_path / "links" / "today.edited.yaml"
    assert _names(link.parent) == ["today.edited.yaml", "today.yaml"]


def test_a_folder_and_a_circle_of_links_and_no_folder_are_said(tmp_path: Path) -> None:
    assert _refused(tmp_path).endswith(": this is not a file; name the plan's YAML file")
    circle = tmp_path / "circle.yaml"
    circle.symlink_to(circle)
    assert _refused(circle).endswith("circle.yaml: this is a link that leads in a circle; name the plan's file")
    assert _refused(tmp_path / "none" / "plan.yaml").endswith(": the plan cannot be saved: No such file or directory")
    assert _refused(tmp_path / ("x" * 300)).endswith(": the plan cannot be saved: File name too long")


def test_a_text_that_could_not_be_read_again_is_not_saved(plan: Path) -> None:
    assert _refused(plan, "#" * (MOST_BYTES + 1)).endswith(": the plan would be larger than 2 MiB")
    assert plan.read_text() == OLD


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """Return a folder that anybody may enter, as pytest's own may not be."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o777)
        yield folder
        folder.chmod(0o777)


@pytest.mark.parametrize(
    ("folder_mode", "file_mode", "why"),
    [(0o555, 0o666, "Permission denied"), (0o777, 0o444, "the file is write-protected")],
)
def test_a_write_protected_folder_or_file_is_said(
    open_folder: Path, folder_mode: int, file_mode: int, why: str
) -> None:
    """In a process of its own that is not root, who may write everywhere."""
    path = open_folder / "plan.yaml"
    path.write_text(OLD)
    path.chmod(file_mode)
    open_folder.chmod(folder_mode)
    asked = [sys.executable, "-c", AS_NOBODY, str(path), OLD]
    told = subprocess.run(asked, check=True, capture_output=True, text=True, timeout=60).stdout
    assert told == f"{path}: the plan cannot be saved: {why}\n"
    assert path.read_text() == OLD
    assert _names(open_folder) == ["plan.yaml"]


@pytest.mark.parametrize(("step", "fails_new"), [("fsync", True), ("chmod", False), ("replace", False)])
def test_a_disk_that_fails_at_any_step_leaves_the_plan_as_it_was(
    plan: Path, monkeypatch: pytest.MonkeyPatch, step: str, *, fails_new: bool
) -> None:
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os if step == "fsync" else Path, step, full)
    assert _refused(plan).endswith("plan.yaml: the plan cannot be saved: No space left on device")
    if fails_new:
        with pytest.raises(PlanSavingError):
            save_plan(plan.with_name("fresh.yaml"), NEW, read_text=None)
    monkeypatch.undo()
    assert plan.read_text() == OLD
    assert _names(plan.parent) == ["plan.yaml"]


def test_of_two_writers_at_once_one_saves_and_the_other_is_kept_beside(plan: Path) -> None:
    """Many times over, both let go at the same instant."""
    for _ in range(15):
        plan.write_text(OLD)
        gate, results = threading.Barrier(2), dict[str, Saved]()

        def write(text: str, gate: threading.Barrier = gate, results: dict[str, Saved] = results) -> None:
            gate.wait()
            results[text] = save_plan(plan, text, read_text=OLD)

        writers = [threading.Thread(target=write, args=(OLD + f"# {name}\n",)) for name in ("one", "other")]
        for writer in writers:
            writer.start()
        for writer in writers:
            writer.join()
        kept = {text: saved.kept_beside for text, saved in results.items()}
        (loser,) = (text for text, beside in kept.items() if beside)
        (winner,) = (text for text, beside in kept.items() if beside is None)
        beside = kept[loser]
        assert beside is not None
        assert (plan.read_text(), beside.read_text()) == (winner, loser)
        beside.unlink()


def test_a_plan_with_another_name_or_owner_stays_the_same_file(tmp_path: Path, plan: Path) -> None:
    twin = tmp_path / "twin.yaml"
    os.link(plan, twin)
    save_plan(plan, NEW, read_text=OLD)
    assert twin.read_text() == NEW
    assert _names(tmp_path) == ["plan.yaml", "twin.yaml"]
    twin.unlink()
    if os.geteuid():
        return
    os.chown(plan, 65534, 65534)
    number = plan.stat().st_ino
    save_plan(plan, OLD, read_text=NEW)
    assert (plan.stat().st_ino, plan.stat().st_uid, plan.read_text()) == (number, 65534, OLD)


def test_a_replaced_plan_keeps_its_group(plan: Path) -> None:
    if os.geteuid():
        pytest.skip("only the superuser may give a file to any group")
    os.chown(plan, -1, 65534)
    number = plan.stat().st_ino
    save_plan(plan, NEW, read_text=OLD)
    assert plan.stat().st_ino != number
    assert plan.stat().st_gid == 65534


CUT_SHORT = """
import os, pathlib, signal, sys
from coach.store import plan_file, safe_files
def cut(path, content):
    path.write_bytes(content[: len(content) // 2])
    os.kill(os.getpid(), signal.SIGKILL)
safe_files.write_in_place = cut
plan_file.save_plan(pathlib.Path(sys.argv[1]), sys.argv[2], read_text=sys.argv[3])
"""


def test_a_saving_in_place_that_is_cut_short_lies_whole_beside_the_plan_and_can_be_finished(plan: Path) -> None:
    os.link(plan, plan.with_name("twin.yaml"))
    subprocess.run([sys.executable, "-c", CUT_SHORT, str(plan), NEW, OLD], check=False)
    assert plan.read_text() == NEW[: len(NEW) // 2]
    assert cut_saving(plan) == plan.with_name("plan.saving.yaml")
    finish_saving(plan)
    assert plan.read_text() == plan.with_name("twin.yaml").read_text() == NEW
    assert cut_saving(plan) is None
    assert _names(plan.parent) == ["plan.yaml", "twin.yaml"]


def test_a_saving_of_which_only_the_clearing_away_was_cut_needs_no_question(plan: Path) -> None:
    plan.with_name("plan.saving.yaml").write_text(OLD)
    assert cut_saving(plan) is None
    assert _names(plan.parent) == ["plan.yaml"]


def test_a_folder_that_another_program_holds_is_waited_for_and_then_said(
    plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(folder_lock, "_PAUSE_S", 0.0001)
    held = os.open(plan.parent, os.O_RDONLY)
    fcntl.flock(held, fcntl.LOCK_EX)
    assert _refused(plan).endswith("plan.yaml: the plan cannot be saved: another program holds the folder")
    os.close(held)
    assert save_plan(plan, NEW, read_text=OLD).kept_beside is None


def test_a_lock_is_waited_for_two_seconds() -> None:
    assert folder_lock._TRIES * folder_lock._PAUSE_S == 2


def test_a_plan_far_beyond_the_sizes_of_the_coach_is_told_and_one_of_3000_passages_is_not() -> None:
    whole = "- {name: the shadow side, value: 3, minutes: 14, area: 12 cm2, mixture: flesh, beside: it, colour: red}\n"
    assert not beyond_size(whole * 3000)
    assert "3,000 passages" in beyond_size("[" + "a," * 100_000)
