"""The keys of the Plan, those first that are needed most: where lines are few, the last are not shown."""

from typing import Final

from textual.binding import Binding


def _key(keys: str, action: str, label: str, sentence: str, name: str, *, show: bool = True) -> Binding:
    return Binding(keys, action, label, tooltip=sentence, id=f"plan.{name}", show=show)


KEYS: Final = (
    _key("escape", "leave", "easel", "Back to the easel, or drop what is written", "leave"),
    _key("w", "save", "save", "Save the plan in its file", "save"),
    _key("u", "undo", "undo", "Undo the last edit", "undo"),
    _key("y", "redo", "redo", "Do the undone edit again", "redo"),
    _key("o", "toggle_order", "order", "Show the order of work, or the tree", "order"),
    _key("a", "field('add')", "add passage", "Add a passage below", "add"),
    _key("p", "field('add_pass')", "add pass", "Add a pass below", "add_pass"),
    _key("r", "field('rename')", "rename", "Give the passage or the pass another name", "rename"),
    _key("m", "field('minutes')", "minutes", "Change the minutes on one canvas", "minutes"),
    _key("b", "field('value')", "value", "Change the value, 0 black to 10 white", "value"),
    _key("shift+up,left_square_bracket", "edit('move_up')", "up, shift+down down", "Move it up", "move_up"),
    _key("shift+down,right_square_bracket", "edit('move_down')", "down", "Move it down", "move_down", show=False),
    _key("j", "edit('join')", "join", "Let it meet the passage above wet: one run", "join"),
    _key("s", "edit('split')", "split", "Split it from its run", "split"),
    _key("t", "edit('sort')", "dark to light", "Sort this pass from dark to light", "sort"),
    _key("x,delete", "edit('delete')", "delete", "Delete the passage or the pass", "delete"),
    _key("k", "field('area')", "area", "Change the area on one canvas", "area"),
    _key("e", "field('mixture')", "mixture", "Change the mixture", "mixture"),
    _key("h", "field('difficulty')", "difficulty", "Change how hard a minute of it is", "difficulty"),
    _key("c", "field('lead')", "lead", "Say which canvas leads the run", "lead"),
    _key("n", "field('to_pass')", "to pass", "Move the passage to another pass", "to_pass"),
    _key("up", "move(-1)", "row above", "Go up", "up", show=False),
    _key("down", "move(1)", "row below", "Go down", "down", show=False),
    _key("left", "move_pass(-1)", "pass before", "Go to the pass before", "left", show=False),
    _key("right", "move_pass(1)", "next pass", "Go to the next pass", "right", show=False),
    _key("pageup", "page(-1)", "page up", "Go up half a screen", "pageup", show=False),
    _key("pagedown", "page(1)", "page down", "Go down half a screen", "pagedown", show=False),
    _key("home", "move(-1000000)", "first row", "Go to the first row", "home", show=False),
    _key("end", "move(1000000)", "last row", "Go to the last row", "end", show=False),
)
"""One meaning a key, none of them a key of the app."""
