"""Zone pressures in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, TestWords, always, line
from rooftree.readings.zone_pressures import ZonePressureTest
from rooftree.units import Kind

if TYPE_CHECKING:
    from rooftree.readings.zone_pressures import ZonePressureResult
    from rooftree.units import DisplaySystem


def _readings(reading: ZonePressureTest, system: DisplaySystem) -> tuple[Line, ...]:
    return (
        line("House against outdoors", reading.house_pressure, Kind.PRESSURE, system),
        line("House against the zone", reading.zone_pressure, Kind.PRESSURE, system),
    )


def _results(result: ZonePressureResult, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [
        line("Zone pressure over house pressure", result.pressure_share, Kind.FRACTION, system)
    ]
    if result.ratio is not None:
        ratio = result.ratio
        limits = f"{ratio.low:.2f} to {ratio.high:.2f}"
        lines.append(Line("Outdoor leak over house leak", f"{ratio.value:.2f}", limits))
    return tuple(lines)


WORDS = TestWords(
    reading=ZonePressureTest,
    name="Zone pressure",
    method=always("Two leaks in series: mass balance and power law, one pressure read"),
    readings=_readings,
    results=_results,
)
