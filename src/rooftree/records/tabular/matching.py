"""Which column of a table is which wanted one: a guess, for a person to confirm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.records.tabular.columns import (
    Column,
    fits,
    is_unit,
    likeness,
    names_another_kind,
    unit_in,
)
from rooftree.records.tabular.numbers import (
    decimal_sign,
    is_no_reading,
    is_number,
    parted,
    starts_a_quantity,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from rooftree.records.tabular.table import Table

BY_NAME, BY_UNIT, BY_PLACE = "its name", "its unit", "its place"

NO_HEADINGS = -1
"""Stands for a table without headings where a row is asked for."""

_SEARCHED = 30
"""Rows among which the headings are looked for: loggers write about themselves first."""

_SAMPLE = 200
_ENOUGH, _MOSTLY = 0.45, 0.6


@dataclass(frozen=True, slots=True)
class Matching:
    """How a table is to be read.

    Attributes
    ----------
    heading : int or None
        Row that holds the headings; None where there are none.
    first : int
        Row of the first reading.
    places : mapping from str to int
        Place of each wanted column that was found, from 0, by its name.
    units : mapping from str to str
        Unit of numbers typed alone, by name of the column.
    decimal : str
        Decimal sign of the numbers: ``"."`` or ``","``.
    why : mapping from str to str
        What each place was guessed from: its name, its unit or only its place.
    notes : tuple of str
        What to look at before confirming.
    """

    heading: int | None
    first: int
    places: Mapping[str, int]
    units: Mapping[str, str]
    decimal: str = "."
    why: Mapping[str, str] | None = None
    notes: tuple[str, ...] = ()


def guess_matching(
    table: Table, columns: Sequence[Column], *, heading: int | None = None
) -> Matching:
    r"""Return which column of a table is most likely which wanted one.

    Parameters
    ----------
    table : Table
        As read.
    columns : sequence of Column
        Those that are wanted.
    heading : int or None
        Row that holds the headings, `NO_HEADINGS` where none does; None to find out.

    Returns
    -------
    Matching

    Examples
    --------
    >>> from rooftree.records.tabular import read_table
    >>> from rooftree.units import Kind
    >>> wanted = [Column("pressure", "House pressure", ("Pa",), Kind.PRESSURE),
    ...           Column("flow", "Flow of the fan", ("cfm",), Kind.FLOW)]
    >>> dict(guess_matching(read_table("flow L/s,bldg dp\n930,-50"), wanted).places)
    {'flow': 0, 'pressure': 1}
    """
    if heading is None:
        heading = _heading(table, columns)
    elif not 0 <= heading < len(table.rows):
        heading = None
    first = 0 if heading is None else heading + 1
    unit_row = _unit_row(table, heading)
    if unit_row is not None:
        first = unit_row + 1
    headings = [
        _with_unit(table, heading, unit_row, place) if heading is not None else ""
        for place in range(table.width)
    ]
    sample = [_samples(table, first, place) for place in range(table.width)]
    places, why = _assigned(columns, headings, sample)
    units = {column.name: _unit(column, places, headings) for column in columns}
    decimal, notes = _decimal(sample)
    return Matching(heading, first, places, units, decimal, why, tuple(notes))


def _with_unit(table: Table, heading: int, unit_row: int | None, place: int) -> str:
    text = table.cell(heading, place)
    unit = table.cell(unit_row, place).strip("()[] ") if unit_row is not None else ""
    return f"{text} [{unit}]" if unit else text


def _samples(table: Table, first: int, place: int) -> list[str]:
    cells = (table.cell(k, place) for k in range(first, min(len(table.rows), first + _SAMPLE)))
    return [cell for cell in cells if cell and not is_no_reading(cell)]


def _heading(table: Table, columns: Sequence[Column]) -> int | None:
    """Return the row that looks most like headings: words that stand above numbers."""
    best, worth = None, 0.0
    for k in range(min(_SEARCHED, len(table.rows) - 1)):
        cells = [cell.strip() for cell in table.rows[k]]
        words = [cell for cell in cells if cell and not is_number(cell)]
        if not words or len(words) < 0.6 * sum(map(bool, cells)):
            continue
        told = sum(max((likeness(one, cell) for one in columns), default=0.0) for cell in words)
        told += 0.2 * sum(_is_above_numbers(table, k, place) for place in range(len(cells)))
        if told > worth + 1e-9:
            best, worth = k, told
    return best


def _is_above_numbers(table: Table, row: int, place: int) -> bool:
    if not table.cell(row, place) or is_number(table.cell(row, place)):
        return False
    below = [table.cell(k, place) for k in range(row + 1, min(len(table.rows), row + 6))]
    return any(map(is_number, below))


def _unit_row(table: Table, heading: int | None) -> int | None:
    """Return the row below the headings where it holds units only."""
    if heading is None or heading + 2 >= len(table.rows):
        return None
    cells = [cell.strip(" ()[]") for cell in table.rows[heading + 1]]
    told = [cell for cell in cells if cell]
    units = [cell for cell in told if is_unit(cell)]
    return heading + 1 if units and len(units) >= 0.5 * len(told) and not any(
        map(is_number, told)
    ) else None  # fmt: skip


def _assigned(
    columns: Sequence[Column], headings: Sequence[str], sample: Sequence[Sequence[str]]
) -> tuple[dict[str, int], dict[str, str]]:
    """Return place and reason for each wanted column, the surest first."""
    pairs = sorted(
        (
            (-_fit(column, headings[place], sample[place]), k, place)
            for k, column in enumerate(columns)
            for place in range(len(headings))
        )
    )
    places: dict[str, int] = {}
    why: dict[str, str] = {}
    for worth, k, place in pairs:
        column = columns[k]
        if -worth < _ENOUGH or column.name in places or place in places.values():
            continue
        places[column.name] = place
        why[column.name] = BY_NAME if likeness(column, headings[place]) else BY_UNIT
    if not any(headings) or not places:
        _by_place(columns, headings, sample, places, why)
    return dict(sorted(places.items(), key=lambda item: item[1])), why


def _fit(column: Column, heading: str, cells: Sequence[str]) -> float:
    """Return how well a column of the table fits a wanted one; below 0 where it cannot."""
    alike = likeness(column, heading)
    numeric = _share(is_number, cells)
    if column.choices:
        chosen = sum(column.choice(cell) is not None for cell in cells)
        return alike + (0.3 * chosen / len(cells) if chosen else -0.6) if cells else alike
    if column.kind is None:
        return alike - (0.3 if numeric > 0.8 else 0.0)
    kind = column.kind
    if names_another_kind(heading, kind):
        return -1.0
    own = [unit for cell in cells if (found := parted(cell)) and (unit := found[1])]
    fitting = sum(fits(unit, kind) for unit in own)
    if 2 * (len(own) - fitting) > len(cells):
        return -1.0
    begun = _share(starts_a_quantity, cells)
    has_unit = bool(unit_in(heading, kind)) or 2 * fitting > len(cells)
    return alike + (0.5 if has_unit else 0.0) - (0.6 if begun < 0.2 else 0.0)


def _by_place(
    columns: Sequence[Column],
    headings: Sequence[str],
    sample: Sequence[Sequence[str]],
    places: dict[str, int],
    why: dict[str, str],
) -> None:
    """Give what is left its place from left to right, where no heading helps."""
    free = [place for place in range(len(sample)) if place not in places.values() and sample[place]]
    wanted = [column for column in columns if column.name not in places]
    measured = [column for column in wanted if column.kind is not None]
    numbers = [place for place in free if _share(is_number, sample[place]) > _MOSTLY]
    if len(numbers) > 1 and _counts(sample[numbers[0]]):
        numbers = numbers[1:]
    for column, place in zip(measured, numbers, strict=False):
        if _fit(column, headings[place], sample[place]) >= 0.0:
            places[column.name], why[column.name] = place, BY_PLACE
    words = [place for place in free if _share(is_number, sample[place]) < 1.0 - _MOSTLY]
    for column, place in zip([one for one in wanted if one.kind is None], words, strict=False):
        if not column.choices or all(column.choice(cell) for cell in sample[place]):
            places[column.name], why[column.name] = place, BY_PLACE


def _share(holds: Callable[[str], bool], cells: Sequence[str]) -> float:
    """Return for what share of cells something holds [0-1]; a half where there are none."""
    return sum(map(holds, cells)) / len(cells) if cells else 0.5


def _counts(cells: Sequence[str]) -> bool:
    """Return whether cells only number the rows."""
    return all(cell == str(k) for k, cell in enumerate(cells, 1)) or all(
        cell == str(k) for k, cell in enumerate(cells)
    )


def _unit(column: Column, places: Mapping[str, int], headings: Sequence[str]) -> str:
    usual = column.units[0] if column.units else ""
    if column.kind is None or column.name not in places:
        return usual
    return unit_in(headings[places[column.name]], column.kind) or usual


def _decimal(sample: Sequence[Sequence[str]]) -> tuple[str, list[str]]:
    decimal, points, commas = decimal_sign(cell for cells in sample for cell in cells)
    notes = []
    if points and commas:
        sure = "comma" if decimal == "," else "point"
        notes.append(
            f"Some numbers have a decimal point, others a decimal comma; most have a {sure}. "
            "Numbers that do not fit are marked."
        )
    elif not points and not commas:
        grouped = next((c for cells in sample for c in cells if is_number(c) and "," in c), "")
        if grouped:
            notes.append(
                f"“{grouped}” was taken to have a comma between thousands; if it is a decimal "
                "comma, say so."
            )
    return decimal, notes


def headings_of(table: Table, matching: Matching) -> tuple[str, ...]:
    """Return how to call each column of a table: by its heading, else by its letter."""
    named = (
        table.cell(matching.heading, place) if matching.heading is not None else ""
        for place in range(table.width)
    )
    return tuple(text or f"column {letters(place)}" for place, text in enumerate(named))


def letters(place: int) -> str:
    """Return the letters of a column in a spreadsheet.

    Examples
    --------
    >>> letters(0), letters(25), letters(26)
    ('A', 'Z', 'AA')
    """
    text = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        text = chr(65 + rest) + text
    return text
