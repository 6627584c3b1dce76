"""Reduce a zone read before and after an opening: the size of both its leaks."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.draws import draw_inputs, propagate_draws
from rooftree.physics.openings import opening_flow
from rooftree.readings.zone_pressures.division import REFERENCE, divide_pressure
from rooftree.readings.zone_pressures.holes import Change, leaks_by_flow, leaks_by_hole
from rooftree.readings.zone_pressures.judge import judge_pressures
from rooftree.readings.zone_pressures.judge_holes import (
    UNSURE,
    judge_change,
    judge_closed,
    judge_flow_rise,
    judge_held,
    judge_hole_size,
    judge_unsure,
)
from rooftree.readings.zone_pressures.readings import Boundary
from rooftree.readings.zone_pressures.reduction import LEAST_EXPONENT, MOST_EXPONENT
from rooftree.units import Kind, both_range

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.zone_pressures.holes import Numbers
    from rooftree.readings.zone_pressures.readings import AddedHoleTest, OpenedHatchTest

MOST_FACTOR = 30.0
"""Factor between the limits of a leak above which its size is not known at all [-]; ours."""

HOUSE_EXPONENT, HOUSE_EXPONENT_DOUBT = 0.65, 0.06
"""Of the whole house, to bring the fan's flow to one pressure [-]; Chan, Joh & Sherman 2013."""


@dataclass(frozen=True, slots=True)
class ZoneLeaks:
    """Both leaks of a zone in size.

    Attributes
    ----------
    space : str
        Id of the buffer space.
    exponent : float
        Of the leak between house and zone [-].
    house, outdoors : Propagated or None
        Leakage coefficients house to zone and zone to outdoors [m³/(s·Paⁿ)]; None where
        the readings cannot give them.
    flow_50 : Propagated or None
        Flow through the zone with the house at 50 Pa and the hole closed [m³/s].
    findings : tuple of Finding
        Doubts and refusals with their remedy.
    says : str
        What it means, in one or two plain sentences.
    outdoor_exponent : float
        Of the leak between zone and outdoors [-].
    house_50, outdoors_50 : Propagated or None
        What each leak alone would pass at 50 Pa [m³/s].
    """

    space: str
    exponent: float
    house: Propagated | None
    outdoors: Propagated | None
    flow_50: Propagated | None
    findings: tuple[Finding, ...]
    says: str = ""
    outdoor_exponent: float = 0.65
    house_50: Propagated | None = None
    outdoors_50: Propagated | None = None


