"""What a person reads of rooms and house while doors, air handler and fans are switched."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum


class Reference(StrEnum):
    """Against what a pressure is read."""

    MAIN_SPACE = "main space"
    OUTDOORS = "outdoors"


@dataclass(frozen=True, slots=True)
class PressureReading:
    """One pressure in one state of the house.

    Attributes
    ----------
    room : str
        Name of the room; empty for the main space, which is read against outdoors.
    pressure : float
        Room with reference to `reference`, signed [Pa].
    reference : Reference
        Main space or outdoors.
    doors_closed : bool
        Whether the door of the room was closed; of the main space, all inside doors.
    air_handler : bool
        Whether the air handler ran.
    exhausts : str
        Names of the exhaust fans that ran, with commas between; empty for none.
    """

    room: str
    pressure: float
    reference: Reference = Reference.MAIN_SPACE
    doors_closed: bool = True
    air_handler: bool = True
    exhausts: str = ""

    @property
    def is_against_outdoors(self) -> bool:
        """Whether it was read against outdoors: the main space always is."""
        return not self.room or self.reference is Reference.OUTDOORS

    @property
    def running(self) -> frozenset[str]:
        """Names of the exhaust fans that ran."""
        names = (name.strip() for name in self.exhausts.split(","))
        return frozenset(name for name in names if name)


@dataclass(frozen=True, slots=True)
class Room:
    """What is known of one room.

    Attributes
    ----------
    name : str
        As in the readings.
    undercut : float or None
        Clear height under the closed door [m].
    door_width : float
        [m].
    other_area : float
        Clear area of transfer grilles, jump ducts and the like [m²].
    supply_flow : float or None
        Sum of the room's supply registers [m³/s].
    return_flow : float
        Sum of its return grilles [m³/s].
    leakage_share : float or None
        Of the house's leakage to outdoors that is in this room [0-1], about its share of the
        outside surface; None for a usual one.
    """

    name: str
    undercut: float | None = None
    door_width: float = 0.76
    other_area: float = 0.0
    supply_flow: float | None = None
    return_flow: float = 0.0
    leakage_share: float | None = None

    @property
    def net_flow(self) -> float | None:
        """Supply less return [m³/s]; None where the supply was not read."""
        return None if self.supply_flow is None else self.supply_flow - self.return_flow


@dataclass(frozen=True, slots=True)
class Exhaust:
    """One exhaust fan.

    Attributes
    ----------
    name : str
        As in the readings.
    flow : float or None
        Measured or rated [m³/s].
    """

    name: str
    flow: float | None = None


@dataclass(frozen=True, slots=True)
class RoomPressureTest:
    """Pressures of rooms and house in several states.

    Attributes
    ----------
    pressures : tuple of PressureReading
        In any order; readings in one state are averaged.
    rooms : tuple of Room
        What is known of the rooms; may be left out.
    exhausts : tuple of Exhaust
        What is known of the fans; may be left out.
    main_supply_flow, main_return_flow : float or None
        Sum of the registers and grilles of the main space [m³/s].
    allowed_pressure : float
        Which a closed room may have [Pa], > 0.
    house_height : float or None
        From the lowest to the highest leak [m].
    indoor_temperature, outdoor_temperature : float or None
        [K].
    discharge : float
        Discharge coefficient of door undercuts and grilles [-].
    discharge_uncertainty : float
        Its standard uncertainty [-].
    pressure_uncertainty : float
        Standard uncertainty of the gauge [Pa].
    wind_uncertainty : float
        Standard uncertainty of one reading by wind and averaging [Pa].
    flow_uncertainty : float
        Standard uncertainty of one room's net flow [0-1], relative.
    length_uncertainty : float
        Standard uncertainty of a ruled length [m].
    gap_uncertainty : float
        Standard uncertainty of an undercut by carpet and an uneven floor [m].
    """

    pressures: tuple[PressureReading, ...] = ()
    rooms: tuple[Room, ...] = ()
    exhausts: tuple[Exhaust, ...] = ()
    main_supply_flow: float | None = None
    main_return_flow: float | None = None
    allowed_pressure: float = 3.0
    house_height: float | None = None
    indoor_temperature: float | None = None
    outdoor_temperature: float | None = None
    discharge: float = 0.60
    discharge_uncertainty: float = 0.04
    pressure_uncertainty: float = 0.15
    wind_uncertainty: float = 0.2
    flow_uncertainty: float = 0.07
    length_uncertainty: float = 0.0005
    gap_uncertainty: float = 0.001

    @property
    def reading_uncertainty(self) -> float:
        """Standard uncertainty of one pressure, gauge and wind together [Pa]."""
        return math.hypot(self.pressure_uncertainty, self.wind_uncertainty)

    @property
    def undercut_uncertainty(self) -> float:
        """Standard uncertainty of one undercut, ruler and floor together [m]."""
        return math.hypot(self.length_uncertainty, self.gap_uncertainty)
