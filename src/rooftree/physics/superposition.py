"""How leakage driven by weather and air moved by fans add up.

None of these laws is exact; they lie within a sixth of each other, and the house's own
network (the engine) replaces them where it is known.

Sources
-------
[HOF2021-16] ASHRAE Handbook - Fundamentals, 2021, chapter 16, eq. 47 and 51.
[HOF2021-17] ASHRAE Handbook - Fundamentals, 2021, chapter 17, eq. 12 to 14, after
    Palmiter and Bond 1991 and Sherman 1992.
[HUREL2016] N. Hurel, M. Sherman, I. Walker, "Sub-additivity in combining infiltration
    with mechanical ventilation for single zone buildings", 2016 (recalled).
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError


def _require_flows(**flows: float) -> None:
    for name, flow in flows.items():
        if not 0.0 <= flow < math.inf:
            raise OutOfRangeError(name, flow, 0.0, math.inf, "m³/s")


def quadrature_flow(infiltration: float, unbalanced: float, balanced: float = 0.0) -> float:
    """Return the outdoor air of a house whose fans and leaks add in quadrature.

    Parameters
    ----------
    infiltration : float
        Flow that weather alone would drive [m³/s], >= 0.
    unbalanced : float
        Exhaust less supply of the fans, or the reverse [m³/s], >= 0.
    balanced : float
        The smaller one of supply and exhaust [m³/s], >= 0.

    Returns
    -------
    float
        Outdoor air [m³/s].

    Raises
    ------
    OutOfRangeError
        If a flow is negative.

    Notes
    -----
    Equation 51 of chapter 16 [HOF2021-16]_: ``balanced + (unbalanced² + infiltration²)^½``.

    References
    ----------
    .. [HOF2021-16] ASHRAE Handbook - Fundamentals, 2021, chapter 16.

    Examples
    --------
    >>> round(quadrature_flow(0.030, 0.040), 3)
    0.05
    """
    _require_flows(infiltration=infiltration, unbalanced=unbalanced, balanced=balanced)
    return balanced + math.hypot(unbalanced, infiltration)


def half_fan_flow(infiltration: float, unbalanced: float, balanced: float = 0.0) -> float:
    """Return the outdoor air of a house by the half-fan rule.

    Parameters
    ----------
    infiltration : float
        Flow that weather alone would drive [m³/s], >= 0.
    unbalanced : float
        Exhaust less supply of the fans, or the reverse [m³/s], >= 0.
    balanced : float
        The smaller one of supply and exhaust [m³/s], >= 0.

    Returns
    -------
    float
        Outdoor air [m³/s].

    Raises
    ------
    OutOfRangeError
        If a flow is negative.

    Notes
    -----
    Equations 12 to 14 of chapter 17 [HOF2021-17]_:
    ``balanced + max(unbalanced, infiltration + unbalanced / 2)``.

    References
    ----------
    .. [HOF2021-17] ASHRAE Handbook - Fundamentals, 2021, chapter 17.

    Examples
    --------
    >>> half_fan_flow(50.0, 40.0)
    70.0
    """
    _require_flows(infiltration=infiltration, unbalanced=unbalanced, balanced=balanced)
    return balanced + max(unbalanced, infiltration + 0.5 * unbalanced)


def sub_additive_flow(infiltration: float, unbalanced: float) -> float:
    """Return the outdoor air of a house by the sub-additivity of 62.2.

    Parameters
    ----------
    infiltration : float
        Flow that weather alone would drive [m³/s], >= 0.
    unbalanced : float
        Exhaust less supply of the fans, or the reverse [m³/s], >= 0.

    Returns
    -------
    float
        Outdoor air [m³/s].

    Raises
    ------
    OutOfRangeError
        If a flow is negative.

    Notes
    -----
    ``unbalanced + infiltration² / (infiltration + unbalanced)`` [HUREL2016]_, recalled:
    the share of infiltration that still counts is ``infiltration / total``.

    References
    ----------
    .. [HUREL2016] N. Hurel, M. Sherman, I. Walker, 2016.

    Examples
    --------
    >>> sub_additive_flow(40.0, 60.0)
    76.0
    """
    _require_flows(infiltration=infiltration, unbalanced=unbalanced)
    both = infiltration + unbalanced
    return unbalanced + (infiltration * infiltration / both if both else 0.0)
