"""A tracer decay in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, always, limited_line, line
from rooftree.physics.propagation import COVERAGE
from rooftree.readings.tracer_decay import TracerDecayTest
from rooftree.units import Kind, quantity, show, show_range

if TYPE_CHECKING:
    from rooftree.readings.tracer_decay import PositionDecay, TracerDecayResult
    from rooftree.units import DisplaySystem

HOUR = 3600.0


def _readings(reading: TracerDecayTest, system: DisplaySystem) -> tuple[Line, ...]:
    lines = []
    if reading.lines:
        first, last = reading.lines[0], reading.lines[-1]
        places = len({one.position for one in reading.lines})
        where = f" in {places} places" if places > 1 else ""
        lines += [
            Line("Lines of the record", f"{len(reading.lines)}{where}"),
            line("First", first.concentration, Kind.CONCENTRATION, system),
            line("Last", last.concentration, Kind.CONCENTRATION, system),
        ]
    outdoors = ", ".join(
        show(one.concentration, Kind.CONCENTRATION, system) for one in reading.outdoors[:4]
    )
    lines.append(Line("Outdoors", outdoors or "not read"))
    if reading.steady:
        lines.append(
            Line(
                "Near the steady state",
                f"{len(reading.steady)} readings, {reading.steady_people:g} people,"
                f" {reading.steady_activity}",
            )
        )
    return tuple(lines)


def _results(result: TracerDecayResult, system: DisplaySystem) -> tuple[Line, ...]:
    lines = []
    if result.air_changes is not None:
        lines.append(limited_line("Air changes", result.air_changes, Kind.AIR_CHANGES, system))
    if result.flow is not None:
        lines.append(limited_line("Outdoor air", result.flow, Kind.FLOW, system))
    background = result.background
    lines.append(
        Line(
            "Background taken off",
            show(background.value, Kind.CONCENTRATION, system),
            show_range(
                max(background.value - COVERAGE * background.standard, 0.0),
                background.value + COVERAGE * background.standard,
                Kind.CONCENTRATION,
                system,
            ),
        )
    )
    if result.window is not None:
        start, end = result.window
        lines.append(
            Line(
                "Part of the record",
                f"{_time(start)} to {_time(end)}",
            )
        )
    if result.fall > 0.0:
        lines.append(Line("Fall of the logarithm", f"{result.fall:.2f}"))
    if result.go_on:
        lines.append(Line("Longer for a good rate", _time(result.go_on)))
    steady = result.steady
    if steady is not None and steady.flow is not None:
        lines.append(limited_line("By the people inside", steady.flow, Kind.FLOW, system))
    if steady is not None and steady.air_changes is not None:
        lines.append(
            limited_line("Air changes by them", steady.air_changes, Kind.AIR_CHANGES, system)
        )
    return tuple(lines)


def _time(seconds: float) -> str:
    return quantity(round(seconds / 60.0) * 60.0, Kind.DURATION, "min")


def _tables(result: TracerDecayResult, system: DisplaySystem) -> tuple[Table, ...]:
    tables = []
    if len(result.positions) > 1:
        tables.append(
            Table(
                "Each place",
                ("Place", "Air changes", "Excess at the start", "Lines"),
                tuple(_place(one, system) for one in result.positions),
            )
        )
    if result.terms:
        tables.append(
            Table(
                "What the doubt is made of",
                ("From", "Share of the rate"),
                tuple(
                    (term.name, f"{100.0 * term.standard:.1f} %")
                    for term in result.terms
                    if term.standard > 0.0
                ),
            )
        )
    return tuple(tables)


def _place(one: PositionDecay, system: DisplaySystem) -> tuple[str, ...]:
    return (
        one.position or "not named",
        show(one.line.slope * HOUR, Kind.AIR_CHANGES, system),
        show(one.line.at(one.times[0]), Kind.CONCENTRATION, system),
        str(one.readings),
    )


WORDS = TestWords(
    reading=TracerDecayTest,
    name="Tracer decay",
    method=always(
        "Concentration decay in one mixed zone after ASTM E741: regression of the logarithm of "
        "the excess over outdoors on time; people near the steady state by the mass balance"
    ),
    readings=_readings,
    results=_results,
    tables=_tables,
    cautions=(
        "Carbon dioxide from bottles or dry ice displaces air: never above 5000 ppm with people "
        "inside, and never in a cellar or pit."
    ),
)
"""How a tracer decay is told."""
