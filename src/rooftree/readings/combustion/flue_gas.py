"""Flue gas by its oxygen and carbon dioxide: excess air, and carbon monoxide without it.

Sources
-------
[FIELD] Field convention of 20.9 % oxygen in air; ASHRAE Handbook - Fundamentals 2021,
    ch. 28, takes 20.95 %, which changes the result by less than 0.6 % up to 12 % oxygen.
[HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 28, eq. 10 to 12, table 15.
[DRAFT] Older building analyst's standard on least draft by outdoor temperature (recalled).
"""

from __future__ import annotations

import math
from types import MappingProxyType

from rooftree.errors import OutOfRangeError

OXYGEN_OF_AIR = 0.209
"""Oxygen in air by field convention [0-1]."""

HANDBOOK_OXYGEN = 0.2095
"""Oxygen in air in the handbook's combustion formulas [0-1]."""

HIGHEST_OXYGEN = 0.20
"""Oxygen in the sample above which it is nearly all air [0-1]; ours: there half a percent of
oxygen halves or doubles the result."""

ULTIMATE_CARBON_DIOXIDE = MappingProxyType({"natural gas": 0.121, "propane": 0.139, "oil": 0.150})
"""Carbon dioxide of dry flue gas without excess air [0-1]; [HOF2021], table 15 (oil: No. 1-2)."""


LOWEST_CARBON_DIOXIDE = 0.005
"""Carbon dioxide in the sample below which it is nearly all air [0-1]; ours, as for oxygen."""


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
    _require_reading(measured)
    if not 0.0 <= oxygen <= HIGHEST_OXYGEN:
        raise OutOfRangeError("oxygen", oxygen, 0.0, HIGHEST_OXYGEN, "(share of the sample)")
    return measured * OXYGEN_OF_AIR / (OXYGEN_OF_AIR - oxygen)


def air_free_by_carbon_dioxide(measured: float, carbon_dioxide: float, fuel: str) -> float:
    """Return the air-free carbon monoxide from carbon dioxide instead of oxygen.

    Parameters
    ----------
    measured : float
        As measured in undiluted flue gas [ppm], >= 0.
    carbon_dioxide : float
        In the same sample, dry [0-1], 0.005 to the fuel's ultimate share.
    fuel : str
        ``"natural gas"``, ``"propane"`` or ``"oil"``.

    Returns
    -------
    float
        Air-free carbon monoxide [ppm].

    Raises
    ------
    OutOfRangeError
        If the reading is negative, or the sample is nearly all air, or holds more carbon
        dioxide than the fuel can make.

    Notes
    -----
    ``CO U / CO2`` with the ultimate carbon dioxide U of the fuel [HOF2021]_, table 15;
    the form is recalled.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 28, table 15.

    Examples
    --------
    >>> round(air_free_by_carbon_dioxide(100.0, 0.0605, "natural gas"), 1)
    200.0
    """
    _require_reading(measured)
    ultimate = ULTIMATE_CARBON_DIOXIDE[fuel]
    _require_carbon_dioxide(carbon_dioxide, ultimate)
    return measured * ultimate / carbon_dioxide


def ultimate_carbon_dioxide(carbon_dioxide: float, oxygen: float) -> float:
    """Return the carbon dioxide that flue gas would hold without excess air.

    Parameters
    ----------
    carbon_dioxide, oxygen : float
        In one dry sample [0-1]; oxygen 0 to 0.20.

    Returns
    -------
    float
        [0-1]; tells the fuel, or a leak in the sampling line.

    Raises
    ------
    OutOfRangeError
        If the sample is nearly all air.

    Notes
    -----
    Equation 12 [HOF2021]_: ``CO2 / (1 - O2 / 20.95)``.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 28, eq. 12.

    Examples
    --------
    >>> round(ultimate_carbon_dioxide(0.084, 0.064), 3)
    0.121
    """
    if not 0.0 <= oxygen <= HIGHEST_OXYGEN:
        raise OutOfRangeError("oxygen", oxygen, 0.0, HIGHEST_OXYGEN, "(share of the sample)")
    return carbon_dioxide / (1.0 - oxygen / HANDBOOK_OXYGEN)


def excess_air(carbon_dioxide: float, ultimate: float, air_ratio: float = 0.9) -> float:
    """Return the air beyond what the fuel needs, from carbon dioxide.

    Parameters
    ----------
    carbon_dioxide : float
        In dry flue gas [0-1], 0.005 to `ultimate`.
    ultimate : float
        Without excess air [0-1].
    air_ratio : float
        Dry flue gas over air without excess air, by volume [-]; 0.9 for natural gas.

    Returns
    -------
    float
        Excess air over the air needed [-].

    Raises
    ------
    OutOfRangeError
        If the carbon dioxide is out of range.

    Notes
    -----
    Equation 10 [HOF2021]_: ``(P/A) (U - CO2) / CO2``.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 28, eq. 10.

    Examples
    --------
    >>> round(excess_air(0.084, 0.121), 3)
    0.396
    """
    _require_carbon_dioxide(carbon_dioxide, ultimate)
    return air_ratio * (ultimate - carbon_dioxide) / carbon_dioxide


def excess_air_by_gas(oxygen: float, carbon_monoxide: float, nitrogen: float) -> float:
    """Return the air beyond what the fuel needs, from a full analysis of the flue gas.

    Parameters
    ----------
    oxygen, carbon_monoxide, nitrogen : float
        In one dry sample [0-1].

    Returns
    -------
    float
        Excess air over the air needed [-].

    Raises
    ------
    OutOfRangeError
        If the oxygen is more than that nitrogen can have brought.

    Notes
    -----
    Equation 11 [HOF2021]_: ``(O2 - CO/2) / (0.264 N2 - (O2 - CO/2))``.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 28, eq. 11.

    Examples
    --------
    >>> round(excess_air_by_gas(0.0, 0.0, 0.879), 3)
    0.0
    """
    spare, whole = oxygen - 0.5 * carbon_monoxide, 0.264 * nitrogen
    if not spare < whole:
        raise OutOfRangeError("oxygen", oxygen, 0.0, whole, "(share of the sample)")
    return spare / (whole - spare)


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


def _require_reading(measured: float) -> None:
    if not 0.0 <= measured < math.inf:
        raise OutOfRangeError("measured", measured, 0.0, math.inf, "ppm")


def _require_carbon_dioxide(carbon_dioxide: float, ultimate: float) -> None:
    if not LOWEST_CARBON_DIOXIDE <= carbon_dioxide <= ultimate:
        raise OutOfRangeError(
            "carbon_dioxide",
            carbon_dioxide,
            LOWEST_CARBON_DIOXIDE,
            ultimate,
            "(share of the sample)",
        )
