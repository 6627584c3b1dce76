"""The air network of one house in one hour: leaks, vents, doors and fans in balance.

Every space has one unknown, its pressure. The flow of each path follows from the
pressures on its two sides, and the pressures are right when as much air enters each
space as leaves it. The function that is minimized on the way is convex, so there is one
answer and the damped steps below always come to it.

Sources
-------
[WALTON1989] Walton, G. N., NISTIR 89-4072, 1989 (recalled): path law and Newton's method.
[HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 16: stack and wind at a path.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from rooftree.engine.arrays import Flows, Paths, read_flows, read_paths
from rooftree.engine.compiled import compile_entry, on_lanes
from rooftree.engine.lanes import addresses, any_of, lane, lanes_of, root, select, spread
from rooftree.engine.paths import require_paths_outdoors, spaces_cut_off
from rooftree.engine.power import power
from rooftree.errors import HouseError, OutOfRangeError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

__all__ = [
    "BALANCED", "GRAVITY", "MOST_SWEEPS", "SMOOTHING", "Balance", "Network", "make_flows",
    "require_paths_outdoors", "solve_network", "solve_once",
]  # fmt: skip

GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s²]."""

SMOOTHING = 0.01
"""Pressure difference below which a leak turns laminar [Pa]: the `eps` of the path law."""

BALANCED = 1e-6
"""Imbalance by the path law that the last, linear step may leave [kg/s]."""

OVERSHOOT = 0.5
"""Share of its initial slope with which a step may run uphill before it is cut back [-]."""

MOST_SWEEPS, FEW_SWEEPS = 60, 2
"""Sweeps after which the solver stops, in hours that count and in those of a rough start; the
imbalance that it returns tells."""


@on_lanes
def eliminate(matrix: Any, right: Any, step: Any, n: int) -> None:
    """Solve the symmetric positive system ``matrix @ step = right`` [kg/(s·Pa)], [kg/s], [Pa].

    `matrix` holds the lower triangle and is destroyed. From the last space to the first:
    buffer spaces, which usually come last, join few others, so that little fills in on
    the way.
    """
    for i in range(n):
        step[i] = right[i]
    for j in range(n - 1, -1, -1):
        pivot = 1.0 / matrix[j, j]
        for i in range(j):
            if any_of(abs(matrix[j, i]) > 0.0):
                factor = matrix[j, i] * pivot
                step[i] -= factor * step[j]
                for k in range(i + 1):
                    matrix[i, k] -= factor * matrix[j, k]
        for i in range(j):
            matrix[j, i] *= pivot
        step[j] *= pivot
    for j in range(1, n):
        total = step[j]
        for i in range(j):
            total -= matrix[j, i] * step[i]
        step[j] = total


@on_lanes
def assemble(paths: Any, flow: Any, slope: Any, net: Any, matrix: Any) -> None:
    """Add flows [kg/s] and slopes [kg/(s·Pa)] of all paths to the balance of their spaces.

    `net` [kg/s], with one entry more than spaces, is added to; `matrix`, minus its
    derivative by the pressures, is overwritten in its lower triangle. Runs of paths that
    join the same two spaces are summed before they are stored.
    """
    for i in range(paths.spaces + 1):
        for j in range(i + 1):
            matrix[i, j] = spread(0.0)
    first, second = paths.first, paths.second
    p = 0
    while p < paths.count:
        i, j = first[p], second[p]
        f, g = spread(0.0), spread(0.0)
        while p < paths.count and first[p] == i and second[p] == j:
            f += flow[p]
            g += slope[p]
            p += 1
        net[i] -= f
        net[j] += f
        matrix[i, i] += g
        matrix[j, j] += g
        matrix[max(i, j), min(i, j)] -= g


