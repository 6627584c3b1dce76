"""Readings at a burner in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, limited_line, line
from rooftree.readings.combustion import CAUTIONS, PROCEDURES, CombustionTest
from rooftree.units import Kind, show

if TYPE_CHECKING:
    from rooftree.readings.combustion import CombustionResult
    from rooftree.units import DisplaySystem


def _method(reading: CombustionTest, result: CombustionResult | None) -> str:
    if result is not None:
        return result.outcome.protocol
    procedure = PROCEDURES[reading.protocol]
    return f"{procedure.document}; edition: {reading.edition or procedure.edition}"


def _readings(reading: CombustionTest, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [
        Line("Burner", f"{reading.appliance}, {reading.draft}"),
        line("Carbon monoxide in the room", reading.ambient_co, Kind.CONCENTRATION, system),
        Line("Gas leak", "found" if reading.gas_leak else "none found"),
        line("Pressure with all off", reading.baseline_pressure, Kind.PRESSURE, system),
        line("Pressure, worst case", reading.worst_pressure, Kind.PRESSURE, system),
        Line("The worst case", reading.worst_case),
        Line("Vent at fire-up, timed from", f"{reading.vent_state}, {reading.timed_from}"),
    ]
    if reading.flue_co is not None:
        co = reading.flue_co
        lines.append(line("Carbon monoxide in the flue, as read", co, Kind.CONCENTRATION, system))
    lines += [
        Line(
            f"Carbon monoxide in the flue at {sample.seconds:.0f} s",
            show(sample.carbon_monoxide, Kind.CONCENTRATION, system),
        )
        for sample in reading.flue_samples[-3:]
    ]
    lines.append(Line("Probe", str(reading.probe)))
    if reading.draft_pressure is not None:
        lines.append(line("Draft of the flue", reading.draft_pressure, Kind.PRESSURE, system))
    return (*lines, line("Outdoors", reading.outdoor_temperature, Kind.TEMPERATURE, system))


def _results(result: CombustionResult, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [
        Line("Outcome", result.outcome.ending.value),
        limited_line("Worst case, baseline taken off", result.zone, Kind.PRESSURE, system),
        *_spillage(result),
    ]
    if result.gas.air_free is not None:
        words = f"Carbon monoxide in the flue, air free (by {result.gas.by})"
        lines.append(limited_line(words, result.gas.air_free, Kind.CONCENTRATION, system))
    if result.gas.excess_air is not None:
        lines.append(line("Spare air in the flue", result.gas.excess_air, Kind.FRACTION, system))
    if result.theoretical_draft is not None:
        lines.append(
            line(
                "Draft that the heat can make at most",
                -result.theoretical_draft,
                Kind.PRESSURE,
                system,
            )
        )
    return tuple(lines)


def _spillage(result: CombustionResult) -> list[Line]:
    spillage = result.spillage
    asked = any(step.step.value == "spillage" for step in result.steps)
    if not asked:
        return []
    if spillage.end is None:
        return [Line("Spillage", "did not stop within the test")]
    began = f", began at {spillage.start:.0f} s" if spillage.start is not None else ""
    limits = f"{spillage.end.low:.0f} to {spillage.end.high:.0f} s"
    return [Line(f"Spillage stopped{began}", f"{spillage.end.value:.0f} s", limits)]


def _tables(result: CombustionResult, system: DisplaySystem) -> tuple[Table, ...]:
    del system
    return (
        Table(
            "The walk through the protocol",
            ("Step", "What it says"),
            tuple(
                (
                    step.step.value,
                    step.verdict.value
                    if step.step in result.outcome.path
                    else f"{step.verdict.value} (after the end)",
                )
                for step in result.steps
            ),
        ),
    )


WORDS = TestWords(
    reading=CombustionTest,
    name="Combustion",
    method=_method,
    readings=_readings,
    results=_results,
    tables=_tables,
    cautions=CAUTIONS,
)
