"""Answers on standard output: tables, JSON and CSV. Text is printed as it is, never read as markup."""

import csv
import json
import sys
from collections.abc import Iterable, Sequence


def print_json(answer: object) -> None:
    """Print plain values as JSON, on one line: setting it out in lines takes five times as long."""
    sys.stdout.write(json.dumps(answer, ensure_ascii=False) + "\n")


def print_csv(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """Print rows under a line of column names, as RFC 4180 has it but for the line ends of this system."""
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(rows)


def print_lines(lines: Iterable[str]) -> None:
    """Print lines of text."""
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
    from rich import box  # noqa: PLC0415  the app does not need tables
    from rich.console import Console  # noqa: PLC0415
    from rich.table import Table  # noqa: PLC0415
    from rich.text import Text  # noqa: PLC0415

    table = Table(box=box.SIMPLE, pad_edge=False)
    for name in columns:
        table.add_column(
            Text(name.replace("_", " ") if are_keys else name),
            justify="right" if name in right else "left",
            overflow="fold",
        )
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    console = Console(highlight=False, markup=False, emoji=False, soft_wrap=False)
    with console.capture() as drawn:  # written by us, because the library leaves with a status of its own
        console.print(table)  # where the reader of a pipe went away
    sys.stdout.write(drawn.get())
