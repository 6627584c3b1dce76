"""The drawing of a tracer decay: excess over outdoors on a logarithmic scale, and the line."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.units import Kind, show
from rooftree.web.charts import COOL, INK, SOFT, WARM, Drawing, chart_spec

if TYPE_CHECKING:
    from rooftree.readings.tracer_decay import TracerDecayResult, TracerDecayTest
    from rooftree.units import DisplaySystem

MINUTE = 60.0
MOST_ROWS = 12
"""Points that the table lists for each place; the drawing has all of them."""


def draw_tracer_decay(
    _: TracerDecayTest, result: TracerDecayResult, system: DisplaySystem
) -> Drawing | None:
    """Return the drawing of a decay.

    Parameters
    ----------
    _ : TracerDecayTest
        Not used: the result has what is drawn.
    result : TracerDecayResult
        As reduced.
    system : DisplaySystem
        Units of the title.

    Returns
    -------
    Drawing or None
        None where no decay was fitted.
    """
    if not result.positions:
        return None
    points = [
        {"minute": time / MINUTE, "excess": excess, "place": one.position or "indoors"}
        for one in result.positions
        for time, excess in zip(one.times, one.excess, strict=True)
    ]
    ends = [
        {"minute": time / MINUTE, "excess": one.line.at(time), "place": one.position or "indoors"}
        for one in result.positions
        for time in (one.times[0], one.times[-1])
    ]
    title = (
        "A straight line on this scale is a steady air change; this one gives"
        f" {show(result.air_changes.value, Kind.AIR_CHANGES, system)}."
        if result.air_changes is not None
        else "The excess over outdoors so far; it does not give a rate yet."
    )
    x = {
        "field": "minute",
        "type": "quantitative",
        "axis": {"title": "minutes", "grid": False, "tickCount": 6},
        "scale": {"zero": False, "nice": False},
    }
    y = {
        "field": "excess",
        "type": "quantitative",
        "scale": {"type": "log", "nice": False},
        "axis": {"title": "above outdoors, ppm", "tickCount": 5, "gridOpacity": 0.4},
    }
    places = [one.position or "indoors" for one in result.positions]
    colour: dict[str, Any] = {
        "field": "place",
        "type": "nominal",
        "scale": {"domain": places, "range": [COOL, WARM, INK, SOFT]},
        "legend": {"title": None, "orient": "top"} if len(places) > 1 else None,
    }
    layers = [
        {
            "data": {"values": ends},
            "mark": {"type": "line", "strokeWidth": 1.6},
            "encoding": {"x": x, "y": y, "color": colour},
        },
        {
            "mark": {"type": "point", "filled": True, "size": 42, "opacity": 0.85},
            "encoding": {"x": x, "y": y, "color": colour},
        },
    ]
    return Drawing(
        title=title,
        alternative=(
            f"{title} Points for what was read, averaged where there are many, and one line for"
            " each place. The table has some of them."
        ),
        spec=chart_spec(points, height=260, layer=layers),
        columns=("Minutes", "Place", "Above outdoors, ppm", "On the line, ppm"),
        rows=tuple(
            (
                f"{one.times[index] / MINUTE:.0f}",
                one.position or "indoors",
                f"{one.excess[index]:.0f}",
                f"{one.line.at(one.times[index]):.0f}",
            )
            for one in result.positions
            for index in _some(len(one.times))
        ),
    )


def _some(count: int) -> list[int]:
    """Return places spread evenly over a list, both ends among them."""
    if count <= MOST_ROWS:
        return list(range(count))
    return [round(step * (count - 1) / (MOST_ROWS - 1)) for step in range(MOST_ROWS)]
