"""Every sentence of the fairness report: names stand as in the plan, plain text without markup."""

from collections.abc import Sequence
from itertools import groupby
from math import ceil, exp, floor, sqrt
from typing import Final

from coach.plan.commission import pass_words
from coach.review.fairness.figures import FEWEST_RUNS, WITHIN_FRAC, FairnessReport, Follow, Ratio
from coach.review.fairness.lead_balance import FAIR_FRAC, LeadBalance, ReturnMarks
from coach.review.fairness.out_by_place import OutByPlace
from coach.review.fairness.run_times import RunTimes
from coach.text import counted, joined, percent, span

_TWICE: Final = 2.0
"""From here up a ratio is given in times, not in percent more."""

_LONGEST_ROW: Final = 3
"""Rows of leads up to this long need no word. Source: the wish of the ordering engine, ours."""

_STEADY, _UNEVEN = 0.1, 0.2
"""How far the times of like turns lie apart, as a part of them, for a steady and an uneven hand; no source."""

RUN_HINT: Final = (
    "A run is what is painted in one go: a passage, or passages wet into one another, on each canvas in turn."
)
"""Stands below sentences that speak of runs."""

MOST_WORDS: Final = 14
"""So many words are read at a glance (ours)."""

_MOST_LETTERS: Final = 100
_MOST_NAMED: Final = 3
"""More canvases than these are not named one by one."""

_IN_HOURS_FROM_MIN: Final = 90
_NUMBERS: Final = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
)  # fmt: skip

_EXACT: Final = 1e-6
"""A figure this near to a whole one is whole."""

_LIKELY: Final = 0.05
"""What chance alone brings about this often is no clear difference."""


def sentences(figures: FairnessReport, shared: Sequence[RunTimes], canvases: int) -> tuple[str, ...]:
    """Return the report in sentences, the most important first.

    Args:
        figures: The figures; their own sentences are not looked at.
        shared: The runs painted on two canvases and more.
        canvases: Canvases of the commission.
    """
    if not figures.runs:
        return ("Nothing has been painted yet.", *plan_can_tell(figures.runs_to_come or 0, canvases))
    minutes = ", ".join(f"{share.canvas} {span(round(share.minutes * 60_000))}" for share in figures.canvases)
    compared = _compared(figures, shared) if len(figures.canvases) > 1 else []
    said = (*compared, *_practice(figures))
    return (*said, f"Painted: {minutes}.", *([RUN_HINT] if any(" run" in one for one in said) else []))


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

    share, df = sqrt(canvases / (canvases - 1) / runs), (canvases - 1) * (runs - 2)
    ends = [Estimate(value=0.0, se=spread * share, df=df).ends()[1] for spread in (_STEADY, _UNEVEN)]
    steady, uneven = (percent(exp(end) - 1) for end in ends)
    within = f"to within about {steady} if your times are steady, {uneven} if they are uneven"
    return (f"Its {runs} runs will tell what {_going(canvases)} is worth {within}.",)


def _compared(figures: FairnessReport, shared: Sequence[RunTimes]) -> list[str]:
    if figures.balance is None or figures.follow is None:
        return [answer_sentence(figures)]
    found = [_fair(figures, figures.balance), _follow(figures, figures.follow)]
    later = figures.follow_a_day_later
    if later is not None and _is_clear(later):
        found.append(f"A canvas that had to wait for another day {_took(later, 'one taken straight after')}.")
    found += [*_canvases(figures), *_marks(figures.return_marks, len(figures.canvases))]
    found += [*out_sentences(figures.out_by_place), *_on_the_way(figures, shared)]
    if figures.left_out_runs:
        found.append(f"Painted alone, so not compared: {counted(figures.left_out_runs, 'turn')}.")
    return found


