"""Films of air at the two faces of a duct or pipe: forced inside, natural outside, radiation.

Sources
-------
[USSA1976] U.S. Standard Atmosphere, 1976, eq. 53, thermal conductivity of air (recalled).
[GNIELINSKI1976] Gnielinski, V., "New equations for heat and mass transfer in turbulent pipe
    and channel flow", International Chemical Engineering 16 (1976) 359-368 (recalled).
[CHURCHILL1975] Churchill, S. W., Chu, H. H. S., "Correlating equations for laminar and
    turbulent free convection from a horizontal cylinder", International Journal of Heat and
    Mass Transfer 18 (1975) 1049-1053 (recalled).
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError
from rooftree.physics.air import STANDARD_PRESSURE, dynamic_viscosity, moist_air_density

STEFAN_BOLTZMANN = 5.670374419e-8
"""Radiation of a black body [W/(m²·K⁴)]."""

HEAT_OF_AIR = 1006.0
"""Specific heat of dry air [J/(kg·K)], as the simulated year has it."""

GRAVITY = 9.80665
"""Standard gravity [m/s²]."""

LAMINAR, TURBULENT = 2300.0, 4000.0
"""Reynolds numbers below which pipe flow is laminar and above which it is turbulent [-]."""

LAMINAR_NUSSELT = 3.66
"""Nusselt number of laminar flow far into a round pipe with a wall at one temperature [-]."""


def air_conductivity(temperature: float) -> float:
    """Return the thermal conductivity of air.

    Parameters
    ----------
    temperature : float
        Of the air, 200 to 500 [K].

    Returns
    -------
    float
        Conductivity [W/(m·K)].

    Raises
    ------
    OutOfRangeError
        If the temperature is outside the range.

    Notes
    -----
    ``2.64638e-3 T^1.5 / (T + 245.4 · 10^(-12/T))`` [USSA1976]_, recalled.

    References
    ----------
    [USSA1976] U.S. Standard Atmosphere, 1976.

    Examples
    --------
    >>> round(air_conductivity(300.0), 4)
    0.0263
    """
    if not 200.0 <= temperature <= 500.0:
        raise OutOfRangeError("temperature", temperature, 200.0, 500.0, "K")
    t = temperature
    return 2.64638e-3 * math.pow(t, 1.5) / (t + 245.4 * math.pow(10.0, -12.0 / t))


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Return the Darcy friction factor of a duct.

    Parameters
    ----------
    reynolds : float
        Speed × diameter over kinematic viscosity [-], > 0.
    relative_roughness : float
        Height of the roughness over the hydraulic diameter [-], 0 to 0.1.

    Returns
    -------
    float
        Friction factor [-].

    Notes
    -----
    Laminar ``64 / Re``; turbulent the Colebrook equation, ``1/√f = -2 lg(e/(3.7 D) +
    2.51/(Re √f))`` (ASHRAE Handbook - Fundamentals 2021, ch. 21 eq. 19), solved by
    iteration. Between Reynolds 2300 and 4000 the two are blended in proportion.

    References
    ----------
    ASHRAE Handbook - Fundamentals, 2021, chapter 21, eq. 19.

    Examples
    --------
    >>> round(friction_factor(1e5, 0.0), 4)
    0.018
    """
    if reynolds <= LAMINAR:
        return 64.0 / reynolds
    if reynolds < TURBULENT:
        share = (reynolds - LAMINAR) / (TURBULENT - LAMINAR)
        rough = friction_factor(TURBULENT, relative_roughness)
        return (1.0 - share) * 64.0 / LAMINAR + share * rough
    root = 7.0  # 1 / sqrt(f); the iteration shrinks an error by a factor of about ten a step
    for _ in range(12):
        root = -2.0 * math.log10(relative_roughness / 3.7 + 2.51 * root / reynolds)
    return 1.0 / root**2


