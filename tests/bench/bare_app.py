"""The barest app of the framework: one label, one key that counts. What it costs is the framework's own price."""

import sys
from collections.abc import Iterable
from typing import ClassVar

from textual.app import App
from textual.binding import Binding, BindingType
from textual.widget import Widget
from textual.widgets import Static


class BareApp(App[None]):
    """Shows how often Space was pressed; with `ticks` the label changes every second as well."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("space", "count", "count"), Binding("q", "quit", "quit")]

    def __init__(self, *, ticks: bool) -> None:
        super().__init__()
        self._ticks = ticks
        self._count = 0
        self._label = Static("count 0", markup=False)

    def compose(self) -> Iterable[Widget]:
        yield self._label

    def on_mount(self) -> None:
        """Let the clock run where it is wanted."""
        if self._ticks:
            self.set_interval(1, self.action_count)

    def action_count(self) -> None:
        """Count one more."""
        self._count += 1
        self._label.update(f"count {self._count}")


if __name__ == "__main__":
    BareApp(ticks="--tick" in sys.argv[1:]).run()
