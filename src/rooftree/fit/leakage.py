"""Leaks fitted to the fan test and to the zone pressures read during it.

The fan test fixes how much leaks in total, the zone pressures how the leaks into each
buffer space compare with its vents. What no reading tells keeps the proportions that the
house was described with.

Sources
-------
[FITZGERALD1994] Fitzgerald, Nevitt and Blasnik, Home Energy, September 1994: a buffer
    space in series between house and outdoors.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Protocol

import numpy as np

from rooftree.engine.field_tests import ROOM, fan_test_flow
from rooftree.engine.gauges import inside_doors, set_up_gauges
from rooftree.errors import HouseError, OutOfRangeError
from rooftree.fit.judge import doubt_reading, judge_leaks
from rooftree.fit.trial import (
    REFERENCE_PRESSURE,
    Solution,
    Trial,
    ZoneReading,
    solve_trial,
)
from rooftree.house import House, LeakKind, SpaceKind
from rooftree.known import How, Known

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.finding import Finding
    from rooftree.readings.zone_pressures.readings import ZonePressureTest

SCALED = Known(How.ASSUMED, "share assumed; all cracks together scaled to the fan test")
SPLIT = Known(How.MEASURED, "from the zone pressure, against the vents of the zone")


class Curve(Protocol):
    """Any measured leakage curve, such as that of a reduced fan test."""

    @property
    def coefficient(self) -> float:
        """Return the leakage coefficient at reference conditions [m³/(s·Paⁿ)]."""

    @property
    def exponent(self) -> float:
        """Return the pressure exponent [-]."""


@dataclass(frozen=True, slots=True)
class FittedLeaks:
    """A house whose simulated fan test gives back the measured one.

    Attributes
    ----------
    house : House
        With its cracks scaled.
    scale : mapping from str to float
        Factor on the flow at 50 Pa through the cracks from the living spaces to each
        buffer space, by its id, and to ``OUTDOORS`` [-].
    spread : mapping from str to float
        Standard deviation of the logarithm of that factor over the one to ``OUTDOORS``,
        for the buffer spaces with a reading [-]: 0.2 is about 20 %.
    exponent_shift : float
        Added to the exponent of every scaled crack, as far as it stays 0.5 to 1 [-].
    flow_residual : float
        Simulated flow at 50 Pa over the measured one, less 1 [-].
    zone_residuals : mapping from str to float
        Simulated less measured pressure between house and buffer space [Pa].
    findings : tuple of Finding
        Readings that could not be met, and what looks odd.
    """

    house: House
    scale: Mapping[str, float]
    spread: Mapping[str, float]
    exponent_shift: float
    flow_residual: float
    zone_residuals: Mapping[str, float]
    findings: tuple[Finding, ...]


def fit_leaks(
    house: House,
    target: Curve | float,
    zone_pressures: tuple[ZonePressureTest, ...] = (),
    *,
    fan_space: str | None = None,
    prior_spread: float = 1.0,
) -> FittedLeaks:
    """Scale the cracks of the living spaces so that the house tests as it was measured.

    Parameters
    ----------
    house : House
        As described, with a guess for every crack and the sizes of its vents.
    target : Curve or float
        Measured leakage curve, or only the flow at 50 Pa [m³/s], > 0.
    zone_pressures : tuple of ZonePressureTest
        Readings at buffer spaces; no more than one for each.
    fan_space : str or None
        Living space in which the fan stood; None for the largest.
    prior_spread : float
        Standard deviation of the logarithm of how far the cracks into one buffer space
        may be from the proportion described, before any reading [-], > 0. 1 allows a
        factor of 2.7 either way; many times that lets the readings rule.

    Returns
    -------
    FittedLeaks

    Raises
    ------
    OutOfRangeError
        If the flow is not above zero, or the spread is not.
    HouseError
        If there is no crack to scale, a space has no path to outdoors, or a reading is
        of a space that is not a buffer space of the house.

    Notes
    -----
    Scaled are the leaks of kind ``CRACK`` with a living space on one side and outdoors
    or a buffer space on the other. One factor scales them all; each buffer space with a
    reading has one more factor on the cracks into it. Vents, flues and holes, and the
    cracks between buffer spaces and outdoors, stay as described: a zone pressure fixes
    the *ratio* of the leaks on the two sides of a zone [FITZGERALD1994]_, and the vents
    give it a size.

    For any choice of the other unknowns the one factor is found from the measured flow
    at 50 Pa, so that this is met exactly. The others are the least squares solution of
    the zone pressures, each over its own uncertainty, of the curve's exponent between 10
    and 50 Pa, and of the prior. The test is simulated at 20 °C on both sides, without
    wind: the conditions to which its reduction refers.
    """
    flow, exponent = (
        (float(target), None)
        if isinstance(target, (int, float))
        else (target.coefficient * math.pow(REFERENCE_PRESSURE, target.exponent), target.exponent)
    )
    _require_positive("measured flow at 50 Pa", flow, "m³/s")
    _require_positive("prior_spread", prior_spread, "-")
    groups = _groups(house)
    gauged = set_up_gauges(house, ROOM, ROOM, inside_doors(house), fan_space)
    places = tuple(
        np.array([i for i, leak in enumerate(gauged.paths.leaks) if leak.id in ids], dtype=np.int64)
        for ids in groups.values()
    )
    trial = Trial(gauged, places, flow, exponent)
    tests, doubts = _usable(house, zone_pressures, groups)
    solution = solve_trial(trial, _readings(house, tests, groups), prior_spread)
    fitted = _resize(house, trial, groups, solution, tests)
    residual = fan_test_flow(fitted, REFERENCE_PRESSURE, fan_space=fan_space).flow / flow - 1.0
    return FittedLeaks(
        house=fitted,
        scale=MappingProxyType(dict(zip(groups, solution.scale, strict=True))),
        spread=MappingProxyType(
            {test.space: s for test, s in zip(tests, solution.spread, strict=True)}
        ),
        exponent_shift=solution.shift,
        flow_residual=residual,
        zone_residuals=MappingProxyType(
            {
                test.space: between - abs(test.zone_pressure)
                for test, between in zip(tests, solution.between, strict=True)
            }
        ),
        findings=(*doubts, *judge_leaks(house, trial, tests, tuple(groups), solution, residual)),
    )


def _require_positive(name: str, value: float, unit: str) -> None:
    if not 0.0 < value < math.inf:
        raise OutOfRangeError(name, value, 0.0, math.inf, unit)


def _groups(house: House) -> dict[str, frozenset[str]]:
    """Return the ids of the cracks to scale, by what they join to the living spaces."""
    living = {space.id for space in house.living_spaces}
    groups: dict[str, set[str]] = {}
    for leak in house.leaks:
        ends = {leak.first, leak.second}
        if leak.kind is LeakKind.CRACK and len(ends & living) == 1 and leak.coefficient > 0.0:
            (beyond,) = ends - living
            groups.setdefault(beyond, set()).add(leak.id)
    if not groups:
        message = (
            "no leak of kind crack joins a living space to outdoors or to a buffer space, so "
            "nothing can be scaled to the fan test; add the cracks of walls and ceilings"
        )
        raise HouseError(message)
    return {beyond: frozenset(ids) for beyond, ids in groups.items()}


def _usable(
    house: House,
    zone_pressures: tuple[ZonePressureTest, ...],
    groups: dict[str, frozenset[str]],
) -> tuple[tuple[ZonePressureTest, ...], tuple[Finding, ...]]:
    """Return the readings that can settle something, and why the others cannot."""
    buffers = {space.id: space for space in house.spaces if space.kind is not SpaceKind.LIVING}
    usable: dict[str, ZonePressureTest] = {}
    findings = []
    for test in zone_pressures:
        if test.space not in buffers:
            message = (
                f"a zone pressure is of {test.space}, which is not a buffer space of the house; "
                "use the id of one"
            )
            raise HouseError(message)
        doubt = doubt_reading(test, buffers[test.space], test.space in groups, test.space in usable)
        if doubt is None:
            usable[test.space] = test
        else:
            findings.append(doubt)
    return tuple(usable.values()), tuple(findings)


def _readings(
    house: House, tests: tuple[ZonePressureTest, ...], groups: dict[str, frozenset[str]]
) -> tuple[ZoneReading, ...]:
    order = list(groups)
    index = {space.id: i for i, space in enumerate(house.spaces)}
    return tuple(
        ZoneReading(
            index[test.space],
            order.index(test.space),
            abs(test.house_pressure),
            abs(test.zone_pressure),
            test.pressure_uncertainty,
        )
        for test in tests
    )


def _resize(
    house: House,
    trial: Trial,
    groups: dict[str, frozenset[str]],
    solution: Solution,
    tests: tuple[ZonePressureTest, ...],
) -> House:
    """Return the house with its cracks as solved, and how their sizes are known."""
    read = {test.space for test in tests}
    notes = {
        leak_id: SPLIT if beyond in read else SCALED
        for beyond, ids in groups.items()
        for leak_id in ids
    }
    paths = trial.resized(np.log(solution.scale), solution.shift)
    sizes = {
        leak.id: (float(coefficient), float(exponent))
        for leak, coefficient, exponent in zip(
            paths.leaks, paths.coefficient, paths.exponent, strict=True
        )
    }
    return replace(
        house,
        leaks=tuple(
            replace(
                leak,
                coefficient=sizes[leak.id][0],
                exponent=sizes[leak.id][1],
                known={**leak.known, "coefficient": notes[leak.id]},
            )
            if leak.id in notes
            else leak
            for leak in house.leaks
        ),
    )
