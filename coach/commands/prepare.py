"""`coach prepare`: what to lay out before the first stroke: paint, tubes, piles and cautions."""

import argparse

from coach.commands.named_plan import plan_in
from coach.commands.plan_argument import add_plan
from coach.composition.quantity import TUBE_ML, WASTE_FRAC, Quantities, quantities_of
from coach.composition.quantity_plain import quantities_plain
from coach.composition.setup_cautions import cautions_of, cautions_plain
from coach.errors import UsageError
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
    head_cm2 = None if asked.head_area is None else area_cm2(asked.head_area)
    if asked.head_area is not None and head_cm2 is None:
        raise UsageError('--head-area is an area such as "190 cm2"')
    plan = plan_in(asked.plan)
    found = quantities_of(
        plan, head_cm2=head_cm2, layers=asked.layers, waste_frac=asked.waste / 100, tube_ml=asked.tube
    )
    if asked.json:
        print_json(quantities_plain(found) | cautions_plain(plan))
    else:
        _print_tables(found)
        print_lines([*compose_table.quantity_lines(found), "", *compose_table.caution_lines(cautions_of(plan))])
    return 0


def _print_tables(found: Quantities) -> None:
    figures = ("cm2", "ml", "tubes")
    print_table(compose_table.MIXTURE_COLUMNS, compose_table.mixture_rows(found), right=figures)
    print_table(compose_table.PILE_COLUMNS, compose_table.pile_rows(found), right=figures)
    print_table(compose_table.PAINT_COLUMNS, compose_table.paint_rows(found), right=figures)
