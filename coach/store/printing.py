"""Answers on standard output: tables, JSON and CSV. Text is printed as it is, never read as markup."""

import csv
import json
import sys
from collections.abc import Iterable, Sequence
from shutil import get_terminal_size
from typing import Final

from coach.json_values import json_value
from coach.text import paragraphs, table


def print_json(answer: object) -> None:
    """Print data as JSON, on one line: setting it out in lines takes five times as long."""
    sys.stdout.write(json.dumps(json_value(answer), ensure_ascii=False) + "\n")


_BEGINS_A_FORMULA: Final = ("=", "+", "-", "@", "\t")
"""What spreadsheets take for a formula where a cell begins so. Common practice, no source."""


def print_csv(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """Print rows under a line of column names, as RFC 4180 has it but for the line ends of this system.

    A text that a spreadsheet would reckon as a formula gets an apostrophe in front, by which it stays a text.
    """
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows([f"'{cell}" if cell.startswith(_BEGINS_A_FORMULA) else cell for cell in row] for row in rows)


def terminal_columns() -> int:
    """Return the columns of the terminal; a pipe is taken to have 80."""
    return get_terminal_size().columns


def print_lines(lines: Iterable[str]) -> None:
    """Print lines of text, broken between words where the terminal ends."""
    _write(paragraphs(lines, terminal_columns()))


def _write(lines: Iterable[str]) -> None:
    sys.stdout.writelines(f"{line}\n" for line in lines)


def print_table(
    columns: Sequence[str], rows: Iterable[Sequence[str]], *, right: Sequence[str] = (), are_keys: bool = True
) -> None:
    """Print rows as a table as wide as the terminal.

    Args:
        columns: Heads of the columns.
        rows: A text for each column.
        right: Heads of the columns that are set to the right.
        are_keys: Whether the heads are keys of ours, whose underscores are shown as spaces; others stand as written.
    """
    heads = [name.replace("_", " ") if are_keys else name for name in columns]
    aligned = [head for head, name in zip(heads, columns, strict=True) if name in right]
    _write(table(heads, list(rows), right=aligned, width=terminal_columns()))
