"""Was a temperature typed in the other scale? Two explanations, weighed against each other.

Each kind of place has a spread of temperatures that it usually has, and air seldom holds
more water than that of a dew point of 26 °C. A reading that is hardly possible as noted, and
ordinary in the other scale, was most likely typed in the other scale. Spreads are ours.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from rooftree.physics.air import saturation_pressure
from rooftree.physics.dew_point import dew_point
from rooftree.physics.sureness import probability_from_odds
from rooftree.readings.moisture.readings import PlaceKind

if TYPE_CHECKING:
    from collections.abc import Callable

USUAL: dict[PlaceKind, tuple[float, float]] = {
    PlaceKind.OUTDOORS: (12.0, 12.0),
    PlaceKind.LIVING: (21.5, 3.5),
    PlaceKind.CRAWLSPACE: (17.0, 7.0),
    PlaceKind.BASEMENT: (18.0, 5.0),
    PlaceKind.ATTIC: (24.0, 18.0),
    PlaceKind.GARAGE: (16.0, 10.0),
    PlaceKind.OTHER: (20.0, 9.0),
}
"""Mean and spread of the temperature of each kind of place [°C]; ours."""

SURFACE_SPREAD = 8.0
"""Spread of surfaces round the middle of the two airs they lie between [K]; ours."""

SLIPS_BEFORE = 0.02
"""Share of temperatures typed in the other scale, before one is looked at [0-1]; ours."""

ODDMENTS, ODDMENT_RANGE = 0.01, 120.0
"""Share of readings far from the usual for good reasons [0-1], and how far they spread [K]."""

RARE_DEW, DEW_SPREAD = 26.0, 2.0
"""Dew point above which air is rarely found, and how soon it becomes rarer [°C], [K]; ours."""


class Slip(NamedTuple):
    """A temperature that was probably typed in the other scale."""

    scale: str
    """Scale in which it was most likely meant."""
    meant: float
    """What it would then be [K]."""
    probability: float
    """Of the slip [0-1]."""


def _density(celsius: float, mean: float, spread: float) -> float:
    bell = math.exp(-0.5 * ((celsius - mean) / spread) ** 2) / (spread * math.sqrt(2.0 * math.pi))
    return (1.0 - ODDMENTS) * bell + ODDMENTS / ODDMENT_RANGE


def _dampness(celsius: float, humidity: float | None) -> float:
    """Return the logarithm of how rare the dew point is that this temperature implies."""
    if humidity is None or not 0.0 < humidity <= 1.0:
        return 0.0
    kelvin = min(max(celsius + 273.15, 180.0), 470.0)
    dew = dew_point(max(humidity * saturation_pressure(kelvin), 0.01)) - 273.15
    return -0.5 * (max(dew - RARE_DEW, 0.0) / DEW_SPREAD) ** 2


def find_slip(
    temperature: float, mean: float, spread: float, humidity: float | None = None
) -> Slip | None:
    """Return the scale in which a temperature was probably meant, where not as noted.

    Parameters
    ----------
    temperature : float
        As noted [K].
    mean, spread : float
        Of temperatures that such a reading usually has [°C], [K].
    humidity : float or None
        Relative humidity read with it [0-1].

    Returns
    -------
    Slip or None
        None where it is more probable that it was noted as meant.

    Notes
    -----
    Bayes: likelihood of the number under each explanation, times how often such a slip
    happens.

    Examples
    --------
    >>> find_slip(343.15, 21.5, 3.5).scale
    '°F'
    >>> find_slip(295.15, 21.5, 3.5) is None
    True
    """
    noted = temperature - 273.15

    def weight(celsius: float, stretch: float) -> float:
        return math.log(stretch * _density(celsius, mean, spread)) + _dampness(celsius, humidity)

    plain = weight(noted, 1.0)
    before = math.log(SLIPS_BEFORE / (1.0 - SLIPS_BEFORE))
    readings: tuple[tuple[str, Callable[[float], float], float], ...] = (
        ("°F", lambda t: (t - 32.0) / 1.8, 1.0 / 1.8),
        ("°C", lambda t: 1.8 * t + 32.0, 1.8),
    )
    best: Slip | None = None
    for scale, read, stretch in readings:
        meant = read(noted)
        probability = probability_from_odds(weight(meant, stretch) - plain + before)
        if probability > 0.5 and (best is None or probability > best.probability):
            best = Slip(scale, meant + 273.15, probability)
    return best
