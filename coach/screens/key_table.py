"""Every key of every screen: a letter means one thing wherever it is pressed; each screen says it in its own words.

Bindings, chips, the page behind `?` and the table in the README are made from this. A screen's use of a meaning takes
its keys from the meaning; only keys that are no letters (arrows, Enter, Esc) are given here and there.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, NamedTuple

MEANINGS: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        "add": ("a", "add"),
        "both": ("b", "both canvases side by side"),
        "change": ("c", "change what stands there"),
        "light": ("d", "dark or light screen"),
        "end": ("e", "end the session"),
        "facts": ("f", "facts: minutes, days, reasons"),
        "deadline": ("g", "due day"),
        "sound": ("h", "sound on or off"),
        "composition": ("i", "composition"),
        "join": ("j", "join to its neighbour"),
        "cut": ("k", "cut apart"),
        "log": ("l", "log"),
        "mark": ("m", "mark to look again"),
        "note": ("n", "note"),
        "other": ("o", "the other one"),
        "pause": ("p,full_stop", "pause"),
        "quit": ("q", "leave the coach"),
        "rest": ("r", "rest"),
        "squint": ("s", "squint: fewer values"),
        "shapes": ("t", "shapes of the photo"),
        "undo": ("u", "undo"),
        "plan": ("v", "plan"),
        "save": ("w", "save"),
        "drop": ("x", "delete, drop or skip"),
        "mirror": ("y", "mirror the picture"),
        "arrows": ("z", "what the arrows do"),
        "help": ("question_mark,f1", "what can I press now"),
    }
)
"""The keys of each meaning, as the framework names them, and the meaning in words."""

NOW, PICTURE, STOP, ELSEWHERE, SCREEN = "Now", "The picture", "Rest and stop", "Go to", "The screen"
ROWS, EDIT, KEEP = "Find your place", "Change it", "Keep it"
"""Moments: what the page behind `?` groups the keys by, in the order of each screen's table."""


class KeyUse(NamedTuple):
    """What a screen does with a key.

    Attributes:
        name: Its name on the screen.
        keys: The keys as the framework names them, the one that is shown first.
        meaning: The meaning of its letter; empty for a key that is no letter.
        action: What it runs.
        label: The words on its chip.
        says: What it does, for the page behind `?`.
        moment: When it is wanted.
    """

    name: str
    keys: str
    meaning: str
    action: str
    label: str
    says: str
    moment: str


def _use(meaning: str, action: str, label: str, says: str, moment: str, *, name: str = "", more: str = "") -> KeyUse:
    """Return the use of a letter; `more` are keys that do the same here and are no letters."""
    keys = MEANINGS[meaning][0]
    return KeyUse(name or meaning, f"{keys},{more}" if more else keys, meaning, action, label, says, moment)


def _key(keys: str, action: str, label: str, says: str, moment: str, *, name: str) -> KeyUse:
    """Return the use of keys that are no letters."""
    return KeyUse(name, keys, "", action, label, says, moment)


_APP: Final = (
    _use("log", "door('log')", "log", "The log, and was it fair", ELSEWHERE),
    _use("deadline", "door('deadline')", "due day", "The due day: does it hold", ELSEWHERE),
    _use("plan", "door('plan')", "plan", "The plan", ELSEWHERE),
    _use("composition", "door('composition')", "composition", "The composition", ELSEWHERE),
    _use("shapes", "door('shapes')", "shapes", "The shapes in the photo", ELSEWHERE),
    _use("both", "door('compare')", "compare", "Do the canvases agree: compare them", ELSEWHERE),
    _use("help", "help", "what else", "What can I press now", SCREEN),
    _use("light", "toggle_light", "light", "Dark or light screen", SCREEN),
    _use("sound", "toggle_sound", "sound", "Sound on or off", SCREEN),
    _use("quit", "quit", "leave", "Leave the coach; nothing is lost", SCREEN),
)

