"""Flow from speeds at several places of one duct.

Sources
-------
[PITOT] Speed from velocity pressure, ``(2 p / rho)^½``.
[HOF2021] ASHRAE Handbook - Fundamentals: rules for the places of a traverse (recalled, after
    ISO 3966 and ASHRAE Standard 111).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.readings.air_handler.readings import DuctShape, TraverseRule

if TYPE_CHECKING:
    from collections.abc import Sequence

_LOG_LINEAR = {
    6: (0.032, 0.135, 0.321),
    8: (0.021, 0.117, 0.184, 0.345),
    10: (0.019, 0.077, 0.153, 0.217, 0.361),
}
"""Places along a diameter up to its middle [-], recalled."""

_LOG_TCHEBYCHEFF = {
    5: (0.074, 0.288, 0.500),
    6: (0.061, 0.235, 0.437),
    7: (0.053, 0.203, 0.366, 0.500),
}
"""Places across a side up to its middle [-], recalled."""


def traverse_places(shape: DuctShape, rule: TraverseRule, count: int) -> tuple[float, ...]:
    """Return where the points lie along one diameter or one side.

    Parameters
    ----------
    shape : DuctShape
        Of the duct.
    rule : TraverseRule
        By which the points are laid.
    count : int
        Points along the diameter or the side.

    Returns
    -------
    tuple of float
        Distance from one wall over the diameter or the side [0-1].

    Raises
    ------
    OutOfRangeError
        If the rule does not say where so many points lie, or not for that shape.

    Notes
    -----
    Equal areas: middle of each strip of a side; in a round duct the two places of each
    ring that halve its area. The two other rules also take the slower air at the walls
    into account; their places are recalled [HOF2021]_.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals.

    Examples
    --------
    >>> traverse_places(DuctShape.RECTANGULAR, TraverseRule.EQUAL_AREA, 4)
    (0.125, 0.375, 0.625, 0.875)
    """
    is_round = shape is DuctShape.ROUND
    if rule is TraverseRule.EQUAL_AREA:
        if count < 1 or (is_round and count % 2):
            raise OutOfRangeError("count", count, 2.0 if is_round else 1.0, math.inf, "points")
        if not is_round:
            return tuple((i + 0.5) / count for i in range(count))
        half = [0.5 - 0.5 * math.sqrt((2 * ring - 1) / count) for ring in range(count // 2, 0, -1)]
    else:
        table = _LOG_LINEAR if rule is TraverseRule.LOG_LINEAR else _LOG_TCHEBYCHEFF
        if is_round is not (rule is TraverseRule.LOG_LINEAR) or count not in table:
            raise OutOfRangeError("count", count, min(table), max(table), "points")
        half = list(table[count])
    other = [1.0 - place for place in reversed(half) if place != 0.5]
    return (*half, *other)


def duct_area(
    shape: DuctShape, diameter: float | None, width: float | None, height: float | None
) -> float | None:
    """Return the clear area of a duct.

    Parameters
    ----------
    shape : DuctShape
        Of the duct.
    diameter, width, height : float or None
        Inside [m].

    Returns
    -------
    float or None
        Area [m²]; None where a measure that the shape needs is missing or not above zero.
    """
    if shape is DuctShape.ROUND:
        return 0.25 * math.pi * diameter**2 if diameter and diameter > 0.0 else None
    if not (width and height and width > 0.0 and height > 0.0):
        return None
    return width * height


def mean_speed(speeds: Sequence[float]) -> float:
    """Return the mean speed of a traverse.

    Parameters
    ----------
    speeds : sequence of float
        At places that all weigh the same [m/s].

    Returns
    -------
    float
        [m/s].
    """
    return math.fsum(speeds) / len(speeds)


def speed_of(velocity_pressure: float, density: float) -> float:
    """Return the speed of air from its velocity pressure.

    Parameters
    ----------
    velocity_pressure : float
        Total less static pressure [Pa], >= 0.
    density : float
        Of the air there [kg/m³].

    Returns
    -------
    float
        Speed [m/s].

    Raises
    ------
    OutOfRangeError
        If the velocity pressure is below zero.

    Notes
    -----
    ``(2 p / rho)^½`` [PITOT]_.

    References
    ----------
    .. [PITOT] Bernoulli's equation along a line of flow.

    Examples
    --------
    >>> round(speed_of(24.9, 1.2041), 2)
    6.43
    """
    if not velocity_pressure >= 0.0:
        raise OutOfRangeError("velocity_pressure", velocity_pressure, 0.0, math.inf, "Pa")
    return math.sqrt(2.0 * velocity_pressure / density)
