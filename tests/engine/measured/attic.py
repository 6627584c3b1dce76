"""A vented attic in Espoo, Finland, measured hour by hour for 19 months, as a house.

Known: the house has two storeys and 8 m above ground, stands on a hill in terrain of class
III; the roof has one pitch, the south side is the higher one, eaves are vented; from inside
a lining, polyethylene, 0.5 m of blown glass wool, 0.5 m of air on average, tongued and
grooved boards, bitumen felt. Everything else is in `Guesses`, chosen before the first run.

Data: "TRH-1" database of temperature and humidity measurements in building envelopes
(Tampere University and contributors), house R3, roof YP2, CC BY 4.0; weather of the Finnish
Meteorological Institute, CC BY 4.0.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from engine.measured.records import MEASURED, ZERO, between_stamps, columns
from rooftree.engine import simulate
from rooftree.engine.imposed import Imposed
from rooftree.house import (
    OUTDOORS,
    House,
    Layer,
    Leak,
    LeakKind,
    Site,
    Space,
    SpaceKind,
    Surface,
    Use,
)
from rooftree.weather import record_year
from rooftree.weather.clouds import clouds_from_sun
from rooftree.weather.moisture import saturation_over_water
from rooftree.weather.sky import sky_infrared, sky_temperature

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from rooftree.engine import YearResult
    from rooftree.weather import WeatherYear

FOLDER = MEASURED / "attic_espoo"
START = "2010-11-23"
SIDE = 10.0
"""Length and width of the attic [m]; air and heat go with its area, so that this is free."""

POINTS = {
    "underside of the boards": "roofmiddle_airtop",
    "air, mid-height": "roofmiddle_airmiddle",
    "top of the insulation": "roofmiddle_insulationtop",
}


@dataclass(frozen=True, slots=True)
class Guesses:
    """What is not known of the house.

    Attributes
    ----------
    vent_share : float
        Free area of the vents, half at each eave, over the area of the attic [-]: 4 per mille
        is what Finnish guidance asks for at low slopes (recalled), 1/300 and 1/150 are the
        usual American values.
    slope : float
        Of the roof [°]: 0.15 m at the lower eave and 0.5 m on average over 10 m.
    absorptance, emittance : float
        Of dark bitumen felt [0-1] (defaults of California's attic model).
    board : float
        Thickness of the boards [m]: the usual Finnish size (recalled).
    conductivity : float
        Of blown glass wool [W/(m·K)]: a usual declared value (recalled).
    shelter : float
        Factor on the wind of the station [-]: the usual value of the house model.
    ceiling_leak : float
        Air through the ceiling at 50 Pa [m³/(h·m²)]: half of the limit of Finland's 2010 code
        (recalled).
    gables : bool
        Whether the upright ends of the attic are there, boards in the sun.
    cloudier : float
        Added to the cloud cover that the sun tells [0-1].
    buffering : float
        Water that the attic's materials hold, over that in its air [-].
    """

    vent_share: float = 0.004
    slope: float = 4.0
    absorptance: float = 0.90
    emittance: float = 0.85
    board: float = 0.023
    conductivity: float = 0.041
    shelter: float = 0.7
    ceiling_leak: float = 2.0
    gables: bool = True
    cloudier: float = 0.0
    buffering: float = 15.0


def is_there() -> bool:
    """Return whether the record is beside the checkout."""
    return (FOLDER / "fmi.csv").exists()


def measured(point: str, column: str = "T") -> NDArray[np.float64]:
    """Return temperature [°C] or relative humidity [%] of a sensor, means between the stamps."""
    return between_stamps(columns(FOLDER / f"{point}.csv")[column])


@cache
def weather(cloudier: float = 0.0) -> WeatherYear:
    """Return the record of the weather station.

    Sun and temperatures of the record are centred on their stamps (on 53 clear days the middle
    of the sun lies 0.02 h from solar noon), so that an hour is the mean of both its ends.
    """
    hourly = {name: between_stamps(values) for name, values in columns(FOLDER / "fmi.csv").items()}
    year = record_year(
        "Espoo",
        "Finnish Meteorological Institute, CC BY 4.0",
        latitude=60.2,
        longitude=24.7,
        utc_offset=2.0,
        elevation=30.0,
        start=START,
        temperature=hourly["Te"] + ZERO,
        relative_humidity=hourly["RHe"] / 100.0,
        wind_speed=hourly["ws"],
        wind_direction=columns(FOLDER / "fmi.csv")["wd"][:-1],
        global_horizontal=hourly["Rglob"],
        diffuse_horizontal=np.minimum(hourly["Rdif"], hourly["Rglob"]),
    )
    if not cloudier:
        return year
    clouds = clouds_from_sun(year.global_horizontal, year.sun_altitude)
    infrared = sky_infrared(year.temperature, year.dew_point, np.clip(clouds + cloudier, 0.0, 1.0))
    return replace(year, sky_temperature=sky_temperature(infrared))


def boards(thickness: float) -> Layer:
    """Return softwood (ISO 10456)."""
    return Layer("boards", thickness, 0.13, 500.0, 1600.0)


SNOW_DENSITY = 250.0
"""Of settled snow [kg/m³] (recalled: 200 to 300)."""

MELTING = 3.0 / 24.0
"""Snow that melts in each hour and kelvin above freezing [kg/(m²·h·K)]: 3 mm a day and kelvin,
the middle of the usual 2 to 6 (degree-day method; recalled)."""


@cache
def snow() -> NDArray[np.float64]:
    """Return the snow on the roof in each hour [kg/m²], from precipitation and temperature.

    The record has no depth of snow. Precipitation below 1 °C stays, warmth above 0 °C melts it.
    """
    fallen = columns(FOLDER / "fmi.csv")["precip"][1:]
    celsius = weather().temperature - ZERO
    lying, here = np.empty(fallen.size), 0.0
    for hour, (rain, warmth) in enumerate(zip(fallen, celsius, strict=True)):
        here = max(here + (rain if warmth < 1.0 else 0.0) - MELTING * max(warmth, 0.0), 0.0)
        lying[hour] = here
    return lying


def is_white() -> NDArray[np.bool_]:
    """Return the hours in which snow covers the roof, 2 cm or more."""
    return np.asarray(snow() > 0.02 * SNOW_DENSITY)


def snow_layer() -> Layer:
    """Return the mean snow of the white hours; conductivity by Sturm and others 1997 (recalled)."""
    share = SNOW_DENSITY / 1000.0
    conductivity = 0.138 - 1.01 * share + 3.233 * share**2
    depth = float(snow()[is_white()].mean()) / SNOW_DENSITY
    return Layer("snow", depth, conductivity, SNOW_DENSITY, 2100.0)


def house(guesses: Guesses, *, white: bool = False) -> House:
    """Return the house: one space below, whose air is imposed, and the attic."""
    area, eaves = SIDE * SIDE, 7.0
    rise = SIDE * math.tan(math.radians(guesses.slope))
    low, high = eaves + 0.65 - 0.5 * rise, eaves + 0.65 + 0.5 * rise
    lining = Layer("gypsum board", 0.013, 0.25, 900.0, 1000.0)
    wool = Layer("blown glass wool", 0.5, guesses.conductivity, 20.0, 1030.0, "insulation")
    felt = Layer("bitumen felt", 0.008, 0.23, 1100.0, 1000.0)
    roof = {"solar_absorptance": guesses.absorptance, "emittance": guesses.emittance}
    covering: tuple[Layer, ...] = (boards(guesses.board), felt)
    if white:
        covering, roof = (*covering, snow_layer()), {"solar_absorptance": 0.2, "emittance": 0.97}
    surfaces = [
        Surface("ceiling", "ceiling", "ceiling", "house", "attic", area, 0.0, 0.0, (lining, wool)),
        Surface("roof", "roof", "roof", "attic", OUTDOORS, area, guesses.slope, 0.0,
                covering, **roof),
    ]  # fmt: skip
    if guesses.gables:
        heights = {180.0: 0.5 + 0.5 * rise, 90.0: 0.5, 0.0: 0.5 - 0.5 * rise, 270.0: 0.5}
        surfaces += [
            Surface(f"end {azimuth:g}", "end", "wall", "attic", OUTDOORS, SIDE * height, 90.0,
                    azimuth, (boards(guesses.board),), solar_absorptance=0.6)
            for azimuth, height in heights.items()
        ]  # fmt: skip
    vent = 0.6 * math.sqrt(2.0 / 1.2) * 0.5 * guesses.vent_share * area
    leak = guesses.ceiling_leak * area / 3600.0 / 50.0**0.65
    side = guesses.ceiling_leak * SIDE * 5.4 / 3600.0 / 50.0**0.65
    leaks = (
        Leak("high eave", "high eave", "attic", OUTDOORS, high, 180.0, vent, 0.5, LeakKind.VENT),
        Leak("low eave", "low eave", "attic", OUTDOORS, low, 0.0, vent, 0.5, LeakKind.VENT),
        Leak("ceiling", "ceiling", "house", "attic", eaves, None, leak),
        *(
            Leak(f"wall {azimuth:g}", "wall", "house", OUTDOORS, 4.0, azimuth, side)
            for azimuth in (0.0, 90.0, 180.0, 270.0)
        ),
    )
    steady = (295.15,) * 24
    return House(
        name="A vented attic in Espoo",
        site=Site(60.2, 24.7, 30.0, terrain="suburban", shelter=guesses.shelter),
        spaces=(
            Space("house", "the house", SpaceKind.LIVING, 2.0 * area, 5.4 * area, 0.6, 5.4),
            Space("attic", "the attic", SpaceKind.ATTIC, area, 0.5 * area, eaves + 0.4, 0.5,
                  buffering=guesses.buffering),
        ),
        surfaces=tuple(surfaces),
        use=Use(0, 0, steady, steady, (0.0,) * 24),
        leaks=leaks,
    )  # fmt: skip


def indoors() -> Imposed:
    """Return the measured air below the attic."""
    temperature = measured("indoor1") + ZERO
    vapor = measured("indoor1", "RH") / 100.0 * saturation_over_water(temperature)
    ratio = 0.621945 * vapor / (weather().pressure - vapor)
    return Imposed(temperature={"house": temperature}, humidity_ratio={"house": ratio})


BASE = Guesses()


@cache
def run(guesses: Guesses = BASE, *, white: bool = False) -> YearResult:
    """Return the simulated record, the roof bare or white throughout."""
    result = simulate(
        house(guesses, white=white),
        weather(guesses.cloudier),
        hourly=True,
        imposed=indoors(),
    )
    assert result.hourly is not None
    return result


@cache
def temperatures(guesses: Guesses = BASE) -> Mapping[str, NDArray[np.float64]]:
    """Return what the model has for each sensor [°C], under snow where snow lies.

    The sensor under the boards shows the inner face of the roof, the one on the wool the face
    of the ceiling in the attic, the one between them the air.
    """
    both = [_by_point(run(guesses, white=white)) for white in (False, True)]
    return {point: np.where(is_white(), both[1][point], both[0][point]) - ZERO for point in POINTS}


def _by_point(result: YearResult) -> dict[str, NDArray[np.float64]]:
    kept = result.hourly
    assert kept is not None
    of_boards = kept.face_inside[:, result.element_ids.index("roof")]
    of_air = kept.temperature[:, result.space_ids.index("attic")]
    of_wool = kept.face_outside[:, result.element_ids.index("ceiling")]
    return dict(zip(POINTS, (of_boards, of_air, of_wool), strict=True))


@cache
def humidity_ratio(guesses: Guesses = BASE) -> NDArray[np.float64]:
    """Return the vapor in the attic's air [kg/kg], under snow where snow lies."""
    bare, white = (run(guesses, white=each) for each in (False, True))
    assert bare.hourly is not None
    assert white.hourly is not None
    attic = bare.space_ids.index("attic")
    return np.where(
        is_white(), white.hourly.humidity_ratio[:, attic], bare.hourly.humidity_ratio[:, attic]
    )


def relative_humidity(
    ratio: NDArray[np.float64], celsius: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return the relative humidity over water, as sensors show it [%]."""
    vapor = weather().pressure * ratio / (0.621945 + ratio)
    return np.asarray(100.0 * vapor / saturation_over_water(np.minimum(celsius, 60.0) + ZERO))


def humidities(guesses: Guesses = BASE) -> Mapping[str, NDArray[np.float64]]:
    """Return the relative humidity of each sensor [%]: one vapor content, each temperature."""
    ratio = humidity_ratio(guesses)
    return {
        point: relative_humidity(ratio, celsius) for point, celsius in temperatures(guesses).items()
    }


def seasons() -> Mapping[str, NDArray[np.bool_]]:
    """Return the hours of each season, after the first week."""
    month = weather().dates.astype("datetime64[M]").astype(int) % 12 + 1
    settled = np.arange(month.size) >= 7 * 24
    named = {"winter": (12, 1, 2), "spring": (3, 4, 5), "summer": (6, 7, 8), "autumn": (9, 10, 11)}
    return {
        "whole record": settled,
        "bare roof": settled & ~is_white(),
        **{name: settled & np.isin(month, months) for name, months in named.items()},
    }
