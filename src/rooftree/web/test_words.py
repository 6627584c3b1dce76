"""What each kind of reduced test says, line by line."""

from __future__ import annotations

from functools import singledispatch
from typing import TYPE_CHECKING

from rooftree.readings.airtightness import FanTest, FanTestResult
from rooftree.readings.combustion.readings import CombustionTest
from rooftree.readings.duct_leakage.readings import DuctLeakageTest
from rooftree.readings.zone_pressures import ZonePressureResult, ZonePressureTest
from rooftree.units import Kind, show
from rooftree.web.fan_words import Line, curve_lines, size_lines

if TYPE_CHECKING:
    from rooftree.units import DisplaySystem

KIND_NAMES = {
    FanTest: "Fan test of the enclosure",
    ZonePressureTest: "Zone pressure",
    DuctLeakageTest: "Duct leakage",
    CombustionTest: "Combustion",
}
"""What each kind of test is called."""


@singledispatch
def result_lines(result: object, system: DisplaySystem) -> tuple[Line, ...]:
    """Return what a reduced test says.

    Parameters
    ----------
    result : object
        Result of any test; None where it could not be reduced.
    system : DisplaySystem
        Units in which values are shown.

    Returns
    -------
    tuple of Line
    """
    del result, system
    return ()


@result_lines.register(FanTestResult)
def _(result: FanTestResult, system: DisplaySystem) -> tuple[Line, ...]:
    return (*size_lines(result.sizes, system)[:2], *curve_lines(result, system))


@result_lines.register(ZonePressureResult)
def _(result: ZonePressureResult, system: DisplaySystem) -> tuple[Line, ...]:
    share = show(result.pressure_share, Kind.FRACTION, system)
    lines = [Line("Zone pressure over house pressure", share)]
    if result.ratio is not None:
        ratio = result.ratio
        limits = f"{ratio.low:.2f} to {ratio.high:.2f}"
        lines.append(Line("Outdoor leak over house leak", f"{ratio.value:.2f}", limits))
    return (*lines, Line("In words", result.says))
