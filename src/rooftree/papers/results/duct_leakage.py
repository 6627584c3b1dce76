"""Duct pressurization tests in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, always, limited_line, line
from rooftree.readings.duct_leakage import DuctLeakageTest
from rooftree.units import Kind, show

if TYPE_CHECKING:
    from rooftree.readings.duct_leakage import DuctLeakageResult
    from rooftree.units import DisplaySystem


def _readings(reading: DuctLeakageTest, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [Line("Leakage", "to outdoors" if reading.to_outdoors else "total")]
    if reading.fan_readings:
        lines.append(Line("Readings of the duct fan", f"{len(reading.fan_readings)}"))
    else:
        lines.append(line("Pressure in the ducts", reading.duct_pressure, Kind.PRESSURE, system))
        lines.append(line("Flow of the duct fan", reading.flow, Kind.FLOW, system))
    handler = reading.air_handler_flow or None
    lines.append(line("Flow of the air handler", handler, Kind.FLOW, system))
    more = (
        ("Ducts against the house", reading.duct_house_pressure),
        ("House against outdoors", reading.house_pressure),
        ("Space of the ducts against outdoors", reading.space_pressure),
        ("Farthest register", reading.far_pressure),
    )
    lines += [line(words, p, Kind.PRESSURE, system) for words, p in more if p is not None]
    return tuple(lines)


def _results(result: DuctLeakageResult, system: DisplaySystem) -> tuple[Line, ...]:
    to = "to outdoors" if result.to_outdoors else "in all"
    values = (
        (f"Leakage at 25 Pa {to}", result.flow_25, Kind.FLOW),
        ("Over the air handler's flow", result.share, Kind.FRACTION),
        ("Over the floor area", result.per_floor_area, Kind.PERMEABILITY),
    )
    lines = [limited_line(words, of, kind, system) for words, of, kind in values if of]
    if abs(result.correction - 1.0) > 0.005:
        lines.append(Line("Correction for pressures apart", f"× {result.correction:.2f}"))
    return tuple(lines)


def _tables(result: DuctLeakageResult, system: DisplaySystem) -> tuple[Table, ...]:
    if len(result.stations) < 2:
        return ()
    rows = tuple(
        (
            show(station.pressure, Kind.PRESSURE, system),
            ", ".join(fan.reading.configuration or "flow shown" for fan in station.fans),
            show(station.flow, Kind.FLOW, system),
        )
        for station in result.stations
    )
    return (Table("Pressures held", ("Ducts", "Configuration", "Flow of all fans"), rows),)


WORDS = TestWords(
    reading=DuctLeakageTest,
    name="Duct leakage",
    method=always(
        "Duct pressurization, flow brought to 25 Pa by the power law (ASTM E1554, recalled)"
    ),
    readings=_readings,
    results=_results,
    tables=_tables,
)
