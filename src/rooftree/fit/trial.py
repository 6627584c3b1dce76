"""The network of a house, simulated with other sizes of its leaks, with all derivatives.

A state is solved once; how every reading in it answers to every unknown follows from the
slopes of the paths at the solution (the implicit-function theorem), so that a fit needs no
finite differences.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.duct_paths import DUCT_EXPONENT, DUCTS, Ducts, leak_coefficient
from rooftree.engine.gauges import set_up
from rooftree.engine.network import SMOOTHING
from rooftree.fit.observations import GAUGE, Quantity
from rooftree.fit.unknowns import INSIDE_DUCT_LEAK, Role, has_ducts, runs_outside
from rooftree.house import Leak

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.engine.gauges import GaugedHouse, Standing
    from rooftree.fit.observations import Observation, State, Term
    from rooftree.fit.unknowns import Unknown
    from rooftree.house import House

PIVOT = 50.0
"""Pressure at which a leak keeps its flow while its exponent is shifted [Pa]."""

MOST_LOST = 0.95
"""Share of the air handler's flow that one side can leak at most [0-1]."""

LOWEST_EXPONENT, HIGHEST_EXPONENT = 0.5, 1.0


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """One state in balance, with derivatives by the unknowns.

    Attributes
    ----------
    pressure : ndarray, shape (n_places,)
        Of each body of air with reference to outdoors [Pa].
    flow : ndarray, shape (n_places,)
        Volume that test fans force into each, at the density of the air in the fan [m³/s].
    by_pressure, by_flow : ndarray, shape (n_places, n_unknowns)
        Their derivatives.
    """

    pressure: NDArray[np.float64]
    flow: NDArray[np.float64]
    by_pressure: NDArray[np.float64]
    by_flow: NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class _Registers:
    """Registers of one side, which pass what its leaks leave of the air handler's flow.

    Attributes
    ----------
    rows : ndarray of int64
        Their paths.
    leakage : ndarray, shape (n_runs,)
        Of the runs of that side as described [0-1].
    size : ndarray, shape (n_runs, n_unknowns)
        Which unknowns act on which run.
    """

    rows: NDArray[np.int64]
    leakage: NDArray[np.float64]
    size: NDArray[np.float64]

    @classmethod
    def of(
        cls, house: House, side: str, ids: list[str], unknowns: tuple[Unknown, ...]
    ) -> _Registers:
        """Return the registers of one side of a house."""
        runs = [run for run in house.ducts if run.side == side]
        rows = [i for i, name in enumerate(ids) if name.startswith(f"{side} registers of ")]
        roles = {Role.SIZE, Role.COMMON}
        return cls(
            np.array(rows, dtype=np.int64),
            np.array([run.leakage for run in runs]),
            _membership([run.id for run in runs], unknowns, roles),
        )

    def left(self, unknown: NDArray[np.float64]) -> tuple[float, NDArray[np.float64]]:
        """Return their size over that described, and the derivatives of its logarithm."""
        leaks = self.leakage * np.exp(self.size @ unknown)
        lost = float(leaks.sum())
        if lost >= MOST_LOST:
            return (1.0 - MOST_LOST) / (1.0 - self.leakage.sum()), np.zeros(unknown.size)
        slope = -(leaks @ self.size) / (1.0 - lost)
        return (1.0 - lost) / (1.0 - float(self.leakage.sum())), slope


