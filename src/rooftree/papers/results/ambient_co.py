"""Carbon monoxide of room air in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, always
from rooftree.readings.ambient_co import CAUTIONS, AmbientTest
from rooftree.units import Kind, show

if TYPE_CHECKING:
    from rooftree.readings.ambient_co import AmbientResult, PlaceResult
    from rooftree.units import DisplaySystem


def _readings(reading: AmbientTest, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [
        Line(
            f"{one.place}, {one.seconds / 60.0:.0f} min"
            + (f", {one.running}" if one.running else ""),
            show(one.carbon_monoxide, Kind.CONCENTRATION, system),
        )
        for one in reading.air[:12]
    ]
    if len(reading.air) > len(lines):
        lines.append(Line("More readings", f"{len(reading.air) - len(lines)}"))
    return (*lines, Line("Zeroed outdoors", str(reading.zeroed_outdoors)))


def _results(result: AmbientResult, system: DisplaySystem) -> tuple[Line, ...]:
    if result.highest is None:
        return ()
    highest = show(result.highest.highest, Kind.CONCENTRATION, system)
    return (Line(f"Highest indoors ({result.highest.place})", highest),)


def _tables(result: AmbientResult, system: DisplaySystem) -> tuple[Table, ...]:
    if not result.places:
        return ()
    columns = ("Place", "First", "Last", "Highest", "Rise in an hour")
    rows = tuple(_place(place, system) for place in result.places)
    return (Table("Carbon monoxide by place", columns, rows),)


def _place(place: PlaceResult, system: DisplaySystem) -> tuple[str, ...]:
    shown = [
        show(value, Kind.CONCENTRATION, system)
        for value in (place.first, place.last, place.highest)
    ]
    trend = place.trend
    rise = f"{trend.value:+.1f} ({trend.low:+.1f} to {trend.high:+.1f}) ppm" if trend else "—"
    return (place.place, *shown, rise.replace("-", "−"))


WORDS = TestWords(
    reading=AmbientTest,
    name="Carbon monoxide of room air",
    method=always(
        "Levels of 9, 35 and 100 ppm (older trade standard, BPI and NORA, trade action levels); "
        "rise by least squares"
    ),
    readings=_readings,
    results=_results,
    tables=_tables,
    cautions=CAUTIONS,
)
