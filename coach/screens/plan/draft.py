"""The plan in the painter's hands: its drafts, the row in hand, what was said of the last edit."""

import asyncio
import json
from typing import Final, NamedTuple

from coach.errors import CoachError
from coach.journal.events import Turn
from coach.plan.commission import Plan
from coach.plan.editing.edited import Done, Drafts, EditError
from coach.plan.problems import quoted
from coach.plan.reading import read_plan
from coach.plan.units import minutes_text
from coach.plan.writing_in_place import edited_text
from coach.screens.plan.edits import EDITS, FIELDS, EditTarget, RowAddress, fields_of
from coach.screens.plan.repository import OpenedPlan, PlanRepository, corrected_pass
from coach.screens.plan.tree import Tree, TreeRow, first_difference, number_of, pass_no_at, row_at, tree_of


class PlanDraft(NamedTuple):
    """A plan that is being edited.

    Attributes:
        drafts: Every plan since editing began.
        trees: The rows of each of them.
        done: What is done, and stays done.
        saved: The plan as it lies in the file.
        row_no: The row in hand, from 0.
        said: What was done, or why it was not; may be empty.
        is_refused: Whether the text that was typed last was refused.
    """

    drafts: Drafts
    trees: tuple[Tree, ...]
    done: Done
    saved: Plan
    row_no: int = 0
    said: str = ""
    is_refused: bool = False

    @property
    def plan(self) -> Plan:
        """The plan that is meant."""
        return self.drafts.plan

    @property
    def tree(self) -> Tree:
        """Its rows."""
        return self.trees[self.drafts.number]

    @property
    def row(self) -> TreeRow:
        """The row in hand."""
        return row_at(self.tree, self.row_no)

    @property
    def is_saved(self) -> bool:
        """Whether the plan that is meant lies in the file."""
        return self.plan is self.saved

    @property
    def unsaved_count(self) -> int:
        """How many edits lie between the plan that is meant and the one in the file."""
        saved = next((no for no, plan in enumerate(self.drafts.plans) if plan is self.saved), 0)
        return abs(self.drafts.number - saved)


def draft_of(plan: Plan, done: Done) -> PlanDraft:
    """Return the draft of a plan as it was read."""
    return PlanDraft(Drafts(plans=(plan,)), (tree_of(plan),), done, plan)


def kept_text(opened: OpenedPlan, plan: Plan) -> str:
    """Return an edited plan, and what it was opened as, as a text that `taken_up` reads."""
    return json.dumps({"before": opened.text, "edited": edited_text(opened.text, opened.plan, plan)})


def taken_up(opened: OpenedPlan, done: Done, kept: str) -> tuple[OpenedPlan, PlanDraft]:
    """Return the draft of a plan with the edits on top, one undo away, that an earlier opening kept.

    Args:
        opened: The plan as it lies in the file.
        done: What is done.
        kept: What `kept_text` returned then; empty for nothing.

    Returns:
        What the edits are made of, and the draft. Where the file was changed since, they are made of what it was
        before, so that saving finds both and loses neither.
    """
    draft = draft_of(opened.plan, done)
    if not kept:
        return opened, draft
    try:
        texts = json.loads(kept)
        before, after = str(texts["before"]), str(texts["edited"])
        if after == opened.text:  # it was saved, and the coach cut off before this was dropped
            return opened, draft
        said = "The edits of last time are here: w saves them, u takes them back."
        if before != opened.text:
            opened, said = OpenedPlan(before, read_plan(before, "")), f"{said} The file was changed since."
        return opened, _after(draft_of(opened.plan, done), read_plan(after, ""), said, None)
    except (ValueError, TypeError, KeyError, CoachError):
        return opened, draft._replace(said="The edits of last time cannot be read any more.")


def at_turn(draft: PlanDraft, turn: Turn | None) -> PlanDraft:
    """Return the draft with the first passage of a turn in hand; as it is where there is none."""
    number = number_of(draft.tree, corrected_pass(turn.pass_name), turn.passages[0]) if turn else None
    return draft if number is None else draft._replace(row_no=number)


def moved(draft: PlanDraft, by: int) -> PlanDraft:
    """Return the draft with the row in hand so many rows further down; it stops at the ends."""
    return draft._replace(row_no=min(max(draft.row_no + by, 0), draft.tree.row_count - 1), said="")


def moved_by_pass(draft: PlanDraft, by: int) -> PlanDraft:
    """Return the draft with the next pass in hand (`by` is 1), or the beginning of this pass or the one before (-1)."""
    starts = draft.tree.starts
    pass_no = pass_no_at(draft.tree, draft.row_no)
    if by < 0 and draft.row_no > starts[pass_no]:
        by = 0
    return draft._replace(row_no=starts[min(max(pass_no + by, 0), len(starts) - 1)], said="")


def edited(draft: PlanDraft, name: str) -> PlanDraft:
    """Return the draft after one of `EDITS`; where it is refused the draft says why and is as it was."""
    try:
        done = EDITS[name](_edit_target(draft))
    except EditError as error:
        return draft._replace(said=_sentence(error))
    return _after(draft, done.plan, done.remark, None)


