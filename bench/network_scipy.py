"""The same air network by a general root finder, step by step: what ours is compared with.

Nothing here is used by the program. The equations are written a second time, plainly, so
that agreement means something.
"""

from __future__ import annotations

from dataclasses import dataclass
from time import perf_counter
from typing import TYPE_CHECKING, Any

import numpy as np
from numba import njit
from scipy.optimize import root

from rooftree.engine.compile import compile_house
from rooftree.engine.network import make_scratch, solve_network
from rooftree.engine.simulation import run_compiled

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from rooftree.house import House
    from rooftree.weather import WeatherYear

ARGUMENTS = (
    "density", "first", "second", "level", "coefficient", "exponent", "wind_pressure", "supply",
)  # fmt: skip
HOURLY = ("density", "wind_pressure", "supply")
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


@dataclass(frozen=True)
class NetworkRace:
    """Our solver and the general one on the same hours.

    Attributes
    ----------
    spaces, paths : int
        Size of the network.
    hours, scipy_hours : int
        Solved by ours and by the general solver.
    seconds, scipy_seconds : float
        For one hour, by each [s].
    largest_difference : float
        Of any flow in any hour that both solved [kg/s].
    """

    spaces: int
    paths: int
    hours: int
    scipy_hours: int
    seconds: float
    scipy_seconds: float
    largest_difference: float

    @property
    def ratio(self) -> float:
        """Return how many times faster ours is."""
        return self.scipy_seconds / self.seconds


def network_hours(house: House, year: WeatherYear) -> dict[str, NDArray[Any]]:
    """Return the network of every hour of the year, as the engine left it.

    Densities, wind and forced flows follow from the hourly temperatures and the run time
    that a simulation of the year gave; rows are hours.
    """
    compiled = compile_house(house, year)
    _, records = run_compiled(compiled, hourly=True)
    air, weather, plant = compiled.air, compiled.weather, compiled.plant

    def density(temperature: NDArray[Any], humidity: NDArray[Any]) -> NDArray[np.float64]:
        pressure = weather.pressure.reshape(-1, 1)
        return np.asarray(pressure / (287.042 * temperature * (1.0 + 0.608 * humidity)))

    inside = density(records.temperature, records.humidity)
    outside = density(weather.temperature.reshape(-1, 1), weather.humidity.reshape(-1, 1))
    of_day = np.arange(len(inside)) % 24
    handler = plant.air_flow * np.asarray(plant.duct_supply)
    return {
        "density": np.hstack([inside, outside]),
        "first": air.first,
        "second": air.second,
        "level": air.level,
        "coefficient": air.coefficient,
        "exponent": air.exponent,
        "wind_pressure": np.ascontiguousarray(weather.wind_pressure[:, air.facade]),
        "supply": outside * air.supplied[of_day]
        - inside * air.exhaust[of_day]
        + records.runtime[:, None] * handler,
    }


@njit(cache=False)
def solve_year(
    density: Any, first: Any, second: Any, level: Any, coefficient: Any, exponent: Any,
    wind_pressure: Any, supply: Any, flows: Any, paths: Any, spaces: Any,
) -> float:  # fmt: skip
    """Solve every hour with ours; fill the flows and return the largest imbalance left."""
    pressure, worst = np.zeros(supply.shape[1]), 0.0
    for hour in range(density.shape[0]):
        left = solve_network(
            pressure, density[hour], first, second, level, coefficient, exponent,
            wind_pressure[hour], supply[hour], flows[hour], paths, spaces,
        )  # fmt: skip
        worst = max(worst, left)
    return worst


def race(house: House, year: WeatherYear, scipy_hours: int = 200) -> NetworkRace:
    """Time both solvers on the same hours of one house; the general one takes the first few."""
    hours = network_hours(house, year)
    count, spaces = hours["supply"].shape
    flows = np.zeros((count, len(hours["first"])))
    seconds = []
    for _ in range(4):  # the first one compiles
        scratch = make_scratch(spaces, len(hours["first"]))
        begun = perf_counter()
        solve_year(*(hours[key] for key in ARGUMENTS), flows, *scratch)
        seconds.append(perf_counter() - begun)
    pressure, different = np.zeros(spaces), 0.0
    begun = perf_counter()
    for hour in range(scipy_hours):
        network = {key: row[hour] if key in HOURLY else row for key, row in hours.items()}
        pressure, flow = solve_with_scipy(**network, start=pressure)
        different = max(different, float(np.abs(flow - flows[hour]).max()))
    return NetworkRace(
        spaces, flows.shape[1], count, scipy_hours, min(seconds[1:]) / count,
        (perf_counter() - begun) / scipy_hours, different,
    )  # fmt: skip
