"""The same air network by a general root finder, step by step: what ours is compared with.

Nothing here is used by the program. The equations are written a second time, plainly, so
that agreement means something.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from scipy.optimize import root

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

GRAVITY, SMOOTHING = 9.80665, 0.01


def path_flows(
    pressure: NDArray[np.float64], network: Mapping[str, NDArray[Any]]
) -> NDArray[np.float64]:
    """Return the mass flow of each path [kg/s] at given pressures of the spaces [Pa]."""
    density, first, second = network["density"], network["first"], network["second"]
    outdoors = len(density) - 1
    inside = np.append(pressure, 0.0)
    wind = network["wind_pressure"]
    level = network["level"]
    one = inside[first] + np.where(first == outdoors, wind, 0.0) - density[first] * GRAVITY * level
    other = (
        inside[second] + np.where(second == outdoors, wind, 0.0) - density[second] * GRAVITY * level
    )
    x = one - other
    size = np.sqrt(x**2 + SMOOTHING**2)
    rho = (
        0.5 * (density[first] + density[second])
        + 0.5 * (density[first] - density[second]) * x / size
    )
    return np.asarray(rho * network["coefficient"] * x * size ** (network["exponent"] - 1.0))


def solve_with_scipy(
    density: NDArray[np.float64],
    first: NDArray[np.int64],
    second: NDArray[np.int64],
    level: NDArray[np.float64],
    coefficient: NDArray[np.float64],
    exponent: NDArray[np.float64],
    wind_pressure: NDArray[np.float64],
    supply: NDArray[np.float64],
    start: NDArray[np.float64] | None = None,
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return pressures [Pa] and flows [kg/s] of one hour; arguments as for `solve_network`."""
    network = {
        "density": density,
        "first": first,
        "second": second,
        "level": level,
        "coefficient": coefficient,
        "exponent": exponent,
        "wind_pressure": wind_pressure,
    }

    def net_inflow(pressure: NDArray[np.float64]) -> NDArray[np.float64]:
        flow = path_flows(pressure, network)
        net = np.append(supply, 0.0)
        np.add.at(net, first, -flow)
        np.add.at(net, second, flow)
        return net[:-1]

    guess = np.zeros(len(supply)) if start is None else start
    for method in ("hybr", "lm", "krylov"):
        found = root(net_inflow, guess, method=method, tol=1e-13)
        if np.abs(net_inflow(found.x)).max() < 1e-7:
            return found.x, path_flows(found.x, network)
        guess = found.x
    message = "the general solver found no balance"
    raise ArithmeticError(message)
