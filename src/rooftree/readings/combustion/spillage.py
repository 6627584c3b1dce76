"""When flue gas began to come out of the draft hood, and when it stopped."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.propagation import Propagated

if TYPE_CHECKING:
    from rooftree.readings.combustion.readings import CombustionTest

REACTION = 2.0
"""Standard uncertainty of a moment caught by eye and thumb [s]; ours."""


@dataclass(frozen=True, slots=True)
class Spillage:
    """What was seen at the draft hood.

    Attributes
    ----------
    start : float or None
        First seen after fire-up [s]; None where it was never seen, or where only its end
        was timed.
    end : Propagated or None
        Until no more was seen [s]; None where it never stopped within the test.
    returned : float or None
        When it came back after it had stopped [s].
    in_order : bool
        Whether the looks were logged in the order of their times.
    """

    start: float | None
    end: Propagated | None
    returned: float | None
    in_order: bool


def spillage_of(test: CombustionTest) -> Spillage:
    """Return when spillage began and stopped.

    Parameters
    ----------
    test : CombustionTest
        Readings; the looks count where there are any, else the one time.

    Returns
    -------
    Spillage

    Notes
    -----
    Between the last look that saw spillage and the first one without, nothing is known:
    the end is their middle, any moment between as likely as another (JCGM 100:2008,
    4.3.7), and both times were caught by hand.

    Examples
    --------
    >>> from rooftree.readings.combustion.readings import CombustionTest, SpillageCheck
    >>> heater = CombustionTest(
    ...     "water heater", "natural draft", 0.0, 20.0, 0.09, -0.5, -1.5, "dryer on",
    ...     None, -2.5, False, 283.15, spillage_checks=(
    ...         SpillageCheck(5.0, True), SpillageCheck(30.0, True), SpillageCheck(40.0, False)),
    ... )
    >>> spillage_of(heater).end.value
    35.0
    """
    checks = sorted(test.spillage_checks, key=lambda check: check.seconds)
    if not checks:
        return Spillage(None, _timed(test.spillage_seconds), None, in_order=True)
    in_order = tuple(checks) == test.spillage_checks
    seen = [check.seconds for check in checks if check.spills]
    if not seen:
        return Spillage(None, _between(0.0, checks[0].seconds), None, in_order)
    clear = [check.seconds for check in checks if not check.spills and check.seconds > seen[0]]
    returned = next((time for time in seen if clear and time > clear[0]), None)
    after = [time for time in clear if time > seen[-1]]
    end = _between(seen[-1], after[0]) if after else None
    return Spillage(seen[0], end, returned, in_order)


def _timed(seconds: float | None) -> Propagated | None:
    if seconds is None:
        return None
    spread = 2.0 * REACTION
    return Propagated(seconds, REACTION, max(seconds - spread, 0.0), seconds + spread)


def _between(last: float, first: float) -> Propagated:
    middle, half = 0.5 * (last + first), 0.5 * (first - last)
    standard = math.hypot(half / math.sqrt(3.0), REACTION / math.sqrt(2.0))
    return Propagated(middle, standard, last, first)
