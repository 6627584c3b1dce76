"""The fit of a fan test as a drawing: stations, curve, limits, and 50 Pa."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from rooftree.readings.airtightness import Direction
from rooftree.units import Kind, show, show_range, shown_unit
from rooftree.web.charts import COOL, FAINT, INK, SOFT, WARM, Drawing, chart_spec

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.readings.airtightness import FanTestResult, StationResult
    from rooftree.units import DisplaySystem, Unit

_PRESSURE_TICKS = (4, 10, 15, 20, 30, 40, 50, 60, 80, 100)
_STEPS = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 7.0)

_LEFT_OUT = "left out of the fit"

_LOOKS = {
    "house pulled": (COOL, "circle"),
    "house pushed": (WARM, "diamond"),
    _LEFT_OUT: (WARM, "cross"),
}
"""Colour and shape of each kind of station, by its words in the legend."""

_WORDS = {
    Direction.DEPRESSURIZE: "house pulled",
    Direction.PRESSURIZE: "house pushed",
}


def fit_chart(results: Sequence[FanTestResult], system: DisplaySystem) -> Drawing:
    """Return the drawing of one test, or of one in each direction.

    Parameters
    ----------
    results : sequence of FanTestResult
        One or more tests.
    system : DisplaySystem
        Units of the flows; pressures are in pascals everywhere.

    Returns
    -------
    Drawing
    """
    unit = shown_unit(Kind.FLOW, system, size=results[0].flow50.value)
    title = fit_title(results[0], system) if len(results) == 1 else _both_title(results, system)
    low, high = _pressure_span(results)
    shown = _kinds_shown(results)
    layers = [layer for result in results for layer in _layers(result, shown, unit)]
    spec = chart_spec(
        [], height=300, layer=[_fifty(), *layers], encoding=_axes(results, unit, low, high)
    )
    spec.pop("data")
    return Drawing(
        title=title,
        alternative=f"{title} Stations and fitted curve on logarithmic axes; the table has them.",
        spec=spec,
        columns=(
            "Station",
            "House pressure, baseline off, Pa",
            f"Flow through the house, {unit.name}",
            "Off the curve",
        ),
        rows=tuple(_row(result, one, unit) for result in results for one in result.stations),
    )


def fit_title(result: FanTestResult, system: DisplaySystem) -> str:
    """Return in one sentence how well the test knows the flow at 50 Pa."""
    flow = result.flow50
    shown = show(flow.value, Kind.FLOW, system)
    limits = show_range(flow.low, flow.high, Kind.FLOW, system)
    return f"{shown} at 50 Pa, and 95 % sure to lie within {limits}."


def _both_title(results: Sequence[FanTestResult], system: DisplaySystem) -> str:
    flows = [result.flow50.value for result in results]
    apart = (max(flows) - min(flows)) / (sum(flows) / len(flows))
    agree = "agree" if apart < 0.1 else "differ by"
    how_far = f"within {apart:.0%}" if apart < 0.1 else f"{apart:.0%}"
    span = show_range(min(flows), max(flows), Kind.FLOW, system)
    return f"The tests {agree} {how_far} at 50 Pa: {span}.".replace("%", " %")


def _pressure_span(results: Sequence[FanTestResult]) -> tuple[float, float]:
    reached = [p for result in results for p in result.band.pressures]
    reached += [one.induced_pressure for r in results for one in r.stations if one.is_used]
    return min(8.0, *reached), max(62.0, *(1.05 * p for p in reached))


def _axes(results: Sequence[FanTestResult], unit: Unit, low: float, high: float) -> dict[str, Any]:
    flows = [
        unit.from_core(flow)
        for result in results
        for flow in (*result.band.lows, *result.band.highs, *(s.flow for s in result.stations))
        if flow > 0.0
    ]
    bottom, top = 0.85 * min(flows), 1.15 * max(flows)
    ticks = [p for p in _PRESSURE_TICKS if low <= p <= high]
    return {
        "x": {
            "field": "pressure",
            "type": "quantitative",
            "scale": {"type": "log", "domain": [low, high], "nice": False},
            "axis": {"title": "house pressure, Pa", "values": ticks, "grid": False},
        },
        "y": {
            "field": "flow",
            "type": "quantitative",
            "scale": {"type": "log", "domain": [bottom, top], "nice": False},
            "axis": {"title": unit.name, "values": log_ticks(bottom, top), "format": ",~r"},
        },
    }


def log_ticks(low: float, high: float) -> list[float]:
    """Return round values between two limits for a logarithmic axis.

    Examples
    --------
    >>> log_ticks(800.0, 3200.0)
    [1000.0, 1500.0, 2000.0, 3000.0]
    """
    decades = range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1)
    every = [step * 10.0**k for k in decades for step in _STEPS]
    return [value for value in every if low <= value <= high]


def _fifty() -> dict[str, Any]:
    return {
        "data": {"values": [{"pressure": 50.0}]},
        "mark": {"type": "rule", "color": SOFT, "strokeDash": [3, 4]},
        "encoding": {"y": None},
    }


def _kinds_shown(results: Sequence[FanTestResult]) -> list[str]:
    """Return the kinds of station that are drawn, for the legend."""
    kinds = {_WORDS[result.direction] for result in results}
    if any(not one.is_used for result in results for one in result.stations):
        kinds.add(_LEFT_OUT)
    return [words for words in _LOOKS if words in kinds]


def _layers(result: FanTestResult, shown: list[str], unit: Unit) -> list[dict[str, Any]]:
    band = [
        {
            "pressure": pressure,
            "flow": unit.from_core(flow),
            "low": unit.from_core(low),
            "high": unit.from_core(high),
        }
        for pressure, flow, low, high in zip(
            result.band.pressures,
            result.band.flows,
            result.band.lows,
            result.band.highs,
            strict=True,
        )
    ]
    limits = {
        "data": {"values": band},
        "mark": {"type": "area", "color": FAINT, "opacity": 0.35},
        "encoding": {"y": {"field": "low", "type": "quantitative"}, "y2": {"field": "high"}},
    }
    line = {"data": {"values": band}, "mark": {"type": "line", "color": INK, "strokeWidth": 1.6}}
    used = [one for one in result.stations if one.is_used]
    out = [one for one in result.stations if not one.is_used and one.flow > 0.0]
    words = _WORDS[result.direction]
    return [limits, line, *_points(used, words, shown, unit), *_points(out, _LEFT_OUT, shown, unit)]


def _points(
    stations: Sequence[StationResult], words: str, shown: list[str], unit: Unit
) -> list[dict[str, Any]]:
    """Return the layer of these stations, marked and named in the legend by the words."""
    values = [
        {"pressure": abs(one.induced_pressure), "flow": unit.from_core(one.flow), "kind": words}
        for one in stations
    ]
    mark = {"type": "point", "size": 80, "opacity": 1, "filled": words != _LEFT_OUT}
    encoding = {
        channel: {
            "field": "kind",
            "type": "nominal",
            "scale": {"domain": list(_LOOKS), "range": [look[k] for look in _LOOKS.values()]},
            "legend": {"title": None, "orient": "top", "values": shown},
        }
        for k, channel in enumerate(("color", "shape"))
    }
    layer = {"data": {"values": values}, "mark": mark, "encoding": encoding}
    return [layer] if values else []


def _row(result: FanTestResult, one: StationResult, unit: Unit) -> tuple[str, ...]:
    off = "left out" if one.residual is None else f"{one.residual:+.1%}"
    return (
        f"{one.number}, {_WORDS[result.direction]}",
        f"{one.induced_pressure:.1f}",
        f"{unit.from_core(one.flow):,.0f}",
        off.replace("-", "−").replace("%", " %"),
    )
