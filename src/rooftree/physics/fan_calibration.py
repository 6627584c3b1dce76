"""Flow of a test fan from the pressure at its sensor, by the calibration that its user entered.

A fan has one or more configurations (rings, plates, ranges), each with one or more bands
of fan pressure for which ``flow = C x pressure^n`` was fitted.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Protocol, TypeVar

if TYPE_CHECKING:
    from collections.abc import Iterable


class CalibrationBand(Protocol):
    """Calibration of one configuration within a band of fan pressure."""

    @property
    def configuration(self) -> str:
        """Name of the configuration."""

    @property
    def low(self) -> float:
        """Lowest fan pressure of the band [Pa]."""

    @property
    def high(self) -> float:
        """Highest fan pressure of the band [Pa]."""

    @property
    def coefficient(self) -> float:
        """Flow at 1 Pa [m³/(s·Paⁿ)]."""

    @property
    def exponent(self) -> float:
        """Exponent of the fan pressure [-]."""


Band = TypeVar("Band", bound=CalibrationBand)


def distance_from_band(band: CalibrationBand, fan_pressure: float) -> float:
    """Return how far a fan pressure lies outside a band.

    Parameters
    ----------
    band : CalibrationBand
        Of the calibration.
    fan_pressure : float
        At the sensor, either sign [Pa].

    Returns
    -------
    float
        0 inside the band and at its ends [Pa].
    """
    pressure = abs(fan_pressure)
    return max(band.low - pressure, pressure - band.high, 0.0)


def nearest_band(bands: Iterable[Band], configuration: str, fan_pressure: float) -> Band | None:
    """Return the band of a configuration in which a fan pressure lies, or the nearest.

    Parameters
    ----------
    bands : iterable of CalibrationBand
        Of one fan.
    configuration : str
        What was on the fan.
    fan_pressure : float
        At the sensor, either sign [Pa].

    Returns
    -------
    CalibrationBand or None
        None where the configuration has no band.
    """
    own = [band for band in bands if band.configuration == configuration]
    return min(own, key=lambda band: distance_from_band(band, fan_pressure), default=None)


def calibrated_flow(band: CalibrationBand, fan_pressure: float) -> float:
    """Return the flow of a fan.

    Parameters
    ----------
    band : CalibrationBand
        Of its configuration.
    fan_pressure : float
        At the sensor [Pa]; the sign depends on which side the hose is on and is left out.

    Returns
    -------
    float
        At the density of the calibration [m³/s].

    Notes
    -----
    ``flow = C |p|^n``, also beyond the ends of the band, which
    :func:`distance_from_band` tells.
    """
    return band.coefficient * math.pow(abs(fan_pressure), band.exponent) if fan_pressure else 0.0
