"""Duct pressurization tests in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, TestWords, always, limited_line, line
from rooftree.readings.duct_leakage import DuctLeakageTest
from rooftree.units import Kind

if TYPE_CHECKING:
    from rooftree.readings.duct_leakage import DuctLeakageResult
    from rooftree.units import DisplaySystem


def _readings(reading: DuctLeakageTest, system: DisplaySystem) -> tuple[Line, ...]:
    return (
        Line("Leakage", "to outdoors" if reading.to_outdoors else "total"),
        line("Pressure in the ducts", reading.duct_pressure, Kind.PRESSURE, system),
        line("Flow of the duct fan", reading.flow, Kind.FLOW, system),
        line("Flow of the air handler", reading.air_handler_flow, Kind.FLOW, system),
    )


def _results(result: DuctLeakageResult, system: DisplaySystem) -> tuple[Line, ...]:
    to = "to outdoors" if result.to_outdoors else "in all"
    values = (
        (f"Leakage at 25 Pa {to}", result.flow_25, Kind.FLOW),
        ("Over the air handler's flow", result.share, Kind.FRACTION),
        ("Over the floor area", result.per_floor_area, Kind.PERMEABILITY),
    )
    return tuple(limited_line(words, of, kind, system) for words, of, kind in values if of)


WORDS = TestWords(
    reading=DuctLeakageTest,
    name="Duct leakage",
    method=always(
        "Duct pressurization, flow brought to 25 Pa by the power law (ASTM E1554, recalled)"
    ),
    readings=_readings,
    results=_results,
)
