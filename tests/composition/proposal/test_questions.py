"""The questions about a new commission: what is typed, what is kept, and the name of the file."""

import datetime as dt
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.composition.proposal.answers import Answers, NamedPlace, default_answers, file_stem
from coach.composition.proposal.feature_table import USUAL_FEATURES
from coach.composition.proposal.proposal import proposed_plan
from coach.composition.proposal.questions import (
    QUESTIONS,
    AnswerFault,
    Question,
    answers_of,
    check_answer,
    kept_texts,
)
from coach.plan.reading import problems_on, read_plan
from coach.plan.writing import plan_text
from tests.composition.proposal.said import TODAY, answers

HALL_SCHOOL = (NamedPlace("Hall", "left"), NamedPlace("School", "right"))
HALL_RIGHT = (NamedPlace("Hall", "right"), NamedPlace("School", "left"))
DEFAULT = default_answers(TODAY)
ASKED = {question.key: question for question in QUESTIONS}


def taken(key: str, text: str, before: Answers = DEFAULT) -> Answers:
    found = check_answer(ASKED[key], text, before)
    assert isinstance(found, Answers), found
    return found


def refused(key: str, text: str, before: Answers = DEFAULT) -> str:
    found = check_answer(ASKED[key], text, before)
    assert isinstance(found, AnswerFault), found
    return found.sentence


def test_the_questions_come_in_a_painter_s_order() -> None:
    order = "sitters photo heads commission count canvases due week size head palette features fineness"
    assert [question.key for question in QUESTIONS] == order.split()


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda one: one.key)
def test_a_default_is_taken_by_typing_it_or_by_typing_nothing(question: Question) -> None:
    key = question.key
    said = DEFAULT._replace(said=frozenset({key}))

    assert taken(key, "  ") == said
    assert taken(key, ASKED[key].shown(DEFAULT)) == said


@pytest.mark.parametrize(
    ("key", "text", "field", "value"),
    [
        ("sitters", "elder, younger", "sitters", ("elder", "younger")),
        ("sitters", "elder and younger", "sitters", ("elder", "younger")),
        ("sitters", " Ada,  and Berta ", "sitters", ("Ada", "Berta")),
        ("commission", "The ferry sisters", "commission", "The ferry sisters"),
        ("count", "1", "canvases", (NamedPlace("Canvas", "1"),)),
        ("canvases", "Hall left, School right", "canvases", HALL_SCHOOL),
        ("canvases", "Hall (Right), School (left)", "canvases", HALL_RIGHT),
        ("canvases", "Hall, School", "canvases", HALL_SCHOOL),
        ("canvases", "Hall 2, School 1", "canvases", (NamedPlace("Hall", "2"), NamedPlace("School", "1"))),
        ("canvases", "Panel 1, Panel 2", "canvases", (NamedPlace("Panel 1", "left"), NamedPlace("Panel 2", "right"))),
        ("due", "2027-06-19", "due", dt.date(2027, 6, 19)),
        ("due", "8 weeks", "due", dt.date(2027, 1, 20)),
        ("due", "19 June 2027", "due", dt.date(2027, 6, 19)),
        ("due", "Saturday, June 19th, 2027", "due", dt.date(2027, 6, 19)),
        ("due", "19 June", "due", dt.date(2027, 6, 19)),
        ("due", "1 Dec", "due", dt.date(2026, 12, 1)),
        ("due", "20/3/2027", "due", dt.date(2027, 3, 20)),
        ("due", "3/20/2027", "due", dt.date(2027, 3, 20)),
        ("due", "3.4.2027", "due", dt.date(2027, 4, 3)),
        ("due", "5/5/2027", "due", dt.date(2027, 5, 5)),
        ("due", "in 30 days", "due", dt.date(2026, 12, 25)),
        ("week", "25 h", "week_s", (18000,) * 5 + (0, 0)),
        ("week", "20", "week_s", (14400,) * 5 + (0, 0)),
        ("week", "mon-fri: 5 h, sat: 3 h", "week_s", (18000,) * 5 + (10800, 0)),
        ("week", "mon 2,5 h, sat 3 h", "week_s", (9000, 0, 0, 0, 0, 10800, 0)),
        ("photo", "two sisters.jpg", "photo", "two sisters.jpg"),
        ("photo", "none", "photo", None),
        ("size", "50 x 60 cm", "size", (500.0, 600.0)),
        ("size", "60 x 50 cm", "size", (600.0, 500.0)),
        ("size", "60 x 50 cm upright", "size", (500.0, 600.0)),
        ("size", "16 x 20 in", "size", (406.4, 508.0)),  # 25.4 mm to the inch, 1959
        ("size", "10 figure", "size", (460.0, 550.0)),  # French standard series: 55 x 46 cm
        ("size", "10 figure, lying", "size", (550.0, 460.0)),
        ("head", "16 cm", "head_mm", 160.0),
        ("head", "6.5 in", "head_mm", 165.1),
        ("head", "75 % of life", "head_mm", 171.9),  # half way between 177 and 167 mm, trade facts C3.5
        ("head", "estimate", "head_mm", None),
        ("palette", "Four Colours", "palette", "four colours"),
        ("features", "ground, Eyes and nose, eyes", "features", ("ground", "eyes", "nose")),
        ("features", "beard, usual", "features", ("beard", *USUAL_FEATURES)),
        ("fineness", "Fine", "fineness", "fine"),
    ],
)  # fmt: skip
def test_what_is_typed_is_understood(key: str, text: str, field: str, value: object) -> None:
    assert getattr(taken(key, text), field) == value


