"""What a person reads of air, surfaces and wood on a damp-house visit."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from rooftree.physics.air import STANDARD_PRESSURE


class PlaceKind(StrEnum):
    """What sort of air a place holds."""

    OUTDOORS = "outdoors"
    LIVING = "living space"
    CRAWLSPACE = "crawlspace"
    BASEMENT = "basement"
    ATTIC = "attic"
    GARAGE = "garage"
    OTHER = "other"


class Finish(StrEnum):
    """What the face is made of, as an infrared instrument sees it."""

    ORDINARY = "paint, wood, paper, masonry"
    GLASS = "glass"
    DULL_METAL = "bare dull metal"
    FOIL = "bright foil"


class Thermometer(StrEnum):
    """How a surface temperature was taken."""

    CONTACT = "contact probe"
    INFRARED = "infrared"


class Side(StrEnum):
    """On which side of the enclosure a surface lies."""

    INSIDE = "inside face"
    NEITHER = "other surface"


class MeterMode(StrEnum):
    """How a wood moisture meter works."""

    PINS = "pins"
    PINLESS = "no pins"
    RELATIVE = "relative scale"


class Wood(StrEnum):
    """What the pins go into."""

    DOUGLAS_FIR = "Douglas fir"
    SOUTHERN_PINE = "southern pine"
    SPRUCE_PINE_FIR = "spruce, pine or fir"
    OAK = "oak"
    OTHER = "other wood"
    PLYWOOD = "plywood"
    OSB = "oriented strand board"


class InTheWay(StrEnum):
    """What near the pins can carry current besides water."""

    NOTHING = "nothing"
    FOIL = "foil"
    METAL = "metal"
    SALT = "salt or treatment"


class InspectionRule(StrEnum):
    """Whose conditions for looking at heat through an enclosure apply."""

    ASTM_C1060 = "ASTM C1060"
    EN_13187 = "EN 13187"


@dataclass(frozen=True, slots=True)
class AirReading:
    """Air of one place: its temperature and one measure of its moisture.

    Attributes
    ----------
    name : str
        Of the place.
    kind : PlaceKind
        What sort of air.
    temperature : float
        Dry bulb [K].
    relative_humidity : float or None
        As shown [0-1].
    wet_bulb : float or None
        Wet bulb [K].
    dew_point : float or None
        Dew point [K]. Of the three the first that is given is used.
    earlier_temperature, earlier_humidity : float or None
        The same probe read two minutes before, [K] and [0-1]: tells whether it had settled.
    """

    name: str
    kind: PlaceKind
    temperature: float
    relative_humidity: float | None = None
    wet_bulb: float | None = None
    dew_point: float | None = None
    earlier_temperature: float | None = None
    earlier_humidity: float | None = None


@dataclass(frozen=True, slots=True)
class SurfaceReading:
    """Temperature of one surface.

    Attributes
    ----------
    name : str
        Of the surface.
    temperature : float
        As shown [K].
    place : str
        Name of the place whose air touches it.
    side : Side
        Inside face of the enclosure, or another surface (a pipe, a duct).
    thermometer : Thermometer
        How it was taken.
    finish : Finish
        What the face is made of.
    set_emissivity : float
        Set on the infrared instrument [0-1].
    reflected_temperature : float or None
        Of what the face mirrors [K]; the air of the place where it was not read.
    sunless_time : float or None
        Time since sun last fell on it from either side [s]; None where not known.
    """

    name: str
    temperature: float
    place: str
    side: Side = Side.INSIDE
    thermometer: Thermometer = Thermometer.INFRARED
    finish: Finish = Finish.ORDINARY
    set_emissivity: float = 0.95
    reflected_temperature: float | None = None
    sunless_time: float | None = None


@dataclass(frozen=True, slots=True)
class WoodReading:
    """Moisture content of one piece of wood.

    Attributes
    ----------
    name : str
        Of the piece; give the same name to readings of one piece at several depths.
    moisture_content : float
        As shown [0-1].
    place : str
        Name of the place whose air it stands in.
    temperature : float or None
        Of the wood [K]; the air of the place where it was not read.
    wood : Wood
        What it is made of.
    meter_set_to : Wood
        Wood that the meter was set to.
    mode : MeterMode
        How the meter works.
    in_the_way : InTheWay
        What near the pins can carry current besides water.
    depth : float or None
        Of the pins' tips [m].
    """

    name: str
    moisture_content: float
    place: str
    temperature: float | None = None
    wood: Wood = Wood.DOUGLAS_FIR
    meter_set_to: Wood = Wood.DOUGLAS_FIR
    mode: MeterMode = MeterMode.PINS
    in_the_way: InTheWay = InTheWay.NOTHING
    depth: float | None = None


@dataclass(frozen=True, slots=True)
class MoistureTest:
    """Everything that was read of moisture on one visit.

    Attributes
    ----------
    places : tuple of AirReading
        Outdoors and at least one place inside.
    surfaces : tuple of SurfaceReading
        Surfaces that may be cold.
    woods : tuple of WoodReading
        Wood that may be wet.
    rule : InspectionRule
        Whose conditions apply to temperature factors and infrared readings.
    wind_speed : float or None
        Outdoors [m/s].
    steady_time : float or None
        For how long the difference between inside and outdoors has lasted [s].
    barometric_pressure : float
        [Pa].
    temperature_uncertainty : float
        Standard uncertainty of an air temperature [K].
    humidity_uncertainty : float
        Standard uncertainty of a relative humidity [0-1].
    surface_uncertainty : float
        Standard uncertainty of a surface temperature, besides its emissivity [K].
    emissivity_uncertainty : float
        Standard uncertainty of an emissivity [-].
    wood_uncertainty : float
        Standard uncertainty of a moisture content, wood of the meter's setting [0-1].
    """

    places: tuple[AirReading, ...]
    surfaces: tuple[SurfaceReading, ...] = ()
    woods: tuple[WoodReading, ...] = ()
    rule: InspectionRule = InspectionRule.ASTM_C1060
    wind_speed: float | None = None
    steady_time: float | None = None
    barometric_pressure: float = STANDARD_PRESSURE
    temperature_uncertainty: float = 0.3
    humidity_uncertainty: float = 0.02
    surface_uncertainty: float = 0.7
    emissivity_uncertainty: float = 0.03
    wood_uncertainty: float = 0.015
