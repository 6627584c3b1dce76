"""How fast carbon monoxide rises or falls in one place."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.propagation import Propagated
from rooftree.physics.uncertainty import coverage_factor

if TYPE_CHECKING:
    from rooftree.readings.ambient_co.readings import AmbientReading, AmbientTest

FEWEST = 3
"""Readings from which a trend is told [-]."""


@dataclass(frozen=True, slots=True)
class PlaceResult:
    """One place.

    Attributes
    ----------
    place : str
        Room, or outdoors.
    first, last, highest : float
        Carbon monoxide [ppm].
    readings : int
        How many.
    trend : Propagated or None
        Rise in an hour [ppm/h]; None from fewer than three readings.
    rising : float
        Standard uncertainties by which it rises [-]; 0 without a trend.
    """

    place: str
    first: float
    last: float
    highest: float
    readings: int
    trend: Propagated | None
    rising: float


def places_of(test: AmbientTest) -> tuple[PlaceResult, ...]:
    """Return what was read in each place.

    Parameters
    ----------
    test : AmbientTest
        Readings.

    Returns
    -------
    tuple of PlaceResult
        In the order first read.
    """
    by_place: dict[str, list[AmbientReading]] = {}
    for reading in test.air:
        by_place.setdefault(reading.place.strip().lower(), []).append(reading)
    return tuple(
        _place(test, sorted(readings, key=lambda one: one.seconds))
        for readings in by_place.values()
    )


def _place(test: AmbientTest, readings: list[AmbientReading]) -> PlaceResult:
    shown = [reading.carbon_monoxide for reading in readings]
    trend = trend_of(
        [reading.seconds for reading in readings],
        shown,
        test.reading_uncertainty,
        test.concentration_uncertainty,
    )
    rising = trend.value / trend.standard if trend else 0.0
    return PlaceResult(
        readings[0].place, shown[0], shown[-1], max(shown), len(shown), trend, rising
    )


def trend_of(
    seconds: list[float], shown: list[float], reading: float, relative: float
) -> Propagated | None:
    """Return the rise in an hour by a straight line through readings.

    Parameters
    ----------
    seconds : list of float
        Times [s].
    shown : list of float
        Readings then [ppm].
    reading : float
        Standard uncertainty of one reading [ppm], > 0.
    relative : float
        Standard uncertainty of the scale, common to all [0-1].

    Returns
    -------
    Propagated or None
        [ppm/h]; None from fewer than three readings or without time between them.

    Notes
    -----
    Ordinary least squares. The stated uncertainty of a reading counts unless the scatter
    round the line is larger than one time in twenty by chance; then the scatter counts,
    with its degrees of freedom (JCGM 100:2008, H.3).

    Examples
    --------
    >>> trend_of([0.0, 1800.0, 3600.0], [1.0, 3.0, 5.0], 1.0, 0.0).value
    4.0
    """
    count = len(seconds)
    if count < FEWEST:
        return None
    hours = [second / 3600.0 for second in seconds]
    centre, mean = sum(hours) / count, sum(shown) / count
    spread = sum((hour - centre) ** 2 for hour in hours)
    if spread <= 0.0:
        return None
    slope = sum((h - centre) * (v - mean) for h, v in zip(hours, shown, strict=True)) / spread
    residual = sum(
        (v - mean - slope * (h - centre)) ** 2 for h, v in zip(hours, shown, strict=True)
    )
    freedom = count - 2
    is_worse = residual > _rarely_exceeded(freedom) * reading**2
    noise, degrees = (
        (math.sqrt(residual / freedom), float(freedom)) if is_worse else (reading, math.inf)
    )
    standard = math.hypot(noise / math.sqrt(spread), relative * slope)
    reach = coverage_factor(degrees, 0.95) * standard
    return Propagated(slope, standard, slope - reach, slope + reach, degrees_of_freedom=degrees)


def _rarely_exceeded(freedom: int) -> float:
    """Return what a sum of squared normal deviates exceeds one time in twenty.

    Wilson and Hilferty's approximation, within 1 % from one degree of freedom on.
    """
    part = 2.0 / (9.0 * freedom)
    return float(freedom * (1.0 - part + 1.645 * math.sqrt(part)) ** 3)
