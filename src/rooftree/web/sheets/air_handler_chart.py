"""The drawing of an air handler: flow by each method, or where the fan's pressure goes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.units import Kind, show, show_range, shown_unit
from rooftree.web.charts import COOL, FAINT, INK, SOFT, WARM, Drawing, chart_spec, name_axis

if TYPE_CHECKING:
    from rooftree.readings.air_handler import AirHandlerResult, AirHandlerTest
    from rooftree.units import DisplaySystem

ROW = 44
"""Height of one row of a drawing [px]."""


def draw_air_handler(
    reading: AirHandlerTest, result: AirHandlerResult, system: DisplaySystem
) -> Drawing | None:
    """Return the drawing of the flows where there are two, else of the drops.

    Parameters
    ----------
    reading : AirHandlerTest
        As read.
    result : AirHandlerResult
        As reduced.
    system : DisplaySystem
        Units of scale and table.

    Returns
    -------
    Drawing or None
        None where there is nothing to compare.
    """
    if len(result.flows) >= 2:
        return _draw_flows(result, system)
    if len(reading.drops) >= 2:
        return _draw_drops(reading, result, system)
    return None


def _draw_flows(result: AirHandlerResult, system: DisplaySystem) -> Drawing:
    unit = shown_unit(Kind.FLOW, system, size=result.flows[0].flow.value)
    values = [
        {
            "method": each.method,
            "flow": unit.from_core(each.flow.value),
            "low": unit.from_core(each.flow.low),
            "high": unit.from_core(each.flow.high),
        }
        for each in result.flows
    ]
    chance = result.chance if result.chance is not None else 1.0
    mean = show(result.flow.value, Kind.FLOW, system) if result.flow else ""
    agree = "agree within their doubt" if chance >= 0.01 else "cannot all be right"
    title = f"The methods {agree}; their mean is {mean}."
    y = {
        "field": "method",
        "type": "nominal",
        "sort": None,
        "axis": name_axis(),
    }
    layers: list[dict[str, Any]] = [
        {
            "mark": {"type": "rule", "color": INK, "strokeWidth": 1.6},
            "encoding": {
                "x": {
                    "field": "low",
                    "type": "quantitative",
                    "scale": {"zero": False, "nice": True},
                    "axis": {
                        "title": unit.name,
                        "grid": False,
                        "tickCount": 4,
                        "labelOverlap": True,
                    },
                },
                "x2": {"field": "high"},
            },
        },
        {
            "mark": {"type": "point", "filled": True, "size": 90, "color": COOL, "opacity": 1},
            "encoding": {"x": {"field": "flow", "type": "quantitative"}},
        },
    ]
    if result.flow is not None:
        layers.insert(
            0,
            {
                "data": {"values": [{"mean": unit.from_core(result.flow.value)}]},
                "mark": {"type": "rule", "color": SOFT, "strokeDash": [3, 4]},
                "encoding": {"x": {"field": "mean", "type": "quantitative"}, "y": None},
            },
        )
    return Drawing(
        title=title,
        alternative=f"{title} One point with its 95 % range for each method; the table has them.",
        key="Dashed: their mean." if result.flow is not None else "",
        spec=chart_spec(values, height=ROW * len(values), layer=layers, encoding={"y": y}),
        columns=("Method", f"Flow, {unit.name}", "95 % range"),
        rows=tuple(
            (
                each.method,
                f"{unit.from_core(each.flow.value):,.0f}",
                show_range(each.flow.low, each.flow.high, Kind.FLOW, system),
            )
            for each in result.flows
        ),
    )


def _draw_drops(
    reading: AirHandlerTest, result: AirHandlerResult, system: DisplaySystem
) -> Drawing:
    unit = shown_unit(Kind.STATIC_PRESSURE, system)
    values = [
        {
            "part": row.part.value,
            "drop": unit.from_core(row.drop),
            "where": "inside the cabinet" if row.inside else "outside",
        }
        for row in reading.drops
    ]
    largest = max(reading.drops, key=lambda row: row.drop)
    total = result.total_static
    of = f" of {show(total.value, Kind.STATIC_PRESSURE, system)}" if total else ""
    title = (
        f"The {largest.part.value} takes"
        f" {show(largest.drop, Kind.STATIC_PRESSURE, system)}{of}, more than any other part."
    )
    encoding = {
        "y": {
            "field": "part",
            "type": "nominal",
            "sort": None,
            "axis": {"title": None, "ticks": False, "domain": False},
        },
        "x": {
            "field": "drop",
            "type": "quantitative",
            "axis": {"title": unit.name, "grid": False, "tickCount": 4, "labelOverlap": True},
        },
        "color": {
            "field": "where",
            "type": "nominal",
            "scale": {"domain": ["outside", "inside the cabinet"], "range": [WARM, FAINT]},
            "legend": {"title": None, "orient": "top"},
        },
    }
    return Drawing(
        title=title,
        alternative=f"{title} One bar for each part; the table has them.",
        spec=chart_spec(
            values, height=ROW * len(values), mark={"type": "bar", "height": 18}, encoding=encoding
        ),
        columns=("Part", f"Drop, {unit.name}", "Where"),
        rows=tuple(
            (
                str(row["part"]),
                f"{row['drop']:.2f}" if unit.name != "Pa" else f"{row['drop']:.0f}",
                str(row["where"]),
            )
            for row in values
        ),
    )
