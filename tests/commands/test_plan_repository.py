"""The Plan's repository on real files: the painter's own text is edited, saved, and kept where two hands wrote."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from coach.commands.repositories import PlanFileRepository
from coach.errors import CoachError
from coach.plan.editing.figures import change
from coach.plan.editing.passages import delete_passage, rename_passage
from coach.plan.reading import read_plan
from coach.session import moves
from coach.session.session_service import SessionService
from coach.store.journal_access import open_to_work
from coach.store.plan_file import PlanFile
from coach.store.system_clock import SystemClock

TEXT = """\
# for the hall and the school
canvases: [Hall, School]
passes:
  - name: eyes   # both of them
    passages:
      - {name: iris, minutes: 10}   # mind the edge
      - {name: lash line, minutes: 6, beside: iris}
      - {name: "light"}
"""


@pytest.fixture
def plan_path(tmp_path: Path) -> Path:
    """Return a plan's file in a folder of its own."""
    path = tmp_path / "plan.yaml"
    path.write_text(TEXT, encoding="utf-8")
    return path


@contextmanager
def at_work(plan_path: Path) -> Iterator[tuple[SessionService, PlanFileRepository]]:
    """Open a session on a plan, and the repository that serves it."""
    file, access, clock = PlanFile(plan_path), open_to_work(plan_path), SystemClock()
    try:
        text = file.read()
        session = SessionService(
            plan=read_plan(text, file.name),
            journal=access.journal,
            clock=clock,
            source=file,
            last_seen=access.last_seen,
            read_only=access.read_only,
        )
        session.open(text)
        yield session, PlanFileRepository(plan_path, session, clock)
    finally:
        access.close()


def test_a_saved_edit_leaves_every_comment_and_the_easel_takes_it_up_at_the_next_key(plan_path: Path) -> None:
    with at_work(plan_path) as (session, repository):
        opened = repository.opened()
        kept = repository.save(opened, change(opened.plan, "eyes", "iris", "minutes", "12").plan)

        assert plan_path.read_text(encoding="utf-8") == TEXT.replace("minutes: 10", "minutes: 12") == kept.text
        assert kept.difference == ()
        assert "Saved." in kept.said
        assert repository.opened().plan.passes[0].passages[0].planned_s == 720
        session.make(moves.go_on)
        assert session.plan.passes[0].passages[0].planned_s == 720


def test_a_second_save_is_made_of_the_first(plan_path: Path) -> None:
    with at_work(plan_path) as (_, repository):
        opened = repository.opened()
        first = change(opened.plan, "eyes", "iris", "minutes", "12").plan
        kept = repository.save(opened, first)
        second = delete_passage(first, "eyes", "light").plan
        again = repository.save(opened._replace(text=kept.text, plan=first), second)

    assert again.difference == ()
    assert read_plan(plan_path.read_text(encoding="utf-8"), "") == second
    assert "# mind the edge" in again.text


def test_where_another_hand_wrote_meanwhile_both_versions_are_kept_and_the_difference_is_told(plan_path: Path) -> None:
    other = TEXT.replace("lash line", "lashes")
    with at_work(plan_path) as (_, repository):
        opened = repository.opened()
        plan_path.write_text(other, encoding="utf-8")
        kept = repository.save(opened, change(opened.plan, "eyes", "iris", "minutes", "12").plan)

    beside = plan_path.with_name("plan.edited.yaml")
    assert plan_path.read_text(encoding="utf-8") == other
    assert beside.read_text(encoding="utf-8") == TEXT.replace("minutes: 10", "minutes: 12")
    assert "plan.edited.yaml" in kept.said
    assert any(line.startswith("-") and "lashes" in line for line in kept.difference)
    assert any(line.startswith("+") and "lash line" in line for line in kept.difference)


def test_the_repository_tells_what_is_painted_skipped_marked_and_in_hand(plan_path: Path) -> None:
    with at_work(plan_path) as (session, repository):
        assert repository.progress().done == frozenset()
        for move in (moves.go_on, moves.mark, moves.go_on, moves.skip):
            session.make(move)
        progress = repository.progress()
        names = {name for _, name, _ in progress.places}
        assert len(progress.places) == 4
        assert progress.done >= {("eyes", name) for name in names} == {("eyes", "iris"), ("eyes", "lash line")}
        assert len(progress.marks) == 2
        assert progress.in_hand is not None
        assert progress.in_hand.passages == ("light",)
        assert ("eyes", "light") not in progress.done or progress.is_begun
        session.make(moves.noting("edge lost"))
        assert ("eyes", "light") in repository.progress().done


def test_what_the_repository_tells_is_the_same_after_a_plan_was_edited_in_the_session(plan_path: Path) -> None:
    with at_work(plan_path) as (session, repository):
        session.make(moves.go_on)
        session.make(moves.go_on)
        before = repository.progress()
        opened = repository.opened()
        repository.save(opened, rename_passage(opened.plan, "eyes", "light", "gleam", done=before.done).plan)
        session.make(moves.mark)
        after = repository.progress()

        assert after.places == before.places
        assert after.done >= before.done
        assert repository.opened().plan.passes[0].passages[2].name == "gleam"


def test_a_plan_that_cannot_be_read_or_written_is_told_in_a_sentence(plan_path: Path) -> None:
    with at_work(plan_path) as (_, repository):
        opened = repository.opened()
        plan_path.write_text("passes: [", encoding="utf-8")
        with pytest.raises(CoachError, match=r"plan\.yaml"):
            repository.opened()
        plan_path.unlink()
        plan_path.mkdir()
        with pytest.raises(CoachError, match="not a file"):
            repository.save(opened, change(opened.plan, "eyes", "iris", "minutes", "1").plan)


def test_what_was_skipped_comes_again_and_it_is_told_once(plan_path: Path) -> None:
    with at_work(plan_path) as (session, repository):
        session.make(moves.go_on)
        skipped = session.situation().turn
        assert skipped is not None
        session.make(moves.skip)
        said = repository.take_up_skipped(skipped.pass_name, skipped.passages)

        assert said == f"{' + '.join(skipped.passages)} on {skipped.canvas} comes again."
        assert session.remark == ""
        assert 0 not in repository.progress().places.values()
        assert repository.take_up_skipped(skipped.pass_name, skipped.passages) == "Nothing of it was skipped."
