"""Laws of a tracer in one well-mixed zone.

Sources
-------
[E741] ASTM E741, "Standard test method for determining air change in a single zone by means
    of a tracer gas dilution": concentration decay (scope read in E741-00; equations recalled).
[BATTERMAN2017] S. Batterman, "Review and extension of CO2-based methods to determine
    ventilation rates with application to school classrooms", IJERPH 14(2):145, 2017,
    section 2.1.
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError

HOUR = 3600.0
"""One hour [s]."""

PER_MILLION = 1e-6
"""One part per million [-]."""


def two_point_air_changes(first: float, last: float, background: float, duration: float) -> float:
    """Return the air change rate between two readings of a decay.

    Parameters
    ----------
    first, last : float
        Concentrations at the start and the end, above the background [ppm].
    background : float
        Of the air that comes in [ppm].
    duration : float
        Between the readings [s], > 0.

    Returns
    -------
    float
        Air change rate [1/h].

    Raises
    ------
    OutOfRangeError
        If a reading is not above the background, or no time passed.

    Notes
    -----
    ``ln((C_0 - C_out) / (C_t - C_out)) / t`` [E741]_, the mean over the time between.

    References
    ----------
    .. [E741] ASTM E741, recalled.

    Examples
    --------
    >>> round(two_point_air_changes(1800.0, 900.0, 420.0, 7200.0), 4)
    0.528
    """
    for name, value in (("first", first), ("last", last)):
        if not background < value < math.inf:
            raise OutOfRangeError(name, value, background, math.inf, "ppm")
    if not 0.0 < duration < math.inf:
        raise OutOfRangeError("duration", duration, 0.0, math.inf, "s")
    return math.log((first - background) / (last - background)) / duration * HOUR


def steady_flow(
    source: float, concentration: float, background: float, storage: float = 0.0
) -> float:
    """Return the air flow that carries a source away.

    Parameters
    ----------
    source : float
        Tracer that is given off [m³/s], > 0.
    concentration : float
        Indoors, above the background [ppm].
    background : float
        Of the air that comes in [ppm].
    storage : float
        Tracer that stays in the air, volume times rise of concentration [m³/s].

    Returns
    -------
    float
        Air flow [m³/s].

    Raises
    ------
    OutOfRangeError
        If the concentration is not above the background.

    Notes
    -----
    ``V dC/dt = Q (C_out - C) + E`` [BATTERMAN2017]_, solved for Q; in the steady state
    ``E / (C - C_out)``.

    References
    ----------
    .. [BATTERMAN2017] S. Batterman, IJERPH 14(2):145, 2017, section 2.1.

    Examples
    --------
    >>> round(1000.0 * steady_flow(0.31e-3 / 60.0, 1109.0, 420.0), 2)
    7.5
    """
    if not background < concentration < math.inf:
        raise OutOfRangeError("concentration", concentration, background, math.inf, "ppm")
    return (source - storage) / ((concentration - background) * PER_MILLION)
