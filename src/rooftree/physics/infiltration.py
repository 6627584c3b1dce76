"""Air that weather drives through the leaks of one well-mixed house: four published models.

From the roughest to the best: the LBL model, the handbook's basic model, the handbook's
enhanced model, and AIM-2, from which the enhanced one was tabulated. All take one zone;
buffer spaces and fans are the business of the engine. Temperature differences are taken
without their sign. Arrays of hours are taken as well as single numbers.

Sources
-------
[HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 16, eq. 41 to 50, Tables 4 to 9.
[SHERMAN1980] M. Sherman, D. Grimsrud, "Measurement of infiltration using fan
    pressurization and weather data", LBL-10852, 1980 (recalled; parts quoted in NOAA
    Technical Memorandum NOS OR&R 43, 4.6).
[WALKER1998] I. Walker, D. Wilson, "Field validation of algebraic equations for stack and
    wind driven air infiltration calculations", HVAC&R Research 4(2), 1998; equations
    quoted in documents that cite it, the crawlspace wind factor recalled.
[BARNABY2005] C. Barnaby, J. Spitler, 2005, as ASHRAE Handbook - Fundamentals, 2021,
    chapter 17, eq. 8 to 10.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import ArrayLike, NDArray

GRAVITY = 9.81
"""Acceleration of gravity [m/s²]."""

HANDBOOK_DENSITY = 1.2
"""Density of air behind the handbook's coefficients [kg/m³]."""

Foundation = Literal["slab", "crawlspace"]
"""Slab stands for basements too; crawlspace for a floor above moving air."""


@dataclass(frozen=True, slots=True)
class Infiltration:
    """Flow through the leaks, and what drives it; the parts do not simply add.

    Attributes
    ----------
    stack, wind : ndarray
        Flow that the temperature difference alone, and the wind alone, would drive [m³/s].
    flow : ndarray
        Flow that both drive [m³/s].
    """

    stack: NDArray[np.float64]
    wind: NDArray[np.float64]
    flow: NDArray[np.float64]


def _magnitudes(values: ArrayLike) -> NDArray[np.float64]:
    return np.abs(np.asarray(values, dtype=np.float64))


def _require(name: str, value: float, low: float, high: float, unit: str) -> None:
    if not low <= value <= high:
        raise OutOfRangeError(name, value, low, high, unit)


def leakage_coefficient(
    leakage_area: float,
    exponent: float,
    *,
    pressure: float = 4.0,
    discharge: float = 1.0,
    density: float = HANDBOOK_DENSITY,
) -> float:
    """Return the coefficient of the power law that goes with a leakage area.

    Parameters
    ----------
    leakage_area : float
        Effective or equivalent leakage area [m²], >= 0.
    exponent : float
        Pressure exponent [-], 0.5 to 1.
    pressure : float
        Pressure at which the area is defined [Pa]: 4 with discharge 1, 10 with 0.611.
    discharge : float
        Discharge coefficient of the convention [-].
    density : float
        Density of air [kg/m³].

    Returns
    -------
    float
        Leakage coefficient [m³/(s·Paⁿ)].

    Raises
    ------
    OutOfRangeError
        If the area is negative or the exponent outside 0.5 to 1.

    Notes
    -----
    Equation 45 of chapter 16 [HOF2021]_: ``C_D A (2/rho)^½ dp^(½-n)``.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 16, eq. 41 to 45.

    Examples
    --------
    >>> round(leakage_coefficient(0.05, 0.67), 3)
    0.051
    """
    _require("leakage_area", leakage_area, 0.0, math.inf, "m²")
    _require("exponent", exponent, 0.5, 1.0, "-")
    through = discharge * leakage_area * math.sqrt(2.0 / density)
    return through * math.pow(pressure, 0.5 - exponent)


@cache
def _basic_coefficients() -> Mapping[tuple[int, int], tuple[float, float]]:
    return MappingProxyType(
        {
            (int(row["shelter_class"]), int(row["storeys"])): (
                float(row["stack"]),
                float(row["wind"]),
            )
            for row in table_rows("rooftree.physics", "basic_infiltration.csv")
        }
    )