_EASEL: Final = (
    _key("space,pagedown,right", "move('go_on')", "done", "Done: on to the next turn", NOW, name="go_on"),
    _key("enter", "answer(True)", "yes", "Yes to the notice; without one: done", NOW, name="yes"),
    _key("escape", "answer(False)", "no", "No to the notice; drop what you type", NOW, name="no"),
    _use("other", "move('go_other_way')", "other canvas", "Start on the other canvas", NOW),
    _use("note", "open_field('note')", "note", "Write a note on this turn", NOW),
    _use("mark", "move('mark')", "look again", "Mark this turn to look again at the end", NOW),
    _use("drop", "move('skip')", "skip", "Skip this turn", NOW),
    _use("change", "open_field('minutes')", "real minutes", "Correct the minutes of the last turn", NOW),
    _use("undo", "move('undo')", "undo", "Take back the last move", NOW, more="pageup"),
    _key("plus", "enlarge(True)", "picture", "The picture alone, large", PICTURE, name="larger"),
    _key("minus", "enlarge(False)", "smaller", "The picture beside the words again", PICTURE, name="smaller"),
    _use("mirror", "toggle_mirror", "mirror", "Mirror it, or straight again", PICTURE),
    _key("down", "toggle_upside_down", "upside down", "Upside down, or upright again", PICTURE, name="upside_down"),
    _use("facts", "app.facts", "facts", "The facts of this turn, or of the day", PICTURE),
    _use("pause", "move('pause')", "pause", "Pause, or carry on after one", STOP),
    _use("rest", "move('rest')", "rest", "Begin a rest", STOP),
    _use("end", "move('end_session')", "end session", "End the session", STOP),
)

_MOMENT: Final = (
    _key("space,pagedown,right", "pass_on('space')", "begin", "Begin to paint", NOW, name="begin"),
    _key("enter", "step", "record", "Record what follows: photo, framer, hand-over", NOW, name="step"),
    _use("other", "pass_on('o')", "other canvas", "Start on the other canvas", NOW),
    _use("facts", "toggle_facts", "facts", "The facts, or the page again", NOW),
    _key("escape", "app.pop_screen", "easel", "Back to the easel", ROWS, name="back"),
    _key("up", "scroll(-1)", "up", "The facts, a line up", ROWS, name="up"),
    _key("down", "scroll(1)", "down", "The facts, a line down", ROWS, name="down"),
)

_PLAN: Final = (
    _key("escape", "leave", "back", "Back, or drop what you type", ROWS, name="leave"),
    _key("up", "move(-1)", "up", "One row up", ROWS, name="up"),
    _key("down", "move(1)", "down", "One row down", ROWS, name="down"),
    _key("left", "move_pass(-1)", "pass before", "The pass before; in a form the row before", ROWS, name="left"),
    _key("right", "move_pass(1)", "next pass", "The next pass; in a form the next row", ROWS, name="right"),
    _key("pageup", "page(-1)", "page up", "Half a screen up", ROWS, name="pageup"),
    _key("pagedown", "page(1)", "page down", "Half a screen down", ROWS, name="pagedown"),
    _key("home", "move(-1000000)", "first row", "The first row", ROWS, name="home"),
    _key("end", "move(1000000)", "last row", "The last row", ROWS, name="end"),
    _key("tab", "next_tab", "next", "Go round: the rows, the picture, the order", ROWS, name="tab"),
    _use("facts", "toggle_facts", "facts", "Facts: every row in full, or every turn", ROWS),
    _use("change", "change", "open", "Open this row: name, minutes, value ...", EDIT, more="enter"),
    _use("add", "field('add')", "add below", "Add a passage below", EDIT),
    _use("join", "edit('join')", "join", "Paint it wet into the passage above", EDIT),
    _use("cut", "edit('split')", "cut", "Cut it from the passage above", EDIT),
    _key("shift+up,left_square_bracket", "edit('move_up')", "move up", "Move the row up", EDIT, name="move_up"),
    _key("shift+down,right_square_bracket", "edit('move_down')", "move down", "Move it down", EDIT, name="move_down"),
    _use("drop", "edit('delete')", "delete", "Delete the row", EDIT, more="delete"),
    _use("undo", "undo", "undo", "Take back the last change", KEEP),
    _key("ctrl+y", "redo", "redo", "Make the change again", KEEP, name="redo"),
    _use("save", "save", "save", "Save the plan", KEEP),
)

