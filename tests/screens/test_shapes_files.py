"""What lies in the files and what is meant: saved as one, kept as a draft, taken up at the next opening."""

import json
from dataclasses import replace

import pytest

from coach.screens.shapes.files import ShapesFiles, kept_text, taken_up
from coach.screens.shapes.repository import OpenedShapes, Version
from coach.screens.shapes.state import ShapesState, begun, edited, marked, undone, with_passage
from coach.shapes.svg import read_svg, write_svg
from tests.screens.made_shapes import MAP, OPENED, PHOTO, TEXT, SetShapes, without

SVG = write_svg(MAP)
LYING = OPENED._replace(svg=SVG, shape_map=read_svg(SVG)[0])
"""What lies in the files, read from them."""


def changed(opened: OpenedShapes = LYING) -> ShapesState:
    """Return the state with a shape renamed and put into a passage."""
    assert opened.shape_map is not None
    state = begun(Version(opened.plan, opened.shape_map))
    shapes = (replace(state.shape_map.shapes[0], name="brow"), *state.shape_map.shapes[1:])
    state = edited(state, replace(state.shape_map, shapes=shapes), {}, "")
    return marked(with_passage(state, -1)._replace(chosen="k1"))


def test_a_draft_is_on_top_of_the_files_one_undo_away() -> None:
    meant = changed().version
    opened, state = taken_up(LYING, kept_text(LYING, meant))
    assert opened == LYING
    assert state is not None
    assert state.version == meant
    assert not state.is_saved
    assert state.said == "The shapes of last time are here: w saves them, u takes them back."
    assert undone(state).is_saved


def test_without_a_draft_the_files_are_taken_as_they_are() -> None:
    assert taken_up(OPENED._replace(shape_map=None), "") == (OPENED._replace(shape_map=None), None)
    state = taken_up(LYING, "")[1]
    assert state is not None
    assert state.is_saved


def test_a_draft_that_was_saved_meanwhile_is_dropped() -> None:
    version = changed().version
    now = LYING._replace(text="", svg=write_svg(version.shape_map, SVG), shape_map=version.shape_map)
    now = now._replace(text=json.loads(kept_text(LYING, version))["edited"])
    state = taken_up(now, kept_text(LYING, version))[1]
    assert state is not None
    assert state.is_saved


def test_a_draft_of_files_that_were_changed_since_is_made_of_what_they_were() -> None:
    now = LYING._replace(text=f"# by hand\n{TEXT}", svg=write_svg(without("k4")), shape_map=without("k4"))
    opened, state = taken_up(now, kept_text(LYING, changed().version))
    assert (opened.text, opened.svg) == (TEXT, SVG)
    assert state is not None
    assert state.said.endswith("The files were changed since.")
    assert len(undone(state).shape_map.shapes) == 4


def test_a_draft_of_shapes_that_have_no_file_yet_is_not_saved() -> None:
    bare = OPENED._replace(svg=None, shape_map=None)
    opened, state = taken_up(bare, kept_text(bare, changed().version))
    assert opened == bare
    assert state is not None
    assert not state.is_saved


@pytest.mark.parametrize("kept", ["{", "{}", "[]", '{"before": "x", "svg_before": null, "edited": "x", "svg": "x"}'])
def test_a_draft_that_cannot_be_read_is_said(kept: str) -> None:
    state = taken_up(LYING, kept)[1]
    assert state is not None
    assert state.said == "The shapes of last time cannot be read any more."
    assert state.is_saved
    assert taken_up(OPENED._replace(shape_map=None), kept)[1] is None


async def test_after_saving_the_next_save_is_made_of_what_was_written() -> None:
    repository = SetShapes(LYING)
    files = ShapesFiles(repository, "")
    files.take(LYING)
    state, said, is_saved = await files.save(changed())
    assert (said, is_saved) == ("Saved in plan.yaml and plan.shapes.svg.", True)
    assert state is not None
    assert state.is_saved
    assert files.opened is not None
    assert (files.opened.text, files.opened.plan) == ("saved text", state.plan)
    assert files.opened.svg == write_svg(state.shape_map, SVG)
    assert files.draft(state) is None
    assert (await files.save(state))[1] == "Nothing is changed that could be saved."
    assert len(repository.saved) == 1


def test_a_draft_that_waits_stays_until_it_is_taken_up_or_dropped() -> None:
    files = ShapesFiles(SetShapes(), "left over")
    assert files.draft(None) == "left over"
    assert files.draft_text(files.draft(None)) == "left over"
    files.drop()
    assert files.draft(None) is None
    files = ShapesFiles(SetShapes(), "left over")
    files.take(LYING)
    assert files.draft(None) is None
    assert files.draft_text(changed().version) == kept_text(LYING, changed().version)


def test_files_hold_the_same_while_plan_shapes_and_photo_are_the_same() -> None:
    assert LYING.is_same(LYING._replace(photo=PHOTO._replace(picture=replace(PHOTO.picture, scale=1))))
    assert not LYING.is_same(LYING._replace(photo=None))
    assert not LYING.is_same(LYING._replace(svg=None))
