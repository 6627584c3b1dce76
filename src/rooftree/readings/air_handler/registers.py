"""Flow of registers and grilles, and of the fan behind them.

Sources
-------
[HOF2021] ASHRAE Handbook - Fundamentals, 2021, ch. 17: duct leakage of 5 % of the fan flow on
    each side of a well-built system, 11 % of a typical one.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.physics.propagation import Propagated, propagate_positive
from rooftree.readings.air_handler.readings import RegisterSide
from rooftree.readings.air_handler.told import told

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.finding import Finding
    from rooftree.readings.air_handler.air import PlenumAir
    from rooftree.readings.air_handler.readings import AirHandlerTest, RegisterFlow
    from rooftree.readings.air_handler.results import MethodFlow

USUAL_LEAK, USUAL_LEAK_UNCERTAINTY = 0.08, 0.04
"""Share of the fan flow that ducts lose on one side where no test tells [0-1]: between the
well-built and the typical system [HOF2021]_; the uncertainty is ours."""

LEAK_UNCERTAINTY = 0.25
"""Standard uncertainty of a duct test's leakage in operation [0-1], relative; ours."""


def side_sum(test: AirHandlerTest, side: RegisterSide) -> Propagated | None:
    """Return the sum of the register flows of one side, as read.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.
    side : RegisterSide
        Supply or return.

    Returns
    -------
    Propagated or None
        [m³/s]; None where no register of that side was read, or one is below zero.
    """
    rows = _side(test.registers, side)
    if not rows or any(row.flow < 0.0 for row in rows) or not any(row.flow > 0.0 for row in rows):
        return None
    flows = [row.flow for row in rows]
    return propagate_positive(
        lambda shared, *each: shared * math.fsum(each),
        [1.0, *flows],
        [test.flow_uncertainty, *(test.flow_repeatability * flow for flow in flows)],
    )


def _side(rows: Sequence[RegisterFlow], side: RegisterSide) -> list[RegisterFlow]:
    return [row for row in rows if row.side is side]


def flow_by_registers(
    test: AirHandlerTest,
    air: PlenumAir,
    supply_leakage: float | None,
    return_leakage: float | None,
) -> MethodFlow | Finding | None:
    """Return the flow at the fan by the registers and what the ducts leak on the way.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.
    air : PlenumAir
        In the plenums.
    supply_leakage, return_leakage : float or None
        In operation [m³/s]; a usual share is taken where it is None.

    Returns
    -------
    MethodFlow, Finding or None
        None where no side was read.

    Notes
    -----
    Both sides of one instrument share its error, so their mean is no surer than one of
    them: only the doubts of leakage and of repeating average out.
    """
    sides = [
        _at_the_fan(test, total, air.density(side) / air.return_density, leakage)
        for side, leakage in (
            (RegisterSide.SUPPLY, supply_leakage),
            (RegisterSide.RETURN, return_leakage),
        )
        if (total := side_sum(test, side)) is not None
    ]
    if not sides:
        return None
    mean, shared = (math.fsum(side[i] for side in sides) / len(sides) for i in (0, 1))
    own = math.hypot(*(side[2] for side in sides)) / len(sides)
    return told(
        "registers",
        lambda value, by_hood, by_rest: value + by_hood + by_rest,
        [mean, 0.0, 0.0],
        [0.0, shared, own],
    )


def _at_the_fan(
    test: AirHandlerTest, total: Propagated, swell: float, leakage: float | None
) -> tuple[float, float, float]:
    """Return flow at the fan, its doubt by the hood's error, and by all else [m³/s]."""
    known = swell * total.value
    hood = test.flow_uncertainty * known
    repeat = math.sqrt(max((swell * total.standard) ** 2 - hood**2, 0.0))
    if leakage is not None:
        return known + leakage, hood, math.hypot(repeat, LEAK_UNCERTAINTY * leakage)
    kept = 1.0 - USUAL_LEAK
    lost = known / kept * USUAL_LEAK_UNCERTAINTY / kept
    return known / kept, hood / kept, math.hypot(repeat / kept, lost)
