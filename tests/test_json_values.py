"""Data as JSON: every kind of value that a report holds, and nothing by accident."""

import datetime as dt
import enum
from dataclasses import dataclass
from fractions import Fraction

import pytest

from coach.json_values import json_value


class _Grade(enum.Enum):
    NOTICE = "notice"


@dataclass(frozen=True)
class _Row:
    pass_: str
    day: dt.date
    share_frac: Fraction
    grades: tuple[_Grade, ...]
    by_canvas: dict[str, int]
    _hidden: int = 0


def test_frozen_data_becomes_a_mapping_in_the_order_of_its_fields() -> None:
    row = _Row("eyes", dt.date(2027, 5, 1), Fraction(1, 4), (_Grade.NOTICE,), {"Hall": 2})
    assert json_value([row, None, True, {3, 1}]) == [
        {"pass": "eyes", "day": "2027-05-01", "share_frac": 0.25, "grades": ["notice"], "by_canvas": {"Hall": 2}},
        None,
        True,
        [1, 3],
    ]


def test_what_has_no_form_is_a_mistake_of_the_program() -> None:
    with pytest.raises(TypeError, match="object has no form"):
        json_value(object())
