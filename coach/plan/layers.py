"""Layers: which earlier passage one lies over or is painted into, and by which text it names that one."""

from coach.errors import CoachError
from coach.plan.commission import Address, Plan
from coach.plan.problems import did_you_mean, quoted
from coach.plan.value_types import MOST_CHARACTERS, WrongValueError


class WritingError(CoachError):
    """A plan cannot be written so that it reads back as the same."""


class EarlierPassages:
    """The passages so far, as later ones may name them; the same rule reads a name and writes it."""

    def __init__(self) -> None:
        """Start with none."""
        self._by_name: dict[str, list[Address]] = {}
        self._by_address: dict[str, Address] = {}

    def add(self, address: Address) -> None:
        """Add the passage that comes next in the plan."""
        self._by_name.setdefault(address[1], []).append(address)
        self._by_address.setdefault(" / ".join(address), address)

    def holds(self, address: Address) -> bool:
        """Return whether a passage is one of those so far."""
        return address in self._by_name.get(address[1], ())

    def named(self, name: str, pass_name: str) -> Address:
        """Return the earlier passage that a passage of `pass_name` names: by its name, or as `pass / passage`.

        A name means the passage of the same pass; where that has none, the only one of that name in any pass.

        Raises:
            WrongValueError: None is called so, or several are.
        """
        here = (pass_name, name)
        namesakes = self._by_name.get(name, [])
        if here in namesakes:
            return here
        if len(namesakes) > 1:
            suggestion = "write " + " or ".join(quoted(" / ".join(address)) for address in namesakes[:2])
            raise WrongValueError(f"{quoted(name)} stands in several passes", suggestion)
        found = namesakes[0] if namesakes else self._by_address.get(" / ".join(map(str.strip, name.split("/"))))
        if found is None:
            known = self._by_address if "/" in name else self._by_name
            meant = did_you_mean(name, known) or "name a passage above it, as pass / passage"
            raise WrongValueError(f"no earlier passage is called {quoted(name)}", meant)
        return found

    def means(self, text: str, address: Address, pass_name: str) -> bool:
        """Return whether a passage of `pass_name` names that other one by `text`."""
        try:
            return len(text) <= MOST_CHARACTERS and self.named(text, pass_name) == address
        except WrongValueError:
            return False

    def text(self, address: Address, here: Address) -> str:
        """Return the shortest text by which the passage `here` names another, which is one of those so far.

        Raises:
            WritingError: No text names it, because its namesakes read alike.
        """
        text = self._written(address, here[0])
        if text is None:
            below, upper = quoted(" / ".join(address)), quoted(" / ".join(here))
            raise WritingError(
                f"{upper} cannot tell {below} from its namesakes: give passages names that differ, without /"
            )
        return text

    def can_write(self, address: Address, pass_name: str) -> bool:
        """Return whether a passage of `pass_name` can name another; only a / in a name or great length prevents it."""
        return self._written(address, pass_name) is not None

    def _written(self, address: Address, pass_name: str) -> str | None:
        texts = (address[1], " / ".join(address))
        return next((text for text in texts if self.means(text, address, pass_name)), None)


def layer_texts(plan: Plan) -> dict[Address, str]:
    """Return for each passage that lies over or is painted into another the text by which it names that one.

    Raises:
        WritingError: No text names it, because its namesakes read alike.
    """
    above = EarlierPassages()
    texts: dict[Address, str] = {}
    for one_pass in plan.passes:
        for passage in one_pass.passages:
            here = (one_pass.name, passage.name)
            layer = passage.over or passage.into
            if layer:
                texts[here] = above.text(layer, here)
            above.add(here)
    return texts
