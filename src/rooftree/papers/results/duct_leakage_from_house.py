"""Duct leakage from fan tests of the house in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, always, limited_line, line
from rooftree.readings.duct_leakage_from_house import DeltaQTest, DuctSubtractionTest
from rooftree.units import Kind, show

if TYPE_CHECKING:
    from rooftree.readings.duct_leakage_from_house import DeltaQResult, DuctSubtractionResult
    from rooftree.units import DisplaySystem


def _subtraction_readings(reading: DuctSubtractionTest, system: DisplaySystem) -> tuple[Line, ...]:
    return (
        line("House against outdoors", reading.house_pressure, Kind.PRESSURE, system),
        line("Flow of the fan, registers open", reading.flow_open, Kind.FLOW, system),
        line("Flow of the fan, registers sealed", reading.flow_sealed, Kind.FLOW, system),
        line("House against the sealed ducts", reading.duct_pressure, Kind.PRESSURE, system),
    )


def _subtraction_results(result: DuctSubtractionResult, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [
        line("Difference of the flows", result.difference, Kind.FLOW, system),
        line("By which two readings of one flow differ", result.scatter, Kind.FLOW, system),
    ]
    if result.flow_25 is not None:
        words = "Leakage at 25 Pa to outdoors"
        lines.append(limited_line(words, result.flow_25, Kind.FLOW, system))
    if result.share is not None:
        words = "Over the air handler's flow"
        lines.append(limited_line(words, result.share, Kind.FRACTION, system))
    return tuple(lines)


def _running_readings(reading: DeltaQTest, system: DisplaySystem) -> tuple[Line, ...]:
    on = sum(row.air_handler for row in reading.flows)
    return (
        line(
            "Supply ducts against the house", reading.supply_pressure, Kind.STATIC_PRESSURE, system
        ),
        line(
            "Return ducts against the house", reading.return_pressure, Kind.STATIC_PRESSURE, system
        ),
        Line("Readings, air handler off and on", f"{len(reading.flows) - on} and {on}"),
        line("Flow of the air handler", reading.air_handler_flow or None, Kind.FLOW, system),
    )


def _running_results(result: DeltaQResult, system: DisplaySystem) -> tuple[Line, ...]:
    values = (
        ("Supply leakage to outdoors, running", result.supply, Kind.FLOW),
        ("Return leakage from outdoors, running", result.return_, Kind.FLOW),
        ("Supply leakage over the air handler's flow", result.supply_share, Kind.FRACTION),
        ("Return leakage over the air handler's flow", result.return_share, Kind.FRACTION),
    )
    return tuple(limited_line(words, of, kind, system) for words, of, kind in values if of)


def _running_tables(result: DeltaQResult, system: DisplaySystem) -> tuple[Table, ...]:
    if not result.points:
        return ()
    rows = tuple(
        (
            show(point.pressure, Kind.PRESSURE, system),
            show(point.change, Kind.FLOW, system),
            show(point.fitted, Kind.FLOW, system),
        )
        for point in result.points
    )
    heads = ("House against outdoors", "As read", "By the leaks found")
    return (Table("What the air handler adds to the fan's flow", heads, rows),)


SUBTRACTION = TestWords(
    reading=DuctSubtractionTest,
    name="Duct leakage by difference of house tests",
    method=always(
        "Fan tests with registers open and sealed, by the mass balance of the ducts; coarse"
    ),
    readings=_subtraction_readings,
    results=_subtraction_results,
)

DELTA_Q = TestWords(
    reading=DeltaQTest,
    name="Duct leakage with the air handler off and on",
    method=always("Delta-Q: leaks fitted to the change of flow (ASTM E1554 method A, recalled)"),
    readings=_running_readings,
    results=_running_results,
    tables=_running_tables,
)
