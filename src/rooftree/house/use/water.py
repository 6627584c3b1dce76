"""Hot water by published equations: what is drawn, how cold the mains are, the heat it takes.

Sources
-------
[RESNET301] ANSI/RESNET/ICC 301-2014 with Addendum A, hot-water use of the reference home
    (recalled; that the addendum relates it to bedrooms, fixtures, waste and set point was
    read in RESNET's announcement).
[BURCH2007] J. Burch, C. Christensen, "Towards development of an algorithm for mains water
    temperature", Solar 2007, American Solar Energy Society (recalled).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.house.use.ip import BTU, GALLON, GALLON_A_DAY, RANKINE, kelvin
from rooftree.weather.climate import monthly_means
from rooftree.weather.hours import DAYS_IN_MONTH

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from rooftree.weather import WeatherYear

STORED, AT_THE_TAP = kelvin(125.0), kelvin(105.0)
"""Hot water as it is stored and as it is used [K] [RESNET301]_."""

HEAT_OF_WATER = 8.3 * BTU / (GALLON * RANKINE)
"""Heat that warms water, 8.3 Btu/(gal·°F) [J/(m³·K)]; 0.5 % above that at 50 °C."""

FREEZING = 273.15
"""Mains water is never taken as colder [K]."""

_WASHERS = (3.0 * 2.08 + 1.59) / (2.874 * 2.08 + 1.59)


@dataclass(frozen=True, slots=True)
class Draw:
    """Water that is drawn, mean over the year.

    Attributes
    ----------
    fixtures, waste : float
        At taps and showers, and run off until it is warm: mixed, as it is used [m³/s].
    dishwasher, clothes_washer : float
        At the temperature at which it is stored [m³/s].
    """

    fixtures: float
    waste: float
    dishwasher: float
    clothes_washer: float


def reference_draw(bedrooms: int) -> Draw:
    """Return the hot water that the reference home draws.

    Parameters
    ----------
    bedrooms : int
        Number, >= 0.

    Returns
    -------
    Draw

    Raises
    ------
    OutOfRangeError
        If the number is negative.

    Notes
    -----
    In gallons a day [RESNET301]_: fixtures ``14.6 + 10 N``; waste ``9.8 N^0.43``; dishwasher
    ``(88.4 + 34.9 N) 8.16 / 365``; clothes washer ``4.52 (164 + 46.5 N) (3 x 2.08 + 1.59) /
    (2.874 x 2.08 + 1.59) / 365``. A mean over many homes: one household may draw half or
    twice as much.

    References
    ----------
    .. [RESNET301] ANSI/RESNET/ICC 301-2014, Addendum A (recalled).

    Examples
    --------
    >>> round(reference_draw(3).fixtures / GALLON_A_DAY, 1)
    44.6
    """
    if bedrooms < 0:
        raise OutOfRangeError("bedrooms", bedrooms, 0, math.inf, "rooms")
    return Draw(
        fixtures=(14.6 + 10.0 * bedrooms) * GALLON_A_DAY,
        waste=9.8 * math.pow(bedrooms, 0.43) * GALLON_A_DAY,
        dishwasher=(88.4 + 34.9 * bedrooms) * 8.16 / 365.0 * GALLON_A_DAY,
        clothes_washer=4.52 * (164.0 + 46.5 * bedrooms) * _WASHERS / 365.0 * GALLON_A_DAY,
    )


def hot_share(
    mains: ArrayLike, stored: float = STORED, at_the_tap: float = AT_THE_TAP
) -> NDArray[np.float64]:
    """Return how much of the mixed water at a tap is hot.

    Parameters
    ----------
    mains : array_like
        Cold water [K], colder than what is used.
    stored : float
        Hot water [K].
    at_the_tap : float
        Water as it is used [K].

    Returns
    -------
    ndarray
        Hot water over all water [0-1].

    Raises
    ------
    OutOfRangeError
        If the water is not used between cold and hot.

    Notes
    -----
    ``1 - (stored - used) / (stored - mains)`` [RESNET301]_: a heat balance of mixing. Where
    hot water is stored no hotter than it is used, all of it is hot.

    References
    ----------
    .. [RESNET301] ANSI/RESNET/ICC 301-2014, Addendum A (recalled).

    Examples
    --------
    >>> round(float(hot_share(kelvin(60.0))), 4)
    0.6923
    """
    cold = np.asarray(mains, dtype=float)
    if not np.all(cold < at_the_tap):
        raise OutOfRangeError("mains", float(cold.max()), 0.0, at_the_tap, "K")
    return np.asarray((at_the_tap - cold) / (np.maximum(stored, at_the_tap) - cold))


def hot_water_volume(
    draw: Draw, mains: ArrayLike, stored: float = STORED, at_the_tap: float = AT_THE_TAP
) -> NDArray[np.float64]:
    """Return the hot water that leaves the heater.

    Parameters
    ----------
    draw : Draw
        What is drawn.
    mains : array_like
        Cold water [K].
    stored : float
        Hot water [K].
    at_the_tap : float
        Water as it is used [K].

    Returns
    -------
    ndarray
        Flow, mean over the day [m³/s].

    Raises
    ------
    OutOfRangeError
        If the water is not used between cold and hot.

    Notes
    -----
    Machines are fed with hot water, taps with mixed water [RESNET301]_.

    References
    ----------
    .. [RESNET301] ANSI/RESNET/ICC 301-2014, Addendum A (recalled).

    Examples
    --------
    >>> round(float(hot_water_volume(reference_draw(3), kelvin(60.0))) / GALLON_A_DAY, 2)
    49.96
    """
    mixed = hot_share(mains, stored, at_the_tap) * (draw.fixtures + draw.waste)
    return np.asarray(draw.dishwasher + draw.clothes_washer + mixed)


def mains_temperature(
    mean: float, swing: float, day: ArrayLike, *, is_southern: bool = False
) -> NDArray[np.float64]:
    """Return how cold the water from the mains is on days of the year.

    Parameters
    ----------
    mean : float
        Mean temperature outdoors over the year [K], 250 to 305.
    swing : float
        Mean of the warmest month less mean of the coldest [K], 0 to 60.
    day : array_like
        Day of the year, 1 for 1 January [-].
    is_southern : bool
        Whether January is summer.

    Returns
    -------
    ndarray
        Temperature of the water [K]; never below freezing.

    Raises
    ------
    OutOfRangeError
        If mean or swing lie outside what a climate can be.

    Notes
    -----
    In °F and degrees of arc [BURCH2007]_: ``(mean + 6) + ratio (swing / 2) sin(0.986 (day -
    15 - lag) - 90)`` with ``ratio = 0.4 + 0.01 (mean - 44)`` and ``lag = 35 - (mean - 44)``
    days. Fitted to public supplies at buried depth; a private well stays near the mean of
    the year, and a shallow supply in snow-melt is colder than this.

    References
    ----------
    .. [BURCH2007] J. Burch, C. Christensen, Solar 2007 (recalled).

    Examples
    --------
    >>> warmest = mains_temperature(kelvin(58.0), 38.0 * RANKINE, 217)
    >>> round(float(warmest) / RANKINE - 459.67, 1)
    74.3
    """
    for name, value, low, high in (("mean", mean, 250.0, 305.0), ("swing", swing, 0.0, 60.0)):
        if not low <= value <= high:
            raise OutOfRangeError(name, value, low, high, "K")
    above = mean / RANKINE - 459.67 - 44.0
    ratio, lag = 0.4 + 0.01 * above, 35.0 - above
    phase = 90.0 if is_southern else -90.0
    angle = np.radians(0.986 * (np.asarray(day, dtype=float) - 15.0 - lag) + phase)
    water = mean + 6.0 * RANKINE + ratio * 0.5 * swing * np.sin(angle)
    return np.maximum(water, FREEZING)


def mains_of_year(year: WeatherYear) -> NDArray[np.float64]:
    """Return how cold the water from the mains is on each day of a year of weather.

    Parameters
    ----------
    year : WeatherYear
        Weather of 8760 hours.

    Returns
    -------
    ndarray, shape (365,)
        Temperature of the water [K].

    Raises
    ------
    WeatherError
        If it is a record of other length than a year.
    """
    year.require_whole_year("temperatures of mains water")
    months = monthly_means(year.temperature)
    return mains_temperature(
        float(year.temperature.mean()),
        float(months.max() - months.min()),
        np.arange(1, 366),
        is_southern=year.latitude < 0.0,
    )


def hot_water_heat(
    draw: Draw, year: WeatherYear, stored: float = STORED, at_the_tap: float = AT_THE_TAP
) -> NDArray[np.float64]:
    """Return the heat in the hot water that is drawn, month by month.

    Parameters
    ----------
    draw : Draw
        What is drawn; the same on every day.
    year : WeatherYear
        Weather of 8760 hours, for the temperature of the mains.
    stored : float
        Hot water [K].
    at_the_tap : float
        Water as it is used [K].

    Returns
    -------
    ndarray, shape (12,)
        Heat, mean over each month [W]; losses of the heater are not in it.

    Raises
    ------
    WeatherError
        If it is a record of other length than a year.
    OutOfRangeError
        If the water is not used between cold and hot.

    Notes
    -----
    In winter the mains are colder, so that each gallon takes more heat, and more of the
    water at the tap has to be hot.
    """
    mains = mains_of_year(year)
    volume = hot_water_volume(draw, mains, stored, at_the_tap)
    days = HEAT_OF_WATER * volume * (stored - mains)
    starts = np.concatenate([[0], np.cumsum(DAYS_IN_MONTH[:-1])])
    return np.asarray(np.add.reduceat(days, starts) / np.array(DAYS_IN_MONTH))


def hot_water_months(
    draw: Draw, year: WeatherYear, stored: float = STORED, at_the_tap: float = AT_THE_TAP
) -> NDArray[np.float64]:
    """Return the heat in the hot water of each month over its mean.

    Parameters
    ----------
    draw : Draw
        What is drawn.
    year : WeatherYear
        Weather of 8760 hours, for the temperature of the mains.
    stored : float
        Hot water [K].
    at_the_tap : float
        Water as it is used [K].

    Returns
    -------
    ndarray, shape (12,)
        Factors on the mean of the year [-]; their mean by days is 1.

    Raises
    ------
    WeatherError
        If it is a record of other length than a year.
    OutOfRangeError
        If the water is not used between cold and hot, or none is drawn.
    """
    heat = hot_water_heat(draw, year, stored, at_the_tap)
    mean = float(np.average(heat, weights=DAYS_IN_MONTH))
    if mean <= 0.0:
        raise OutOfRangeError("hot water", mean, 0.0, math.inf, "W")
    return heat / mean
