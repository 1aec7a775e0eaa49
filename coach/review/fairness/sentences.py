"""Every sentence of the fairness report: names stand as in the plan, plain text without markup."""

from collections.abc import Sequence
from math import ceil, exp, floor, sqrt
from typing import Final

from coach.review.fairness.figures import FEWEST_RUNS, WITHIN_FRAC, CanvasShare, FairnessReport, Follow, Practice, Ratio
from coach.review.fairness.lead_balance import FAIR_FRAC, LeadBalance, canvas_changes, longest_row
from coach.review.fairness.run_times import RunTimes
from coach.text import counted, joined, percent

_TWICE: Final = 2.0
"""From here up a ratio is given in times, not in percent more."""

_LONGEST_ROW: Final = 3
"""Rows of leads up to this long need no word. Source: the limit of the ordering engine, ours."""

_STEADY, _UNEVEN = 0.1, 0.2
"""How far the times of like turns lie apart, as a part of them, for a steady and an uneven hand; no source."""

_EXACT: Final = 1e-6
"""A figure this near to a whole one is whole."""

_LIKELY: Final = 0.05


def sentences(figures: FairnessReport, runs: Sequence[RunTimes], canvases: int) -> tuple[str, ...]:
    """Return the report in sentences, the most important first.

    Args:
        figures: The figures; their own sentences are not looked at.
        runs: The runs behind them.
        canvases: Canvases of the commission, where nothing is painted yet.
    """
    if not runs:
        return ("No run has been painted yet.", *plan_can_tell(figures.runs_to_come or 0, canvases))
    minutes = ", ".join(f"{share.canvas} {share.minutes:.0f}" for share in figures.canvases)
    compared = _compared(figures, runs) if len(figures.canvases) > 1 else []
    return (*compared, *_practice(figures), f"Minutes painted: {minutes}.")


def plan_can_tell(runs: int, canvases: int) -> tuple[str, ...]:
    """Return what so many runs on so many canvases will be able to tell; nothing for a single canvas or no run.

    Source:
        Half the width of the interval of the fit, every canvas in every place alike.
    """
    if canvases < 2 or not runs:  # noqa: PLR2004
        return ()
    if runs < FEWEST_RUNS:
        return (f"{counted(runs, 'run')} will be too few to tell what {_going(canvases)} is worth.",)
    from coach.review.fairness.robust_fit import Estimate  # noqa: PLC0415  scipy is loaded for it

    df = (canvases - 1) * (runs - 2)
    share = sqrt(canvases / (canvases - 1) / runs)
    steady, uneven = (
        percent(exp(Estimate(value=0.0, se=spread * share, df=df).ends()[1]) - 1) for spread in (_STEADY, _UNEVEN)
    )
    within = f"to within about {steady} if your times are steady, {uneven} if they are uneven"
    return (f"Its {runs} runs will tell what {_going(canvases)} is worth {within}.",)


def _compared(figures: FairnessReport, runs: Sequence[RunTimes]) -> list[str]:
    if figures.balance is None or figures.follow is None:
        return ["No run has been painted on two canvases yet, so no canvas has led."]
    found = [_fair(figures, figures.balance), *_follow(figures, figures.follow), *_later(figures)]
    found += [*_canvases(figures), *_marks(figures), *_on_the_way(figures, runs)]
    if figures.left_out_runs:
        found.append(f"Painted on one canvas only, so not compared: {counted(figures.left_out_runs, 'run')}.")
    return found


def _fair(figures: FairnessReport, balance: LeadBalance) -> str:
    share = f"{percent(balance.apart_frac, 0 if balance.apart_frac >= FAIR_FRAC * 5 else 1)} of the work"
    minutes = counted(round(balance.apart_minutes), "minute")
    if len(figures.canvases) == 2:  # noqa: PLR2004
        led = f"{balance.most} led {minutes} more than {balance.least}, {share}"
        alike = f"{joined([one.canvas for one in figures.canvases])} led the same minutes"
    else:
        led = f"{balance.most} led most and {balance.least} least, {minutes} apart, {share}"
        alike = "every canvas led its share of the minutes"
    said = led if round(balance.apart_minutes) else alike
    if balance.fair == "yes":
        best = "; these runs could not be shared better" if balance.apart_frac > FAIR_FRAC else ""
        return f"Fair: yes. {_capital(said)}{best}."
    best = f"; at best it could have been {percent(balance.least_frac, 1)}" if balance.least_frac > FAIR_FRAC else ""
    return f"Fair: {balance.fair}. {_capital(said)}{best}."