@pytest.mark.parametrize(
    ("key", "text", "part"),
    [
        ("sitters", " , ", "nobody is named"),
        ("sitters", "Ada, ada", '"ada" stands twice'),
        ("sitters", "a, b, c, d, e, f, g, h, i", "at most 8"),
        ("sitters", "x" * 41, "at most 40"),
        ("sitters", "Return to", "pass of corrections"),
        ("count", "0", "1 to 12"),
        ("count", "13", "1 to 12"),
        ("count", "two", "1 to 12"),
        ("canvases", "Hall", "2 canvases were said and 1 named"),
        ("canvases", "Hall (left), School", "some have none"),
        ("canvases", "Hall left, School left", "two canvases stand in place left"),
        ("canvases", "Hall (top), School (left)", '"top" is not a place'),
        ("canvases", "Hall, hall", "stands twice"),
        ("due", "2026-11-25", "is not ahead"),
        ("due", "2027-02-29", "there is no day"),
        ("due", "3/4/2027", '"3/4/2027" may be 3 April 2027 or 4 March 2027; write the month as a word: 3 April 2027'),
        ("due", "June 2027", "there is no day"),
        ("due", "Friday", "there is no day"),
        ("due", "31 June 2027", "there is no day"),
        ("due", "2127-06-19", "more than 10 years ahead"),
        ("week", "mon-fri", "names no day with its hours"),
        ("week", "mon-fri: 25 h", "more than the 24 h of a day"),
        ("week", "moon: 5 h", "no day of the week"),
        ("week", "mon: 5", "has no unit"),
        ("week", "0 h", "needs some hours"),
        ("week", "168 h", "more than five whole days"),
        ("photo", "a\x1b[31mb.jpg", "cannot be shown"),
        ("photo", "../sitter.jpg", "not the plain name of a file"),
        ("photo", "x" * 201, "200"),
        ("size", "0 x 50 cm", "greater than 0"),
        ("size", "0.4 x 0.5 m", "0.4 m is 40 cm"),
        ("size", "999 x 50 cm", "2 to 500 cm"),
        ("head", "large", "not the height of a head"),
        ("head", "2 mm", "too small"),
        ("head", "51 cm", "taller than the canvas of 50 cm"),
        ("palette", "earth", 'did you mean "earths"'),
        ("features", "eyse", 'did you mean "eyes"'),
        ("features", ",", "no feature is named"),
        ("fineness", "middling", 'did you mean "middle"'),
    ],
)
def test_what_cannot_be_taken_is_refused_with_a_way_out(key: str, text: str, part: str) -> None:
    assert part in refused(key, text)


def test_names_that_nobody_gave_follow_the_count() -> None:
    three = taken("count", "3")
    assert [one.name for one in three.canvases] == ["Left", "Middle", "Right"]
    assert [one.name for one in taken("count", "4", three).canvases] == [*("Far left", "Left", "Right", "Far right")]
    assert taken("count", "2", three).canvases == DEFAULT.canvases


def test_places_are_shown_only_where_they_are_not_the_usual_ones() -> None:
    shown = ASKED["canvases"].shown
    assert shown(DEFAULT) == "Left, Right"
    assert shown(taken("canvases", "Hall right, School left")) == "Hall (right), School (left)"
    assert shown(taken("canvases", "Panel 1 (left), Panel 2 (right)")) == "Panel 1, Panel 2"
    assert shown(taken("canvases", "Far left (left), School (right)")) == "Far left (left), School (right)"


