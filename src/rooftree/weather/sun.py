"""Where the sun stands, and how much of it falls on a plane.

Sources
-------
[SPA] Reda, I., Andreas, A., "Solar Position Algorithm for Solar Radiation
    Applications", NREL/TP-560-34302, revised 2008.
[PEREZ1990] Perez, R., Ineichen, P., Seals, R., Michalsky, J., Stewart, R., "Modeling
    daylight availability and irradiance components from direct and global
    irradiance", Solar Energy 44(5), 1990, 271-289.
[KASTEN1989] Kasten, F., Young, A. T., "Revised optical air mass tables and
    approximation formula", Applied Optics 28(22), 1989, 4735-4738.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.weather.year import HOURS

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from rooftree.weather.year import WeatherYear

ALMANAC_YEAR = 2003
"""Year whose sun is used for every typical year.

Months of a typical year come from different years; 2003 lies in the middle of the
leap-year cycle, which keeps declination within 0.2° of any source year's.
"""


@dataclass(frozen=True, slots=True)
class PlaneIrradiance:
    """Sun on one plane, hour by hour; every array has shape (hours,).

    Attributes
    ----------
    beam : ndarray
        Straight from the sun [W/m²].
    sky : ndarray
        Diffuse from the sky, the glow around the sun and at the horizon included [W/m²].
    ground : ndarray
        Reflected by the ground [W/m²].
    cosine : ndarray
        Cosine of the angle between the sun and the plane's normal; 0 where the sun is
        down or behind the plane [-].
    glow : ndarray
        The part of `sky` that comes from close around the sun, and so at its angle [W/m²].
    """

    beam: NDArray[np.float64]
    sky: NDArray[np.float64]
    ground: NDArray[np.float64]
    cosine: NDArray[np.float64]
    glow: NDArray[np.float64]


def sun_position(
    hours: ArrayLike,
    latitude: float,
    longitude: float,
    utc_offset: float,
    elevation: float = 0.0,
    start: np.datetime64 | None = None,
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the altitude and azimuth of the sun at moments of the year.

    Parameters
    ----------
    hours : array_like, shape (n,)
        Local standard time since the start [h].
    latitude, longitude : float
        North and east positive [°].
    utc_offset : float
        Hours that local standard time is ahead of UTC [h].
    elevation : float
        Height above sea level [m].
    start : datetime64 or None
        Local standard time from which the hours are counted; None for midnight of
        1 January of `ALMANAC_YEAR`.

    Returns
    -------
    altitude, azimuth : ndarray, shape (n,)
        Apparent altitude of the centre of the disc (refraction included), and azimuth
        clockwise from north [°].

    Notes
    -----
    The algorithm of [SPA]_, through pvlib; the air of the standard atmosphere at that
    elevation, at 12 °C, refracts.

    References
    ----------
    [SPA] Reda, I., Andreas, A., "Solar Position Algorithm for Solar Radiation
    Applications", NREL/TP-560-34302, revised 2008.
    """
    import pandas as pd
    from pvlib.atmosphere import alt2pres
    from pvlib.solarposition import spa_python

    milliseconds = np.round((np.asarray(hours, dtype=float) - utc_offset) * 3.6e6)
    first = np.datetime64(f"{ALMANAC_YEAR}-01-01", "ms") if start is None else start
    moments = pd.DatetimeIndex(
        first.astype("datetime64[ms]") + milliseconds.astype("timedelta64[ms]")
    ).tz_localize("UTC")
    place = spa_python(
        moments, latitude, longitude, elevation, pressure=alt2pres(elevation), how="numpy"
    )
    return (
        place["apparent_elevation"].to_numpy(dtype=np.float64),
        place["azimuth"].to_numpy(dtype=np.float64),
    )