def answer_sentence(figures: FairnessReport) -> str:
    """Return who led how much, in one sentence of at most 14 words; long names give way to shorter ways to say it.

    What the leads lie apart is said in minutes, and beside it either the time painted or that no less was possible.
    """
    balance = figures.balance
    if not figures.runs:
        return "Nothing has been painted yet."
    if balance is None:
        yet = "" if figures.runs_to_come == 0 else " yet"
        return f"Nothing is painted on two canvases{yet}, so no canvas has led."
    apart, tail = _apart(balance), f" in {spelt_time(sum(share.minutes for share in figures.canvases))}"
    if balance.fair == "yes":
        counts = _counts(figures)
        if balance.apart_frac > FAIR_FRAC:
            led = counts if all(share.leads for share in figures.canvases) else _first_leads(figures)
            return _first_short(*(f"{said} {apart}, the least possible." for said in (f"{led}:", "The leads are")))
        if not round(balance.apart_minutes):
            return _first_short(f"{counts}: the same minutes.", "All led the same minutes.")
        return _first_short(f"{counts}: {apart}{tail}.", f"{counts}: {apart}.", f"The leads are {apart}{tail}.")
    is_even = all(share.leads + share.follows == figures.compared_runs for share in figures.canvases)
    led = f"{balance.most} led {apart.removesuffix(' apart')} more than {balance.least}"
    if not is_even:
        led = f"For its share {led}"
    return _first_short(f"{led}{tail}.", f"{led}.", f"The leads are {apart}{tail}.")


def _counts(figures: FairnessReport) -> str:
    """Return who led how often: "Hall led 12 times, School 13", of many canvases "Each led 6 or 7 of 75 times"."""
    first, *others = figures.canvases
    if len(figures.canvases) <= _MOST_NAMED:
        rest = "".join(f", {share.canvas} {share.leads}" for share in others)
        return f"{first.canvas} led {counted(first.leads, 'time')}{rest}"
    leads = [share.leads for share in figures.canvases]
    fewest, most = min(leads), max(leads)
    span = f"{fewest}" if fewest == most else f"{fewest} {'or' if most == fewest + 1 else 'to'} {most}"
    return f"Each led {span} of {counted(figures.compared_runs, 'time')}"


def _first_leads(figures: FairnessReport) -> str:
    """Return which canvases led, where so little is painted that some could not lead yet."""
    led = [share.canvas for share in figures.canvases if share.leads]
    return f"{joined(led)} led first" if len(led) <= _MOST_NAMED else f"{len(led)} canvases led first"


def _apart(balance: LeadBalance) -> str:
    minutes = round(balance.apart_minutes)
    return f"{spelt(minutes, 'minute')} apart" if minutes else "less than a minute apart"


def spelt_time(minutes: float) -> str:
    """Return a time in whole minutes or, from an hour and a half on, in whole hours: "nine hours"."""
    hours = round(minutes / 60)
    return spelt(max(1, round(minutes)), "minute") if minutes < _IN_HOURS_FROM_MIN else spelt(hours, "hour")


def spelt(number: int, one: str) -> str:
    """Return a number with its noun, up to twelve in letters: "two minutes"."""
    said = counted(number, one)
    return said if number >= len(_NUMBERS) else said.replace(str(number), _NUMBERS[number], 1)


def _first_short(*ways: str) -> str:
    """Return the first way to say it that is short enough to be read at a glance, or the last."""
    return next((way for way in ways if len(way.split()) <= MOST_WORDS and len(way) <= _MOST_LETTERS), ways[-1])


def _fair(figures: FairnessReport, balance: LeadBalance) -> str:
    best = ""
    if balance.fair != "yes" and balance.least_frac > FAIR_FRAC:
        least_min = balance.apart_minutes * balance.least_frac / balance.apart_frac
        best = f" The least these runs allow is {spelt(max(1, round(least_min)), 'minute')}."
    return f"Fair: {balance.fair}. {answer_sentence(figures)}{best}"