@dataclass(frozen=True, slots=True)
class _Drawn:
    """The inputs of one test: one value each, or as many as were drawn."""

    part_before: NDArray[np.float64]
    part_after: NDArray[np.float64]
    whole_before: NDArray[np.float64]
    whole_after: NDArray[np.float64]
    exponent: NDArray[np.float64]
    outdoor_exponent: NDArray[np.float64]
    size: NDArray[np.float64]
    second: NDArray[np.float64]
    house_exponent: NDArray[np.float64]

    def change(self, boundary: Boundary, scale: Numbers = 1.0) -> Change:
        """Return the change seen from the side that was opened, `scale` on the second."""
        after, whole = self.part_after * scale, self.whole_after * scale
        change = Change(
            self.part_before,
            after,
            self.whole_before - self.part_before,
            whole - after,
            self.exponent,
            self.outdoor_exponent,
        )
        return change if boundary is Boundary.HOUSE else change.turned()


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
    :func:`~rooftree.readings.zone_pressures.holes.leaks_by_hole`, limits from 10,000 draws
    of pressures, exponents and the flow of the hole. One pascal on either reading moves the
    answer by a fifth to a third, which the limits show; between house and garage two
    simultaneous fans do better (16 % of the flow at 4 Pa against 30 %: Hult, Dickerhoff and
    Price, LBNL 2012).
    """

    def leaks(d: _Drawn) -> tuple[Numbers, Numbers]:
        change = d.change(test.boundary)
        before = d.size * _hole(test.area_before, test.discharge, change.house_before)
        after = d.size * _hole(test.area, test.discharge, change.house_after)
        return leaks_by_hole(change, after, before)

    findings = _judged(test)
    doubts = (test.area_uncertainty, 0.0)
    return _sized(test, leaks, doubts, findings)


def reduce_opened_hatch(test: OpenedHatchTest) -> ZoneLeaks:
    """Reduce the fan's gain when a hatch or door was opened to both leaks of the zone.

    Parameters
    ----------
    test : OpenedHatchTest
        Readings.

    Returns
    -------
    ZoneLeaks

    Notes
    -----
    :func:`~rooftree.readings.zone_pressures.holes.leaks_by_flow`, limits from 10,000 draws.
    Where the house was not brought back to its pressure, flow and zone pressure are taken
    there by the exponent 0.65. Poor where the gain is comparable with how well one flow
    repeats, which is a finding then. The opening's area is not used, but where it is known,
    its flow is held against the balance of the zone.
    """
    after = test.flow_after * math.pow(_ratio_of_houses(test), HOUSE_EXPONENT)
    rise = after - test.flow_before
    scatter = test.repeatability * math.hypot(test.flow_before, after)

    def leaks(d: _Drawn) -> tuple[Numbers, Numbers]:
        scale = d.whole_before / d.whole_after
        change = d.change(test.boundary, scale)
        again = test.flow_after * np.power(scale, d.house_exponent)
        return leaks_by_flow(change, d.size * (again + d.second - test.flow_before))

    findings = (*_judged(test), *judge_flow_rise(test, rise, scatter))
    result = _sized(test, leaks, (test.flow_uncertainty, scatter), findings)
    if not test.area or result.house is None or result.outdoors is None:
        return result
    share = _share_of_area(test, leaks, scatter)
    return _with_findings(result, () if share is None else judge_hole_size(test, share))


def _hole(area: float, discharge: float, across: Numbers) -> NDArray[np.float64]:
    per_root = opening_flow(area, 1.0, discharge=discharge)
    return np.asarray(per_root * np.sqrt(across))


def _ratio_of_houses(test: AddedHoleTest | OpenedHatchTest) -> float:
    after = test.house_pressure if test.house_pressure_after is None else test.house_pressure_after
    return abs(test.house_pressure / after) if after and test.house_pressure else 1.0


def _judged(test: AddedHoleTest | OpenedHatchTest) -> tuple[Finding, ...]:
    fall = abs(test.zone_pressure) - abs(test.pressure_after) * _ratio_of_houses(test)
    change = fall if test.boundary is Boundary.HOUSE else -fall
    return (*judge_pressures(test.before), *judge_change(test, change))


def _share_of_area(
    test: OpenedHatchTest, leaks: Callable[[_Drawn], tuple[Numbers, Numbers]], scatter: float
) -> Propagated | None:
    """Return the hatch's flow by the zone's balance over that by its area.

    None where the readings or a draw leave no pressure across the hatch.
    """

    def share(d: _Drawn) -> NDArray[np.float64]:
        near, far = leaks(d)
        change = d.change(test.boundary)
        by_balance = far * np.power(change.outdoors_after, change.outdoor_exponent)
        by_balance = by_balance - near * np.power(change.house_after, change.exponent)
        by_area = _hole(test.area or 0.0, test.discharge, change.house_after)
        return np.asarray(by_balance / by_area)

    first, drawn = (_inputs(test, (test.flow_uncertainty, scatter), drawn=n) for n in (False, True))
    across = (one.change(test.boundary).house_after for one in (first, drawn))
    if not all(np.all(np.asarray(pressure) > 0.0) for pressure in across):
        return None
    spread = np.exp(test.area_uncertainty * draw_inputs([0.0] * 10, [1.0] * 10)[9])
    return propagate_draws(float(share(first)[0]), share(drawn) * spread)


def _inputs(
    test: AddedHoleTest | OpenedHatchTest,
    doubts: tuple[float, float],
    *,
    drawn: bool,
) -> _Drawn:
    """Return the inputs, one value each, or as many as are drawn."""
    u = test.pressure_uncertainty
    whole, other = abs(test.house_pressure), test.house_pressure_after
    n, m = test.exponent, test.before.exponent_outdoors
    values = (
        abs(test.zone_pressure), abs(test.pressure_after), whole,
        whole if other is None else abs(other), n, m, 1.0, 0.0, HOUSE_EXPONENT,
    )  # fmt: skip
    doubt = test.exponent_uncertainty
    spreads = (u, u, u, 0.0 if other is None else u, doubt, doubt, *doubts, HOUSE_EXPONENT_DOUBT)
    rows = draw_inputs(values, spreads) if drawn else np.array(values)[:, None]
    p1, p2, t1, t2, exponent, outdoor, size, second, house = rows
    if other is None:
        t2 = t1  # one gauge held the house both times, so that its error is the same
    # A door to the house may stand wide open: then nothing is left between house and zone.
    least, wide = 1e-3, test.boundary is Boundary.HOUSE
    return _Drawn(
        np.clip(p1, least, t1 - least),
        np.clip(p2, 1e-9 if wide else least, t2 - least * wide),
        t1,
        t2,
        np.clip(exponent, LEAST_EXPONENT, MOST_EXPONENT),
        np.clip(outdoor, LEAST_EXPONENT, MOST_EXPONENT),
        size,
        second,
        house,
    )


def _three(
    d: _Drawn, leaks: Callable[[_Drawn], tuple[Numbers, Numbers]], boundary: Boundary
) -> tuple[NDArray[np.float64], ...]:
    """Return house side, outdoor side and the flow through both at 50 Pa, for each draw."""
    with np.errstate(all="ignore"):
        near, far = (np.asarray(each, dtype=np.float64) for each in leaks(d))
    # Where the drawn pressures did not change the way the opening must change them, the leaks
    # may be as large as you like.
    moved = d.part_before * d.whole_after / d.whole_before - d.part_after
    lost = (moved <= 0.0) if boundary is Boundary.HOUSE else (moved >= 0.0)
    near, far = (np.where(lost, np.inf, np.maximum(each, 0.0)) for each in (near, far))
    house, outdoors = (near, far) if boundary is Boundary.HOUSE else (far, near)
    n, m = d.exponent, d.outdoor_exponent
    house_50, outdoors_50 = house * np.power(REFERENCE, n), outdoors * np.power(REFERENCE, m)
    known = np.isfinite(house_50) & np.isfinite(outdoors_50) & (house_50 > 0) & (outdoors_50 > 0)
    ratio = np.divide(outdoors_50, house_50, out=np.ones_like(house_50), where=known)
    part = divide_pressure(ratio, REFERENCE, n, m)
    through = np.where(known, house, 0.0) * np.power(part, n)
    through = np.where(lost, np.inf, through)
    return house, outdoors, through, house_50, outdoors_50


def _sized(
    test: AddedHoleTest | OpenedHatchTest,
    leaks: Callable[[_Drawn], tuple[Numbers, Numbers]],
    doubts: tuple[float, float],
    findings: tuple[Finding, ...],
) -> ZoneLeaks:
    """Return the leaks, unless a finding or their own doubt forbids it."""
    notes = (*judge_held(test), *judge_closed(test))
    n, m = test.exponent, test.before.exponent_outdoors
    if findings:
        told = (*findings, *notes)
        return ZoneLeaks(test.space, n, None, None, None, told, told[0].says, m)
    values = _three(_inputs(test, doubts, drawn=False), leaks, test.boundary)
    drawn = _three(_inputs(test, doubts, drawn=True), leaks, test.boundary)
    found = [
        _bounded(propagate_draws(float(value[0]), draws))
        for value, draws in zip(values, drawn, strict=True)
    ]
    house, outdoors, through, house_50, outdoors_50 = found
    unsure = _unsure(test, (house, outdoors, through))
    told = (*unsure, *notes)
    says = _in_words(house_50, outdoors_50, through) if through else (told[0].says if told else "")
    return ZoneLeaks(test.space, n, house, outdoors, through, told, says, m, house_50, outdoors_50)


def _bounded(size: Propagated) -> Propagated | None:
    low, high = size.limits(0.90)
    known = math.isfinite(size.high) and size.value > 0.0 and low > 0.0
    return size if known and high <= MOST_FACTOR * low else None


def _unsure(
    test: AddedHoleTest | OpenedHatchTest, sizes: tuple[Propagated | None, ...]
) -> tuple[Finding, ...]:
    relative = [size.standard / size.value for size in sizes if size]
    if len(relative) < len(sizes):
        return (judge_unsure(test, None),)
    worst = max(relative)
    return (judge_unsure(test, worst),) if worst > UNSURE else ()


def _with_findings(result: ZoneLeaks, more: tuple[Finding, ...]) -> ZoneLeaks:
    return replace(result, findings=(*more, *result.findings))


def _in_words(house: Propagated | None, outdoors: Propagated | None, through: Propagated) -> str:
    flow = both_range(through.low, through.high, Kind.FLOW, digits=2)
    says = f"With the house at 50 Pa {flow} pass through the zone"
    if house is None or outdoors is None:
        return f"{says}."
    if house.value < outdoors.value:
        return (
            f"{says}; the tighter side is the one to the house: sealing it takes most of that away."
        )
    return (
        f"{says}; the tighter side is the one to outdoors: the zone belongs to the house more"
        " than to outdoors, and sealing the house side alone changes little at first."
    )
