"""The temperature factor of a face, and the factor that keeps mould away.

Sources
-------
[ISO13788] ISO 13788, surface temperature to avoid critical surface humidity (recalled; the
    criterion of 0.8 and the factor of 1.10 are quoted in a calculation note for a house in
    Poznan, the constants of the saturation curve were read in open research code).
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError

MOULD, DRIPPING = 0.8, 1.0
"""Share of saturation at a face that mould and dripping need [0-1] [ISO13788]_."""

LEAST_DIFFERENCE = 0.5
"""Between inside and outdoors below which a factor says nothing at all [K]; ours."""

CLASS_EXCESSES = (270.0, 540.0, 810.0, 1080.0)
"""Vapor pressure inside above outdoors at the top of classes 1 to 4, at 0 °C and below [Pa]
[ISO13788]_ (recalled; 810 Pa quoted)."""

_ZERO = 273.15


def standard_saturation(temperature: float) -> float:
    """Return the vapor pressure of saturated air by the short formula of the standard.

    Parameters
    ----------
    temperature : float
        [K], 200 to 373.15.

    Returns
    -------
    float
        Saturation vapor pressure [Pa].

    Notes
    -----
    ``610.5 exp(17.269 t / (237.3 + t))`` from 0 °C, ``610.5 exp(21.875 t / (265.5 + t))``
    below [ISO13788]_. Within 0.6 % of the longer equations between -20 and 40 °C.

    References
    ----------
    [ISO13788] ISO 13788.

    Examples
    --------
    >>> round(standard_saturation(293.15), 1)
    2337.0
    """
    if not 200.0 <= temperature <= 373.15:
        raise OutOfRangeError("temperature", temperature, 200.0, 373.15, "K")
    t = temperature - _ZERO
    if t >= 0.0:
        return 610.5 * math.exp(17.269 * t / (237.3 + t))
    return 610.5 * math.exp(21.875 * t / (265.5 + t))


def saturated_at(vapor_pressure: float) -> float:
    """Return the temperature at which the standard's saturation has this pressure.

    Parameters
    ----------
    vapor_pressure : float
        [Pa], > 0.

    Returns
    -------
    float
        Temperature [K]: the inverse of :func:`standard_saturation`.

    Examples
    --------
    >>> round(saturated_at(2337.05) - 273.15, 2)
    20.0
    """
    if not vapor_pressure > 0.0:
        raise OutOfRangeError("vapor pressure", vapor_pressure, 0.0, math.inf, "Pa")
    x = math.log(vapor_pressure / 610.5)
    return _ZERO + (237.3 * x / (17.269 - x) if x >= 0.0 else 265.5 * x / (21.875 - x))


def temperature_factor(surface: float, inside: float, outdoors: float) -> float:
    """Return how far the inner face has come from outdoor to indoor temperature.

    Parameters
    ----------
    surface, inside, outdoors : float
        Temperatures of the inner face, of the air inside and of the air outdoors [K].

    Returns
    -------
    float
        Temperature factor [-]: 1 at indoor temperature, 0 at outdoor temperature.

    Raises
    ------
    OutOfRangeError
        If inside and outdoors differ by less than half a kelvin.

    Notes
    -----
    ``f = (θsi - θe) / (θi - θe)`` [ISO13788]_; infrared practice calls it thermal index.

    References
    ----------
    [ISO13788] ISO 13788.

    Examples
    --------
    >>> temperature_factor(290.65, 293.15, 283.15)
    0.75
    """
    difference = inside - outdoors
    if abs(difference) < LEAST_DIFFERENCE:
        raise OutOfRangeError(
            "difference inside to outdoors", abs(difference), LEAST_DIFFERENCE, math.inf, "K"
        )
    return (surface - outdoors) / difference


def least_surface(vapor_pressure: float, criterion: float = MOULD) -> float:
    """Return how warm a face must stay for air of this vapor pressure.

    Parameters
    ----------
    vapor_pressure : float
        Of the air at the face [Pa].
    criterion : float
        Share of saturation that may not be exceeded there [0-1].

    Returns
    -------
    float
        Least surface temperature [K].

    Notes
    -----
    ``p_sat(θsi,min) = p_i / criterion`` [ISO13788]_.

    References
    ----------
    [ISO13788] ISO 13788.

    Examples
    --------
    >>> round(least_surface(0.5 * standard_saturation(293.15)) - 273.15, 2)
    12.62
    """
    return saturated_at(vapor_pressure / criterion)


def least_factor(
    inside: float, vapor_pressure: float, outdoors: float, criterion: float = MOULD
) -> float:
    """Return the temperature factor that a face needs.

    Parameters
    ----------
    inside : float
        Air inside [K].
    vapor_pressure : float
        Of the air inside [Pa].
    outdoors : float
        Air outdoors, colder than inside [K].
    criterion : float
        Share of saturation that may not be exceeded at the face [0-1].

    Returns
    -------
    float
        Least factor [-]; negative where even a face as cold as outdoors would do.

    References
    ----------
    [ISO13788] ISO 13788.

    Examples
    --------
    >>> round(least_factor(293.15, 0.5 * standard_saturation(293.15), 268.15), 3)
    0.705
    """
    return temperature_factor(least_surface(vapor_pressure, criterion), inside, outdoors)


def transmittance_for(factor: float, film: float = 0.25) -> float:
    """Return the U-value at which a plane part without thermal bridges has a factor.

    Parameters
    ----------
    factor : float
        Temperature factor [-].
    film : float
        Inner film [m²·K/W]; 0.25 for mould on opaque parts, 0.13 for windows.

    Returns
    -------
    float
        U-value [W/(m²·K)].

    Notes
    -----
    ``f = 1 - U Rsi`` (ISO 13788, 4.4.1, quoted in a secondary source).

    Examples
    --------
    >>> round(transmittance_for(0.95), 3)
    0.2
    """
    return (1.0 - factor) / film


def loss_ratio(inside: float, surface: float, good_surface: float) -> float:
    """Return how much more heat a face loses than a good one beside it.

    Parameters
    ----------
    inside, surface, good_surface : float
        Air inside, the face and the good face [K].

    Returns
    -------
    float
        Transmittance over that of the good face [-].

    Raises
    ------
    OutOfRangeError
        If the good face is as warm as the air.

    Notes
    -----
    Steady, one-dimensional and with equal films: ``U/U_good = (Ti - Ts)/(Ti - Ts,good)``.

    Examples
    --------
    >>> loss_ratio(293.0, 290.0, 292.0)
    3.0
    """
    good = inside - good_surface
    if good == 0.0:
        raise OutOfRangeError("air above the good face", good, 0.01, math.inf, "K")
    return (inside - surface) / good


def humidity_class(excess: float, outdoors: float) -> int | None:
    """Return the class of a house by how much moisture its air holds above outdoors.

    Parameters
    ----------
    excess : float
        Vapor pressure inside above outdoors [Pa].
    outdoors : float
        Air outdoors [K].

    Returns
    -------
    int or None
        1 (store) to 5 (laundry, pool); 2 and 3 are dwellings. None above 15 °C outdoors,
        where the classes are narrower than any reading.

    Notes
    -----
    Steps of 270 Pa at 0 °C and below, falling in proportion to nothing at 20 °C
    [ISO13788]_ (recalled).

    References
    ----------
    [ISO13788] ISO 13788.

    Examples
    --------
    >>> humidity_class(700.0, 270.0)
    3
    """
    if outdoors > _ZERO + 15.0:
        return None
    shrink = min(1.0 - (outdoors - _ZERO) / 20.0, 1.0)
    return 1 + sum(excess > shrink * top for top in CLASS_EXCESSES)
