"""The drawing of closed rooms: how far each stands from the main space."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.web.charts import COOL, INK, SOFT, WARM, Drawing, chart_spec, name_axis

if TYPE_CHECKING:
    from rooftree.readings.room_pressures import RoomPressureResult, RoomPressureTest
    from rooftree.units import DisplaySystem

ROW = 40
"""Height of one row of a drawing [px]."""

MOST_ROOMS = 20
"""Rooms that are drawn; the table has them all."""


def draw_room_pressures(
    reading: RoomPressureTest, result: RoomPressureResult, _: DisplaySystem
) -> Drawing | None:
    """Return the drawing of the closed rooms.

    Parameters
    ----------
    reading : RoomPressureTest
        As read.
    result : RoomPressureResult
        As reduced.
    _ : DisplaySystem
        Not used: pressures are in pascals everywhere.

    Returns
    -------
    Drawing or None
        None where no closed room was read.
    """
    if not result.rooms:
        return None
    allowed = reading.allowed_pressure
    values = [
        {
            "room": room.name,
            "pressure": round(room.pressure.value, 2),
            "low": room.pressure.low,
            "high": room.pressure.high,
            "is": "beyond" if abs(room.pressure.value) > allowed else "within",
        }
        for room in result.rooms[:MOST_ROOMS]
    ]
    beyond = sum(abs(room.pressure.value) > allowed for room in result.rooms)
    title = (
        f"{beyond} of {len(result.rooms)} closed rooms stand beyond {allowed:g} Pa."
        if beyond
        else f"Every closed room stays within {allowed:g} Pa."
    )
    y = {
        "field": "room",
        "type": "nominal",
        "sort": None,
        "axis": name_axis(),
    }
    x = {
        "field": "pressure",
        "type": "quantitative",
        "axis": {"title": "against the main space, Pa", "grid": False, "tickCount": 6},
    }
    bars = {
        "mark": {"type": "bar", "height": 16},
        "encoding": {
            "x": x,
            "y": y,
            "color": {
                "field": "is",
                "type": "nominal",
                "scale": {"domain": ["within", "beyond"], "range": [COOL, WARM]},
                "legend": None,
            },
        },
    }
    limits = {
        "data": {"values": [{"at": -allowed}, {"at": allowed}]},
        "mark": {"type": "rule", "color": SOFT, "strokeDash": [3, 4]},
        "encoding": {"x": {"field": "at", "type": "quantitative"}},
    }
    zero = {
        "data": {"values": [{"at": 0}]},
        "mark": {"type": "rule", "color": INK},
        "encoding": {"x": {"field": "at", "type": "quantitative"}},
    }
    doubt = {
        "mark": {"type": "rule", "color": INK, "strokeWidth": 1.4},
        "encoding": {
            "x": {"field": "low", "type": "quantitative"},
            "x2": {"field": "high"},
            "y": y,
        },
    }
    return Drawing(
        title=title,
        alternative=(
            f"{title} One bar for each room with its 95 % range, dashed lines at the limit; the"
            " table has them."
        ),
        key=f"Dashed: {allowed:g} Pa either way, allowed in a closed room.",
        spec=chart_spec(values, height=ROW * len(values) + 20, layer=[limits, bars, zero, doubt]),
        columns=("Room", "Against the main space, Pa", "95 % range, Pa"),
        rows=tuple(
            (
                room.name,
                _signed(room.pressure.value),
                f"{_signed(room.pressure.low)} to {_signed(room.pressure.high)}",
            )
            for room in result.rooms
        ),
    )


def _signed(value: float) -> str:
    return f"{value:+.1f}".replace("-", "−")