@on_lanes
def follow_law(paths: Any, flows: Any, going: Any) -> None:
    """Fill flow, slope and bend of every path at its pressure difference.

    Only in the lanes that are still going; the others have found their balance.
    """
    for p in range(paths.count):
        x, n = flows.across[p], paths.exponent[p]
        u = x * x + SMOOTHING * SMOOTHING
        reciprocal = 1.0 / root(u)
        t = x * reciprocal
        near = 1.0 - t * t
        w = power(u, 0.5 * n - 0.5)
        half = flows.half[p]
        c = flows.mean[p] + half * t
        slope = w * (c * (n + (1.0 - n) * near) + half * t * near)
        flows.flow[p] = select(going, c * x * w, flows.flow[p])
        flows.slope[p] = select(going, slope, flows.slope[p])
        flows.bend[p] = 0.5 * c * w * reciprocal


@on_lanes
def start(paths: Any, flows: Any) -> None:
    """Set the forcing of the hour and carry the last solution along its tangent."""
    n = paths.spaces
    net, step, before, full = flows.net, flows.step, flows.before, flows.full
    density, drive, mean, half = flows.density, flows.drive, flows.mean, flows.half
    for i in range(n):
        net[i] = flows.supply[i] - before[i]
        before[i] = flows.supply[i]
        full[i] = flows.pressure[i]
    known = before[n] > 0.5
    full[n] = spread(0.0)
    net[n] = spread(0.0)
    step[n] = spread(0.0)
    before[n] = spread(1.0)
    for p in range(paths.count):
        i, j = paths.first[p], paths.second[p]
        one, other, c = density[i], density[j], flows.coefficient[p]
        forcing = (other - one) * (GRAVITY * paths.level[p])
        if i == n:
            forcing += flows.wind[p]
        elif j == n:
            forcing -= flows.wind[p]
        mean[p] = 0.5 * c * (one + other)
        half[p] = 0.5 * c * (one - other)
        flows.flow[p] = flows.slope[p] * (forcing - drive[p])
        drive[p] = forcing
    if any_of(known):
        assemble(paths, flows.flow, flows.slope, net, flows.matrix)
        eliminate(flows.matrix, net, step, n)
        for i in range(n):
            full[i] += select(known, step[i], spread(0.0))
    for p in range(paths.count):
        flows.across[p] = full[paths.first[p]] - full[paths.second[p]] + drive[p]


@on_lanes
def cut_back(paths: Any, flows: Any, descent: Any) -> Any:
    """Take back part of a step that went too far past the minimum along its direction.

    `descent` is the slope along the step at its start [kg·Pa/s]. Returns the share of the
    step that is kept [0-1]; 1 in the lanes where it did not go too far.
    """
    n = paths.spaces
    ahead = spread(0.0)
    for i in range(n):
        ahead += flows.net[i] * flows.step[i]
    too_far = (descent > 0.0) & (ahead < -OVERSHOOT * descent)
    if not any_of(too_far):
        return spread(1.0)
    kept = select(too_far, descent / (descent - ahead), spread(1.0))
    for p in range(paths.count):
        moved = flows.step[paths.first[p]] - flows.step[paths.second[p]]
        flows.across[p] -= (1.0 - kept) * moved
    for i in range(n):
        flows.full[i] -= (1.0 - kept) * flows.step[i]
        flows.step[i] *= kept
    return kept


@on_lanes
def advance(paths: Any, flows: Any) -> Any:
    """Move pressure differences and flows along the tangent; return what that leaves out.

    That is the sum over all paths of the bound on the part of second order [kg/s].
    """
    left = spread(0.0)
    for p in range(paths.count):
        d = flows.trial[paths.first[p]] - flows.trial[paths.second[p]]
        flows.across[p] += d
        flows.flow[p] += flows.slope[p] * d
        left += flows.bend[p] * (d * d)
    return left


