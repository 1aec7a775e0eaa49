"""What a forecast is asked about, drawn from journals that were really painted."""

import datetime as dt

import pytest

from coach.forecast.answer import forecast_of
from coach.forecast.steps import DryingTimes
from coach.journal.events import Kind
from coach.journal.reading import local_time
from coach.review.forecast_input import ForecastInput, forecast_input
from coach.session import moves
from coach.session.journal_state import state_of
from tests.painter import Habits, Painter
from tests.sessions import TWO_CANVASES, Easel

MIXED = """
canvases: [Hall, School]
week: {mon-sun: 2 h}
palette: [{name: umber, pigment: PBr7}]
mixtures: [{name: dark, parts: {umber: 1}}]
passes:
  - name: eyes
    passages: [{name: socket, minutes: 20, mixture: dark}, {name: iris, minutes: 10, mixture: dark}]
"""

LAYERED = """
canvases: [Hall, School]
week: {mon-sun: 2 h}
passes:
  - {name: face, passages: [{name: cheek, minutes: 60}]}
  - {name: glaze, passages: [{name: blush, minutes: 60, over: face / cheek}]}
"""


def today_of(easel: Easel, days: int = 0) -> dt.date:
    return local_time(easel.clock.read()).date() + dt.timedelta(days=days)


def asked(easel: Easel, days: int = 0, **earlier: Easel) -> ForecastInput:
    before = {name: state_of(other.journal.events) for name, other in earlier.items()}
    return forecast_input(easel.plan, state_of(easel.journal.events), today_of(easel, days), before)


def test_before_the_first_stroke_every_turn_remains_and_nothing_is_known_of_pace() -> None:
    about = asked(Easel())

    assert len(about.outlook.remaining) == 10
    assert sum(turn.planned_s for turn in about.outlook.remaining) == 2 * 59 * 60
    assert (about.outlook.turns, about.outlook.days, about.outlook.laid) == ((), (), ())


def test_what_is_painted_is_timed_laid_and_no_longer_remains() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    easel.pass_time(25)
    easel.session.make(moves.go_on)
    easel.pass_time(30)
    easel.session.make(moves.go_on)
    about = asked(easel)

    first, second = about.outlook.turns
    assert (first.is_lead, second.is_lead) == (True, False)
    assert (first.worked_s, second.worked_s) == (25 * 60, 30 * 60)
    assert (first.on_duty_s, second.on_duty_s) == (0, 25 * 60)
    assert len(about.outlook.remaining) == 8
    assert about.outlook.today_painted_s == 55 * 60
    assert {laid.canvas for laid in about.outlook.laid} == {"Hall", "School"}
    assert {laid.painted for laid in about.outlook.laid} == {today_of(easel)}


def test_days_gone_by_are_set_against_what_the_week_promised() -> None:
    easel = Easel(MIXED)
    easel.session.make(moves.go_on)
    easel.pass_time(30)
    easel.session.make(moves.end_session)
    about = asked(easel, days=3)

    assert [(day.promised_s, day.painted_s) for day in about.outlook.days] == [(7200, 1800), (7200, 0), (7200, 0)]
    assert about.outlook.today_painted_s == 0
    assert [turn.worked_s for turn in about.outlook.remaining[:2]] == [1800, 0]


def test_what_was_found_dry_or_wet_is_an_end_of_an_interval_and_never_the_drying_time() -> None:
    easel = Easel(MIXED)
    easel.session.make(moves.go_on)
    easel.pass_time(20)
    easel.session.make(moves.go_on)
    easel.session.make(moves.end_session)
    easel.clock.go(minutes=3 * 24 * 60)
    easel.session.tick()
    assert easel.session.situation().asked_dry is not None
    easel.session.make(moves.find_wet)
    about = asked(easel)
    (answer,) = about.outlook.answers
    (laid,) = about.outlook.laid
    assert answer.wet_days == laid.wet_days == pytest.approx(3, abs=0.01)
    assert answer.dry_days is None

    easel.clock.go(minutes=2 * 24 * 60)
    easel.session.tick()
    easel.session.make(moves.find_dry)
    about = asked(easel)
    (answer,) = about.outlook.answers
    assert answer.wet_days == pytest.approx(3, abs=0.01)
    assert answer.dry_days == pytest.approx(5, abs=0.01)
    assert about.plan == about.stated
    assert about.outlook.laid == ()


def test_days_of_waiting_for_paint_are_no_broken_promise() -> None:
    """Layers of any paint are dry by the slow end after 12 days; two hours a day are promised."""
    easel = Easel(LAYERED)
    easel.session.make(moves.go_on)
    for _ in range(2):
        easel.pass_time(60)
        easel.session.make(moves.go_on)
    easel.session.make(moves.end_session)

    kept = (7200, 7200)
    assert asked(easel, days=9).outlook.days == (kept,)
    assert asked(easel, days=14).outlook.days == (kept, (7200, 0), (7200, 0))


def test_a_corrected_turn_counts_with_its_corrected_minutes() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    easel.pass_time(14 * 60)
    easel.session.make(moves.go_on)
    assert easel.session.situation().forgotten is not None
    easel.session.make(moves.retiming("25"))
    about = asked(easel)

    assert easel.session.situation().forgotten is None
    assert [turn.worked_s for turn in about.outlook.turns] == [25 * 60]
    assert sum(about.painted_s.values()) == 25 * 60


