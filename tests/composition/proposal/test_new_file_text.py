"""The file of a new commission: a name that is no path, and a text that the reader takes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.composition.proposal.answers import Answers, default_answers
from coach.composition.proposal.new_file_text import file_stem, new_file_text
from coach.composition.proposal.proposal import proposed_plan
from coach.plan.reading import problems_on, read_plan
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
    plan = read_plan(new_file_text(said), "new.yaml")
    assert plan == proposed_plan(said)
    assert problems_on(plan, TODAY) == ()


def test_the_photo_stands_in_a_comment_even_with_a_name_that_no_yaml_may_hold() -> None:
    said = default_answers(TODAY)._replace(photo="ferry: {\uffff}.jpg")
    text = new_file_text(said)
    assert text.startswith("# Painted from the photo ferry: {\N{REPLACEMENT CHARACTER}}.jpg\n\ncommission:")
    assert read_plan(text, "new.yaml") == proposed_plan(said)
    assert new_file_text(said._replace(photo=None)).startswith("commission:")
