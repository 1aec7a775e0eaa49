"""Layers: which earlier passage one lies over, or is painted into."""

from yaml.nodes import Node

from coach.plan.node_reading import Asker
from coach.plan.problems import did_you_mean, quoted

Address = tuple[str, str]
"""Name of a pass and name of one of its passages."""


class EarlierPassages:
    """The passages read so far, as later ones may name them."""

    def __init__(self) -> None:
        """Start with none."""
        self._by_name: dict[str, list[Address]] = {}
        self._by_address: dict[str, Address] = {}

    def add(self, pass_name: str, passage: str) -> None:
        """Add the passage that was read last."""
        self._by_name.setdefault(passage, []).append((pass_name, passage))
        self._by_address.setdefault(f"{pass_name} / {passage}", (pass_name, passage))

    def read(self, ask: Asker, node: Node, where: str, pass_name: str) -> Address | None:
        """Return the earlier passage that a passage of `pass_name` names: by its name, or as `pass / passage`.

        A name means the passage of the same pass; where that has none, the only one of that name in any pass.
        """
        name = ask.text(node, where)
        if name is None:
            return None
        here = (pass_name, name)
        namesakes = self._by_name.get(name, [])
        if here in namesakes:
            return here
        if len(namesakes) > 1:
            suggestion = "write " + " or ".join(quoted(" / ".join(address)) for address in namesakes[:2])
            ask.faults.note(node, where, f"{quoted(name)} stands in several passes", suggestion)
            return None
        found = namesakes[0] if namesakes else self._by_address.get(" / ".join(map(str.strip, name.split("/"))))
        if found is None:
            known = self._by_address if "/" in name else self._by_name
            meant = did_you_mean(name, known) or "name a passage above it, as pass / passage"
            ask.faults.note(node, where, f"no earlier passage is called {quoted(name)}", meant)
        return found
