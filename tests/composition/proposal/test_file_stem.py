"""The file of a new commission: a name that is no path, and the text of a plan that the reader takes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.composition.proposal.answers import Answers, default_answers
from coach.composition.proposal.file_stem import file_stem
from coach.composition.proposal.proposal import proposed_plan
from coach.plan.reading import problems_on, read_plan
from coach.plan.writing import plan_text
from tests.composition.proposal.said import TODAY, answers


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
