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


class FanPurpose(StrEnum):
    """What a fan, or the place for one, is there for."""

    BATH = "bath"
    HALF_BATH = "half bath"
    KITCHEN_HOOD = "kitchen hood"
    KITCHEN_OTHER = "other kitchen fan"
    DRYER = "dryer"
    OTHER_EXHAUST = "other exhaust"
    WHOLE_EXHAUST = "whole-house exhaust"
    WHOLE_SUPPLY = "whole-house supply"
    WHOLE_BALANCED = "whole-house, balanced"


class FlowMethod(StrEnum):
    """How a flow was read."""

    POWERED_HOOD = "hood that balances itself with a fan"
    PLAIN_HOOD = "plain flow hood"
    BOX = "box with a calibrated opening"
    VANE = "vane or wire across the grille"
    RATED = "label or catalogue only"
    NO_FAN = "there is no fan"


class Running(StrEnum):
    """When a fan runs."""

    ON_DEMAND = "on demand"
    ALWAYS = "all the time"
    TIMED = "by a timer or control"


@dataclass(frozen=True, slots=True)
class FanReading:
    """One fan, or a bath or kitchen without one.

    Attributes
    ----------
    name : str
        Which one, such as the room.
    purpose : FanPurpose
        What it is for.
    flow : float
        Measured air flow [m³/s], out of the house, or into it for a supply; of a balanced
        fan what it takes out.
    turned_flow : float or None
        The same, read again with the hood turned or set anew [m³/s].
    supply_flow : float or None
        What a balanced fan brings in [m³/s].
    method : FlowMethod
        How it was read.
    is_even : bool
        Whether the air comes evenly over the whole grille, and the hood covers it.
    is_clean : bool
        Whether the grille was clean.
    goes_outdoors : bool
        Whether the air ends outdoors.
    rated_flow : float or None
        By label or catalogue [m³/s].
    power : float or None
        Electric power of the fan [W].
    running : Running
        When it runs.
    run_share : float
        Share of the time for which a timer runs it [0-1].
    cycle : float
        From one start by the timer to the next [s].
    window_opens : bool
        Whether the room has a window that opens.
    room_volume : float or None
        Of a kitchen whose fan runs all the time [m³].
    """

    name: str
    purpose: FanPurpose
    flow: float = 0.0
    turned_flow: float | None = None
    supply_flow: float | None = None
    method: FlowMethod = FlowMethod.POWERED_HOOD
    is_even: bool = True
    is_clean: bool = True
    goes_outdoors: bool = True
    rated_flow: float | None = None
    power: float | None = None
    running: Running = Running.ON_DEMAND
    run_share: float = 1.0
    cycle: float = 3600.0
    window_opens: bool = False
    room_volume: float | None = None


@dataclass(frozen=True, slots=True)
class VentilationTest:
    """The fans of a dwelling as measured, and what the standard asks about it.

    Attributes
    ----------
    fans : tuple of FanReading
        Every fan that moves air in or out, and each bath and kitchen without one.
    edition : str
        Of ASHRAE 62.2, ``"2010"``, ``"2013"``, ``"2016"``, ``"2019"`` or ``"2022"``.
    is_new : bool
        Whether the dwelling is new.
    weather_factor : float or None
        Weather-and-shielding factor as the standard prints it for the place [1/h];
        computed from the hourly year where None.
    exterior_share : float
        Share of the envelope that faces outdoors and not a neighbour [0-1].
    people : int or None
        Who live there, where they are more than bedrooms plus one.
    flow_uncertainty : float
        Standard uncertainty of the flow meter on an even grille [0-1], relative, common
        to all fans.
    """

    fans: tuple[FanReading, ...] = ()
    edition: str = "2019"
    is_new: bool = False
    weather_factor: float | None = None
    exterior_share: float = 1.0
    people: int | None = None
    flow_uncertainty: float = 0.05
