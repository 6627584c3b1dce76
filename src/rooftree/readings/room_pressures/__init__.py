"""Room and house pressures: closed rooms, duct leakage by its sign, exhaust fans."""

from rooftree.readings.room_pressures.readings import (
    Exhaust,
    PressureReading,
    Reference,
    Room,
    RoomPressureTest,
)
from rooftree.readings.room_pressures.reduction import reduce_room_pressures
from rooftree.readings.room_pressures.results import (
    DuctSide,
    HouseEffect,
    RoomPressureResult,
    RoomResult,
)

__all__ = [
    "DuctSide",
    "Exhaust",
    "HouseEffect",
    "PressureReading",
    "Reference",
    "Room",
    "RoomPressureResult",
    "RoomPressureTest",
    "RoomResult",
    "reduce_room_pressures",
]
