"""Reduce zone pressures: how a buffer space is joined to house and outdoors."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.openings import opening_flow, series_coefficient
from rooftree.physics.propagation import Propagated, propagate_positive
from rooftree.readings.zone_pressures.division import leakage_ratio, path_share
from rooftree.readings.zone_pressures.holes import (
    leaks_with_hole_to_house,
    leaks_with_hole_to_outdoors,
    leaks_with_opened_hatch,
)
from rooftree.readings.zone_pressures.judge import (
    UNSURE,
    judge_change,
    judge_end,
    judge_flow_rise,
    judge_hole_closed,
    judge_pressures,
    judge_unsure,
)
from rooftree.readings.zone_pressures.readings import Boundary

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.finding import Finding
    from rooftree.readings.zone_pressures.readings import (
        AddedHoleTest,
        OpenedHatchTest,
        ZonePressureTest,
    )


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
        Zone-to-outdoors leakage over house-to-zone leakage [-]; None where the reading
        cannot be divided.
    path : Propagated or None
        Flow through the zone over what its house side alone would pass [0-1].
    says : str
        The same in one plain sentence.
    findings : tuple of Finding
        Doubts and refusals with their remedy.
    """

    space: str
    pressure_share: float
    ratio: Propagated | None
    path: Propagated | None
    says: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class ZoneLeaks:
    """Both leaks of a zone in size.

    Attributes
    ----------
    space : str
        Id of the buffer space.
    exponent : float
        Of both leaks [-].
    house, outdoors : Propagated or None
        Leakage coefficients house to zone and zone to outdoors [m³/(s·Paⁿ)]; None where
        the readings cannot give them.
    flow_50 : Propagated or None
        Flow through the zone with the house at 50 Pa and the hole closed [m³/s].
    findings : tuple of Finding
        Doubts and refusals with their remedy.
    """

    space: str
    exponent: float
    house: Propagated | None
    outdoors: Propagated | None
    flow_50: Propagated | None
    findings: tuple[Finding, ...]


def reduce_zone_pressure(
    test: ZonePressureTest, house_flow_50: float | None = None
) -> ZonePressureResult:
    """Reduce one zone pressure to the ratio of the zone's two leaks.

    Parameters
    ----------
    test : ZonePressureTest
        Readings, with the fan holding the house.
    house_flow_50 : float or None
        Leakage of the house at 50 Pa, to size the hole that a refusal proposes [m³/s].

    Returns
    -------
    ZonePressureResult

    Notes
    -----
    Series leakage of one exponent (:mod:`~rooftree.readings.zone_pressures.division`);
    uncertainty of both pressures and of the exponent by numerical propagation. Where
    the zone has other paths (to the garage, to a neighbour), both numbers lump them.

    Examples
    --------
    >>> from rooftree.readings.zone_pressures.readings import ZonePressureTest
    >>> attic = reduce_zone_pressure(ZonePressureTest("attic", -50.0, -40.0))
    >>> round(attic.ratio.value, 2), round(attic.path.value, 3)
    (2.46, 0.865)
    """
    findings = judge_pressures(test)
    refused = None if findings else judge_end(test, house_flow_50)
    share = test.zone_pressure / test.house_pressure if test.house_pressure else 0.0
    if findings or refused:
        told = (*findings, *((refused,) if refused else ()))
        return ZonePressureResult(test.space, share, None, None, told[0].says, told)
    values = (abs(test.zone_pressure), abs(test.house_pressure), test.exponent)
    doubts = (test.pressure_uncertainty, test.pressure_uncertainty, test.exponent_uncertainty)
    ratio = propagate_positive(leakage_ratio, values, doubts)
    path = propagate_positive(path_share, values, doubts)
    return ZonePressureResult(test.space, share, ratio, path, _in_words(ratio), ())


def _in_words(ratio: Propagated) -> str:
    low, high = ratio.low, ratio.high
    if low <= 1.0 <= high:
        return "The zone is joined to the house about as freely as to outdoors."
    if ratio.value > 1.0:
        return (
            f"The zone is open to outdoors {low:.1f} to {high:.1f} times as much as to the"
            " house: what leaks between it and the house leaks outdoors."
        )
    return (
        f"The zone is open to the house {1.0 / high:.1f} to {1.0 / low:.1f} times as much as"
        " to outdoors: it shares the air of the house."
    )


