"""The drawing of moisture readings: surfaces against the dew point of their air."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.units import Kind, show, shown_unit
from rooftree.web.charts import COOL, FAINT, INK, WARM, Drawing, chart_spec, name_axis

if TYPE_CHECKING:
    from rooftree.readings.moisture import MoistureResult, MoistureTest
    from rooftree.units import DisplaySystem, Unit

ROW = 36
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
    rows = _drawn(result, unit)
    title = _title(result)
    spec = chart_spec([], height=ROW * len(rows) + 30, layer=_layers(rows, unit.name))
    spec.pop("data")
    return Drawing(
        title=title,
        alternative=(
            f"{title} One row for each place: its dew point with its 95 % range, and its air. Below"
            " it each surface in it, against the same dew point. The table has them."
        ),
        spec=spec,
        columns=("Place or surface", "Temperature", "Dew point of its air"),
        rows=_rows(result, system),
    )


def _drawn(result: MoistureResult, unit: Unit) -> list[dict[str, Any]]:
    """Return a row for each place, and below it one for each surface in it."""
    rows: list[dict[str, Any]] = []
    surfaces = [one for one in result.surfaces if one.temperature is not None][:MOST_SURFACES]
    for place in result.places:
        dew = {
            name: round(unit.from_core(getattr(place.dew_point, of)), 2)
            for name, of in (("dew", "value"), ("low", "low"), ("high", "high"))
        }
        air = round(unit.from_core(place.temperature.value), 2)
        rows.append({"row": f"air: {place.name}", "at": air, "is": LEGEND[1], **dew})
        rows += [
            {
                "row": face.name,
                "at": round(unit.from_core(face.temperature.value), 2),
                "is": LEGEND[2],
                **dew,
            }
            for face in surfaces
            if face.place == place.name and face.temperature is not None
        ]
    return rows


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


def _layers(rows: list[dict[str, Any]], unit: str) -> list[dict[str, Any]]:
    y = {
        "field": "row",
        "type": "nominal",
        "sort": None,
        "axis": name_axis(),
    }
    x = {
        "type": "quantitative",
        "scale": {"zero": False, "padding": 16},
        "axis": {"title": unit, "grid": False, "tickCount": 6},
    }
    scale = {"domain": LEGEND, "range": [COOL, INK, WARM]}
    shapes = {"domain": LEGEND, "range": ["diamond", "circle", "triangle-up"]}
    legend = {"title": None, "orient": "top"}
    points = [{"row": row["row"], "at": row["at"], "is": row["is"]} for row in rows]
    points += [
        {"row": row["row"], "at": row["dew"], "is": LEGEND[0]}
        for row in rows
        if row["is"] == LEGEND[1]
    ]
    return [
        {
            "data": {"values": rows},
            "mark": {"type": "rule", "color": FAINT, "strokeWidth": 1.4},
            "encoding": {"y": y, "x": {"field": "dew", **x}, "x2": {"field": "at"}},
        },
        {
            "data": {"values": rows},
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
    ]
