"""The keys of a screen and its app, as they are shown and as they are offered as commands."""

from collections.abc import Iterator

from textual.binding import Binding
from textual.dom import DOMNode
from textual.widgets import Static

_NAMES = {"space": "Space", "escape": "Esc", "up": "↑", "down": "↓", "left": "←", "right": "→"}
_NAMES |= {"tab": "Tab", "enter": "Enter", "plus": "+", "minus": "-"}


def described_bindings(*sources: DOMNode) -> Iterator[tuple[DOMNode, Binding]]:
    """Return every binding that has a sentence of its own, with the screen or app that declares it."""
    for source in sources:
        for binding in source.BINDINGS:
            if isinstance(binding, Binding) and binding.tooltip:
                yield source, binding


def key_name(binding: Binding) -> str:
    """Return the first key of a binding as it is written on the screen."""
    key = binding.key.split(",")[0]
    return _NAMES.get(key, key)


def key_labels(*sources: DOMNode) -> tuple[tuple[str, str], ...]:
    """Return pairs of a key and what it does."""
    return tuple(
        (key_name(binding), binding.description) for _, binding in described_bindings(*sources) if binding.show
    )


class KeyLine(Static):
    """Shows pairs of a key and what it does, below everything else."""

    DEFAULT_CSS = """
    KeyLine { height: auto; max-height: 2; color: $quiet; }
    """

    def __init__(self, *keys: tuple[str, str]) -> None:
        super().__init__("  ".join(f"{key} {label}" for key, label in keys), id="keys", markup=False)
