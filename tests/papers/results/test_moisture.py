"""Check moisture readings in words."""

from __future__ import annotations

import pytest

from rooftree.papers.results import WORDS
from rooftree.readings.moisture import (
    AirReading,
    Finish,
    MoistureTest,
    PlaceKind,
    SurfaceReading,
    WoodReading,
    reduce_moisture,
)
from rooftree.units import DisplaySystem

VISIT = MoistureTest(
    (
        AirReading("yard", PlaceKind.OUTDOORS, 274.0, 0.8),
        AirReading("hall", PlaceKind.LIVING, 294.0, wet_bulb=287.0),
        AirReading("den", PlaceKind.LIVING, 294.0, dew_point=283.0),
    ),
    (
        SurfaceReading("wall", 291.0, "hall"),
        SurfaceReading("pan", 291.0, "hall", finish=Finish.FOIL),
    ),
    (WoodReading("sill", 0.14, "den", depth=0.02),),
    wind_speed=2.0,
)


@pytest.mark.parametrize("system", list(DisplaySystem))
def test_every_reading_and_result_has_its_line(system: DisplaySystem) -> None:
    """Readings, results and tables name every place, surface and piece, in both systems."""
    words, result = WORDS[MoistureTest], reduce_moisture(VISIT, 272.0, 0.03)
    told = " ".join(f"{line.words} {line.value}" for line in words.readings(VISIT, system))
    for name in ("yard", "hall", "den", "wall", "pan", "sill", "wet bulb", "dew point", "Wind"):
        assert name in told
    results = [line.words for line in words.results(result, system)]
    assert "Wettest air first" in results
    assert "Water released inside" in results
    tables = {table.caption: table for table in words.tables(result, system)}
    assert list(tables) == ["Air of each place", "Surfaces", "Wood"]
    assert tables["Surfaces"].rows[1][1] == "cannot be told"
    assert all(len(row) == len(t.columns) for t in tables.values() for row in t.rows)
    assert "Wood Handbook" in words.method(VISIT, result)


def test_nothing_read_is_no_table() -> None:
    """An empty visit has no lines and no tables."""
    words, result = WORDS[MoistureTest], reduce_moisture(MoistureTest(()))
    assert words.results(result, DisplaySystem.SI) == ()
    assert words.tables(result, DisplaySystem.SI) == ()
    assert words.cautions
