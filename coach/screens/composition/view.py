"""The Composition beside its picture: how large the heads are on which canvas; behind f canvases and facts."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from coach.composition.choices import Choice, rule_of
from coach.composition.crop import mean_life_frac
from coach.composition.crop_warnings import remarks_on
from coach.composition.life_size import life_percent
from coach.composition.marking import Marking
from coach.plan.units import size_text
from coach.review.compose_table import choice_rows
from coach.screens.answer_head import answer_head
from coach.screens.chips import HELP, Chip, chip
from coach.screens.composition.state import CompositionState, Shown, key_of, unwritten
from coach.screens.lines import BLANK, Line, Role, fitted
from coach.screens.page import LARGE_COLUMNS, MOST_WORDS, words_of
from coach.screens.widgets.block_letters import width_cells
from coach.text import cells, cut, first_shown, joined, padded, paragraphs, wrapped

_FRACTIONS: Final = {
    1 / 10: "1/10",
    1 / 8: "1/8",
    1 / 6: "1/6",
    1 / 5: "1/5",
    1 / 4: "1/4",
    1 / 3: "1/3",
    2 / 5: "2/5",
    1 / 2: "1/2",
    3 / 5: "3/5",
    2 / 3: "2/3",
    3 / 4: "3/4",
    4 / 5: "4/5",
    9 / 10: "9/10",
    1.0: "LIFE",
}
"""Shares of life as a painter says them."""

_OVER_FROM: Final = 1.05
_WHOLE_FROM_CM: Final = 10
_LEAST_COLUMNS, _FACT_COLUMNS = 36, 48
_SIDE_BY_SIDE_FROM, _WIDE_FROM, _PICTURE_FROM_LINES = 40, 60, 9
_MOST_BOXES: Final = 6
_FEWEST_CHOICES: Final = 4
_MOST_NAME: Final = 16
_SMALL_LINES: Final = 9
_COLUMNS: Final = ("canvas", "cm", "man %", "woman %", "lost")
"""Columns of the canvases, as in the table that is printed; where there is little room, the woman's falls out."""

_WOMAN: Final = 3
_NO_HEADS: Final = "No head is marked: draw one with the mouse, crown to chin and side to side."
_NO_SIZES: Final = "No canvas of the plan says its size: c ranks the stock list."
_NO_PHOTO: Final = "The plan names no photo: c takes its name."


class Told(NamedTuple):
    """What the words beside the picture are made of.

    Attributes:
        state: What is known.
        said: What was said last; or empty.
        proposed: How many heads were found in the photo and wait to be taken; None while they are looked for.
    """

    state: CompositionState
    said: str = ""
    proposed: int | None = None


class Room(NamedTuple):
    """Where words and picture lie.

    Attributes:
        is_beside: Whether the words stand beside the picture, else above it.
        picture: Columns of the picture; 0 for none.
        words: Lines of the words where they stand above the picture; 0 for all that is left.
    """

    is_beside: bool
    picture: int
    words: int


