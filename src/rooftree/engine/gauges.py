"""A house laid out for a field test: its network, what runs and stands open, and the gauge."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.duct_paths import (
    RETURN_DUCTS,
    SUPPLY_DUCTS,
    Ducts,
    duct_places,
    lay_ducts,
)
from rooftree.engine.network import GRAVITY, SMOOTHING, Balance, solve_once
from rooftree.engine.paths import Paths, lay_paths_between, require_paths_outdoors
from rooftree.errors import HouseError
from rooftree.house import Leak, LeakKind, SpaceKind
from rooftree.physics.air import moist_air_density, pressure_at_altitude
from rooftree.physics.openings import opening_flow

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from rooftree.house import House

GAUGE_HEIGHT = 1.0
"""Height of the gauge above the floor of the space it stands in [m]."""

WIDE_OPEN = 0.5
"""Free area of a leak that is opened for a test and whose size is not given [m²]."""

ROOM = 293.15
"""Temperature indoors and outdoors where nothing else is said: 20 °C [K]."""

MOST_STEPS = 80
"""Steps in which the flow of a test fan is looked for."""

HELD = 1e-11
"""How near a held pressure is met, over the pressure itself [-]."""


@dataclass(frozen=True, slots=True)
class Opening:
    """A door, hatch or hole that is open during a test.

    Attributes
    ----------
    first, second : str
        Ids of the spaces it joins; `second` may be ``OUTDOORS``.
    area : float
        Free area [m²], > 0.
    level : float
        Height of its middle above the outside ground [m].
    discharge : float
        Discharge coefficient [-].
    name : str
        Id among the paths for air; empty for one made of the two spaces.
    """

    first: str
    second: str
    area: float
    level: float
    discharge: float = 0.60
    name: str = ""


@dataclass(frozen=True, slots=True)
class Setting:
    """How a house is set up for a test.

    Attributes
    ----------
    opened : tuple of str or Opening
        Leaks opened wide, by id, and other doors, hatches or holes that stand open.
    running : tuple of str
        Ids of the house's fans that run flat out.
    air_handler : bool
        Whether the air handler runs.
    ducts : Ducts
        How the ducts take part. Where they are left out, a running air handler still forces
        their leaks into and out of the spaces, as in the simulated year.
    gauge : str or None
        Id of the space with test fan and gauge; None for the largest living space.
    indoor_temperature, outdoor_temperature : float
        [K]; buffer spaces are halfway between.
    """

    opened: tuple[str | Opening, ...] = ()
    running: tuple[str, ...] = ()
    air_handler: bool = False
    ducts: Ducts = Ducts.LEFT_OUT
    gauge: str | None = None
    indoor_temperature: float = ROOM
    outdoor_temperature: float = ROOM


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """A house under test, its air in balance.

    Attributes
    ----------
    pressure : ndarray, shape (n_places,)
        Of each body of air with reference to outdoors, at the level of the gauge [Pa].
    forced : ndarray, shape (n_places,)
        Mass that test fans force into each [kg/s].
    balance : Balance
        The network.
    """

    pressure: NDArray[np.float64]
    forced: NDArray[np.float64]
    balance: Balance


@dataclass(frozen=True, slots=True, eq=False)
class Slopes:
    """How the flows of a network in balance answer to pressures.

    Attributes
    ----------
    across : ndarray, shape (n_paths,)
        Pressure across each path [Pa].
    slope : ndarray, shape (n_paths,)
        Of its flow by that pressure [kg/(s·Pa)].
    gain : ndarray, shape (n_places, n_places)
        Of the pressures by the mass forced into each body of air [Pa·s/kg].
    """

    across: NDArray[np.float64]
    slope: NDArray[np.float64]
    gain: NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class GaugedHouse:
    """A house laid out for a test.

    Attributes
    ----------
    house : House
        The house.
    places : tuple of str
        Ids of its spaces, then of ducts that are bodies of air of their own.
    paths : Paths
        Its leaks and whatever else stands open.
    density : ndarray, shape (n_places + 1,)
        Of the air of each body, last outdoors [kg/m³].
    fan : int
        Index of the space in which fan and gauge stand.
    gauge_level : float
        Height of the gauge above the outside ground [m].
    driven : ndarray, shape (n_places,)
        Mass that fans and air handler of the house force into each [kg/s].
    """

    house: House
    places: tuple[str, ...]
    paths: Paths
    density: NDArray[np.float64]
    fan: int
    gauge_level: float
    driven: NDArray[np.float64]

    def balance(self, supply: NDArray[np.float64]) -> Balance:
        """Return the network in balance with `supply` forced in by test fans [kg/s]."""
        paths = self.paths
        return solve_once(
            self.density,
            paths.first,
            paths.second,
            paths.level,
            paths.coefficient,
            paths.exponent,
            supply=supply + self.driven,
        )

    def with_fan(self, mass: float) -> NDArray[np.float64]:
        """Return the gauge pressures of all places while the fan forces `mass` in [Pa]."""
        supply = np.zeros(len(self.places))
        supply[self.fan] = mass
        return self.gauge(self.balance(supply))

    def gauge(self, balance: Balance) -> NDArray[np.float64]:
        """Return each place with reference to outdoors at the gauge's level [Pa]."""
        return balance.pressure + self._column()

    def _column(self) -> NDArray[np.float64]:
        lighter = self.density[-1] - self.density[:-1]
        return np.asarray(lighter * GRAVITY * self.gauge_level)

    def slopes(self, balance: Balance) -> Slopes:
        """Return how the flows of a balance answer to pressures: the law of the network."""
        paths, full = self.paths, np.append(balance.pressure, 0.0)
        one, other = self.density[paths.first], self.density[paths.second]
        across = full[paths.first] - full[paths.second] + (other - one) * GRAVITY * paths.level
        n = paths.exponent
        u = across * across + SMOOTHING * SMOOTHING
        t = across / np.sqrt(u)
        near = 1.0 - t * t
        half = 0.5 * paths.coefficient * (one - other)
        c = 0.5 * paths.coefficient * (one + other) + half * t
        slope = u ** (0.5 * n - 0.5) * (c * (n + (1.0 - n) * near) + half * t * near)
        size = full.size
        matrix = np.zeros((size, size))
        np.add.at(matrix, (paths.first, paths.first), slope)
        np.add.at(matrix, (paths.second, paths.second), slope)
        np.add.at(matrix, (paths.first, paths.second), -slope)
        np.add.at(matrix, (paths.second, paths.first), -slope)
        gain = np.asarray(np.linalg.inv(matrix[:-1, :-1]), dtype=np.float64)
        return Slopes(across, slope, gain)

    def hold(
        self, targets: Mapping[int, float], start: NDArray[np.float64] | None = None
    ) -> Standing:
        """Hold some places at a pressure by test fans, and return what that takes.

        Parameters
        ----------
        targets : mapping from int to float
            Pressure of a place with reference to outdoors at the gauge's level [Pa].
        start : ndarray, shape (n_places,), or None
            Mass forced in as a first guess [kg/s].

        Returns
        -------
        Standing

        Raises
        ------
        HouseError
            If no flow of the fans brings the pressures about.

        Notes
        -----
        Newton's method on the mass of the fans. Pressure grows faster than mass (its power
        is 1 to 2), so that from above each step stays above and convergence is quadratic;
        the first guess is what all leaks of a place would pass at the full pressure.
        """
        places = np.array(list(targets), dtype=np.int64)
        wanted = np.array(list(targets.values()), dtype=np.float64)
        forced = self._first_guess(places, wanted) if start is None else start.copy()
        tolerance = HELD * max(1.0, float(np.max(np.abs(wanted), initial=0.0)))
        best, least = None, np.inf
        for _ in range(MOST_STEPS):
            balance = self.balance(forced)
            shown = self.gauge(balance)
            miss = shown[places] - wanted
            worst = float(np.max(np.abs(miss), initial=0.0))
            if worst < least:
                best, least = Standing(shown, forced.copy(), balance), worst
            elif worst < 1e3 * tolerance:  # rounding has been reached
                break
            if worst <= tolerance:
                break
            gain = self.slopes(balance).gain[np.ix_(places, places)]
            forced[places] -= np.linalg.solve(gain, miss)
        if best is None or least > 1e4 * tolerance:
            message = (
                f"no flow of a test fan holds the pressure asked for; it stays {least:.2g} Pa away"
            )
            raise HouseError(message)
        return best

    def _first_guess(
        self, places: NDArray[np.int64], wanted: NDArray[np.float64]
    ) -> NDArray[np.float64]:
        paths, forced = self.paths, np.zeros(len(self.places))
        for place, pressure in zip(places, wanted, strict=True):
            at_fan = (paths.first == place) | (paths.second == place)
            flows = paths.coefficient[at_fan] * abs(pressure) ** paths.exponent[at_fan]
            forced[place] = np.sign(pressure) * float(flows.sum()) * float(self.density.max())
        return forced

    def place(self, name: str) -> int:
        """Return the index of a space or of ducts, by id."""
        if name not in self.places:
            message = f"{name} is not a space of the house; use one of its ids"
            raise HouseError(message)
        return self.places.index(name)


