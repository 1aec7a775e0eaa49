"""Answers on standard output, read back by the standard library."""

import csv
import io

import pytest

from coach.store.printing import print_csv


def test_a_cell_that_begins_like_a_formula_stays_a_text(capsys: pytest.CaptureFixture[str]) -> None:
    rows = [["=1+1", "+2", "-3", "@sum", "\tx"], ["a=1", "2+2", "3-1", "a@b", "x\ty"]]
    print_csv(["=kept"], rows)
    head, unsafe, safe = csv.reader(io.StringIO(capsys.readouterr().out, newline=""))
    assert head == ["=kept"]
    assert unsafe == [f"'{cell}" for cell in rows[0]]
    assert safe == rows[1]
