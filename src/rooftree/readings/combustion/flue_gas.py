"""Carbon monoxide without the air that thins it, and the least draft of older practice.

Sources
-------
[FIELD] Field convention of 20.9 % oxygen in air; ASHRAE Handbook - Fundamentals 2021,
    ch. 28, takes 20.95 %, which changes the result by less than 0.6 % up to 12 % oxygen.
[DRAFT] Older building analyst's standard on least draft by outdoor temperature (recalled).
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError

OXYGEN_OF_AIR = 0.209
"""Oxygen in air by field convention [0-1]."""

HIGHEST_OXYGEN = 0.20
"""Oxygen in the sample above which it is nearly all air [0-1]; ours: there half a percent of
oxygen halves or doubles the result."""


def air_free_carbon_monoxide(measured: float, oxygen: float) -> float:
    """Return the carbon monoxide that flue gas would hold without excess air.

    Parameters
    ----------
    measured : float
        As measured in undiluted flue gas [ppm], >= 0.
    oxygen : float
        In the same sample [0-1], 0 to 0.20.

    Returns
    -------
    float
        Air-free carbon monoxide [ppm].

    Raises
    ------
    OutOfRangeError
        If the reading is negative, or the sample is nearly all air.

    Notes
    -----
    ``CO 20.9 / (20.9 - O2)`` in percent [FIELD]_, recalled.

    References
    ----------
    .. [FIELD] Field convention; ASHRAE Handbook - Fundamentals, 2021, chapter 28.

    Examples
    --------
    >>> round(air_free_carbon_monoxide(100.0, 0.09), 1)
    175.6
    """
    if not 0.0 <= measured < math.inf:
        raise OutOfRangeError("measured", measured, 0.0, math.inf, "ppm")
    if not 0.0 <= oxygen <= HIGHEST_OXYGEN:
        raise OutOfRangeError("oxygen", oxygen, 0.0, HIGHEST_OXYGEN, "(share of the sample)")
    return measured * OXYGEN_OF_AIR / (OXYGEN_OF_AIR - oxygen)


def least_draft(outdoor_temperature: float) -> float:
    """Return the draft that older practice asked of a natural-draft flue.

    Parameters
    ----------
    outdoor_temperature : float
        During the test [K].

    Returns
    -------
    float
        Flue with reference to the room [Pa], negative: -2.5 below -12 °C, -0.5 above 32 °C.

    Notes
    -----
    ``T/40 - 2.75`` Pa with T in °F between 10 and 90 °F [DRAFT]_, recalled. Later
    editions judge by spillage and carbon monoxide instead.

    References
    ----------
    .. [DRAFT] Older building analyst's standard, recalled.

    Examples
    --------
    >>> least_draft(283.15)
    -1.5
    """
    fahrenheit = 1.8 * (outdoor_temperature - 273.15) + 32.0
    return min(max(fahrenheit / 40.0 - 2.75, -2.5), -0.5)