def forced_film(
    speed: float,
    diameter: float,
    temperature: float,
    *,
    roughness: float = 0.0,
    pressure: float = STANDARD_PRESSURE,
) -> float:
    """Return the film of air that a fan drives through a duct.

    Parameters
    ----------
    speed : float
        Mean air speed [m/s], >= 0.
    diameter : float
        Inside, hydraulic [m].
    temperature : float
        Of the air [K].
    roughness : float
        Height of the roughness of the wall [m].
    pressure : float
        Barometric pressure [Pa].

    Returns
    -------
    float
        Convection at the inner wall [W/(m²·K)].

    Raises
    ------
    OutOfRangeError
        If diameter or speed is not a size of air in a duct.

    Notes
    -----
    ``Nu = (f/8)(Re - 1000) Pr / (1 + 12.7 √(f/8) (Pr^(2/3) - 1))`` [GNIELINSKI1976]_ above
    Reynolds 4000, 3.66 below 2300, in proportion between. It was fitted to smooth pipes
    (±10 % there); putting the friction of a rough wall into it is usual, and says too much
    for a very rough one. The higher film near the entrance is left out.

    References
    ----------
    [GNIELINSKI1976] Gnielinski, V., International Chemical Engineering 16 (1976) 359.

    Examples
    --------
    >>> round(forced_film(3.0, 0.2, 286.0), 1)
    11.4
    """
    if not 0.0 < diameter <= 5.0:
        raise OutOfRangeError("diameter", diameter, 0.0, 5.0, "m")
    if not 0.0 <= speed <= 50.0:
        raise OutOfRangeError("air speed", speed, 0.0, 50.0, "m/s")
    conductivity, viscosity = air_conductivity(temperature), dynamic_viscosity(temperature)
    reynolds = moist_air_density(temperature, pressure) * speed * diameter / viscosity
    prandtl = viscosity * HEAT_OF_AIR / conductivity
    return _nusselt(reynolds, prandtl, roughness / diameter) * conductivity / diameter


def _nusselt(reynolds: float, prandtl: float, relative_roughness: float) -> float:
    if reynolds <= LAMINAR:
        return LAMINAR_NUSSELT
    if reynolds < TURBULENT:
        share = (reynolds - LAMINAR) / (TURBULENT - LAMINAR)
        full = _nusselt(TURBULENT, prandtl, relative_roughness)
        return (1.0 - share) * LAMINAR_NUSSELT + share * full
    eighth = friction_factor(reynolds, relative_roughness) / 8.0
    above = eighth * (reynolds - 1000.0) * prandtl
    return above / (1.0 + 12.7 * math.sqrt(eighth) * (math.pow(prandtl, 2.0 / 3.0) - 1.0))


def natural_film_round(
    diameter: float,
    surface_temperature: float,
    air_temperature: float,
    pressure: float = STANDARD_PRESSURE,
) -> float:
    """Return the film of still air round a level duct or pipe.

    Parameters
    ----------
    diameter : float
        Outside [m].
    surface_temperature, air_temperature : float
        Of the outer face and of the air round it [K].
    pressure : float
        Barometric pressure [Pa].

    Returns
    -------
    float
        Convection at the outer face, without radiation [W/(m²·K)].

    Notes
    -----
    ``Nu = (0.60 + 0.387 Ra^(1/6) / (1 + (0.559/Pr)^(9/16))^(8/27))²`` with properties at
    the mean temperature [CHURCHILL1975]_, recalled; Rayleigh numbers up to 1e12.

    References
    ----------
    [CHURCHILL1975] Churchill, S. W., Chu, H. H. S., 1975.

    Examples
    --------
    >>> round(natural_film_round(0.3, 303.15, 308.15), 2)
    2.63
    """
    mean = 0.5 * (surface_temperature + air_temperature)
    conductivity, viscosity = air_conductivity(mean), dynamic_viscosity(mean)
    density = moist_air_density(mean, pressure)
    prandtl = viscosity * HEAT_OF_AIR / conductivity
    kinematic = viscosity / density
    grashof = (
        GRAVITY * abs(surface_temperature - air_temperature) * diameter**3 / (mean * kinematic**2)
    )
    slack = math.pow(1.0 + math.pow(0.559 / prandtl, 9.0 / 16.0), 8.0 / 27.0)
    nusselt = (0.60 + 0.387 * math.pow(grashof * prandtl, 1.0 / 6.0) / slack) ** 2
    return nusselt * conductivity / diameter


def radiation_film(emittance: float, surface_temperature: float, surroundings: float) -> float:
    """Return the radiation between a face and surroundings that enclose it, as a film.

    Parameters
    ----------
    emittance : float
        Of the face, to long waves [0-1].
    surface_temperature, surroundings : float
        Of the face and of what it sees [K].

    Returns
    -------
    float
        Radiation over the difference of the temperatures [W/(m²·K)].

    Notes
    -----
    ``e σ (T1² + T2²)(T1 + T2)``, the law of Stefan and Boltzmann divided by the difference.

    Examples
    --------
    >>> round(radiation_film(0.9, 300.0, 310.0), 2)
    5.79
    """
    a, b = surface_temperature, surroundings
    return emittance * STEFAN_BOLTZMANN * (a * a + b * b) * (a + b)
