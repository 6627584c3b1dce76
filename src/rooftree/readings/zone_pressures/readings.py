"""What a person reads of a buffer space while the fan holds the house."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Boundary(StrEnum):
    """Which side of a buffer space a hole is opened in."""

    HOUSE = "between house and zone"
    OUTDOORS = "between zone and outdoors"


class ZoneKind(StrEnum):
    """What the space behind the boundary is."""

    BUFFER = "buffer space"
    ATTIC = "attic"
    KNEE_WALL = "knee-wall attic"
    CRAWLSPACE = "crawlspace"
    BASEMENT = "basement"
    GARAGE = "garage"
    NEIGHBOUR = "neighbour"
    ROOM = "room of the house"


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
        Assumed of the boundary between house and zone [-], 0.5 to 1.
    pressure_uncertainty : float
        Standard uncertainty of one reading [Pa].
    exponent_uncertainty : float
        Standard uncertainty of each exponent [-]; 0.057 is the spread over 7000 houses
        (Chan, Joh & Sherman, Energy and Buildings 66 (2013) 616).
    zone : ZoneKind
        What the space is.
    outdoor_exponent : float or None
        Assumed of the boundary between zone and outdoors [-], 0.5 to 1; None for the same
        as `exponent`. Open vents are nearer to 0.5 than cracks.
    outdoor_pressure : float or None
        Zone with reference to outdoors where it was read as well, signed like
        `house_pressure` [Pa]: the three must add up.
    again_pressure : float or None
        House with reference to the zone read once more with the probe moved [Pa].
    vent_area : float or None
        Free area of the zone's vents to outdoors where it was measured [m²].
    """

    space: str
    house_pressure: float
    zone_pressure: float
    exponent: float = 0.65
    pressure_uncertainty: float = 0.5
    exponent_uncertainty: float = 0.057
    zone: ZoneKind = ZoneKind.BUFFER
    outdoor_exponent: float | None = None
    outdoor_pressure: float | None = None
    again_pressure: float | None = None
    vent_area: float | None = None

    @property
    def exponent_outdoors(self) -> float:
        """Exponent between zone and outdoors, assumed like the other where not given [-]."""
        return self.exponent if self.outdoor_exponent is None else self.outdoor_exponent


@dataclass(frozen=True, slots=True)
class AddedHoleTest:
    """A zone read before and after a measured hole was opened or made larger.

    Attributes
    ----------
    space : str
        Id of the buffer space.
    house_pressure : float
        House with reference to outdoors before, signed, baseline taken off [Pa].
    zone_pressure : float
        House with reference to the zone before, signed like `house_pressure` [Pa].
    boundary : Boundary
        Where the hole was opened.
    area : float
        Its measured area [m²], > 0.
    pressure_after : float
        House with reference to the zone with the hole open, signed alike [Pa].
    discharge : float
        Discharge coefficient of the hole [-].
    area_before : float
        Area of the hole that was already open before [m²]; 0 for none. Where the
        zone reads near 0 or near the house pressure, two sizes of hole are needed.
    area_uncertainty : float
        Standard uncertainty of the hole's flow, area and edge together [0-1], relative.
    closed : bool
        Whether somebody confirmed that the hole was closed again.
    house_pressure_after : float or None
        House with reference to outdoors with the hole open, signed alike [Pa]; None where
        the fan brought it back to `house_pressure`.
    pressure_closed : float or None
        House with reference to the zone once the hole was closed again [Pa].
    exponent : float
        Assumed of the boundary between house and zone [-], 0.5 to 1.
    pressure_uncertainty : float
        Standard uncertainty of one reading [Pa].
    exponent_uncertainty : float
        Standard uncertainty of each exponent [-].
    zone : ZoneKind
        What the space is.
    outdoor_exponent : float or None
        Assumed of the boundary between zone and outdoors [-]; None for the same.
    """

    space: str
    house_pressure: float
    zone_pressure: float
    boundary: Boundary
    area: float
    pressure_after: float
    discharge: float = 0.60
    area_before: float = 0.0
    area_uncertainty: float = 0.10
    closed: bool = False
    house_pressure_after: float | None = None
    pressure_closed: float | None = None
    exponent: float = 0.65
    pressure_uncertainty: float = 0.5
    exponent_uncertainty: float = 0.057
    zone: ZoneKind = ZoneKind.BUFFER
    outdoor_exponent: float | None = None

    @property
    def before(self) -> ZonePressureTest:
        """What was read before, by itself."""
        return _before(self)


@dataclass(frozen=True, slots=True)
class OpenedHatchTest:
    """A zone and the fan's flow, read before and after a hatch or door was opened.

    Attributes
    ----------
    space : str
        Id of the buffer space.
    house_pressure : float
        House with reference to outdoors before, signed, baseline taken off [Pa].
    zone_pressure : float
        House with reference to the zone before, signed like `house_pressure` [Pa].
    pressure_after : float
        House with reference to the zone with the hatch open, signed alike [Pa].
    flow_before, flow_after : float
        Flow of the fan [m³/s].
    repeatability : float
        Standard uncertainty of one fan flow when read twice [0-1], relative.
    closed : bool
        Whether somebody confirmed that the hatch was closed again.
    boundary : Boundary
        Whether the hatch or door joins the zone to the house or to outdoors.
    area : float or None
        Its open area where it was measured [m²]: a check, and not needed.
    discharge : float
        Discharge coefficient of the hatch [-].
    area_uncertainty : float
        Standard uncertainty of the hatch's flow, area and edge together [0-1], relative.
    house_pressure_after : float or None
        House with reference to outdoors with the hatch open, signed alike [Pa]; None where
        the fan brought it back to `house_pressure`.
    pressure_closed : float or None
        House with reference to the zone once the hatch was closed again [Pa].
    flow_uncertainty : float
        Standard uncertainty of the fan's calibration [0-1], relative.
    exponent : float
        Assumed of the boundary between house and zone [-], 0.5 to 1.
    pressure_uncertainty : float
        Standard uncertainty of one reading [Pa].
    exponent_uncertainty : float
        Standard uncertainty of each exponent [-].
    zone : ZoneKind
        What the space is.
    outdoor_exponent : float or None
        Assumed of the boundary between zone and outdoors [-]; None for the same.
    """

    space: str
    house_pressure: float
    zone_pressure: float
    pressure_after: float
    flow_before: float
    flow_after: float
    repeatability: float = 0.01
    closed: bool = False
    boundary: Boundary = Boundary.HOUSE
    area: float | None = None
    discharge: float = 0.60
    area_uncertainty: float = 0.10
    house_pressure_after: float | None = None
    pressure_closed: float | None = None
    flow_uncertainty: float = 0.025
    exponent: float = 0.65
    pressure_uncertainty: float = 0.5
    exponent_uncertainty: float = 0.057
    zone: ZoneKind = ZoneKind.BUFFER
    outdoor_exponent: float | None = None

    @property
    def before(self) -> ZonePressureTest:
        """What was read before, by itself."""
        return _before(self)


def _before(test: AddedHoleTest | OpenedHatchTest) -> ZonePressureTest:
    return ZonePressureTest(
        test.space,
        test.house_pressure,
        test.zone_pressure,
        test.exponent,
        test.pressure_uncertainty,
        test.exponent_uncertainty,
        test.zone,
        test.outdoor_exponent,
    )
