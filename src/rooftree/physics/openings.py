"""Flow and pressure of single openings, of two in series, and of fans that pull on a house.

Sources
-------
[BERNOULLI] Flow through a sharp opening, with a discharge coefficient for its edge.
[HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 16, eq. 24 (stack pressure).
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError

SHARP_EDGE = 0.60
"""Discharge coefficient of a hole with sharp edges [-]; 0.611 in the ideal plane case."""


def _require(name: str, value: float, low: float, high: float, unit: str) -> None:
    if not low <= value <= high:
        raise OutOfRangeError(name, value, low, high, unit)


def opening_flow(
    area: float, pressure: float, *, discharge: float = SHARP_EDGE, density: float = 1.2041
) -> float:
    """Return the flow through a hole.

    Parameters
    ----------
    area : float
        Area of the hole [m²], >= 0.
    pressure : float
        Pressure across it [Pa], >= 0.
    discharge : float
        Discharge coefficient [-].
    density : float
        Density of the air in it [kg/m³].

    Returns
    -------
    float
        Flow [m³/s].

    Raises
    ------
    OutOfRangeError
        If the area or the pressure is negative.

    Notes
    -----
    ``Cd A (2 dp / rho)^½`` [BERNOULLI]_.

    References
    ----------
    .. [BERNOULLI] Flow through a sharp opening.

    Examples
    --------
    >>> round(opening_flow(0.01, 50.0), 4)
    0.0547
    """
    _require("area", area, 0.0, math.inf, "m²")
    _require("pressure", pressure, 0.0, math.inf, "Pa")
    return discharge * area * math.sqrt(2.0 * pressure / density)


def opening_area(
    flow: float, pressure: float, *, discharge: float = SHARP_EDGE, density: float = 1.2041
) -> float:
    """Return the area of the hole through which a flow passes.

    Parameters
    ----------
    flow : float
        Flow [m³/s], >= 0.
    pressure : float
        Pressure across it [Pa], > 0.
    discharge : float
        Discharge coefficient [-].
    density : float
        Density of the air in it [kg/m³].

    Returns
    -------
    float
        Area [m²].

    Raises
    ------
    OutOfRangeError
        If the flow is negative or the pressure not positive.

    Notes
    -----
    Inverse of :func:`opening_flow`.

    Examples
    --------
    >>> round(opening_area(0.0547, 50.0), 3)
    0.01
    """
    _require("flow", flow, 0.0, math.inf, "m³/s")
    _require("pressure", pressure, math.nextafter(0.0, 1.0), math.inf, "Pa")
    return flow / (discharge * math.sqrt(2.0 * pressure / density))


def series_coefficient(first: float, second: float, exponent: float) -> float:
    """Return the leakage coefficient of two leaks that the same air passes one after another.

    Parameters
    ----------
    first, second : float
        Leakage coefficients [m³/(s·Paⁿ)], > 0.
    exponent : float
        Pressure exponent of both [-], 0.5 to 1.

    Returns
    -------
    float
        Leakage coefficient of the path [m³/(s·Paⁿ)], below both.

    Raises
    ------
    OutOfRangeError
        If a coefficient is not positive or the exponent outside 0.5 to 1.

    Notes
    -----
    ``(C1^(-1/n) + C2^(-1/n))^(-n)``: the pressures add up, the flow is one.

    Examples
    --------
    >>> round(series_coefficient(100.0, 100.0, 0.65), 3)
    63.728
    """
    for name, value in (("first", first), ("second", second)):
        _require(name, value, math.nextafter(0.0, 1.0), math.inf, "m³/(s·Paⁿ)")
    _require("exponent", exponent, 0.5, 1.0, "-")
    power = -1.0 / exponent
    return math.pow(math.pow(first, power) + math.pow(second, power), -exponent)


def exhaust_pressure(
    net_flow: float, house_flow: float, *, exponent: float = 0.65, house_pressure: float = 50.0
) -> float:
    """Return how far fans pull a house below outdoors when nothing else moves its air.

    Parameters
    ----------
    net_flow : float
        Exhaust less supply [m³/s], >= 0.
    house_flow : float
        Leakage of the house in the fan test [m³/s], > 0.
    exponent : float
        Pressure exponent of the house [-], 0.5 to 1.
    house_pressure : float
        Pressure of that leakage [Pa], > 0.

    Returns
    -------
    float
        Depth below outdoors [Pa], >= 0.

    Raises
    ------
    OutOfRangeError
        If a flow, the exponent or the pressure is out of range.

    Notes
    -----
    ``50 (Q / Q50)^(1/n)``, the leakage curve turned round; no weather.

    Examples
    --------
    >>> round(exhaust_pressure(0.3, 1.0), 2)
    7.84
    """
    _require("net_flow", net_flow, 0.0, math.inf, "m³/s")
    _require("house_flow", house_flow, math.nextafter(0.0, 1.0), math.inf, "m³/s")
    _require("exponent", exponent, 0.5, 1.0, "-")
    _require("house_pressure", house_pressure, math.nextafter(0.0, 1.0), math.inf, "Pa")
    return house_pressure * math.pow(net_flow / house_flow, 1.0 / exponent)


def allowed_exhaust(
    pressure: float, house_flow: float, *, exponent: float = 0.65, house_pressure: float = 50.0
) -> float:
    """Return the net exhaust that pulls a house just so far below outdoors.

    Parameters
    ----------
    pressure : float
        Depth below outdoors that may be reached [Pa], >= 0.
    house_flow : float
        Leakage of the house in the fan test [m³/s], > 0.
    exponent : float
        Pressure exponent of the house [-], 0.5 to 1.
    house_pressure : float
        Pressure of that leakage [Pa], > 0.

    Returns
    -------
    float
        Exhaust less supply [m³/s].

    Raises
    ------
    OutOfRangeError
        If a pressure, the flow or the exponent is out of range.

    Notes
    -----
    Inverse of :func:`exhaust_pressure`.

    Examples
    --------
    >>> round(allowed_exhaust(2.0, 1500.0), 1)
    185.1
    """
    _require("pressure", pressure, 0.0, math.inf, "Pa")
    _require("house_flow", house_flow, math.nextafter(0.0, 1.0), math.inf, "m³/s")
    _require("exponent", exponent, 0.5, 1.0, "-")
    _require("house_pressure", house_pressure, math.nextafter(0.0, 1.0), math.inf, "Pa")
    return house_flow * math.pow(pressure / house_pressure, exponent)


def stack_pressure(
    height: float,
    inside_temperature: float,
    outdoor_temperature: float,
    *,
    barometric_pressure: float = 101_325.0,
) -> float:
    """Return the pressure that warm air in a shaft makes against cold air outside it.

    Parameters
    ----------
    height : float
        Of the warm column [m], >= 0.
    inside_temperature, outdoor_temperature : float
        Of the air inside and outside the column [K].
    barometric_pressure : float
        At the site [Pa].

    Returns
    -------
    float
        Pressure at the foot below that outside, or above it where negative [Pa]: the
        draft of a flue before any loss, or the stack pressure of a house.

    Notes
    -----
    Equation 24 of chapter 16 [HOF2021]_ with the perfect gas: ``p g H / R_air
    (1/To - 1/Ti)``, 3463 H (1/To - 1/Ti) at sea level.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 16, eq. 24.

    Examples
    --------
    >>> round(stack_pressure(5.0, 293.15, 273.15), 3)
    4.324
    """
    per_kelvin = barometric_pressure * 9.81 / 287.055
    return per_kelvin * height * (1.0 / outdoor_temperature - 1.0 / inside_temperature)