def set_up(
    house: House, setting: Setting, more: tuple[tuple[str, ...], tuple[Leak, ...]] = ((), ())
) -> GaugedHouse:
    """Lay a house out for a test.

    Parameters
    ----------
    house : House
        The house.
    setting : Setting
        What stands open and runs.
    more : tuple of (tuple of str, tuple of Leak)
        Further bodies of air, and paths that join them.

    Returns
    -------
    GaugedHouse

    Raises
    ------
    HouseError
        If a space has no path to outdoors, or a name is not one of the house.
    """
    require_paths_outdoors(house)
    blows = setting.air_handler and setting.ducts is not Ducts.LEFT_OUT
    bodies, leaks = more
    spaces = tuple(space.id for space in house.spaces)
    places = (*spaces, *duct_places(setting.ducts, air_handler=blows), *bodies)
    opened = tuple(_hole(house, each) for each in setting.opened)
    ducts = lay_ducts(house, setting.ducts, air_handler=blows)
    fan = _space_of_the_fan(house, setting.gauge)
    density = _densities(house, setting, len(places))
    return GaugedHouse(
        house=house,
        places=places,
        paths=lay_paths_between(places, (*house.leaks, *opened, *ducts, *leaks)),
        density=density,
        fan=fan,
        gauge_level=house.spaces[fan].floor_level + GAUGE_HEIGHT,
        driven=_driven(house, setting, places, density),
    )