def _follow(figures: FairnessReport, follow: Follow) -> list[str]:
    going = _going(len(figures.canvases))
    if follow.low_frac is None or follow.high_frac is None:
        done = counted(follow.runs, "run")
        if figures.runs_to_come == 0:
            return [f"{_capital(done)} cannot tell what {going} is worth."]
        return [f"It is too early to tell what {going} is worth: {done} so far, {FEWEST_RUNS} or more are needed."]
    if not figures.place_and_canvas_told_apart:
        return [_not_told_apart(figures, follow)]
    clear = _clear(follow)
    if clear is not None:
        spared = _spared(figures.canvases)
        return [f"{_capital(going)} {clear[0]} {clear[1]} ({clear[2]}){spared}."]
    if _is_narrow(follow):
        return [f"{_capital(going)} made no difference worth naming: less than {percent(WITHIN_FRAC)} either way."]
    return [f"Whether {going} saves time {_open(figures, follow)}."]


def _spared(shares: Sequence[CanvasShare]) -> str:
    spared = [(share.canvas, share.minutes_spared) for share in shares if share.minutes_spared is not None]
    if not spared:
        return ""
    verb = "spared" if sum(minutes for _, minutes in spared) > 0 else "cost"
    return f"; that {verb} {joined([f'{name} about {abs(minutes):.0f} min' for name, minutes in spared])}"


def _not_told_apart(figures: FairnessReport, follow: Follow) -> str:
    always = [share.canvas for share in figures.canvases if share.leads == figures.compared_runs]
    if not always:
        return "Some canvases never changed places with the others, so what the place is worth cannot be told."
    leader, *_ = always
    others = [share.canvas for share in figures.canvases if share.canvas != leader]
    if len(others) > 1 or follow.ratio_frac is None:
        return f"{leader} led every run, so what the place is worth cannot be told."
    took = f"{others[0]} took {_change(follow.ratio_frac)} {_than(follow.ratio_frac)} {leader}"
    return f"{took}, but {leader} led every run: whether that is the place or the canvas cannot be told."


def _later(figures: FairnessReport) -> list[str]:
    later = figures.follow_a_day_later
    clear = None if later is None else _clear(later)
    if later is None or clear is None or later.ratio_frac is None:
        return []
    took = f"{_change(later.ratio_frac)} {_than(later.ratio_frac)} one taken straight after"
    return [f"A canvas that had to wait for another day took {took} ({clear[2]})."]


def _canvases(figures: FairnessReport) -> list[str]:
    found = [one for one in figures.canvas_differences if _clear(one)]
    said = []
    for one in found:
        if one.ratio_frac is None or one.low_frac is None or one.high_frac is None:
            continue
        canvas, other, ratio = one.canvas, one.against or "the canvases together", one.ratio_frac
        low, high = one.low_frac, one.high_frac
        if one.against is not None and ratio < 1:
            # Of two canvases the slower one is named, so the ratio is turned over.
            canvas, other, ratio, low, high = other, canvas, 1 / ratio, 1 / high, 1 / low
        said.append(f"{canvas} took {_change(ratio)} {_than(ratio)} {other}, whoever led ({_range(low, high)}).")
    if said or not figures.canvas_differences:
        return said
    names = joined([share.canvas for share in figures.canvases])
    if all(map(_is_narrow, figures.canvas_differences)):
        return [f"{names} took the same time to within {percent(WITHIN_FRAC)}, whoever led."]
    return [f"No clear difference in time between {names}, whoever led."]


def _practice(figures: FairnessReport) -> list[str]:
    found: Practice = figures.practice
    if found.rate_frac is None or found.low_frac is None or found.high_frac is None:
        return ["Too few runs to tell what practice did."] if figures.runs_to_come == 0 else []
    rate = Ratio(
        ratio_frac=found.rate_frac, low_frac=found.low_frac, high_frac=found.high_frac, runs_needed=found.runs_needed
    )
    clear = _clear(rate)
    doubled = "Each time the number of runs doubled, a run"
    if clear is not None:
        return [f"Practice: {doubled.lower()} {_took(clear)} ({clear[2]})."]
    if _is_narrow(rate):
        return [f"Practice: {doubled.lower()} took the same time to within {percent(WITHIN_FRAC)}."]
    return [f"What practice did {_open(figures, rate)}."]


def _took(clear: tuple[str, str, str]) -> str:
    return f"took {clear[1].removesuffix(' of the time')} less time" if clear[0] == "saved" else f"took {clear[1]}"


