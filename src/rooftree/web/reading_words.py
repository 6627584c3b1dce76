"""What each kind of reduced test says, line by line."""

from __future__ import annotations

from functools import singledispatch
from typing import TYPE_CHECKING

from rooftree.readings.airtightness import FanTest, FanTestResult
from rooftree.readings.combustion import CombustionResult, CombustionTest
from rooftree.readings.duct_leakage import DuctLeakageResult, DuctLeakageTest
from rooftree.readings.zone_pressures import ZonePressureResult, ZonePressureTest
from rooftree.units import Kind, show, show_range
from rooftree.web.fan_words import Line, curve_lines, size_lines

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated
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
    return tuple(lines)


@result_lines.register(DuctLeakageResult)
def _(result: DuctLeakageResult, system: DisplaySystem) -> tuple[Line, ...]:
    to = "to outdoors" if result.to_outdoors else "in all"
    values = (
        (f"Leakage at 25 Pa {to}", result.flow_25, Kind.FLOW),
        ("Over the air handler's flow", result.share, Kind.FRACTION),
        ("Over the floor area", result.per_floor_area, Kind.PERMEABILITY),
    )
    return tuple(_with_limits(words, of, kind, system) for words, of, kind in values if of)


@result_lines.register(CombustionResult)
def _(result: CombustionResult, system: DisplaySystem) -> tuple[Line, ...]:
    pressure = show(result.net_pressure, Kind.PRESSURE, system)
    lines = [Line("Worst case, baseline taken off", pressure)]
    if result.flue_co_air_free is not None:
        co = show(result.flue_co_air_free, Kind.CONCENTRATION, system)
        lines.append(Line("Carbon monoxide in the flue, air free", co))
    steps = (
        Line(step.step.value.capitalize(), "see below" if step.findings else "nothing found")
        for step in result.steps
    )
    return (*lines, *steps)


def _with_limits(words: str, of: Propagated, kind: Kind, system: DisplaySystem) -> Line:
    limits = show_range(of.low, of.high, kind, system)
    return Line(words, show(of.value, kind, system), limits)


def sentence_of(result: object) -> str:
    """Return what a result says in plain words; empty where it says nothing."""
    return result.says if isinstance(result, CombustionResult | ZonePressureResult) else ""


def cautions_of(result: object) -> str:
    """Return the cautions that go with a result; empty where there are none."""
    return result.cautions if isinstance(result, CombustionResult) else ""
