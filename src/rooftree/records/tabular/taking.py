"""From a confirmed matching to rows of quantities with units, and what is wrong in cells."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import UnitError
from rooftree.records.tabular.columns import fits
from rooftree.records.tabular.matching import headings_of
from rooftree.records.tabular.numbers import is_no_reading, parted, with_point
from rooftree.units import DIMENSIONLESS, Kind, parse

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from rooftree.records.tabular.columns import Column
    from rooftree.records.tabular.matching import Matching
    from rooftree.records.tabular.table import Table

MOST_PROBLEMS = 100
"""Problems that are listed; the others are counted in the notes."""

_CLOCK = re.compile(
    r"(?:.*[\sT])?(\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d+)?))?\s*([AaPp])?\.?(?:[Mm]\.?)?"
    r"(?:Z|[+-]\d{2}:?\d{2})?"
)
_DAY, _HALF_DAY = 86_400.0, 43_200.0


@dataclass(frozen=True, slots=True)
class CellProblem:
    """What is wrong in one cell.

    Attributes
    ----------
    line : int
        Line of the text at which its row begins, from 1.
    row : int
        Row that was taken, from 0; the cell is in it as typed.
    column : str
        Name of the wanted column.
    heading : str
        What the table calls its column.
    text : str
        The cell as typed.
    says, remedy : str
        What is wrong with it and what to do.
    """

    line: int
    row: int
    column: str
    heading: str
    text: str
    says: str
    remedy: str


@dataclass(frozen=True, slots=True)
class TakenRows:
    """Rows of a table as they go into a form.

    Attributes
    ----------
    rows : tuple of dict from str to str
        For each row the texts by name of the column: a quantity with its unit, words as
        typed, and as typed what cannot be taken.
    problems : tuple of CellProblem
        The first of the cells that cannot be taken.
    notes : tuple of str
        What else was noticed: rows and cells that were left out, columns that are missing.
    """

    rows: tuple[dict[str, str], ...]
    problems: tuple[CellProblem, ...]
    notes: tuple[str, ...]


def take_rows(
    table: Table, columns: Sequence[Column], matching: Matching, most: int = 100_000
) -> TakenRows:
    r"""Return the rows of a table for a matching that somebody has confirmed.

    Parameters
    ----------
    table : Table
        As read.
    columns : sequence of Column
        Those that are wanted.
    matching : Matching
        Which column is which.
    most : int
        Rows that there is room for; the others are left out and counted.

    Returns
    -------
    TakenRows

    Examples
    --------
    >>> from rooftree.records.tabular import Column, guess_matching, read_table
    >>> wanted = [Column("pressure", "House pressure", ("Pa",), Kind.PRESSURE)]
    >>> table = read_table("pressure\n-52.3\n-48.1 Pa")
    >>> take_rows(table, wanted, guess_matching(table, wanted)).rows
    ({'pressure': '-52.3 Pa'}, {'pressure': '-48.1 Pa'})
    """
    taking = _Taking(table, matching, headings_of(table, matching))
    matched = [column for column in columns if column.name in matching.places]
    if not matched:
        return TakenRows((), (), ("No column is matched yet: say which column is which.",))
    numbers = list(range(matching.first, len(table.rows)))
    taken = [k for k in numbers if any(taking.cell(k, column) for column in matched)]
    kept = taken[:most]
    rows: list[dict[str, str]] = [{} for _ in kept]
    for column in matched:
        take = taking.reader(column, kept)
        for row, k in enumerate(kept):
            cell = taking.cell(k, column)
            if not cell:
                continue
            if column.kind is not None and is_no_reading(cell):
                taking.left_empty += 1
                continue
            rows[row][column.name] = take(row, k, cell)
    notes = _notes(taking, columns, matching, len(taken), most)
    return TakenRows(tuple(rows), tuple(taking.in_order()), notes)


class _Taking:
    def __init__(self, table: Table, matching: Matching, headings: Sequence[str]) -> None:
        self.table = table
        self.matching = matching
        self.headings = headings
        self.problems: list[CellProblem] = []
        self.left_empty = 0
        self.counted_from_first: list[str] = []

    def cell(self, k: int, column: Column) -> str:
        return self.table.cell(k, self.matching.places[column.name])

    def in_order(self) -> list[CellProblem]:
        return sorted(self.problems, key=lambda one: one.row)[:MOST_PROBLEMS]

    def reader(self, column: Column, rows: Sequence[int]) -> Callable[[int, int, str], str]:
        """Return what turns the cells of a column into text for a form."""
        if column.choices:
            return lambda row, k, cell: self._chosen(column, row, k, cell)
        if column.kind is None:
            return lambda _row, _k, cell: cell
        cells = [self.cell(k, column) for k in rows]
        filled = [cell for cell in cells if cell and not is_no_reading(cell)]
        clocks = sum(_CLOCK.fullmatch(cell) is not None for cell in filled)
        if column.kind is Kind.DURATION and 2 * clocks > len(filled):
            self.counted_from_first.append(column.words)
            clock = _Clock()
            return lambda row, k, cell: self._elapsed(column, clock, row, k, cell)
        return lambda row, k, cell: self._quantity(column, row, k, cell)

    def _problem(self, column: Column, row: int, k: int, says: str, remedy: str) -> str:
        """Note what is wrong, and leave the cell as it was typed."""
        place = self.matching.places[column.name]
        text = self.table.cell(k, place)
        self.problems.append(
            CellProblem(
                self.table.lines[k], row, column.name, self.headings[place], text, says, remedy
            )
        )
        return text

    def _chosen(self, column: Column, row: int, k: int, cell: str) -> str:
        chosen = column.choice(cell)
        if chosen is not None:
            return chosen
        words = ", ".join(f"“{words}”" for value, words in column.choices if value)
        return self._problem(column, row, k, "is none of the choices", f"write one of {words}")

    def _quantity(self, column: Column, row: int, k: int, cell: str) -> str:
        kind, unit = column.kind, self.matching.units.get(column.name, "")
        assert kind is not None  # noqa: S101 - asked by the reader
        found = parted(cell)
        if found is None:
            return self._unusual(column, kind, unit, row, k, cell)
        number = with_point(found[0], self.matching.decimal)
        if number is None:
            other = "comma" if self.matching.decimal == "." else "point"
            says = f"cannot be read with a decimal {'point' if other == 'comma' else 'comma'}"
            remedy = f"write it otherwise, or choose the decimal {other} for the whole table"
            return self._problem(column, row, k, says, remedy)
        named = found[1] or unit
        if named and not fits(named, kind):
            return self._unusual(column, kind, unit, row, k, cell)
        if not named and kind not in DIMENSIONLESS:
            return self._problem(column, row, k, "has no unit", "choose the unit of its column")
        return f"{number} {named}".strip()

    def _unusual(self, column: Column, kind: Kind, unit: str, row: int, k: int, cell: str) -> str:
        """Take what the program reads elsewhere too, such as ``3 1/2 in`` or ``R-38``."""
        refusals = []
        for text in (cell, f"{cell} {unit}".strip()):
            try:
                parse(text, kind)
            except UnitError as error:
                refusals.append(error)
            else:
                return text
        # The cell as it stands tells most, unless only its unit is missing.
        refusal = refusals["has no unit" in refusals[0].says]
        says = refusal.says.removeprefix(f'"{refusal.text}" ')
        return self._problem(column, row, k, says, refusal.remedy)

    def _elapsed(self, column: Column, clock: _Clock, row: int, k: int, cell: str) -> str:
        seconds = clock.elapsed(cell)
        if seconds is None:
            says, remedy = "is not a time of day like the others", "write it like 10:05:30"
            return self._problem(column, row, k, says, remedy)
        if seconds < 0.0:
            says = "goes back in time"
            return self._problem(column, row, k, says, "put the rows in the order of their times")
        return f"{seconds:g} s" if seconds < 1e5 else f"{seconds:.1f} s"


class _Clock:
    """Times of day, counted from the first."""

    def __init__(self) -> None:
        self._first: float | None = None
        self._last = 0.0
        self._days = 0.0

    def elapsed(self, cell: str) -> float | None:
        """Return the time since the first [s]; below 0 where it goes back."""
        found = _CLOCK.fullmatch(cell)
        if found is None or int(found[1]) > 23 or int(found[2]) > 59:
            return None
        hour = int(found[1])
        if found[4]:
            hour = hour % 12 + (12 if found[4] in "Pp" else 0)
        seconds = float((found[3] or "0").replace(",", "."))
        time = round(3600.0 * hour + 60.0 * int(found[2]) + seconds, 6)
        if self._first is None:
            self._first = self._last = time
        if time < self._last - _HALF_DAY:
            self._days += _DAY
        elif time < self._last:
            return -1.0
        self._last = time
        return round(time + self._days - self._first, 6)


def _notes(
    taking: _Taking, columns: Sequence[Column], matching: Matching, found: int, most: int
) -> tuple[str, ...]:
    notes = []
    if found > most:
        notes.append(
            f"The table has {found:,} rows and there is room for {most:,}: the first {most:,} were "
            "taken. Average the readings, or keep every so many rows, to take in the whole."
        )
    missing = [one.words for one in columns if one.is_needed and one.name not in matching.places]
    if missing:
        notes.append(f"Needed, and matched with no column: {', '.join(missing)}.")
    if taking.counted_from_first:
        notes.append(
            f"{' and '.join(taking.counted_from_first)}: times of day are counted from the first "
            "row on."
        )
    if taking.left_empty:
        cells = "cell" if taking.left_empty == 1 else "cells"
        notes.append(f"Left empty, where there was no reading: {taking.left_empty:,} {cells}.")
    if len(taking.problems) > MOST_PROBLEMS:
        notes.append(
            f"{len(taking.problems):,} cells cannot be taken; the first {MOST_PROBLEMS} are listed."
        )
    return tuple(notes)
