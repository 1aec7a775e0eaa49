"""What each strategy guarantees, in a sentence a painter reads, with the bound."""

from coach.order.balanced_snake import BAND_FACTOR
from coach.order.request import Strategy
from coach.order.shuffled_blocks import LEADS_IN_BLOCK
from coach.order.stages import LONGEST_STREAK
from coach.order.williams import williams_rows


def guarantee(strategy: Strategy, canvas_count: int, *, batch: int = 1) -> str:
    """Return the guarantee of a strategy, without wishes, absences and slips.

    Args:
        strategy: The strategy.
        canvas_count: Number of canvases, 1 to 12.
        batch: Up to so many runs are painted on a canvas before changing over.
    """
    if canvas_count == 1:
        return "With one canvas there is no lead to share."
    said = _FOR_TWO[strategy] if canvas_count == 2 else _for_many(strategy, canvas_count)  # noqa: PLR2004
    return said if batch == 1 else f"{said} The runs of a batch, up to {batch}, count as one run here."


_FOR_TWO = {
    Strategy.FIXED: "The first canvas always leads: nothing is evened out; only for comparison.",
    Strategy.SNAKE: (
        "No extra walk. With runs of equal weight the leads are never more than one run apart, and a steady "
        "change from turn to turn cancels over an even number of runs; with unequal weights nothing is "
        "promised."
    ),
    Strategy.MIRROR: (
        "No canvas leads more than 2 runs in a row. With runs of equal weight every 4 runs cancel a steady "
        "change from turn to turn and one that grows with its square; with unequal weights nothing is "
        "promised."
    ),
    Strategy.NESTED_MIRROR: (
        "No canvas leads more than 2 runs in a row. With runs of equal weight the leads are never more than "
        "one run apart, and 2, 4, 8, 16 runs from the start cancel changes of degree 1, 2, 3, 4; with "
        "unequal weights nothing is promised."
    ),
    Strategy.ROTATION: (
        "The canvases lead in turn: after every 2 runs each has led once; the weights are not looked at."
    ),
    Strategy.WILLIAMS: (
        "The canvases lead in turn: after every 2 runs each has led once and come second once; the weights "
        "are not looked at."
    ),
    Strategy.SHUFFLED_BLOCKS: (
        f"Chance decides: with runs of equal weight the leads are never more than {LEADS_IN_BLOCK} runs "
        f"apart and even after every {2 * LEADS_IN_BLOCK}; the only strategy under which a test by "
        "re-labelling rests on the design."
    ),
    Strategy.LIGHTER_FIRST: (
        "The leads are never farther apart than the heaviest run, whatever the weights; many extra walks."
    ),
    Strategy.GUARDED_SNAKE: (
        "The leads are never farther apart than the heaviest run, whatever the weights; it walks extra only "
        "where going back the same way would break that."
    ),
    Strategy.BALANCED_SNAKE: (
        "The least possible excess over the tolerance at the end of each pass (5 % of the pass, 2 % of the "
        "work), with the fewest extra walks that allow it; the leads are never farther apart than "
        f"{BAND_FACTOR} times the heaviest run, and no canvas leads more than {LONGEST_STREAK} times in a "
        "row."
    ),
    Strategy.WILLIAMS_SNAKE: (
        "The leads are never farther apart than twice the heaviest run, whatever the weights; few extra walks."
    ),
}


def _for_many(strategy: Strategy, count: int) -> str:
    rows = len(williams_rows(count))
    every = f"With runs of equal weight each canvas is once in each place in every {count} runs"
    design = (
        f"With runs of equal weight each canvas is {_times(rows // count)} in each place, and follows each "
        f"other canvas {_times(rows // count)}, in every {rows} runs from the start"
    )
    said = {
        Strategy.FIXED: _FOR_TWO[Strategy.FIXED],
        Strategy.SNAKE: (
            f"No extra walk, but only two of the {count} canvases ever lead; with runs of equal weight these "
            "two are never more than one run apart."
        ),
        Strategy.MIRROR: (
            f"Only two of the {count} canvases ever lead, and none more than 2 runs in a row; with runs of "
            "equal weight every 4 runs cancel a steady change from run to run between these two."
        ),
        Strategy.NESTED_MIRROR: (
            f"{every}, and over the first {count}^j runs the places cancel changes of degree below j; "
            "neighbours are not evened out."
        ),
        Strategy.ROTATION: f"{every}; neighbours are not evened out.",
        Strategy.WILLIAMS: f"{design}; the weights are not looked at.",
        Strategy.SHUFFLED_BLOCKS: f"{design}; chance decides in which sequence.",
        Strategy.LIGHTER_FIRST: (
            "The lead weights are never farther apart than the heaviest run; places and neighbours are not "
            "looked at, and there are many extra walks."
        ),
    }
    return said.get(strategy) or _guarded(count, factor=1 if strategy is Strategy.GUARDED_SNAKE else 2)


def _guarded(count: int, *, factor: int) -> str:
    times = factor * (1 if count % 2 == 0 else 2)
    bound = "the heaviest run" if times == 1 else f"{times} times the heaviest run"
    return (
        f"Lead, place and neighbours alike: the weights of any two are never farther apart than {bound}; it "
        "walks extra only where going back the same way would break that."
    )


def _times(count: int) -> str:
    return "once" if count == 1 else "twice"
