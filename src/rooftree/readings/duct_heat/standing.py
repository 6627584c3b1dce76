"""The first minutes after a stand in a hot attic: what the duct itself holds, comes first.

While the fan stands, the air in the run and the inner part of its wall drift to the
temperature round it. When it starts, that air comes out first; then the wall, cooled from
the entering end, keeps warming the air until its store is spent.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.air import moist_air_density
from rooftree.physics.air_films import HEAT_OF_AIR
from rooftree.physics.propagation import Propagated
from rooftree.readings.duct_heat.readings import DuctKind

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from rooftree.readings.duct_heat.readings import DuctHeatTest, DuctRunReading
    from rooftree.readings.duct_heat.run import Run

WALL_STORE = {DuctKind.FLEXIBLE: 250.0, DuctKind.SHEET_METAL: 1900.0, DuctKind.BOARD: 900.0}
"""Heat that the inner wall stores [J/(m²·K)]; ours: film and wire of a flexible duct, 0.5 mm
of steel, the inner half of 25 mm of board of 70 kg/m³."""

BLANKET_STORE = 0.5 * 13.0 * 800.0
"""Heat that the inner half of a glass blanket stores, for a meter of thickness [J/(m³·K)];
ours: 13 kg/m³ at 800 J/(kg·K)."""

STORE_UNCERTAINTY = 0.3
"""Standard uncertainty of the store [0-1], relative; ours."""

STILL_FILM = 4.0
"""Film of still air inside a duct, with radiation across it [W/(m²·K)]; ours."""

CELLS, STEP, STEPS = 8, 5.0, 60
"""Cells along a run [-], step [s] and number of steps: five minutes."""

LONGEST_TRANSIT = 600.0
"""Time through the run beyond which its air as good as stands [s]; ours."""


@dataclass(frozen=True, slots=True)
class Burst:
    """What comes out of a register after the fan stood still.

    Attributes
    ----------
    first : Propagated
        Temperature of the air that comes first [K].
    first_minute : float
        Mean over the first minute [K].
    seconds : Propagated or None
        Until the air helps the room [s]: colder than it when cooling, warmer when heating;
        None where it does not within five minutes.
    energy : float
        Heat brought to the room the wrong way until then [J].
    times, temperatures : tuple of float
        At the register, every few seconds [s] and [K].
    """

    first: Propagated
    first_minute: float
    seconds: Propagated | None
    energy: float
    times: tuple[float, ...]
    temperatures: tuple[float, ...]


def wall_store(reading: DuctRunReading, run: Run) -> float:
    """Return the heat that the wall of one meter of a run stores.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.
    run : Run
        The run.

    Returns
    -------
    float
        [J/(m·K)].
    """
    thickness = max(run.outer_perimeter - run.size.perimeter, 0.0) / (2.0 * np.pi)
    each = WALL_STORE[reading.kind] + BLANKET_STORE * min(thickness, 0.1)
    return float(each * run.size.perimeter)


@dataclass(frozen=True, slots=True)
class Start:
    """A run at the moment its fan starts, or several alike; all arrays of shape (n,).

    Attributes
    ----------
    entering, surroundings : ndarray
        Of the air that enters from then on, and round the run [K].
    store : ndarray
        Heat that one meter of wall stores [J/(m·K)].
    inner, beyond : ndarray
        Resistance of one meter from the air to the wall, and from the wall on [m·K/W].
    capacity_rate : ndarray
        Mass flow times specific heat [W/K].
    length : ndarray
        [m].
    air : ndarray
        Heat that the air in one meter stores [J/(m·K)].
    still : ndarray
        Resistance of one meter from still air to that round it [m·K/W].
    """

    entering: NDArray[np.float64]
    surroundings: NDArray[np.float64]
    store: NDArray[np.float64]
    inner: NDArray[np.float64]
    beyond: NDArray[np.float64]
    capacity_rate: NDArray[np.float64]
    length: NDArray[np.float64]
    air: NDArray[np.float64]
    still: NDArray[np.float64]


def start_of(reading: DuctRunReading, run: Run, pressure: float, factors: ArrayLike) -> Start:
    """Return a run at the moment its fan starts, as noted and with its inputs changed.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.
    run : Run
        The run.
    pressure : float
        Barometric [Pa].
    factors : array_like, shape (n, 7)
        For each variant: what to add to the entering air and the surroundings [K], and
        factors on store, flow, length, wrap and films [-].

    Returns
    -------
    Start
    """
    entering, around, store, flow, length, wrap, film = np.asarray(factors, dtype=float).T
    inner = film * run.inner
    whole = np.array(
        [1.0 / run.conductance(w, f) for w, f in zip(wrap.tolist(), film.tolist(), strict=True)]
    )
    warmth = reading.entering_temperature
    air = moist_air_density(warmth, pressure) * HEAT_OF_AIR * run.size.section
    return Start(
        entering=warmth + entering,
        surroundings=reading.surroundings_temperature + around,
        store=store * wall_store(reading, run),
        inner=inner,
        beyond=whole - inner,
        capacity_rate=flow * run.capacity_rate,
        length=length * run.length,
        air=np.full_like(entering, air),
        still=whole - inner + 1.0 / (STILL_FILM * run.size.perimeter),
    )


def after_standing(start: Start, stood: float) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the temperature at the register after the fan starts.

    Parameters
    ----------
    start : Start
        The run, or several.
    stood : float
        How long the fan stood [s].

    Returns
    -------
    tuple of ndarray, shape (n, steps)
        Times [s] and temperatures [K]: first that of the standing air at time 0, then,
        from when the entering air has come through, that of the run.

    Notes
    -----
    Standing: one store of wall and air, through a still film and the wrap. Running: air
    without store past a wall of :data:`CELLS` cells, each with its film, stepped by the
    trapezoidal rule; before the air that entered has come through, the standing air does.
    """
    kept = np.exp(-stood / ((start.store + start.air) * start.still))
    whole = start.inner + start.beyond
    ran = start.surroundings + (start.entering - start.surroundings) * np.exp(
        -0.5 * start.length / (whole * start.capacity_rate)
    )
    stale = start.surroundings + (ran - start.surroundings) * kept
    cell = start.length / CELLS
    share = -np.expm1(-cell / (start.inner * start.capacity_rate))
    passed = 1.0 - share
    index = np.arange(CELLS)
    ahead = index[:, None] - index[None, :]
    # Air entering each cell, by the walls before it and by what enters the run.
    powers = np.power(passed[:, None, None], np.maximum(ahead - 1, 0)[None])
    from_wall = np.where(ahead[None] > 0, share[:, None, None] * powers, 0.0)
    from_entry = np.power(passed[:, None], index[None])
    given, loss = start.capacity_rate * share / cell, 1.0 / start.beyond
    unit = np.eye(CELLS)[None]
    rate = given[:, None, None] * (from_wall - unit) - loss[:, None, None] * unit
    rate /= start.store[:, None, None]
    drive = given[:, None] * from_entry * start.entering[:, None]
    drive += (loss * start.surroundings)[:, None]
    drive /= start.store[:, None]
    back = np.linalg.inv(unit - 0.5 * STEP * rate)
    wall = np.repeat(stale[:, None], CELLS, axis=1)
    step, push = back @ (unit + 0.5 * STEP * rate), back @ (STEP * drive)[:, :, None]
    walls = _march(step, push[:, :, 0], wall)
    weights = share[:, None] * np.power(passed[:, None], (CELLS - 1 - index)[None])
    found = np.einsum("nck,nc->nk", walls, weights)
    found += (np.power(passed, CELLS) * start.entering)[:, None]
    # Heat that the air in the run holds over the heat that passes in a second.
    transit = start.air * start.length / start.capacity_rate
    times = transit[:, None] + (STEP * np.arange(STEPS + 1))[None]
    zero = np.zeros((stale.size, 1))
    return np.hstack([zero, times]), np.hstack([stale[:, None], found])


