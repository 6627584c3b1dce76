"""Which one more test would tell most of where a house leaks.

A test that was not made yet is simulated on the fitted house; what it would take off the
covariance follows from its derivatives alone, whatever it will read.

Sources
-------
[TARANTOLA2005] Tarantola, "Inverse Problem Theory", SIAM 2005, chapter 3 (recalled): the
    covariance after one more observation.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.duct_paths import DUCTS, Ducts
from rooftree.engine.field_tests import hole_into
from rooftree.engine.gauges import Setting, inside_doors
from rooftree.fit.observations import GAUGE, Observation, Quantity, State, Term
from rooftree.fit.trial import Trial
from rooftree.fit.unknowns import Role, has_ducts
from rooftree.house import LeakKind, SpaceKind
from rooftree.readings.zone_pressures.readings import Boundary

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from rooftree.fit.observations import Observed
    from rooftree.fit.unknowns import Unknown
    from rooftree.house import House, Space

GAUGE_DOUBT, FAN_DOUBT, DUCT_FAN_DOUBT, HOLE_DOUBT = 0.5, 0.01, 0.06, 0.10
"""Usual standard uncertainties: of a pressure [Pa], of the ratio of two fan flows, of a duct
flow with its equal pressures, and of the size of a known hole [0-1]."""

HOLE = 0.04
"""Known hole that would be opened [m²]: about 60 square inches."""


@dataclass(frozen=True, slots=True)
class ReadingWorth:
    """What one more test would tell.

    Attributes
    ----------
    says : str
        The test in words: ``"the pressure of the attic with the house at 50 Pa"``.
    space : str
        Id of the space it is about; empty for a test of ducts or of the whole house.
    reduction : float
        Part of what is still unsure about where the air leaks that it would take away
        [0-1]: of the sum over places of the variance of the flow at 50 Pa.
    """

    says: str
    space: str
    reduction: float


def worth_of_readings(
    house: House,
    observed: Observed,
    unknowns: tuple[Unknown, ...],
    solution: NDArray[np.float64],
    covariance: NDArray[np.float64],
    ducts_at_rest: Ducts,
    fan_space: str | None,
) -> tuple[ReadingWorth, ...]:
    """Return what each test that was not made yet would tell.

    Parameters
    ----------
    house : House
        As described.
    observed : Observed
        What was read.
    unknowns : tuple of Unknown
        In the order of the vector.
    solution : ndarray, shape (n,)
        Their most probable values [-].
    covariance : ndarray, shape (n, n)
        Of these [-].
    ducts_at_rest : Ducts
        How the ducts take part in tests of the whole house.
    fan_space : str or None
        Where the fan stands.

    Returns
    -------
    tuple of ReadingWorth
        The most telling first.

    Notes
    -----
    With `j` the derivatives of the new numbers over their uncertainty, the covariance `S`
    becomes ``S - S j' (1 + j S j')^-1 j S`` [TARANTOLA2005]_. What counts is the variance of
    the flow through each group of leaks, ``sum f² s²`` with `f` its flow at 50 Pa across it.

    References
    ----------
    .. [TARANTOLA2005] Tarantola, "Inverse Problem Theory", SIAM 2005, chapter 3 (recalled).
    """
    made = {(one.test, one.what) for one in observed.observations}
    candidates = tuple(_candidates(house, made, ducts_at_rest, fan_space))
    if not candidates:
        return ()
    rows_of = {test: [o for o in candidates if o[1].test == test] for _, test in _names(candidates)}
    observations = tuple(observation for _, observation in candidates)
    _, slopes = Trial(house, observations, unknowns).simulate(solution)
    doubt = np.array([one.uncertainty for one in observations])
    rows = slopes / doubt[:, None]
    weights = _weights(house, unknowns, solution)
    before = float(np.sum((weights @ covariance) * weights))
    found = []
    for test, group in rows_of.items():
        mine = rows[[i for i, one in enumerate(observations) if one.test == test]]
        found.append(ReadingWorth(test, group[0][0], _reduction(mine, covariance, weights, before)))
    return tuple(sorted(found, key=lambda one: -one.reduction))


def _names(candidates: tuple[tuple[str, Observation], ...]) -> list[tuple[str, str]]:
    return list(dict.fromkeys((space, one.test) for space, one in candidates))


def _reduction(
    rows: NDArray[np.float64],
    covariance: NDArray[np.float64],
    weights: NDArray[np.float64],
    before: float,
) -> float:
    gain = covariance @ rows.T
    inner = np.eye(rows.shape[0]) + rows @ gain
    told = weights @ gain
    taken = float(np.sum(told * np.linalg.solve(inner, told.T).T))
    return min(max(taken / before, 0.0), 1.0) if before > 0.0 else 0.0


def _weights(
    house: House, unknowns: tuple[Unknown, ...], solution: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return how the flow at 50 Pa through each group of leaks follows the unknowns."""
    flows = {leak.id: leak.coefficient * math.pow(50.0, leak.exponent) for leak in house.leaks}
    if house.air_handler:
        flows |= {run.id: run.leakage * house.air_handler.flow for run in house.ducts}
    common = [i for i, one in enumerate(unknowns) if one.role is Role.COMMON]
    rows = []
    for i, one in enumerate(unknowns):
        if one.role is not Role.SIZE or one.key.startswith(f"{LeakKind.VENT.value}:"):
            continue
        row = np.zeros(len(unknowns))
        row[i] = 1.0
        for column in common:
            row[column] = float(one.members <= unknowns[column].members)
        size = sum(flows.get(name, 0.0) for name in one.members)
        rows.append(row * size * math.exp(float(row @ solution)))
    return np.array(rows).reshape(-1, len(unknowns))