class TrialState:
    """One state of a house, ready to be solved for any unknowns.

    Parameters
    ----------
    house : House
        As described.
    state : State
        The state.
    unknowns : tuple of Unknown
        In the order of the vector.
    """

    def __init__(self, house: House, state: State, unknowns: tuple[Unknown, ...]) -> None:
        self.gauged: GaugedHouse = set_up(house, state.setting, ((), _inside_leak(house, state)))
        ids = [leak.id for leak in self.gauged.paths.leaks]
        self._size = _membership(ids, unknowns, {Role.SIZE, Role.COMMON, Role.TEST})
        self._bend = _membership(ids, unknowns, {Role.EXPONENT})
        self._targets = {
            self.gauged.fan if place == GAUGE else self.gauged.place(place): pressure
            for place, pressure in state.held
        }
        self._driven_by_run, self._run_size = _driven_by_runs(house, state, unknowns)
        self._registers = tuple(
            _Registers.of(house, side, ids, unknowns) for side in ("supply", "return")
        )
        self._last: Standing | None = None

    def solve(self, unknown: NDArray[np.float64]) -> Solved:
        """Solve the state for some unknowns.

        Parameters
        ----------
        unknown : ndarray, shape (n_unknowns,)
            Logarithms of factors and shifts of exponents [-].
        """
        gauged, log_size, bendable = self._resized(unknown)
        start = None if self._last is None else self._last.forced
        standing = gauged.hold(self._targets, start)
        self._last = standing
        slopes = gauged.slopes(standing.balance)
        by_exponent = 0.5 * np.log(slopes.across**2 + SMOOTHING**2) - math.log(PIVOT)
        flow = standing.balance.flow[:, None]
        by_path = flow * (log_size + self._bend * (bendable * by_exponent)[:, None])
        net = np.zeros((len(gauged.places) + 1, unknown.size))
        np.subtract.at(net, gauged.paths.first, by_path)
        np.add.at(net, gauged.paths.second, by_path)
        net = net[:-1] + self._driven_by_run @ (
            np.exp(self._run_size @ unknown)[:, None] * self._run_size
        )
        by_pressure = slopes.gain @ net
        by_forced = np.zeros_like(by_pressure)
        held = list(self._targets)
        if held:
            corner = slopes.gain[np.ix_(held, held)]
            by_forced[held] = -np.linalg.solve(corner, by_pressure[held])
            by_pressure = by_pressure + slopes.gain[:, held] @ by_forced[held]
        density = np.where(standing.forced < 0.0, gauged.density[:-1], gauged.density[-1])
        return Solved(
            standing.pressure,
            standing.forced / density,
            by_pressure,
            by_forced / density[:, None],
        )

    def _resized(
        self, unknown: NDArray[np.float64]
    ) -> tuple[GaugedHouse, NDArray[np.float64], NDArray[np.float64]]:
        """Return the house with other leaks, and how sizes and exponents answer."""
        paths = self.gauged.paths
        shift = self._bend @ unknown
        free = paths.exponent + shift
        exponent = np.clip(free, LOWEST_EXPONENT, HIGHEST_EXPONENT)
        bendable = ((free > LOWEST_EXPONENT) & (free < HIGHEST_EXPONENT)).astype(np.float64)
        factor = np.exp(self._size @ unknown) * PIVOT ** (paths.exponent - exponent)
        log_size = self._size.copy()
        for registers in self._registers:
            if registers.rows.size:
                left, slope = registers.left(unknown)
                factor[registers.rows] *= left
                log_size[registers.rows] += slope
        resized = replace(paths, coefficient=paths.coefficient * factor, exponent=exponent)
        more = self._driven_by_run @ (np.exp(self._run_size @ unknown) - 1.0)
        driven = self.gauged.driven + more
        return replace(self.gauged, paths=resized, driven=driven), log_size, bendable

    def index(self, place: str) -> int:
        """Return the index of a place; of the gauge's space for `GAUGE`."""
        return self.gauged.fan if place == GAUGE else self.gauged.place(place)


