"""What kind of climate a year shows: degree days and climate zone.

Sources
-------
[A169] ANSI/ASHRAE Standard 169-2013 and -2020, "Climatic Data for Building Design
    Standards", climate zone definitions, recalled; the thermal bounds of 169-2006 (used
    by the International Energy Conservation Code 2006 to 2018) as quoted in building
    stock documentation.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.weather.hours import DAYS_IN_MONTH, MONTH_START
from rooftree.weather.moisture import relative_humidity

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from rooftree.weather.year import WeatherYear

Edition = Literal["2006", "2013"]
Moisture = Literal["A", "B", "C", ""]

BASE_65F = 291.48333333333335
"""65 °F, the base of heating degree days in the zone definitions [K]."""

BASE_50F = 283.15
"""50 °F, the base of cooling degree days in the zone definitions [K]."""

HUMID_FROM = 0.6
"""Mean relative humidity from which a year without rain data is taken as moist [0-1].

Our own rule, not the standard's, set between years computed here: dry Las Vegas 0.28,
Colorado Springs 0.48, Denver 0.50 and 0.51; moist Chicago 0.69, Greensboro 0.69, Miami
0.73. It misjudges dry coasts with humid air, such as southern California.
"""


@dataclass(frozen=True, slots=True)
class ClimateZone:
    """The climate zone of a place.

    Attributes
    ----------
    number : int
        Thermal zone, 0 (hottest) to 8 (coldest).
    moisture : {"A", "B", "C", ""}
        Moist, dry, marine; empty in zones 7 and 8, which have no letter.
    moisture_estimated : bool
        True where no rain data were given and the humidity of the air stood in for them.
    """

    number: int
    moisture: Moisture
    moisture_estimated: bool

    def __str__(self) -> str:
        return f"{self.number}{self.moisture}"


def daily_means(hourly: ArrayLike) -> NDArray[np.float64]:
    """Return the mean of each day.

    Parameters
    ----------
    hourly : array_like, shape (24 n,)
        A value each hour, from a midnight on; any unit [-].

    Returns
    -------
    ndarray, shape (n,)
        In the unit of the values.
    """
    return np.asarray(np.reshape(hourly, (-1, 24)).mean(axis=1), dtype=np.float64)


def monthly_means(hourly: ArrayLike) -> NDArray[np.float64]:
    """Return the mean of each month.

    Parameters
    ----------
    hourly : array_like, shape (8760,)
        A value each hour of the year; any unit [-].

    Returns
    -------
    ndarray, shape (12,)
        In the unit of the values, January first.
    """
    return np.add.reduceat(np.asarray(hourly, dtype=float), MONTH_START[:-1]) / np.multiply(
        DAYS_IN_MONTH, 24
    )


def heating_degree_days(daily: ArrayLike, base: float) -> float:
    """Return how far, and for how long, days stay below a base temperature.

    Parameters
    ----------
    daily : array_like, shape (n,)
        Mean temperature of each day [K].
    base : float
        Base temperature [K].

    Returns
    -------
    float
        Sum over the days of base less mean, where that is positive [K·d].

    Examples
    --------
    >>> heating_degree_days([280.0, 290.0, 300.0], 291.0)
    12.0
    """
    return float(np.maximum(base - np.asarray(daily, dtype=float), 0.0).sum())


def cooling_degree_days(daily: ArrayLike, base: float) -> float:
    """Return how far, and for how long, days stay above a base temperature.

    Parameters
    ----------
    daily : array_like, shape (n,)
        Mean temperature of each day [K].
    base : float
        Base temperature [K].

    Returns
    -------
    float
        Sum over the days of mean less base, where that is positive [K·d].

    Examples
    --------
    >>> cooling_degree_days([280.0, 290.0, 300.0], 289.0)
    12.0
    """
    return float(np.maximum(np.asarray(daily, dtype=float) - base, 0.0).sum())


def climate_zone(
    year: WeatherYear, rain: ArrayLike | None = None, edition: Edition = "2013"
) -> ClimateZone:
    """Return the climate zone that a year of weather falls in.

    Parameters
    ----------
    year : WeatherYear
        Weather.
    rain : array_like, shape (12,), optional
        Precipitation of each month, January first [m].
    edition : {"2013", "2006"}
        Definition of ASHRAE 169-2013 and later (International Energy Conservation Code
        from 2021), or of 169-2006 (the code from 2006 to 2018).

    Returns
    -------
    ClimateZone
        Number and letter.

    Raises
    ------
    OutOfRangeError
        If rain is given for other than 12 months, or is negative.
    WeatherError
        If it is a record of other length than a year.

    Notes
    -----
    Definitions of [A169]_, with degree days from means of 24 hours (the standard's
    tables come from the mean of daily maximum and minimum) of one typical year instead
    of a long record: a place near a bound may come out one zone off, and a code's own
    county table decides. Typical-year files carry no rain worth using; without `rain`
    the letter is estimated: marine by the temperatures of the definition and moist air,
    otherwise moist or dry by `HUMID_FROM`.

    References
    ----------
    [A169] ANSI/ASHRAE Standard 169-2013/2020, climate zone definitions (recalled).
    """
    year.require_whole_year("climate zones")
    monthly = None if rain is None else np.asarray(rain, dtype=float)
    if monthly is not None:
        if monthly.shape != (12,):
            raise OutOfRangeError("months of rain", monthly.size, 12, 12, "months")
        if not (monthly.min() >= 0.0 and monthly.max() <= 10.0):
            raise OutOfRangeError("rain of a month", float(monthly.min()), 0.0, 10.0, "m")
    days = daily_means(year.temperature)
    cooling, heating = cooling_degree_days(days, BASE_50F), heating_degree_days(days, BASE_65F)
    letter: Moisture = _moisture(year, monthly, edition)
    number = thermal_zone(cooling, heating, marine=letter == "C", edition=edition)
    if number in (7, 8):
        letter = ""
    elif letter == "C" and number not in (3, 4, 5):
        letter = "A"
    return ClimateZone(number, letter, moisture_estimated=rain is None and bool(letter))


def thermal_zone(
    cooling: float, heating: float, *, marine: bool = False, edition: Edition = "2013"
) -> int:
    """Return the thermal zone number for degree days of a year.

    Parameters
    ----------
    cooling : float
        Cooling degree days to base 50 °F (10 °C), at least 0 [K·d].
    heating : float
        Heating degree days to base 65 °F (18.3 °C), at least 0 [K·d].
    marine : bool
        Whether the moisture class is marine; it moves bounds of the 2006 definition.
    edition : {"2013", "2006"}
        Which definition.

    Returns
    -------
    int
        0 to 8 (1 to 8 in 2006).

    Notes
    -----
    Upper bounds belong to the warmer zone [A169]_.

    References
    ----------
    [A169] ANSI/ASHRAE Standard 169, climate zone definitions.

    Examples
    --------
    >>> thermal_zone(2200.0, 2100.0)
    4
    """
    if cooling > 3500.0:
        bounds = (6000.0, 5000.0) if edition == "2013" else (np.inf, 5000.0)
        return sum(cooling <= bound for bound in bounds)
    mild = 2000.0
    if edition == "2006" and not marine:
        mild = 3000.0 if cooling > 2500.0 else 0.0
    if heating <= mild:
        return 3
    return 4 + sum(heating > bound for bound in (3000.0, 4000.0, 5000.0, 7000.0))


def _moisture(year: WeatherYear, rain: NDArray[np.float64] | None, edition: Edition) -> Moisture:
    means = monthly_means(year.temperature) - 273.15
    mild = (
        -3.0 <= means.min() <= 18.0 and means.max() < 22.0 and np.count_nonzero(means > 10.0) >= 4
    )
    if rain is None:
        moist = float(relative_humidity(year).mean()) >= HUMID_FROM
        return "B" if not moist else "C" if mild else "A"
    winter = np.zeros(12, dtype=bool)
    winter[[0, 1, 2, 9, 10, 11]] = True
    if year.latitude < 0.0:
        winter = ~winter
    if mild and rain[winter].max() >= 3.0 * rain[~winter].min():
        return "C"
    return "B" if rain.sum() < _dry_bound(year, rain[~winter].sum(), rain.sum(), edition) else "A"


def _dry_bound(year: WeatherYear, summer: float, total: float, edition: Edition) -> float:
    """Return the precipitation below which a climate is dry [m]."""
    celsius = float(year.temperature.mean()) - 273.15
    share = summer / total if total > 0.0 else 0.5
    if edition == "2006" or 0.3 < share < 0.7:
        return 0.020 * (celsius + 7.0)
    return 0.020 * (celsius + 14.0) if share >= 0.7 else 0.020 * celsius