def reduce_added_hole(test: AddedHoleTest) -> ZoneLeaks:
    """Reduce two zone pressures, without and with a measured hole, to both leaks.

    Parameters
    ----------
    test : AddedHoleTest
        Readings and the hole.

    Returns
    -------
    ZoneLeaks

    Notes
    -----
    The formula of the boundary in :mod:`~rooftree.readings.zone_pressures.holes`. One
    pascal on either reading moves the answer by a fifth to a third, which the limits
    show; between house and garage two simultaneous fans do better (16 % of the flow at
    4 Pa against 30 %: Hult, Dickerhoff and Price, LBNL 2012).
    """
    zone = test.zone
    to_house = test.boundary is Boundary.HOUSE
    before, after = abs(zone.zone_pressure), abs(test.pressure_after)
    leaks = leaks_with_hole_to_house if to_house else leaks_with_hole_to_outdoors

    def both(p1: float, p2: float, size: float, whole: float, n: float) -> tuple[float, float]:
        first, second = (p1, p2) if to_house else (whole - p1, whole - p2)
        flow_before = opening_flow(size * test.area_before, first, discharge=test.discharge)
        flow_after = opening_flow(size * test.area, second, discharge=test.discharge)
        return leaks(p1, p2, flow_after, whole, n, flow_before=flow_before)

    findings = judge_pressures(zone)
    findings += judge_change(zone, before - after if to_house else after - before)
    return _sized(test, both, 1.0, test.area_uncertainty, findings)


def reduce_opened_hatch(test: OpenedHatchTest) -> ZoneLeaks:
    """Reduce the fan's gain when a hatch was opened to both leaks of the zone.

    Parameters
    ----------
    test : OpenedHatchTest
        Readings.

    Returns
    -------
    ZoneLeaks

    Notes
    -----
    :func:`~rooftree.readings.zone_pressures.holes.leaks_with_opened_hatch`. Poor where the
    gain is comparable with how well one flow repeats, which is a finding then.
    """
    zone = test.zone
    rise = test.flow_after - test.flow_before
    scatter = test.repeatability * math.hypot(test.flow_before, test.flow_after)
    findings = judge_pressures(zone)
    findings += judge_change(zone, abs(zone.zone_pressure) - abs(test.pressure_after))
    findings += judge_flow_rise(zone, rise, scatter)
    return _sized(test, leaks_with_opened_hatch, rise, scatter, findings)


def _sized(
    test: AddedHoleTest | OpenedHatchTest,
    both: Callable[..., tuple[float, float]],
    flow: float,
    flow_doubt: float,
    findings: tuple[Finding, ...],
) -> ZoneLeaks:
    """Return the leaks that `both` gives, unless a finding or their own doubt forbids it."""
    zone, doubt = test.zone, test.zone.pressure_uncertainty
    reminder = judge_hole_closed(zone, closed=test.closed)
    if findings:
        return ZoneLeaks(zone.space, zone.exponent, None, None, None, findings + reminder)
    whole = abs(zone.house_pressure)
    values = (abs(zone.zone_pressure), abs(test.pressure_after), flow, whole, zone.exponent)
    doubts = (doubt, doubt, flow_doubt, doubt, zone.exponent_uncertainty)

    def house(*inputs: float) -> float:
        return both(*inputs)[0]

    def outdoors(*inputs: float) -> float:
        return both(*inputs)[1]

    def through(*inputs: float) -> float:
        n = inputs[-1]
        return series_coefficient(*both(*inputs), n) * math.pow(50.0, n)

    try:
        to_house = propagate_positive(house, values, doubts)
        to_outdoors = propagate_positive(outdoors, values, doubts)
        path = propagate_positive(through, values, doubts)
    except (ValueError, ArithmeticError):
        told = (judge_unsure(zone, None), *reminder)
        return ZoneLeaks(zone.space, zone.exponent, None, None, None, told)
    worst = max(size.standard / size.value for size in (to_house, to_outdoors, path))
    told = ((judge_unsure(zone, worst),) if worst > UNSURE else ()) + reminder
    return ZoneLeaks(zone.space, zone.exponent, to_house, to_outdoors, path, told)
