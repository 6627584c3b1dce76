"""The same air network by a general root finder, step by step: what ours is compared with.

Nothing here is used by the program. The equations are written a second time, plainly, so
that agreement means something.
"""

from __future__ import annotations

from dataclasses import dataclass
from time import perf_counter
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numba import njit
from scipy.optimize import root

from rooftree.engine.arrays import (
    AIR_OUTDOORS,
    HUMIDITY,
    PRESSURE,
    Paths,
    read_flows,
    read_paths,
)
from rooftree.engine.compile import compile_house
from rooftree.engine.compiled import OPTIONS
from rooftree.engine.lanes import WIDTH, addresses, group_reader, lane, lanes_of, spread
from rooftree.engine.network import MOST_SWEEPS, make_flows, solve_network
from rooftree.engine.simulation import run_compiled

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from rooftree.engine.lanes import Grid
    from rooftree.house import House
    from rooftree.weather import WeatherYear

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
    records = run_compiled(compiled, hourly=True).records
    air, table, plant = compiled.air, compiled.weather.table, compiled.plant

    def density(temperature: NDArray[Any], humidity: NDArray[Any]) -> NDArray[np.float64]:
        pressure = table[:, PRESSURE].reshape(-1, 1)
        return np.asarray(pressure / (287.042 * temperature * (1.0 + 0.608 * humidity)))

    inside = density(records.temperature, records.humidity)
    outside = density(table[:, [AIR_OUTDOORS]], table[:, [HUMIDITY]])
    of_day = np.arange(len(inside)) % 24
    handler = plant.air_flow * np.asarray(plant.duct_supply)
    return {
        "density": np.hstack([inside, outside]),
        "first": compiled.paths.first,
        "second": compiled.paths.second,
        "level": compiled.paths.level,
        "coefficient": air.coefficient,
        "exponent": compiled.paths.exponent,
        "wind_pressure": np.ascontiguousarray(table[:, air.wind_column]),
        "supply": outside * air.supplied[of_day]
        - inside * air.exhaust[of_day]
        + records.runtime[:, None] * handler,
    }


class Hours(NamedTuple):
    """Every hour of a network in lanes that are all alike."""

    count: int
    spaces: int
    paths: int
    density: Grid
    wind: Grid
    supply: Grid
    flow: Grid


read_hours = group_reader(Hours)


@njit(**OPTIONS)
def solve_year(hours_table: Any, paths_table: Any, flows_table: Any) -> float:
    """Solve every hour with ours; fill the flows and return the largest imbalance left."""
    hours, paths, flows = (
        read_hours(hours_table), read_paths(paths_table), read_flows(flows_table),
    )  # fmt: skip
    worst = spread(0.0)
    for hour in range(hours.count):
        for p in range(hours.spaces + 1):
            flows.density[p] = hours.density[hour, p]
        for p in range(hours.spaces):
            flows.supply[p] = hours.supply[hour, p]
        for i in range(hours.paths):
            flows.wind[i] = hours.wind[hour, i]
        worst = max(worst, solve_network(paths, flows, MOST_SWEEPS))
        for i in range(hours.paths):
            hours.flow[hour, i] = flows.flow[i]
    return lane(worst, 0)


def in_lanes(values: NDArray[Any]) -> NDArray[np.float64]:
    """Return values in lanes that are all alike."""
    lanes = lanes_of(*values.shape)
    lanes[:] = values[..., None]
    return lanes


def race(house: House, year: WeatherYear, scipy_hours: int = 200) -> NetworkRace:
    """Time both solvers on the same hours of one house; the general one takes the first few."""
    hours = network_hours(house, year)
    count, spaces = hours["supply"].shape
    every = len(hours["first"])
    paths = Paths(
        spaces, every, hours["first"], hours["second"], in_lanes(hours["level"]),
        in_lanes(hours["exponent"]),
    )  # fmt: skip
    work = Hours(
        count, spaces, every, in_lanes(hours["density"]), in_lanes(hours["wind_pressure"]),
        in_lanes(hours["supply"]), lanes_of(count, every),
    )  # fmt: skip
    seconds = []
    for _ in range(4):  # the first one compiles
        moving = make_flows(spaces, every)
        moving.coefficient[:] = in_lanes(hours["coefficient"])
        tables = [addresses(group) for group in (work, paths, moving)]
        begun = perf_counter()
        solve_year(*tables)
        seconds.append((perf_counter() - begun) / WIDTH)
    flows = work.flow[:, :, 0]
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