def inside_doors(house: House) -> tuple[str, ...]:
    """Return the doors between living spaces, which stand open during a fan test.

    Parameters
    ----------
    house : House
        The house.

    Returns
    -------
    tuple of str
        Ids of its holes between two living spaces.
    """
    living = {space.id for space in house.living_spaces}
    return tuple(
        leak.id
        for leak in house.leaks
        if leak.kind is LeakKind.HOLE and {leak.first, leak.second} <= living
    )


@lru_cache(maxsize=256)
def _density(temperature: float, elevation: float) -> float:
    return moist_air_density(temperature, pressure_at_altitude(elevation))


def _densities(house: House, setting: Setting, places: int) -> NDArray[np.float64]:
    """Return the density of each body of air; ducts are as warm as the living spaces."""
    indoors, outdoors = setting.indoor_temperature, setting.outdoor_temperature
    between = 0.5 * (indoors + outdoors)
    temperatures = [
        indoors if space.kind is SpaceKind.LIVING else between for space in house.spaces
    ]
    temperatures += [indoors] * (places - len(house.spaces))
    return np.array([_density(each, house.site.elevation) for each in (*temperatures, outdoors)])


def _driven(
    house: House, setting: Setting, places: tuple[str, ...], density: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return the mass that the house's own fans force into each place [kg/s]."""
    driven = np.zeros(len(places))
    known = {fan.id: fan for fan in house.fans}
    for name in setting.running:
        if name not in known:
            message = f"running names {name}, which is not a fan of the house"
            raise HouseError(message)
        fan = known[name]
        place = places.index(fan.space)
        if fan.kind == "exhaust":
            driven[place] -= fan.flow * density[place]
        elif fan.kind == "supply":
            driven[place] += fan.flow * density[-1]
    if setting.air_handler and setting.ducts is Ducts.LEFT_OUT:
        _add_duct_leaks(house, driven, density)
    elif setting.air_handler and house.air_handler is not None:
        back = places.index(RETURN_DUCTS)
        moved = house.air_handler.flow * density[back]
        driven[back] -= moved
        driven[places.index(SUPPLY_DUCTS)] += moved
    return driven


def _add_duct_leaks(
    house: House, driven: NDArray[np.float64], density: NDArray[np.float64]
) -> None:
    """Add what leaking ducts force into each space while the fan runs [kg/s]."""
    if house.air_handler is None or not house.living_spaces:
        return
    index = {space.id: i for i, space in enumerate(house.spaces)}
    shares = {each.id: each.floor_area / house.floor_area for each in house.living_spaces}
    for run in house.ducts:
        if run.space in shares:
            continue
        sign = 1.0 if run.side == "supply" else -1.0
        mass = sign * run.leakage * house.air_handler.flow * density[index[run.space]]
        driven[index[run.space]] += mass
        for living, share in shares.items():
            driven[index[living]] -= share * mass


def _space_of_the_fan(house: House, fan_space: str | None) -> int:
    """Return the index of the named space, or of the largest living one."""
    if fan_space is None:
        if not house.living_spaces:
            message = "the house has no living space to test; give one space that kind"
            raise HouseError(message)
        return house.spaces.index(max(house.living_spaces, key=lambda space: space.volume))
    for i, space in enumerate(house.spaces):
        if space.id == fan_space:
            return i
    message = f"{fan_space} is not a space of the house; use one of its ids"
    raise HouseError(message)


def _hole(house: House, opened: str | Opening) -> Leak:
    """Return the leak that an opening adds to the house."""
    if isinstance(opened, str):
        for leak in house.leaks:
            if leak.id == opened:
                return _hole(house, Opening(leak.first, leak.second, WIDE_OPEN, leak.level))
        message = f"opened names {opened}, which is not a leak of the house"
        raise HouseError(message)
    # exponent 0.5: the flow at 1 Pa
    coefficient = opening_flow(opened.area, 1.0, discharge=opened.discharge)
    name = opened.name or f"opening {opened.first} {opened.second}"
    return Leak(
        name, name, opened.first, opened.second, opened.level, None, coefficient, 0.5, LeakKind.HOLE
    )
