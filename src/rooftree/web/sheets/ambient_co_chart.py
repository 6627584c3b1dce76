"""The drawing of carbon monoxide in room air over the visit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.readings.ambient_co.judge import level_limit
from rooftree.web.charts import COOL, INK, SOFT, WARM, Drawing, chart_spec

if TYPE_CHECKING:
    from rooftree.readings.ambient_co import AmbientResult, AmbientTest
    from rooftree.units import DisplaySystem

MOST_POINTS = 400
"""Readings that are drawn, evenly chosen from longer logs."""


def draw_ambient_co(
    reading: AmbientTest, result: AmbientResult, system: DisplaySystem
) -> Drawing | None:
    """Return the drawing of every place over time; ppm in any system.

    Parameters
    ----------
    reading : AmbientTest
        As read.
    result : AmbientResult
        As reduced.
    system : DisplaySystem
        Units, which parts per million do not need.

    Returns
    -------
    Drawing or None
        None before two readings.
    """
    del system
    if len(reading.air) < 2 or result.highest is None:
        return None
    every = -(-len(reading.air) // MOST_POINTS)
    values = [
        {
            "minutes": round(one.seconds / 60.0, 1),
            "ppm": round(one.carbon_monoxide, 1),
            "place": one.place.strip().lower(),
        }
        for one in reading.air[::every]
    ]
    highest = result.highest
    title = f"At most {highest.highest:.0f} ppm indoors ({highest.place.strip().lower()})."
    return Drawing(
        title=title,
        alternative=f"{title} One line for each place over the visit; the table has its ends.",
        spec=chart_spec(values, height=240, layer=_layers(highest.highest, _encoding(values))),
        key=_key(highest.highest),
        columns=("Place", "First, ppm", "Last, ppm", "Highest, ppm"),
        rows=tuple(
            (place.place, f"{place.first:.0f}", f"{place.last:.0f}", f"{place.highest:.0f}")
            for place in result.places
        ),
    )


def _encoding(values: list[dict[str, Any]]) -> dict[str, Any]:
    places = list(dict.fromkeys(value["place"] for value in values))
    return {
        "x": {
            "field": "minutes",
            "type": "quantitative",
            "axis": {"title": "minutes", "grid": False, "tickCount": 6},
        },
        "y": {
            "field": "ppm",
            "type": "quantitative",
            "axis": {"title": "carbon monoxide, ppm", "tickCount": 5},
        },
        "color": {
            "field": "place",
            "type": "nominal",
            "sort": places,
            "scale": {"domain": places, "range": [COOL, WARM, INK, SOFT]},
            "legend": {"title": None, "orient": "top", "columns": 3},
        },
        "shape": {
            "field": "place",
            "type": "nominal",
            "sort": places,
            "legend": {"title": None, "orient": "top", "columns": 3},
        },
    }


def _layers(highest: float, encoding: dict[str, Any]) -> list[dict[str, Any]]:
    values = [{"ppm": limit} for limit, _ in _limits(highest)]
    of_line = {name: of for name, of in encoding.items() if name != "shape"}
    return [
        {
            "data": {"values": values},
            "mark": {"type": "rule", "color": SOFT, "strokeDash": [3, 4]},
            "encoding": {"y": encoding["y"]},
        },
        {"mark": {"type": "line", "strokeWidth": 1.6}, "encoding": of_line},
        {"mark": {"type": "point", "filled": True, "size": 60, "opacity": 1}, "encoding": encoding},
    ]


def _limits(highest: float) -> list[tuple[float, str]]:
    """Return the levels that are near enough to be drawn, each with what it asks for."""
    demands = ("find the source", "stop the test", "leave the house")
    limits = [(level_limit(demand).value, demand) for demand in demands]
    return [one for one in limits if one[0] <= max(1.6 * highest, limits[0][0])]


def _key(highest: float) -> str:
    told = "; ".join(f"from {limit:g} ppm {demand}" for limit, demand in _limits(highest))
    return f"Dashed: {told}."