def basic_infiltration(
    leakage_area: float,
    temperature_difference: ArrayLike,
    wind_speed: ArrayLike,
    *,
    storeys: int,
    shelter_class: int,
) -> NDArray[np.float64]:
    """Return the infiltration of a house by the handbook's basic model.

    Parameters
    ----------
    leakage_area : float
        Effective leakage area at 4 Pa, discharge coefficient 1 [m²], >= 0.
    temperature_difference : array_like
        Indoors less outdoors [K].
    wind_speed : array_like
        At the weather station [m/s].
    storeys : int
        1, 2 or 3.
    shelter_class : int
        1 (none) to 5 (obstructions next to the house).

    Returns
    -------
    ndarray
        Flow [m³/s].

    Raises
    ------
    OutOfRangeError
        If the leakage area is negative, or the storeys or the class have no table.

    Notes
    -----
    Equation 48 [HOF2021]_: ``Q = A_L / 1000 (Cs dT + Cw U²)^½`` with the area in cm².
    The tables assume half the leakage in walls and the rest equally in floor and
    ceiling, storeys of 2.5 m, and rural ground with scattered obstacles. Single
    predictions of empirical models may be off by 100 %, long averages by 40 %.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 16, eq. 48, Tables 4 and 6.

    Examples
    --------
    >>> round(float(basic_infiltration(0.05, 39.0, 6.7, storeys=2, shelter_class=3)), 4)
    0.0736
    """
    _require("leakage_area", leakage_area, 0.0, math.inf, "m²")
    _require("storeys", storeys, 1, 3, "storeys")
    _require("shelter_class", shelter_class, 1, 5, "(class)")
    stack, wind = _basic_coefficients()[shelter_class, storeys]
    drive = stack * _magnitudes(temperature_difference) + wind * _magnitudes(wind_speed) ** 2
    return np.asarray(10.0 * leakage_area * np.sqrt(drive))


@cache
def _enhanced_coefficients() -> Mapping[tuple[int, bool], Mapping[str, float]]:
    names = ("wind_multiplier", "stack", "wind_slab", "wind_crawlspace")
    return MappingProxyType(
        {
            (int(row["storeys"]), row["flue"] == "yes"): {name: float(row[name]) for name in names}
            for row in table_rows("rooftree.physics", "enhanced_infiltration.csv")
        }
    )


@cache
def _shelter_factors() -> Mapping[int, tuple[float, ...]]:
    columns = ("no_flue", "flue_1", "flue_2", "flue_3")
    return MappingProxyType(
        {
            int(row["shelter_class"]): tuple(float(row[column]) for column in columns)
            for row in table_rows("rooftree.physics", "shelter.csv")
        }
    )


def shelter_factor(shelter_class: int, *, storeys: int = 1, flue: bool = False) -> float:
    """Return the share of the wind that reaches a sheltered house.

    Parameters
    ----------
    shelter_class : int
        1 (none) to 5 (obstructions next to the house).
    storeys : int
        1, 2 or 3; matters with a flue only.
    flue : bool
        Whether an open flue stands above the roof, out of the shelter.

    Returns
    -------
    float
        Factor on the wind speed [-]; above 1 where a flue stands in full wind.

    Raises
    ------
    OutOfRangeError
        If the class or the storeys have no table.

    Notes
    -----
    Table 9 of chapter 16 [HOF2021]_.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 16, Table 9.

    Examples
    --------
    >>> shelter_factor(4)
    0.5
    """
    _require("shelter_class", shelter_class, 1, 5, "(class)")
    _require("storeys", storeys, 1, 3, "storeys")
    return _shelter_factors()[shelter_class][storeys if flue else 0]


