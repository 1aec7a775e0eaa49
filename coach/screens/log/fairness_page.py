"""Was it fair? The answer in a word, one sentence, who led when, the minutes ahead; and the facts behind it. Pure."""

from collections.abc import Sequence
from typing import Final

from coach.plan.commission import pass_words
from coach.review.fairness.figures import FairnessReport
from coach.review.fairness.run_times import RunTimes
from coach.review.fairness.sentences import answer_sentence, out_sentences
from coach.screens.answer_head import answer_head
from coach.screens.leads import axis_of, curve_rows, label_cells, lead_strip
from coach.screens.lines import BLANK, Line, Role, fitted
from coach.text import cells, padded, paragraphs, wrapped

_AHEAD: Final = "minutes ahead in the lead, as you went"
_OVER_SHARE: Final = "minutes over and under an even share, as you went"
_LEAST_CURVE: Final = 2
_GOOD_CURVE: Final = 5
_MOST_CURVE: Final = 21
_LEAST_PICTURE_CELLS: Final = len(_AHEAD)
_MOST_LABEL: Final = 20
_LONGEST_BAR: Final = 60


def answer_word(report: FairnessReport) -> str:
    """Return the answer in a word: yes, nearly or no, where the lead was shared at all."""
    if report.balance is not None:
        return report.balance.fair.upper()
    return "NO LEADS" if report.runs and report.runs_to_come == 0 else "NOT YET"


def fairness_page(
    report: FairnessReport, runs: Sequence[RunTimes], pass_name: str | None, columns: int, lines: int
) -> tuple[Line, ...]:
    """Return the page, at most `lines` lines of at most `columns` cells.

    Args:
        report: The report.
        runs: The runs it is made from, in the order painted.
        pass_name: The pass it tells of; None for the whole work.
        columns: Cells of a line.
        lines: Lines of the page.
    """
    shared = [run for run in runs if len(run.order) > 1]
    names = [share.canvas for share in report.canvases if share.leads + share.follows]
    strip = len(names) + 2 if shared else 0
    asks = f"was it fair? · {pass_words(pass_name)}" if pass_name else "was it fair?"
    wanted = strip + _GOOD_CURVE + 2 if shared else 0
    head = answer_head(asks, answer_word(report), answer_sentence(report), columns, lines, wanted=wanted)
    out = [Line(row, Role.DETAIL) for text in out_sentences(report.out_by_place) for row in wrapped(text, columns)]
    if len(head) + len(out) + strip <= lines:
        head = (*head, *out)
    return (*head, *_pictures(shared, names, columns, lines - len(head)))


def _pictures(runs: Sequence[RunTimes], names: Sequence[str], columns: int, lines: int) -> list[Line]:
    if not runs or columns < _LEAST_PICTURE_CELLS:
        return []
    drawn = lead_strip(runs, names, columns, lines)
    rows = min(_MOST_CURVE, lines - len(drawn) - 2)
    if drawn and rows >= _LEAST_CURVE:
        label = label_cells(names)
        curve = curve_rows(runs, axis_of(runs, names, columns - label - 1), names, label, rows)
        title = fitted(Line(_AHEAD if len(names) == 2 else _OVER_SHARE, Role.HEAD), columns)  # noqa: PLR2004
        drawn += [BLANK, title, *(Line(row, Role.DETAIL) for row in curve)]
    return drawn


def facts_lines(report: FairnessReport, runs: Sequence[RunTimes], columns: int) -> tuple[str, ...]:
    """Return the report in sentences, and below it the minutes of a turn when leading and when following."""
    return (*paragraphs(report.sentences, columns), "", *_lead_beside_follow(runs, len(report.canvases), columns))


def _lead_beside_follow(runs: Sequence[RunTimes], canvases: int, columns: int) -> list[str]:
    compared = [run for run in runs if len(run.order) == canvases > 1]
    if not compared:
        return []
    passes = dict.fromkeys(run.pass_name for run in compared)
    groups = [("all", compared)]
    if len(passes) > 1:
        groups += [(pass_words(name), [run for run in compared if run.pass_name == name]) for name in passes]
    means = [(name, *_lead_and_follow(group)) for name, group in groups]
    label = min(_MOST_LABEL, max(cells(name) for name, *_ in means))
    longest = max(max(lead, follow) for _, lead, follow in means)
    room = max(0, min(_LONGEST_BAR, columns - label - len(" follow 999.9 min ")))
    lines = paragraphs(["minutes of a turn, leading against following"], columns)
    for name, lead, follow in means:
        lines.append(f"{padded(name, label)} lead   {lead:5.1f} min {'━' * round(lead / longest * room)}")
        lines.append(f"{' ' * label} follow {follow:5.1f} min {'─' * round(follow / longest * room)}")
    return lines


def _lead_and_follow(runs: Sequence[RunTimes]) -> tuple[float, float]:
    leads = [run.minutes[0] for run in runs]
    follows = [minutes for run in runs for minutes in run.minutes[1:]]
    return sum(leads) / len(leads), sum(follows) / len(follows)
