"""What each combination of fans and doors should do, beside what was read."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from rooftree.physics.propagation import COVERAGE, Propagated, propagate
from rooftree.readings.worst_case.balance import Envelope, stack_of_house, zone_pressure
from rooftree.readings.worst_case.switches import EXHAUSTS, Combination

if TYPE_CHECKING:
    from rooftree.readings.worst_case.readings import WorstCaseTest

EXPONENT, EXPONENT_SPREAD = 0.65, 0.057
"""Exponent of a house of which only one point is known, and its spread over 7000 houses [-].

Orme, Liddament & Wilson, AIVC Technical Note 44 (recalled)."""

GAP_UNCERTAINTY, SHARE_UNCERTAINTY = 0.2, 0.5
"""Relative standard uncertainty of the gap round a door and of the zone's share [0-1]; ours."""

BALANCE_UNCERTAINTY = 0.05
"""Relative standard uncertainty of the balance with two heights of leaks and two spaces [0-1];
ours, from networks of three spaces and three heights."""


@dataclass(frozen=True, slots=True)
class Leakage:
    """Leakage of the house, from its fan test.

    Attributes
    ----------
    coefficient : float
        [m³/(s·Paⁿ)], > 0.
    exponent : float
        [-], 0.5 to 1.
    flow_uncertainty : float
        Standard uncertainty of the flow at 50 Pa, relative [0-1].
    exponent_uncertainty : float
        Standard uncertainty of the exponent [-], with the flow at 50 Pa held.
    """

    coefficient: float
    exponent: float
    flow_uncertainty: float
    exponent_uncertainty: float


def leakage_of_flow_50(flow_50: float, exponent: float | None, uncertainty: float) -> Leakage:
    """Return the leakage of a house from its flow at 50 Pa.

    Parameters
    ----------
    flow_50 : float
        [m³/s], > 0.
    exponent : float or None
        [-], 0.5 to 1; None where only one point was read.
    uncertainty : float
        Relative standard uncertainty of `flow_50` [0-1].

    Returns
    -------
    Leakage

    Examples
    --------
    >>> round(leakage_of_flow_50(1.0, 0.65, 0.05).coefficient, 5)
    0.07864
    """
    n = EXPONENT if exponent is None else exponent
    return Leakage(
        flow_50 / math.pow(50.0, n),
        n,
        uncertainty,
        EXPONENT_SPREAD if exponent is None else 0.02,
    )


def missing_for_prediction(test: WorstCaseTest, leakage: Leakage | None) -> tuple[str, ...]:
    """Return what is lacking to predict any pressure.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.
    leakage : Leakage or None
        Of the house.

    Returns
    -------
    tuple of str
        In words; empty where exhaust fans alone can be predicted.
    """
    flows = [
        f"the flow of the {words}"
        for name, words in EXHAUSTS.items()
        if getattr(test, f"has_{name}") and getattr(test, f"{name}_flow") is None
    ]
    return (("the leakage of the house",) if leakage is None else ()) + tuple(flows)


@lru_cache(maxsize=128)
def predict_state(
    test: WorstCaseTest, leakage: Leakage | None, combination: Combination
) -> Propagated | None:
    """Return the pressure that a combination should give, with what leaves it unsure.

    Parameters
    ----------
    test : WorstCaseTest
        Flows of the fans, gap of the zone's door.
    leakage : Leakage or None
        Of the house.
    combination : Combination
        Fans and doors.

    Returns
    -------
    Propagated or None
        Zone with reference to outdoors, less what it is without fans [Pa]; None where a
        flow is not known, or where interior doors are closed, whose rooms are not known.

    Notes
    -----
    Mass balance (:func:`rooftree.readings.worst_case.balance.zone_pressure`); flow at
    50 Pa, exponent, each fan, the gap and the zone's share are stepped in turn
    (JCGM 100:2008, 5.1.3 note 2).
    """
    if leakage is None or "interior_doors_closed" in combination.turns:
        return None
    flows = [getattr(test, f"{name}_flow") for name in sorted(combination.exhausts)]
    handler = "air_handler" in combination.turns
    if handler:
        flows += [test.air_handler_pull]
    if any(flow is None for flow in flows):
        return None
    is_closed = "zone_door_closed" in combination.turns
    if is_closed and test.door_gap is None:
        return None
    from_zone = (test.zone_return_leak or 0.0) if handler else 0.0
    return _propagated(test, leakage, flows, from_zone, test.door_gap if is_closed else None)


def _propagated(
    test: WorstCaseTest,
    leakage: Leakage,
    flows: list[float],
    from_zone: float,
    door: float | None,
) -> Propagated:
    """Return the pressure with first-order uncertainty; all fans act through their sum."""
    stack = stack_of_house(test.height, test.indoor_temperature, test.outdoor_temperature)
    flow_50 = leakage.coefficient * math.pow(50.0, leakage.exponent)

    def pressure(
        of_house: float,
        exponent: float,
        drawn: float,
        zone: float = from_zone,
        share: float = test.zone_share,
        gap: float | None = door,
    ) -> float:
        n = min(max(exponent, 0.5), 1.0)
        envelope = Envelope(of_house / math.pow(50.0, n), n, share, stack)
        return zone_pressure(envelope, drawn - zone, zone, gap)

    relative, share = test.flow_uncertainty, test.zone_share
    values = [flow_50, leakage.exponent, sum(flows)]
    unsure = [
        leakage.flow_uncertainty * flow_50,
        leakage.exponent_uncertainty,
        relative * math.hypot(*flows),
    ]
    if door is not None:
        values += [from_zone, share, door]
        unsure += [
            relative * from_zone,
            min(SHARE_UNCERTAINTY * share, 0.9 * (1.0 - share)),
            GAP_UNCERTAINTY * door,
        ]
    found = propagate(pressure, values, unsure)
    standard = math.hypot(found.standard, BALANCE_UNCERTAINTY * found.value)
    reach = COVERAGE * standard
    return Propagated(found.value, standard, found.value - reach, found.value + reach)
