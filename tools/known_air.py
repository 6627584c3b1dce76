"""A small network of known leaks, held at a pressure by a fan: what a field test would show."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import brentq

from rooftree.engine.network import solve_once

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

DENSITY = 1.2041
"""Of all air [kg/m³]."""


@dataclass(frozen=True, slots=True)
class Path:
    """One leak: spaces by number, outdoors is the number of spaces; power law in m³/s."""

    first: int
    second: int
    coefficient: float
    exponent: float


def hole(first: int, second: int, area: float, discharge: float = 0.60) -> Path:
    """Return a hole [m²] between two spaces."""
    return Path(first, second, discharge * area * (2.0 / DENSITY) ** 0.5, 0.5)


def pressures(spaces: int, paths: Sequence[Path], flows: Sequence[float]) -> NDArray[np.float64]:
    """Return the pressure of each space [Pa] with flows of fans into each of them [m³/s]."""
    balance = solve_once(
        [DENSITY] * (spaces + 1),
        [path.first for path in paths],
        [path.second for path in paths],
        [0.0] * len(paths),
        [path.coefficient for path in paths],
        [path.exponent for path in paths],
        supply=[DENSITY * flow for flow in flows],
    )
    return np.asarray(balance.pressure)


def hold(
    spaces: int,
    paths: Sequence[Path],
    pressure: float,
    *,
    space: int = 0,
    flows: Sequence[float] | None = None,
) -> tuple[float, NDArray[np.float64]]:
    """Hold one space at a pressure [Pa]; return the fan's flow into it [m³/s] and all pressures.

    `flows` are those of other fans into each space.
    """
    others = np.zeros(spaces) if flows is None else np.asarray(flows, dtype=float)
    one = np.eye(spaces)[space]

    def shown(flow: float) -> float:
        return float(pressures(spaces, paths, others + flow * one)[space]) - pressure

    reach = 0.1
    while shown(-reach) * shown(reach) > 0.0:
        reach *= 4.0
    flow = float(brentq(shown, -reach, reach, xtol=1e-7, rtol=1e-9))
    return flow, pressures(spaces, paths, others + flow * one)


def held_flow(paths: Sequence[Path], held: Sequence[float], space: int) -> float:
    """Return what a fan must blow into one space [m³/s] with every space held at a pressure."""
    every = [*held, 0.0]
    total = 0.0
    for path in paths:
        across = every[path.first] - every[path.second]
        flow = path.coefficient * abs(across) ** path.exponent * float(np.sign(across))
        total += flow * ((path.first == space) - (path.second == space))
    return total
