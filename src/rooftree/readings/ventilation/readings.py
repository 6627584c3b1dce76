"""What a person reads of the fans and rooms of a dwelling."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class RoomKind(StrEnum):
    """Rooms that local exhaust is asked for."""

    BATH = "bath"
    HALF_BATH = "half bath"
    KITCHEN_HOOD = "kitchen with a vented hood"
    KITCHEN_OTHER = "kitchen with another fan or none"


@dataclass(frozen=True, slots=True)
class ExhaustReading:
    """The exhaust of one room, as measured.

    Attributes
    ----------
    room : str
        Name of the room.
    kind : RoomKind
        What it is.
    flow : float
        Measured flow to outdoors [m³/s]; 0 without a fan or where it only recirculates.
    runs_always : bool
        Whether it runs all the time.
    window_opens : bool
        Whether the room has a window that opens.
    volume : float or None
        Of a kitchen with a fan that runs all the time [m³].
    """

    room: str
    kind: RoomKind
    flow: float
    runs_always: bool = False
    window_opens: bool = False
    volume: float | None = None


@dataclass(frozen=True, slots=True)
class WholeHouseFan:
    """A fan that ventilates the whole dwelling, as measured.

    Attributes
    ----------
    name : str
        Which one.
    flow : float
        When it runs [m³/s].
    run_share : float
        Share of the time for which it runs [0-1].
    cycle : float
        From one start to the next [h].
    """

    name: str
    flow: float
    run_share: float = 1.0
    cycle: float = 1.0