def _candidates(
    house: House, made: set[tuple[str, str]], ducts_at_rest: Ducts, fan_space: str | None
) -> Iterator[tuple[str, Observation]]:
    """Yield the numbers of tests that were not made, each with the space it is about."""
    whats = {what for _, what in made}
    setting = Setting(inside_doors(house), ducts=ducts_at_rest, gauge=fan_space)
    held = State(setting, ((GAUGE, -50.0),))
    if "flow at 50 Pa" not in whats:
        test = "a fan test of the house at several pressures"
        yield "", _flow(test, held, 0.03)
    holes = {test for test, what in made if what.startswith("pressure between house and ")}
    for space in house.spaces:
        if space.kind is SpaceKind.LIVING:
            continue
        what = f"pressure between house and {space.id}"
        times = sum(what == each for _, each in made)
        if times == 0:
            test = f"the pressure of the {_bare(space)} with the house at 50 Pa"
            yield space.id, _zone(test, what, held, space.id)
        if times < 2 or not holes:
            yield from _hole(house, space, setting, held)
    if has_ducts(house):
        yield from _duct_tests(house, whats, fan_space)


def _bare(space: Space) -> str:
    return space.name.removeprefix("The ").removeprefix("the ")


def _flow(test: str, state: State, doubt: float, place: str = GAUGE) -> Observation:
    return Observation(test, "", (Term(1.0, state, Quantity.LOG_FLOW, place),), 0.0, doubt, "-")


def _zone(test: str, what: str, state: State, space: str) -> Observation:
    terms = (Term(1.0, state, Quantity.PRESSURE, GAUGE, space),)
    return Observation(test, what, terms, 0.0, GAUGE_DOUBT, "Pa")


def _hole(
    house: House, space: Space, setting: Setting, shut: State
) -> Iterator[tuple[str, Observation]]:
    """Yield zone pressure and fan flow with a known hole open on either side of a zone."""
    for boundary, where in (
        (Boundary.HOUSE, "the house"),
        (Boundary.OUTDOORS, "outdoors"),
    ):
        hole = hole_into(house, space.id, boundary, HOLE)
        name = f"(hole to {where})"
        opened = State(
            replace(setting, opened=(*setting.opened, replace(hole, name=name))), shut.held
        )
        test = (
            f"the pressure of the {_bare(space)} and the fan's flow with a known hole opened "
            f"to {where}"
        )
        pressure = _zone(test, "", opened, space.id)
        yield space.id, replace(pressure, uncertainty=math.hypot(GAUGE_DOUBT, 10.0 * HOLE_DOUBT))
        terms = (
            Term(1.0, opened, Quantity.LOG_FLOW),
            Term(-1.0, shut, Quantity.LOG_FLOW),
        )
        yield space.id, Observation(test, "", terms, 0.0, math.sqrt(2.0) * FAN_DOUBT, "-")


def _duct_tests(
    house: House, whats: set[str], fan_space: str | None
) -> Iterator[tuple[str, Observation]]:
    sealed = Setting(inside_doors(house), ducts=Ducts.SEALED, gauge=fan_space)
    for what, pressure in (("flow to outdoors at 25 Pa", 25.0), ("flow at 25 Pa", 0.0)):
        if what not in whats:
            state = State(sealed, ((DUCTS, 25.0), (GAUGE, pressure)))
            where = " to outdoors" if pressure else " in all"
            yield "", _flow(f"the leakage of the ducts{where}", state, DUCT_FAN_DOUBT, DUCTS)
