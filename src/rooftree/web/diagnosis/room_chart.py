"""Why a room is off: what brings more or less heat to its floor than to the other room's."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.units import DisplaySystem
from rooftree.web.charts import COOL, INK, WARM, Drawing, chart_spec, name_axis

if TYPE_CHECKING:
    from rooftree.diagnosis import OddRoom, RoomCause

_BTU = 3.154591
"""W/m² in one Btu/(h·ft²)."""

_SEEN = 0.04
"""Share of the largest difference from which a cause has a bar [-]."""

_ROW = 40
"""Height of a bar with its name [px]."""


def room_chart(odd: OddRoom, name: str, other: str, system: DisplaySystem) -> Drawing:
    """Return the causes of an odd room, compared with the room with the thermostat.

    Parameters
    ----------
    odd : OddRoom
        The room.
    name, other : str
        What to call it, and the room with the thermostat.
    system : DisplaySystem
        Units of the scale and the table.

    Returns
    -------
    Drawing
    """
    factor, unit = (1.0 / _BTU, "Btu/(h·ft²)") if system is DisplaySystem.IP else (1.0, "W/m²")
    largest = max((abs(cause.difference) for cause in odd.causes), default=0.0)
    seen = [cause for cause in odd.causes if abs(cause.difference) >= _SEEN * largest > 0.0]
    values = [
        {
            "cause": cause.words,
            "more": round(factor * cause.difference, 3),
            "sign": "more" if cause.difference > 0.0 else "less",
        }
        for cause in seen
    ]
    direction = "colder" if odd.season == "heating" else "hotter"
    strongest = f": above all, {odd.causes[0].words}" if odd.causes else ""
    title = f"Why the {name} is {direction} than the {other}{strongest}."
    return Drawing(
        title=title,
        alternative=f"{title} Bars to the right bring more heat to a unit of floor than there, "
        f"bars to the left less, in {unit}.",
        spec=chart_spec(values, height=_ROW * max(1, len(seen)) + 30, **_bars(unit)),
        columns=("Cause", f"Here, {unit}", f"In the {other}, {unit}", f"Difference, {unit}"),
        rows=tuple(
            (cause_words(cause), *(_signed(factor * value) for value in
                                   (cause.here, cause.there, cause.difference)))
            for cause in odd.causes
        ),
    )  # fmt: skip


def cause_words(cause: RoomCause) -> str:
    """Return what a cause is called, with what lies beyond it."""
    return f"{cause.words} ({', '.join(cause.beyond)})" if cause.beyond else cause.words


def _signed(value: float) -> str:
    text = f"{value:+.2f}".replace("-", "−")
    return text.replace("+0.00", "0.00").replace("−0.00", "0.00")


def _bars(unit: str) -> dict[str, object]:
    return {
        "mark": {"type": "bar", "height": {"band": 0.62}, "stroke": INK, "strokeWidth": 0.8},
        "encoding": {
            "y": {"field": "cause", "type": "nominal", "sort": None, "axis": name_axis()},
            "x": {
                "field": "more",
                "type": "quantitative",
                "axis": {
                    "title": f"more heat than there, {unit}",
                    "tickCount": 4,
                    "labelExpr": "replace(datum.label, '-', '−')",
                },
            },
            "fill": {
                "field": "sign",
                "scale": {"domain": ["more", "less"], "range": [WARM, COOL]},
                "legend": None,
            },
        },
    }