@on_lanes
def solve_network(paths: Any, flows: Any, sweeps: int) -> Any:
    """Find the pressures at which every space gains as much air as it loses.

    Reads density, supply, coefficient and wind of `flows`; fills `pressure`, which is also
    the start, and `flow`, in at most so many `sweeps`. `flows` remembers the last solution,
    from which the next one is predicted.

    Returns
    -------
    lanes
        Bound on the imbalance of any space by the path law at the final pressures [kg/s];
        above `BALANCED` only if the sweeps did not suffice. The flows themselves balance
        to rounding.

    Notes
    -----
    Path law: ``flow = rho * C * x * (x**2 + eps**2) ** ((n - 1) / 2)``, where `x` is
    the pressure difference, ``(P1 - rho1 g z) - (P2 - rho2 g z)``, and `rho` blends from
    one side's density to the other's over `eps` as ``x / sqrt(x**2 + eps**2)``. Against
    the sharp law, flow is low by the share ``(1 - n) / 2 * (eps / x)**2``: with
    ``eps = 0.01 Pa`` and ``n = 0.5`` that is 2.5e-5 at 1 Pa and 2.5e-3 at 0.1 Pa.

    Newton's method. Before the first sweep the last solution is carried along its
    tangent to the new forcing. A step past the minimum along its own direction by more
    than half is cut back by the secant. Each step's linear flows balance exactly; the
    step is the last one when what they leave out, bounded by the curvature of the path
    law, is below `BALANCED` in sum over all paths. A lane that has come there rests while
    the others go on, so that its answer does not depend on its neighbours.
    """
    n = paths.spaces
    start(paths, flows)
    nothing = spread(0.0)
    flows.trial[n] = nothing
    descent, left = spread(-1.0), spread(1.0)
    going = left > BALANCED
    for _ in range(sweeps):
        follow_law(paths, flows, going)
        for i in range(n):
            flows.net[i] = flows.supply[i]
        flows.net[n] = nothing
        assemble(paths, flows.flow, flows.slope, flows.net, flows.matrix)
        kept = cut_back(paths, flows, select(going, descent, spread(-1.0)))
        whole = going & (kept >= 1.0)
        descent = descent * kept
        eliminate(flows.matrix, flows.net, flows.trial, n)
        slope = nothing
        for i in range(n):
            trial = select(whole, flows.trial[i], nothing)
            slope += flows.net[i] * trial
            flows.full[i] += trial
            flows.trial[i] = trial
            flows.step[i] = select(whole, trial, flows.step[i])
        descent = select(whole, slope, descent)
        left = select(whole, advance(paths, flows), left)
        going = left > BALANCED
        if not any_of(going):
            break
    for i in range(n):
        flows.pressure[i] = flows.full[i]
    return left


_POLISHES = 3


def make_flows(spaces: int, paths: int) -> Flows:
    """Return the flows of `solve_network`, empty of any memory.

    Parameters
    ----------
    spaces, paths : int
        Numbers of spaces and paths.

    Returns
    -------
    Flows
    """
    more, of_paths = spaces + 1, {"flow", "coefficient", "wind", "across", "drive"}
    of_paths |= {"mean", "half", "slope", "bend"}
    shapes: dict[str, tuple[int, ...]] = dict.fromkeys(Flows._fields, (more,))
    shapes |= dict.fromkeys(of_paths, (paths,))
    shapes |= {"pressure": (spaces,), "supply": (spaces,)}
    shapes["matrix"] = (more, more)
    return Flows(**{name: lanes_of(*shape) for name, shape in shapes.items()})


@dataclass(frozen=True, slots=True, eq=False)
class Balance:
    """A network in balance.

    Attributes
    ----------
    pressure : ndarray, shape (n_spaces,)
        Of each space at level 0 against outdoor air at level 0 [Pa].
    flow : ndarray, shape (n_paths,)
        Mass flow from first to second of each path [kg/s].
    imbalance : float
        Bound on the imbalance of any space by the path law [kg/s].
    """

    pressure: NDArray[np.float64]
    flow: NDArray[np.float64]
    imbalance: float


