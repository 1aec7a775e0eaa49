"""The keys of the Composition screen."""

from typing import Final

from textual.binding import Binding, BindingType


def _key(keys: str, action: str, label: str, sentence: str, name: str) -> Binding:
    return Binding(keys, action, label, tooltip=sentence, id=f"composition.{name}")


def _quiet(keys: str, action: str, label: str, sentence: str, name: str) -> Binding:
    return Binding(keys, action, label, tooltip=sentence, id=f"composition.{name}", show=False)


BINDINGS: Final[list[BindingType]] = [
    _key("escape", "back", "easel", "Back to the easel, or drop what is typed", "back"),
    _key("n", "mark('with_head')", "new head", "Mark a new head", "head"),
    _key("k", "mark('with_keep')", "keep", "Mark a part that must stay in the picture", "keep"),
    _key("tab", "mark('next_in_hand')", "next box", "Take the next box in hand", "next"),
    _quiet("left", "move(-1, 0)", "left", "Move the box in hand to the left", "left"),
    _quiet("right", "move(1, 0)", "right", "Move the box in hand to the right", "right"),
    _quiet("up", "move(0, -1)", "up", "Move the box in hand up", "up"),
    _quiet("down", "move(0, 1)", "down", "Move the box in hand down", "down"),
    _key("b,shift+right", "resize(1, 0)", "broader, B less", "Make the box in hand broader", "broader"),
    _quiet("B,shift+left", "resize(-1, 0)", "narrower", "Make the box in hand narrower", "narrower"),
    _key("t,shift+down", "resize(0, 1)", "taller, T less", "Make the box in hand taller", "taller"),
    _quiet("T,shift+up", "resize(0, -1)", "lower", "Make the box in hand less tall", "lower"),
    _key("plus", "step(1)", "- step", "Move and size by larger steps", "larger"),
    _quiet("minus", "step(-1)", "smaller step", "Move and size by smaller steps", "smaller"),
    _key("x", "mark('without_in_hand')", "delete", "Delete the box in hand", "delete"),
    _key("r", "ask('name')", "rename", "Rename the head in hand", "rename"),
    _key("c", "choose(1)", "C canvas", "Choose the next canvas", "canvas"),
    _quiet("C", "choose(-1)", "canvas before", "Choose the canvas before", "canvas_before"),
    _key("a", "change_list", "stock list", "Rank the stock list, or the plan's sizes", "list"),
    _key("enter", "take", "take", "Take the chosen canvas, or leave it again", "take"),
    _key("w", "write", "write", "Write marks and the taken canvas into the plan", "write"),
    _key("f", "ask('photo')", "photo", "Name the photo's file", "photo"),
    _quiet("pagedown", "page(1)", "down", "Show what is below", "down_page"),
    _quiet("pageup", "page(-1)", "up", "Show what is above", "up_page"),
    _key("0", "drop", "as planned", "Drop what is not written and read the plan again", "drop"),
]
