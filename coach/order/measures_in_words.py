"""The measures as sentences a painter understands, each with the figure behind it."""

from collections.abc import Sequence
from fractions import Fraction

from coach.order.leads import Leads
from coach.order.measures import Measures, weight_figure

TREND_WORTH_NAMING = Fraction(1, 100)
"""A drift below one part in a hundred of the weight is called none; common practice, no source."""


def in_words(measures: Measures, names: Sequence[str], pass_names: Sequence[str] | None = None) -> tuple[str, ...]:
    """Return one sentence for each measure.

    Args:
        measures: The measures.
        names: Names of the canvases; plain text, taken as it is.
        pass_names: Names of the passes by number; None for "pass 1", "pass 2" and so on.

    Returns:
        Sentences in a fixed sequence; only one if no run was shared by two canvases.
    """
    if measures.run_count == 0:
        return ("No run was painted on two canvases yet, so nobody has led.",)
    passes = tuple(
        f"In {pass_names[no] if pass_names and no < len(pass_names) else f'pass {no + 1}'} {_leads(leads, names)}."
        for no, leads in measures.by_pass
    )
    return (
        f"Over the whole work {_leads(measures.leads, names)}.",
        *passes,
        _peak(measures),
        _trend(measures, names),
        _streak(measures, names),
        _walks(measures),
        *_more_than_two(measures, names),
    )


def _leads(leads: Leads, names: Sequence[str]) -> str:
    shares = ", ".join(
        f"{name} led {count} {'time' if count == 1 else 'times'} ({weight} weighted minutes)"
        for name, count, weight in zip(names, leads.counts, leads.weights, strict=True)
    )
    return f"{shares}: {weight_figure(leads.imbalance)} apart, {_percent(leads.imbalance_frac)}"


def _peak(measures: Measures) -> str:
    share = measures.peak / measures.weight
    return (
        f"On the way the leads were never more than {weight_figure(measures.peak)} weighted minutes apart "
        f"({_percent(share)} of the work)."
    )


def _trend(measures: Measures, names: Sequence[str]) -> str:
    share = f"drift {_percent(measures.drift_frac)}"
    if measures.drift_frac < TREND_WORTH_NAMING:
        return f"No canvas led early rather than late ({share})."
    early = names[measures.trend.index(min(measures.trend))]
    late = names[measures.trend.index(max(measures.trend))]
    return f"{early} led rather early in the work and {late} rather late ({share})."


def _streak(measures: Measures, names: Sequence[str]) -> str:
    if measures.streak <= 1 or measures.streak_lead is None:
        return "No canvas led two runs in a row."
    return f"The longest row of leads is {measures.streak} runs, by {names[measures.streak_lead]}."


def _walks(measures: Measures) -> str:
    extra = measures.walks - measures.walks_floor
    return (
        f"The palette goes to another canvas {measures.walks} times; {measures.walks_floor} cannot be "
        f"avoided, {extra} {'comes' if extra == 1 else 'come'} from the order."
    )


def _more_than_two(measures: Measures, names: Sequence[str]) -> tuple[str, ...]:
    if measures.canvas_count <= 2:  # noqa: PLR2004
        return ()
    late = max(range(measures.canvas_count), key=measures.mean_place.__getitem__)
    early = min(range(measures.canvas_count), key=measures.mean_place.__getitem__)
    gap = (measures.mean_place[late] - measures.mean_place[early]) / measures.weight
    pairs = [
        (count, before, after)
        for before, row in enumerate(measures.carry_over_counts)
        for after, count in enumerate(row)
        if before != after
    ]
    most = max(pairs, key=lambda pair: pair[0])
    least = min(pairs, key=lambda pair: pair[0])
    in_places = (
        f"The weight a canvas had in any one place differs by at most {weight_figure(measures.place_spread)} "
        f"weighted minutes; {names[late]} came {float(gap):.2f} places later than {names[early]} on average."
    )
    in_pairs = (
        f"{names[most[2]]} came straight after {names[most[1]]} most often ({most[0]} times), "
        f"{names[least[2]]} after {names[least[1]]} least often ({least[0]} times); by weight the pairs "
        f"differ by at most {weight_figure(measures.carry_over_spread)} weighted minutes."
    )
    return (in_places, in_pairs)


def _percent(share: Fraction) -> str:
    return f"{float(100 * share):.1f} %"
