"""Check logs of air sealing in words."""

from __future__ import annotations

from rooftree.papers.results import WORDS
from rooftree.readings.air_sealing import (
    AirSealingLog,
    LeakPlace,
    SealingRow,
    reduce_air_sealing,
)
from rooftree.units import DisplaySystem

LOG = AirSealingLog(
    (
        SealingRow(0.0, "", -50.0, 1.20),
        SealingRow(1800.0, "chase", -50.0, 1.05, 1500.0, 20.0),
        SealingRow(2700.0, "sill", -50.0, 1.04, 600.0, 5.0),
    ),
    (LeakPlace("chase", 0.15), LeakPlace("hatch", 0.05, work=600.0)),
    labor_rate=60.0 / 3600.0,
    holes_closed=True,
)
OWN = WORDS[AirSealingLog]


def test_results_have_a_line_each() -> None:
    """Flows and reduction are told with limits, costs and the advice in words."""
    result = reduce_air_sealing(LOG, value_per_flow=200.0, combustion_flow_50=0.4)
    lines = {one.words: one for one in OWN.results(result, DisplaySystem.SI)}
    assert lines["Taken away"].value == "160 L/s"
    assert lines["Cost"].value == "$60"
    assert lines["Limit for combustion, at 50 Pa"].value == "400 L/s"
    assert "Worth of it" in lines


def test_without_a_value_nothing_is_worth() -> None:
    """What leakage costs was not known: no line of worth, empty cells in the table."""
    result = reduce_air_sealing(LOG)
    words = [one.words for one in OWN.results(result, DisplaySystem.IP)]
    assert "Worth of it" not in words
    assert OWN.tables(result, DisplaySystem.IP)[0].rows[0][-1] == ""


def test_locations_and_places_have_tables() -> None:
    """Each location and place has a row; a change in the noise says so."""
    located, left = OWN.tables(reduce_air_sealing(LOG), DisplaySystem.IP)
    assert [row[0] for row in located.rows] == ["chase", "sill"]
    assert located.rows[1][1] == "in the noise"
    assert located.columns[3] == "For 100 cfm"
    assert [row[0] for row in left.rows] == ["chase", "hatch", "elsewhere"]
    assert all(len(row) == len(left.columns) for row in left.rows)


def test_readings_tell_first_and_last_row() -> None:
    """A long log is told by its first and its last reading."""
    lines = {one.words: one.value for one in OWN.readings(LOG, DisplaySystem.SI)}
    assert lines["Before sealing"] == "1,200 L/s at \u221250 Pa"
    assert lines["sill"] == "1,040 L/s at \u221250 Pa"


def test_cautions_name_carbon_monoxide() -> None:
    """The page and the paper carry the caution about burners."""
    assert "Carbon monoxide kills" in OWN.cautions
