"""Zone pressures in words: one reading, an added hole, an opened hatch."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, TestWords, always, limited_line, line
from rooftree.readings.zone_pressures import (
    AddedHoleTest,
    Boundary,
    OpenedHatchTest,
    ZonePressureTest,
)
from rooftree.units import Kind, show

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.zone_pressures import ZoneLeaks, ZonePressureResult
    from rooftree.units import DisplaySystem

_PRESSURE = "House against the zone"


def _readings(reading: ZonePressureTest, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [
        line("House against outdoors", reading.house_pressure, Kind.PRESSURE, system),
        line(_PRESSURE, reading.zone_pressure, Kind.PRESSURE, system),
    ]
    more = (
        (f"{_PRESSURE}, probe moved", reading.again_pressure, Kind.PRESSURE),
        ("Zone against outdoors", reading.outdoor_pressure, Kind.PRESSURE),
        ("Vents of the zone", reading.vent_area, Kind.LEAKAGE_AREA),
    )
    lines += [line(words, value, kind, system) for words, value, kind in more if value is not None]
    return tuple(lines)


def ratio_line(words: str, of: Propagated) -> Line:
    """Return a plain ratio with its limits as a line.

    Parameters
    ----------
    words : str
        What it is.
    of : Propagated
        The ratio [-].

    Returns
    -------
    Line
    """
    return Line(words, f"{of.value:.2f}", f"{of.low:.2f} to {of.high:.2f}")


def _results(result: ZonePressureResult, system: DisplaySystem) -> tuple[Line, ...]:
    share = result.pressure_share
    words = "Zone pressure over house pressure"
    lines = [
        limited_line(words, result.share, Kind.FRACTION, system)
        if result.share
        else line(words, share, Kind.FRACTION, system)
    ]
    if result.ratio is not None:
        lines.append(ratio_line("Outdoor leak over house leak", result.ratio))
    if result.path is not None:
        words = "Flow through the zone over its house leak alone"
        lines.append(limited_line(words, result.path, Kind.FRACTION, system))
    if result.vent_flow_50 is not None:
        words = "Through the vents alone, house at 50 Pa"
        lines.append(limited_line(words, result.vent_flow_50, Kind.FLOW, system))
    return tuple(lines)


def _opened_readings(
    reading: AddedHoleTest | OpenedHatchTest, system: DisplaySystem
) -> tuple[Line, ...]:
    side = "to the house" if reading.boundary is Boundary.HOUSE else "to outdoors"
    lines = [
        line("House against outdoors", reading.house_pressure, Kind.PRESSURE, system),
        line(f"{_PRESSURE}, before", reading.zone_pressure, Kind.PRESSURE, system),
        line(f"{_PRESSURE}, open {side}", reading.pressure_after, Kind.PRESSURE, system),
    ]
    if reading.area:
        lines.append(line("Opening", reading.area, Kind.LEAKAGE_AREA, system))
    if isinstance(reading, OpenedHatchTest):
        lines.append(line("Flow of the fan, before", reading.flow_before, Kind.FLOW, system))
        lines.append(line("Flow of the fan, open", reading.flow_after, Kind.FLOW, system))
    if reading.pressure_closed is not None:
        closed = show(reading.pressure_closed, Kind.PRESSURE, system)
        lines.append(Line(f"{_PRESSURE}, closed again", closed))
    return tuple(lines)


def _leaks(result: ZoneLeaks, system: DisplaySystem) -> tuple[Line, ...]:
    values = (
        ("House to zone, alone at 50 Pa", result.house_50),
        ("Zone to outdoors, alone at 50 Pa", result.outdoors_50),
        ("Through the zone, house at 50 Pa", result.flow_50),
    )
    return tuple(limited_line(words, of, Kind.FLOW, system) for words, of in values if of)


WORDS = TestWords(
    reading=ZonePressureTest,
    name="Zone pressure",
    method=always("Two leaks in series: mass balance and power laws, one pressure read"),
    readings=_readings,
    results=_results,
)

ADDED_HOLE = TestWords(
    reading=AddedHoleTest,
    name="Zone pressure with an added hole",
    method=always("Mass balance of the zone before and after a measured hole is opened"),
    readings=_opened_readings,
    results=_leaks,
)

OPENED_HATCH = TestWords(
    reading=OpenedHatchTest,
    name="Zone pressure with an opened hatch",
    method=always("Mass balance of the zone, and what the fan gains when a hatch is opened"),
    readings=_opened_readings,
    results=_leaks,
)
