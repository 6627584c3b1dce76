"""Pressures of rooms and house in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, always, limited_line
from rooftree.readings.room_pressures import DuctSide, RoomPressureTest
from rooftree.units import Kind, show, show_range

if TYPE_CHECKING:
    from rooftree.readings.room_pressures import (
        HouseEffect,
        PressureReading,
        RoomPressureResult,
        RoomResult,
    )
    from rooftree.units import DisplaySystem

_SIDES = {
    DuctSide.SUPPLY: "supply ducts leak more to outdoors",
    DuctSide.RETURN: "return ducts leak more to outdoors",
    DuctSide.NEITHER: "no clear difference",
}


def state_words(row: PressureReading) -> str:
    """Return in words how doors and fans stood.

    Parameters
    ----------
    row : PressureReading
        One reading.

    Returns
    -------
    str
    """
    doors = "closed" if row.doors_closed else "open"
    handler = "on" if row.air_handler else "off"
    fans = f", {', '.join(sorted(row.running))} on" if row.running else ""
    return f"doors {doors}, air handler {handler}{fans}"


def _readings(reading: RoomPressureTest, system: DisplaySystem) -> tuple[Line, ...]:
    return tuple(
        Line(
            f"{row.room or 'Main space against outdoors'}, {state_words(row)}",
            show(row.pressure, Kind.PRESSURE, system),
        )
        for row in reading.pressures
    )


def _results(result: RoomPressureResult, system: DisplaySystem) -> tuple[Line, ...]:
    lines = []
    if result.duct_side is not None:
        lines.append(Line("Ducts", _SIDES[result.duct_side]))
    if result.duct_imbalance is not None:
        lines.append(
            limited_line("That side more than the other", result.duct_imbalance, Kind.FLOW, system)
        )
    if result.lowest is not None:
        lines.append(
            Line(
                "Lowest house pressure, less that with all off",
                show(result.lowest, Kind.PRESSURE, system),
            )
        )
    return tuple(lines)


def _tables(result: RoomPressureResult, system: DisplaySystem) -> tuple[Table, ...]:
    tables = []
    if result.rooms:
        tables.append(
            Table(
                "Closed rooms, air handler on",
                ("Room", "Against the main space", "Net flow", "Opening to add"),
                tuple(_room(room, system) for room in result.rooms),
            )
        )
    if result.effects:
        tables.append(
            Table(
                "What moves the pressure of the house",
                ("Switched", "Change", "Net flow into the house"),
                tuple(_effect(effect, system) for effect in result.effects),
            )
        )
    return tuple(tables)


def _room(room: RoomResult, system: DisplaySystem) -> tuple[str, ...]:
    area = room.area_to_add
    return (
        room.name,
        show(room.pressure.value, Kind.PRESSURE, system),
        show(room.net_flow.value, Kind.FLOW, system) if room.net_flow else "not known",
        show_range(max(area.low, 0.0), area.high, Kind.LEAKAGE_AREA, system) if area else "none",
    )


def _effect(effect: HouseEffect, system: DisplaySystem) -> tuple[str, ...]:
    flow = effect.flow
    return (
        effect.cause[0].upper() + effect.cause[1:],
        show(effect.change.value, Kind.PRESSURE, system),
        show(flow.value, Kind.FLOW, system) if flow else "not known",
    )


WORDS = TestWords(
    reading=RoomPressureTest,
    name="Room pressures",
    method=always(
        "Closed rooms against the main space (DOE/NREL Standard Work Specifications 6.6201.2), "
        "flows by orifice and by the leakage curve of the house"
    ),
    readings=_readings,
    results=_results,
    tables=_tables,
    cautions=(
        "A house below outdoors can draw smoke down a flue: carbon monoxide can kill. Make the "
        "combustion test where a burner takes its air from the house; local codes decide."
    ),
)
