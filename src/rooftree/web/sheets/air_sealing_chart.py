"""The flow of the fan while a house is sealed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.units import Kind, show, shown_unit
from rooftree.web.charts import COOL, FAINT, INK, WARM, Drawing, chart_spec

if TYPE_CHECKING:
    from rooftree.readings.air_sealing import AirSealingLog, AirSealingResult
    from rooftree.units import DisplaySystem, Unit

HOUR = 3600.0
TEST_PRESSURE = 50.0
"""At which limits are stated [Pa]."""


def draw_air_sealing(
    reading: AirSealingLog, result: AirSealingResult, system: DisplaySystem
) -> Drawing | None:
    """Return the drawing of the flow at the held pressure against time.

    Parameters
    ----------
    reading : AirSealingLog
        As typed.
    result : AirSealingResult
        As reduced.
    system : DisplaySystem
        Units of the scale and the table.

    Returns
    -------
    Drawing or None
        None before something was sealed.
    """
    if result.start is None or result.flow is None or not result.locations:
        return None
    unit = shown_unit(Kind.FLOW, system, size=result.start.value)
    points = _points(result, unit)
    before, now = (show(each.value, Kind.FLOW, system) for each in (result.start, result.flow))
    title = f"From {before} to {now} at {reading.held_pressure:g} Pa."
    layers = [_noise(), _line(), _dots(), *_limits(reading, result, unit)]
    return Drawing(
        title=title,
        alternative=f"{title} Flow after each location, with its scatter, and limits ahead.",
        spec=chart_spec(points, height=260, layer=layers, encoding=_axes(unit)),
        columns=("Sealed", "Time, h", f"Flow, {unit.name}"),
        rows=tuple((p["location"], f"{p['time']:.2f}", f"{p['flow']:,.0f}") for p in points),
    )


def _points(result: AirSealingResult, unit: Unit) -> list[dict[str, Any]]:
    return [
        {
            "time": round(each.time / HOUR, 4),
            "location": each.location or "before",
            "flow": round(unit.from_core(each.flow), 1),
            "low": round(unit.from_core(each.flow - 2.0 * each.noise), 1),
            "high": round(unit.from_core(each.flow + 2.0 * each.noise), 1),
        }
        for each in result.curve
    ]


def _axes(unit: Unit) -> dict[str, Any]:
    return {
        "x": {
            "field": "time",
            "type": "quantitative",
            "axis": {"title": "time, h", "grid": False, "tickCount": 5},
        },
        "y": {
            "field": "flow",
            "type": "quantitative",
            "scale": {"zero": True},
            "axis": {"title": unit.name, "tickCount": 5, "domain": False, "ticks": False},
        },
    }


def _noise() -> dict[str, Any]:
    return {
        "mark": {"type": "rule", "color": FAINT, "strokeWidth": 5},
        "encoding": {"y": {"field": "low", "type": "quantitative"}, "y2": {"field": "high"}},
    }


def _line() -> dict[str, Any]:
    return {"mark": {"type": "line", "interpolate": "step-after", "color": INK, "strokeWidth": 1.4}}


def _dots() -> dict[str, Any]:
    return {"mark": {"type": "point", "filled": True, "size": 70, "color": COOL, "opacity": 1}}


def _limits(reading: AirSealingLog, result: AirSealingResult, unit: Unit) -> list[dict[str, Any]]:
    """Return a rule for each limit, brought to the held pressure."""
    carried = (reading.held_pressure / TEST_PRESSURE) ** reading.exponent
    layers: list[dict[str, Any]] = []
    for limit in result.limits:
        if limit.limit <= 0.0:
            continue
        value = [{"flow": unit.from_core(limit.limit * carried), "words": limit.name}]
        layers.append(
            {
                "data": {"values": value},
                "mark": {"type": "rule", "color": WARM, "strokeDash": [4, 4]},
                "encoding": {"x": None},
            }
        )
        layers.append(
            {
                "data": {"values": value},
                "mark": {"type": "text", "align": "left", "dy": -7, "color": WARM},
                "encoding": {"x": {"value": 4}, "text": {"field": "words"}},
            }
        )
    return layers
