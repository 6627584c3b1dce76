"""Total external static pressure, and the drops that must make it up."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.physics.propagation import Propagated, propagate

if TYPE_CHECKING:
    from rooftree.readings.air_handler.readings import AirHandlerTest


def total_static(test: AirHandlerTest) -> Propagated | None:
    """Return the total external static pressure.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.

    Returns
    -------
    Propagated or None
        [Pa]; None where it was not read, or is not above zero.

    Notes
    -----
    Leaving less entering static; the mean of that and the direct reading where both are
    given.
    """
    swing = (test.static_swing or 0.0) / math.sqrt(12.0)
    doubt = math.hypot(test.static_uncertainty, swing)
    parts = []
    if test.leaving_static is not None and test.entering_static is not None:
        both = propagate(
            lambda out, back: out - back,
            [test.leaving_static, test.entering_static],
            [doubt, doubt],
        )
        parts.append(both)
    if test.total_static is not None:
        parts.append(propagate(lambda p: p, [test.total_static], [doubt * math.sqrt(2.0)]))
    if not parts or min(part.value for part in parts) <= 0.0:
        return None
    if len(parts) == 1:
        return parts[0]
    return propagate(
        lambda one, other: 0.5 * (one + other),
        [part.value for part in parts],
        [part.standard for part in parts],
    )


def sum_of_drops(test: AirHandlerTest) -> Propagated | None:
    """Return what the components outside the cabinet take together.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.

    Returns
    -------
    Propagated or None
        [Pa]; None where none was read.
    """
    drops = [row.drop for row in test.drops if not row.inside]
    if not drops:
        return None
    return propagate(lambda *each: math.fsum(each), drops, [test.static_uncertainty] * len(drops))
