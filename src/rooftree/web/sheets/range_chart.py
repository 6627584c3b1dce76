"""Bars with their ranges: how large each of a few results is, and how sure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rooftree.web.charts import COOL, INK, SOFT, WARM, Drawing, chart_spec, name_axis

if TYPE_CHECKING:
    from collections.abc import Sequence

ROW = 38
"""Height of one row of a drawing [px]."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One result with its range.

    Attributes
    ----------
    name : str
        What it is.
    value, low, high : float
        In the unit that is shown.
    is_marked : bool
        Whether it stands out, in the warm colour.
    """

    name: str
    value: float
    low: float
    high: float
    is_marked: bool = False


def range_chart(
    title: str,
    bars: Sequence[Bar],
    unit: str,
    *,
    first: str,
    marks: Sequence[tuple[float, str]] = (),
    digits: int = 0,
) -> Drawing:
    """Return the drawing of results with their ranges.

    Parameters
    ----------
    title : str
        What it shows, as a sentence.
    bars : sequence of Bar
        From top to bottom.
    unit : str
        Of all of them, as the axis shows it.
    first : str
        Head of the column of their names.
    marks : sequence of (float, str)
        Limits to draw as dashed lines, with their words.
    digits : int
        Decimals in the table.

    Returns
    -------
    Drawing
    """
    values = [
        {
            "name": bar.name,
            "value": bar.value,
            "low": max(bar.low, 0.0),
            "high": bar.high,
            "is": "marked" if bar.is_marked else "plain",
        }
        for bar in bars
    ]
    told = "; ".join(f"{at:g}, {words}" for at, words in marks)
    key = f"Dashed: {told}." if marks else ""
    return Drawing(
        title=title,
        alternative=f"{title} One bar for each with its 95 % range. {key} The table has them.",
        spec=chart_spec(values, height=ROW * len(bars) + 24, layer=_layers(unit, marks)),
        columns=(first, unit, f"95 % range, {unit}"),
        rows=tuple(
            (
                bar.name,
                f"{bar.value:,.{digits}f}",
                f"{max(bar.low, 0.0):,.{digits}f} to {bar.high:,.{digits}f}",
            )
            for bar in bars
        ),
        key=key,
    )


def _layers(unit: str, marks: Sequence[tuple[float, str]]) -> list[dict[str, Any]]:
    y = {
        "field": "name",
        "type": "nominal",
        "sort": None,
        "axis": name_axis(),
    }
    axis = {"title": unit, "grid": False, "tickCount": 5}
    bar = {
        "mark": {"type": "bar", "height": 16},
        "encoding": {
            "x": {"field": "value", "type": "quantitative", "axis": axis},
            "y": y,
            "color": {
                "field": "is",
                "type": "nominal",
                "scale": {"domain": ["plain", "marked"], "range": [COOL, WARM]},
                "legend": None,
            },
        },
    }
    doubt = {
        "mark": {"type": "rule", "color": INK, "strokeWidth": 1.4},
        "encoding": {
            "x": {"field": "low", "type": "quantitative"},
            "x2": {"field": "high"},
            "y": y,
        },
    }
    limits = {
        "data": {"values": [{"at": at} for at, _ in marks]},
        "mark": {"type": "rule", "color": SOFT, "strokeDash": [3, 4]},
        "encoding": {"x": {"field": "at", "type": "quantitative"}},
    }
    return [bar, doubt, limits] if marks else [bar, doubt]
