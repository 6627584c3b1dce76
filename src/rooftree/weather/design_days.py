"""Outdoor conditions to size equipment for, out of one year of weather.

Sources
-------
[HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 14, "Climatic Design
    Information": what annual percentiles mean.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.weather.climate import monthly_means
from rooftree.weather.hours import MONTH_START
from rooftree.weather.moisture import wet_bulb_temperature
from rooftree.weather.year import HOURS

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.weather.year import WeatherYear


@dataclass(frozen=True, slots=True)
class DesignConditions:
    """Outdoor conditions to size equipment for, out of one typical year.

    Attributes
    ----------
    heating_temperature : float
        Dry bulb exceeded in 99 % of the hours [K].
    heating_wind : float
        Mean wind of the 88 hours nearest to it [m/s].
    cooling_temperature : float
        Dry bulb exceeded in 1 % of the hours [K].
    cooling_wet_bulb : float
        Mean wet bulb of the 88 hours nearest to it [K].
    cooling_humidity_ratio : float
        Mean water vapor per dry air of those hours [kg/kg].
    cooling_wind : float
        Mean wind of those hours [m/s].
    daily_range : float
        Mean of daily maximum less daily minimum in the warmest month [K].
    strong_wind : float
        Wind exceeded in 1 % of the hours [m/s].
    """

    heating_temperature: float
    heating_wind: float
    cooling_temperature: float
    cooling_wet_bulb: float
    cooling_humidity_ratio: float
    cooling_wind: float
    daily_range: float
    strong_wind: float


def design_conditions(year: WeatherYear) -> DesignConditions:
    """Return the conditions to size heating and cooling for.

    Parameters
    ----------
    year : WeatherYear
        Weather.

    Returns
    -------
    DesignConditions
        Temperatures, moisture and wind.

    Raises
    ------
    WeatherError
        If it is a record of other length than a year.

    Notes
    -----
    Percentiles of the hours of this one year, in the sense of [HOF2017]_, which takes
    them from a long record: a typical year leaves out most extremes, so its heating
    temperature is often one to two kelvin milder than the handbook's (recalled). Where a
    code sets a design temperature, use the code's.

    References
    ----------
    [HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 14.
    """
    year.require_whole_year("design conditions")
    cold, hot = (float(q) for q in np.quantile(year.temperature, (0.01, 0.99)))
    near_cold, near_hot = _nearest_hours(year, cold), _nearest_hours(year, hot)
    wet_bulbs = [
        wet_bulb_temperature(float(t), float(d), float(p))
        for t, d, p in zip(
            year.temperature[near_hot],
            year.dew_point[near_hot],
            year.pressure[near_hot],
            strict=True,
        )
    ]
    return DesignConditions(
        heating_temperature=cold,
        heating_wind=float(year.wind_speed[near_cold].mean()),
        cooling_temperature=hot,
        cooling_wet_bulb=float(np.mean(wet_bulbs)),
        cooling_humidity_ratio=float(year.humidity_ratio[near_hot].mean()),
        cooling_wind=float(year.wind_speed[near_hot].mean()),
        daily_range=_daily_range(year.temperature),
        strong_wind=float(np.quantile(year.wind_speed, 0.99)),
    )


def _nearest_hours(year: WeatherYear, temperature: float) -> NDArray[np.int64]:
    """Return the hundredth part of the hours that is nearest to a temperature."""
    away = np.abs(year.temperature - temperature)
    return np.argsort(away, kind="stable")[: round(HOURS / 100)]


def _daily_range(temperature: NDArray[np.float64]) -> float:
    month = int(np.argmax(monthly_means(temperature)))
    days = temperature[MONTH_START[month] : MONTH_START[month + 1]].reshape(-1, 24)
    return float((days.max(axis=1) - days.min(axis=1)).mean())