def hourly_sun(
    latitude: float,
    longitude: float,
    utc_offset: float,
    elevation: float,
    *,
    start: np.datetime64 | None = None,
    count: int = HOURS,
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return where the sun stands in the middle of the sunlit part of every hour.

    Parameters
    ----------
    latitude, longitude : float
        North and east positive [°].
    utc_offset : float
        Hours that local standard time is ahead of UTC [h].
    elevation : float
        Height above sea level [m].
    start : datetime64 or None
        Local standard time at which the first hour begins; None for midnight of 1 January
        of `ALMANAC_YEAR`.
    count : int
        Number of hours.

    Returns
    -------
    altitude, azimuth : ndarray, shape (count,)
        Apparent altitude, and azimuth clockwise from north [°]. In an hour in which the
        sun rises or sets: at the middle of the part with the sun up, so that the beam
        that was measured in that hour comes from where it came. In hours of night: at
        the middle of the hour.

    Notes
    -----
    The moment of rising or setting is found by a straight line between the altitudes at
    the two ends of the hour, which is within a minute at temperate latitudes.
    """
    place = (latitude, longitude, utc_offset, elevation, start)
    ends, _ = sun_position(np.arange(count + 1.0), *place)
    before, after = ends[:-1], ends[1:]
    rises, sets = (before <= 0.0) & (after > 0.0), (before > 0.0) & (after <= 0.0)
    partial = rises | sets
    crossing = np.full(count, 0.5)
    crossing[partial] = before[partial] / (before[partial] - after[partial])
    middle = np.where(rises, (crossing + 1.0) / 2.0, np.where(sets, crossing / 2.0, 0.5))
    return sun_position(np.arange(count) + middle, *place)


def incidence_cosine(
    sun_altitude: ArrayLike, sun_azimuth: ArrayLike, tilt: float, azimuth: float
) -> NDArray[np.float64]:
    """Return the cosine of the angle between the sun and a plane's normal.

    Parameters
    ----------
    sun_altitude, sun_azimuth : array_like
        Where the sun stands; azimuth clockwise from north [°].
    tilt : float
        0 facing up, 90 a wall, 180 facing down [°].
    azimuth : float
        Where the plane faces, clockwise from north [°].

    Returns
    -------
    ndarray
        Below zero where the sun is behind the plane [-].
    """
    height, slope = np.radians(sun_altitude), np.radians(tilt)
    turn = np.radians(np.asarray(sun_azimuth, dtype=float) - azimuth)
    cosine = np.sin(height) * np.cos(slope) + np.cos(height) * np.sin(slope) * np.cos(turn)
    return np.asarray(cosine, dtype=np.float64)


def plane_irradiance(
    year: WeatherYear, tilt: float, azimuth: float, ground_reflectance: float = 0.2
) -> PlaneIrradiance:
    """Return the sun that falls on a plane in every hour of the year.

    Parameters
    ----------
    year : WeatherYear
        Weather and sun.
    tilt : float
        0 facing up, 90 a wall, 180 facing down [°].
    azimuth : float
        Where the plane faces, clockwise from north [°].
    ground_reflectance : float
        Share of the sun on level ground that it throws back, 0 to 1 [0-1].

    Returns
    -------
    PlaneIrradiance
        Beam, sky and ground parts and the cosine of incidence.

    Raises
    ------
    OutOfRangeError
        If the tilt or the reflectance lies outside its range.

    Notes
    -----
    Beam: direct normal irradiance times the cosine of incidence at the middle of the
    sunlit part of the hour. It is capped so that it never brings level ground more than
    the global horizontal irradiance of the hour, nor more than reaches the top of the air.

    Diffuse: global horizontal less that beam, so that a level plane receives the global
    irradiance of the file, whatever its diffuse column says. In the years of 2008 and
    later the two differ by 1 to 2 W/m². In years of the 1981 series as they are commonly
    handed on, the diffuse column was made with the sun half an hour early (too much
    diffuse in the morning, too little in the afternoon: 40 W/m² root mean square), while
    global and direct are right.

    Sky: the anisotropic model of [PEREZ1990]_ with its all-sites coefficients, through
    pvlib, with the air mass of [KASTEN1989]_. It splits the diffuse sun into an even
    dome, a glow around the sun and a band at the horizon, and is at least zero. Where
    the sun is down (twilight) the sky is taken as even.

    Ground: global horizontal irradiance times reflectance times the view of the ground,
    (1 - cos tilt)/2.

    References
    ----------
    [PEREZ1990] Perez, R., et al., "Modeling daylight availability and irradiance
    components from direct and global irradiance", Solar Energy 44(5), 1990, 271-289.
    [KASTEN1989] Kasten, F., Young, A. T., "Revised optical air mass tables and
    approximation formula", Applied Optics 28(22), 1989, 4735-4738.
    """
    for name, value, high in (("tilt", tilt, 180.0), ("ground reflectance", ground_reflectance, 1)):
        if not 0.0 <= value <= high:
            raise OutOfRangeError(name, value, 0.0, high, "°" if name == "tilt" else "[0-1]")
    extraterrestrial = _extraterrestrial_normal(year)
    up = year.sun_altitude > 0.0
    height = np.sin(np.radians(np.where(up, year.sun_altitude, 90.0)))
    most = np.minimum(extraterrestrial, year.global_horizontal / height)
    direct = np.where(up, np.minimum(year.direct_normal, most), 0.0)
    diffuse = year.global_horizontal - direct * height
    cosine = incidence_cosine(year.sun_altitude, year.sun_azimuth, tilt, azimuth)
    cosine = np.where(up, np.maximum(cosine, 0.0), 0.0)
    view_of_sky = (1.0 + np.cos(np.radians(tilt))) / 2.0
    sky = diffuse * view_of_sky
    glow = np.zeros_like(sky)
    whole, around_sun = _perez_sky(year, direct, diffuse, extraterrestrial, tilt, azimuth)
    sky[up], glow[up] = whole[up], around_sun[up]
    return PlaneIrradiance(
        beam=direct * cosine,
        sky=sky,
        ground=year.global_horizontal * (ground_reflectance * (1.0 - view_of_sky)),
        cosine=cosine,
        glow=np.clip(glow, 0.0, sky),
    )


def _extraterrestrial_normal(year: WeatherYear) -> NDArray[np.float64]:
    """Return irradiance at the top of the air, square to the sun, each hour [W/m²]."""
    from pvlib.irradiance import get_extra_radiation

    days = np.asarray(get_extra_radiation(np.arange(1, 367), method="spencer"), dtype=np.float64)
    return days[year.day_of_year]


def _perez_sky(
    year: WeatherYear,
    direct: NDArray[np.float64],
    diffuse: NDArray[np.float64],
    extraterrestrial: NDArray[np.float64],
    tilt: float,
    azimuth: float,
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return all diffuse light from the sky, and the part from around the sun [W/m²]."""
    from pvlib.atmosphere import get_relative_airmass
    from pvlib.irradiance import perez

    zenith = 90.0 - year.sun_altitude
    with np.errstate(invalid="ignore", divide="ignore"):
        parts = perez(
            tilt, azimuth, diffuse, direct, extraterrestrial, zenith,
            year.sun_azimuth, get_relative_airmass(zenith, model="kastenyoung1989"),
            model="allsitescomposite1990", return_components=True,
        )  # fmt: skip
    return (
        np.nan_to_num(np.asarray(parts["poa_sky_diffuse"], dtype=np.float64), nan=0.0),
        np.nan_to_num(np.asarray(parts["poa_circumsolar"], dtype=np.float64), nan=0.0),
    )