def _follow(figures: FairnessReport, follow: Follow) -> str:
    going, allowed = _going(len(figures.canvases)), figures.follow_with_canvases_allowed_for
    if follow.low_frac is None:
        needed = "" if figures.runs_to_come == 0 else f" yet; {FEWEST_RUNS} or more are needed"
        return f"{counted(follow.runs, 'run')} cannot tell what {going} is worth{needed}."
    if allowed is None:
        return _not_told_apart(figures, follow)
    capital = going.capitalize()
    if _is_narrow(allowed) and not _is_clear(allowed):
        return f"{capital} made no difference to speak of: less than {percent(WITHIN_FRAC)} either way."
    if not _is_clear(allowed):
        return f"Whether {going} saves time {_open(figures, allowed)}."
    each = joined([f"{share.canvas} about {abs(share.minutes_spared or 0):.0f} min" for share in figures.canvases])
    if allowed.high_frac > 1:
        return f"{capital} {_took(allowed)}; that cost {each}."
    return f"{capital} saved {_about(1 - allowed.ratio_frac)} of the time ({_range(allowed)}); that spared {each}."


def _not_told_apart(figures: FairnessReport, follow: Follow) -> str:
    always = [share.canvas for share in figures.canvases if share.leads == figures.compared_runs]
    if not always:
        return "Some canvases never changed places with the others, so what the place is worth cannot be told."
    leader, others = always[0], [share.canvas for share in figures.canvases if share.canvas != always[0]]
    if len(others) > 1:
        return f"{leader} led every run, so what the place is worth cannot be told."
    took = f"{others[0]} took {_change(follow.ratio_frac, leader)}"
    return f"{took}, but {leader} led every run: whether that is the place or the canvas cannot be told."


def _canvases(figures: FairnessReport) -> list[str]:
    said = []
    for one in filter(_is_clear, figures.canvas_differences):
        if one.against is not None and one.ratio_frac < 1:
            # Of two canvases the slower one is named, so the ratio is turned over.
            said.append(f"{one.against} {_took(_turned(one), f'{one.canvas}, whoever led')}.")
        else:
            said.append(f"{one.canvas} {_took(one, (one.against or 'the canvases together') + ', whoever led')}.")
    if said or not figures.canvas_differences:
        return said
    names = joined([share.canvas for share in figures.canvases])
    if all(map(_is_narrow, figures.canvas_differences)):
        return [f"{names} took the same time, give or take {percent(WITHIN_FRAC)}, whoever led."]
    return [f"{names} took no clearly different time, whoever led."]


def _practice(figures: FairnessReport) -> list[str]:
    told = figures.practice
    if told.rate_frac is None or told.low_frac is None or told.high_frac is None:
        return ["Too few runs to tell whether practice made you quicker."] if figures.runs_to_come == 0 else []
    found = Ratio(
        ratio_frac=told.rate_frac, low_frac=told.low_frac, high_frac=told.high_frac, runs_needed=told.runs_needed or 0
    )
    doubled = "Practice: each time you had painted twice as many runs, a run"
    if _is_clear(found):
        return [f"{doubled} {_took(found)}."]
    if _is_narrow(found):
        return [f"{doubled} took the same time, give or take {percent(WITHIN_FRAC)}."]
    return [f"Practice: whether it makes you quicker {_open(figures, found)}."]


def _marks(marks: ReturnMarks, canvases: int) -> list[str]:
    total = marks.leading + marks.following
    if total < FEWEST_RUNS:
        return []
    if marks.p >= _LIKELY:
        fell = f"{marks.leading} on canvases that led, {marks.following} on canvases that followed"
        return [f"Return marks: {fell}; no clear difference."]
    where, count = ("led", marks.leading) if marks.leading > total / canvases else ("followed", marks.following)
    return [f"Return marks fell more often on a canvas that {where}: in {count} of {total} runs."]


def out_sentences(out: OutByPlace | None) -> tuple[str, ...]:
    """Return whether the canvas that led or that followed is out more often; nothing where that cannot be told."""
    if out is None or out.p >= _LIKELY:
        return ()
    is_lead = out.leads_more
    where, count = ("led", out.leading) if is_lead else ("followed", out.following)
    return (f"The canvas that {where} is out more often: {count} times out of {out.leading + out.following}.",)


