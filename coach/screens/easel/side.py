"""What stands beside the letters: value, pile, recipe and brush, or what to do in a check. Pure."""

from typing import Final

from coach.plan.commission import Passage, Plan
from coach.plan.value_range import PAINT_REACH
from coach.screens.easel import wording
from coach.screens.easel.layout import Face, Layout
from coach.screens.easel.sheet import Sheet
from coach.screens.easel.state import EaselState
from coach.screens.lines import Look
from coach.screens.widgets.block_letters import Form, block_lines, can_draw
from coach.session.situation import Situation
from coach.text import wrapped

VALUES: Final = ("1c", "31", "48", "60", "79", "93", "ad", "c8", "e3")
"""Greys of the values 1 to 9 on a screen, hexadecimal. Source: ASTM D1535-08, equation 2, and IEC 61966-2-1."""

HATCHED: Final = "░"
"""Fills a step of the scale that paint does not reach."""

_SMALL_LINES: Final = 6
_PILE: Final = Face(Form.NARROW, 1)
_RECIPE_LINES: Final = 3
_WITHOUT: Final = (EaselState.RESTING, EaselState.SESSION_OVER)


def put_side(sheet: Sheet, layout: Layout, situation: Situation, state: EaselState, picture_says: str) -> None:
    """Put the side of the first passage beside the letters, where there is room for it."""
    box, picture = layout.side, layout.picture
    if picture is not None:
        sheet.put(picture.x, picture.y + picture.rows, picture_says, room=box.columns)
    if not box.rows or not box.columns or not situation.passages or state in _WITHOUT:
        return
    passage = situation.passages[0]
    if passage.check is not None:
        for number, row in enumerate(wrapped(wording.LOOKS[passage.check], box.columns, box.rows, indent="")):
            sheet.put(box.x, box.y + number, row, look=Look.BOLD)
        return
    y = box.y
    mark = (0, 0)
    if passage.value is not None:
        y, mark = _put_scale(sheet, layout, passage.value, situation.plan)
    y = _put_brush(sheet, layout, y, mark, wording.brush(passage))
    _put_pile(sheet, layout, y + (box.rows > _SMALL_LINES), passage, situation.plan)


def _put_scale(sheet: Sheet, layout: Layout, value: float, plan: Plan) -> tuple[int, tuple[int, int]]:
    """Put the steps 1 to 9 with a mark below the value; return the line of the mark, and where it begins and ends."""
    box = layout.side
    wide, high = box.columns // len(VALUES), 1 + (box.rows > _SMALL_LINES)
    darkest, lightest = plan.values.paint if plan.values else PAINT_REACH
    for step, grey in enumerate(VALUES, start=1):
        for y in range(box.y, box.y + high):
            x = box.x + (step - 1) * wide
            if darkest <= step <= lightest:
                sheet.put(x, y, " " * wide, ground=f"#{grey * 3}")
            else:
                sheet.put(x, y, HATCHED * wide)
    at = min(max(round((value - 1) * wide + (wide - 1) / 2), 0), len(VALUES) * wide - 1)
    number = f"{value:g}"
    is_right = at + 2 + len(number) <= box.columns
    start, text = (at, f"▲ {number}") if is_right else (at - len(number) - 1, f"{number} ▲")
    sheet.put(box.x + start, box.y + high, text, look=Look.BOLD)
    return box.y + high, (start, start + len(text))


def _put_brush(sheet: Sheet, layout: Layout, y: int, mark: tuple[int, int], brush: str) -> int:
    """Put the brush on the line of the mark, on the side that has room; return the line below."""
    box, (start, end) = layout.side, mark
    x = box.columns - len(brush) if end else 0
    if x > end or not end:
        sheet.put(box.x + x, y, brush)
    elif len(brush) < start:
        sheet.put(box.x, y, brush)
    return y + 1 if end or brush else y


def _put_pile(sheet: Sheet, layout: Layout, y: int, passage: Passage, plan: Plan) -> None:
    """Put the name of the pile, large where it has room, and its recipe."""
    box = layout.side
    pile = passage.mixture or ""
    if box.rows > _SMALL_LINES and pile and can_draw(pile) and _PILE.width(pile) <= box.columns:
        sheet.put_rows(box.x, y, block_lines(pile, _PILE.scale, _PILE.form))
        y += _PILE.rows
    elif pile:
        sheet.put(box.x, y, pile, look=Look.BOLD)
        y += 1
    parts = wording.recipe(passage, plan)
    for number, row in enumerate(wrapped(parts, box.columns, _RECIPE_LINES, indent="") if parts else ()):
        sheet.put(box.x, y + number, row)
