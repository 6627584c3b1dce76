"""Print what actions return, as text for people or JSON for programs."""

from __future__ import annotations

import json
import shutil
import textwrap
from typing import TYPE_CHECKING, Any

from rooftree.actions.plain import plain
from rooftree.units import DisplaySystem, told

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rooftree.actions.subject import Written
    from rooftree.records.document import Problem

WIDEST = 100
"""Columns; longer lines are hard to read."""


def print_json(value: Any) -> None:
    """Print what an action returned as JSON, in SI."""
    print(json.dumps(plain(value), ensure_ascii=False, indent=1, allow_nan=False), flush=True)


def print_problems(target: str, problems: Iterable[Problem]) -> None:
    """Print every problem with its path."""
    listed = list(problems)
    for problem in listed:
        print(problem if problem.blocks else f"(doubt) {problem}")
    blocking = sum(problem.blocks for problem in listed)
    print(f"{target}: {_counted(blocking, 'problem')}, {_counted(len(listed) - blocking, 'doubt')}")


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number or 'no'} {noun}s"


def print_written(written: Written) -> None:
    """Print which file was written and how large it is."""
    print(f"{written.file}: {max(1, round(written.bytes / 1000)):,} kB")


def print_lines(lines: Iterable[str]) -> None:
    """Print lines, each wrapped to the terminal; what is indented stays so."""
    for line in lines:
        print_wrapped(line.strip(), line[: len(line) - len(line.lstrip())])


def print_wrapped(
    text: str, indent: str = "  ", *, system: DisplaySystem = DisplaySystem.IP
) -> None:
    """Print a text that hangs where it goes on, its quantities in the reader's units."""
    text = told(text, system)
    width = min(WIDEST, shutil.get_terminal_size((WIDEST, 24)).columns)
    print(textwrap.fill(text, width, initial_indent=indent, subsequent_indent=indent + "  "))


def print_table(
    caption: str, columns: Sequence[str], rows: Sequence[Sequence[str]], indent: str = "  "
) -> None:
    """Print rows of texts under a caption, each column as wide as its widest cell."""
    lines = [columns, *rows]
    widths = [max(len(cell) for cell in column) for column in zip(*lines, strict=True)]
    print(f"{indent}{caption}")
    for first, *rest in lines:
        cells = [f"{cell:>{width}}" for cell, width in zip(rest, widths[1:], strict=True)]
        print(f"{indent}  " + "  ".join([f"{first:<{widths[0]}}", *cells]).rstrip())


def display_system(*, metric: bool) -> DisplaySystem:
    """Return the units that the person wants."""
    return DisplaySystem.SI if metric else DisplaySystem.IP
