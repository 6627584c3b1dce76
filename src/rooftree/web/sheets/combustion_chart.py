"""The drawing of a burner: its draft against what older practice asked in this weather."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.readings.combustion.flue_gas import least_draft
from rooftree.units import Kind, show, shown_unit
from rooftree.web.charts import COOL, FAINT, SOFT, WARM, Drawing, chart_spec

if TYPE_CHECKING:
    from rooftree.readings.combustion import CombustionResult, CombustionTest
    from rooftree.units import DisplaySystem

NATURAL = "natural draft"
COLDEST, HOTTEST = 250.0, 312.0
"""Ends of the axis of outdoor temperatures [K]."""


def draw_combustion(
    reading: CombustionTest, result: CombustionResult, system: DisplaySystem
) -> Drawing | None:
    """Return the drawing of the draft, where one was read.

    Parameters
    ----------
    reading : CombustionTest
        As read.
    result : CombustionResult
        As reduced.
    system : DisplaySystem
        Units of scale and table.

    Returns
    -------
    Drawing or None
        None without a natural-draft flue and its draft.
    """
    draft = reading.draft_pressure
    if draft is None or reading.draft != NATURAL:
        return None
    unit = shown_unit(Kind.TEMPERATURE, system)
    marks = (COLDEST, 260.93, 305.37, HOTTEST)
    asked = [{"outdoors": round(unit.from_core(t), 1), "draft": -least_draft(t)} for t in marks]
    here = [{"outdoors": round(unit.from_core(reading.outdoor_temperature), 1), "draft": -draft}]
    title = _title(reading, draft, system)
    spec = chart_spec([], height=220, layer=_layers(asked, here, reading))
    spec["encoding"] = {
        "x": {
            "field": "outdoors",
            "type": "quantitative",
            "scale": {"zero": False, "nice": False},
            "axis": {"title": f"outdoors, {unit.name}", "grid": False, "tickCount": 6},
        },
        "y": {
            "field": "draft",
            "type": "quantitative",
            "axis": {"title": "draft, Pa", "tickCount": 5},
        },
    }
    spec.pop("data")
    rows = [("Read", f"{-draft:.1f}"), ("Asked by older practice (recalled)", _asked(reading))]
    if result.theoretical_draft is not None:
        rows.append(("What the heat in the flue can make", f"{result.theoretical_draft:.1f}"))
    return Drawing(
        title=title,
        alternative=f"{title} A line for what older practice asked, a dot for what was read.",
        spec=spec,
        key="Dashed: what older practice asked at each outdoor temperature (recalled).",
        columns=("Draft at this outdoor temperature", "Pa"),
        rows=tuple(rows),
    )


def _asked(reading: CombustionTest) -> str:
    return f"{-least_draft(reading.outdoor_temperature):.1f}"


def _title(reading: CombustionTest, draft: float, system: DisplaySystem) -> str:
    outdoors = show(reading.outdoor_temperature, Kind.TEMPERATURE, system)
    if draft >= 0.0:
        return f"At {outdoors} the flue does not draw."
    enough = "no less than" if draft <= least_draft(reading.outdoor_temperature) else "less than"
    return (
        f"At {outdoors} the flue draws {-draft:.1f} Pa, {enough} the {_asked(reading)} Pa of older"
        " practice (recalled)."
    )


def _layers(
    asked: list[dict[str, float]],
    here: list[dict[str, float]],
    reading: CombustionTest,
) -> list[dict[str, Any]]:
    return [
        {
            "data": {"values": asked},
            "mark": {"type": "area", "color": FAINT, "opacity": 0.35},
        },
        {
            "data": {"values": asked},
            "mark": {"type": "line", "color": SOFT, "strokeDash": [3, 4]},
        },
        {
            "data": {"values": here},
            "mark": {
                "type": "point",
                "filled": True,
                "size": 110,
                "opacity": 1,
                "color": COOL
                if (reading.draft_pressure or 0.0) <= least_draft(reading.outdoor_temperature)
                else WARM,
            },
        },
    ]
