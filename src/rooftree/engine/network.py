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

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numba import njit

from rooftree.engine.paths import require_paths_outdoors, spaces_cut_off
from rooftree.engine.power import SAFE_MATH, power
from rooftree.errors import HouseError, OutOfRangeError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

__all__ = [
    "BALANCED", "GRAVITY", "MOST_SWEEPS", "SMOOTHING", "Balance", "make_scratch",
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

MOST_SWEEPS = 60
"""Sweeps after which the solver stops; the imbalance that it returns tells."""

ACROSS, DRIVE, MEAN, HALF, SLOPE, BEND, PATH_ROWS = 0, 1, 2, 3, 4, 5, 6
"""Rows of the scratch array of the paths: pressure difference and its part from stack and
wind [Pa], half sum and half difference of ``coefficient * density`` on the two sides,
slope of the flow [kg/(s·Pa)], bound on half its second derivative, and their number."""


@njit(cache=True, inline="always")
def eliminate(matrix: Any, right: Any, step: Any, n: int) -> None:
    """Solve the symmetric positive system ``matrix @ step = right``.

    Parameters
    ----------
    matrix : ndarray, shape (n + 1, n + 1)
        Lower triangle of the system [kg/(s·Pa)]; destroyed.
    right : ndarray, shape (n + 1,)
        Right-hand side [kg/s].
    step : ndarray, shape (n + 1,)
        Filled with the solution [Pa].
    n : int
        Number of unknowns.

    Notes
    -----
    From the last space to the first: buffer spaces, which usually come last, join few
    others, so that little fills in on the way.
    """
    for i in range(n):
        step[i] = right[i]
    for j in range(n - 1, -1, -1):
        pivot = 1.0 / matrix[j, j]
        for i in range(j):
            if matrix[j, i] != 0.0:
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


@njit(cache=True, inline="always")
def assemble(first: Any, second: Any, flow: Any, slope: Any, net: Any, matrix: Any) -> None:
    """Add flows and slopes of all paths to the balance of the spaces they join.

    Parameters
    ----------
    first, second : ndarray of int64, shape (n_paths,)
        Spaces that each path joins; `n` is outdoors.
    flow : ndarray, shape (n_paths,)
        Mass flow from first to second [kg/s].
    slope : ndarray, shape (n_paths,)
        Its derivative by the pressure difference [kg/(s·Pa)].
    net : ndarray, shape (n + 1,)
        Net inflow of each space [kg/s]; added to.
    matrix : ndarray, shape (n + 1 or more, n + 1)
        Minus its derivative by the pressures [kg/(s·Pa)], lower triangle; overwritten.

    Notes
    -----
    Runs of paths that join the same two spaces are summed before they are stored: a
    house whose paths are sorted by the spaces they join is solved faster.
    """
    matrix[: net.shape[0], :] = 0.0
    p, paths = 0, first.shape[0]
    while p < paths:
        i, j = first[p], second[p]
        f, g = 0.0, 0.0
        while p < paths and first[p] == i and second[p] == j:
            f += flow[p]
            g += slope[p]
            p += 1
        net[i] -= f
        net[j] += f
        matrix[i, i] += g
        matrix[j, j] += g
        matrix[max(i, j), min(i, j)] -= g


@njit(cache=True, inline="always")
def follow_law(exponent: Any, paths: Any, flow: Any) -> None:
    """Fill flow, slope and bend of every path at its pressure difference.

    Parameters
    ----------
    exponent : ndarray, shape (n_paths,)
        Pressure exponents [-].
    paths : ndarray, shape (PATH_ROWS, n_paths)
        Scratch array: rows `SLOPE` and `BEND` are filled [kg/s] over powers of [Pa].
    flow : ndarray, shape (n_paths,)
        Filled with the mass flows from first to second [kg/s].
    """
    across, mean, half = paths[ACROSS], paths[MEAN], paths[HALF]
    slope, bend = paths[SLOPE], paths[BEND]
    for p in range(exponent.shape[0]):
        x, n = across[p], exponent[p]
        u = x * x + SMOOTHING * SMOOTHING
        reciprocal = 1.0 / math.sqrt(u)
        t = x * reciprocal
        near = 1.0 - t * t
        w = power(u, 0.5 * n - 0.5)
        c = mean[p] + half[p] * t
        flow[p] = c * x * w
        slope[p] = w * (c * (n + (1.0 - n) * near) + half[p] * t * near)
        bend[p] = 0.5 * c * w * reciprocal


@njit(cache=True, inline="always")
def start(
    pressure: Any,
    density: Any,
    first: Any,
    second: Any,
    level: Any,
    coefficient: Any,
    wind_pressure: Any,
    supply: Any,
    flow: Any,
    paths: Any,
    spaces: Any,
) -> None:
    """Set the forcing of the hour and carry the last solution along its tangent.

    Parameters
    ----------
    pressure, density, first, second, level, coefficient, wind_pressure, supply, flow : ndarray
        As for `solve_network` [mixed units].
    paths, spaces : ndarray
        Scratch arrays [mixed units].
    """
    n = pressure.shape[0]
    net, step, before, full = spaces[n + 1], spaces[n + 2], spaces[n + 3], spaces[n + 4]
    across, drive, mean, half = paths[ACROSS], paths[DRIVE], paths[MEAN], paths[HALF]
    known = before[n] == 1.0
    for i in range(n):
        net[i] = supply[i] - before[i]
        before[i] = supply[i]
        full[i] = pressure[i]
    full[n], net[n], step[n], before[n] = 0.0, 0.0, 0.0, 1.0
    for p in range(first.shape[0]):
        i, j = first[p], second[p]
        one, other = density[i], density[j]
        wind = wind_pressure[p] if i == n else -wind_pressure[p] if j == n else 0.0
        forcing = (other - one) * GRAVITY * level[p] + wind
        mean[p] = 0.5 * coefficient[p] * (one + other)
        half[p] = 0.5 * coefficient[p] * (one - other)
        flow[p] = paths[SLOPE, p] * (forcing - drive[p])
        drive[p] = forcing
    if known:
        assemble(first, second, flow, paths[SLOPE], net, spaces)
        eliminate(spaces, net, step, n)
        for i in range(n):
            full[i] += step[i]
    for p in range(first.shape[0]):
        across[p] = full[first[p]] - full[second[p]] + drive[p]


@njit(cache=True, inline="always")
def cut_back(first: Any, second: Any, descent: float, paths: Any, spaces: Any) -> float:
    """Take back part of a step that went too far past the minimum along its direction.

    Parameters
    ----------
    first, second : ndarray of int64, shape (n_paths,)
        Spaces that each path joins.
    descent : float
        Slope along the step at its start [kg·Pa/s], > 0.
    paths, spaces : ndarray
        Scratch arrays [mixed units].

    Returns
    -------
    float
        Share of the step that is kept [0-1]; 1 if it did not go too far.
    """
    n = spaces.shape[1] - 1
    net, step, full = spaces[n + 1], spaces[n + 2], spaces[n + 4]
    ahead = 0.0
    for i in range(n):
        ahead += net[i] * step[i]
    if ahead >= -OVERSHOOT * descent:
        return 1.0
    kept = descent / (descent - ahead)
    for p in range(first.shape[0]):
        paths[ACROSS, p] -= (1.0 - kept) * (step[first[p]] - step[second[p]])
    for i in range(n):
        full[i] -= (1.0 - kept) * step[i]
        step[i] *= kept
    return kept


@njit(cache=True, inline="always")
def advance(first: Any, second: Any, flow: Any, paths: Any, step: Any) -> float:
    """Move pressure differences and flows along the tangent; return what that leaves out.

    Parameters
    ----------
    first, second : ndarray of int64, shape (n_paths,)
        Spaces that each path joins.
    flow : ndarray, shape (n_paths,)
        Mass flows from first to second [kg/s].
    paths : ndarray
        Scratch array [mixed units].
    step : ndarray, shape (n + 1,)
        Change of the pressure of each space [Pa], 0 outdoors.

    Returns
    -------
    float
        Sum over all paths of the bound on the part of second order [kg/s].
    """
    left = 0.0
    for p in range(first.shape[0]):
        d = step[first[p]] - step[second[p]]
        paths[ACROSS, p] += d
        flow[p] += paths[SLOPE, p] * d
        left += paths[BEND, p] * d * d
    return left


@njit(cache=True, fastmath=SAFE_MATH, error_model="numpy")
def solve_network(
    pressure: Any,
    density: Any,
    first: Any,
    second: Any,
    level: Any,
    coefficient: Any,
    exponent: Any,
    wind_pressure: Any,
    supply: Any,
    flow: Any,
    paths: Any,
    spaces: Any,
) -> float:
    """Find the pressures at which every space gains as much air as it loses.

    Parameters
    ----------
    pressure : ndarray, shape (n_spaces,)
        Pressure of each space at level 0 against outdoor air at level 0 [Pa]; the start
        on entry, the solution on return.
    density : ndarray, shape (n_spaces + 1,)
        Density of each space, last outdoors [kg/m³].
    first, second : ndarray of int64, shape (n_paths,)
        Spaces that each path joins; `n_spaces` is outdoors.
    level : ndarray, shape (n_paths,)
        Height of each path above the ground [m].
    coefficient : ndarray, shape (n_paths,)
        Leakage coefficients [m³/(s·Paⁿ)].
    exponent : ndarray, shape (n_paths,)
        Pressure exponents [-], 0.5 to 1.
    wind_pressure : ndarray, shape (n_paths,)
        Pressure of the wind on the outdoor side of each path [Pa].
    supply : ndarray, shape (n_spaces,)
        Net mass forced into each space by fans and ducts [kg/s].
    flow : ndarray, shape (n_paths,)
        Filled with the mass flow from first to second [kg/s].
    paths, spaces : ndarray
        Scratch from `make_scratch` [mixed units], kept from hour to hour: it remembers
        the last solution, from which the next one is predicted.

    Returns
    -------
    float
        Bound on the imbalance of any space by the path law at the final pressures
        [kg/s]; above `BALANCED` only if `MOST_SWEEPS` did not suffice. The flows
        themselves balance to rounding.

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
    law, is below `BALANCED` in sum over all paths.
    """
    n = pressure.shape[0]
    start(
        pressure,
        density,
        first,
        second,
        level,
        coefficient,
        wind_pressure,
        supply,
        flow,
        paths,
        spaces,
    )
    descent = -1.0
    left = 0.0
    for _ in range(MOST_SWEEPS):
        follow_law(exponent, paths, flow)
        for i in range(n):
            spaces[n + 1, i] = supply[i]
        assemble(first, second, flow, paths[SLOPE], spaces[n + 1], spaces)
        if descent > 0.0:
            kept = cut_back(first, second, descent, paths, spaces)
            if kept < 1.0:
                descent *= kept
                continue
        eliminate(spaces, spaces[n + 1], spaces[n + 2], n)
        descent = 0.0
        for i in range(n):
            descent += spaces[n + 1, i] * spaces[n + 2, i]
            spaces[n + 4, i] += spaces[n + 2, i]
        left = advance(first, second, flow, paths, spaces[n + 2])
        if left <= BALANCED:
            break
    for i in range(n):
        pressure[i] = spaces[n + 4, i]
    return left


def make_scratch(spaces: int, paths: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the two scratch arrays of `solve_network`, empty of any memory.

    Parameters
    ----------
    spaces, paths : int
        Numbers of spaces and paths.

    Returns
    -------
    tuple of ndarray
        Rows for the paths and rows for the spaces.
    """
    return np.zeros((PATH_ROWS, paths)), np.zeros((spaces + 5, spaces + 1))


_POLISHES = 3


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
    n, m = air.size - 1, one.size
    power_law = np.array(exponent, dtype=np.float64)
    for value in power_law[~((power_law >= 0.5) & (power_law <= 1.0))]:
        raise OutOfRangeError("exponent", float(value), 0.5, 1.0, "-")
    size = np.array(coefficient, dtype=np.float64)
    for space in spaces_cut_off(n, one[size > 0.0], other[size > 0.0]):
        message = f"space {space} has no path for air to outdoors, not even through other spaces"
        raise HouseError(message)
    pressure, flow, scratch = np.zeros(n), np.zeros(m), make_scratch(n, m)
    heights = np.array(level, dtype=np.float64)
    wind = np.array(np.broadcast_to(wind_pressure, m), dtype=np.float64)
    forced = np.array(np.broadcast_to(supply, n), dtype=np.float64)
    for _ in range(_POLISHES):  # from its own result each goes on where the last one stopped
        imbalance = solve_network(
            pressure, air, one, other, heights, size, power_law, wind, forced, flow, *scratch
        )
    if not imbalance <= BALANCED:
        message = f"no balance of air was found within {MOST_SWEEPS} sweeps"
        raise HouseError(message)
    return Balance(pressure, flow, float(imbalance))
