"""Energy and money of a year, month by month: stacked bars of what they are for.

Each part of a stack has its own depth of one colour, and an outline, so that parts can be
told apart in grey too; the legend stands in the order of the stack.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from rooftree.bills import cost_by_use
from rooftree.diagnosis.attribution import DAMPNESS, DUCTS
from rooftree.diagnosis.heat import Cause
from rooftree.house import EndUse
from rooftree.plan.words import dollars
from rooftree.units import Kind, shown_unit
from rooftree.web.charts import COOL, FAINT, INK, WARM, Drawing, Swatch, chart_spec
from rooftree.web.energy import MONTHS

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from rooftree.bills import Tariff
    from rooftree.diagnosis import Attribution, EnergyCause
    from rooftree.engine.results import YearResult
    from rooftree.house import House
    from rooftree.units import DisplaySystem

    Months = NDArray[np.float64]

WORDS: Mapping[str, str] = {
    Cause.SURFACE: "other surfaces",
    Cause.GLASS: "glass",
    Cause.SUN: "sun",
    Cause.LEAK: "leaks",
    Cause.OPENING: "open doors",
    Cause.FAN: "fans",
    Cause.PEOPLE: "people, lights",
    Cause.WATER_HEATER: "water heater",
    Cause.DEHUMIDIFIER: "dehumidifier",
    Cause.BETWEEN: "stored heat",
    DUCTS: "ducts",
    DAMPNESS: "moisture",
}
"""Short names of causes, for legends."""

SURFACES: Mapping[str, str] = {
    "wall": "walls",
    "ceiling": "ceilings",
    "roof": "ceilings",
    "floor": "floors",
    "slab": "floors",
    "door": "doors",
}
"""The same for surfaces, by their kind."""

REST = "the rest"

_MOST, _LEAST = 6, 0.03
"""Parts of a stack at most, and the share from which one has a name of its own [0-1]."""

_DEPTHS = (1.0, 0.72, 0.5, 0.32, 0.18, 0.06, 0.0)
"""Depth of colour of the parts, lowest first [0-1]."""

_USES: Mapping[EndUse, tuple[str, str, float]] = {
    EndUse.HEATING: ("heating", WARM, 1.0),
    EndUse.COOLING: ("cooling", COOL, 1.0),
    EndUse.AIR_MOVING: ("moving air", COOL, 0.55),
    EndUse.HOT_WATER: ("hot water", WARM, 0.5),
    EndUse.VENTILATION: ("ventilation", COOL, 0.25),
    EndUse.DRYING: ("drying air", COOL, 0.1),
    EndUse.OTHER: ("appliances", FAINT, 0.8),
}
"""Short name, colour and depth of each use of energy."""


@dataclass(frozen=True, slots=True)
class Stack:
    """Parts that sum up in each month.

    Attributes
    ----------
    parts : mapping from str to ndarray, shape (12,)
        By short name, lowest of the stack first.
    """

    parts: Mapping[str, Months]

    @property
    def total(self) -> float:
        """Return the sum over parts and months."""
        return float(sum(months.sum() for months in self.parts.values()))

    def share(self, name: str) -> float:
        """Return the share of a part in the year [0-1]."""
        return float(self.parts[name].sum()) / self.total if self.total else 0.0


def stacked_causes(attribution: Attribution, house: House, use: str) -> Stack:
    """Return the energy bought for heating or cooling by cause and month [J].

    Parameters
    ----------
    attribution : Attribution
        What it is for.
    house : House
        Whose surfaces are meant.
    use : str
        ``"heating"`` or ``"cooling"``.

    Returns
    -------
    Stack
        Largest first, small ones as one.
    """
    kinds = {surface.id: surface.kind for surface in house.surfaces}
    parts: dict[str, Months] = {}
    for cause in attribution.causes:
        is_surface = cause.cause == Cause.SURFACE
        name = SURFACES.get(kinds.get(cause.id, "")) if is_surface else None
        name = name or WORDS.get(cause.cause, cause.cause)
        parts[name] = parts.get(name, np.zeros(12)) + energy_months(cause, use)
    return _few(parts)


def energy_months(cause: EnergyCause, use: str) -> Months:
    """Return what is bought because of one cause in each month, all fuels together [J]."""
    fuels = cause.heating_months if use == "heating" else cause.cooling_months
    return np.array([sum(month) for month in zip(*fuels.values(), strict=True)] or [0.0] * 12)


def _few(parts: Mapping[str, Months]) -> Stack:
    whole = sum(float(months.sum()) for months in parts.values())
    order = sorted(parts, key=lambda name: -float(parts[name].sum()))
    named = [name for name in order[:_MOST] if parts[name].sum() >= _LEAST * whole > 0.0]
    kept = {name: parts[name] for name in named}
    rest = np.sum([np.zeros(12), *(parts[name] for name in order if name not in named)], axis=0)
    if rest.sum() > 1e-6 * whole:
        kept[REST] = rest
    return Stack(kept)


def cause_chart(stack: Stack, use: str, system: DisplaySystem) -> Drawing:
    """Return what the energy of heating or cooling is for, month by month.

    Parameters
    ----------
    stack : Stack
        Energy by cause and month [J].
    use : str
        ``"heating"`` or ``"cooling"``.
    system : DisplaySystem
        Units of the scale and the table.

    Returns
    -------
    Drawing
    """
    largest = max((float(sum(month)) for month in zip(*stack.parts.values(), strict=True)),
                  default=1.0)  # fmt: skip
    unit = shown_unit(Kind.ENERGY, system, size=largest)
    parts = {
        name: np.array([unit.from_core(float(month)) for month in months])
        for name, months in stack.parts.items()
    }
    colour = WARM if use == "heating" else COOL
    looks = {name: (colour, depth) for name, depth in zip(parts, _DEPTHS, strict=False)}
    first = next(iter(stack.parts), "")
    title = f"{stack.share(first):.0%} of the energy for {use} goes to {first}."
    return _stacked(title.replace("%", " %"), parts, looks, unit.plural or unit.name, digits=1)


def money_chart(year: YearResult, tariff: Tariff) -> Drawing:
    """Return what the money for energy is for, month by month.

    Parameters
    ----------
    year : YearResult
        The year.
    tariff : Tariff
        Prices.

    Returns
    -------
    Drawing
    """
    costs: dict[EndUse, Months] = {}
    for (_, use), months in cost_by_use(year, tariff).items():
        costs[use] = costs.get(use, np.zeros(12)) + np.array(months)
    ordered = [use for use in _USES if use in costs]
    parts = {_USES[use][0]: costs[use] for use in ordered}
    looks = {_USES[use][0]: _USES[use][1:] for use in ordered}
    stack = Stack(parts)
    dearest = max(parts, key=stack.share, default="")
    share = f"{stack.share(dearest):.0%}".replace("%", " %") if dearest else ""
    share = "all" if share == "100 %" else share
    title = f"Of the {dollars(stack.total)} a year for energy, {share} goes to {dearest}."
    return _stacked(title, parts, looks, "$", digits=0)


def _stacked(
    title: str,
    parts: Mapping[str, Months],
    looks: Mapping[str, tuple[str, float]],
    unit: str,
    *,
    digits: int,
) -> Drawing:
    values = [
        {"month": month[:3], "part": name, "at": place, "amount": round(float(months[k]), 3)}
        for place, (name, months) in enumerate(parts.items())
        for k, month in enumerate(MONTHS)
    ]
    rows = tuple(
        (month, *(f"{months[k]:,.{digits}f}" for months in parts.values()),
         f"{sum(months[k] for months in parts.values()):,.{digits}f}")
        for k, month in enumerate(MONTHS)
    )  # fmt: skip
    sums = [float(months.sum()) for months in parts.values()]
    year = ("Year", *(f"{amount:,.{digits}f}" for amount in sums), f"{sum(sums):,.{digits}f}")
    return Drawing(
        title=title,
        alternative=f"{title} A bar for each month in {unit}, made of {', '.join(parts)}.",
        spec=chart_spec(values, **_bars(tuple(parts), looks, unit)),
        columns=("Month", *(f"{name.capitalize()}, {unit}" for name in parts), f"All, {unit}"),
        rows=(*rows, year),
        legend=tuple(Swatch(name, *looks[name]) for name in parts),
    )


def _bars(
    names: Sequence[str], looks: Mapping[str, tuple[str, float]], unit: str
) -> dict[str, Any]:

    def part(of_look: int) -> dict[str, Any]:
        look = [looks[name][of_look] for name in names]
        return {
            "field": "part",
            "type": "ordinal",
            "sort": list(names),
            "scale": {"type": "ordinal", "domain": list(names), "range": look},
            "legend": None,
        }

    return {
        "mark": {"type": "bar", "stroke": INK, "strokeWidth": 0.8, "width": {"band": 0.72}},
        "encoding": {
            "x": {
                "field": "month",
                "type": "ordinal",
                "sort": None,
                "axis": {"title": None, "labelAngle": 0, "labelOverlap": "greedy"},
            },
            "y": {
                "field": "amount",
                "type": "quantitative",
                "stack": True,
                "axis": {"title": unit, "tickCount": 4, "domain": False, "ticks": False},
            },
            "order": {"field": "at", "type": "quantitative"},
            "fill": part(0),
            "fillOpacity": part(1),
        },
    }