_DEADLINE: Final = (
    _key("escape", "leave", "back", "Back to the answer, then to the easel", ROWS, name="back"),
    _use("change", "show('try')", "what if", "What if: the plan before and after", ROWS),
    _use("facts", "show('facts')", "facts", "The facts behind the answer", ROWS),
    _key("down", "choose(1)", "next row", "The next thing to try", EDIT, name="next"),
    _key("up", "choose(-1)", "row before", "The thing before", EDIT, name="before"),
    _key("right,plus", "step(1)", "more", "Try more, or later", EDIT, name="more"),
    _key("left,minus", "step(-1)", "less", "Try less, or earlier", EDIT, name="less"),
    _key("enter", "try_best", "try it", "Try what would help most", EDIT, name="try"),
    _use("drop", "drop", "as planned", "Drop what you try", EDIT),
    _use("save", "write", "save", "Put it into the plan", KEEP),
    _use("undo", "take_back", "undo", "Take back what you saved", KEEP),
    _key("pagedown", "page(1)", "down", "A page down", ROWS, name="down"),
    _key("pageup", "page(-1)", "up", "A page up", ROWS, name="up"),
)

_COMPOSITION: Final = (
    _key("escape", "back", "back", "Back, or drop what you type", ROWS, name="back"),
    _key("tab", "mark('next_in_hand')", "next box", "Take the next box in hand", ROWS, name="next"),
    _key("left", "arrow(-1, 0)", "left", "The box to the left", ROWS, name="left"),
    _key("right", "arrow(1, 0)", "right", "The box to the right", ROWS, name="right"),
    _key("up", "arrow(0, -1)", "up", "The box up", ROWS, name="up"),
    _key("down", "arrow(0, 1)", "down", "The box down", ROWS, name="down"),
    _key("shift+right", "resize(1, 0)", "broader", "Broader", ROWS, name="broader"),
    _key("shift+left", "resize(-1, 0)", "narrower", "Narrower", ROWS, name="narrower"),
    _key("shift+down", "resize(0, 1)", "taller", "Taller", ROWS, name="taller"),
    _key("shift+up", "resize(0, -1)", "lower", "Less tall", ROWS, name="lower"),
    _use("arrows", "toggle_arrows", "size", "Arrows size the box, or move it", ROWS),
    _key("plus", "enlarge(True)", "closer", "Closer to the box, and smaller steps", ROWS, name="closer"),
    _key("minus", "enlarge(False)", "farther", "Farther away, and larger steps", ROWS, name="farther"),
    _use("facts", "toggle_facts", "canvases", "The canvases and the facts, or the answer", ROWS),
    _key("pagedown", "page(1)", "down", "The facts, a page down", ROWS, name="down_page"),
    _key("pageup", "page(-1)", "up", "The facts, a page up", ROWS, name="up_page"),
    _use("add", "add", "add", "Add a head, or a part that must stay", EDIT),
    _use("drop", "mark('without_in_hand')", "delete", "Delete the box in hand", EDIT),
    _use("change", "change", "change", "Change name, photo, list of sizes, direction", EDIT),
    _use("other", "choose(1)", "next canvas", "The next canvas", EDIT, more="right_square_bracket"),
    _key("left_square_bracket", "choose(-1)", "canvas before", "The canvas before", EDIT, name="canvas_before"),
    _key("enter", "take", "take it", "Take the head found, or this canvas", EDIT, name="take"),
    _use("save", "write", "save", "Save heads and canvas in the plan", KEEP),
)

_PAGED: Final = (
    _key("down", "scroll(1)", "down", "A line down", ROWS, name="down"),
    _key("up", "scroll(-1)", "up", "A line up", ROWS, name="up"),
    _key("pagedown", "page(1)", "page down", "A page down", ROWS, name="page_down"),
    _key("pageup", "page(-1)", "page up", "A page up", ROWS, name="page_up"),
)

