"""`coach prepare`: what to lay out before the first stroke: paint, tubes, piles and cautions."""

import argparse
from collections.abc import Sequence
from dataclasses import fields
from pathlib import Path

from coach.commands.named_plan import plan_in
from coach.commands.plan_argument import add_plan
from coach.composition.areas import HeadAreas, heads_on_canvases
from coach.composition.quantity import TUBE_ML, WASTE_FRAC, Quantities, quantities_of, rounded
from coach.composition.setup_cautions import STANDING, cautions_of
from coach.errors import CoachError, UsageError
from coach.plan.commission import Plan
from coach.plan.units import area_cm2
from coach.review import compose_table
from coach.store.printing import print_json, print_lines, print_table


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    add_plan(parser, "the plan's YAML file")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    parser.add_argument("--layers", type=int, default=1, help="how often each passage is painted; else 1")
    parser.add_argument(
        "--waste", type=float, default=100 * WASTE_FRAC, help="paint mixed on top, per cent; else %(default)g"
    )
    parser.add_argument("--tube", type=float, default=TUBE_ML, help="content of a tube, in ml; else %(default)g")
    parser.add_argument("--head-area", metavar="AREA", help='area of all heads on one canvas, for estimates: "190 cm2"')


def run(asked: argparse.Namespace) -> int:
    """Print the paint that the plan takes on all canvases, and what to take care of."""
    plan = plan_in(asked.plan)
    heads, remarks = _heads(plan, asked.head_area, asked.plan.parent)
    found = quantities_of(plan, heads=heads, layers=asked.layers, waste_frac=asked.waste / 100, tube_ml=asked.tube)
    cautions = cautions_of(plan)
    if asked.json:
        printed = rounded(found)
        answer = {one.name: getattr(printed, one.name) for one in fields(printed)}
        print_json(answer | {"remarks": [*remarks, *found.remarks], "cautions": cautions, "standing": STANDING})
    else:
        _print_tables(found)
        lines = compose_table.quantity_lines(found)
        print_lines([*remarks, *lines, "", *compose_table.caution_lines(cautions)])
    return 0


def _heads(plan: Plan, typed: str | None, folder: Path) -> tuple[Sequence[HeadAreas | None], list[str]]:
    """Return the heads on each canvas, typed or as the plan marks them in its photo, and why they are not known."""
    if typed is not None:
        head_cm2 = area_cm2(typed)
        if not head_cm2:
            raise UsageError('--head-area is an area such as "190 cm2"')
        return [{"": head_cm2}] * len(plan.canvases), []
    if not plan.heads or plan.photo is None:
        return (), []
    from coach.store.photo import photo_size  # noqa: PLC0415  the reader of photos is loaded where one is read

    try:
        return heads_on_canvases(plan, photo_size(folder / plan.photo)), []
    except CoachError as error:
        return (), [f"the heads of the plan are not measured, the usual share of a canvas stands for them: {error}"]


def _print_tables(found: Quantities) -> None:
    figures = ("cm2", "ml", "takes", "mix_ml", "tubes", *compose_table.COST_COLUMNS)
    costs = () if found.tubes_cost is None else compose_table.COST_COLUMNS
    print_table(compose_table.MIXTURE_COLUMNS, compose_table.mixture_rows(found), right=figures)
    print_table(compose_table.PILE_COLUMNS, compose_table.pile_rows(found), right=figures)
    print_table((*compose_table.PAINT_COLUMNS, *costs), compose_table.paint_rows(found), right=figures)
