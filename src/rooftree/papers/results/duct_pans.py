"""Pressure pans in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, always, line
from rooftree.readings.duct_pans import DuctPanTest, Standing
from rooftree.units import Kind, show_range

if TYPE_CHECKING:
    from rooftree.readings.duct_pans import DuctPansResult
    from rooftree.units import DisplaySystem


def _readings(reading: DuctPanTest, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [line("House against outdoors", reading.house_pressure, Kind.PRESSURE, system)]
    if reading.space_pressure is not None:
        words = "House against the space of the ducts"
        lines.append(line(words, reading.space_pressure, Kind.PRESSURE, system))
    return (*lines, Line("Registers read", f"{len(reading.pans)}"))


def _results(result: DuctPansResult, _: DisplaySystem) -> tuple[Line, ...]:
    if not result.pans:
        return ()
    counts = ((one, sum(pan.standing is one for pan in result.pans)) for one in Standing)
    return tuple(
        Line(f"Runs: {standing.value}", f"{count} of {len(result.pans)}")
        for standing, count in counts
        if count
    )


def _tables(result: DuctPansResult, system: DisplaySystem) -> tuple[Table, ...]:
    if not result.pans:
        return ()
    rows = tuple(
        (
            pan.reading.name,
            f"{pan.rank}",
            f"{pan.normalized.value:.1f} Pa",
            show_range(pan.normalized.low, pan.normalized.high, Kind.PRESSURE, system),
            pan.standing.value,
        )
        for pan in result.pans
    )
    heads = ("Register", "Place", "House at 50 Pa", "95 % range", "Run")
    return (Table("Registers, the leakiest first", heads, rows),)


WORDS = TestWords(
    reading=DuctPanTest,
    name="Pressure pan",
    method=always("Pressure under a pan at each register, brought to a house at 50 Pa; a screen"),
    readings=_readings,
    results=_results,
    tables=_tables,
)