_SHAPES: Final = (
    _key("escape", "back", "back", "Back, or drop what you type", ROWS, name="back"),
    _key("left", "arrow(-1, 0)", "left", "The shape to the left", ROWS, name="left"),
    _key("right", "arrow(1, 0)", "right", "The shape to the right", ROWS, name="right"),
    _key("up", "arrow(0, -1)", "up", "The shape above", ROWS, name="up"),
    _key("down", "arrow(0, 1)", "down", "The shape below", ROWS, name="down"),
    _key("slash", "ask('find')", "find", "Find a shape by its name", ROWS, name="find"),
    _use("other", "do('next')", "next passage", "The next passage of the plan", ROWS, more="right_square_bracket"),
    _key("left_square_bracket", "do('before')", "passage before", "The passage before", ROWS, name="passage_before"),
    _key("plus", "enlarge(True)", "closer", "Closer", PICTURE, name="closer"),
    _key("minus", "enlarge(False)", "farther", "Farther away", PICTURE, name="farther"),
    _use("squint", "do('squint')", "squint", "Squint harder; then open your eyes again", PICTURE),
    _key("space", "do('flat')", "flat", "Every shape in one colour, or the photo", PICTURE, name="flat"),
    _key("tab", "do('feature')", "one feature", "One feature alone, then the next", PICTURE, name="feature"),
    _use("facts", "toggle_figures", "facts", "The facts of this shape", PICTURE),
    _use("cut", "cut", "cut", "Cut the shape in two", EDIT),
    _use("join", "choose('join')", "join", "Join it to a shape it touches", EDIT),
    _use("add", "do('mark')", "in, out", "Put the shape into the passage, or take it out", EDIT),
    _use("change", "choose('change')", "change", "Change the shape: its name, its feature ...", EDIT),
    _use("arrows", "toggle_arrows", "corners", "Arrows move a point, or choose a shape", EDIT),
    _key("enter", "take", "take", "Take the nearest corner, or leave it here", EDIT, name="take"),
    _use("undo", "do('undo')", "undo", "Take back the last change", KEEP),
    _key("ctrl+y", "do('redo')", "redo", "Make the change again", KEEP, name="redo"),
    _use("save", "save", "save", "Save the shapes and the plan", KEEP),
)

_LOG: Final = (
    _key("escape", "app.door('log')", "easel", "Back to the easel", ROWS, name="back"),
    _key("tab", "show_fairness", "was it fair", "Was it fair? Then: the hours", ROWS, name="fairness"),
    *_PAGED,
    _key("home", "scroll(-1000000)", "newest", "The newest turn", ROWS, name="first"),
    _key("end", "scroll(1000000)", "oldest", "The oldest turn", ROWS, name="last"),
    _use("change", "choose_pass", "one pass", "Show one pass alone, or all", ROWS),
    _use("other", "next_canvas", "next canvas", "Only the next canvas, then all again", ROWS),
)

_FAIRNESS: Final = (
    _use("facts", "toggle_facts", "facts", "The facts behind the answer, or the answer", ROWS),
    _key("tab", "show_hours", "hours", "The hours and the rests", ROWS, name="hours"),
    _key("escape", "leave", "back", "Back", ROWS, name="back"),
    _key("right", "step_pass(1)", "next pass", "The next pass alone, then all again", ROWS, name="next"),
    _key("left", "step_pass(-1)", "pass before", "The pass before", ROWS, name="before"),
    *_PAGED,
)

_HOURS: Final = (
    _use("facts", "toggle_facts", "facts", "The facts behind the answer, or the answer", ROWS),
    _key("escape", "leave", "back", "Back", ROWS, name="back"),
    _key("tab", "app.pop_screen", "log", "The log", ROWS, name="log"),
    *_PAGED,
)

_COMPARE: Final = (
    _key("enter", "accept", "accept", "Yes, go on; on the answer: mark to look again", NOW, name="accept"),
    _use("other", "other", "exchange names", "The canvases stand the other way round", NOW),
    _use("add", "cards", "cards", "The card beside each canvas, or none", NOW),
    _use("drop", "drop", "meant so", "It is meant so: tell it no more", NOW),
    _use("change", "change", "other photos", "Choose other photos", NOW),
    _use("facts", "toggle_facts", "facts", "The facts behind the answer", NOW),
    _key("escape", "back", "back", "A step back, or drop what you type", ROWS, name="back"),
    _key("tab", "next", "next corner", "The next point; on the answer: the drawing", ROWS, name="next"),
    _key("right", "arrow(1, 0)", "next", "The corner to the right; the next finding", ROWS, name="right"),
    _key("left", "arrow(-1, 0)", "before", "The corner to the left; the finding before", ROWS, name="left"),
    _key("down", "arrow(0, 1)", "down", "The corner down; the next finding", ROWS, name="down"),
    _key("up", "arrow(0, -1)", "up", "The corner up; the finding before", ROWS, name="up"),
    _key("plus", "enlarge(True)", "closer", "Closer, and smaller steps", PICTURE, name="closer"),
    _key("minus", "enlarge(False)", "farther", "Farther away, and larger steps", PICTURE, name="farther"),
)