def _march(
    step: NDArray[np.float64], push: NDArray[np.float64], wall: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return the cells of the wall at every step, shape (n, cells, steps), by doubling.

    Each state is ``step @ state + push``; with a 1 below it that is one matrix, whose
    squares take all states so far as many steps on.
    """
    n = wall.shape[0]
    matrix = np.zeros((n, CELLS + 1, CELLS + 1))
    matrix[:, :CELLS, :CELLS], matrix[:, :CELLS, CELLS], matrix[:, CELLS, CELLS] = step, push, 1.0
    states = np.concatenate([wall, np.ones((n, 1))], axis=1)[:, :, None]
    while states.shape[2] <= STEPS:
        states = np.concatenate([states, matrix @ states], axis=2)
        matrix = matrix @ matrix
    return states[:, :CELLS, : STEPS + 1]


def reduce_burst(reading: DuctRunReading, run: Run, test: DuctHeatTest) -> Burst | None:
    """Reduce the stand of the fan to what comes out of the register.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.
    run : Run
        The run.
    test : DuctHeatTest
        Room temperature and uncertainties.

    Returns
    -------
    Burst or None
        None where no stand or no room temperature was read, or hardly any air moves.

    Notes
    -----
    Uncertainty by stepping temperatures and store (JCGM 100:2008, 5.1.3 note 2).
    """
    stood, room = reading.standing_time, test.room_temperature
    if stood is None or room is None or stood < 0.0:
        return None
    doubts = (
        test.temperature_uncertainty,
        test.surroundings_uncertainty,
        STORE_UNCERTAINTY,
        test.flow_uncertainty,
        test.length_uncertainty / run.length,
        test.insulation_uncertainty,
        test.film_uncertainty,
    )
    plain = np.array([0.0, 0.0, 1.0, 1.0, 1.0, 1.0, 1.0])
    variants = [plain]
    for i, doubt in enumerate(doubts):
        for sign in (1.0, -1.0):
            changed = plain.copy()
            changed[i] = max(plain[i] + sign * doubt, -50.0 if i < 2 else 0.05)
            variants.append(changed)
    start = start_of(reading, run, test.barometric_pressure, variants)
    times, at_register = after_standing(start, stood)
    if not times[0][1] <= LONGEST_TRANSIT:
        return None
    cooling = reading.entering_temperature < room
    crossings = [
        _crossing(when, curve, room, cooling=cooling)
        for when, curve in zip(times, at_register, strict=True)
    ]
    seconds = None
    if all(crossing is not None for crossing in crossings):
        seconds = _stepped([crossing or 0.0 for crossing in crossings])
    grid = np.arange(0.0, times[0][-1], 1.0)
    curve = _curve(grid, times[0], at_register[0])
    wrong = np.maximum(curve - room if cooling else room - curve, 0.0)
    until = grid <= (crossings[0] if crossings[0] is not None else grid[-1])
    return Burst(
        first=_stepped(at_register[:, 0].tolist()),
        first_minute=float(curve[grid <= 60.0].mean()),
        seconds=seconds,
        energy=float(run.capacity_rate * wrong[until].sum()),
        times=tuple(grid[::3].tolist()),
        temperatures=tuple(curve[::3].tolist()),
    )


def _curve(
    grid: NDArray[np.float64], times: NDArray[np.float64], curve: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return the register's temperature on a grid: the standing air, then the run's."""
    later = np.interp(grid, times[1:], curve[1:])
    return np.where(grid < times[1], curve[0], later)


def _crossing(
    times: NDArray[np.float64], curve: NDArray[np.float64], room: float, *, cooling: bool
) -> float | None:
    """Return when the air at the register begins to help the room [s]."""
    above = curve - room if cooling else room - curve
    if above[0] <= 0.0:
        return 0.0
    helping = np.flatnonzero(above[1:] <= 0.0)
    if not helping.size:
        return None
    k = int(helping[0]) + 1
    if k == 1:
        return float(times[1])
    share = above[k - 1] / (above[k - 1] - above[k])
    return float(times[k - 1] + share * (times[k] - times[k - 1]))


def _stepped(values: list[float]) -> Propagated:
    """Return a value with its uncertainty from values stepped up and down in pairs."""
    halves = [0.5 * (up - down) for up, down in zip(values[1::2], values[2::2], strict=True)]
    standard = float(np.hypot.reduce(halves))
    return Propagated(values[0], standard, values[0] - 2.0 * standard, values[0] + 2.0 * standard)
