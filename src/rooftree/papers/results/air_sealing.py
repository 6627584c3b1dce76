"""Logs of guided air sealing in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, always, limited_line, line
from rooftree.readings.air_sealing import AirSealingLog
from rooftree.units import DisplaySystem, Kind, show, show_range, shown_unit

if TYPE_CHECKING:
    from rooftree.readings.air_sealing import AirSealingResult, LocationResult, PlaceLeft

CAUTIONS = (
    "Carbon monoxide kills: test draft, spillage and carbon monoxide again after every change of "
    "tightness and at the end of each day; only licensed trades work on burners and flues. Stop "
    "where you meet vermiculite, live old wiring or mold."
)


def _readings(reading: AirSealingLog, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [
        line("House to be held at", reading.held_pressure, Kind.PRESSURE, system),
        Line("Readings of the fan", str(len(reading.rows))),
        line("Labor", reading.labor_rate, Kind.LABOR_RATE, system),
    ]
    for row in (reading.rows[0], reading.rows[-1]) if len(reading.rows) > 1 else reading.rows:
        flow = show(row.fan_flow, Kind.FLOW, system)
        pressure = show(row.house_pressure, Kind.PRESSURE, system)
        lines.append(Line(row.location or "Before sealing", f"{flow} at {pressure}"))
    return tuple(lines)


def _results(result: AirSealingResult, system: DisplaySystem) -> tuple[Line, ...]:
    lines = []
    for words, value, kind in (
        ("Before sealing", result.start, Kind.FLOW),
        ("Now", result.flow, Kind.FLOW),
        ("Now, at 50 Pa", result.flow_50, Kind.FLOW),
        ("Taken away", result.reduction, Kind.FLOW),
        ("Share of the leakage", result.share, Kind.FRACTION),
    ):
        if value is not None:
            lines.append(limited_line(words, value, kind, system))
    if result.locations:
        lines.append(line("Work", result.work, Kind.DURATION, system))
        lines.append(line("Cost", result.cost, Kind.MONEY, system))
    if result.worth is not None:
        lines.append(line("Worth of it", result.worth, Kind.MONEY, system))
    for limit in result.limits:
        if limit.limit > 0.0:
            words = f"Limit for {limit.name}, at 50 Pa"
            lines.append(line(words, limit.limit, Kind.FLOW, system))
    return tuple(lines)


def _tables(result: AirSealingResult, system: DisplaySystem) -> tuple[Table, ...]:
    tables = []
    if result.locations:
        unit = shown_unit(Kind.FLOW, system)
        tables.append(
            Table(
                "Location by location",
                ("Location", "Took away", "Cost", f"For 100 {unit.name}", "Worth"),
                tuple(_location(each, system) for each in result.locations),
            )
        )
    if result.left:
        tables.append(
            Table(
                "What is left, at 50 Pa",
                ("Place", "Guess", "Taken", "Left", "Could go"),
                tuple(_place(each, system) for each in result.left),
            )
        )
    return tuple(tables)


def _location(each: LocationResult, system: DisplaySystem) -> tuple[str, ...]:
    took = show(each.reduction.value, Kind.FLOW, system, digits=2)
    unit = shown_unit(Kind.FLOW, system)
    per_100 = each.cost_per_flow
    return (
        each.location or f"row {each.number}",
        took if each.is_clear else "in the noise",
        show(each.cost, Kind.MONEY, system),
        "" if per_100 is None else show(100.0 * unit.factor * per_100, Kind.MONEY, system),
        "" if each.worth is None or not each.is_clear else show(each.worth, Kind.MONEY, system),
    )


def _place(each: PlaceLeft, system: DisplaySystem) -> tuple[str, ...]:
    return (
        each.place,
        show(each.at_start, Kind.FLOW, system, digits=2),
        _taken(each, system),
        show_range(each.left.low, each.left.high, Kind.FLOW, system),
        ""
        if not each.sealable.value > 0.0
        else show(each.sealable.value, Kind.FLOW, system, digits=2),
    )


def _taken(each: PlaceLeft, system: DisplaySystem) -> str:
    if not each.done:
        return ""
    seen = each.sealed > 0.0
    return show(each.sealed, Kind.FLOW, system, digits=2) if seen else "none seen"


WORDS = TestWords(
    reading=AirSealingLog,
    name="Air sealing",
    method=always(
        "Flow of the fan after each location, brought to the held pressure by the power law; "
        "leak map by Bayes' rule"
    ),
    readings=_readings,
    results=_results,
    tables=_tables,
    cautions=CAUTIONS,
)
