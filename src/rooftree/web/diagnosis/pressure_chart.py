"""The pressure at a burner through the year, against the limit for its flue."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from rooftree.units.showing import MINUS
from rooftree.web.charts import COOL, INK, SOFT, WARM, Drawing, chart_spec
from rooftree.web.diagnosis.weeks import WEEKS, by_week, week_words
from rooftree.web.energy import MONTHS

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.diagnosis import AppliancePressure


def pressure_chart(
    appliance: AppliancePressure, pressure: NDArray[np.float64], name: str
) -> Drawing:
    """Return the pressure of a burner's space, week by week.

    Parameters
    ----------
    appliance : AppliancePressure
        Burner and limit.
    pressure : ndarray, shape (8760,)
        Of its space at the floor, against outdoors [Pa].
    name : str
        What to call the space.

    Returns
    -------
    Drawing
        In pascals in both systems, as every gauge of the trade shows them.
    """
    weeks = by_week(pressure)
    low, mean, high = (np.array([f(week) for week in weeks]) for f in (np.min, np.mean, np.max))
    values = [
        {"week": k, "low": round(float(a), 2), "mean": round(float(b), 2),
         "high": round(float(c), 2)}
        for k, (a, b, c) in enumerate(zip(low, mean, high, strict=True))
    ]  # fmt: skip
    lowest, limit = f"{appliance.lowest:.1f} Pa".replace("-", MINUS), appliance.limit
    title = f"At the {appliance.appliance} the {name} falls to {lowest} against outdoors"
    title += f"; {MINUS}{limit:g} Pa is the limit." if limit is not None else "."
    return Drawing(
        title=title,
        alternative=f"{title} A band from the lowest to the highest hour of each week, a line for "
        "its mean.",
        spec=chart_spec(values, layer=_layers(limit)),
        columns=("Week", "Lowest, Pa", "Mean, Pa", "Highest, Pa"),
        rows=tuple(
            (week_words(k), *(f"{x:.1f}".replace("-", MINUS) for x in row))
            for k, row in enumerate(zip(low, mean, high, strict=True))
        ),
        key="The band goes from the lowest to the highest hour of each week, the line is its "
        "mean" + ("; the dashed line is the limit." if limit is not None else "."),
    )


def _layers(limit: float | None) -> list[dict[str, Any]]:
    starts = [round(WEEKS * k / 12.0, 2) for k in range(12)]
    names = " : ".join(
        f"datum.value == {at} ? '{m[:3]}'" for at, m in zip(starts, MONTHS, strict=True)
    )
    week = {
        "field": "week",
        "type": "quantitative",
        "scale": {"domain": [0, WEEKS - 1], "nice": False},
        "axis": {
            "title": None, "values": starts, "grid": False, "labelExpr": f"{names} : ''",
            "labelOverlap": "greedy", "labelSeparation": 8, "labelAlign": "left",
        },
    }  # fmt: skip
    pressure = {
        "title": "Pa",
        "tickCount": 5,
        "domain": False,
        "ticks": False,
        "labelExpr": "replace(datum.label, '-', '−')",
    }
    band = {
        "mark": {"type": "area", "fill": COOL, "fillOpacity": 0.25},
        "encoding": {
            "x": week,
            "y": {"field": "low", "type": "quantitative", "axis": pressure},
            "y2": {"field": "high"},
        },
    }
    edge = {
        "mark": {"type": "line", "stroke": COOL, "strokeWidth": 1.2},
        "encoding": {"x": week, "y": {"field": "low", "type": "quantitative"}},
    }
    mean = {
        "mark": {"type": "line", "stroke": INK, "strokeWidth": 2},
        "encoding": {"x": week, "y": {"field": "mean", "type": "quantitative"}},
    }
    level = {
        "mark": {"type": "rule", "stroke": SOFT, "strokeWidth": 1},
        "encoding": {"y": {"datum": 0.0}},
    }
    layers: list[dict[str, Any]] = [band, edge, mean, level]
    if limit is not None:
        layers.append({
            "mark": {"type": "rule", "stroke": WARM, "strokeWidth": 2, "strokeDash": [6, 4]},
            "encoding": {"y": {"datum": -limit}},
        })  # fmt: skip
    return layers
