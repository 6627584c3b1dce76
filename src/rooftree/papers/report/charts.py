"""The energy chart of the report, as SVG with a title that says what it shows."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import vl_convert

from rooftree.house import EndUse, Fuel
from rooftree.papers.fonts_folder import FONTS
from rooftree.papers.section.pen import LIGHT
from rooftree.units import DisplaySystem, Kind, show, shown_unit

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rooftree.engine.results import YearResult
    from rooftree.plan.model import Plan

FOUND, PLANNED = "as found", "after the plan"

_SCHEMA = "https://vega.github.io/schema/vega-lite/v6.json"
_UNITS = {"MMBtu": "million Btu"}
"""Names of units in full, for an axis."""

vl_convert.register_font_directory(str(FONTS))


def energy_chart(plan: Plan, system: DisplaySystem) -> dict[str, Any]:
    """Return the chart of energy bought by use, before and after the plan.

    Parameters
    ----------
    plan : Plan
        With at least the house as found.
    system : DisplaySystem
        Units to show.

    Returns
    -------
    dict
        With svg, title, alt, unit, and rows of the numbers by use and by fuel.
    """
    before, after = plan.before, plan.stages[-1].year if plan.stages else plan.before
    uses = uses_of(before, after)
    title = energy_title(before, after)
    rows = [_row(use.value, before.bought(use=use), after.bought(use=use), system) for use in uses]
    alternative = "; ".join(f"{r['use']}: {r['before']}, then {r['after']}" for r in rows)
    return {
        "svg": vl_convert.vegalite_to_svg(energy_spec(before, after, system)),
        "title": title,
        "alt": f"Bars of the energy bought in a year by use. {alternative}.",
        "rows": rows,
        "fuels": _fuels(before, after, system),
    }


def uses_of(before: YearResult, after: YearResult) -> list[EndUse]:
    """Return what energy is bought for, largest use as found first.

    Parameters
    ----------
    before, after : YearResult
        As found and after the plan.

    Returns
    -------
    list of EndUse
    """
    uses = {use for year in (before, after) for _, use in year.energy if year.bought(use=use)}
    return sorted(uses, key=lambda use: (-before.bought(use=use), use.value))


def energy_title(before: YearResult, after: YearResult) -> str:
    """Return what the energy chart shows, as a sentence.

    Parameters
    ----------
    before, after : YearResult
        As found and after the plan.

    Returns
    -------
    str
    """
    cut = 1.0 - after.bought() / before.bought() if before.bought() else 0.0
    if abs(cut) < 0.01:
        return "The house buys about as much energy after the plan as before"
    direction = "less" if cut > 0.0 else "more"
    return f"The house buys about {100.0 * abs(cut):.0f} % {direction} energy after the plan"


def _row(name: str, before: float, after: float, system: DisplaySystem) -> dict[str, str]:
    figures = [show(amount, Kind.ENERGY, system, digits=2) for amount in (before, after)]
    return {"use": name, "before": figures[0], "after": figures[1]}


def _fuels(before: YearResult, after: YearResult, system: DisplaySystem) -> list[dict[str, str]]:
    """Return each fuel before and after, in the unit in which it is billed."""
    rows = []
    for fuel in Fuel:
        amounts = [year.bought(fuel) for year in (before, after)]
        if any(amounts):
            kind = Kind.ELECTRICITY if fuel is Fuel.ELECTRICITY else Kind.FUEL
            was, then = (show(amount, kind, system, digits=2) for amount in amounts)
            rows.append({"use": fuel.value, "before": was, "after": then})
    return rows


def energy_spec(before: YearResult, after: YearResult, system: DisplaySystem) -> dict[str, Any]:
    """Return the description of the chart: an outline as found, a filled bar after the plan.

    Parameters
    ----------
    before, after : YearResult
        As found and after the plan.
    system : DisplaySystem
        Unit of the axis.

    Returns
    -------
    dict
        For Vega-Lite.
    """
    uses = uses_of(before, after)
    largest = max((before.bought(use=use) for use in uses), default=1.0)
    unit = shown_unit(Kind.ENERGY, system, size=largest)
    values = [
        {
            "use": use.value,
            "when": when,
            "energy": unit.from_core(year.bought(use=use)),
            "label": show(year.bought(use=use), Kind.ENERGY, system, digits=2),
        }
        for use in uses
        for when, year in ((FOUND, before), (PLANNED, after))
    ]
    return _bars(values, _UNITS.get(unit.name, unit.name))


def _bars(values: Sequence[Mapping[str, object]], unit: str) -> dict[str, Any]:
    when = {"field": "when", "sort": [FOUND, PLANNED], "type": "nominal"}
    colors = {
        "domain": [FOUND, PLANNED],
        "range": [LIGHT.paper, LIGHT.cool],
    }
    outline = {"domain": [FOUND, PLANNED], "range": [LIGHT.ink, LIGHT.cool]}
    encoding = {
        "y": {
            "field": "use",
            "type": "nominal",
            "sort": None,
            "title": None,
            "axis": {"labelFontSize": 13, "labelLimit": 300, "domain": False, "ticks": False,
                     "labelPadding": 10},
        },
        "yOffset": when,
        "x": {
            "field": "energy",
            "type": "quantitative",
            "title": f"{unit} bought in a year",
            "axis": {"tickCount": 5, "domain": False, "ticks": False},
        },
    }  # fmt: skip
    return {
        "$schema": _SCHEMA,
        "width": 250,
        "height": {"step": 17},
        "background": LIGHT.paper,
        "data": {"values": list(values)},
        "encoding": encoding,
        "layer": [
            {
                "mark": {"type": "bar", "strokeWidth": 1.2, "height": {"band": 0.84}},
                "encoding": {
                    "fill": {**when, "scale": colors, "legend": _legend()},
                    "stroke": {**when, "scale": outline, "legend": _legend()},
                },
            },
            {
                "mark": {"type": "text", "align": "left", "dx": 6, "fontSize": 12,
                         "color": LIGHT.ink},
                "encoding": {"text": {"field": "label"}},
            },
        ],
        "config": {
            "font": "Source Sans 3",
            "axis": {
                "labelFontSize": 12,
                "titleFontSize": 12,
                "titleFontWeight": "normal",
                "labelColor": LIGHT.ink,
                "titleColor": LIGHT.soft,
                "gridColor": LIGHT.faint,
                "gridOpacity": 0.5,
            },
            "view": {"stroke": None},
        },
    }  # fmt: skip


def _legend() -> dict[str, Any]:
    return {"title": None, "orient": "top", "labelFontSize": 13, "labelColor": LIGHT.ink,
            "symbolType": "square", "symbolSize": 140, "columnPadding": 24}  # fmt: skip