def test_more_canvases_keep_the_names_there_are() -> None:
    pair = taken("canvases", "Second, School")
    three = taken("count", "3", pair)

    assert [one.name for one in three.canvases] == ["Second", "School", "First"]
    assert [one.place for one in three.canvases] == ["1", "2", "3"]
    assert taken("count", "2", three).canvases == pair.canvases


def test_the_commission_is_named_after_its_sitters_until_it_has_a_name() -> None:
    both = taken("sitters", "Ada, Berta", taken("commission", ""))
    assert both.commission == "Portrait of Ada and Berta"
    assert taken("commission", "Sisters", both)._replace(sitters=("Ada",)).commission == "Sisters"
    assert taken("sitters", "a, b, c, d, e, f").commission == "Portrait of a and 5 others"


def test_a_head_taller_than_a_smaller_canvas_is_estimated_anew() -> None:
    smaller = taken("size", "20 x 25 cm", taken("head", "30 cm"))

    assert smaller.head_mm is None
    assert "head" not in smaller.said
    assert taken("size", "20 x 25 cm", taken("head", "20 cm")).head_mm == 200


@given(st.sampled_from(QUESTIONS), st.text(max_size=80))
def test_nothing_typed_breaks_a_question(question: Question, text: str) -> None:
    found = check_answer(question, text, DEFAULT)
    assert isinstance(found, Answers) or found.sentence


@pytest.mark.parametrize("key", ["sitters", "commission", "canvases", "week", "photo", "size", "head"])
def test_a_text_beyond_all_measure_is_refused(key: str) -> None:
    assert "use at most" in refused(key, "x" * 1001)


HALF_WAY = {"sitters": "elder, younger", "count": "3", "canvases": "North (1), Harbour (2), Mill (3)"}


@given(answers())
def test_what_was_said_comes_back_from_json(said: Answers) -> None:
    assert answers_of(json.loads(json.dumps(kept_texts(said))), TODAY) == said


@given(answers())
def test_what_is_shown_may_be_typed_again(said: Answers) -> None:
    for question in QUESTIONS:
        assert check_answer(question, question.shown(said), said) == said._replace(said=said.said | {question.key})


def test_leaving_half_way_keeps_what_was_said_and_nothing_else() -> None:
    back = answers_of(HALF_WAY, TODAY)

    assert kept_texts(back) == HALF_WAY | {"canvases": "North, Harbour, Mill"}
    assert [one.name for one in back.canvases] == ["North", "Harbour", "Mill"]
    assert back.fineness == default_answers(TODAY).fineness


def test_a_day_that_passed_meanwhile_counts_as_not_said() -> None:
    kept = HALF_WAY | {"due": "2026-12-24"}
    later = dt.date(2027, 1, 8)

    assert answers_of(kept, TODAY).due == dt.date(2026, 12, 24)
    assert answers_of(kept, later).due == dt.date(2027, 3, 5)
    assert "due" not in answers_of(kept, later).said


@pytest.mark.parametrize("plain", [None, [], "sitters", {"sitters": 3, "count": None, "week": "?", "else": "x"}])
def test_what_was_damaged_counts_as_not_said(plain: object) -> None:
    assert answers_of(plain, TODAY) == default_answers(TODAY)


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("The ferry sisters", "The-ferry-sisters"),
        ("../../etc/passwd", "etc-passwd"),
        ("C:\\plans\\one", "C-plans-one"),
        ("Zoe\N{COMBINING DIAERESIS}", "Zo\N{LATIN SMALL LETTER E WITH DIAERESIS}"),
        ("no. 2 – study", "no-2-study"),
        ("", "commission"),
        ("...", "commission"),
        ("x" * 300, "x" * 60),
    ],
)
def test_a_name_becomes_letters_digits_and_hyphens(name: str, stem: str) -> None:
    assert file_stem(name) == stem


@given(st.text())
def test_no_name_leads_to_another_folder_hides_or_is_an_option(name: str) -> None:
    stem = file_stem(name)
    assert stem
    assert not stem.startswith("-")
    assert all(letter.isalnum() or letter == "-" for letter in stem)
    assert len(stem) <= 60
    assert file_stem(stem) == stem


@given(answers())
def test_the_text_reads_as_the_proposed_plan_and_has_no_problem_on_its_day(said: Answers) -> None:
    plan = read_plan(plan_text(proposed_plan(said)), "new.yaml")
    assert plan == proposed_plan(said)
    assert problems_on(plan, TODAY) == ()


def test_the_photo_that_was_named_stands_in_the_plan() -> None:
    said = default_answers(TODAY)._replace(photo="two sisters.jpg")

    assert read_plan(plan_text(proposed_plan(said)), "new.yaml").photo == "two sisters.jpg"
