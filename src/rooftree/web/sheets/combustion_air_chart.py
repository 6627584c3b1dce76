"""The drawing of air for burners: the volume there is beside the volume asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.readings.combustion_air import standard_volume
from rooftree.units import Kind, show, shown_unit
from rooftree.web.charts import COOL, FAINT, WARM, Drawing, chart_spec, name_axis

if TYPE_CHECKING:
    from rooftree.readings.combustion_air import CombustionAirResult, CombustionAirTest
    from rooftree.units import DisplaySystem

ROW = 44
"""Height of one bar with its gap [px]."""


def draw_combustion_air(
    reading: CombustionAirTest, result: CombustionAirResult, system: DisplaySystem
) -> Drawing | None:
    """Return the drawing of volumes.

    Parameters
    ----------
    reading : CombustionAirTest
        As read.
    result : CombustionAirResult
        As reduced.
    system : DisplaySystem
        Units of scale and table.

    Returns
    -------
    Drawing or None
        None before room and burner are known.
    """
    if result.share is None:
        return None
    bars = [("rooms that count", result.volume)]
    if reading.air_changes is None:
        bars.append(("asked for, standard rule", result.needed))
    else:
        bars += [
            ("asked for, known infiltration", result.needed),
            ("by the standard rule", standard_volume(result.input_rate)),
        ]
    unit = shown_unit(Kind.VOLUME, system, size=result.volume)
    enough = result.volume >= result.needed
    title = (
        f"The rooms hold {show(result.volume, Kind.VOLUME, system)};"
        f" the burners ask for {show(result.needed, Kind.VOLUME, system)}."
    )
    colours = [COOL if enough else WARM] + [FAINT] * (len(bars) - 1)
    values = [{"what": what, "volume": round(unit.from_core(volume), 1)} for what, volume in bars]
    return Drawing(
        title=title,
        alternative=f"{title} One bar for each; the table has them.",
        spec=chart_spec(
            values,
            height=ROW * len(values),
            mark={"type": "bar", "height": 20},
            encoding={
                "y": {
                    "field": "what",
                    "type": "nominal",
                    "sort": None,
                    "axis": name_axis(),
                },
                "x": {
                    "field": "volume",
                    "type": "quantitative",
                    "axis": {"title": unit.name, "grid": False, "tickCount": 5},
                },
                "color": {
                    "field": "what",
                    "type": "nominal",
                    "scale": {"domain": [one["what"] for one in values], "range": colours},
                    "legend": None,
                },
            },
        ),
        columns=("Volume", unit.name),
        rows=tuple((what, f"{unit.from_core(volume):,.0f}") for what, volume in bars),
    )
