"""Check duct runs in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rooftree.papers.results import WORDS
from rooftree.readings.duct_heat import DuctHeatTest, DuctRunReading, reduce_duct_heat
from rooftree.units import DisplaySystem

RUN = DuctRunReading(
    "bedroom",
    8.0,
    286.0,
    328.0,
    diameter=0.15,
    air_speed=3.0,
    insulation_resistance=0.7,
    surroundings_humidity=0.4,
    standing_time=1200.0,
    register_temperature=290.5,
)
RUNS = (
    RUN,
    replace(RUN, name="bare", insulation_resistance=0.0, surroundings_humidity=0.99),
    replace(RUN, name="short", length=1.0, register_temperature=286.1),
    replace(RUN, name="plain", surroundings_humidity=None, standing_time=None),
)


@pytest.mark.parametrize("system", list(DisplaySystem))
def test_every_run_has_its_rows(system: DisplaySystem) -> None:
    """All four tables are there, each row as long as its heads, in both systems."""
    words, test = WORDS[DuctHeatTest], DuctHeatTest(RUNS, 297.0)
    result = reduce_duct_heat(test)
    assert len(words.readings(test, system)) == 5
    assert [line.words for line in words.results(result, system)] == ["Heat gained on the way"]
    tables = {table.caption: table for table in words.tables(result, system)}
    assert list(tables) == [
        "What arrives", "What insulates", "Water on the outside", "After the fan stood",
    ]  # fmt: skip
    assert all(len(row) == len(t.columns) for t in tables.values() for row in t.rows)
    walls = {row[0]: row for row in tables["What insulates"].rows}
    assert walls["bare"][1] == "bare"
    assert walls["short"][2].startswith("at least ")
    assert len(tables["Water on the outside"].rows) == 3


def test_nothing_to_compute_is_no_table() -> None:
    """Without a run there are no results, and the cautions stand all the same."""
    words, result = WORDS[DuctHeatTest], reduce_duct_heat(DuctHeatTest(()))
    assert words.results(result, DisplaySystem.IP) == ()
    assert words.tables(result, DisplaySystem.IP) == ()
    assert "asbestos" in words.cautions