def enhanced_infiltration(
    coefficient: float,
    exponent: float,
    temperature_difference: ArrayLike,
    wind_speed: ArrayLike,
    *,
    storeys: int,
    shelter: float,
    foundation: Foundation = "slab",
    flue: bool = False,
) -> Infiltration:
    """Return the infiltration of a house by the handbook's enhanced model.

    Parameters
    ----------
    coefficient : float
        Leakage coefficient of the house [m³/(s·Paⁿ)], >= 0.
    exponent : float
        Pressure exponent [-], 0.5 to 1; the tables were made for 0.67.
    temperature_difference : array_like
        Indoors less outdoors [K].
    wind_speed : array_like
        At the weather station [m/s].
    storeys : int
        1, 2 or 3.
    shelter : float
        Share of the wind that reaches the house [-], of :func:`shelter_factor`.
    foundation : {"slab", "crawlspace"}
        Slab stands for basements too.
    flue : bool
        Whether an open flue stands above the roof.

    Returns
    -------
    Infiltration

    Raises
    ------
    OutOfRangeError
        If the coefficient is negative, the exponent outside 0.5 to 1, or the storeys
        have no table.

    Notes
    -----
    Equations 49 and 50 [HOF2021]_: ``Qs = c Cs dT^n``, ``Qw = c Cw (s G U)^(2n)``, in
    quadrature. About 10 % accurate where the inputs are well known. Worked example 6 of
    the chapter prints the exponent 1.34 of the wind although its n is 0.6; 2n is meant.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 16, Tables 7 to 9.

    Examples
    --------
    >>> winter = enhanced_infiltration(0.05, 0.67, 20.0, 4.0, storeys=1, shelter=0.7)
    >>> round(float(winter.flow), 4)
    0.0232
    """
    _require("coefficient", coefficient, 0.0, math.inf, "m³/(s·Paⁿ)")
    _require("exponent", exponent, 0.5, 1.0, "-")
    _require("storeys", storeys, 1, 3, "storeys")
    table = _enhanced_coefficients()[storeys, flue]
    speed = shelter * table["wind_multiplier"] * _magnitudes(wind_speed)
    stack = coefficient * table["stack"] * _magnitudes(temperature_difference) ** exponent
    wind = coefficient * table[f"wind_{foundation}"] * speed ** (2.0 * exponent)
    return Infiltration(np.asarray(stack), np.asarray(wind), np.hypot(stack, wind))


def design_infiltration(
    leakage_area: float,
    height: float,
    temperature_difference: float,
    season: Literal["heating", "cooling"],
    *,
    flue_area: float = 0.0,
) -> float:
    """Return the infiltration on the design day of a suburban house.

    Parameters
    ----------
    leakage_area : float
        Effective leakage area, flues included [m²], > 0.
    height : float
        Mean height of the ceiling above the ground [m], >= 0.
    temperature_difference : float
        Between indoors and outdoors [K].
    season : {"heating", "cooling"}
        Sets the wind: 6.7 m/s when heating, 3.4 m/s when cooling.
    flue_area : float
        Effective leakage area of the flues [m²], less than half of all.

    Returns
    -------
    float
        Flow [m³/s].

    Raises
    ------
    OutOfRangeError
        If the leakage area is not positive, or the flues are half of it or more.

    Notes
    -----
    Equations 8 to 10 of chapter 17 [BARNABY2005]_, a fit to AIM-2:
    ``Q [L/s] = A_L [cm²] (I0 + H dT (I1 + I2 A_flue / A_L)) / 1000``.

    References
    ----------
    .. [BARNABY2005] ASHRAE Handbook - Fundamentals, 2021, chapter 17, eq. 8 to 10, Table 4.

    Examples
    --------
    >>> round(1000.0 * design_infiltration(0.01, 2.5, 40.0, "heating"), 1)
    8.6
    """
    _require("leakage_area", leakage_area, np.nextafter(0.0, 1.0), math.inf, "m²")
    _require("flue_area", flue_area, 0.0, math.nextafter(0.5 * leakage_area, 0.0), "m²")
    base, slope, flue = (51.0, 0.35, 0.23) if season == "heating" else (25.0, 0.38, 0.12)
    lift = height * abs(temperature_difference)
    return leakage_area * 1e-2 * (base + lift * (slope + flue * flue_area / leakage_area))
