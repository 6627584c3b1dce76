"""Check the step between a pasted table and the rows of a form."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import DocumentError
from rooftree.records.tabular import Column
from rooftree.units import Kind
from rooftree.web.entry import compact, nest
from rooftree.web.fan_form import form_of
from rooftree.web.fan_wanted import wanted_fields, wanted_lists
from rooftree.web.table_step import (
    TableStep,
    WantedList,
    filled_in,
    look_at,
    row_path,
    steering,
    take_from,
)

STATIONS = WantedList(
    "stations",
    "Stations",
    (
        Column("pressure", "House pressure", ("Pa", "in. w.c."), Kind.PRESSURE, is_needed=True),
        Column("fans[0].flow", "Flow of the fan", ("cfm",), Kind.FLOW),
    ),
    60,
)
BASELINE = WantedList(
    "baseline_before", "Baseline", (Column("", "Baseline", ("Pa",), Kind.PRESSURE),), 60
)
TABLE = "nr;flow;bldg dp (in. w.c.)\n1;1980;-0,20\n2;1700;-0,15\n"


def sent_back(step: TableStep, **changed: str) -> dict[str, str]:
    """Return what the browser sends when a button of the step is pressed."""
    name = step.list
    sent = {
        f"table.was.{name}": step.was,
        f"table.separator.{name}": step.separator,
        f"table.heading.{name}": step.heading,
        f"table.decimal.{name}": step.decimal,
    }
    for one in step.columns:
        sent[one.field] = one.chosen
        if one.units:
            sent[one.unit_field] = one.unit
    return sent | {f"table.{what}.{name}": text for what, text in changed.items()}


def test_a_table_is_guessed_then_confirmed() -> None:
    """What the step shows is what is filled in when it is confirmed unchanged."""
    step = look_at(STATIONS, {}, TABLE, "/here")
    assert [(one.chosen, one.unit, one.why) for one in step.columns] == [
        ("2", "in. w.c.", "its name"), ("1", "cfm", "its name"),
    ]  # fmt: skip
    assert step.shown == (
        ("House pressure", "Flow of the fan"),
        ("-0.20 in. w.c.", "1980 cfm"),
        ("-0.15 in. w.c.", "1700 cfm"),
    )
    assert (step.count, step.filled, step.problems) == (2, 0, ())
    taken = take_from(STATIONS, sent_back(step), step.text)
    assert [tuple(row.values()) for row in taken.rows] == list(step.shown[1:])


def test_what_the_person_chooses_wins() -> None:
    """Another column, another unit and no column at all are taken as chosen."""
    step = look_at(STATIONS, {}, TABLE, "/here")
    chosen = sent_back(step) | {
        "table.place.stations.pressure": "0",
        "table.unit.stations.pressure": "Pa",
        "table.place.stations.fans[0].flow": "",
    }
    again = look_at(STATIONS, chosen, step.text, "/here")
    assert again.shown == (("House pressure",), ("1 Pa",), ("2 Pa",))
    assert [one.why for one in again.columns] == ["", ""]


def test_another_separator_is_guessed_anew() -> None:
    """Places that were chosen for other columns mean nothing any more."""
    step = look_at(STATIONS, {}, "flow,bldg dp\n1980,-50\n1700,-40", "/here")
    again = look_at(STATIONS, sent_back(step, separator="none"), step.text, "/here")
    assert again.separator == "none"
    assert len(again.columns[0].options) == 2
    back = look_at(STATIONS, sent_back(again, separator="comma"), step.text, "/here")
    assert back.shown == step.shown


def test_headings_can_be_pointed_at() -> None:
    """A row taken for headings by mistake becomes a reading again."""
    step = look_at(STATIONS, {}, "flow,bldg dp\n1980,-50\n1700,-40", "/here")
    assert step.headings[1] == ("0", "in line 1: flow · bldg dp")
    again = look_at(STATIONS, sent_back(step, heading="-1"), step.text, "/here")
    assert again.count == 3


def test_cells_that_cannot_be_read_are_listed() -> None:
    """Before anything is filled in, the person sees what will be marked."""
    step = look_at(STATIONS, {}, "flow,bldg dp\nabc,-50\n1700,-40", "/here")
    assert step.problems[0].startswith("Line 2, flow: “abc” is not a number with a unit; write")


@pytest.mark.parametrize("content", ["", b"\x89PNG\x00\xff"])
def test_what_is_no_table_is_said(content: str | bytes) -> None:
    """The step says so instead of showing columns; taking it is refused."""
    step = look_at(STATIONS, {}, content, "/here")
    assert step.refused.startswith("the table cannot be read: ")
    assert step.columns == ()
    with pytest.raises(DocumentError, match=r"^the table cannot be read: "):
        take_from(STATIONS, {}, content)


def test_rows_follow_those_that_were_typed() -> None:
    """Nothing typed is overwritten unless that was asked for; empty rows are used."""
    fields = {"stations[0].pressure": "-55 Pa", "stations[3].pressure": " ", "name": "x"}
    taken = take_from(STATIONS, {}, TABLE)
    filled = filled_in(fields, STATIONS, taken, in_place=False).fields
    assert filled["stations[0].pressure"] == "-55 Pa"
    assert filled["stations[1].pressure"] == "-0.20 in. w.c."
    assert filled["stations[2].fans[0].flow"] == "1700 cfm"
    replaced = filled_in(fields, STATIONS, taken, in_place=True).fields
    assert replaced["stations[0].pressure"] == "-0.20 in. w.c."
    assert len(replaced) == 5


def test_plain_readings_are_filled_in() -> None:
    """A list of readings without columns of its own takes one column of the table."""
    taken = take_from(BASELINE, {}, "-1.2\n-0.8\nx\n")
    filled = filled_in({}, BASELINE, taken, in_place=False)
    assert filled.fields == {
        "baseline_before[0]": "-1.2 Pa", "baseline_before[1]": "-0.8 Pa", "baseline_before[2]": "x",
    }  # fmt: skip
    assert list(filled.mistakes) == ["baseline_before[2]"]


def test_marks_are_at_the_rows_that_were_filled_in() -> None:
    """A doubt about the second row of the table marks its row of the form."""
    taken = take_from(STATIONS, {}, "flow,bldg dp\n1980,-50\n1700,abc")
    filled = filled_in({"stations[4].pressure": "-5 Pa"}, STATIONS, taken, in_place=False)
    assert list(filled.mistakes) == ["stations[6].pressure"]
    assert filled.fields["stations[6].pressure"] == "abc"


@given(
    st.dictionaries(st.integers(0, 9), st.sampled_from(["-5 Pa", "", "x"]), max_size=6),
    st.integers(1, 5),
)
def test_nothing_typed_is_lost(typed: dict[int, str], rows: int) -> None:
    """Whatever stood in the list still stands in it, and every row of the table has come."""
    fields = {row_path("stations", k, "pressure"): text for k, text in typed.items()}
    table = "bldg dp\n" + "".join(f"-{60 + k}\n" for k in range(rows))
    taken = take_from(STATIONS, {}, table)
    filled = filled_in(fields, STATIONS, taken, in_place=False)
    entry = nest(compact(filled.fields))
    made = [row["pressure"] for row in entry["stations"]]  # type: ignore[attr-defined]
    kept = [text for _, text in sorted(typed.items()) if text]
    assert made == kept + [f"-{60 + k} Pa" for k in range(rows)]


def test_tables_are_no_part_of_the_entry() -> None:
    """A form sent with its table, as without a script, keeps the table out of the job."""
    sent = {
        "name": "x",
        "table.text.stations": TABLE,
        "table.was.stations": "",
        "rows.stations": "9",
    }
    assert "table" not in str(form_of(sent).entry)
    assert steering(sent | {"unit.flow": "L/s"}) == {"rows.stations": "9", "unit.flow": "L/s"}


def test_the_columns_of_a_fan_test_are_those_of_its_fans() -> None:
    """Fans with configurations have their pressure and configuration; units come from the form."""
    fields = {
        "fans[0].id": "door fan", "fans[1].id": "duct fan",
        "fans[0].bands[0].configuration": "open", "unit.flow": "L/s",
    }  # fmt: skip
    stations, before, after = wanted_lists(form_of(fields))
    assert [column.name for column in stations.columns] == [
        "pressure", "fans[0].fan_pressure", "fans[0].configuration", "fans[0].flow", "fans[1].flow",
    ]  # fmt: skip
    assert stations.columns[3].units[0] == "L/s"
    assert stations.columns[3].words == "Flow of the fan, door fan"
    assert (before.name, after.name) == ("baseline_before", "baseline_after")
    assert all(column.kind is not None for column in wanted_fields(form_of(fields)))
