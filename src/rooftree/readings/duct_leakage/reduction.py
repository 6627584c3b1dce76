"""Reduce a duct leakage test to flow at 25 Pa, share of the fan and flow per floor area."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.physics.propagation import factor_limits
from rooftree.readings.duct_leakage.equalizing import equalize
from rooftree.readings.duct_leakage.judge import (
    judge_both,
    judge_limit,
    judge_readings,
    judge_share,
)
from rooftree.readings.duct_leakage.judge_fans import judge_fans
from rooftree.readings.duct_leakage.judge_setup import judge_setup
from rooftree.readings.duct_leakage.limits import duct_limit
from rooftree.readings.duct_leakage.stations import fit_line, reduce_stations
from rooftree.units import Kind, both_range

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.duct_leakage.limits import When
    from rooftree.readings.duct_leakage.readings import DuctLeakageTest
    from rooftree.readings.duct_leakage.stations import DuctStation


MOST_UNSURE = 10.0
"""Relative standard uncertainty beyond which a flow says nothing [0-1]; ours."""


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
    stations : tuple of DuctStation
        Each duct pressure with the flow of all fans.
    exponent : float or None
        With which the stations were brought to 25 Pa [-].
    correction : float
        Leakage over what the duct fan alone gives [-]: 1 where house and ducts were equal
        and their space open to outdoors.
    """

    to_outdoors: bool
    flow_25: Propagated | None
    share: Propagated | None
    per_floor_area: Propagated | None
    findings: tuple[Finding, ...]
    stations: tuple[DuctStation, ...] = ()
    exponent: float | None = None
    correction: float = 1.0

    @property
    def says(self) -> str:
        """Return the leakage in one plain sentence."""
        if self.flow_25 is None:
            return "The readings do not give the leakage at 25 Pa."
        where = "to outdoors" if self.to_outdoors else "in all"
        flow = both_range(self.flow_25.low, self.flow_25.high, Kind.FLOW)
        share = f", {100.0 * self.share.value:.0f} % of what the fan moves" if self.share else ""
        return f"The ducts leak {flow} {where} at 25 Pa{share}."


def reduce_duct_leakage(
    test: DuctLeakageTest,
    floor_area: float | None = None,
    *,
    edition: str | None = None,
    when: When = "finished",
    total_flow_25: float | None = None,
    outdoors_flow_25: float | None = None,
) -> DuctLeakageResult:
    """Reduce one duct leakage test.

    Parameters
    ----------
    test : DuctLeakageTest
        Readings.
    floor_area : float or None
        Conditioned floor area that the system serves [m²].
    edition : str or None
        Code to hold the leakage against, such as ``"2012"`` or ``"California 2008"``.
    when : {"finished", "rough-in", "rough-in without air handler", "all inside", "altered"}
        State of the work, for the limit.
    total_flow_25 : float or None
        Total leakage of the same ducts by their own test [m³/s], for a test to outdoors.
    outdoors_flow_25 : float or None
        Leakage to outdoors of the same ducts by their own test [m³/s], for a test of the
        total.

    Returns
    -------
    DuctLeakageResult

    Raises
    ------
    OutOfRangeError
        If a stated uncertainty is so large that nothing can be said.

    Notes
    -----
    ASTM E1554 methods B and C (recalled), leakage at 25 Pa by the power law
    (:func:`~rooftree.readings.duct_leakage.stations.fit_line`). A test to outdoors is
    corrected for what house and ducts were apart
    (:func:`~rooftree.readings.duct_leakage.equalizing.equalize`); where they read equal, the
    doubt of that reading still widens the limits. The share is of the fan's flow at 25 Pa,
    not at the pressures of operation: near the plenum those are higher, far from it lower.

    Examples
    --------
    >>> from rooftree.readings.duct_leakage.readings import DuctLeakageTest
    >>> tested = reduce_duct_leakage(DuctLeakageTest(False, 25.0, 0.034, 0.566))
    >>> round(tested.share.value, 3)
    0.06
    """
    stations = reduce_stations(test)
    pressures = tuple(station.pressure for station in stations)
    line = fit_line(test, stations)
    used = [station.pressure for station in stations if station.is_used]
    _require(test, used)
    findings = (
        *judge_readings(test, pressures),
        *judge_fans(test, stations, line),
        *judge_setup(test, (used or [0.0])[0]),
    )
    if line is None:
        return DuctLeakageResult(test.to_outdoors, None, None, None, findings, stations)
    pressure = math.fsum(used) / len(used)
    leakage = equalize(test, line, pressure, total_flow_25) if test.to_outdoors else line
    flow, handler = leakage.over(1.0, 0.0), test.air_handler_flow
    share = leakage.over(handler, test.air_handler_uncertainty) if handler > 0.0 else None
    per_floor_area = leakage.over(floor_area, 0.0) if floor_area else None
    findings += judge_share(share)
    if edition:
        limit = duct_limit(edition, to_outdoors=test.to_outdoors, when=when)
        findings += judge_limit(limit, flow, share, per_floor_area)
    findings += _against(test, flow, total_flow_25, outdoors_flow_25)
    return DuctLeakageResult(
        test.to_outdoors,
        flow,
        share,
        per_floor_area,
        findings,
        stations,
        line.exponent,
        leakage.correction,
    )


def _require(test: DuctLeakageTest, used: list[float]) -> None:
    for name, value in (
        ("flow uncertainty", test.flow_uncertainty),
        ("uncertainty of the air handler's flow", test.air_handler_uncertainty),
    ):
        if not 0.0 <= value <= MOST_UNSURE:
            raise OutOfRangeError(name, value, 0.0, MOST_UNSURE, "[0-1]")
    least = min((abs(pressure) for pressure in used), default=math.inf)
    if not 0.0 <= test.pressure_uncertainty <= least:
        raise OutOfRangeError("pressure uncertainty", test.pressure_uncertainty, 0.0, least, "Pa")


def _against(
    test: DuctLeakageTest, flow: Propagated, total: float | None, outdoors: float | None
) -> tuple[Finding, ...]:
    other = total if test.to_outdoors else outdoors
    if other is None or other <= 0.0 or flow.value <= 0.0:
        return ()
    known = factor_limits(other, test.flow_uncertainty)
    return judge_both(known, flow) if test.to_outdoors else judge_both(flow, known)


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
