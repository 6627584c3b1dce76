"""Check that any table survives, and that headings, units and signs of the trade are found."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rooftree.errors import DocumentError
from rooftree.records.tabular import (
    SEPARATORS,
    Column,
    Matching,
    Table,
    TakenRows,
    guess_matching,
    read_table,
    take_rows,
)
from rooftree.records.tabular.matching import BY_NAME, BY_PLACE, BY_UNIT, headings_of
from rooftree.records.tabular.table import MOST_LINES
from rooftree.units import Kind, parse

PRESSURE = Column("pressure", "House pressure, as read", ("Pa", "in. w.c."), Kind.PRESSURE,
                  is_needed=True)  # fmt: skip
FAN_PRESSURE = Column("fans[0].fan_pressure", "fan: fan pressure", ("Pa",), Kind.PRESSURE)
FLOW = Column("fans[0].flow", "fan: flow shown", ("cfm", "L/s"), Kind.FLOW)
RING = Column("fans[0].configuration", "fan: configuration",
              choices=(("", "—"), ("open", "open"), ("ring A", "ring A")))  # fmt: skip
STATIONS = (PRESSURE, FAN_PRESSURE, RING, FLOW)

cells = st.text(st.characters(codec="utf-8", exclude_categories=("Cs",)), max_size=12)
tables = st.lists(st.lists(cells, min_size=2, max_size=5), min_size=1, max_size=8).map(
    lambda rows: [row for row in rows if any(cell.strip() for cell in row)]
)


def written(rows: list[list[str]], separator: str, end: str = "\r\n") -> str:
    """Return a table as programs write it, quoted where needed."""
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=SEPARATORS[separator], lineterminator=end).writerows(rows)
    return text.getvalue()


def matched(table: Table, *columns: Column) -> Matching:
    """Return the guess for these columns."""
    return guess_matching(table, columns or STATIONS)


def taken(text: str | bytes, *columns: Column, **changed: object) -> TakenRows:
    """Return what comes out of a text when the guess is confirmed."""
    table = read_table(text)
    matching = replace(matched(table, *columns), **changed)  # type: ignore[arg-type]
    return take_rows(table, columns or STATIONS, matching)


@given(tables, st.sampled_from(["tab", "semicolon", "bar", "comma"]))
def test_any_table_survives(rows: list[list[str]], separator: str) -> None:
    """Whatever stands in the cells, quoted or not, comes back as it was, and no row is lost."""
    assume(rows)
    assume(not rows[0][0].startswith("\ufeff"))
    table = read_table(written(rows, separator), separator)
    assert [list(row) for row in table.rows] == rows
    assert table.notes == ()


@given(st.text(max_size=300))
def test_any_text_is_a_table_or_refused(text: str) -> None:
    """Nothing that is pasted makes the reading fail, and no letter of it is lost."""
    try:
        table = read_table(text)
    except DocumentError:
        assert not text.removeprefix("\ufeff").strip()
        return
    if table.separator in ("none", "spaces"):
        kept = "".join("".join(row) for row in table.rows)
        assert "".join(kept.split()) == "".join(text.removeprefix("\ufeff").split())
    guess = matched(table)
    assert len(take_rows(table, STATIONS, guess).rows) <= len(table.rows)


@given(st.binary(max_size=200))
def test_any_file_is_a_table_or_refused(content: bytes) -> None:
    """A picture that was chosen by mistake is refused in words."""
    try:
        told = str(len(read_table(content).rows))
    except DocumentError as error:
        told = str(error)
    assert told.isdecimal() or told.startswith("the table cannot be read: ")


readings = st.lists(
    st.tuples(st.decimals(-80, 80, places=1), st.decimals(500, 5000, places=1)),
    min_size=2,
    max_size=20,
)


@pytest.mark.parametrize(("separator", "decimal"), [("tab", "."), ("tab", ","), ("comma", "."),
                                                    ("semicolon", ","), ("bar", ".")])  # fmt: skip
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("has_headings", [True, False])
@given(readings)
def test_readings_are_taken_however_they_are_written(
    separator: str, decimal: str, end: str, has_headings: object, pairs: list[tuple[float, float]]
) -> None:
    """Separator, decimal sign, line ends and headings are found out, and no number changes."""
    rows = [[str(one).replace(".", decimal) for one in pair] for pair in pairs]
    heading = [["House pressure (Pa)", "fan flow [cfm]"]] if has_headings else []
    result = taken(written(heading + rows, separator, end), PRESSURE, FLOW)
    assert result.problems == ()
    assert [parse(row["pressure"], Kind.PRESSURE) for row in result.rows] == [
        float(pressure) for pressure, _ in pairs
    ]
    assert [row["fans[0].flow"] for row in result.rows] == [f"{flow} cfm" for _, flow in pairs]


@pytest.mark.parametrize(
    ("heading", "name"),
    [
        ("House pressure (Pa)", "pressure"), ("Bldg. dp", "pressure"), ("building P", "pressure"),
        ("envelope pressure difference", "pressure"), ("HousePressure", "pressure"),
        ("fan flow cfm", "fans[0].flow"), ("Q", "fans[0].flow"), ("airflow (L/s)", "fans[0].flow"),
        ("flow_m3h", "fans[0].flow"), ("cfm50", "fans[0].flow"), ("air flow", "fans[0].flow"),
        ("Fan pressure [Pa]", "fans[0].fan_pressure"), ("flow pressure", "fans[0].fan_pressure"),
        ("Ring", "fans[0].configuration"), ("fan config", "fans[0].configuration"),
    ],
)  # fmt: skip
def test_headings_of_the_trade_are_known(heading: str, name: str) -> None:
    """A column is found by the words that people write above it."""
    number = "ring A" if name.endswith("configuration") else "-50.2"
    table = read_table(f"nr;{heading}\n1;{number}\n2;{number}\n")
    assert dict(matched(table).places) == {name: 1}


@pytest.mark.parametrize(
    ("heading", "unit"),
    [
        ("House pressure (Pa)", "Pa"), ("House pressure [in. w.c.]", "in. w.c."),
        ("house pressure inH2O", "inH2O"), ("House pressure, Pa", "Pa"),
        ("house_pressure_pa", "pa"),
        ("House pressure in Pa", "Pa"), ("House pressure / Pa", "Pa"),
        ("house pressure", "in. w.c."),
    ],
)  # fmt: skip
def test_the_unit_of_a_heading_is_found(heading: str, unit: str) -> None:
    """The unit in a heading goes to numbers without one; else the unit of the form does."""
    column = replace(PRESSURE, units=("in. w.c.", "Pa"))
    result = taken(f"{heading}\n-50\n-40\n", column)
    assert [row["pressure"] for row in result.rows] == [f"-50 {unit}", f"-40 {unit}"]
    assert result.problems == ()


def test_a_unit_of_another_kind_is_no_match() -> None:
    """A column in cfm is no pressure, whatever it is called."""
    assert dict(matched(read_table("house pressure (cfm)\n50\n40"), PRESSURE).places) == {}


def test_a_unit_alone_is_enough() -> None:
    """Headings in another language still tell by their units."""
    guess = matched(read_table("Druck [Pa];Volumenstrom [m³/h]\n-50,2;3364\n-40;2900"))
    assert dict(guess.places) == {"pressure": 0, "fans[0].flow": 1}
    assert guess.why == {"pressure": BY_UNIT, "fans[0].flow": BY_UNIT}
    assert guess.decimal == ","


def test_without_headings_the_place_decides() -> None:
    """Columns are taken from left to right, a counter in front is passed over, and it says so."""
    guess = matched(read_table("1\t-50.2\t118\n2\t-45\t101\n3\t-40\t90"), PRESSURE, FAN_PRESSURE)
    assert dict(guess.places) == {"pressure": 1, "fans[0].fan_pressure": 2}
    assert set((guess.why or {}).values()) == {BY_PLACE}


LOG = (
    "Gauge log 7\nStarted;2026-11-25\n\nTime;Bldg dp;Fan p;Ring;Q\n;Pa;Pa;;m³/h\n"
    "10:00:01;−50,2;112,4;ring a;3364,1\n10:00:02;-45,0;101;Open;n/a\n10:00:03;?;101;ring Q;3000\n"
)


def test_a_file_of_a_logger_is_read() -> None:
    """Lines before the headings, a row of units and gaps are understood; doubts name their cell."""
    table = read_table(LOG)
    guess = matched(table)
    assert (table.separator, guess.heading, guess.first, guess.decimal) == ("semicolon", 2, 4, ",")
    assert set((guess.why or {}).values()) == {BY_NAME}
    result = take_rows(table, STATIONS, guess)
    assert result.rows[:2] == (
        {"pressure": "-50.2 Pa", "fans[0].fan_pressure": "112.4 Pa",
         "fans[0].configuration": "ring A", "fans[0].flow": "3364.1 m³/h"},
        {"pressure": "-45.0 Pa", "fans[0].fan_pressure": "101 Pa", "fans[0].configuration": "open"},
    )  # fmt: skip
    assert result.rows[2]["pressure"] == "?"
    assert result.rows[2]["fans[0].configuration"] == "ring Q"
    first, second = result.problems
    assert (first.line, first.row, first.heading, first.text) == (8, 2, "Bldg dp", "?")
    assert first.says == "is not a number with a unit"
    assert (second.line, second.column) == (8, "fans[0].configuration")
    assert second.remedy == "write one of “open”, “ring A”"
    assert result.notes == ("Left empty, where there was no reading: 1 cell.",)


def test_a_unit_in_a_cell_wins() -> None:
    """Units may be mixed, as on the form; one that does not fit is marked."""
    result = taken("house pressure (Pa)\n-50\n-0.2 in. w.c.\n12 °F\n-48 Pa\n", PRESSURE)
    assert [row["pressure"] for row in result.rows] == [
        "-50 Pa", "-0.2 in. w.c.", "12 °F", "-48 Pa",
    ]  # fmt: skip
    (problem,) = result.problems
    assert problem.says == "is written as temperature, not pressure"


@pytest.mark.parametrize(
    ("cell", "text"),
    [
        ("1,980", "1,980 cfm"), ("1 980", "1980 cfm"), ("1'980.5", "1980.5 cfm"),
        ("1.98e3", "1.98e3 cfm"), ("  1980  ", "1980 cfm"), ("1980 cfm", "1980 cfm"),
        ("930L/s", "930 L/s"), (".5", ".5 cfm"), ("−3", "-3 cfm"), ("+3", "+3 cfm"),
    ],
)  # fmt: skip
def test_numbers_are_kept_as_they_are_read(cell: str, text: str) -> None:
    """What the form reads is left alone; only spaces and apostrophes between thousands go."""
    result = taken(f"flow\t#\n{cell}\t1\n1980.0\t2\n", FLOW)
    assert result.rows[0] == {"fans[0].flow": text}
    assert result.problems == ()
    parse(text, Kind.FLOW)


@pytest.mark.parametrize(
    ("cell", "text"),
    [("1.980", "1980 cfm"), ("1.980,5", "1980.5 cfm"), ("0,5", "0.5 cfm"), ("12.5", "12.5 cfm")],
)
def test_decimal_commas_become_points(cell: str, text: str) -> None:
    """In a table with decimal commas a point parts thousands, unless it cannot."""
    result = taken(f"flow\t#\n{cell}\t1\n1980,25\t2\n", FLOW)
    assert result.rows[0] == {"fans[0].flow": text}


def test_the_decimal_sign_can_be_chosen() -> None:
    """What one number cannot tell is told by the person."""
    text = "flow\t#\n1,980\t1\n"
    assert taken(text, FLOW).rows == ({"fans[0].flow": "1,980 cfm"},)
    assert taken(text, FLOW, decimal=",").rows == ({"fans[0].flow": "1.980 cfm"},)
    table = read_table(text)
    assert "if it is a decimal comma, say so" in matched(table, FLOW).notes[0]


def test_two_decimal_signs_are_told() -> None:
    """The sign that most numbers have is taken, and the others are marked."""
    text = "flow\t#\n1.5\t1\n2.5\t2\n3,5\t3\n"
    table = read_table(text)
    assert "others a decimal comma" in matched(table, FLOW).notes[0]
    (problem,) = taken(text, FLOW).problems
    assert problem.remedy == ("write it otherwise, or choose the decimal comma for the whole table")


@pytest.mark.parametrize("cell", ["(52.3)", "52.3.1", "3-May", "1/0", "52 3", "#REF!", "ca. 50"])
def test_text_in_numbers_is_left_as_typed_and_marked(cell: str) -> None:
    """A cell that a spreadsheet has spoilt is not guessed at."""
    result = taken(f"house pressure\t#\n{cell}\t1\n-50.5\t2\n", PRESSURE)
    assert result.rows[0] == {"pressure": cell}
    (problem,) = result.problems
    assert (problem.text, problem.line) == (cell, 2)
    assert problem.remedy


def test_what_the_trade_writes_otherwise_is_taken() -> None:
    """Fractions of an inch and R-values are read as everywhere else."""
    depth = Column("depth", "Depth", ("in",), Kind.LENGTH)
    worth = Column("resistance", "R-value", (), Kind.THERMAL_RESISTANCE)
    result = taken('depth\tR value\n3 1/2\tR-13\n8 1/4 in\tR-30\n7 1/2"\tR-19\n', depth, worth)
    assert result.problems == ()
    assert [row["depth"] for row in result.rows] == ["3 1/2 in", "8 1/4 in", '7 1/2"']


def test_an_open_quotation_mark_does_not_swallow_the_rest() -> None:
    """An inch mark at the start of a cell leaves the rows below as they are."""
    table = read_table('depth,place\n"7,attic\n8,knee wall\n')
    assert table.rows == (("depth", "place"), ('"7', "attic"), ("8", "knee wall"))
    assert table.notes == (
        "Line 2 has a quotation mark that does not end; they were taken line by line.",
    )


def test_a_cell_may_hold_a_line_break() -> None:
    """A quoted note over two lines is one cell, and lines are still counted."""
    table = read_table('place,note\nattic,"wet\nat the ridge"\ncrawl,dry\n')
    assert table.rows[1] == ("attic", "wet\nat the ridge")
    assert table.lines == (1, 2, 4)


@pytest.mark.parametrize("code", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_files_of_any_usual_code_are_read(code: str) -> None:
    """A byte order mark is no letter; the old code page is told."""
    table = read_table("Temp (°C);Flow (m³/h)\n20,5;930\n".encode(code))
    assert table.rows[0] == ("Temp (°C)", "Flow (m³/h)")
    assert bool(table.notes) == (code == "cp1252")


def test_columns_parted_by_spaces_are_found() -> None:
    """Text copied from a terminal is parted where there are two spaces or more."""
    table = read_table("house pressure   fan flow\n   -50.1         1980\n   -40.0         1700\n")
    assert table.separator == "spaces"
    assert table.rows[1] == ("-50.1", "1980")


def test_one_column_of_decimal_commas_is_one_column() -> None:
    """Under one heading a comma is a decimal comma; without a heading the doubt is told."""
    result = taken("House pressure (Pa)\n52,3\n50,1\n", PRESSURE)
    assert [row["pressure"] for row in result.rows] == ["52.3 Pa", "50.1 Pa"]
    doubtful = read_table("52,3\n50,1\n")
    assert doubtful.separator == "comma"
    assert "if it is a decimal comma, say so" in doubtful.notes[0]
    assert read_table("52,3\n50,1\n", "none").rows == (("52,3",), ("50,1",))


def test_wrong_columns_are_told() -> None:
    """A table about something else matches nothing, and what is needed is named."""
    result = taken("colour,size\nred,large\nblue,small\n")
    assert result.rows == ()
    assert result.notes == ("No column is matched yet: say which column is which.",)
    partly = taken("fan flow (cfm),colour\n1980,red\n1700,blue\n", PRESSURE, FLOW)
    assert partly.notes == ("Needed, and matched with no column: House pressure, as read.",)


def test_short_and_long_rows_are_taken() -> None:
    """A missing cell is empty; one too many is not lost from the table."""
    table = read_table("house pressure,fan flow\n-50\n-45,1850,extra,\n-40,1700\n")
    assert table.rows[2] == ("-45", "1850", "extra", "")
    result = take_rows(table, STATIONS, matched(table))
    assert [len(row) for row in result.rows] == [1, 2, 2]


CLOCK = Column("time", "Time", ("s", "min"), Kind.DURATION)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("10:00:30", "10:05:00.5"), ("10:00:30 PM", "10:05:00,5 p.m."), ("23:59:00", "00:03:30.5"),
        ("2026-11-25T10:00:30Z", "2026-11-25T10:05:00.5Z"),
        ("11/25/2026 10:00:30", "11/25/2026 10:05:00.5"),
    ],
)  # fmt: skip
def test_times_of_day_are_counted_from_the_first(first: str, second: str) -> None:
    """A log by the clock gives the time since its first row, across midnight too."""
    result = taken(f"time;x\n{first};1\n{second};2\n", CLOCK)
    assert [row["time"] for row in result.rows] == ["0 s", "270.5 s"]
    assert result.notes == ("Time: times of day are counted from the first row on.",)


def test_time_going_back_is_marked() -> None:
    """A row out of order is not put in order without a word."""
    result = taken("time;x\n10:00;1\n10:05;2\n10:04;3\n10:06;4\nlater;5\n", CLOCK)
    assert [row["time"] for row in result.rows] == ["0 s", "300 s", "10:04", "360 s", "later"]
    assert [one.says for one in result.problems] == [
        "goes back in time", "is not a time of day like the others",
    ]  # fmt: skip


def test_elapsed_times_stay_as_they_are() -> None:
    """A time in minutes is a quantity like any other."""
    result = taken("elapsed (min);x\n0;1\n2,5;2\n", CLOCK)
    assert [row["time"] for row in result.rows] == ["0 min", "2.5 min"]


def test_yes_and_no_are_read_as_people_write_them() -> None:
    """A question is answered by any usual word."""
    door = Column("is_open", "Door open?", choices=(("", "—"), ("yes", "yes"), ("no", "no")))
    text = "room;door open\nden;Yes\nbath;0\nhall;closed\nattic;x\nden;perhaps\n"
    place = Column("room", "Room")
    result = taken(text, place, door)
    assert [row["is_open"] for row in result.rows] == ["yes", "no", "no", "yes", "perhaps"]
    assert len(result.problems) == 1


def test_a_hundred_thousand_lines_are_read() -> None:
    """A long log is taken whole where there is room, and else counted."""
    text = "time;house pressure (Pa)\n" + "".join(f"{k};-{50 + k % 7},5\n" for k in range(100_000))
    table = read_table(text)
    guess = matched(table, PRESSURE)
    assert len(take_rows(table, (PRESSURE,), guess).rows) == 100_000
    few = take_rows(table, (PRESSURE,), guess, most=60)
    assert len(few.rows) == 60
    assert few.notes[0].startswith("The table has 100,000 rows and there is room for 60")


@pytest.mark.parametrize(
    ("content", "says"),
    [
        ("", "there is no table in it"),
        ("\ufeff \n\n", "there is no table in it"),
        (b"\x89PNG\x00\x01\xff\x00", "it is not text"),
        ("1\n" * (MOST_LINES + 1), "it has 200,001 lines, more than 200,000"),
        ("x" * 200_000, "line 1 is longer than 100,000 characters"),
    ],
)
def test_what_is_no_table_is_refused(content: str | bytes, says: str) -> None:
    """The refusal says what is wrong and what to do."""
    with pytest.raises(DocumentError, match=r"^the table cannot be read: .+; .+$") as refused:
        read_table(content)
    assert says in str(refused.value)


def test_columns_without_headings_are_called_by_letter() -> None:
    """As in the spreadsheet that they came from."""
    table = read_table("1\t2\n3\t4\n")
    assert headings_of(table, matched(table)) == ("column A", "column B")
