"""When mould grows on wood: the humidity that it needs, and how soon it starts.

Sources
-------
[HUKKA1999] Hukka, A., Viitanen, H. A., "A mathematical model of mould growth on wooden
    material", Wood Science and Technology 33 (1999) 475-485; equations read in open code of
    the model.
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError

COLDEST, HOTTEST = 273.15, 323.15
"""Temperatures between which mould grows [K]."""

LEAST_HUMIDITY = 0.80
"""Relative humidity below which no mould grows on wood however long it lasts [0-1]."""


def critical_humidity(temperature: float) -> float:
    """Return the relative humidity that mould on wood needs to start.

    Parameters
    ----------
    temperature : float
        Of the surface [K].

    Returns
    -------
    float
        Relative humidity at the surface [0-1]; 1 in frost, where none grows.

    Notes
    -----
    ``-0.00267 t³ + 0.160 t² - 3.13 t + 100`` percent up to 20 °C, 80 % above [HUKKA1999]_.

    References
    ----------
    [HUKKA1999] Hukka, A., Viitanen, H. A., 1999.

    Examples
    --------
    >>> round(critical_humidity(283.15), 3)
    0.82
    """
    t = temperature - 273.15
    if t <= 0.0:
        return 1.0
    if t > 20.0:
        return LEAST_HUMIDITY
    percent = -0.00267 * t**3 + 0.160 * t**2 - 3.13 * t + 100.0
    return max(percent / 100.0, LEAST_HUMIDITY)


def weeks_to_mould(temperature: float, relative_humidity: float, *, visible: bool = False) -> float:
    """Return how long steady damp takes until mould starts on pine, planed and untreated.

    Parameters
    ----------
    temperature : float
        Of the surface [K], above 273.15 and up to 323.15.
    relative_humidity : float
        At the surface [0-1], up to 1.
    visible : bool
        Until it can be seen, rather than under the microscope.

    Returns
    -------
    float
        Weeks [-]; infinite where the humidity is below the critical one.

    Raises
    ------
    OutOfRangeError
        If temperature or humidity is outside the range of the model.

    Notes
    -----
    ``exp(-0.68 ln t - 13.9 ln H + 66.02)`` weeks to the start and ``exp(-0.74 ln t - 12.72
    ln H + 61.50)`` to be seen, t in °C and H in percent, for pine sapwood of a planed face
    [HUKKA1999]_. Real damp comes and goes, and takes longer.

    References
    ----------
    [HUKKA1999] Hukka, A., Viitanen, H. A., 1999.

    Examples
    --------
    >>> round(weeks_to_mould(293.15, 0.90), 1)
    4.2
    """
    if not COLDEST < temperature <= HOTTEST:
        raise OutOfRangeError("surface temperature", temperature, COLDEST, HOTTEST, "K")
    if not 0.0 <= relative_humidity <= 1.0:
        raise OutOfRangeError("relative humidity", relative_humidity, 0.0, 1.0, "[0-1]")
    if relative_humidity < critical_humidity(temperature):
        return math.inf
    t, h = math.log(temperature - 273.15), math.log(100.0 * relative_humidity)
    if visible:
        return math.exp(-0.74 * t - 12.72 * h + 61.50)
    return math.exp(-0.68 * t - 13.9 * h + 66.02)
