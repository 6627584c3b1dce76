"""Moisture readings in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, limited_line
from rooftree.readings.moisture import CAUTIONS, MoistureTest
from rooftree.units import Kind, show, show_range

if TYPE_CHECKING:
    from rooftree.readings.moisture import MoistureResult, PlaceAir, Surface, WoodMoisture
    from rooftree.units import DisplaySystem


def _readings(reading: MoistureTest, system: DisplaySystem) -> tuple[Line, ...]:
    lines = []
    for place in reading.places:
        told = [show(place.temperature, Kind.TEMPERATURE, system)]
        if place.relative_humidity is not None:
            told.append(f"{show(place.relative_humidity, Kind.FRACTION, system)} humidity")
        elif place.wet_bulb is not None:
            told.append(f"wet bulb {show(place.wet_bulb, Kind.TEMPERATURE, system)}")
        elif place.dew_point is not None:
            told.append(f"dew point {show(place.dew_point, Kind.TEMPERATURE, system)}")
        lines.append(Line(f"Air, {place.name}", ", ".join(told)))
    for surface in reading.surfaces:
        shown = show(surface.temperature, Kind.TEMPERATURE, system)
        lines.append(Line(f"Surface, {surface.name}", f"{shown}, {surface.thermometer.value}"))
    for wood in reading.woods:
        shown = show(wood.moisture_content, Kind.FRACTION, system)
        lines.append(Line(f"Wood, {wood.name}", f"{shown}, {wood.mode.value}, {wood.wood.value}"))
    if reading.wind_speed is not None:
        lines.append(Line("Wind", show(reading.wind_speed, Kind.SPEED, system)))
    return tuple(lines)


def _results(result: MoistureResult, system: DisplaySystem) -> tuple[Line, ...]:
    lines = []
    if len(result.ranking) > 1:
        lines.append(Line("Wettest air first", ", ".join(result.ranking)))
    lines += [
        limited_line(
            f"{pair.place}, water above {pair.against}",
            pair.difference,
            Kind.HUMIDITY_RATIO,
            system,
        )
        for pair in result.comparisons
    ]
    if result.humidity_class is not None:
        lines.append(Line("Humidity class of ISO 13788 (recalled)", str(result.humidity_class)))
    if result.needed_factor is not None:
        lines.append(
            Line("Temperature factor needed in the coldest month", f"{result.needed_factor:.2f}")
        )
    if result.released is not None:
        lines.append(
            limited_line("Water released inside", result.released, Kind.VAPOR_FLOW, system)
        )
    return tuple(lines)


def _tables(result: MoistureResult, system: DisplaySystem) -> tuple[Table, ...]:
    tables: list[Table] = []
    columns: tuple[str, ...]
    if result.places:
        columns = ("Place", "Air", "Humidity", "Dew point", "Humidity ratio", "Vapor pressure")
        rows = tuple(_place(place, system) for place in result.places)
        tables.append(Table("Air of each place", columns, rows))
    if result.surfaces:
        columns = ("Surface", "Temperature", "Humidity at it", "Wet now", "Temperature factor")
        rows = tuple(_surface(surface, system) for surface in result.surfaces)
        tables.append(Table("Surfaces", columns, rows))
    if result.woods:
        columns = ("Wood", "As shown", "Moisture content", "Likely between", "Where the air ends")
        rows = tuple(_wood(wood, system) for wood in result.woods)
        tables.append(Table("Wood", columns, rows))
    return tuple(tables)


def _place(place: PlaceAir, system: DisplaySystem) -> tuple[str, ...]:
    return (
        place.name,
        show(place.temperature.value, Kind.TEMPERATURE, system),
        show(place.relative_humidity.value, Kind.FRACTION, system),
        show_range(place.dew_point.low, place.dew_point.high, Kind.TEMPERATURE, system),
        show(place.humidity_ratio.value, Kind.HUMIDITY_RATIO, system),
        f"{place.vapor_pressure.value:,.0f} Pa",
    )


def _surface(surface: Surface, system: DisplaySystem) -> tuple[str, ...]:
    if surface.temperature is None:
        return (surface.name, "cannot be told", "", "", "")
    humidity, factor = surface.relative_humidity, surface.factor
    return (
        surface.name,
        show(surface.temperature.value, Kind.TEMPERATURE, system),
        "" if humidity is None else show(humidity.value, Kind.FRACTION, system),
        "" if surface.condensing is None else _chance(surface.condensing),
        "" if factor is None else f"{factor.value:.2f} ({factor.low:.2f} to {factor.high:.2f})",
    )


def _chance(probability: float) -> str:
    if probability > 0.995:
        return "surely"
    return "no" if probability < 0.005 else f"{probability:.0%} likely".replace("%", " %")


def _wood(wood: WoodMoisture, system: DisplaySystem) -> tuple[str, ...]:
    content, balance = wood.moisture_content, wood.equilibrium
    depth = "" if wood.depth is None else f", {show(wood.depth, Kind.THICKNESS, system)} deep"
    return (
        wood.name + depth,
        show(wood.shown, Kind.FRACTION, system),
        "means nothing" if content is None else show(content.value, Kind.FRACTION, system),
        ""
        if content is None
        else show_range(content.low, content.high, Kind.FRACTION, system, digits=2),
        "" if balance is None else show(balance.value, Kind.FRACTION, system),
    )


def _method(reading: MoistureTest, _result: object) -> str:
    parts = ["Psychrometrics of ASHRAE Handbook - Fundamentals 2017, ch. 1"]
    if reading.surfaces:
        parts.append(f"surface criteria of ISO 13788, conditions of {reading.rule.value}")
    if reading.woods:
        parts.append("equilibrium of wood by the Wood Handbook, FPL-GTR-190 (recalled)")
    return "; ".join(parts)


WORDS = TestWords(
    reading=MoistureTest,
    name="Moisture",
    method=_method,
    readings=_readings,
    results=_results,
    tables=_tables,
    cautions=CAUTIONS,
)