def test_the_pace_of_earlier_commissions_comes_first() -> None:
    earlier = Easel()
    Painter(earlier.session, earlier.clock, Habits()).paint(4)
    about = asked(Easel(), earlier=earlier)

    assert len(about.outlook.turns) == 4
    assert all("(earlier)" in turn.words for turn in about.outlook.turns)


def test_a_return_is_timed_and_dries_as_the_pass_it_returns_to() -> None:
    easel = Easel(MIXED)
    easel.session.make(moves.go_on)
    easel.session.make(moves.mark)
    easel.pass_time(5)
    easel.session.make(moves.go_on)

    remaining = asked(easel).outlook.remaining
    assert remaining[-1].pass_name == "eyes"
    assert len(remaining) == 4


def test_a_skipped_turn_laid_no_paint() -> None:
    easel = Easel(TWO_CANVASES)
    easel.session.make(moves.go_on)
    easel.pass_time(2)
    easel.session.make(moves.skip)
    about = asked(easel)

    assert (about.outlook.turns, about.outlook.laid) == ((), ())
    assert len(about.outlook.remaining) == 9


def test_alkyd_for_what_is_to_come_does_not_dry_the_oil_that_is_laid() -> None:
    """Trade facts B3: titanium white in oil takes 4 to 8 days; B2.11: alkyd 18 to 24 hours."""
    text = MIXED.replace("umber, pigment: PBr7", "umber, pigment: PW6")
    easel = Easel(text)
    easel.session.make(moves.go_on)
    easel.pass_time(20)
    easel.session.make(moves.go_on)
    easel.session.make(moves.end_session)
    easel.source.text = text.replace("passes:", "forecast: {medium: alkyd}\npasses:")
    easel.session.tick()
    about = asked(easel, 1)

    (laid,) = about.outlook.laid
    times = DryingTimes(about.plan, about.outlook.answers)
    assert times.of_laid(laid) == (4, 8)
    assert times.of("eyes", "iris") == (0.75, 1)


FRAMED = """
canvases: [Hall, School]
due: 2026-12-18
week: {mon-sun: 2 h}
after: {drying: 9 days, framing: 3 working days, transport: 2 working days}
forecast: {spread: none}
passes: [{name: eyes, passages: [{name: iris, minutes: 10}]}]
"""


def at_the_framer(day: dt.date) -> Easel:
    """Return an easel with both canvases painted, of which Hall went to the framer on a day."""
    easel = Easel(FRAMED)
    easel.clock.wall_ms = int(dt.datetime(day.year, day.month, day.day, 9, tzinfo=dt.UTC).timestamp()) * 1000
    for _ in range(3):
        easel.session.make(moves.go_on)
    assert easel.session.make(moves.following("Hall", Kind.TO_FRAMER))
    return easel


def test_a_canvas_at_the_framer_is_told_of_by_its_own_days() -> None:
    """Trade check 104: to the framer on Friday 11 December 2026, from there on Wednesday, delivered on the 18th."""
    easel = at_the_framer(dt.date(2026, 12, 11))
    hall_only = asked(easel)
    answer = forecast_of(hall_only.plan, hall_only.outlook)
    assert {own.canvas for own in hall_only.outlook.laid} == {"School"}
    assert answer.delivered.p80 is not None
    assert answer.delivered.p80 > dt.date(2026, 12, 18)  # School was painted today and dries for nine days
    assert "Hall: to the framer on Fri 11 Dec 2026." in answer.why

    assert easel.session.make(moves.following("School", Kind.TO_FRAMER))
    both = asked(easel)
    answer = forecast_of(both.plan, both.outlook)
    assert (answer.framed.p80, answer.delivered.p80) == (dt.date(2026, 12, 16), dt.date(2026, 12, 18))
    assert answer.touch_dry.p80 == dt.date(2026, 12, 11)  # whoever gave it to the framer found it dry enough
    assert "Nothing is left to paint." in answer.why
    assert answer.headline.startswith("Fri 18 Dec 2026 holds")
    wet = "School left the studio before it was sure to be dry to touch (Sun 20 Dec 2026)"  # nine days are stated
    assert any(own.startswith(wet) for own in answer.remarks)

    assert not any("left the studio before" in own for own in forecast_of(both.plan, asked(easel, 9).outlook).remarks)

    late = asked(easel, 7)  # not back after a week: expected today, and then two working days on its way
    answer = forecast_of(late.plan, late.outlook)
    assert (answer.framed.p80, answer.delivered.p80) == (dt.date(2026, 12, 18), dt.date(2026, 12, 22))
    assert "What is on its way arrives on Tue 22 Dec 2026: 4 days after the due day." in answer.remarks


def test_what_followed_the_last_stroke_is_taken_back_by_undo_and_stays_over_a_kill() -> None:
    easel = at_the_framer(dt.date(2026, 12, 11))
    easel.reopen()
    assert [stage.kind for stage in asked(easel).outlook.stages] == [Kind.TO_FRAMER]
    assert not easel.session.make(moves.following("Hall", Kind.TO_FRAMER))
    assert easel.session.make(moves.following("Hall", Kind.HANDED_OVER))
    assert not easel.session.make(moves.following("Hall", Kind.SENT))
    assert easel.session.make(moves.undo)
    assert easel.session.remark == "Taken back: Hall handed over."
    assert easel.session.make(moves.undo)
    assert asked(easel).outlook.stages == ()


def test_nothing_follows_the_last_stroke_while_something_is_left_to_paint() -> None:
    easel = Easel(FRAMED)
    assert not easel.session.make(moves.following("Hall", Kind.SENT))
    assert easel.session.remark == "Hall is not finished: paint what is left, or skip it."