def _marks(figures: FairnessReport) -> list[str]:
    marks = figures.return_marks
    total = marks.leading + marks.following
    if total < FEWEST_RUNS:
        return []
    if marks.p >= _LIKELY:
        fell = f"{marks.leading} on canvases that led, {marks.following} on canvases that followed"
        return [f"Return marks: {fell}; no clear difference."]
    led = marks.leading > total / len(figures.canvases)
    where, count = ("led", marks.leading) if led else ("followed", marks.following)
    return [f"Return marks fell more often on a canvas that {where}: in {count} of {total} runs."]


def _on_the_way(figures: FairnessReport, runs: Sequence[RunTimes]) -> list[str]:
    uneven = [
        f"{name} ({one.most} {counted(round(one.apart_minutes), 'minute')} more)"
        for name, one in figures.balance_by_pass.items()
        if one.fair == "no" and len(figures.balance_by_pass) > 1
    ]
    found = [f"Within a pass the lead was uneven in {joined(uneven)}."] if uneven else []
    name, row = longest_row(runs)
    if row > _LONGEST_ROW:
        found.append(f"{name} led {row} runs in a row.")
    changes, needed = canvas_changes(runs)
    extra = f", {changes - needed} more than the least" if changes > needed else ", the least there can be"
    return [*found, f"The palette changed canvas {counted(changes, 'time')}{extra}."]


def _open(figures: FairnessReport, found: Ratio) -> str:
    low, high = found.low_frac or 0.0, found.high_frac or 0.0
    so_far = "cannot be told from these runs" if figures.runs_to_come == 0 else "cannot be told yet"
    more = found.runs_needed - figures.compared_runs
    # An estimate from a spread is not good to more than two figures.
    rounded = round(more, min(0, 2 - len(str(max(0, more)))))
    said = f"{so_far}: {_range(low, high)}"
    if figures.runs_to_come == 0 or more <= 0:
        return said
    if figures.runs_to_come is None:
        return f"{said}; about {counted(rounded, 'more run')} would tell"
    if more <= figures.runs_to_come:
        return f"{said}; about {rounded} of the {counted(figures.runs_to_come, 'run')} to come will tell"
    return f"{said}; the {counted(figures.runs_to_come, 'run')} to come will hardly be enough to tell"


def _going(canvases: int) -> str:
    return "going second" if canvases == 2 else "following"  # noqa: PLR2004


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _clear(found: Ratio) -> tuple[str, str, str] | None:
    """Return verb, size and range of a difference that is clear; None where it is not."""
    if found.ratio_frac is None or found.low_frac is None or found.high_frac is None:
        return None
    if found.low_frac <= 1 <= found.high_frac:
        return None
    said = _range(found.low_frac, found.high_frac)
    if found.high_frac < 1:
        return "saved", f"{_about(1 - found.ratio_frac)} of the time", said
    return "took", _change(found.ratio_frac), said


def _is_narrow(found: Ratio) -> bool:
    if found.low_frac is None or found.high_frac is None:
        return False
    return found.low_frac * (1 + WITHIN_FRAC) > 1 and found.high_frac < 1 + WITHIN_FRAC


def _about(frac: float) -> str:
    size = abs(frac)
    if size < 0.005:  # noqa: PLR2004 - below half a percent no figure is given
        return "less than 1 %"
    return "more than 99 %" if 0.995 <= size < 1 else f"about {percent(size)}"  # noqa: PLR2004


def _change(ratio_frac: float) -> str:
    """Return an estimated ratio of times: "about 12 % less time", "about 3.2 times the time"."""
    if ratio_frac >= _TWICE:
        return f"about {ratio_frac:.3g} times the time"
    return f"{_about(ratio_frac - 1)} {'less' if ratio_frac < 1 else 'more'} time"


def _than(ratio_frac: float) -> str:
    return "of" if ratio_frac >= _TWICE else "than"


def _range(low_frac: float, high_frac: float) -> str:
    """Return the ends of a ratio, rounded outwards: "6 to 18 %", "1.5 to 3 times", "between 9 % less and 5 % more"."""
    low, high = 100 * (low_frac - 1), 100 * (high_frac - 1)
    if low <= 0 <= high:
        more = f"{high_frac:.3g} times the time" if high_frac >= _TWICE else f"{_up(high)} % more time"
        return f"between {_up(-low)} % less and {more}"
    if high_frac >= _TWICE:
        return f"{low_frac:.3g} to {high_frac:.3g} times"
    near, far = sorted((abs(low), abs(high)))
    least = floor(near + _EXACT)
    return f"{least} to {_up(far)} %" if least else f"up to {_up(far)} %"


def _up(figure: float) -> int:
    return ceil(figure - _EXACT)
