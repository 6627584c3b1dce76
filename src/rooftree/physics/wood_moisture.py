"""Wood and the moisture of air; and what wood temperature does to a pin meter.

Sources
-------
[FPL] USDA Forest Products Laboratory, "Wood Handbook", FPL-GTR-190 (2010), chapter 4,
    eq. 4-5 with its coefficients, after Hailwood and Horrobin (recalled).
[GARRAHAN] Garrahan, P., "Moisture meter correction factors", Forintek Canada, 1988, as used
    by Onysko, D. M. et al., "Field measurements of moisture in building materials and
    assemblies: pitfalls and error assessment", BEST1, 2008 (recalled).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

FIBRE_SATURATION = 0.28
"""Moisture content at which the walls of wood cells are full [0-1] (28 to 30 %, recalled)."""

METER_RANGE = (0.07, 0.30)
"""Moisture content that a pin meter can tell [0-1] (ASTM D4444, recalled)."""


def wood_equilibrium(temperature: float, relative_humidity: float) -> float:
    """Return the moisture content that wood reaches in steady air.

    Parameters
    ----------
    temperature : float
        Of air and wood, 243.15 to 373.15 [K].
    relative_humidity : float
        Of the air [0-1].

    Returns
    -------
    float
        Mass of water over that of dry wood [0-1].

    Raises
    ------
    OutOfRangeError
        If an argument is out of its range.

    Notes
    -----
    ``M = 1800/W (K h/(1 - K h) + (K1 K h + 2 K1 K2 K² h²)/(1 + K1 K h + K1 K2 K² h²))`` in
    percent, with W, K, K1, K2 quadratic in the temperature in °C [FPL]_, recalled. Species
    and history (wetting or drying) move it by about 0.01 to 0.02; it does not hold for wood
    panels, which take up less.

    References
    ----------
    [FPL] Wood Handbook, FPL-GTR-190, 2010, eq. 4-5.

    Examples
    --------
    >>> round(wood_equilibrium(294.26, 0.50), 3)
    0.092
    """
    if not 243.15 <= temperature <= 373.15:
        raise OutOfRangeError("temperature", temperature, 243.15, 373.15, "K")
    if not 0.0 <= relative_humidity <= 1.0:
        raise OutOfRangeError("relative humidity", relative_humidity, 0.0, 1.0, "[0-1]")
    return float(wood_equilibria(temperature, relative_humidity))


def wood_equilibria(temperature: ArrayLike, relative_humidity: ArrayLike) -> NDArray[np.float64]:
    """Return the moisture content that wood reaches in steady air, for many at once.

    Parameters
    ----------
    temperature : array_like
        Of air and wood [K]; outside 243.15 to 373.15 as at the end of that range.
    relative_humidity : array_like
        Of the air [0-1]; outside as at the end.

    Returns
    -------
    ndarray
        Mass of water over that of dry wood [0-1].

    Notes
    -----
    As :func:`wood_equilibrium`.

    Examples
    --------
    >>> wood_equilibria(294.26, [0.5, 0.8, 1.0]).round(3).tolist()
    [0.092, 0.16, 0.288]
    """
    t = np.clip(temperature, 243.15, 373.15) - 273.15
    w = 349.0 + 1.29 * t + 0.0135 * t * t
    k = 0.805 + 0.000736 * t - 0.00000273 * t * t
    k1 = 6.27 - 0.00938 * t - 0.000303 * t * t
    k2 = 1.91 + 0.0407 * t - 0.000293 * t * t
    kh = k * np.clip(relative_humidity, 0.0, 1.0)
    bound = (k1 * kh + 2.0 * k1 * k2 * kh * kh) / (1.0 + k1 * kh + k1 * k2 * kh * kh)
    return np.asarray(18.0 / w * (kh / (1.0 - kh) + bound))


def pin_reading_at_20(reading: float, temperature: float) -> float:
    """Return what a pin meter would have shown had the wood been at its calibration.

    Parameters
    ----------
    reading : float
        As shown, on the scale for Douglas fir [0-1].
    temperature : float
        Of the wood, 253.15 to 333.15 [K].

    Returns
    -------
    float
        Moisture content corrected for temperature [0-1], before any correction for species.

    Raises
    ------
    OutOfRangeError
        If the temperature is outside the range.

    Notes
    -----
    ``(R + 0.567 - 0.0260 t + 0.000051 t²) / (0.881 · 1.0056^t)`` in percent, t in °C
    [GARRAHAN]_, recalled. Colder wood conducts less and reads too dry: at 0 °C a reading of
    0.15 means 0.177. It leaves a reading unchanged near 22 °C.

    References
    ----------
    [GARRAHAN] Garrahan, P., Forintek Canada, 1988.

    Examples
    --------
    >>> round(pin_reading_at_20(0.15, 273.15), 3)
    0.177
    """
    if not 253.15 <= temperature <= 333.15:
        raise OutOfRangeError("wood temperature", temperature, 253.15, 333.15, "K")
    t, percent = temperature - 273.15, 100.0 * reading
    above = percent + 0.567 - 0.0260 * t + 0.000051 * t * t
    return above / (0.881 * math.pow(1.0056, t)) / 100.0
