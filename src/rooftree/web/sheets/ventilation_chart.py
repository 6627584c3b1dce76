"""The drawing of ventilation: what each edition asks for beside what the fans give."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.units import Kind, show, shown_unit
from rooftree.web.charts import COOL, INK, SOFT, WARM, Drawing, chart_spec

if TYPE_CHECKING:
    from rooftree.readings.ventilation import VentilationResult, VentilationTest
    from rooftree.units import DisplaySystem

ROW = 34
"""Height of one row of a drawing [px]."""


def draw_ventilation(
    _: VentilationTest, result: VentilationResult, system: DisplaySystem
) -> Drawing | None:
    """Return the drawing of the need by edition.

    Parameters
    ----------
    _ : VentilationTest
        Not used: the result has what is drawn.
    result : VentilationResult
        As reduced.
    system : DisplaySystem
        Units of scale and table.

    Returns
    -------
    Drawing or None
        None where the need is not known.
    """
    if not result.editions:
        return None
    provided = result.provided
    most = max(provided.high, *(need.total for need in result.editions))
    unit = shown_unit(Kind.FLOW, system, size=most)
    values = [
        {"edition": need.edition, "part": part, "flow": unit.from_core(flow), "order": order}
        for need in result.editions
        for order, (part, flow) in enumerate(
            (("fans must give", need.fan), ("leaks are credited", need.total - need.fan))
        )
    ]
    short = [need.edition for need in result.editions if need.missing > 0.0]
    gives = (
        f"The fans give {show(provided.value, Kind.FLOW, system)}"
        if provided.value > 0.0
        else "No whole-house fan"
    )
    title = (
        f"{gives}: too little by {_and(short, len(result.editions))}."
        if short
        else f"{gives}: enough by every edition."
    )
    y = {
        "field": "edition",
        "type": "nominal",
        "sort": None,
        "axis": {"title": None, "ticks": False, "domain": False},
    }
    bars = {
        "mark": {"type": "bar", "height": 15},
        "encoding": {
            "y": y,
            "x": {
                "field": "flow",
                "type": "quantitative",
                "stack": "zero",
                "axis": {"title": unit.name, "grid": False, "tickCount": 6},
            },
            "order": {"field": "order", "type": "quantitative"},
            "color": {
                "field": "part",
                "type": "nominal",
                "scale": {
                    "domain": ["fans must give", "leaks are credited"],
                    "range": [WARM, SOFT],
                },
                "legend": {"title": None, "orient": "top"},
            },
        },
    }
    given = {
        "data": {
            "values": [
                {
                    "given": unit.from_core(provided.value),
                    "low": unit.from_core(provided.low),
                    "high": unit.from_core(provided.high),
                }
            ]
        },
        "layer": [
            {
                "mark": {"type": "rect", "color": COOL, "opacity": 0.18},
                "encoding": {
                    "x": {"field": "low", "type": "quantitative"},
                    "x2": {"field": "high"},
                },
            },
            {
                "mark": {"type": "rule", "color": INK, "strokeWidth": 1.6},
                "encoding": {"x": {"field": "given", "type": "quantitative"}},
            },
        ],
    }
    return Drawing(
        title=title,
        alternative=(
            f"{title} One bar for each edition of ASHRAE 62.2: what fans must give and what leaks"
            " are credited; a line with its range for what the fans give. The table has them."
        ),
        spec=chart_spec(values, height=ROW * len(result.editions) + 30, layer=[bars, given]),
        columns=("Edition", "Whole rate", "Fans must give", "Short by"),
        rows=tuple(
            (
                need.edition,
                show(need.total, Kind.FLOW, system),
                show(need.fan, Kind.FLOW, system),
                show(need.missing, Kind.FLOW, system),
            )
            for need in result.editions
        ),
    )


def _and(years: list[str], among: int) -> str:
    if len(years) == among:
        return "every edition"
    return years[0] if len(years) == 1 else f"{', '.join(years[:-1])} and {years[-1]}"
