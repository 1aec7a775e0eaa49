"""How a passage names the earlier one it lies over or is painted into, so that the reader takes it as meant."""

from collections.abc import Iterable

from yaml.error import Mark
from yaml.nodes import ScalarNode

from coach.errors import CoachError
from coach.plan.commission import Pass, Plan
from coach.plan.layer_reading import Address, EarlierPassages
from coach.plan.node_reading import Asker, Faults
from coach.plan.problems import quoted

_TEXT_TAG = "tag:yaml.org,2002:str"
_NOWHERE = Mark("", 0, 0, 0, None, 0)
_SHORT_CHARACTERS = 200
"""A text as short as this is never too long for the reader."""


class WritingError(CoachError):
    """A plan cannot be written so that it reads back as the same."""


class LayerNames:
    """The passages so far; asks the reader itself what a name means, so that both never differ."""

    def __init__(self, passes: Iterable[Pass]) -> None:
        """Start before the first passage; only those are kept that a layer of `passes` may name or be taken for."""
        self._earlier = EarlierPassages()
        self._held: set[Address] = set()
        self._parts_no_names = True
        layers = (passage.over or passage.into for one_pass in passes for passage in one_pass.passages)
        self._targets = {layer[1] for layer in layers if layer}

    def add(self, address: Address) -> None:
        """Add the passage that comes next in the plan."""
        if self._targets and (address[1] in self._targets or "/" in address[1] or "/" in address[0]):
            self._earlier.add(*address)
            self._held.add(address)
            self._parts_no_names &= "/" not in address[0] and "/" not in address[1]

    def holds(self, address: Address) -> bool:
        """Return whether a passage that a layer names is one of those so far."""
        return address in self._held

    def can_write(self, address: Address, pass_name: str) -> bool:
        """Return whether a passage of `pass_name` can name another; only a / in a name or great length prevents it."""
        is_plain = self._parts_no_names and sum(map(len, address)) <= _SHORT_CHARACTERS
        return is_plain or self.written(address, pass_name) is not None

    def meant(self, text: str, pass_name: str) -> Address | None:
        """Return which passage a passage of `pass_name` means by `text`, or None where that is a fault."""
        node = ScalarNode(_TEXT_TAG, text, _NOWHERE, _NOWHERE)
        return self._earlier.read(Asker(Faults("")), node, "", pass_name)

    def written(self, address: Address, pass_name: str) -> str | None:
        """Return the shortest text by which a passage of `pass_name` names another, or None where no text does."""
        texts = (address[1], " / ".join(address))
        return next((text for text in texts if self.meant(text, pass_name) == address), None)


def layer_texts(plan: Plan) -> dict[Address, str]:
    """Return for each passage that lies over or is painted into another the text by which it names that one.

    Raises:
        WritingError: No text names it, because its namesakes read alike.
    """
    above = LayerNames(plan.passes)
    texts: dict[Address, str] = {}
    for one_pass in plan.passes:
        for passage in one_pass.passages:
            here = (one_pass.name, passage.name)
            layer = passage.over or passage.into
            if layer:
                texts[here] = layer_text(above, layer, here)
            above.add(here)
    return texts


def layer_text(above: LayerNames, layer: Address, here: Address) -> str:
    """Return the text by which the passage `here` names the passage `layer`, which is one of those above it.

    Raises:
        WritingError: No text names it.
    """
    text = above.written(layer, here[0])
    if text is None:
        below, upper = quoted(" / ".join(layer)), quoted(" / ".join(here))
        raise WritingError(
            f"{upper} cannot tell {below} from its namesakes: give passages names that differ, without /"
        )
    return text
