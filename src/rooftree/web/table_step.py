"""The step between a pasted table and the rows of a form: which column is which."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from rooftree.errors import DocumentError
from rooftree.records.tabular import (
    NO_HEADINGS,
    SEPARATORS,
    Column,
    Matching,
    Table,
    TakenRows,
    guess_matching,
    headings_of,
    read_table,
    take_rows,
    text_of,
)
from rooftree.web.entry import count, steps, to_path

if TYPE_CHECKING:
    from collections.abc import Mapping

TABLE_FIELD = "table."
"""Beginning of the fields that carry a table and its matching; no part of the entry."""

LOOK, TAKE, REPLACE, OTHER = "table.look", "table.take", "table.replace", "table.other"
"""Buttons: look at the table, add its rows below, put them in place, choose another table."""

_SHOWN_ROWS, _SHOWN_PROBLEMS, _SHOWN_HEADINGS = 5, 6, 8
_NOT_THERE = ("", "— not in the table")
_PARTED_BY = {
    "tab": "tabs", "semicolon": "semicolons", "bar": "upright bars", "comma": "commas",
    "spaces": "two spaces or more", "none": "nothing: one column",
}  # fmt: skip
_DECIMALS = ((".", "points, 12.5"), (",", "commas, 12,5"))

Choices = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class WantedList:
    """A list of a form that a table can fill.

    Attributes
    ----------
    name : str
        Of the list in the entry.
    legend : str
        As people call it.
    columns : tuple of Column
        Fields of a row; the name of the one column of plain readings is empty.
    most : int
        Rows that it has room for.
    """

    name: str
    legend: str
    columns: tuple[Column, ...]
    most: int


@dataclass(frozen=True, slots=True)
class TableSource:
    """A place for a table: to paste one, or to choose a file.

    Attributes
    ----------
    list : str
        The list that it will fill.
    address : str
        Where its button sends it.
    """

    template: ClassVar[str] = "table_source.html"
    list: str
    address: str


@dataclass(frozen=True, slots=True)
class Filled:
    """A form with the rows of a table in it.

    Attributes
    ----------
    fields : mapping from str to str
        By path.
    mistakes : mapping from str to str
        What is wrong, by path.
    """

    fields: Mapping[str, str]
    mistakes: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class ColumnChoice:
    """Which column of the table fills one field.

    Attributes
    ----------
    field, unit_field : str
        Names of the two controls.
    words : str
        Of the wanted column.
    options, units : tuple of (str, str)
        Columns of the table; units for numbers typed alone, empty where none are needed.
    chosen, unit : str
        What is chosen.
    why : str
        What a guess was made from; empty where the person has chosen.
    """

    field: str
    unit_field: str
    words: str
    options: Choices
    units: Choices
    chosen: str
    unit: str
    why: str


@dataclass(frozen=True, slots=True)
class TableStep:
    """A table with its matching, for a person to confirm.

    Attributes
    ----------
    list, legend : str
        The list that it will fill.
    address : str
        Where its buttons send it.
    text : str
        The table as pasted.
    refused : str
        Why it cannot be read; empty where it can.
    separator, heading, decimal : str
        How it is read.
    separators, headings, decimals : tuple of (str, str)
        How it could be read.
    was : str
        What the guess was made from.
    columns : tuple of ColumnChoice
        Which column is which.
    shown : tuple of tuple of str
        The first rows as they will be filled in.
    count : int
        Rows that will be filled in.
    filled : int
        Rows of the list in which something was typed.
    problems : tuple of str
        The first of the cells that cannot be taken.
    notes : tuple of str
        What to look at.
    """

    template: ClassVar[str] = "table_step.html"
    list: str
    legend: str
    address: str
    text: str
    refused: str = ""
    separator: str = ""
    heading: str = ""
    decimal: str = ""
    separators: Choices = ()
    headings: Choices = ()
    decimals: Choices = _DECIMALS
    was: str = ""
    columns: tuple[ColumnChoice, ...] = ()
    shown: tuple[tuple[str, ...], ...] = ()
    count: int = 0
    filled: int = 0
    problems: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Read:
    table: Table
    matching: Matching
    taken: TakenRows
    is_guess: bool


def asked_list(sent: Mapping[str, str]) -> tuple[str, str]:
    """Return which button was pressed, and for which list; empty where none was."""
    for button in (LOOK, TAKE, REPLACE, OTHER):
        if button in sent:
            return button, sent[button]
    return "", ""


def steering(sent: Mapping[str, str]) -> dict[str, str]:
    """Return the fields that steer a form and are no part of its entry or of a table."""
    return {name: text for name, text in sent.items() if name.startswith(("unit.", "rows."))}


def look_at(
    wanted: WantedList, sent: Mapping[str, str], content: str | bytes, address: str
) -> TableStep:
    """Return the step for a table as it was sent, with the matching so far or a guess.

    Parameters
    ----------
    wanted : WantedList
        What it is to fill.
    sent : mapping from str to str
        The form, its steering fields included.
    content : str or bytes
        Pasted text, or a file.
    address : str
        Where the buttons of the step send it.

    Returns
    -------
    TableStep
    """
    try:
        text, notes = text_of(content)
        read = _read(wanted, sent, text)
    except DocumentError as error:
        shown = content if isinstance(content, str) else ""
        return TableStep(wanted.name, wanted.legend, address, shown, refused=str(error))
    table, matching, taken = read.table, read.matching, read.taken
    return TableStep(
        list=wanted.name,
        legend=wanted.legend,
        address=address,
        text=text,
        separator=table.separator,
        heading=_heading_text(matching),
        decimal=matching.decimal,
        separators=tuple((name, _PARTED_BY[name]) for name in SEPARATORS),
        headings=_heading_choices(table),
        was=f"{table.separator}/{_heading_text(matching)}",
        columns=tuple(_choice(wanted, column, read) for column in wanted.columns),
        shown=_shown(wanted, matching, taken),
        count=len(taken.rows),
        filled=count({path: text for path, text in sent.items() if text.strip()}, wanted.name),
        problems=tuple(
            f"Line {one.line}, {one.heading}: “{one.text[:40]}” {one.says}; {one.remedy}."
            for one in taken.problems[:_SHOWN_PROBLEMS]
        ),
        notes=(*notes, *table.notes, *matching.notes, *taken.notes),
    )


def take_from(wanted: WantedList, sent: Mapping[str, str], content: str | bytes) -> TakenRows:
    """Return the rows of a table for the matching that was confirmed.

    Raises
    ------
    DocumentError
        If the table cannot be read.
    """
    return _read(wanted, sent, text_of(content)[0]).taken


def filled_in(
    fields: Mapping[str, str], wanted: WantedList, taken: TakenRows, *, in_place: bool
) -> Filled:
    """Return the fields of a form with the rows of a table, and what is wrong by path.

    Parameters
    ----------
    fields : mapping from str to str
        What was typed, by path.
    wanted : WantedList
        The list that is filled.
    taken : TakenRows
        Rows to fill in.
    in_place : bool
        Whether they replace the rows there; else they follow the last one typed into.
    """
    inside = f"{wanted.name}["
    kept = {
        path: text
        for path, text in fields.items()
        if not path.startswith(inside) or (text.strip() and not in_place)
    }
    first = count(kept, wanted.name)
    made = {
        row_path(wanted.name, first + k, name): text
        for k, row in enumerate(taken.rows)
        for name, text in row.items()
    }
    mistakes = {
        row_path(wanted.name, first + one.row, one.column): f"{one.says}; {one.remedy}"
        for one in taken.problems
    }
    return Filled(kept | made, mistakes)


def row_path(name: str, row: int, column: str) -> str:
    """Return the path of a field in a row of a list.

    Examples
    --------
    >>> row_path("stations", 2, "fans[0].flow"), row_path("baseline_before", 0, "")
    ('stations[2].fans[0].flow', 'baseline_before[0]')
    """
    return to_path((name, row, *steps(column)))


def _read(wanted: WantedList, sent: Mapping[str, str], text: str) -> _Read:
    def chosen(what: str) -> str:
        return sent.get(f"{TABLE_FIELD}{what}.{wanted.name}", "")

    table = read_table(text, chosen("separator"))
    heading = _number(chosen("heading"))
    was = chosen("was")
    guess = guess_matching(table, wanted.columns, heading=heading)
    is_guess = was != f"{table.separator}/{_heading_text(guess)}"
    matching = guess if is_guess else _confirmed(wanted, sent, table, guess)
    return _Read(table, matching, take_rows(table, wanted.columns, matching, wanted.most), is_guess)


def _confirmed(
    wanted: WantedList, sent: Mapping[str, str], table: Table, guess: Matching
) -> Matching:
    """Return the matching as the person has chosen it."""
    places: dict[str, int] = {}
    units = dict(guess.units)
    for column in wanted.columns:
        place = _number(sent.get(_field("place", wanted, column), ""))
        if place is not None and 0 <= place < table.width:
            places[column.name] = place
        unit = sent.get(_field("unit", wanted, column), "")
        if unit:
            units[column.name] = unit
    decimal = sent.get(f"{TABLE_FIELD}decimal.{wanted.name}", guess.decimal)
    return Matching(guess.heading, guess.first, places, units, decimal)


def _field(what: str, wanted: WantedList, column: Column) -> str:
    return f"{TABLE_FIELD}{what}.{wanted.name}.{column.name}"


def _number(text: str) -> int | None:
    return int(text) if text.lstrip("-").isdecimal() and len(text) < 7 else None


def _heading_text(matching: Matching) -> str:
    return str(NO_HEADINGS if matching.heading is None else matching.heading)


def _heading_choices(table: Table) -> Choices:
    rows = table.rows[:_SHOWN_HEADINGS]
    named = [
        (str(k), f"in line {table.lines[k]}: {' · '.join(filter(None, row))[:50]}")
        for k, row in enumerate(rows)
    ]
    return ((str(NO_HEADINGS), "nowhere"), *named)


def _choice(wanted: WantedList, column: Column, read: _Read) -> ColumnChoice:
    table, matching = read.table, read.matching
    place = matching.places.get(column.name)
    options = [
        (str(k), _with_example(table, matching, k, heading))
        for k, heading in enumerate(headings_of(table, matching))
    ]
    unit = matching.units.get(column.name, "")
    units = dict.fromkeys((*filter(None, [unit]), *column.units))
    return ColumnChoice(
        field=_field("place", wanted, column),
        unit_field=_field("unit", wanted, column),
        words=column.words,
        options=(_NOT_THERE, *options),
        units=tuple((one, one) for one in units) if column.kind is not None else (),
        chosen="" if place is None else str(place),
        unit=unit,
        why=(matching.why or {}).get(column.name, ""),
    )


def _with_example(table: Table, matching: Matching, place: int, heading: str) -> str:
    cells = (table.cell(k, place) for k in range(matching.first, len(table.rows)))
    example = next(filter(None, cells), "")
    return f"{heading[:40]} ({example[:16]})" if example else heading[:40]


def _shown(wanted: WantedList, matching: Matching, taken: TakenRows) -> tuple[tuple[str, ...], ...]:
    """Return the headings and the first rows as they will be filled in."""
    columns = [column for column in wanted.columns if column.name in matching.places]
    if not columns:
        return ()
    rows = (tuple(row.get(one.name, "") for one in columns) for row in taken.rows[:_SHOWN_ROWS])
    return (tuple(column.words for column in columns), *rows)
