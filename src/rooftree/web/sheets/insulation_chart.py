"""What each defect takes from insulation, step by step."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.units import Kind, show, shown_unit
from rooftree.web.charts import COOL, INK, WARM, Drawing, chart_spec, name_axis

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.readings.insulation import InsulationResult, InsulationSurvey
    from rooftree.units import DisplaySystem

WORTH_A_BAR = 0.005
"""Share of the heat below which a defect has no bar of its own [0-1]."""


def draw_insulation(
    reading: InsulationSurvey, result: InsulationResult, system: DisplaySystem
) -> Drawing | None:
    """Return the drawing of what is left of the resistance, defect by defect.

    Parameters
    ----------
    reading : InsulationSurvey
        As typed.
    result : InsulationResult
        As reduced.
    system : DisplaySystem
        Units of the scale and the table.

    Returns
    -------
    Drawing or None
        None where there is no result.
    """
    del reading
    if result.resistance is None or result.intended is None:
        return None
    unit = shown_unit(Kind.THERMAL_RESISTANCE, system)
    name = "R-value" if unit.is_prefix else unit.name
    bars = list(_bars(result, result.intended, result.resistance.value))
    values = [
        {
            "step": step,
            "from": round(unit.from_core(start), 3),
            "to": round(unit.from_core(end), 3),
            "kind": kind,
            "order": order,
        }
        for order, (step, start, end, kind) in enumerate(bars)
    ]
    works = show(result.resistance.value, Kind.THERMAL_RESISTANCE, system, digits=2)
    meant = show(result.intended, Kind.THERMAL_RESISTANCE, system, digits=2)
    title = f"{works} is left of {meant}."
    return Drawing(
        title=title,
        alternative=f"{title} Bars show what each defect takes away, one after the other.",
        spec=chart_spec(values, height=34 * len(values) + 20, **_layers(name)),
        columns=("Step", f"From, {name}", f"To, {name}"),
        rows=tuple(
            (step, f"{unit.from_core(start):.2f}", f"{unit.from_core(end):.2f}")
            for step, start, end, _ in bars
        ),
    )


def _bars(
    result: InsulationResult, meant: float, works: float
) -> Iterator[tuple[str, float, float, str]]:
    """Yield each step with its ends [m²·K/W] and its kind."""
    yield "whole and even", 0.0, meant, "meant"
    left, small = meant, 0.0
    for cost in result.costs:
        if abs(cost.share) < WORTH_A_BAR:
            small += cost.resistance
            continue
        yield cost.name, left, left - cost.resistance, "lost"
        left -= cost.resistance
    if small > 0.0:
        yield "everything else", left, left - small, "lost"
    yield "as it works", 0.0, max(works, 0.0), "left"


def _layers(name: str) -> dict[str, Any]:
    colors = {"domain": ["meant", "lost", "left"], "range": [INK, WARM, COOL]}
    return {
        "mark": {"type": "bar", "height": {"band": 0.62}},
        "encoding": {
            "y": {
                "field": "step",
                "type": "nominal",
                "sort": {"field": "order"},
                "axis": name_axis(),
            },
            "x": {
                "field": "from",
                "type": "quantitative",
                "axis": {"title": name, "tickCount": 5, "domain": False, "ticks": False},
                "scale": {"zero": True},
            },
            "x2": {"field": "to"},
            "color": {"field": "kind", "type": "nominal", "scale": colors, "legend": None},
        },
    }