def solve_once(
    density: ArrayLike,
    first: ArrayLike,
    second: ArrayLike,
    level: ArrayLike,
    coefficient: ArrayLike,
    exponent: ArrayLike,
    *,
    wind_pressure: ArrayLike = 0.0,
    supply: ArrayLike = 0.0,
) -> Balance:
    """Solve one network from rest: `solve_network` for use from Python.

    Parameters
    ----------
    density : array_like, shape (n_spaces + 1,)
        Density of each space, last outdoors [kg/m³].
    first, second : array_like of int, shape (n_paths,)
        Spaces that each path joins [-]; `n_spaces` is outdoors.
    level : array_like, shape (n_paths,)
        Height of each path above the ground [m].
    coefficient : array_like, shape (n_paths,)
        Leakage coefficients [m³/(s·Paⁿ)].
    exponent : array_like, shape (n_paths,)
        Pressure exponents [-], 0.5 to 1.
    wind_pressure : array_like, scalar or shape (n_paths,)
        Pressure of the wind on the outdoor side of each path [Pa].
    supply : array_like, scalar or shape (n_spaces,)
        Net mass forced into each space by fans and ducts [kg/s].

    Returns
    -------
    Balance

    Raises
    ------
    OutOfRangeError
        If an exponent is outside 0.5 to 1.
    HouseError
        If a space has no path to outdoors, or no balance is found.

    Examples
    --------
    Half a cubic metre a second drawn from a space with one crack.

    >>> balance = solve_once([1.2, 1.2], [0], [1], [0.0], [0.05], [0.65], supply=[-0.6])
    >>> round(float(balance.pressure[0]), 3)
    -34.551
    """
    air = np.array(density, dtype=np.float64)
    one, other = np.array(first, dtype=np.int64), np.array(second, dtype=np.int64)
    n = air.size - 1
    power_law = np.array(exponent, dtype=np.float64)
    for value in power_law[~((power_law >= 0.5) & (power_law <= 1.0))]:
        raise OutOfRangeError("exponent", float(value), 0.5, 1.0, "-")
    size = np.array(coefficient, dtype=np.float64)
    for space in spaces_cut_off(n, one[size > 0.0], other[size > 0.0]):
        message = f"space {space} has no path for air to outdoors, not even through other spaces"
        raise HouseError(message)
    network = Network(n, one, other, level, size, power_law)
    for _ in range(_POLISHES):  # from its own result each goes on where the last one stopped
        balance = network.solve(air, wind_pressure, supply)
    if not balance.imbalance <= BALANCED:
        message = f"no balance of air was found within {MOST_SWEEPS} sweeps"
        raise HouseError(message)
    return balance


class Network:
    """A network that is solved again and again, each time from its last solution.

    Parameters
    ----------
    spaces : int
        Number of spaces, which itself stands for outdoors.
    first, second, level, coefficient, exponent : array_like
        As for `solve_once`.
    """

    def __init__(
        self, spaces: int, first: ArrayLike, second: ArrayLike, level: ArrayLike,
        coefficient: ArrayLike, exponent: ArrayLike,
    ) -> None:  # fmt: skip
        """Lay the network out in lanes, all alike."""
        one, other = np.array(first, dtype=np.int64), np.array(second, dtype=np.int64)
        self._paths = Paths(
            spaces, one.size, one, other, _in_all_lanes(level), _in_all_lanes(exponent)
        )
        self._flows = make_flows(spaces, one.size)
        self._flows.coefficient[:] = _in_all_lanes(coefficient)
        self._tables = addresses(self._paths), addresses(self._flows)

    def solve(self, density: ArrayLike, wind_pressure: ArrayLike, supply: ArrayLike) -> Balance:
        """Return the balance under this forcing; arguments as for `solve_once`."""
        flows = self._flows
        flows.density[:] = _in_all_lanes(density)
        flows.wind[:] = _in_all_lanes(np.broadcast_to(wind_pressure, flows.wind.shape[:1]))
        flows.supply[:] = _in_all_lanes(np.broadcast_to(supply, flows.supply.shape[:1]))
        imbalance = float(_solve(*self._tables))
        return Balance(flows.pressure[:, 0].copy(), flows.flow[:, 0].copy(), imbalance)


def _in_all_lanes(values: ArrayLike) -> NDArray[np.float64]:
    numbers = np.asarray(values, dtype=np.float64)
    lanes = lanes_of(numbers.size)
    lanes[:] = numbers[:, None]
    return lanes


@compile_entry
def _solve(paths_table: Any, flows_table: Any) -> Any:
    """Solve a network; return the imbalance [kg/s]."""
    return lane(solve_network(read_paths(paths_table), read_flows(flows_table), MOST_SWEEPS), 0)
