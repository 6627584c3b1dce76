"""The maker's table of a fan as a curve: it falls wherever the table falls, and ends with it.

Sources
-------
[FRITSCH1984] F. N. Fritsch, J. Butland, "A method for constructing local monotone piecewise
    cubic interpolants", SIAM J. Sci. Stat. Comput. 5 (1984) 300, eq. 2.2 (recalled).
[FANLAWS] At one speed a fan moves the same volume in any air, against a pressure that goes
    with its density (fan laws; ANSI/AMCA 210, recalled).
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from rooftree.errors import NotEnoughDataError, OutOfRangeError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.readings.air_handler.readings import FanCurvePoint


def interpolate_fan_curve(points: Sequence[FanCurvePoint], static: float) -> float:
    """Return the flow at a static pressure inside the table.

    Parameters
    ----------
    points : sequence of FanCurvePoint
        The maker's table for one speed, in any order.
    static : float
        External static pressure, referred to standard air [Pa].

    Returns
    -------
    float
        Flow [m³/s].

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two distinct static pressures, or two flows at one.
    OutOfRangeError
        If the static pressure is outside the table.

    Notes
    -----
    Cubic pieces whose slopes at the points are weighted harmonic means of the chords on
    both sides, and zero where those differ in sign [FRITSCH1984]_: between two points the
    curve never leaves their flows.

    References
    ----------
    .. [FRITSCH1984] Fritsch and Butland, 1984.

    Examples
    --------
    >>> from rooftree.readings.air_handler.readings import FanCurvePoint
    >>> table = [FanCurvePoint(50.0, 0.60), FanCurvePoint(100.0, 0.55), FanCurvePoint(150.0, 0.45)]
    >>> round(interpolate_fan_curve(table, 125.0), 4)
    0.5073
    """
    static_at, flow_at = _sorted(points)
    if not static_at[0] <= static <= static_at[-1]:
        raise OutOfRangeError("static", static, static_at[0], static_at[-1], "Pa")
    slopes = _slopes(static_at, flow_at)
    i = max(i for i in range(len(static_at) - 1) if static_at[i] <= static)
    width = static_at[i + 1] - static_at[i]
    t = (static - static_at[i]) / width
    return (
        (1.0 + 2.0 * t) * (1.0 - t) ** 2 * flow_at[i]
        + t * (1.0 - t) ** 2 * width * slopes[i]
        + t**2 * (3.0 - 2.0 * t) * flow_at[i + 1]
        + t**2 * (t - 1.0) * width * slopes[i + 1]
    )


def follow_fan_curve(points: Sequence[FanCurvePoint], static: float) -> float:
    """Return the flow at a static pressure, past an end of the table along its last slope.

    Parameters
    ----------
    points : sequence of FanCurvePoint
        The maker's table for one speed, in any order.
    static : float
        External static pressure, referred to standard air [Pa].

    Returns
    -------
    float
        Flow [m³/s]. Past the end only for the doubt of a reading that lies inside.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two distinct static pressures, or two flows at one.
    """
    static_at, flow_at = _sorted(points)
    slopes = _slopes(static_at, flow_at)
    if static < static_at[0]:
        return flow_at[0] + slopes[0] * (static - static_at[0])
    if static > static_at[-1]:
        return flow_at[-1] + slopes[-1] * (static - static_at[-1])
    return interpolate_fan_curve(points, static)


def falls_throughout(points: Sequence[FanCurvePoint]) -> bool:
    """Return whether no flow of the table is above that at a lower static pressure.

    Parameters
    ----------
    points : sequence of FanCurvePoint
        The maker's table for one speed, in any order.

    Returns
    -------
    bool
    """
    rows = sorted((point.static, point.flow) for point in points)
    return all(later <= before for (_, before), (_, later) in pairwise(rows))


def _sorted(points: Sequence[FanCurvePoint]) -> tuple[list[float], list[float]]:
    rows = sorted({(point.static, point.flow) for point in points})
    static = [row[0] for row in rows]
    if len(rows) < 2 or len(set(static)) < len(rows):
        message = "a fan curve needs two or more lines, one flow for each static pressure"
        raise NotEnoughDataError(message)
    return static, [row[1] for row in rows]


def _slopes(x: list[float], y: list[float]) -> list[float]:
    width = [after - before for before, after in pairwise(x)]
    chord = [(y[i + 1] - y[i]) / width[i] for i in range(len(width))]
    if len(chord) == 1:
        return [chord[0], chord[0]]
    inner = [_between(width[i - 1], width[i], chord[i - 1], chord[i]) for i in range(1, len(chord))]
    first = _end(width[0], width[1], chord[0], chord[1])
    last = _end(width[-1], width[-2], chord[-1], chord[-2])
    return [first, *inner, last]


def _between(left: float, right: float, before: float, after: float) -> float:
    if before * after <= 0.0:
        return 0.0
    heavy, light = 2.0 * right + left, right + 2.0 * left
    return (heavy + light) / (heavy / before + light / after)


def _end(width: float, beyond: float, chord: float, next_chord: float) -> float:
    """Return the slope of a parabola through three points, held to the shape of the data."""
    slope = ((2.0 * width + beyond) * chord - width * next_chord) / (width + beyond)
    if slope * chord <= 0.0:
        return 0.0
    if chord * next_chord < 0.0 and abs(slope) > 3.0 * abs(chord):
        return 3.0 * chord
    return slope
