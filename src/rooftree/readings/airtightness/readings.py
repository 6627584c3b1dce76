"""What a person reads during a fan pressurization test of the enclosure."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Direction(StrEnum):
    """Which way the fan blows."""

    DEPRESSURIZE = "depressurize"
    PRESSURIZE = "pressurize"


class Standard(StrEnum):
    """Whose reduction is followed."""

    ISO_9972 = "ISO 9972:2015"
    ASTM_E779 = "ASTM E779"


@dataclass(frozen=True, slots=True)
class FanBand:
    """Calibration of one fan configuration: ``flow = coefficient * fan_pressure ** exponent``.

    Attributes
    ----------
    configuration : str
        The user's own name for the ring, plate or range.
    low, high : float
        Band of fan pressure for which the calibration holds [Pa].
    coefficient : float
        Of the calibration, at `density` [m³/(s·Paⁿ)].
    exponent : float
        Of the calibration [-].
    """

    configuration: str
    low: float
    high: float
    coefficient: float
    exponent: float


@dataclass(frozen=True, slots=True)
class Fan:
    """One test fan.

    Attributes
    ----------
    id : str
        Name of the instrument in the job.
    bands : tuple of FanBand
        Its calibration; empty when the gauge shows flow.
    calibration_density : float
        Density of air for which the calibration or the gauge is right [kg/m³].
    flow_uncertainty : float
        Standard uncertainty of its flow [0-1], relative.
    """

    id: str
    bands: tuple[FanBand, ...] = ()
    calibration_density: float = 1.2041
    flow_uncertainty: float = 0.025


@dataclass(frozen=True, slots=True)
class FanReading:
    """One fan at one station: either its flow as shown, or its pressure and configuration.

    Attributes
    ----------
    fan : str
        Id of the fan.
    flow : float or None
        Flow shown by the gauge [m³/s].
    fan_pressure : float or None
        Pressure across the fan's sensor [Pa].
    configuration : str
        Which configuration was on it.
    """

    fan: str
    flow: float | None = None
    fan_pressure: float | None = None
    configuration: str = ""


@dataclass(frozen=True, slots=True)
class Station:
    """One pressure station.

    Attributes
    ----------
    pressure : float
        House with reference to outdoors, as read, baseline not taken off [Pa].
    fans : tuple of FanReading
        Every fan that ran.
    """

    pressure: float
    fans: tuple[FanReading, ...]


@dataclass(frozen=True, slots=True)
class FanTest:
    """One direction of one test, as read.

    Attributes
    ----------
    direction : Direction
        Which way the fan blew.
    standard : Standard
        Whose reduction to follow.
    baseline_before, baseline_after : tuple of float
        Readings of house pressure with the fan sealed, signed [Pa]; may be empty.
    stations : tuple of Station
        In the order read.
    fans : tuple of Fan
        The instruments.
    indoor_temperature, outdoor_temperature : float
        During the test [K].
    barometric_pressure : float
        At the site [Pa]; from the altitude where it was not read.
    relative_humidity : float
        Of both airs [0-1]; the standards allow 0.5.
    wind_speed : float or None
        Near the house [m/s].
    height : float
        Of the tested enclosure above ground [m].
    pressure_uncertainty : float
        Standard uncertainty of one pressure reading [Pa].
    interior_doors_open, air_handler_off, exhaust_fans_off, openings_closed : bool or None
        How the house was set up; None where that was not noted.
    embers : bool or None
        Whether a fireplace or stove held embers or open ash.
    room_pressure : float or None
        Largest pressure between a room and the space with the gauge, at the highest
        station [Pa].
    """

    direction: Direction
    standard: Standard
    baseline_before: tuple[float, ...]
    baseline_after: tuple[float, ...]
    stations: tuple[Station, ...]
    fans: tuple[Fan, ...]
    indoor_temperature: float
    outdoor_temperature: float
    barometric_pressure: float
    relative_humidity: float = 0.5
    wind_speed: float | None = None
    height: float = 5.0
    pressure_uncertainty: float = 0.5
    interior_doors_open: bool | None = None
    air_handler_off: bool | None = None
    exhaust_fans_off: bool | None = None
    openings_closed: bool | None = None
    embers: bool | None = None
    room_pressure: float | None = None


@dataclass(frozen=True, slots=True)
class Enclosure:
    """The tested enclosure, for results per size.

    Attributes
    ----------
    volume, floor_area, envelope_area : float
        Of the tested space [m³], [m²], [m²].
    height : float
        From lowest to highest floor's ceiling [m].
    """

    volume: float
    floor_area: float
    envelope_area: float
    height: float
