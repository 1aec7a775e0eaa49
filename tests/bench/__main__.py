"""Prints speed and memory, held against the barest app of the framework in the same run: python -m tests.bench."""

import argparse
import json
import sys
from collections.abc import Callable, Iterable, Iterator
from dataclasses import asdict
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from tests.bench.compare_bench import compare_figures
from tests.bench.composition_bench import composition_figures
from tests.bench.faults import print_faults
from tests.bench.figures import FIGURES, Figure, kills
from tests.bench.forecast_bench import forecast_figures
from tests.bench.order_bench import order_figures
from tests.bench.plan_bench import plan_figures
from tests.bench.proposal_bench import proposal_figures
from tests.bench.review_bench import SEEDS, WORKS, review_figures
from tests.bench.shapes_bench import shapes_figures

_ROOMS: Final[dict[str, Callable[..., Iterable[str]]]] = {
    "order": order_figures,
    "forecast": forecast_figures,
    "composition": composition_figures,
    "plan": plan_figures,
    "review": review_figures,
    "shapes": shapes_figures,
    "compare": compare_figures,
    "proposal": proposal_figures,
}
_HEAD: Final = ("figure", "measured", "baseline", "ratio", "bound", "")
_FORM: Final = "{:<48} {:>14} {:>14} {:>6} {:>8} {:<6}"


def main() -> None:
    """Measure what is asked for and print it; a missed bound is told, not punished."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--runs", type=int, default=9, help="how often each program is measured (default: 9)")
    parser.add_argument("--only", choices=[*FIGURES, "kills"], help="measure only this")
    parser.add_argument("--kills", type=int, default=0, help="also kill the coach so often, and count what is lost")
    parser.add_argument("--room", choices=_ROOMS, help="measure this room instead, held against a general library")
    parser.add_argument("--works", type=int, default=WORKS, help="simulated works a cell of the review")
    parser.add_argument("--seeds", type=int, nargs="+", default=SEEDS, help="sets of seeds of the review")
    parser.add_argument("--json", action="store_true", help="print the figures as JSON")
    parser.add_argument(
        "what", nargs="?", choices=["faults"], help="try instead what can go wrong, and count what is lost"
    )
    parser.add_argument("--times", type=int, default=14, help="how often a random fault is tried (default: 14)")
    asked = parser.parse_args()
    if asked.what:
        with TemporaryDirectory() as folder:
            print_faults(asked.times, Path(folder))
        return
    if asked.room == "review":
        for line in review_figures(asked.works, asked.seeds):
            print(line, flush=True)
        return
    if asked.room:
        for line in _ROOMS[asked.room]():
            print(line, flush=True)
        return
    figures = _figures(max(1, asked.runs), asked.only, asked.kills)
    if asked.json:
        found = [asdict(one) | {"ratio_frac": one.ratio_frac, "is_met": one.is_met} for one in figures]
        sys.stdout.write(json.dumps(found, indent=2) + "\n")
        return
    print(_FORM.format(*_HEAD).rstrip())
    for figure in figures:
        print(_FORM.format(*_row(figure)).rstrip(), flush=True)


def _figures(runs: int, only: str | None, kill_count: int) -> Iterator[Figure]:
    for name, measure in FIGURES.items():
        if only in (None, name):
            with TemporaryDirectory() as folder:
                yield from measure(runs, Path(folder))
    if kill_count > 0 and only in (None, "kills"):
        with TemporaryDirectory() as folder:
            yield from kills(kill_count, Path(folder))


def _row(figure: Figure) -> tuple[str, ...]:
    if figure.most is not None:
        bound = _quantity(figure.most, figure.unit)
    else:
        bound = "" if figure.most_frac is None else f"{figure.most_frac:.2f}"
    return (
        figure.name,
        _quantity(figure.measured, figure.unit),
        "" if figure.baseline is None else _quantity(figure.baseline, figure.unit),
        "" if figure.ratio_frac is None else f"{figure.ratio_frac:.2f}",
        bound,
        {True: "met", False: "missed", None: ""}[figure.is_met],
    )


def _quantity(value: float, unit: str) -> str:
    return f"{value:.3f} {unit}" if unit else f"{value:.0f}"


if __name__ == "__main__":
    main()