def room_of(shown: Shown | None, columns: int, lines: int, *, with_facts: bool) -> Room:
    """Return where words and picture lie in a window above the row of chips."""
    if shown is None or lines < _PICTURE_FROM_LINES or (with_facts and columns < _WIDE_FROM):
        return Room(is_beside=False, picture=0, words=0)
    if columns < _SIDE_BY_SIDE_FROM:
        return Room(is_beside=False, picture=columns, words=3 if lines < 2 * _PICTURE_FROM_LINES else _SMALL_LINES)
    photo = shown.marking.photo
    least = _FACT_COLUMNS if with_facts else _LEAST_COLUMNS
    most = columns - (least if columns >= _WIDE_FROM else columns // 2)
    return Room(is_beside=True, picture=min(most, max(1, 2 * lines * photo.width_px // photo.height_px)), words=0)


def chips_for(told: Told, *, with_facts: bool = False) -> tuple[Chip, ...]:
    """Return the keys that matter now."""
    state, shown = told.state, told.state.shown
    if shown is None:
        return (chip("composition.change", "name it"), chip("composition.back"), HELP)
    facts = chip("composition.facts", "picture" if with_facts else "")
    if told.proposed:
        return (chip("composition.take", "take it"), chip("composition.add"), facts, HELP)
    if not shown.marking.heads:
        return (chip("composition.add"), chip("composition.change"), facts, HELP)
    other = chip("composition.other") if len(shown.listed) > 1 else chip("composition.change")
    first = other if state.is_written else chip("composition.save")
    second = chip("composition.take") if is_new_canvas(state) else chip("composition.closer")
    return (first, second, facts, HELP)


def is_new_canvas(state: CompositionState) -> bool:
    """Return whether Enter would give the canvases another size, or leaves one again that was taken."""
    sitter, choice = state.sitter, state.shown and state.shown.choice
    if sitter is None or choice is None:
        return False
    return state.taken is not None or not (sitter.is_sized and sitter.sizes == (choice.size,))


def answer_lines(told: Told, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the answer: the heads against life, on which canvas, and what Enter and w would change."""
    word, sentence = _answer(told, columns)
    sitter = told.state.sitter
    asks = " · ".join(text for text in ("composition", "" if sitter is None else sitter.photo or "") if text)
    is_low = lines < _SMALL_LINES
    if told.said and is_low:
        sentence = told.said
    head = answer_head(asks, word, sentence, columns, lines, wanted=3)
    rows = list(head)
    left = MOST_WORDS - words_of([Line(sentence, Role.CANVAS), Line(asks, Role.HEAD)]) - _words_elsewhere(told)
    for text, role in [] if is_low else _below(told, sentence):
        left -= len(text.split())
        part = [Line(row, role) for row in wrapped(text, columns, indent="")]
        if (left >= 0 or columns >= LARGE_COLUMNS or text == told.said) and len(rows) + 1 + len(part) <= lines:
            rows += [BLANK, *part]
    return tuple(fitted(row, columns) for row in rows[:lines])


def _words_elsewhere(told: Told) -> int:
    shown = told.state.shown
    names = "" if shown is None else " ".join(shown.marking.names)
    labels = [one.label for one in chips_for(told)]
    return len(names.split()) + sum(len(label.split()) + 1 for label in labels)


def _answer(told: Told, columns: int) -> tuple[str, str]:
    """Return the word and the sentence below it, of at most 14 words."""
    sitter, shown = told.state.sitter, told.state.shown
    if sitter is None:
        return "WAIT", "The photo is being read."
    if shown is None:
        return "PHOTO?", sitter.fault or _NO_PHOTO
    if shown.fault or told.proposed or not shown.marking.heads:
        return "HEAD?", shown.fault or _head_question(told)
    choice = shown.choice
    if choice is None or not choice.heads:
        return ("WAIT", "The canvases are being ranked.") if shown.is_ranking else ("SIZE?", _NO_SIZES)
    return ("CUT", f"{choice.warnings[0]}.") if choice.cut_count else _size_answer(choice, columns)


def _head_question(told: Told) -> str:
    if told.proposed:
        which = "Is this the head? Enter takes it" if told.proposed == 1 else "Are these the heads? Enter takes them"
        return f"{which}, or draw one with the mouse."
    looked = "A face is looked for" if told.proposed is None else "No face was found"
    return f"{looked}: draw round the head with the mouse."


def _size_answer(choice: Choice, columns: int) -> tuple[str, str]:
    frac = mean_life_frac(choice.heads) or 0.0
    word = "OVER" if frac > _OVER_FROM else _FRACTIONS[min(_FRACTIONS, key=lambda one: abs(one - frac))]
    heights = sorted(head.height_mm / 10 for head in choice.heads)
    tall = " to ".join(dict.fromkeys(_centimetres(height) for height in (heights[0], heights[-1])))
    heads = "a head" if len(choice.heads) == 1 else "heads"
    on = f"{heads} of {tall} cm on {name_of(choice)}"
    if word == "LIFE":
        return word, f"Life size: {on}."
    whole = f"{word} LIFE"
    if width_cells(whole, 1) <= columns:
        return whole, f"{on[:1].upper()}{on[1:]}."
    return word, f"{'' if word == 'OVER' else 'of '}life size: {on}."


def _centimetres(height: float) -> str:
    return f"{height:.0f}" if height >= _WHOLE_FROM_CM else f"{height:.1f}"


def name_of(choice: Choice) -> str:
    """Return the name of a canvas; one of the plan's own in the unit in which its size is short to write."""
    canvas = choice.canvas
    return size_text((canvas.short_mm, canvas.long_mm)) if canvas.name.endswith(" cm") else canvas.name


def _below(told: Told, sentence: str) -> list[tuple[str, Role]]:
    """Return what stands below the answer, what is needed most first."""
    state, shown = told.state, told.state.shown
    found = [(told.said, Role.NOTICE)]
    if shown is None or state.sitter is None or told.proposed:
        return [one for one in found if one[0]]
    found.append((_enter_text(state), Role.PASSAGE))
    changes = unwritten(state)
    found.append((f"w saves {joined(changes)}." if changes else "", Role.PASSAGE))
    warnings = () if shown.choice is None or not shown.marking.heads else shown.choice.warnings
    found += [(f"{warning}.", Role.DETAIL) for warning in warnings[:2]]
    return [one for one in found if one[0] and one[0] != sentence]


def _enter_text(state: CompositionState) -> str:
    """Return what Enter will change."""
    choice = state.shown and state.shown.choice
    if choice is None or state.sitter is None or not is_new_canvas(state):
        return ""
    if state.taken is not None and key_of(state.taken) == key_of(choice):
        return f"Every canvas will be {name_of(choice)}, {choice.direction}. Enter leaves it as it was."
    directions = {size: direction for direction, size in choice.canvas.directions.items()}
    sizes = [directions.get(size) or size_text(size) for size in state.sitter.sizes]
    now = joined(sizes + ([] if state.sitter.is_sized else ["no size"]))
    return f"Enter: every canvas {name_of(choice)}, {choice.direction}; now {now}."


def fact_lines(shown: Shown, first: int, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the canvases and the facts beside the picture, from row `first` on."""
    rows = composition_rows(shown, columns, lines)
    first = max(0, min(first, len(rows) - lines))
    return tuple(Line(cut(row, columns), Role.DETAIL) for row in rows[first : first + lines])


def composition_rows(shown: Shown, columns: int, lines: int) -> tuple[str, ...]:
    """Return the facts as rows, each at most `columns` cells wide; more than `lines` are scrolled."""
    boxes = _boxes(shown.marking, columns)
    about = _about(shown, columns)
    if shown.fault:
        return (*boxes, "", *paragraphs([shown.fault], columns))
    if not shown.listed:
        return (*boxes, "", *paragraphs(["the canvases are being ranked" if shown.is_ranking else _NO_SIZES], columns))
    room = max(_FEWEST_CHOICES, lines - len(boxes) - len(about) - 4)
    return (*_choices(shown, columns, room), "", *about, "", *boxes, "", *paragraphs([rule_of()], columns))


def _boxes(marking: Marking, columns: int) -> list[str]:
    rows = [
        f"{'> ' if number == marking.in_hand else '  '}{cut(name, _MOST_NAME)}  "
        f"{box.left_px},{box.top_px}  {box.width_px} x {box.height_px} px"
        for number, (name, box) in enumerate(zip(marking.names, marking.boxes, strict=True))
    ]
    first = first_shown(marking.in_hand or 0, len(rows), _MOST_BOXES)
    seen = rows[first : first + _MOST_BOXES]
    others = len(rows) - len(seen)
    head = f"marked, a step is {marking.step_px} px" + (f", {others} more" if others else "")
    hint = [] if marking.heads else paragraphs([_NO_HEADS], columns)
    return [cut(row, columns) for row in (head, *seen)] + hint


def _choices(shown: Shown, columns: int, room: int) -> list[str]:
    listed = shown.listed
    of_what = "stock list" if shown.is_stock else "the plan's"
    waiting = " …" if shown.is_ranking else ""
    head = f"{shown.chosen + 1} of {len(listed)}, {of_what}, {shown.direction}{waiting}"
    first = first_shown(shown.chosen, len(listed), room)
    seen = listed[first : first + room]
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
    said = []
    for head in choice.heads:
        percent = life_percent(head.height_mm)
        said.append(
            f"{head.name}: {head.height_mm / 10:.1f} cm, {percent.man:.0f} % of a man's, {percent.woman:.0f} % of a "
            f"woman's mean head, eyes {head.eye_line_mm / 10:.1f} cm from the top"
        )
    crop = choice.crop
    said.append(f"crop {crop.left_px},{crop.top_px} {crop.width_px} x {crop.height_px} px; the rest is dimmed")
    said += [f"! {warning}" for warning in choice.warnings]
    said += [f"! {remark}" for remark in remarks_on(shown.marking.photo, shown.marking.heads)]
    return paragraphs(said, columns)
