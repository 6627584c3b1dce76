"""Reduce a duct leakage test to flow at 25 Pa, share of the fan and flow per floor area."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.propagation import Propagated, propagate_positive
from rooftree.readings.duct_leakage.flow import (
    HIGHEST_PRESSURE,
    LOWEST_PRESSURE,
    REFERENCE_PRESSURE,
    flow_at_25_pascals,
)
from rooftree.readings.duct_leakage.judge import (
    judge_both,
    judge_limit,
    judge_readings,
    judge_share,
)
from rooftree.readings.duct_leakage.limits import duct_limit

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.readings.duct_leakage.limits import When
    from rooftree.readings.duct_leakage.readings import DuctLeakageTest

CFM = 0.471947e-3
"""One cubic foot a minute [m³/s]."""


@dataclass(frozen=True, slots=True)
class DuctLeakageResult:
    """What one duct leakage test tells.

    Attributes
    ----------
    to_outdoors : bool
        Whether leakage to outdoors was tested; total leakage otherwise.
    flow_25 : Propagated or None
        Leakage at 25 Pa [m³/s]; None where the pressure is too far off or the flow is 0.
    share : Propagated or None
        The same over the air handler's flow [0-1].
    per_floor_area : Propagated or None
        The same over the floor area [m³/(s·m²)].
    findings : tuple of Finding
        Doubts, meaning and limits.
    """

    to_outdoors: bool
    flow_25: Propagated | None
    share: Propagated | None
    per_floor_area: Propagated | None
    findings: tuple[Finding, ...]

    @property
    def says(self) -> str:
        """Return the leakage in one plain sentence."""
        if self.flow_25 is None:
            return "The readings do not give the leakage at 25 Pa."
        where = "to outdoors" if self.to_outdoors else "in all"
        low, high = self.flow_25.low / CFM, self.flow_25.high / CFM
        size = f"The ducts leak {low:.0f} to {high:.0f} cfm {where} at 25 Pa"
        litres = f"({1000.0 * self.flow_25.low:.0f} to {1000.0 * self.flow_25.high:.0f} L/s)"
        share = f", {100.0 * self.share.value:.0f} % of what the fan moves" if self.share else ""
        return f"{size} {litres}{share}."


def reduce_duct_leakage(
    test: DuctLeakageTest,
    floor_area: float | None = None,
    *,
    edition: str | None = None,
    when: When = "finished",
) -> DuctLeakageResult:
    """Reduce one duct leakage test.

    Parameters
    ----------
    test : DuctLeakageTest
        Readings.
    floor_area : float or None
        Conditioned floor area that the system serves [m²].
    edition : str or None
        Year of the model code to hold the leakage against, such as ``"2012"``.
    when : {"finished", "rough-in", "rough-in without air handler"}
        State of the work, for the limit.

    Returns
    -------
    DuctLeakageResult

    Notes
    -----
    ASTM E1554 methods B and C (recalled), leakage at 25 Pa by the power law. The share
    is of the fan's flow at 25 Pa, not at the pressures of operation: near the plenum
    those are higher, far from it lower. Uncertainty of flow, pressure and exponent by
    numerical propagation.

    Examples
    --------
    >>> from rooftree.readings.duct_leakage.readings import DuctLeakageTest
    >>> tested = reduce_duct_leakage(DuctLeakageTest(False, 25.0, 0.034, 0.566))
    >>> round(tested.share.value, 3)
    0.06
    """
    findings = judge_readings(test)
    pressure = abs(test.duct_pressure)
    if not LOWEST_PRESSURE <= pressure <= HIGHEST_PRESSURE or test.flow <= 0.0:
        return DuctLeakageResult(test.to_outdoors, None, None, None, findings)
    flow = _propagated(test, 1.0)
    fan, area = test.air_handler_flow, floor_area
    share = _propagated(test, fan) if fan > 0.0 else None
    findings += judge_share(share)
    per_floor_area = _propagated(test, area) if area else None
    if per_floor_area and edition:
        limit = duct_limit(edition, to_outdoors=test.to_outdoors, when=when)
        findings += judge_limit(per_floor_area, limit)
    return DuctLeakageResult(test.to_outdoors, flow, share, per_floor_area, findings)


def _propagated(test: DuctLeakageTest, divisor: float) -> Propagated:
    def formula(flow: float, pressure: float, exponent: float) -> float:
        # The exponent may leave 0.5 to 1 by its own doubt; the law itself does not mind.
        return flow * math.pow(REFERENCE_PRESSURE / pressure, exponent) / divisor

    pressure = abs(test.duct_pressure)
    exact = flow_at_25_pascals(test.flow, pressure, test.exponent) / divisor
    spread = propagate_positive(
        formula,
        (test.flow, pressure, test.exponent),
        (
            test.flow_uncertainty * test.flow,
            test.pressure_uncertainty,
            test.exponent_uncertainty,
        ),
    )
    return Propagated(exact, spread.standard, spread.low, spread.high)


def compare_duct_tests(
    total: DuctLeakageResult, to_outdoors: DuctLeakageResult
) -> tuple[Finding, ...]:
    """Return the doubts that two tests of one system cast on each other.

    Parameters
    ----------
    total : DuctLeakageResult
        Of the test of total leakage.
    to_outdoors : DuctLeakageResult
        Of the test of leakage to outdoors.

    Returns
    -------
    tuple of Finding
        Empty where they agree or one has no flow.
    """
    if total.flow_25 is None or to_outdoors.flow_25 is None:
        return ()
    return judge_both(total.flow_25, to_outdoors.flow_25)