def written(draft: PlanDraft, name: str, text: str) -> PlanDraft:
    """Return the draft after one of `FIELDS` was filled in; where it is refused the draft says why and is as it was."""
    field, at, text = FIELDS[name], _edit_target(draft), text.strip()
    try:
        done = field.edit(at, text)
        target = field.target(at, text) if field.target else None
    except EditError as error:
        return draft._replace(said=_sentence(error), is_refused=True)
    return _after(draft._replace(is_refused=False), done.plan, done.remark, target)


def text_before(draft: PlanDraft, name: str) -> str:
    """Return what stands already where a field of the row is to be filled in."""
    return FIELDS[name].before(_edit_target(draft))


def choices(draft: PlanDraft, name: str) -> str:
    """Return what may be typed into a field of `FIELDS`, where it is one of a few; else nothing."""
    names = [canvas.name for canvas in draft.plan.canvases]
    return f"Canvases: {', '.join(names)}. Empty: any may lead." if name == "lead" else ""


TAKE_UP: Final = "take up"
"""Lets what was skipped come again."""


class FormLine(NamedTuple):
    """A line of the form of a row: something that can be changed there, or done to it.

    Attributes:
        label: What it is.
        now: What stands there.
        name: Which of `FIELDS` or of `EDITS` it is, or `TAKE_UP`.
    """

    label: str
    now: str
    name: str


def form_of(draft: PlanDraft, *, with_skipped: bool) -> list[FormLine]:
    """Return the form of the row in hand; `with_skipped` lets what was skipped there be taken up again."""
    at = _edit_target(draft)
    lines = [FormLine(FIELDS[name].prompt, FIELDS[name].before(at), name) for name in fields_of(at.row)]
    if at.row.passage is not None and at.row.passage.planned_s is None:
        lines = [
            one._replace(now=f"({minutes_text(at.row.planned_s)})") if one.name == "minutes" else one for one in lines
        ]
    if at.row.passage is None:
        lines.append(FormLine("sort it dark to light", "", "sort"))
    if with_skipped:
        lines.append(FormLine("take up again what was skipped", "", TAKE_UP))
    return lines


def undone(draft: PlanDraft) -> PlanDraft:
    """Return the draft one edit back, with what it changes in hand."""
    if not draft.drafts.can_undo:
        return draft._replace(said="Nothing is left to undo.")
    return _turned(draft, draft.drafts.undone(), "The last edit is undone.")


def redone(draft: PlanDraft) -> PlanDraft:
    """Return the draft one edit on, with what it changes in hand."""
    if not draft.drafts.can_redo:
        return draft._replace(said="Nothing is left to redo.")
    return _turned(draft, draft.drafts.redone(), "The edit is done again.")


def lost_place(draft: PlanDraft, done: Done) -> str:
    """Return in a sentence what is done and would be known to the plan no more; empty where nothing is.

    Args:
        draft: The draft.
        done: What is done by now; another coach may have painted since editing began.
    """
    known = {(one.name, passage.name) for one in draft.saved.passes for passage in one.passages}
    kept = {(one.name, passage.name) for one in draft.plan.passes for passage in one.passages}
    lost = sorted(address for address in done if address in known and address not in kept)
    if not lost:
        return ""
    return f"{quoted(' / '.join(lost[0]))} was painted meanwhile and must keep its name and pass: undo that edit first"


async def saved(
    repository: PlanRepository, opened: OpenedPlan, draft: PlanDraft
) -> tuple[PlanDraft, OpenedPlan, tuple[str, ...]]:
    """Save a draft that was made of `opened`.

    Returns:
        The draft after it, with what is said; what the file holds now; and what is different there because another
        hand has changed it, a line each.
    """
    try:
        lost = lost_place(draft, repository.progress().done)
        result = None if lost else await asyncio.to_thread(repository.save, opened, draft.plan)
    except CoachError as error:
        lost, result = str(error), None
    if result is None:
        return draft._replace(said=f"{lost.removesuffix('.')}."), opened, ()
    after = draft._replace(saved=draft.plan, said=result.said)
    return after, opened if result.difference else OpenedPlan(result.text, draft.plan), result.difference


def _edit_target(draft: PlanDraft) -> EditTarget:
    return EditTarget(draft.plan, draft.row, draft.done)


def _sentence(error: EditError) -> str:
    said = str(error)
    return f"{said}." if not said.endswith(".") else said


def _turned(draft: PlanDraft, drafts: Drafts, said: str) -> PlanDraft:
    target = first_difference(draft.plan, drafts.plan)
    turned = draft._replace(drafts=drafts, said=said)
    return turned._replace(row_no=_row_no(turned.tree, draft, target))


def _after(draft: PlanDraft, plan: Plan, said: str, target: RowAddress | None) -> PlanDraft:
    """Return the draft with an edited plan; the same plan again is no draft."""
    if plan is draft.plan:
        return draft._replace(said=said)
    tree = tree_of(plan, draft.tree)
    return draft._replace(
        drafts=draft.drafts.edited(plan),
        trees=(*draft.trees[: draft.drafts.number + 1], tree),
        row_no=_row_no(tree, draft, target),
        said=said,
    )


def _row_no(tree: Tree, before: PlanDraft, target: RowAddress | None) -> int:
    """Return the number of the row of a target, or of the row that was in hand before; where it is gone, one near."""
    pass_name, name = target or (before.row.one_pass.name, before.row.passage.name if before.row.passage else None)
    number = number_of(tree, pass_name, name)
    return min(before.row_no if number is None else number, tree.row_count - 1)
