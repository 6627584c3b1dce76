"""Leakage to outdoors where house and ducts were not quite at one pressure.

The duct fan then also feeds, or is fed by, the leaks between ducts and house. The power
law is steep there: a pascal of difference moves 14 % of what 25 Pa would.

Sources
-------
[E1554] ASTM E1554, method B: house and ducts at one pressure (recalled).
[BALANCE] Mass balance of the ducts, power laws of one exponent.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.draws import draw_inputs, propagate_draws
from rooftree.readings.duct_leakage.flow import REFERENCE_PRESSURE

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.physics.propagation import Propagated
    from rooftree.readings.duct_leakage.readings import DuctLeakageTest
    from rooftree.readings.duct_leakage.stations import DuctLine

INSIDE_OVER_OUTDOORS, INSIDE_SPREAD = 1.0, 0.7
"""Leakage to the house over that to outdoors where no test of the total was made [-], and the
standard deviation of its logarithm; ours: as much again, give or take a factor of two."""

_LEAST = 0.02
"""Smallest share of the flow that a correction may leave [-]; below it nothing is known."""


@dataclass(frozen=True, slots=True)
class Equalized:
    """Leakage to outdoors, corrected.

    Attributes
    ----------
    flow_25 : Propagated
        [m³/s].
    correction : float
        `flow_25` over what the fan alone gives [-].
    draws : ndarray
        Draws of `flow_25` [m³/s].
    others : ndarray
        As many draws of what it may be held against, of mean 0 and spread 1 [-].
    """

    flow_25: Propagated
    correction: float
    draws: NDArray[np.float64]
    others: NDArray[np.float64]

    def over(self, divisor: float, relative: float) -> Propagated:
        """Return the leakage over something else, with a relative uncertainty of its own.

        Parameters
        ----------
        divisor : float
            What it is held against [any unit], > 0.
        relative : float
            Standard uncertainty of `divisor` [0-1], relative.
        """
        shares = self.draws / divisor * np.exp(relative * self.others)
        return propagate_draws(self.flow_25.value / divisor, shares)


def equalize(
    test: DuctLeakageTest, line: DuctLine, pressure: float, total_flow_25: float | None
) -> Equalized:
    """Take the leaks between ducts and house off the flow of the duct fan.

    Parameters
    ----------
    test : DuctLeakageTest
        To outdoors.
    line : DuctLine
        Its fan flow at 25 Pa.
    pressure : float
        Of the ducts with reference to outdoors while it was read [Pa], not 0.
    total_flow_25 : float or None
        Total leakage of the same ducts at 25 Pa [m³/s].

    Returns
    -------
    Equalized

    Notes
    -----
    The fan moves ``Q = Q_o a + Q_i b`` with ``a = (|P_d - P_s| / 25)^n`` for the space at
    ``P_s`` that holds the ducts and ``b = (d / 25)^n``, sign kept, for ducts at ``d`` from the
    house [BALANCE]_. ``Q_i`` is the total less ``Q_o``, or where no total is known
    a multiple of ``Q_o`` that is assumed about one. A difference that was not read is taken
    as 0 with the doubt of the gauge. Limits from 10,000 draws.

    References
    ----------
    .. [BALANCE] Mass balance of the ducts.
    """
    sign = math.copysign(1.0, pressure)
    across = abs(pressure)
    difference = sign * (test.duct_house_pressure or 0.0)
    beyond = sign * (test.space_pressure or 0.0)
    u = test.pressure_uncertainty
    share = math.log(INSIDE_OVER_OUTDOORS)
    values = (0.0, difference, beyond, share, 0.0, test.exponent, 0.0)
    doubts = (
        line.relative_uncertainty,
        u,
        0.0 if test.space_pressure is None else u,
        INSIDE_SPREAD,
        test.flow_uncertainty,
        test.exponent_uncertainty,
        1.0,
    )
    fan = line.flow_25 * math.pow(across / REFERENCE_PRESSURE, line.exponent)

    def outdoors(rows: NDArray[np.float64]) -> NDArray[np.float64]:
        flow, apart, space, inside, total, n, _ = rows
        a = np.power(np.maximum(across - space, 0.1 * across) / REFERENCE_PRESSURE, n)
        b = np.sign(apart) * np.power(np.abs(apart) / REFERENCE_PRESSURE, n)
        moved = fan * np.exp(flow)
        if total_flow_25 is None:
            found = moved / np.maximum(a + b * np.exp(inside), _LEAST)
        else:
            whole = total_flow_25 * np.exp(total)
            found = (moved - whole * b) / np.maximum(a - b, _LEAST)
        return np.asarray(np.maximum(found, 0.0))

    value = float(outdoors(np.array(values)[:, None])[0])
    rows = draw_inputs(values, doubts)
    draws = outdoors(rows)
    return Equalized(propagate_draws(value, draws), value / line.flow_25, draws, rows[-1])
