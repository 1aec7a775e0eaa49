"""The hours as plain data for machines: JSON-ready, keys in the words of the trade."""

from coach.forecast.outlook import TurnTime
from coach.journal.reading import local_time
from coach.limits.cautions import relaxed_limits
from coach.limits.exceeded import ExceededLimit, limit_ms
from coach.limits.rule_table import RULES, Rule
from coach.limits.tired_hours import Share, late_apart_frac, tired_sentences
from coach.plan.commission import Limits
from coach.review.hours.pace_by_hour import DayPace, HourPace, Interval
from coach.review.hours.report import GRADE_WORDS, DayHours, HoursReport
from coach.review.log_table import minutes


def hours_as_plain(told: HoursReport) -> dict[str, object]:
    """Return the hours as dictionaries, lists, strings, numbers and None.

    Keys:
        days: What was kept; `begun` and `ended` as local time with its offset, times in minutes; `night_minutes` is
            null on the first day, `awake_minutes` where the waking is not known; `passed` holds each rule that was
            passed with its gravest `grade`, what it came to and the limit of that grade.
        answers: What the painter answered, each with its local time.
        tired_hours: For each canvas the minutes by hour of work of a day and by half of a block, the part after the
            fourth hour (`late_frac`, 0 to 1), and `exposure_min2`, the sum over its unbroken work of length times the
            unbroken work at the middle, in square minutes; `mean_worked_minutes` is the same by the minute.
        pace: Worked over planned time (1.04 means 4 % longer) with its 95 % interval by hour of work of a day, and
            `late`, turns after the fourth hour against those before; null with too few turns to tell. `left_out`
            names turns whose time cannot be believed.
        loosened: Where the plan's limits are looser than the yardstick, a sentence each.
        rules: Every grade of every rule; `limit_minutes` is in force, `is_least` says that it must be kept at least.
    """
    return {
        "days": [_day(day) for day in told.days],
        "answers": [{"when": local_time(one.at).isoformat(), "answer": one.words} for one in told.answers],
        "tired_hours": {
            "canvases": [_share(share) for share in told.shares],
            "late_apart_frac": float(late_apart_frac(told.shares)),
            "sentences": list(tired_sentences(told.shares)),
        },
        "pace": _pace(told.pace),
        "loosened": list(relaxed_limits(told.limits)),
        "rules": [_rule(rule, told.limits) for rule in RULES],
    }


def _day(day: DayHours) -> dict[str, object]:
    begun = local_time(day.begun)
    return {
        "day": begun.date().isoformat(),
        "begun": begun.isoformat(),
        "ended": local_time(day.ended).isoformat(),
        "work_minutes": minutes(day.work_ms),
        "longest_block_minutes": minutes(day.longest_block_ms),
        "rests": len(day.rests_ms),
        "rest_minutes": minutes(sum(day.rests_ms)),
        "night_minutes": None if day.night_ms is None else minutes(day.night_ms),
        "awake_minutes": None if day.awake_ms is None else minutes(day.awake_ms),
        "passed": [_passed(passed) for passed in day.passed],
    }


def _passed(passed: ExceededLimit) -> dict[str, object]:
    return {
        "rule": passed.key.value,
        "grade": GRADE_WORDS[passed.grade],
        "minutes": minutes(passed.so_far_ms),
        "limit_minutes": minutes(passed.limit_ms),
    }


def _share(share: Share) -> dict[str, object]:
    return {
        "canvas": share.canvas,
        "minutes_by_hour": [minutes(ms) for ms in share.by_hour_ms],
        "first_half_minutes": minutes(share.first_half_ms),
        "second_half_minutes": minutes(share.second_half_ms),
        "late_frac": float(share.late_frac),
        "exposure_min2": float(share.exposure_min2),
        "mean_worked_minutes": float(share.mean_worked_min),
    }


def _pace(pace: DayPace) -> dict[str, object]:
    return {
        "sentence": pace.sentence,
        "late": _interval(pace.late),
        "by_hour": [_hour(hour) for hour in pace.by_hour],
        "left_out": [_left_out(turn) for turn in pace.left_out],
    }


def _hour(hour: HourPace) -> dict[str, object]:
    return {"hour": hour.hour, "turns": hour.turns, "pace": _interval(hour.pace)}


def _interval(pace: Interval | None) -> dict[str, object] | None:
    return None if pace is None else pace._asdict()


def _left_out(turn: TurnTime) -> dict[str, object]:
    return {
        "turn": turn.words,
        "minutes": round(turn.worked_s / 60, 2),
        "planned_minutes": round(turn.planned_s / 60, 2),
    }


def _rule(rule: Rule, limits: Limits) -> dict[str, object]:
    return {
        "rule": rule.key.value,
        "grade": GRADE_WORDS[rule.grade],
        "limit_minutes": minutes(limit_ms(rule, limits)),
        "is_least": rule.is_least,
        "yardstick": rule.yardstick,
        "source": rule.source,
    }
