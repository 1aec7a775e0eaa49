"""How a passage names the earlier one it lies over or is painted into, so that the reader takes it as meant."""

from collections.abc import Iterator

from yaml.error import Mark
from yaml.nodes import ScalarNode

from coach.plan.layer_reading import Address, EarlierPassages
from coach.plan.node_reading import Asker, Faults

_TEXT_TAG = "tag:yaml.org,2002:str"
_NOWHERE = Mark("", 0, 0, 0, None, None)


class LayerNames:
    """The passages so far; asks the reader itself what a name means, so that both never differ."""

    def __init__(self) -> None:
        """Start with none."""
        self._earlier = EarlierPassages()
        self._held: set[Address] = set()

    def add(self, address: Address) -> None:
        """Add the passage that comes next in the plan."""
        self._earlier.add(*address)
        self._held.add(address)

    def add_until(self, here: Address, order: Iterator[Address]) -> None:
        """Add passages from `order` until `here` has been added too."""
        for address in order:
            if address == here:
                self._next = here
                return
            self.add(address)

    def holds(self, address: Address) -> bool:
        """Return whether a passage is one of those so far."""
        return address in self._held

    def meant(self, text: str, pass_name: str) -> Address | None:
        """Return which passage a passage of `pass_name` means by `text`, or None where that is a fault."""
        node = ScalarNode(_TEXT_TAG, text, _NOWHERE, _NOWHERE)
        return self._earlier.read(Asker(Faults("")), node, "", pass_name)

    def written(self, address: Address, pass_name: str) -> str | None:
        """Return the shortest text by which a passage of `pass_name` names another, or None where no text does."""
        texts = (address[1], " / ".join(address))
        return next((text for text in texts if self.meant(text, pass_name) == address), None)
