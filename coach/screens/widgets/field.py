"""The field in which the painter types."""

from typing import Final

from textual import events
from textual.binding import Binding
from textual.widgets import Input

_EDITS: Final = {
    key: binding.action
    for binding in Input.BINDINGS
    if isinstance(binding, Binding) and binding.action != "submit"
    for key in binding.key.split(",")
}
"""What the framework's own keys of a field do; its scrolling and submitting are the screen's."""


class Field(Input, can_focus=False):
    """A line to type in; the app brings it its keys, each when the one before is done.

    It shows its cursor, but the screen's focus is not told: a change of focus has the whole screen sent again.
    """

    DEFAULT_CSS = """
    Field, Field:focus { border: none; height: 1; padding: 0 1; background: $panel; color: $foreground; }
    Field > .input--placeholder { color: $foreground; }
    Field > .input--selection { background: $foreground; color: $background; }
    """

    def __init__(self, *, asks: str = "", text: str = "", most: int = 0) -> None:
        super().__init__(text, placeholder=asks, max_length=most, compact=True, select_on_focus=False)

    def on_mount(self) -> None:
        self.post_message(events.Focus())

    async def take(self, event: events.Key) -> bool:
        """Return whether the key edits the text, which is done then."""
        if event.is_printable and event.character:
            self.type_in(event.character)
            return True
        action = _EDITS.get(event.key)
        if action is not None:
            await self.run_action(action)
        return action is not None

    def type_in(self, text: str) -> None:
        """Put a text where the cursor stands, or in the place of what is selected, as far as there is room."""
        room = self.max_length - len(self.value) + len(self.selected_text) if self.max_length else len(text)
        if self.selection.is_empty:
            self.insert_text_at_cursor(text[:room])
        else:
            self.replace(text[:room], *self.selection)
