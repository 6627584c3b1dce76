"""Readings at a burner in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, TestWords, always, line
from rooftree.readings.combustion import CAUTIONS, CombustionTest
from rooftree.units import Kind

if TYPE_CHECKING:
    from rooftree.readings.combustion import CombustionResult
    from rooftree.units import DisplaySystem


def _readings(reading: CombustionTest, system: DisplaySystem) -> tuple[Line, ...]:
    spillage = (
        "did not stop within the test"
        if reading.spillage_seconds is None
        else f"stopped after {reading.spillage_seconds:.0f} s"
    )
    lines = [
        Line("Burner", f"{reading.appliance}, {reading.draft}"),
        line("Carbon monoxide in the room", reading.ambient_co, Kind.CONCENTRATION, system),
        Line("Gas leak", "found" if reading.gas_leak else "none found"),
        line("Pressure with all off", reading.baseline_pressure, Kind.PRESSURE, system),
        line("Pressure, worst case", reading.worst_pressure, Kind.PRESSURE, system),
        Line("The worst case", reading.worst_case),
        Line("Spillage", spillage),
    ]
    if reading.flue_co is not None:
        co = reading.flue_co
        lines.append(line("Carbon monoxide in the flue, as read", co, Kind.CONCENTRATION, system))
    if reading.draft_pressure is not None:
        lines.append(line("Draft of the flue", reading.draft_pressure, Kind.PRESSURE, system))
    return (*lines, line("Outdoors", reading.outdoor_temperature, Kind.TEMPERATURE, system))


def _results(result: CombustionResult, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [line("Worst case, baseline taken off", result.net_pressure, Kind.PRESSURE, system)]
    if result.flue_co_air_free is not None:
        co = result.flue_co_air_free
        lines.append(line("Carbon monoxide in the flue, air free", co, Kind.CONCENTRATION, system))
    steps = (
        Line(step.step.value.capitalize(), "see below" if step.findings else "nothing found")
        for step in result.steps
    )
    return (*lines, *steps)


WORDS = TestWords(
    reading=CombustionTest,
    name="Combustion",
    method=always(
        "Worst-case pressure, spillage, draft and carbon monoxide, in the order of BPI, "
        "Combustion Safety Test Procedure for Vented Appliances"
    ),
    readings=_readings,
    results=_results,
    cautions=CAUTIONS,
)