_HELP: Final = (
    _key("escape,question_mark,f1", "app.pop_screen", "back", "Back", ROWS, name="back"),
    _key("up", "choose(-1)", "up", "The key above", ROWS, name="up"),
    _key("down", "choose(1)", "down", "The key below", ROWS, name="down"),
    _key("home", "choose(-1000000)", "first", "The first key", ROWS, name="home"),
    _key("end", "choose(1000000)", "last", "The last key", ROWS, name="end"),
    _key("enter", "use", "press it", "Press the chosen key", ROWS, name="use"),
)

_CHOICE: Final = (
    _key("escape", "app.pop_screen", "back", "Back", ROWS, name="back"),
    _key("up", "choose(-1)", "up", "The choice above", ROWS, name="up"),
    _key("down", "choose(1)", "down", "The choice below", ROWS, name="down"),
    _key("enter", "use", "take", "Take this one", ROWS, name="use"),
    _key("1,2,3,4,5,6,7,8,9", "use_number", "take", "Take the one of that number", ROWS, name="use_number"),
)

_LEAVING: Final = (
    _use("save", "dismiss('save')", "save", "Save it and leave", NOW),
    _use("drop", "dismiss('drop')", "drop", "Drop it and leave", NOW),
    _key("escape", "dismiss('')", "stay", "Stay here", NOW, name="stay"),
)

_COMMISSION: Final = (
    _key("enter,down", "onward", "next", "Take the answer and go on", ROWS, name="onward"),
    _key("escape,up", "back", "back", "The question before", ROWS, name="back"),
    _key("pagedown", "page(1)", "more", "A page down", ROWS, name="down"),
    _key("pageup", "page(-1)", "up", "A page up", ROWS, name="up"),
    _use("change", "rename", "other name", "Type another name for the file", EDIT),
    _use("facts", "show('facts')", "facts", "Facts of the plan; sources of the cautions", EDIT),
    _use("plan", "show('text')", "text", "The text of the plan", EDIT),
    _key("ctrl+n", "anew", "begin anew", "Begin anew, or take that back", ROWS, name="anew"),
    _key("f1", "app.help", "what else", "What can I press now", SCREEN, name="help"),
    _key("ctrl+q", "app.quit", "leave", "Leave; your answers are kept", SCREEN, name="leave"),
)

_CHOOSER: Final = (
    _key("enter", "open", "open", "Open this commission", NOW, name="open"),
    _use("add", "begin", "new", "Begin a new commission", NOW),
    _key("up", "choose(-1)", "up", "The commission above", ROWS, name="up"),
    _key("down", "choose(1)", "down", "The commission below", ROWS, name="down"),
    _key("home", "choose(-1000000)", "first", "The first commission", ROWS, name="home"),
    _key("end", "choose(1000000)", "last", "The last commission", ROWS, name="end"),
    _use("quit", "quit", "leave", "Leave the coach", SCREEN, more="escape"),
    _use("help", "help", "what else", "What can I press now", SCREEN),
)

KEYS: Final[Mapping[str, tuple[KeyUse, ...]]] = MappingProxyType(
    {
        "easel": _EASEL,
        "moment": _MOMENT,
        "plan": _PLAN,
        "deadline": _DEADLINE,
        "composition": _COMPOSITION,
        "shapes": _SHAPES,
        "compare": _COMPARE,
        "log": _LOG,
        "fairness": _FAIRNESS,
        "hours": _HOURS,
        "choice": _CHOICE,
        "leaving": _LEAVING,
        "commission": _COMMISSION,
        "chooser": _CHOOSER,
        "help": _HELP,
        "app": _APP,
    }
)
"""What each screen, and the app on all of them, does with its keys."""


def key_use(name: str) -> KeyUse:
    """Return a use by its full name, such as "easel.go_on"."""
    screen, _, of_screen = name.partition(".")
    return next(use for use in KEYS[screen] if use.name == of_screen)
