"""What the Compare screen asks of the disk: photos of the folder, the comparison, and what the journal keeps of it."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import pytest

from coach.commands.compare_repository import CompareFileRepository
from coach.commands.opening import open_session
from coach.errors import CoachError
from coach.screens.compare.findings import Matter, findings_of
from coach.screens.compare.repository import ComparedCanvases, FramedPhoto
from coach.session import moves
from coach.session.session_service import SessionService
from coach.store.system_clock import SystemClock
from tests.compare.made_plan import PHOTOS, made_plan
from tests.screens.made_canvases import scene


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return made_plan(tmp_path_factory.mktemp("compared"), scene())


@contextmanager
def opened(plan: Path) -> Iterator[tuple[SessionService, CompareFileRepository]]:
    """Open the session of a plan, and what the screen asks."""
    session, access = open_session(plan, SystemClock())
    try:
        yield session, CompareFileRepository(plan, session)
    finally:
        access.close()


def compared(repository: CompareFileRepository) -> ComparedCanvases:
    names = [one.name for one in repository.opened().offered]
    photos = [repository.photo(name) for name in reversed(names)]
    return repository.compared([FramedPhoto(photo, shot.views) for photo, shot in zip(photos, scene(), strict=True)])


def test_photos_of_the_folder_come_newest_first_and_any_other_by_its_name(plan: Path) -> None:
    before = {path: path.read_bytes() for path in (plan.parent / PHOTOS).iterdir()}
    with opened(plan) as (_, repository):
        found = repository.opened()
        assert [canvas.name for canvas in found.canvases] == ["Hall", "School"]
        assert [one.name for one in found.offered] == ["photo2.jpg", "photo1.jpg"]
        assert found.problem == ""
        one, typed = repository.photo("photo1.jpg"), repository.photo(f"{PHOTOS}/photo1.jpg")
        assert one.sha256 == typed.sha256
        assert (one.width_px, one.height_px) == scene()[0].coded.shape[1::-1]
        part = repository.part("photo1.jpg", (100, 100, 120, 110))
        assert part.shape == (10, 20, 3)
        assert part.max() <= 1
        with pytest.raises(CoachError, match="no such file"):
            repository.photo("gone.jpg")
        assert {path: path.read_bytes() for path in (plan.parent / PHOTOS).iterdir()} == before


def test_what_is_found_is_kept_and_shown_again(plan: Path) -> None:
    with opened(plan) as (session, repository):
        for _ in range(2 * 30):
            session.make(moves.go_on)
        found = compared(repository)
        findings = findings_of(found.comparison, found.meant)
        assert {(one.matter, one.address[1]) for one in findings} == {
            (Matter.COLOUR, "collar, light"),
            (Matter.COLOUR, "cheek left, middle"),
            (Matter.COLOUR, "coat, dark"),
            (Matter.DRAWING, "socket left, half-dark"),
        }
        assert "4 differences are out" in repository.record(found)[0]
        with pytest.raises(CoachError, match="kept already"):
            repository.record(found)
        repository.mark_for_return(("all", "collar, light"), "School")
        assert "2 differences are out" in repository.mean_it(("", "left eye"), ("Hall", "School"))[0]
        with pytest.raises(CoachError, match="comes again already"):
            repository.mark_for_return(("all", "collar, light"), "School")
    with opened(plan) as (_, again):
        last = again.opened().last
        assert last is not None
        assert [one.sha256 for one in last.photos] == [one.sha256 for one in found.photos]
        assert findings_of(last.comparison, last.meant) == tuple(one for one in findings if one.matter is Matter.COLOUR)
        assert any("To come again: collar" in said for said in again.opened().history)


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [
        ("photo: sitter.png\n", "", "First the photo and its shapes"),
        ("place: right, size: 40 x 50 cm", "place: right", "First the size of School"),
        ("  - {name: School, place: right, size: 40 x 50 cm}\n", "", "one canvas only"),
    ],
)
def test_what_the_plan_lacks_is_said(plan: Path, tmp_path: Path, before: str, after: str, says: str) -> None:
    text = plan.read_text(encoding="utf-8").replace("photos: canvas-photos\n", "").replace(before, after)
    other = tmp_path / "plan.yaml"
    other.write_text(text, encoding="utf-8")
    with opened(other) as (_, repository):
        assert says in repository.opened().problem


def test_a_dot_of_the_pictures_is_as_light_as_the_photo_they_are_painted_from(plan: Path) -> None:
    with opened(plan) as (_, repository):
        pictures = compared(repository).pictures
        assert pictures is not None
        inside = pictures.inside(("all", "face, half-light"))
        wanted = scene_light((196, 150, 120))
        for front in pictures.fronts:
            assert np.median(front[inside], axis=0) == pytest.approx(wanted, rel=0.15)


def scene_light(coded: tuple[int, int, int]) -> "list[float]":
    return [((part / 255 + 0.055) / 1.055) ** 2.4 for part in coded]
