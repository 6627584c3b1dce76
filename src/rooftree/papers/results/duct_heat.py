"""Duct runs in words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, always, limited_line
from rooftree.readings.duct_heat import CAUTIONS, DuctHeatTest
from rooftree.units import Kind, show, show_range

if TYPE_CHECKING:
    from rooftree.readings.duct_heat import DuctHeatResult, DuctRunReading, RunResult
    from rooftree.units import DisplaySystem

BARE = 0.02
"""Blanket that is as good as none [m²·K/W]."""


def _readings(reading: DuctHeatTest, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [Line(run.name, _run_in_words(run, system)) for run in reading.runs]
    if reading.room_temperature is not None:
        lines.append(Line("Rooms", show(reading.room_temperature, Kind.TEMPERATURE, system)))
    return tuple(lines)


def _run_in_words(run: DuctRunReading, system: DisplaySystem) -> str:
    wrap = (
        show(run.insulation_resistance, Kind.THERMAL_RESISTANCE, system)
        if run.insulation_resistance > 0.0
        else "no wrap"
    )
    parts = [
        show(run.length, Kind.LENGTH, system),
        wrap,
        f"{show(run.entering_temperature, Kind.TEMPERATURE, system)} in",
        f"{show(run.surroundings_temperature, Kind.TEMPERATURE, system)} round it",
    ]
    if run.register_temperature is not None:
        parts.append(f"{show(run.register_temperature, Kind.TEMPERATURE, system)} at the register")
    return ", ".join(parts)


def _results(result: DuctHeatResult, system: DisplaySystem) -> tuple[Line, ...]:
    if result.heat is None:
        return ()
    gains = "Heat gained on the way" if result.heat.value >= 0.0 else "Heat gained (minus: lost)"
    return (limited_line(gains, result.heat, Kind.POWER, system),)


def _tables(result: DuctHeatResult, system: DisplaySystem) -> tuple[Table, ...]:
    if not result.runs:
        return ()
    columns: tuple[str, ...]
    tables = [
        Table(
            "What arrives",
            ("Run", "Air speed", "Register by its wrap", "Read less that", "Of its use, arrives"),
            tuple(_arrival(run, system) for run in result.runs),
        ),
        Table(
            "What insulates",
            ("Run", "As a flat blanket", "By the temperatures", "Likely between"),
            tuple(_wall(run, system) for run in result.runs),
        ),
    ]
    if any(run.dew_point is not None for run in result.runs):
        columns = ("Run", "Coldest face", "Dew point round it", "Sweats", "Blanket that helps")
        rows = tuple(_jacket(run, system) for run in result.runs if run.dew_point is not None)
        tables.append(Table("Water on the outside", columns, rows))
    if any(run.burst is not None for run in result.runs):
        columns = ("Run", "First air", "Mean of the first minute", "Until it helps the room")
        rows = tuple(_burst(run, system) for run in result.runs if run.burst is not None)
        tables.append(Table("After the fan stood", columns, rows))
    return tuple(tables)


def _arrival(run: RunResult, system: DisplaySystem) -> tuple[str, ...]:
    register, delivered = run.register, run.delivered
    return (
        run.name,
        show(run.air_speed, Kind.DUCT_SPEED, system),
        show_range(register.low, register.high, Kind.TEMPERATURE, system),
        "" if run.difference is None else show(run.difference, Kind.TEMPERATURE_DIFFERENCE, system),
        ""
        if delivered is None
        else show_range(delivered.low, delivered.high, Kind.FRACTION, system),
    )


def _wall(run: RunResult, system: DisplaySystem) -> tuple[str, ...]:
    found = run.found_resistance
    if found is None:
        least = run.least_found
        told = "" if least is None else f"at least {_blanket(least, system)}"
        return (run.name, _blanket(run.flat_resistance, system), told, "")
    above = f"to {_blanket(found.high, system)}" if math.isfinite(found.high) else "or more"
    return (
        run.name,
        _blanket(run.flat_resistance, system),
        _blanket(found.value, system),
        f"{_blanket(found.low, system)} {above}",
    )


def _blanket(resistance: float, system: DisplaySystem) -> str:
    if resistance < BARE:
        return "bare"
    return show(resistance, Kind.THERMAL_RESISTANCE, system, digits=2)


def _jacket(run: RunResult, system: DisplaySystem) -> tuple[str, ...]:
    if run.dew_point is None or run.condensing is None:
        return (run.name, "", "", "", "")
    chance = run.condensing
    sweats = f"{chance:.0%} likely".replace("%", " %")
    if chance > 0.995:
        sweats = "surely"
    elif chance < 0.005:
        sweats = "no"
    least = run.least_blanket
    helps = ""
    if least is not None:
        helps = _blanket(least, system) if math.isfinite(least) else "none in air so damp"
    return (
        run.name,
        show(run.jacket.value, Kind.TEMPERATURE, system),
        show(run.dew_point.value, Kind.TEMPERATURE, system),
        sweats,
        helps,
    )


def _burst(run: RunResult, system: DisplaySystem) -> tuple[str, ...]:
    burst = run.burst
    if burst is None:
        return (run.name, "", "", "")
    seconds = burst.seconds
    return (
        run.name,
        show(burst.first.value, Kind.TEMPERATURE, system),
        show(burst.first_minute, Kind.TEMPERATURE, system),
        "not within five minutes"
        if seconds is None
        else f"{max(seconds.low, 0.0):.0f} to {seconds.high:.0f} s",
    )


WORDS = TestWords(
    reading=DuctHeatTest,
    name="Duct heat",
    method=always(
        "Air along a duct by the exponential law of ASHRAE Handbook - Fundamentals 2021, ch. 21,"
        " with films of Gnielinski (1976) and Churchill and Chu (1975), recalled"
    ),
    readings=_readings,
    results=_results,
    tables=_tables,
    cautions=CAUTIONS,
)
