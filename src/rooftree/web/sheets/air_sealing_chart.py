"""The flow of the fan while a house is sealed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.units import Kind, show, shown_unit
from rooftree.web.charts import COOL, FAINT, INK, WARM, Drawing, chart_spec

if TYPE_CHECKING:
    from rooftree.readings.air_sealing import AirSealingLog, AirSealingResult
    from rooftree.units import DisplaySystem, Unit

HOUR = 3600.0

NEAR = 0.7
"""How far from the flows a limit may be to be drawn [-]; the lines of results have all."""

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
    limits = _limits_near(reading, result, unit, points)
    span = [each for point in points for each in (point["low"], point["high"])]
    span += [value for _, value in limits]
    layers = [_noise(), _line(), _dots(), *(layer for one in limits for layer in _limit(*one))]
    return Drawing(
        title=title,
        alternative=f"{title} Flow after each location, with its scatter, and limits ahead.",
        spec=chart_spec(
            points, height=260, layer=layers, encoding=_axes(unit, min(span), max(span))
        ),
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


def _axes(unit: Unit, low: float, high: float) -> dict[str, Any]:
    room = 0.08 * (high - low)
    return {
        "x": {
            "field": "time",
            "type": "quantitative",
            "axis": {"title": "time, h", "grid": False, "tickCount": 5},
        },
        "y": {
            "field": "flow",
            "type": "quantitative",
            "scale": {"domain": [low - room, high + room], "nice": False},
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


def _limits_near(
    reading: AirSealingLog, result: AirSealingResult, unit: Unit, points: list[dict[str, Any]]
) -> list[tuple[str, float]]:
    """Return the limits that fit into the drawing, brought to the held pressure."""
    carried = (reading.held_pressure / TEST_PRESSURE) ** reading.exponent
    low, high = min(p["flow"] for p in points), max(p["flow"] for p in points)
    limits = [(each.name, unit.from_core(each.limit * carried)) for each in result.limits]
    return [(name, value) for name, value in limits if NEAR * low <= value <= high / NEAR]


def _limit(words: str, flow: float) -> tuple[dict[str, Any], dict[str, Any]]:
    values = {"values": [{"flow": flow, "words": words}]}
    rule = {
        "data": values,
        "mark": {"type": "rule", "color": WARM, "strokeDash": [4, 4]},
        "encoding": {"x": None},
    }
    text = {
        "data": values,
        "mark": {"type": "text", "align": "left", "dy": -7, "color": WARM},
        "encoding": {"x": {"value": 4}, "text": {"field": "words"}},
    }
    return rule, text
