"""Litres a second taken for cubic feet a minute, or the reverse, and how sure that is.

The two differ by a factor of 2.12. Each flow is held against the fan's own label, or where
that is missing against what such fans move, and the odds of all fans together decide.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from rooftree.readings.ventilation.editions import CFM
from rooftree.readings.ventilation.readings import FanPurpose
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

SLIP = 1e-3 / CFM
"""One litre a second in cubic feet a minute [-]: 2.119."""

FREE_FLOW = 1.2
"""What a fan moves without any duct over what its label says [-]; ours, after common practice:
labels are for 25 Pa, and curves of small fans fall about in a line to there."""

DUCT, DUCT_SPREAD = 3.1, 0.6
"""Resistance of a duct with flap and grille over what the label assumes, and the spread of its
logarithm [-]; ours: nineteen fans of twenty then move 55 to 100 % of their label."""

HOOD = 0.06
"""Relative scatter of one reading [-]."""

POOR = 0.1
"""Share of fans whose duct, flap or grille is so poor that anything below is found [0-1]."""

RARELY = 0.05
"""How often units are mixed up before anything was read [0-1]; ours."""


@dataclass(frozen=True, slots=True)
class Slip:
    """A suspicion that units were mixed up.

    Attributes
    ----------
    probability : float
        That it is so [0-1].
    factor : float
        What the flows are off by [-]: 2.12 where litres a second were meant and cubic
        feet a minute were typed, its inverse the other way round.
    """

    probability: float
    factor: float


@cache
def typical_flows() -> Mapping[FanPurpose, tuple[float, float]]:
    """Return the usual flow [m³/s] and the spread of its logarithm [-] for each purpose."""
    return MappingProxyType(
        {
            FanPurpose(row["purpose"]): (float(row["flow_cfm"]) * CFM, float(row["spread"]))
            for row in table_rows("rooftree.readings.ventilation", "typical.csv")
        }
    )


@cache
def _shares() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return logarithms of measured over rated flow, and how dense each is for good fans.

    With a fan curve ``P = 1 + (1 - q) / (F - 1)`` in units of the label's flow and pressure,
    and a duct ``P = k q²``, each flow belongs to one resistance k.
    """
    away = np.linspace(-4.0, 4.0, 401)
    k = DUCT * np.exp(DUCT_SPREAD * away)
    slope = 1.0 / (FREE_FLOW - 1.0)
    flow = (-slope + np.sqrt(slope**2 + 4.0 * k * (1.0 + slope))) / (2.0 * k)
    weight = np.exp(-0.5 * away**2)
    at = np.linspace(-3.0, 2.0, 1001)
    spread = np.exp(-0.5 * ((at[:, None] - np.log(flow)) / HOOD) ** 2)
    dense = spread @ weight / weight.sum() / (HOOD * math.sqrt(2.0 * math.pi))
    return at, dense


def _density(flow: float, rated: float | None, purpose: FanPurpose) -> float:
    """Return how dense such a flow is on a logarithmic scale [-]."""
    if rated is not None and rated > 0.0:
        usual = rated
        plain = float(np.interp(math.log(flow / rated), *_shares(), left=0.0, right=0.0))
    else:
        usual, spread = typical_flows()[purpose]
        away = math.log(flow / usual) / spread
        plain = math.exp(-0.5 * away * away) / (spread * math.sqrt(2.0 * math.pi))
    # A poor fan gives anything from a tenth of the usual up to it.
    poor = 1.0 / math.log(10.0) if 0.1 * usual <= flow <= usual else 1e-3
    return (1.0 - POOR) * plain + POOR * poor


def judge_units(rows: Sequence[tuple[float, float | None, FanPurpose]]) -> Slip:
    """Return how likely the units of a set of flows were mixed up.

    Parameters
    ----------
    rows : sequence of tuple
        Flow [m³/s], > 0, rated flow [m³/s] or None, and purpose of each fan.

    Returns
    -------
    Slip
        Of the likelier direction; probability 0 without a row.

    Notes
    -----
    Bayes' rule with three cases: as typed, all too small by 2.12, all too large by it.
    """
    plain = _log_density(rows, 1.0)
    cases = {factor: _log_density(rows, factor) - plain for factor in (SLIP, 1.0 / SLIP)}
    weights = {factor: 0.5 * RARELY * math.exp(min(more, 500.0)) for factor, more in cases.items()}
    whole = 1.0 - RARELY + sum(weights.values())
    factor = max(weights, key=lambda one: weights[one])
    return Slip(weights[factor] / whole if rows else 0.0, factor)


def _log_density(rows: Sequence[tuple[float, float | None, FanPurpose]], factor: float) -> float:
    return sum(math.log(_density(factor * flow, rated, why)) for flow, rated, why in rows)
