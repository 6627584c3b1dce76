"""The drawing of moisture readings: surfaces against the dew point of their air."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.units import Kind, show, shown_unit
from rooftree.web.charts import COOL, FAINT, INK, WARM, Drawing, chart_spec

if TYPE_CHECKING:
    from rooftree.readings.moisture import MoistureResult, MoistureTest
    from rooftree.units import DisplaySystem

ROW = 46
"""Height of one row of a drawing [px]."""

MOST_SURFACES = 30
"""Surfaces that are drawn; the table has them all."""

LEGEND = ("dew point", "air", "surface")


def draw_moisture(_: MoistureTest, result: MoistureResult, system: DisplaySystem) -> Drawing | None:
    """Return the drawing of every air with its dew point and the surfaces in it.

    Parameters
    ----------
    _ : MoistureTest
        As read; not used.
    result : MoistureResult
        As reduced.
    system : DisplaySystem
        Units of the temperatures.

    Returns
    -------
    Drawing or None
        None where no air could be reduced.
    """
    if not result.places:
        return None
    unit = shown_unit(Kind.TEMPERATURE, system)
    spans = [
        {
            "place": place.name,
            "low": round(unit.from_core(place.dew_point.low), 2),
            "high": round(unit.from_core(place.dew_point.high), 2),
            "dew": round(unit.from_core(place.dew_point.value), 2),
            "air": round(unit.from_core(place.temperature.value), 2),
        }
        for place in result.places
    ]
    known = {place.name for place in result.places}
    points: list[dict[str, object]] = [
        {"place": span["place"], "at": span[name], "is": words}
        for span in spans
        for name, words in (("dew", LEGEND[0]), ("air", LEGEND[1]))
    ]
    faces = [s for s in result.surfaces if s.temperature is not None and s.place in known]
    points += [
        {
            "place": face.place,
            "at": round(unit.from_core(face.temperature.value), 2),
            "is": LEGEND[2],
            "name": face.name,
        }
        for face in faces[:MOST_SURFACES]
        if face.temperature is not None
    ]
    title = _title(result)
    spec = chart_spec([], height=ROW * len(spans) + 30, layer=_layers(spans, points, unit.name))
    spec.pop("data")
    return Drawing(
        title=title,
        alternative=(
            f"{title} One row for each place: its dew point with its 95 % range, its air, and the"
            " surfaces in it; the table has them."
        ),
        spec=spec,
        columns=("Place or surface", "Temperature", "Dew point of its air"),
        rows=_rows(result, system),
    )


def _title(result: MoistureResult) -> str:
    wet = [s.name for s in result.surfaces if (s.condensing or 0.0) >= 0.5]
    if wet:
        verb = "is" if len(wet) == 1 else "are"
        return f"{', '.join(wet[:3])} {verb} colder than the dew point of the air."
    if any(surface.condensing is not None for surface in result.surfaces):
        return "No surface that was read is below the dew point of its air."
    wettest = result.ranking[0]
    if len(result.ranking) == 1:
        return f"The air of {wettest} and its dew point."
    return f"The air of {wettest} holds the most water: its dew point is the highest."


def _rows(result: MoistureResult, system: DisplaySystem) -> tuple[tuple[str, ...], ...]:
    def shown(value: float) -> str:
        return show(value, Kind.TEMPERATURE, system)

    dews = {place.name: shown(place.dew_point.value) for place in result.places}
    rows = [
        (place.name, shown(place.temperature.value), dews[place.name]) for place in result.places
    ]
    rows += [
        (surface.name, shown(surface.temperature.value), dews.get(surface.place, ""))
        for surface in result.surfaces
        if surface.temperature is not None
    ]
    return tuple(rows)


def _layers(
    spans: list[dict[str, Any]], points: list[dict[str, object]], unit: str
) -> list[dict[str, Any]]:
    y = {
        "field": "place",
        "type": "nominal",
        "sort": None,
        "axis": {"title": None, "labelLimit": 140, "ticks": False, "domain": False},
    }
    x = {
        "type": "quantitative",
        "scale": {"zero": False, "padding": 16},
        "axis": {"title": unit, "grid": False, "tickCount": 6},
    }
    scale = {"domain": LEGEND, "range": [COOL, INK, WARM]}
    shapes = {"domain": LEGEND, "range": ["diamond", "circle", "triangle-up"]}
    legend = {"title": None, "orient": "top"}
    return [
        {
            "data": {"values": spans},
            "mark": {"type": "rule", "color": FAINT, "strokeWidth": 1.4},
            "encoding": {
                "y": y,
                "x": {"field": "dew", **x},
                "x2": {"field": "air"},
            },
        },
        {
            "data": {"values": spans},
            "mark": {"type": "rule", "color": COOL, "strokeWidth": 5, "opacity": 0.35},
            "encoding": {"y": y, "x": {"field": "low", **x}, "x2": {"field": "high"}},
        },
        {
            "data": {"values": points},
            "mark": {"type": "point", "filled": True, "size": 90, "opacity": 1},
            "encoding": {
                "y": y,
                "x": {"field": "at", **x},
                "color": {"field": "is", "type": "nominal", "scale": scale, "legend": legend},
                "shape": {"field": "is", "type": "nominal", "scale": shapes, "legend": legend},
            },
        },
        {
            "data": {"values": [point for point in points if "name" in point]},
            "mark": {"type": "text", "dy": -12, "fontSize": 11, "color": INK},
            "encoding": {
                "y": y,
                "x": {"field": "at", **x},
                "text": {"field": "name", "type": "nominal"},
            },
        },
    ]
