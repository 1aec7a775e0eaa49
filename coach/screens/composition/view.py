"""The Composition as lines of text: the boxes, the canvases ranked, and what to know of the one that is chosen."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from coach.composition.choices import Choice, rule_of
from coach.composition.crop_warnings import remarks_on
from coach.composition.life_size import life_percent
from coach.composition.marking import Marking
from coach.review.compose_table import choice_rows
from coach.text import cells, cut, first_shown, padded, paragraphs

_MOST_BOXES: Final = 6
_FEWEST_CHOICES: Final = 4
_MOST_NAME: Final = 16
_COLUMNS: Final = ("canvas", "cm", "man %", "woman %", "lost")
"""Columns of the canvases, as in the table that is printed; where there is little room, the woman's falls out."""

_WOMAN: Final = 3
_NO_HEADS: Final = "No head is marked: a marks one, crown to chin and side to side; then the canvases are ranked by it."
_NO_SIZES: Final = "No canvas of the plan states its size; c ranks the stock list."


class Shown(NamedTuple):
    """What the screen shows beside the picture.

    Attributes:
        marking: What is marked.
        choices: The canvases, best first.
        chosen: Number of the chosen one, from 0.
        taken: The canvas that is to be written into the plan, and its direction; or None.
        is_stock: Whether the stock list is ranked, not the plan's own sizes.
        fault: Why there are no choices; or empty.
        is_ranking: Whether the choices are of an earlier marking still.
    """

    marking: Marking
    choices: Sequence[Choice] = ()
    chosen: int = 0
    taken: tuple[str, str] | None = None
    is_stock: bool = False
    fault: str = ""
    is_ranking: bool = False

    @property
    def choice(self) -> Choice | None:
        """The chosen one, or None where there is none."""
        return self.choices[self.chosen] if self.choices else None


def composition_view(shown: Shown, columns: int, lines: int) -> tuple[str, ...]:
    """Return the lines beside the picture, each at most `columns` cells wide; more than `lines` are scrolled."""
    boxes = _boxes(shown.marking, columns)
    about = _about(shown, columns)
    if shown.fault:
        return (*boxes, "", *paragraphs([shown.fault], columns))
    if not shown.choices:
        return (*boxes, "", *paragraphs(["the canvases are being ranked" if shown.is_ranking else _NO_SIZES], columns))
    room = max(_FEWEST_CHOICES, lines - len(boxes) - len(about) - 4)
    left = lines - len(boxes) - len(about) - 5 - len(shown.choices)
    rule = paragraphs([rule_of()], columns)
    told = ["", *rule] if left > len(rule) else []
    return (*boxes, "", *_choices(shown, columns, room), "", *about, *told)


def _boxes(marking: Marking, columns: int) -> list[str]:
    rows = [
        f"{'> ' if number == marking.in_hand else '  '}{cut(name, _MOST_NAME)}  "
        f"{box.left_px},{box.top_px}  {box.width_px} x {box.height_px} px"
        for number, (name, box) in enumerate(zip(marking.names, marking.boxes, strict=True))
    ]
    first = first_shown(marking.in_hand or 0, len(rows), _MOST_BOXES)
    seen = rows[first : first + _MOST_BOXES]
    others = len(rows) - len(seen)
    head = f"marked, step {marking.step_px} px" + (f", {others} more" if others else "")
    hint = [] if marking.heads else paragraphs([_NO_HEADS], columns)
    return [cut(row, columns) for row in (head, *seen)] + hint


def _choices(shown: Shown, columns: int, room: int) -> list[str]:
    of_what, others = ("stock list", "plan's sizes") if shown.is_stock else ("plan's sizes", "stock list")
    waiting = " …" if shown.is_ranking else ""
    head = f"{shown.chosen + 1} of {len(shown.choices)}, {of_what} (c: {others}){waiting}"
    first = first_shown(shown.chosen, len(shown.choices), room)
    seen = shown.choices[first : first + room]
    table = _table([_COLUMNS, *(row[: len(_COLUMNS)] for row in choice_rows(seen))], columns - 2)
    lines = [head, f"  {table[0]}"]
    for number, (choice, row) in enumerate(zip(seen, table[1:], strict=True), start=first):
        mark = ">" if number == shown.chosen else " "
        lines.append(f"{mark}{'*' if key_of(choice) == shown.taken else ' '}{row}")
    return [cut(line, columns) for line in lines]


def _table(rows: Sequence[Sequence[str]], columns: int) -> list[str]:
    """Return rows of texts under each other, all but the first column set to the right."""
    widths = [max(map(cells, texts)) for texts in zip(*rows, strict=True)]
    if sum(widths) + 2 * len(widths) - 2 > columns:
        rows = [(*row[:_WOMAN], *row[_WOMAN + 1 :]) for row in rows]
        widths.pop(_WOMAN)
    gap = "  " if sum(widths) + 2 * len(widths) - 2 <= columns else " "
    return [
        gap.join(padded(text, wide, right=no > 0) for no, (text, wide) in enumerate(zip(row, widths, strict=True)))
        for row in rows
    ]


def _about(shown: Shown, columns: int) -> list[str]:
    choice = shown.choice
    if choice is None:
        return []
    said = [f"* {', '.join(shown.taken)}: w gives every canvas this size"] if shown.taken else []
    for head in choice.heads:
        percent = life_percent(head.height_mm)
        said.append(
            f"{head.name}: {head.height_mm / 10:.1f} cm, {percent.man:.0f} % of a man's, {percent.woman:.0f} % of a "
            f"woman's mean head, eyes {head.eye_line_mm / 10:.1f} cm from the top"
        )
    crop = choice.crop
    said.append(f"crop {crop.left_px},{crop.top_px} {crop.width_px} x {crop.height_px} px, double line")
    said += [f"! {warning}" for warning in choice.warnings]
    said += [f"! {remark}" for remark in remarks_on(shown.marking.photo, shown.marking.heads)]
    return paragraphs(said, columns)


def key_of(choice: Choice) -> tuple[str, str]:
    """Return what a choice is known by: its canvas and its direction."""
    return choice.canvas.name, choice.direction
