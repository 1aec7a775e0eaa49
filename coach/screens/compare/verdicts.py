"""What the painter says of a finding: it is meant so, or the passage is looked at again on one canvas."""

from collections.abc import Callable

from textual.screen import Screen

from coach.errors import CoachError
from coach.screens.choice import ChoiceScreen
from coach.screens.compare import wording
from coach.screens.compare.findings import Finding
from coach.screens.compare.repository import ComparedCanvases, CompareRepository
from coach.screens.compare.state import sentence
from coach.screens.compare.view import CompareView


def meant_so(
    shown: CompareView, repository: CompareRepository, found: ComparedCanvases
) -> tuple[ComparedCanvases, CompareView]:
    """Return what was found and its view without the finding that is shown, once it is kept that it is meant so."""
    finding = shown.finding
    if finding is None:
        return found, shown
    try:
        history = repository.mean_it(finding.meant_as, found.comparison.canvases)
    except CoachError as error:
        return found, shown._replace(said=sentence(str(error)))
    left = tuple(one for one in shown.findings if one.meant_as != finding.meant_as)
    number = min(shown.number, max(0, len(left) - 1))
    now = shown._replace(findings=left, number=number, said=wording.meant(finding.name), history=history)
    return found._replace(meant=found.meant | {finding.meant_as}), now


def ask_canvas(
    screen: Screen[None],
    repository: CompareRepository,
    finding: Finding,
    canvases: tuple[str, str],
    say: Callable[[str], None],
) -> None:
    """Ask on which canvas a finding is looked at again, mark it there and say so."""
    if not finding.address[0]:
        say(wording.NO_PASSAGE)
        return

    async def take(number: int) -> None:
        try:
            repository.mark_for_return(finding.address, canvases[number])
        except CoachError as error:
            say(sentence(str(error)))
        else:
            say(wording.marked(finding.address[1], canvases[number]))

    chosen = canvases.index(finding.canvas) if finding.canvas in canvases else 0
    screen.app.push_screen(ChoiceScreen(wording.WHICH_CANVAS, [(name, "") for name in canvases], take, chosen))
