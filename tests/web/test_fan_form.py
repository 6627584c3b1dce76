"""Check the form of a fan test: nothing typed is lost, and messages find their field."""

from __future__ import annotations

import pytest

from rooftree.web.fan_form import LISTS, STATES, fields_of, form_of, new_fields

ENTRY = {
    "id": "fan-down",
    "name": "Fan test, pulling",
    "direction": "depressurize",
    "standard": "ISO 9972:2015",
    "baseline_before": ["-1.2 Pa", "−0.9 Pa"],
    "baseline_after": ["-1 Pa"],
    "fans": [
        {"id": "large", "flow_uncertainty": "4 %"},
        {"id": "small", "bands": [{"configuration": "ring 1", "low": "20 Pa", "high": "300 Pa"}]},
    ],
    "stations": [
        {
            "pressure": "-50 Pa",
            "fans": [
                {"fan": "small", "fan_pressure": "88 Pa", "configuration": "ring 1"},
                {"fan": "large", "flow": "2,310 cfm"},
            ],
        },
        {"pressure": "-0.16 in. w.c.", "fans": [{"fan": "large", "flow": "995 L/s"}]},
    ],
    "indoor_temperature": {"value": "68 °F", "known": "measured", "note": "hall"},
    "outdoor_temperature": "1 °C",
    "barometric_pressure": "29.6 inHg",
}


def by_fan(entry: dict[str, object]) -> dict[str, object]:
    """Return an entry whose stations list their fans in the order of the instruments."""
    order = [fan["id"] for fan in entry["fans"]]  # type: ignore[attr-defined]
    stations = [
        {**station, "fans": sorted(station["fans"], key=lambda one: order.index(one["fan"]))}
        for station in entry["stations"]  # type: ignore[attr-defined]
    ]
    return {**entry, "stations": stations}


def test_entry_goes_through_the_form_unchanged() -> None:
    """Opening a test and saving it at once changes nothing, whatever units are in it."""
    assert form_of(fields_of(ENTRY)).entry == by_fan(ENTRY)


def test_readings_stand_in_the_column_of_their_fan() -> None:
    """The order in which a station lists its fans does not matter."""
    form = form_of(fields_of(ENTRY))
    first = {cell.words: cell.text for cell in form.stations[0]}
    assert first["Station 1, large, flow shown"] == "2,310 cfm"
    assert first["Station 1, small, fan pressure"] == "88 Pa"


def test_number_alone_gets_the_unit_that_the_form_shows() -> None:
    """A pressure typed alone gets the column's unit; a typed unit wins."""
    sent = {
        "unit.pressure": "in. w.c.",
        "stations[0].pressure": "0.2",
        "stations[1].pressure": "-40 Pa",
        "barometric_pressure": "29.6",
    }
    entry = form_of(sent).entry
    assert entry["stations"] == [{"pressure": "0.2 in. w.c."}, {"pressure": "-40 Pa"}]
    assert entry["barometric_pressure"] == "29.6"


def test_empty_rows_are_no_part_of_the_entry() -> None:
    """Rows in which nothing was typed are dropped, their fan's name included."""
    sent = fields_of(ENTRY) | {"stations[5].pressure": " ", "stations[5].fans[0].flow": ""}
    assert form_of(sent).entry == by_fan(ENTRY)


@pytest.mark.parametrize("name", LISTS)
def test_row_is_added_where_it_was_asked_for(name: str) -> None:
    """The button of a list makes that list one row longer and no other."""
    plain = form_of(fields_of(ENTRY))
    longer = form_of(fields_of(ENTRY) | {"add": name})
    assert {of: longer.rows[of] - plain.rows[of] for of in LISTS} == {
        of: int(of == name) for of in LISTS
    }


def test_rows_stay_between_requests() -> None:
    """A form that was made longer stays so when it is sent back."""
    once = form_of({"add": "stations"})
    again = form_of({f"rows.{name}": str(rows) for name, rows in once.rows.items()})
    assert again.rows == once.rows


@pytest.mark.parametrize("rows", ["-1", "many", "99999", ""])
def test_nonsense_does_not_make_rows(rows: str) -> None:
    """A count that no form of ours sends is not believed."""
    assert form_of({"rows.stations": rows}).rows["stations"] == LISTS["stations"]


def test_unknown_unit_is_not_added() -> None:
    """A unit that the form does not offer is dropped, so that the number is refused."""
    entry = form_of({"unit.pressure": "bananas", "stations[0].pressure": "50"}).entry
    assert entry["stations"] == [{"pressure": "50"}]


def test_mistake_is_shown_at_its_field() -> None:
    """A message about a path stands at the field of that path, with what was typed."""
    form = form_of(fields_of(ENTRY), {"stations[1].pressure": "has no unit"})
    cell = form.stations[1][0]
    assert (cell.text, cell.mistake) == ("-0.16 in. w.c.", "has no unit")
    assert form.others == ()


def test_mistake_without_a_field_is_told_apart() -> None:
    """A message about something that the form does not show is not lost."""
    form = form_of(fields_of(ENTRY), {"fans[1].bands[0].low": "has no unit"})
    assert form.others == (("fans[1].bands[0].low", "has no unit"),)


def test_message_names_fields_as_the_page_does() -> None:
    """Paths of the file become the labels of the page."""
    says = form_of(fields_of(ENTRY)).in_words("stations[1].pressure: it has no unit")
    assert says == "Station 2, house pressure: it has no unit"


def test_empty_form_has_no_readings() -> None:
    """Only something typed into a station counts as a reading."""
    assert not form_of({"name": "x", "stations[0].pressure": " "}).has_readings
    assert form_of({"stations[0].pressure": "5"}).has_readings


def test_new_test_is_set_up_like_the_one_before() -> None:
    """Fans with their calibration are taken over, readings are not, and the way is turned."""
    entry = form_of(new_fields(fields_of(ENTRY), "visit-2", "id-2")).entry
    assert entry["fans"] == ENTRY["fans"]
    assert entry["direction"] == "pressurize"
    assert (entry["id"], entry["visit"], entry["kind"]) == ("id-2", "visit-2", "fan test")
    assert not entry.keys() & {"stations", "baseline_before", "outdoor_temperature"}


def test_first_test_of_a_job_has_a_fan() -> None:
    """Without an earlier test there is one fan whose gauge shows flow."""
    form = form_of(new_fields({}, "visit-1", "id-1"))
    assert [fan.name for fan in form.fans] == ["fan"]
    assert form.entry["direction"] == "depressurize"


@pytest.mark.parametrize("name", [name for name, _ in STATES])
def test_state_of_the_house_is_answered_by_yes_or_no(name: str) -> None:
    """An answer is true or false in the file, yes or no on the page, and no answer is none."""
    for answer, word in ((True, "yes"), (False, "no")):
        form = form_of(fields_of(ENTRY | {name: answer}))
        assert next(cell for cell in form.states if cell.path == name).text == word
        assert form.entry[name] is answer
        assert name not in dict(form.hidden)
    assert name not in form_of(fields_of(ENTRY) | {name: ""}).entry


def test_pressure_of_a_room_gets_the_unit_of_pressures() -> None:
    """The spot check of the rooms may be typed alone."""
    assert form_of({"room_pressure": "-2"}).entry == {"room_pressure": "-2 Pa"}
