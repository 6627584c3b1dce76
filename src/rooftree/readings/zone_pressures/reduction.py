"""Reduce one zone pressure: how a buffer space is joined to house and outdoors."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.draws import draw_inputs, propagate_draws
from rooftree.readings.zone_pressures.division import (
    REFERENCE,
    divide_pressure,
    leakage_ratio,
    path_share,
)
from rooftree.readings.zone_pressures.judge import judge_end, judge_pressures
from rooftree.readings.zone_pressures.judge_probe import VENT_DOUBT, judge_probe, vent_flow_50
from rooftree.readings.zone_pressures.readings import ZoneKind

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.zone_pressures.readings import ZonePressureTest

FORBIDDING = frozenset({"not-repeating", "sum"})
"""Doubts about the probe with which a pressure is not divided."""

LEAST_EXPONENT, MOST_EXPONENT = 0.5, 1.0
"""Between turbulent and laminar flow no leak has another exponent [-]."""


@dataclass(frozen=True, slots=True)
class ZonePressureResult:
    """What one zone pressure tells.

    Attributes
    ----------
    space : str
        Id of the buffer space.
    pressure_share : float
        Zone pressure over house pressure, as read [-].
    ratio : Propagated or None
        Zone-to-outdoors leakage over house-to-zone leakage, flows at 50 Pa [-]; None where
        the reading cannot be divided.
    path : Propagated or None
        Flow through the zone over what its house side alone would pass [0-1].
    says : str
        The same in one plain sentence.
    findings : tuple of Finding
        Doubts and refusals with their remedy.
    share : Propagated or None
        `pressure_share` with its limits [0-1].
    vent_flow_50 : Propagated or None
        Flow through the zone at 50 Pa if its vents were its only way to outdoors [m³/s];
        None where they were not measured.
    """

    space: str
    pressure_share: float
    ratio: Propagated | None
    path: Propagated | None
    says: str
    findings: tuple[Finding, ...]
    share: Propagated | None = None
    vent_flow_50: Propagated | None = None


def reduce_zone_pressure(
    test: ZonePressureTest, house_flow_50: float | None = None
) -> ZonePressureResult:
    """Reduce one zone pressure to the ratio of the zone's two leaks.

    Parameters
    ----------
    test : ZonePressureTest
        Readings, with the fan holding the house.
    house_flow_50 : float or None
        Leakage of the house at 50 Pa, to size the hole that a refusal proposes and to
        doubt a probe [m³/s].

    Returns
    -------
    ZonePressureResult

    Notes
    -----
    Series leakage with an exponent for each side
    (:mod:`~rooftree.readings.zone_pressures.division`). Limits from 10,000 draws of the
    pressures and of the two exponents, which are independent even where one number is
    assumed for both. A second reading with the probe moved is averaged in; where zone to
    outdoors was read too, the three are first made to add up by least squares. Where the
    zone has other paths (to the garage, to a neighbour), the results lump them.

    Examples
    --------
    >>> from rooftree.readings.zone_pressures.readings import ZonePressureTest
    >>> attic = reduce_zone_pressure(ZonePressureTest("attic", -50.0, -40.0))
    >>> round(attic.ratio.value, 2), round(attic.path.value, 3)
    (2.46, 0.865)
    """
    forbidding = judge_pressures(test)
    share = test.zone_pressure / test.house_pressure if test.house_pressure else 0.0
    if forbidding:
        return ZonePressureResult(test.space, share, None, None, forbidding[0].says, forbidding)
    doubts = judge_probe(test, house_flow_50)
    refused = judge_end(test, house_flow_50)
    findings = (*doubts, *((refused,) if refused else ()))
    vents = _vent_flow(test)
    if refused or any(f.code.rpartition("/")[2] in FORBIDDING for f in doubts):
        says = (refused or findings[0]).says
        return ZonePressureResult(test.space, share, None, None, says, findings, None, vents)
    part, whole = settled_pressures(test)
    n, m = test.exponent, test.exponent_outdoors
    parts, wholes, exponents, others = _drawn(test)
    ratios = np.power(parts / REFERENCE, exponents) / np.power((wholes - parts) / REFERENCE, others)
    at_50 = divide_pressure(ratios, REFERENCE, exponents, others)
    ratio = propagate_draws(leakage_ratio(part, whole, n, m), ratios)
    path = propagate_draws(path_share(part, whole, n, m), np.power(at_50 / REFERENCE, exponents))
    return ZonePressureResult(
        test.space,
        share,
        ratio,
        path,
        _in_words(test, ratio),
        findings,
        propagate_draws(part / whole, parts / wholes),
        vents,
    )


def settled_pressures(test: ZonePressureTest) -> tuple[float, float]:
    """Return zone and house pressure by all that was read.

    Parameters
    ----------
    test : ZonePressureTest
        Readings.

    Returns
    -------
    tuple of float
        Between house and zone, and between house and outdoors, without sign [Pa].

    Notes
    -----
    Least squares: a repeated reading is averaged; where zone to outdoors was read, what is
    missing from the sum is shared out by the variances.
    """
    read = [np.array([abs(value)]) for value in _read(test)]
    part, whole = _settle(test, *read)
    return float(part[0]), float(whole[0])


def _read(test: ZonePressureTest) -> tuple[float, ...]:
    more = (test.again_pressure, test.outdoor_pressure)
    return (
        test.zone_pressure,
        test.house_pressure,
        *(value for value in more if value is not None),
    )


def _settle(
    test: ZonePressureTest, *read: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    part, whole, *more = read
    variance = 1.0
    if test.again_pressure is not None:
        part, variance = 0.5 * (part + more.pop(0)), 0.5
    if more:
        missing = (whole - part - more[0]) / (2.0 + variance)
        part, whole = part + variance * missing, whole - missing
    return part, whole


def _drawn(test: ZonePressureTest) -> tuple[NDArray[np.float64], ...]:
    read = [abs(value) for value in _read(test)]
    values = [*read, test.exponent, test.exponent_outdoors]
    doubts = [test.pressure_uncertainty] * len(read) + [test.exponent_uncertainty] * 2
    *pressures, n, m = draw_inputs(values, doubts)
    part, whole = _settle(test, *pressures)
    within = np.clip(part, 1e-3, whole - 1e-3)
    return within, whole, *(np.clip(e, LEAST_EXPONENT, MOST_EXPONENT) for e in (n, m))


def _vent_flow(test: ZonePressureTest) -> Propagated | None:
    flow = vent_flow_50(test)
    if flow <= 0.0:
        return None
    flows = flow * np.exp(VENT_DOUBT * draw_inputs([0.0], [1.0])[0])
    return propagate_draws(flow, flows)


def _in_words(test: ZonePressureTest, ratio: Propagated) -> str:
    low, high = ratio.low, ratio.high
    name = "neighbour's space" if test.zone is ZoneKind.NEIGHBOUR else "zone"
    if low <= 1.0 <= high:
        return f"The {name} is joined to the house about as freely as to outdoors."
    if ratio.value > 1.0:
        return (
            f"The {name} is open to outdoors {low:.1f} to {high:.1f} times as much as to the"
            " house: what leaks between it and the house leaks outdoors."
        )
    return (
        f"The {name} is open to the house {1.0 / high:.1f} to {1.0 / low:.1f} times as much as"
        " to outdoors: it shares the air of the house."
    )
