"""Flow at the held pressure, and what it changed by, with what makes both unsure.

Sources
-------
[POWER] Power law of leakage, ``Q = C P^n``.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.physics.propagation import Propagated, propagate, propagate_positive

if TYPE_CHECKING:
    from rooftree.readings.air_sealing.readings import AirSealingLog, SealingRow

LEAST_PRESSURE = 5.0
"""Induced pressure below which a row is not used [Pa]; ours."""


def induced_pressure(log: AirSealingLog, row: SealingRow) -> float:
    """Return the pressure that the fan made.

    Parameters
    ----------
    log : AirSealingLog
        To which the row belongs.
    row : SealingRow
        Which.

    Returns
    -------
    float
        Reading less baseline, signed [Pa].
    """
    return row.house_pressure - log.baseline_pressure


def is_usable(log: AirSealingLog, row: SealingRow) -> bool:
    """Tell whether a row has a flow and a pressure that can be carried to the held one.

    Parameters
    ----------
    log : AirSealingLog
        To which the row belongs.
    row : SealingRow
        Which.

    Returns
    -------
    bool
    """
    pressure = abs(induced_pressure(log, row))
    return 0.0 < row.fan_flow < math.inf and LEAST_PRESSURE <= pressure <= 500.0


def flow_at(flow: float, pressure: float, wanted: float, exponent: float) -> float:
    """Return a leakage flow carried to another pressure.

    Parameters
    ----------
    flow : float
        As read [m³/s].
    pressure : float
        At which it was read [Pa], > 0.
    wanted : float
        At which it is wanted [Pa], > 0.
    exponent : float
        Of the leaks [-], 0.5 to 1.

    Returns
    -------
    float
        Flow [m³/s].

    Raises
    ------
    OutOfRangeError
        If a pressure is not above zero, or the exponent outside 0.5 to 1.

    Notes
    -----
    ``Q (P_wanted / P)^n`` [POWER]_. The density of the air is left out: it stays the same
    from row to row.

    References
    ----------
    .. [POWER] Power law of leakage.

    Examples
    --------
    >>> round(flow_at(1.0, 45.0, 50.0, 0.65), 3)
    1.071
    """
    for name, value in (("pressure", pressure), ("wanted pressure", wanted)):
        if not value > 0.0:
            raise OutOfRangeError(name, value, 0.0, math.inf, "Pa")
    if not 0.5 <= exponent <= 1.0:
        raise OutOfRangeError("exponent", exponent, 0.5, 1.0, "-")
    return flow * _carried(pressure, wanted, exponent)


def _carried(pressure: float, wanted: float, exponent: float) -> float:
    return math.pow(wanted / pressure, exponent)


def row_flow(log: AirSealingLog, row: SealingRow, wanted: float) -> Propagated:
    """Return the flow of a row at a pressure.

    Parameters
    ----------
    log : AirSealingLog
        To which the row belongs.
    row : SealingRow
        A usable row.
    wanted : float
        At which the flow is wanted [Pa].

    Returns
    -------
    Propagated
        Flow [m³/s]; fan, reading, pressure and exponent in its range.
    """

    def flow(read: float, pressure: float, exponent: float, fan: float) -> float:
        return fan * read * _carried(pressure, wanted, exponent)

    return propagate_positive(
        flow,
        (row.fan_flow, abs(induced_pressure(log, row)), log.exponent, 1.0),
        (
            row.fan_flow * log.repeatability,
            math.hypot(log.pressure_uncertainty, log.pressure_repeatability),
            log.exponent_uncertainty,
            log.flow_uncertainty,
        ),
    )


def reduction(
    log: AirSealingLog, before: SealingRow, after: SealingRow, wanted: float
) -> Propagated:
    """Return by how much the flow fell from one row to another.

    Parameters
    ----------
    log : AirSealingLog
        To which the rows belong.
    before, after : SealingRow
        Usable rows.
    wanted : float
        Pressure at which the reduction is wanted [Pa].

    Returns
    -------
    Propagated
        Earlier less later flow [m³/s]. Fan, gauge and exponent are wrong the same way in
        both rows; each flow and pressure scatters by itself.
    """

    def less(
        q1: float, p1: float, q2: float, p2: float, exponent: float, fan: float, gauge: float
    ) -> float:
        one = _carried(p1 + gauge, wanted, exponent)
        return fan * (q1 * one - q2 * _carried(p2 + gauge, wanted, exponent))

    p1, p2 = (abs(induced_pressure(log, row)) for row in (before, after))
    return propagate(
        less,
        (before.fan_flow, p1, after.fan_flow, p2, log.exponent, 1.0, 0.0),
        (
            before.fan_flow * log.repeatability,
            log.pressure_repeatability,
            after.fan_flow * log.repeatability,
            log.pressure_repeatability,
            log.exponent_uncertainty,
            log.flow_uncertainty,
            log.pressure_uncertainty,
        ),
    )


def relative_noise(log: AirSealingLog, row: SealingRow) -> float:
    """Return how far one row's flow scatters by itself.

    Parameters
    ----------
    log : AirSealingLog
        To which the row belongs.
    row : SealingRow
        A usable row.

    Returns
    -------
    float
        Relative standard uncertainty, without what all rows have in common [0-1].
    """
    pressure = abs(induced_pressure(log, row))
    return math.hypot(log.repeatability, log.exponent * log.pressure_repeatability / pressure)
