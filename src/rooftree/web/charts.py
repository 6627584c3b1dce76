"""Charts of the pages: what each shows, in words, as a drawing and as a table.

Colours are those of the light variant; the page's script replaces them in the dark one.
Before is an outline in ink and after a filled bar, so that they differ in grey too.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rooftree.units import shown_unit
from rooftree.web.energy import MONTHS

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rooftree.units import DisplaySystem
    from rooftree.web.energy import FuelYear

INK, SOFT, FAINT, FILL = "#22262b", "#4c4a44", "#b9b4a8", "#efeadf"
COOL, WARM = "#1f6f8b", "#b5541c"

_TOKENS = {INK: "ink", SOFT: "soft", FAINT: "faint", FILL: "fill", COOL: "cool", WARM: "warm"}

_NAME_LINE = 20
"""Letters of a name that stand on one line of an axis."""

_HALF_LINE = 7
"""By which the first of two lines stands above their middle [px]."""

_SCHEMA = "https://vega.github.io/schema/vega-lite/v6.json"


@dataclass(frozen=True, slots=True)
class Swatch:
    """One entry of a legend.

    Attributes
    ----------
    words : str
        What the colour stands for.
    color : str
        Colour of the light variant.
    depth : float
        How much of it covers the paper [0-1].
    """

    words: str
    color: str
    depth: float = 1.0

    @property
    def token(self) -> str:
        """Return the name of the colour in the style sheet, light and dark."""
        return _TOKENS[self.color]


@dataclass(frozen=True, slots=True)
class Drawing:
    """One chart with everything that stands for it.

    Attributes
    ----------
    title : str
        What it shows, as a sentence.
    alternative : str
        What a person who cannot see it is told.
    spec : mapping
        Description of the drawing for the page's script.
    columns : tuple of str
        Heads of the table of its numbers, units included.
    rows : tuple of tuple of str
        The numbers, first cell the name of the row.
    key : str
        What its dashed lines stand for; empty where there is none.
    legend : tuple of Swatch
        What its colours stand for, where the drawing does not say so itself.
    """

    title: str
    alternative: str
    spec: Mapping[str, Any]
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    key: str = ""
    legend: tuple[Swatch, ...] = ()


def chart_spec(
    values: Sequence[Mapping[str, object]], *, height: int = 240, **rest: object
) -> dict[str, Any]:
    """Return a description as wide as its place, with the values inside."""
    return {
        "$schema": _SCHEMA,
        "width": "container",
        "height": height,
        "autosize": {"type": "fit-x", "contains": "padding"},
        "data": {"values": list(values)},
        **rest,
    }


def name_axis() -> dict[str, Any]:
    """Return the axis of an upright scale of names: long ones take two lines, for a phone."""
    start = f"slice(datum.label, 0, {_NAME_LINE + 1})"
    place = f"lastindexof({start}, ' ')"
    two = f"[slice(datum.label, 0, {place}), slice(datum.label, {place} + 1)]"
    is_long = f"length(datum.label) > {_NAME_LINE} && {place} > 0"
    return {
        "title": None,
        "labelExpr": f"{is_long} ? {two} : datum.label",
        "labelOffset": {"condition": {"test": is_long, "value": -_HALF_LINE}, "value": 0},
        "labelLimit": 150,
        "labelPadding": 6,
        "ticks": False,
        "domain": False,
    }


def monthly_chart(year: FuelYear, system: DisplaySystem) -> Drawing:
    """Return the months of one fuel, before and after.

    Parameters
    ----------
    year : FuelYear
        What was bought before and after [J].
    system : DisplaySystem
        Units of the scale and the table.

    Returns
    -------
    Drawing
    """
    unit = shown_unit(year.kind, system, size=float(year.before.max(initial=1.0)))
    name = unit.plural or unit.name
    months = [
        (month, unit.from_core(float(before)), unit.from_core(float(after)))
        for month, before, after in zip(MONTHS, year.before, year.after, strict=True)
    ]
    values = [
        {"month": month[:3], "before": round(before, 2), "after": round(after, 2)}
        for month, before, after in months
    ]
    title = _monthly_title(year)
    return Drawing(
        title=title,
        alternative=f"{title} Bars for each month, as found and with the measures, in {name}.",
        spec=chart_spec(values, layer=_monthly_layers(name)),
        columns=("Month", f"As found, {name}", f"With the measures, {name}"),
        rows=tuple((month, f"{before:,.0f}", f"{after:,.0f}") for month, before, after in months),
    )


def _monthly_title(year: FuelYear) -> str:
    name = year.fuel.value.capitalize()
    change = year.before - year.after
    largest = int(abs(change).argmax())
    share = abs(year.saved_fraction)
    if share < 0.005:
        return f"{name} stays as it is."
    direction = "falls" if year.saved > 0 else "rises"
    where = f"most in {MONTHS[largest]}"
    return f"{name} {direction} by {share:.0%} over the year, {where}.".replace("%", " %")


def _monthly_layers(unit: str) -> list[dict[str, Any]]:
    months = {
        "field": "month",
        "type": "ordinal",
        "sort": None,
        "axis": {"title": None, "labelAngle": 0, "labelOverlap": "greedy"},
    }
    amount = {"title": unit, "tickCount": 4, "domain": False, "ticks": False}

    def layer(field: str, words: str, mark: dict[str, Any]) -> dict[str, Any]:
        return {
            "mark": {"type": "bar", **mark},
            "encoding": {
                "x": months,
                "y": {
                    "field": field,
                    "type": "quantitative",
                    "axis": amount,
                    "scale": {"zero": True},
                },
                "stroke": {"datum": words},
                "fill": {"datum": words},
            },
        }

    words = ("as found", "with the measures")
    scales = {
        "stroke": {"domain": words, "range": [INK, COOL]},
        "fill": {"domain": words, "range": [FILL, COOL]},
    }
    layers = [
        layer("before", words[0], {"width": {"band": 0.8}, "strokeWidth": 1.4}),
        layer("after", words[1], {"width": {"band": 0.46}, "strokeWidth": 0}),
    ]
    legend = {
        "title": None,
        "orient": "top",
        "symbolType": "square",
        "symbolStrokeColor": INK,
        "symbolStrokeWidth": 1.4,
    }
    for one in layers:
        one["encoding"]["stroke"] |= {"scale": scales["stroke"], "legend": None}
        one["encoding"]["fill"] |= {"scale": scales["fill"], "legend": legend}
    return layers
