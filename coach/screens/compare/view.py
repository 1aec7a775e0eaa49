"""What the Compare screen says: the head above its pictures, the line below them, the keys. Pure."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from coach.compare.findings import Comparison
from coach.screens.answer_head import answer_head
from coach.screens.chips import HELP, Chip, chip
from coach.screens.compare import wording
from coach.screens.compare.findings import Finding, Matter, differing
from coach.screens.compare.repository import ComparedCanvases, OpenedCanvases
from coach.screens.compare.state import Framings, Step
from coach.screens.lines import BLANK, Line, Role, fitted
from coach.screens.widgets.block_letters import can_draw
from coach.text import cells, joined, padded, wrapped

_PICTURE_LINES: Final = 8
"""So many lines the pictures of an answer have at least, or its word is not drawn."""

_WAITS: Final = {Step.READING: wording.READING, Step.COMPARING: wording.COMPARING}

_BEFORE: Final = {Step.READING: Step.PHOTOS, Step.NAMES: Step.CORNERS, Step.COMPARING: Step.CORNERS}

_MOST_SAID: Final = 3
_MOST_FRAME: Final = 20
_TWO: Final = 2


class CompareView(NamedTuple):
    """What the screen shows.

    Attributes:
        step: What it is at.
        opened: What can be compared; None until it is read.
        framings: The photos with their corners; None for none.
        found: What was found; None for nothing yet.
        findings: What is out.
        number: Number of the finding that is shown.
        history: What became of all findings so far.
        has_pictures: Whether the canvases can be shown from the front.
        said: What was done, or why it was not.
        has_facts: Whether the facts are shown.
    """

    step: Step = Step.PHOTOS
    opened: OpenedCanvases | None = None
    framings: Framings | None = None
    found: Comparison | None = None
    findings: tuple[Finding, ...] = ()
    number: int = 0
    history: tuple[str, ...] = ()
    said: str = ""
    has_pictures: bool = False
    has_facts: bool = False

    @property
    def finding(self) -> Finding | None:
        """The finding that is shown."""
        return self.findings[self.number] if self.number < len(self.findings) else None

    @property
    def before(self) -> Step:
        """Where one comes to from a step that fails or is left; the same where none is before it."""
        framings, step = self.framings, self.step
        if step is Step.COMPARING and framings is not None and framings.landmarks is not None:
            return Step.LANDMARKS
        return _BEFORE.get(step, step)

    @property
    def can_show(self) -> bool:
        """Whether there is a picture to be shown now."""
        if self.step is Step.ANSWER:
            return self.has_pictures and not self.has_facts
        return self.step in (Step.CORNERS, Step.NAMES, Step.LANDMARKS)

    @property
    def can_judge(self) -> bool:
        """Whether the photos give an answer."""
        return self.found is not None and self.found.exchanged


def head_lines(shown: CompareView, columns: int, lines: int) -> tuple[Line, ...]:
    """Return what stands above the pictures, at most `lines` lines of at most `columns` cells."""
    if shown.step in (Step.CORNERS, Step.LANDMARKS) and shown.framings is not None:
        return _corners_head(shown.framings, shown.said, columns, lines)
    asks, word, sentence = _answer(shown)
    rest = [*_passage(shown, columns), *_said(shown.said, columns), *_list(shown, columns)]
    if shown.step is Step.PHOTOS:
        rest += photo_lines(shown, columns)
    wanted = len(rest) + (_PICTURE_LINES if shown.step in (Step.ANSWER, Step.NAMES) else 0)
    return (*answer_head(asks, word, sentence, columns, lines, wanted=wanted), *rest)[:lines]


def _answer(shown: CompareView) -> tuple[str, str, str]:
    """Return what is asked, the answer in a word, and one sentence of at most 14 words."""
    if shown.step is Step.NAMES and shown.framings is not None:
        left = shown.framings.framing.left
        word = f"{left}?".upper()
        return (
            f"photo 1 of 2 · {shown.framings.framing.photo.name}",
            word if can_draw(word) else "LEFT?",
            wording.is_left(left),
        )
    if shown.step in _WAITS:
        return wording.ASKS, "...", _WAITS[shown.step]
    if shown.step is Step.ANSWER:
        place = f" · {shown.number + 1} of {len(shown.findings)}" if len(shown.findings) > 1 else ""
        finding = shown.finding
        if not shown.can_judge:
            return wording.ASKS, "CANNOT TELL", wording.NO_ANSWER
        said = wording.AGREE if finding is None else f"{finding.words}."
        return f"{wording.ASKS}{place}", wording.differ(differing(shown.findings)), said
    opened = shown.opened
    if opened is not None and opened.problem:
        return wording.ASKS, "NOT YET", opened.problem
    return wording.ASKS, "TWO PHOTOS", wording.HOW


def _passage(shown: CompareView, columns: int) -> list[Line]:
    """Return the passage of the finding that is shown, with its pass; of no answer why there is none."""
    finding = shown.finding
    if shown.step is not Step.ANSWER:
        return []
    if finding is not None:
        parts = [finding.name, finding.meant_as[0]]
        if finding.matter in (Matter.DRAWING, Matter.VALUE):
            parts.append(finding.matter.value)
        own = [Line(row, Role.CANVAS) for row in wrapped(finding.off, columns, indent="")] if finding.off else []
        return [*own, fitted(Line(" · ".join(part for part in parts if part), Role.PASSAGE), columns)]
    remarks = () if shown.found is None else shown.found.remarks
    return [Line(row, Role.NOTICE) for text in remarks for row in wrapped(text, columns, _MOST_SAID, indent="")]


def _list(shown: CompareView, columns: int) -> list[Line]:
    """Return all findings, the one that is shown marked, where there is no picture of them."""
    if shown.step is not Step.ANSWER or shown.has_pictures or len(shown.findings) < _TWO:
        return []
    names = [
        fitted(Line(f"{'→' if number == shown.number else ' '} {one.name}", Role.DETAIL), columns)
        for number, one in enumerate(shown.findings)
    ]
    return [BLANK, *names]


def _said(said: str, columns: int) -> list[Line]:
    return [Line(row, Role.NOTICE) for row in wrapped(said, columns, _MOST_SAID, indent="")] if said else []


def _corners_head(framings: Framings, said: str, columns: int, lines: int) -> tuple[Line, ...]:
    head = f"photo {framings.number + 1} of {_TWO} · left {framings.framing.left}, right {framings.framing.right}"
    marks = framings.landmarks
    place = "" if marks is None else f" · {framings.in_hand % len(marks.names) + 1} of {len(marks.names)}"
    said = framings.said or said or (wording.CORNERS if marks is None else wording.LANDMARKS)
    rows = [
        fitted(Line(f"{framings.canvas}: {framings.point_name}{place}", Role.CANVAS), columns),
        *(Line(row, Role.NOTICE if framings.said else Role.PASSAGE) for row in wrapped(said, columns, 3, indent="")),
    ]
    if lines > len(rows) + _PICTURE_LINES:
        rows.insert(0, fitted(Line(head, Role.HEAD), columns))
    return tuple(rows[:lines])


def photo_lines(shown: CompareView, columns: int) -> list[Line]:
    """Return how both photos are taken, drawn, and which are there."""
    opened = shown.opened
    if opened is None:
        return [Line(wording.READING, Role.HEAD)]
    if opened.problem:
        return []
    names = [canvas.name for canvas in opened.canvases[:_TWO]]
    one, other = (padded(name, min(_MOST_FRAME, max(map(cells, names)))) for name in names)
    newest = [photo for photo in opened.offered if not photo.problem][:_TWO]
    rows = [BLANK]
    names = [photo.name for photo in reversed(newest)] if len(newest) == _TWO else ["", ""]
    for ordinal, pair, name in zip(("first", "second"), ((one, other), (other, one)), names, strict=True):
        rows += [Line(row, Role.DETAIL) for row in _framed(ordinal, pair, name, columns)]
    rows.append(BLANK)
    texts = [wording.WITHIN, wording.HELPS]
    if len(opened.canvases) > _TWO:
        texts.append(wording.MORE_CANVASES)
    if not newest:
        texts.append(wording.NO_PHOTOS)
    elif len(newest) == 1:
        texts.append(wording.ONE_PHOTO)
    texts += [f"{photo.name}: {caution}." for photo in reversed(newest) for caution in photo.cautions]
    texts += [f"{photo.name}: {photo.problem}." for photo in opened.offered if photo.problem][:1]
    rows += [Line(row, Role.DETAIL) for text in texts for row in wrapped(text, columns, _MOST_SAID)]
    return [fitted(row, columns) for row in rows]


def _framed(ordinal: str, pair: tuple[str, str], name: str, columns: int) -> list[str]:
    """Return two canvases beside each other in frames, with which photo it is before and its name behind."""
    lead = f"{ordinal:<8}"
    top, middle, bottom = ("  ".join(parts) for parts in zip(*(_frame(one) for one in pair), strict=True))
    if cells(middle) + len(lead) > columns:
        return [f"{lead}{pair[0].strip()} | {pair[1].strip()}"]
    return [f"{' ' * len(lead)}{top}", f"{lead}{middle}  {name}".rstrip(), f"{' ' * len(lead)}{bottom}"]


def _frame(name: str) -> tuple[str, str, str]:
    wide = cells(name) + _TWO
    return f"┌{'─' * wide}┐", f"│ {name} │", f"└{'─' * wide}┘"


def fact_lines(shown: CompareView, columns: int) -> list[Line]:
    """Return the facts behind the answer."""
    found = shown.found
    if found is None:
        return []
    texts: list[str] = []
    for one in shown.findings:
        whose = f" ({one.meant_as[0]})" if one.meant_as[0] else ""
        texts.append(f"{one.name}{whose}: {one.words}.")
        texts += [f"  {more}" for more in one.more]
    told = tuple(f"{one.name}{sign}" for one in shown.findings for sign in (": ", " ("))
    texts += [said for said in shown.history if not said.startswith(told)]
    texts += found.remarks
    if found.exchanged:
        texts.append(wording.alike(sum(not one.called for one in found.shapes)))
    if found.light_ratio is not None:
        texts.append(wording.light(found.light_ratio))
    for why in dict.fromkeys(one.why for one in found.not_compared):
        texts.append(f"Not compared, {why}: {joined([one.passage for one in found.not_compared if one.why == why])}.")
    texts.append(f"From {joined(found.photos)}.")
    return [Line(row, Role.DETAIL) for text in texts for row in wrapped(text, columns)]


def chips_of(shown: CompareView) -> tuple[Chip, ...]:
    """Return the keys that matter now."""
    return (*_chips(shown), HELP)


def _chips(shown: CompareView) -> tuple[Chip, ...]:
    framings, back = shown.framings, chip("compare.back", "easel")
    if framings is not None and shown.step in (Step.CORNERS, Step.LANDMARKS):
        what = "corner" if framings.landmarks is None else "point"
        third = chip("compare.other") if framings.number else chip("compare.closer")
        return chip("compare.accept", f"{what}s right"), chip("compare.next", f"next {what}"), third
    if framings is not None and shown.step is Step.NAMES:
        return chip("compare.accept", "yes"), chip("compare.other", f"no, {framings.framing.right}")
    if shown.step is Step.ANSWER:
        return _answer_chips(shown)
    if shown.step in _WAITS or shown.opened is None or shown.opened.problem:
        return (back,)
    if len(readable(shown.opened)) < _TWO:
        return chip("compare.change", "name photos"), back
    return chip("compare.accept", "compare these"), chip("compare.change"), back


def _answer_chips(shown: CompareView) -> tuple[Chip, ...]:
    if shown.has_facts:
        return chip("compare.facts", "answer"), chip("compare.change"), chip("compare.back")
    if shown.finding is None:
        return chip("compare.facts"), chip("compare.next", "drawing"), chip("compare.change")
    walk = chip("compare.right") if len(shown.findings) > 1 else chip("compare.facts")
    return walk, chip("compare.accept", "look again"), chip("compare.drop")


def readable(opened: OpenedCanvases) -> Sequence[str]:
    """Return the names of the photos of the folder that can be compared, the newest first."""
    return [photo.name for photo in opened.offered if not photo.problem]


def are_new(opened: OpenedCanvases, found: ComparedCanvases) -> bool:
    """Return whether the two newest photos of the folder are others than those that were compared."""
    newest = set(readable(opened)[:_TWO])
    return len(newest) == _TWO and newest != {photo.name for photo in found.photos}
