"""Answers on standard output, read back by the standard library."""

import csv
import io

import pytest

from coach.store.printing import print_csv, print_lines


def test_a_cell_that_begins_like_a_formula_stays_a_text(capsys: pytest.CaptureFixture[str]) -> None:
    rows = [["=1+1", "+2", "-3", "@sum", "\tx"], ["a=1", "2+2", "3-1", "a@b", "x\ty"]]
    print_csv(["=kept"], rows)
    head, unsafe, safe = csv.reader(io.StringIO(capsys.readouterr().out, newline=""))
    assert head == ["=kept"]
    assert unsafe == [f"'{cell}" for cell in rows[0]]
    assert safe == rows[1]


def test_sentences_fit_the_terminal_and_a_pipe(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    sentence = "The last stroke must fall by Wed 14 April, and what dries last takes nine days to be dry to touch. " * 3
    for columns in (40, 80):
        monkeypatch.setenv("COLUMNS", str(columns))
        print_lines([sentence])
        printed = capsys.readouterr().out
        assert max(map(len, printed.splitlines())) <= columns
        assert printed.split() == sentence.split()