class Trial:
    """A house and observations of it, simulated together.

    Parameters
    ----------
    house : House
        As described.
    observations : tuple of Observation
        What is to be given back.
    unknowns : tuple of Unknown
        In the order of the vector.
    """

    def __init__(
        self,
        house: House,
        observations: tuple[Observation, ...],
        unknowns: tuple[Unknown, ...],
    ) -> None:
        self.observations = observations
        self._position = {unknown.key: i for i, unknown in enumerate(unknowns)}
        states = dict.fromkeys(term.state for one in observations for term in one.terms)
        self._states = {state: TrialState(house, state, unknowns) for state in states}

    def simulate(
        self, unknown: NDArray[np.float64]
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Return every observation as simulated, and its derivatives.

        Parameters
        ----------
        unknown : ndarray, shape (n_unknowns,)
            Logarithms of factors and shifts of exponents [-].

        Returns
        -------
        tuple of ndarray
            Shapes (n_observations,) and (n_observations, n_unknowns), in the unit of each.
        """
        solved = {state: trial.solve(unknown) for state, trial in self._states.items()}
        values = np.zeros(len(self.observations))
        slopes = np.zeros((len(self.observations), unknown.size))
        for row, observation in enumerate(self.observations):
            for term in observation.terms:
                value, slope = self._term(term, solved[term.state])
                values[row] += term.weight * value
                slopes[row] += term.weight * slope
            for key, weight in observation.of_the_test:
                values[row] += weight * unknown[self._position[key]]
                slopes[row, self._position[key]] += weight
        return values, slopes

    def _term(self, term: Term, solved: Solved) -> tuple[float, NDArray[np.float64]]:
        trial = self._states[term.state]
        i = trial.index(term.place)
        if term.quantity is Quantity.PRESSURE:
            if term.against is None:
                return float(solved.pressure[i]), solved.by_pressure[i]
            j = trial.index(term.against)
            return (
                float(solved.pressure[i] - solved.pressure[j]),
                solved.by_pressure[i] - solved.by_pressure[j],
            )
        flow = float(solved.flow[i])
        if term.quantity is Quantity.FLOW:
            return flow, solved.by_flow[i]
        size = max(abs(flow), 1e-12)
        return math.log(size), solved.by_flow[i] * math.copysign(1.0 / size, flow)


def _membership(
    ids: list[str], unknowns: tuple[Unknown, ...], roles: set[Role]
) -> NDArray[np.float64]:
    """Return which unknowns of some roles act on which leaks, as ones and zeros."""
    matrix = np.zeros((len(ids), len(unknowns)))
    for column, unknown in enumerate(unknowns):
        if unknown.role in roles and unknown.members:
            for row, name in enumerate(ids):
                matrix[row, column] = name in unknown.members
    return matrix


def _inside_leak(house: House, state: State) -> tuple[Leak, ...]:
    """Return the leak from ducts into the living spaces where the house tells of none."""
    setting = state.setting
    joined = setting.ducts is not Ducts.LEFT_OUT and not setting.air_handler
    if not joined or runs_outside(house) != house.ducts:
        return ()
    main = max(house.living_spaces, key=lambda space: space.volume)
    coefficient = leak_coefficient(house, sum(run.leakage for run in house.ducts))
    return (
        Leak(INSIDE_DUCT_LEAK, "duct leaks into the living space", DUCTS, main.id,
             main.floor_level, None, coefficient, DUCT_EXPONENT),
    )  # fmt: skip


def _driven_by_runs(
    house: House, state: State, unknowns: tuple[Unknown, ...]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return what each duct run forces into each space as described, and what it follows.

    Only where the ducts are left out while the air handler runs; else the paths say it.
    """
    setting = state.setting
    runs = [run.id for run in runs_outside(house)]
    if not setting.air_handler or setting.ducts is not Ducts.LEFT_OUT or not has_ducts(house):
        return np.zeros((len(set_up(house, setting).places), 0)), np.zeros((0, len(unknowns)))
    columns = []
    for run in runs:
        alone = replace(house, ducts=tuple(each for each in house.ducts if each.id == run), fans=())
        columns.append(set_up(alone, replace(setting, running=())).driven)
    membership = _membership(runs, unknowns, {Role.SIZE, Role.COMMON})
    return np.array(columns).T, membership
