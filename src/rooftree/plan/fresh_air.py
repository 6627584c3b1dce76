"""Whole-house fan flow by ASHRAE 62.2, and the weather factor of a year."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import PlanError
from rooftree.physics.infiltration import enhanced_infiltration

if TYPE_CHECKING:
    from rooftree.weather.year import WeatherYear


@dataclass(frozen=True, slots=True)
class FanFlow:
    """Need of fresh air.

    Attributes
    ----------
    total, credit, fan : float
        Whole rate, share that leaks bring, and fan flow [m³/s].
    """

    total: float
    credit: float
    fan: float


def required_fan_flow(
    edition: str,
    *,
    floor_area: float,
    bedrooms: int,
    people: int,
    leakage_area: float,
    height: float,
    weather_factor: float,
    balanced: bool,
) -> FanFlow:
    """Return the fan flow that a dwelling needs.

    Parameters
    ----------
    edition : str
        Year of the standard.
    floor_area : float
        Of the living spaces [m²].
    bedrooms, people : int
        Number of each.
    leakage_area : float
        At 4 Pa [m²].
    height : float
        From the lowest floor to the highest ceiling [m].
    weather_factor : float
        Weather and shielding factor [1/h].
    balanced : bool
        Whether the fans are balanced.

    Returns
    -------
    FanFlow
    """
    persons = max(bedrooms + 1, people)
    total = (0.15 * floor_area + 3.5 * persons) / 1000.0
    normalized = 1000.0 * leakage_area / floor_area * math.pow(height / 2.5, 0.4)
    leaks = normalized * weather_factor * floor_area / 1.44 / 1000.0
    if edition == "2013":
        credit = leaks
    elif edition == "2016":
        credit = min(leaks, total * 2.0 / 3.0)
    elif edition in ("2019", "2022"):
        credit = leaks if balanced else leaks * min(leaks / total, 1.0)
    else:
        raise PlanError(f"ventilation_edition is {edition!r}; editions are 2013, 2016, 2019, 2022")
    return FanFlow(total, credit, max(total - credit, 0.0))


def computed_weather_factor(year: WeatherYear) -> float:
    """Return the weather factor of a year, computed.

    Parameters
    ----------
    year : WeatherYear
        Hourly weather.

    Returns
    -------
    float
        [1/h].
    """
    coefficient = 0.1 * math.sqrt(2.0 * 4.0 / 1.2041) / math.pow(4.0, 0.67)
    inside = np.clip(year.temperature, 293.15, 297.15)
    hourly = enhanced_infiltration(
        coefficient, 0.67, inside - year.temperature, year.wind_speed, storeys=1, shelter=0.5
    )
    changes = np.maximum(hourly.flow * 3600.0 / 250.0, 1e-6)
    kept = np.exp(-changes)
    added = (1.0 - kept) / changes
    stale, total = 1.0, 0.0
    for _ in range(2):
        total = 0.0
        for share, more in zip(kept.tolist(), added.tolist(), strict=True):
            stale = stale * share + more
            total += stale
    return len(kept) / total
