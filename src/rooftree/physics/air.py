"""Moist air: vapor pressure, humidity ratio, density, viscosity, and pressure by altitude.

Everything takes and returns SI. The relations are those of a perfect-gas mixture, which
holds the density of moist air within 0.15 % of the real gas from -40 to 50 °C.

Sources
-------
[HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1, "Psychrometrics".
[ISO9972] ISO 9972:2015, annex on the density of air.
[ROULET] C.-A. Roulet, "Ventilation and Airflow in Buildings", 2008, p. 66.
[E779] ASTM E779, annex on air density and viscosity (recalled).
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError

GAS_CONSTANT = 287.055
"""Specific gas constant of dry air [J/(kg·K)]."""

MOLAR_MASS_RATIO = 0.621945
"""Molar mass of water over that of dry air [-], [HOF2017] eq. 20."""

REFERENCE_DENSITY = 1.2041
"""Density of dry air at 20 °C and 101 325 Pa, the reference of both test standards [kg/m³]."""

REFERENCE_TEMPERATURE = 293.15
"""Temperature of the reference conditions, 20 °C [K]."""

STANDARD_PRESSURE = 101_325.0
"""Standard atmospheric pressure at sea level [Pa]."""

TRIPLE_POINT = 273.16
"""Temperature of the triple point of water [K]."""


def _require(name: str, value: float, low: float, high: float, unit: str) -> None:
    if not low <= value <= high:
        raise OutOfRangeError(name, value, low, high, unit)


def saturation_pressure(temperature: float) -> float:
    """Return the vapor pressure of saturated air, over ice below the triple point.

    Parameters
    ----------
    temperature : float
        Dry-bulb temperature [K], 173.15 to 473.15.

    Returns
    -------
    float
        Saturation vapor pressure [Pa].

    Raises
    ------
    OutOfRangeError
        If the temperature is outside the range that the equations cover.

    Notes
    -----
    Equation 5 below the triple point, equation 6 above it [HOF2017]_. The handbook
    switches at 273.15 K, which leaves a small step; switching at the triple point
    removes it and keeps the inverse well behaved.

    Examples
    --------
    >>> round(saturation_pressure(298.15), 1)
    3169.2
    """
    _require("temperature", temperature, 173.15, 473.15, "K")
    t = temperature
    if t <= TRIPLE_POINT:  # eq. 5
        ln_p = (
            -5.6745359e3 / t + 6.3925247 - 9.677843e-3 * t + 6.2215701e-7 * t**2
            + 2.0747825e-9 * t**3 - 9.484024e-13 * t**4 + 4.1635019 * math.log(t)
        )  # fmt: skip
    else:  # eq. 6
        ln_p = (
            -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t**2
            - 1.4452093e-8 * t**3 + 6.5459673 * math.log(t)
        )  # fmt: skip
    return math.exp(ln_p)


def humidity_ratio(
    temperature: float, relative_humidity: float, pressure: float = STANDARD_PRESSURE
) -> float:
    """Return the mass of water vapor carried by each kilogram of dry air.

    Parameters
    ----------
    temperature : float
        Dry-bulb temperature [K], 173.15 to 473.15.
    relative_humidity : float
        Vapor pressure over that at saturation [0-1].
    pressure : float
        Barometric pressure [Pa], 30 000 to 120 000.

    Returns
    -------
    float
        Humidity ratio [kg/kg].

    Raises
    ------
    OutOfRangeError
        If an argument is out of its range, or the vapor pressure reaches the barometric.

    Notes
    -----
    Equation 20 of [HOF2017]_: ``W = 0.621945 p_w / (p - p_w)``.

    Examples
    --------
    >>> round(humidity_ratio(293.15, 0.5), 5)
    0.00726
    """
    _require("relative humidity", relative_humidity, 0.0, 1.0, "[0-1]")
    _require("barometric pressure", pressure, 30e3, 120e3, "Pa")
    vapor = relative_humidity * saturation_pressure(temperature)
    _require("vapor pressure", vapor, 0.0, 0.99 * pressure, "Pa")
    return MOLAR_MASS_RATIO * vapor / (pressure - vapor)


def relative_humidity(
    temperature: float, humidity_ratio: float, pressure: float = STANDARD_PRESSURE
) -> float:
    """Return the vapor pressure over that at saturation.

    Parameters
    ----------
    temperature : float
        Dry-bulb temperature [K], 173.15 to 473.15.
    humidity_ratio : float
        Mass of water vapor carried by each kilogram of dry air [kg/kg], >= 0.
    pressure : float
        Barometric pressure [Pa], 30 000 to 120 000.

    Returns
    -------
    float
        Relative humidity [0-1]; above 1 where the air carries more than it can hold.

    Raises
    ------
    OutOfRangeError
        If an argument is out of its range.

    Notes
    -----
    The inverse of :func:`humidity_ratio`, [HOF2017]_ eq. 20.

    Examples
    --------
    >>> round(relative_humidity(293.15, 0.00726), 3)
    0.5
    """
    _require("humidity ratio", humidity_ratio, 0.0, 1.0, "kg/kg")
    _require("barometric pressure", pressure, 30e3, 120e3, "Pa")
    vapor = pressure * humidity_ratio / (MOLAR_MASS_RATIO + humidity_ratio)
    return vapor / saturation_pressure(temperature)


def moist_air_density(
    temperature: float, pressure: float = STANDARD_PRESSURE, relative_humidity: float = 0.0
) -> float:
    """Return the density of moist air.

    Parameters
    ----------
    temperature : float
        Dry-bulb temperature [K], 173.15 to 473.15.
    pressure : float
        Barometric pressure [Pa], 30 000 to 120 000.
    relative_humidity : float
        Vapor pressure over that at saturation [0-1]; 0 is dry air.

    Returns
    -------
    float
        Density of the mixture [kg/m³].

    Raises
    ------
    OutOfRangeError
        If an argument is out of its range.

    Notes
    -----
    ``rho = (p - 0.37802 phi e_v) / (287.055 T)`` [ISO9972]_. The vapor pressure at
    saturation is that of [HOF2017]_; the standard's own shorter formula is 0.05 to 0.15 %
    higher between 0 and 20 °C, which moves the density by less than 1 part in 10⁵.

    Examples
    --------
    >>> round(moist_air_density(293.15, 101_325.0, 0.5), 3)
    1.199
    """
    _require("relative humidity", relative_humidity, 0.0, 1.0, "[0-1]")
    _require("barometric pressure", pressure, 30e3, 120e3, "Pa")
    vapor = relative_humidity * saturation_pressure(temperature)
    _require("vapor pressure", vapor, 0.0, 0.99 * pressure, "Pa")
    return (pressure - 0.37802 * vapor) / (GAS_CONSTANT * temperature)


def dynamic_viscosity(temperature: float) -> float:
    """Return the dynamic viscosity of air.

    Parameters
    ----------
    temperature : float
        Dry-bulb temperature [K], 200 to 400.

    Returns
    -------
    float
        Dynamic viscosity [kg/(m·s)].

    Raises
    ------
    OutOfRangeError
        If the temperature is outside the range.

    Notes
    -----
    Sutherland's formula as printed in [ROULET]_, eq. 4.17. Within 1 % of the
    reference correlation for dry air between -40 and 60 °C; humidity is left out, which
    changes it by less than 1 % at room conditions.

    Examples
    --------
    >>> round(1e5 * dynamic_viscosity(293.15), 4)
    1.8134
    """
    _require("temperature", temperature, 200.0, 400.0, "K")
    return 1.458e-6 * math.sqrt(temperature) / (1.0 + 110.4 / temperature)


def pressure_at_altitude(altitude: float) -> float:
    """Return the barometric pressure of the standard atmosphere.

    Parameters
    ----------
    altitude : float
        Height above sea level [m], -500 to 11 000.

    Returns
    -------
    float
        Barometric pressure [Pa].

    Raises
    ------
    OutOfRangeError
        If the altitude is outside the range.

    Notes
    -----
    Equation 3 of [HOF2017]_. Weather moves the true pressure by up to about 3 %.

    Examples
    --------
    >>> round(pressure_at_altitude(1500.0))
    84556
    """
    _require("altitude", altitude, -500.0, 11_000.0, "m")
    return STANDARD_PRESSURE * math.pow(1.0 - 2.25577e-5 * altitude, 5.2559)


def density_at_altitude(altitude: float, temperature: float) -> float:
    """Return the density of dry air by altitude and temperature, as ASTM E779 does.

    Parameters
    ----------
    altitude : float
        Height above sea level [m], -500 to 11 000.
    temperature : float
        Dry-bulb temperature [K], 173.15 to 473.15.

    Returns
    -------
    float
        Density [kg/m³].

    Raises
    ------
    OutOfRangeError
        If an argument is out of its range.

    Notes
    -----
    ``rho = 1.2041 (1 - 0.0065 E / 293)^5.2553 · 293 / (theta + 273)``, theta in °C
    [E779]_, recalled. The standard lets temperature fall from 20 °C at sea level, the
    standard atmosphere from 15 °C: at 1500 m this is 0.3 % denser than the pressure of
    :func:`pressure_at_altitude` gives.

    Examples
    --------
    >>> round(density_at_altitude(0.0, 293.15), 4)
    1.2041
    """
    _require("altitude", altitude, -500.0, 11_000.0, "m")
    _require("temperature", temperature, 173.15, 473.15, "K")
    thinning = math.pow(1.0 - 0.0065 * altitude / 293.0, 5.2553)
    return REFERENCE_DENSITY * thinning * 293.0 / (temperature - 0.15)
