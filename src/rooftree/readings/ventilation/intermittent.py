"""Fans that run part of the time: how much of their mean flow counts.

The table of effectiveness of ASHRAE 62.2 is not available to us. The effectiveness here is
*computed* from the mass balance that the table rests on, with the standard's own number of
turnovers, and says so wherever it is shown.

Sources
-------
[UMC] Uniform Mechanical Code, appendix E, 605.1.7: cycles up to three hours count in full,
    cycles up to 24 h with the effectiveness; ``N = 12.8 Q T / A`` in cfm, h and ft².
[SHERMAN2006] M. Sherman, "Efficacy of intermittent ventilation for providing acceptable
    indoor air quality", ASHRAE Transactions 112, 2006 (recalled): the definition, a steady
    source kept at the same mean concentration.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.readings.ventilation.editions import CFM, SQUARE_FOOT

if TYPE_CHECKING:
    from rooftree.readings.ventilation.readings import WholeHouseFan

SHORT_CYCLE = 3.0
"""Time from start to start up to which the mean flow counts in full [h], [UMC] 605.1.7.1."""

LONG_CYCLE = 24.0
"""Longest time from start to start that counts at all [h], [UMC] 605.1.7.2."""

TURNOVERS = 12.8 / CFM * SQUARE_FOOT
"""Turnovers for one m³/s, one hour and one m² [m²·s/(m³·h)], [UMC]: 12.8 in cfm and ft²."""

CYCLE_SOURCE = "Uniform Mechanical Code, appendix E, 605.1.7"


def turnovers(mean_flow: float, cycle: float, floor_area: float) -> float:
    """Return how often the fan renews the air in one cycle, as the standard counts it.

    Parameters
    ----------
    mean_flow : float
        Steady flow that the fan stands for [m³/s], >= 0.
    cycle : float
        From one start to the next [h], > 0.
    floor_area : float
        Of the dwelling [m²], > 0.

    Returns
    -------
    float
        Number [-].

    Raises
    ------
    OutOfRangeError
        If a value is out of its range.

    Notes
    -----
    ``N = 12.8 Q T / A`` in cfm, h and ft² [UMC]_.

    References
    ----------
    .. [UMC] Uniform Mechanical Code, appendix E, 605.1.7.

    Examples
    --------
    >>> round(turnovers(60 * CFM, 4.0, 2000 * SQUARE_FOOT), 3)
    1.536
    """
    if not 0.0 <= mean_flow < math.inf:
        raise OutOfRangeError("mean_flow", mean_flow, 0.0, math.inf, "m³/s")
    for name, value, unit in (("cycle", cycle, "h"), ("floor_area", floor_area, "m²")):
        if not 0.0 < value < math.inf:
            raise OutOfRangeError(name, value, 0.0, math.inf, unit)
    return TURNOVERS * mean_flow * cycle / floor_area


def effectiveness(run_share: float, running_turnovers: float) -> float:
    """Return how well a fan that rests dilutes a steady source.

    Parameters
    ----------
    run_share : float
        Share of each cycle for which it runs [0-1], > 0.
    running_turnovers : float
        Turnovers of one cycle if it ran all the time with the flow it has when it runs [-],
        > 0.

    Returns
    -------
    float
        Steady flow of the same mean concentration over the fan's mean flow [0-1].

    Raises
    ------
    OutOfRangeError
        If a value is out of its range.

    Notes
    -----
    Of a steady source in well-mixed air, with flow for a share f of the cycle and none in
    between, the periodic solution of the mass balance has the mean concentration
    ``(2 - f) / A + (1 - f)² / 2 · coth(A f / 2)`` in cycles, A being the turnovers while
    it runs; the inverse is the steady number of turnovers, and that over ``A f`` the
    effectiveness as [SHERMAN2006]_ defines it. It tends to 1 for short cycles.

    References
    ----------
    .. [SHERMAN2006] M. Sherman, ASHRAE Transactions 112, 2006, recalled.

    Examples
    --------
    >>> round(effectiveness(0.5, 0.001), 3), round(effectiveness(0.5, 8.0), 3)
    (1.0, 0.788)
    """
    if not 0.0 < run_share <= 1.0:
        raise OutOfRangeError("run_share", run_share, 0.0, 1.0, "-")
    if not 0.0 < running_turnovers < math.inf:
        raise OutOfRangeError("running_turnovers", running_turnovers, 0.0, math.inf, "-")
    rest = 1.0 - run_share
    mean = (2.0 - run_share) / running_turnovers + 0.5 * rest * rest / math.tanh(
        0.5 * running_turnovers * run_share
    )
    return 1.0 / (mean * running_turnovers * run_share)


def average_flow(fan: WholeHouseFan, floor_area: float | None = None) -> float:
    """Return what a whole-house fan gives on average, as far as it counts.

    Parameters
    ----------
    fan : WholeHouseFan
        As measured.
    floor_area : float or None
        Of the dwelling [m²]; without it cycles beyond three hours are not counted.

    Returns
    -------
    float
        Flow [m³/s]; 0 for a fan that starts less than once a day.

    Notes
    -----
    A fan that starts at least every three hours counts with its mean flow; for longer
    cycles the mean flow times the computed :func:`effectiveness` [UMC]_.

    References
    ----------
    .. [UMC] Uniform Mechanical Code, appendix E, 605.1.7.
    """
    mean = fan.flow * fan.run_share
    if fan.cycle <= SHORT_CYCLE or mean == 0.0:
        return mean
    if fan.cycle > LONG_CYCLE or floor_area is None:
        return 0.0
    return mean * effectiveness(fan.run_share, turnovers(fan.flow, fan.cycle, floor_area))


def running_flow(mean_flow: float, run_share: float, cycle: float, floor_area: float) -> float:
    """Return the flow that a fan needs while it runs to stand for a steady flow.

    Parameters
    ----------
    mean_flow : float
        Steady flow that is asked for [m³/s], > 0.
    run_share : float
        Share of each cycle for which it runs [0-1], > 0.
    cycle : float
        From one start to the next [h], up to 24.
    floor_area : float
        Of the dwelling [m²], > 0.

    Returns
    -------
    float
        Flow [m³/s]; infinite where no flow makes up for the rest.

    Raises
    ------
    OutOfRangeError
        If the cycle is longer than a day, or a value is not positive.

    Notes
    -----
    ``Q / (effectiveness · f)`` [UMC]_, solved by halving since the effectiveness depends
    on the flow.

    References
    ----------
    .. [UMC] Uniform Mechanical Code, appendix E, 605.1.7.

    Examples
    --------
    >>> round(running_flow(60 * CFM, 0.5, 2.0, 2000 * SQUARE_FOOT) / CFM)
    120
    """
    if not 0.0 < cycle <= LONG_CYCLE:
        raise OutOfRangeError("cycle", cycle, 0.0, LONG_CYCLE, "h")
    if not 0.0 < run_share <= 1.0:
        raise OutOfRangeError("run_share", run_share, 0.0, 1.0, "-")
    if cycle <= SHORT_CYCLE or run_share == 1.0:
        return mean_flow / run_share
    rest = 1.0 - run_share
    wanted = turnovers(mean_flow, cycle, floor_area)
    if 0.5 * rest * rest * wanted >= 1.0:
        return math.inf
    low, high = wanted, 2.0 * wanted
    while _steady(run_share, high) < wanted:
        low, high = high, 2.0 * high
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if _steady(run_share, middle) < wanted else (low, middle)
    return high * floor_area / (TURNOVERS * cycle)


def _steady(run_share: float, running: float) -> float:
    return effectiveness(run_share, running) * run_share * running