def _on_the_way(figures: FairnessReport, shared: Sequence[RunTimes]) -> list[str]:
    uneven = [
        f"{pass_words(name)} ({one.most} {counted(round(one.apart_minutes), 'minute')} more)"
        for name, one in figures.balance_by_pass.items()
        if one.fair == "no" and len(figures.balance_by_pass) > 1
    ]
    found = [f"Pass by pass the lead was uneven: {joined(uneven)}."] if uneven else []
    rows = [(len(list(row)), name) for name, row in groupby(run.order[0] for run in shared)]
    longest, leader = max(rows)
    return [*found, f"{leader} led {longest} times on end."] if longest > _LONGEST_ROW else found


def _open(figures: FairnessReport, found: Ratio) -> str:
    """Return that a ratio is open, how far, and whether the runs to come will tell; after the last turn only that."""
    to_come, more = figures.runs_to_come, found.runs_needed - figures.compared_runs
    if to_come == 0:
        return f"cannot be told from these runs: {_range(found)}"
    said = f"cannot be told yet: {_range(found)}"
    if more <= 0:
        return said
    # An estimate from a spread is not good to more than two figures.
    rounded = round(more, min(0, 2 - len(str(more))))
    if to_come is None:
        return f"{said}; about {counted(rounded, 'more run')} would tell"
    runs = f"the {counted(to_come, 'run')} to come will"
    return f"{said}; about {rounded} of {runs} tell" if more <= to_come else f"{said}; {runs} hardly be enough to tell"


def _going(canvases: int) -> str:
    return "going second" if canvases == 2 else "following"  # noqa: PLR2004


def _is_clear(found: Ratio) -> bool:
    return not found.low_frac <= 1 <= found.high_frac


def _is_narrow(found: Ratio) -> bool:
    return found.low_frac * (1 + WITHIN_FRAC) > 1 and found.high_frac < 1 + WITHIN_FRAC


def _turned(found: Ratio) -> Ratio:
    return Ratio(
        ratio_frac=1 / found.ratio_frac,
        low_frac=1 / found.high_frac,
        high_frac=1 / found.low_frac,
        runs_needed=found.runs_needed,
    )


def _took(found: Ratio, other: str = "") -> str:
    """Return "took about 12 % more time than Hall (6 to 18 %)"."""
    return f"took {_change(found.ratio_frac, other)} ({_range(found)})"


def _change(ratio_frac: float, other: str = "") -> str:
    """Return an estimated ratio of times: "about 12 % less time than Hall", "about 3.2 times the time of Hall"."""
    if ratio_frac >= _TWICE:
        return f"about {ratio_frac:.3g} times the time" + (f" of {other}" if other else "")
    size = f"{_about(ratio_frac - 1)} {'less' if ratio_frac < 1 else 'more'} time"
    return f"{size} than {other}" if other else size


def _about(frac: float) -> str:
    size = abs(frac)
    if size < 0.005:  # noqa: PLR2004  below half a percent no figure is given
        return "less than 1 %"
    return "more than 99 %" if 0.995 <= size < 1 else f"about {percent(size)}"  # noqa: PLR2004


def _range(found: Ratio) -> str:
    """Return the ends of a ratio, rounded outwards: "6 to 18 %", "1.5 to 3 times", "between 9 % less and 5 % more"."""
    low, high = 100 * (found.low_frac - 1), 100 * (found.high_frac - 1)
    if not _is_clear(found):
        more = f"{found.high_frac:.3g} times the" if found.high_frac >= _TWICE else f"{_up(high)} % more"
        return f"between {_up(-low)} % less and {more} time"
    if found.high_frac >= _TWICE:
        return f"{found.low_frac:.3g} to {found.high_frac:.3g} times"
    near, far = sorted((abs(low), abs(high)))
    least = floor(near + _EXACT)
    return f"{least} to {_up(far)} %" if least else f"up to {_up(far)} %"


def _up(figure: float) -> int:
    return ceil(figure - _EXACT)
