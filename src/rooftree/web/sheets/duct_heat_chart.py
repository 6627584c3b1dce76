"""The drawing of duct runs: the temperature of the air along each."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.units import Kind, show, shown_unit
from rooftree.web.charts import COOL, INK, SOFT, WARM, Drawing, chart_spec

if TYPE_CHECKING:
    from rooftree.readings.duct_heat import DuctHeatResult, DuctHeatTest
    from rooftree.units import DisplaySystem

MOST_RUNS = 8
"""Runs that are drawn; the table has them all."""


def draw_duct_heat(
    reading: DuctHeatTest, result: DuctHeatResult, system: DisplaySystem
) -> Drawing | None:
    """Return the drawing of the temperature along every run.

    Parameters
    ----------
    reading : DuctHeatTest
        As read: what stood at the registers.
    result : DuctHeatResult
        As reduced.
    system : DisplaySystem
        Units of temperatures and lengths.

    Returns
    -------
    Drawing or None
        None where no run could be computed.
    """
    if not result.runs:
        return None
    warmth, length = shown_unit(Kind.TEMPERATURE, system), shown_unit(Kind.LENGTH, system)
    drawn = result.runs[:MOST_RUNS]
    lines = [
        {
            "run": run.name,
            "at": round(length.from_core(place), 2),
            "air": round(warmth.from_core(temperature), 2),
        }
        for run in drawn
        for place, temperature in run.along
    ]
    read = {run.name: run.register_temperature for run in reading.runs}
    registers = [
        {
            "run": run.name,
            "at": round(length.from_core(run.along[-1][0]), 2),
            "air": round(warmth.from_core(shown), 2),
        }
        for run in drawn
        if (shown := read.get(run.name)) is not None
    ]
    ends = [line for i, line in enumerate(lines) if (i + 1) % len(drawn[0].along) == 0]
    spec = chart_spec(
        [],
        height=240,
        layer=_layers(lines, registers, ends, reading, system),
        encoding={
            "x": {
                "field": "at",
                "type": "quantitative",
                "axis": {"title": f"along the run, {length.name}", "grid": False, "tickCount": 6},
            },
            "y": {
                "field": "air",
                "type": "quantitative",
                "scale": {"zero": False},
                "axis": {"title": warmth.name, "tickCount": 5},
            },
        },
    )
    spec.pop("data")
    title = _title(result, system)
    return Drawing(
        title=title,
        alternative=(
            f"{title} One line for each run from where its air enters to its register; dots where"
            " a register was read. The table has both ends."
        ),
        spec=spec,
        key="" if reading.room_temperature is None else "Dashed: the rooms.",
        columns=("Run", "Air that enters", "At the register by its wrap", "At the register, read"),
        rows=tuple(
            (
                run.name,
                show(run.along[0][1], Kind.TEMPERATURE, system),
                show(run.register.value, Kind.TEMPERATURE, system),
                _shown(read.get(run.name), system),
            )
            for run in result.runs
        ),
    )


def _shown(temperature: float | None, system: DisplaySystem) -> str:
    return "not read" if temperature is None else show(temperature, Kind.TEMPERATURE, system)


def _title(result: DuctHeatResult, system: DisplaySystem) -> str:
    worst = max(result.runs, key=lambda run: abs(run.register.value - run.along[0][1]))
    change = worst.register.value - worst.along[0][1]
    verb = "warms" if change >= 0.0 else "cools"
    step = show(abs(change), Kind.TEMPERATURE_DIFFERENCE, system, digits=2)
    most = "" if len(result.runs) == 1 else ", more than in the other runs"
    return f"Air in {worst.name} {verb} by {step} on its way{most}."


def _layers(
    lines: list[dict[str, Any]],
    registers: list[dict[str, Any]],
    ends: list[dict[str, Any]],
    reading: DuctHeatTest,
    system: DisplaySystem,
) -> list[dict[str, Any]]:
    gains = lines[-1]["air"] >= lines[0]["air"]
    layers = [
        {
            "data": {"values": lines},
            "mark": {"type": "line", "strokeWidth": 2, "color": COOL if gains else WARM},
            "encoding": {"detail": {"field": "run", "type": "nominal"}},
        },
        {
            "data": {"values": registers},
            "mark": {"type": "point", "filled": True, "size": 80, "color": INK, "opacity": 1},
        },
        *_names(registers, ends),
    ]
    room = reading.room_temperature
    if room is not None:
        unit = shown_unit(Kind.TEMPERATURE, system)
        level = [{"air": round(unit.from_core(room), 2), "is": "room"}]
        layers.append(
            {
                "data": {"values": level},
                "mark": {"type": "rule", "color": SOFT, "strokeDash": [3, 4]},
                "encoding": {"x": None},
            }
        )
    return layers


def _names(registers: list[dict[str, Any]], ends: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return the names of the runs, each below its dot; neighbours at two heights."""
    read = {one["run"] for one in registers}
    marked = sorted(
        [*registers, *(end for end in ends if end["run"] not in read)], key=lambda one: one["at"]
    )
    return [
        {
            "data": {"values": marked[k::2]},
            "mark": {"type": "text", "align": "right", "dx": 8, "dy": below, "fontSize": 13},
            "encoding": {"text": {"field": "run", "type": "nominal"}},
        }
        for k, below in enumerate((17, 33))
        if marked[k::2]
    ]
