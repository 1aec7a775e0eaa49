"""`coach shapes --plan NEW.yaml`: a plan with its shapes, proposed from a photo without a question."""

import argparse
from pathlib import Path

from coach.commands.log_of_plan import earlier_states, journal_state
from coach.commands.new_plan_file import SHAPES_ENDING, is_same_folder, named_new, write_new
from coach.commands.photo_plan import Sitters, plan_of_photo
from coach.composition.proposal.answer_reading import read_canvases
from coach.composition.proposal.answers import default_answers, so_many_canvases
from coach.errors import UsageError
from coach.plan.commission import MOST_CANVASES, Canvas, CanvasSize, Plan
from coach.plan.value_types import WrongValueError
from coach.review.own_pace import own_pace
from coach.review.proposal_table import COLUMNS, proposal_line, proposal_report, proposal_rows
from coach.store.printing import print_json, print_lines, print_table
from coach.store.system_clock import SystemClock
from coach.text import sanitized


def add_plan_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the writing of a plan takes."""
    parser.add_argument(
        "--plan",
        dest="new_plan",
        type=Path,
        metavar="NEW.yaml",
        help="propose a plan from the shapes and write it here, with NAME.shapes.svg beside it",
    )
    parser.add_argument("--canvases", metavar="NAMES", help="the canvases of that plan: Hall,School")


def write_proposed_plan(asked: argparse.Namespace, sitters: Sitters, count: int) -> None:
    """Write the plan that is proposed from a photo, and print what it holds.

    Args:
        asked: The words of the command.
        sitters: The photo and the heads in it; a plan that is named with them lends its terms to the new one.
        count: How many shapes, before large ones are cut.

    Raises:
        CoachError: No new file can be there, or the photo is no good.
    """
    path = named_new(asked.new_plan)
    if not is_same_folder(sitters.photo, path):
        where = sanitized(str(path))
        raise UsageError("a plan lies beside its photo; write it into the folder of the photo", where=where)
    frame, pace_frac = _frame(asked, sitters), dict[str, float]()
    if sitters.plan is not None:
        earlier = earlier_states(asked.plan, sitters.plan)
        pace_frac = own_pace([*earlier.values(), journal_state(asked.plan)])
        if pace_frac:
            frame = frame._replace(learn_from=())  # the minutes hold the pace: a forecast must not count it twice
    found = plan_of_photo(sitters.photo, frame, count, pace_frac)
    written = write_new(path, found.plan, found.shape_map)
    report = proposal_report(found.plan, found.piles, written.name, f"{path.stem}{SHAPES_ENDING}")
    if asked.json:
        print_json(report)
        return
    print_table(COLUMNS, proposal_rows(report), right=COLUMNS[1:2] + COLUMNS[3:])
    print_lines([proposal_line(report)])


def _frame(asked: argparse.Namespace, sitters: Sitters) -> Plan:
    """Return what is agreed of a plan to be."""
    agreed, size = sitters.plan, next(iter(sitters.canvases.values()), None)
    if agreed is None and asked.canvases is None:
        raise UsageError("name the canvases of the plan: --canvases Hall,School")
    canvases = () if asked.canvases is None else _canvases(asked.canvases, size)
    if agreed is None:
        names = default_answers(SystemClock().today())._replace(sitters=tuple(head.name for head in sitters.heads))
        agreed = Plan(commission=names.commission, canvases=canvases, passes=())
    elif not canvases:
        own = None if asked.canvas is None else size
        canvases = tuple(one._replace(size=own or one.size) for one in agreed.canvases)
    return agreed._replace(
        photo=sitters.photo.name, heads=tuple(sitters.heads), canvases=canvases, approval=(), shapes=None
    )


def _canvases(names: str, size: CanvasSize | None) -> tuple[Canvas, ...]:
    count = sum(bool(name.strip()) for name in names.split(","))
    if not 1 <= count <= MOST_CANVASES:
        raise UsageError(f"--canvases names 1 to {MOST_CANVASES} canvases: Hall,School")
    try:
        answers = default_answers(SystemClock().today())._replace(canvases=so_many_canvases((), count))
        placed = read_canvases(names, answers).canvases
    except WrongValueError as wrong:
        raise UsageError(f"--canvases: {wrong}") from wrong
    return tuple(Canvas(name=one.name, place=None if count == 1 else one.place, size=size) for one in placed)
