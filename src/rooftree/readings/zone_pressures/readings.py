"""What a person reads of a buffer space while the fan holds the house."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Boundary(StrEnum):
    """Which side of a buffer space a hole is opened in."""

    HOUSE = "between house and zone"
    OUTDOORS = "between zone and outdoors"


@dataclass(frozen=True, slots=True)
class ZonePressureTest:
    """Pressure of one buffer space during the fan test.

    Attributes
    ----------
    space : str
        Id of the buffer space.
    house_pressure : float
        House with reference to outdoors, signed, baseline taken off [Pa].
    zone_pressure : float
        House with reference to the zone, signed like `house_pressure` [Pa].
    exponent : float
        Assumed for both boundaries [-], 0.5 to 1.
    pressure_uncertainty : float
        Standard uncertainty of one reading [Pa].
    exponent_uncertainty : float
        Standard uncertainty of `exponent` [-]; 0.057 is the spread over 7000 houses.
    """

    space: str
    house_pressure: float
    zone_pressure: float
    exponent: float = 0.65
    pressure_uncertainty: float = 0.5
    exponent_uncertainty: float = 0.057


@dataclass(frozen=True, slots=True)
class AddedHoleTest:
    """The same zone read before and after a measured hole was opened or made larger.

    Attributes
    ----------
    zone : ZonePressureTest
        Readings before.
    boundary : Boundary
        Where the hole was opened.
    area : float
        Its measured area [m²], > 0.
    pressure_after : float
        House with reference to the zone with the hole open, the house held at the same
        pressure, signed like `zone.zone_pressure` [Pa].
    discharge : float
        Discharge coefficient of the hole [-].
    area_before : float
        Area of the hole that was already open for `zone` [m²]; 0 for none. Where the
        zone reads near 0 or near the house pressure, two sizes of hole are needed.
    area_uncertainty : float
        Standard uncertainty of the hole's flow, area and edge together [0-1], relative.
    closed : bool
        Whether somebody confirmed that the hole was closed again.
    """

    zone: ZonePressureTest
    boundary: Boundary
    area: float
    pressure_after: float
    discharge: float = 0.60
    area_before: float = 0.0
    area_uncertainty: float = 0.10
    closed: bool = False


@dataclass(frozen=True, slots=True)
class OpenedHatchTest:
    """The same zone and the fan read before and after a hatch to the house was opened.

    Attributes
    ----------
    zone : ZonePressureTest
        Readings before the hatch.
    pressure_after : float
        House with reference to the zone with the hatch open, the house held at the same
        pressure, signed like `zone.zone_pressure` [Pa].
    flow_before, flow_after : float
        Flow of the fan [m³/s].
    repeatability : float
        Standard uncertainty of one fan flow when read twice [0-1], relative.
    closed : bool
        Whether somebody confirmed that the hatch was closed again.
    """

    zone: ZonePressureTest
    pressure_after: float
    flow_before: float
    flow_after: float
    repeatability: float = 0.01
    closed: bool = False
