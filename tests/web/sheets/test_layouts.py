"""Hold the layouts of all tests to the same rules: short forms, examples, honest assumptions."""

from __future__ import annotations

import dataclasses
import re

import pytest

from rooftree.records.document.field_tests import KINDS
from rooftree.records.document.field_tests.shapes import shapes_of
from rooftree.units import parse
from rooftree.web.sheets import SHEETS
from rooftree.web.sheets.form import FIRST_ROWS, LAST_ROWS, LONG_LIST, RowsPart, SheetForm
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

ASSUMED = "Assumed where empty"
MOST_SHOWN = 9
"""Fields of one row before somebody asks for more."""

sheets = pytest.mark.parametrize("sheet", SHEETS.values(), ids=lambda sheet: sheet.slug)


def form(sheet: Sheet, fields: dict[str, str], rows: int, longer: str = "") -> SheetForm:
    """Return a form with as many rows in each list."""
    counts = {part.name: rows for part in sheet.lists}
    units = dict.fromkeys(("pressure", "temperature"), "")
    return SheetForm(sheet, fields, counts, units, {}, {"spaces": ()}, longer)


def rows_of(sheet: Sheet, name: str, fields: dict[str, str], rows: int = 3) -> RowsPart:
    """Return one list of a form."""
    return next(
        part
        for part in form(sheet, fields, rows).parts
        if isinstance(part, RowsPart) and part.rows.name == name
    )


@sheets
def test_a_row_asks_for_little(sheet: Sheet) -> None:
    """No list shows more than nine fields a row until somebody asks for more."""
    for part in sheet.lists:
        assert sum(not column.is_seldom for column in part.columns) <= MOST_SHOWN, part.name


@sheets
def test_an_example_says_that_it_is_one(sheet: Sheet) -> None:
    """A hint that is a bare number looks like a reading, but where it says what is assumed."""
    fields = [
        field
        for part in sheet.parts
        for field in (part.columns if isinstance(part, Rows) else part.fields)
        if not (isinstance(part, Group) and part.legend == ASSUMED)
    ]
    bare = [field.name for field in fields if re.fullmatch(r"[-−]?[\d.,/ ]+\S{0,4}", field.hint)]
    assert bare == []


@sheets
def test_what_is_assumed_is_what_is_told(sheet: Sheet) -> None:
    """The figure under a field that may stay empty is the one that the method takes."""
    assumed = {one.name: one.default for one in dataclasses.fields(KINDS[sheet.kind].readings)}
    groups = [part for part in sheet.parts if isinstance(part, Group) and part.legend == ASSUMED]
    for field in (field for group in groups for field in group.fields):
        value, kind = assumed[field.name], shapes_of(sheet.kind)[field.name].kind
        if kind is None or not isinstance(value, float) or not field.hint[:1].isdigit():
            continue
        told = parse(field.hint.partition(" (")[0], kind)
        assert told == pytest.approx(value, rel=0.06), field.name


SHEET = Sheet(
    kind="moisture",
    name="Moisture",
    group="Work",
    says="",
    parts=(
        Rows(
            "places",
            "Air",
            (Field("name", "Place"), Field("wet_bulb", "Wet bulb", is_seldom=True)),
            "Place",
            is_seldom=True,
        ),
    ),
)


def test_a_seldom_column_is_put_away_until_it_is_used() -> None:
    """Something written in one row brings the column back for all."""
    empty = rows_of(SHEET, "places", {"places[0].name": "hall"})
    assert empty.put_away == (False, True)
    assert empty.more == "wet bulb"
    used = rows_of(SHEET, "places", {"places[1].wet_bulb": "60 °F"})
    assert used.put_away == (False, False)
    assert used.more == ""


def test_a_list_stays_shut_until_it_is_used() -> None:
    """Spaces are nothing written."""
    assert not rows_of(SHEET, "places", {"places[0].name": "  "}).is_used
    assert rows_of(SHEET, "places", {"places[0].name": "hall"}).is_used


@pytest.mark.parametrize(("rows", "hidden"), [(LONG_LIST, 0), (LONG_LIST + 1, 13), (57, 45)])
def test_a_long_list_shows_both_its_ends(rows: int, hidden: int) -> None:
    """The first and the last rows are in sight, the middle where asked for."""
    part = rows_of(SHEET, "places", {}, rows)
    assert len(part.middle) == hidden
    if hidden:
        assert part.middle == range(FIRST_ROWS, rows - LAST_ROWS)


def test_a_mistake_in_the_middle_is_in_sight() -> None:
    """A long list with something wrong in its middle is shown whole."""
    made = dataclasses.replace(form(SHEET, {}, 57), mistakes={"places[20].name": "what?"})
    (part,) = made.parts
    assert isinstance(part, RowsPart)
    assert len(part.middle) == 0


@pytest.mark.parametrize(
    ("filled", "goes_on"), [({}, 0), ({"places[0].name": "hall", "places[1].name": "attic"}, 2)]
)
def test_typing_goes_on_in_the_row_asked_for(filled: dict[str, str], goes_on: int) -> None:
    """After one more row was asked for, the first empty row is the next to be typed in."""
    (part,) = form(SHEET, filled, 6, longer="places").parts
    assert isinstance(part, RowsPart)
    first = [row[0].is_next for row in part.cells]
    assert first == [k == goes_on for k in range(6)]
    assert not any(row[1].is_next for row in part.cells)


def test_many_fields_put_away_are_counted() -> None:
    """The first few are named, so that one knows what is there; the rest is a number."""
    columns = tuple(Field(f"field_{k}", f"Number {k}?", is_seldom=True) for k in range(7))
    made = RowsPart(Rows("places", "Air", columns, "Place"), ())
    assert made.more == "number 0, number 1, number 2, number 3 and 3 more"
    few = RowsPart(Rows("places", "Air", columns[:5], "Place"), ())
    assert few.more == "number 0, number 1, number 2, number 3, number 4"
