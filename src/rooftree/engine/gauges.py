"""A house laid out for a field test: its network, the gauge, and what stands open."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.network import GRAVITY, Balance, solve_once
from rooftree.engine.paths import Paths, lay_paths, require_paths_outdoors
from rooftree.errors import HouseError
from rooftree.house import Leak, LeakKind, SpaceKind
from rooftree.physics.air import moist_air_density, pressure_at_altitude
from rooftree.physics.openings import opening_flow

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.house import House

GAUGE_HEIGHT = 1.0
"""Height of the gauge above the floor of the space it stands in [m]."""

WIDE_OPEN = 0.5
"""Free area of a leak that is opened for a test and whose size is not given [m²]."""


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
    """

    first: str
    second: str
    area: float
    level: float


@dataclass(frozen=True, slots=True, eq=False)
class GaugedHouse:
    """A house laid out for a test.

    Attributes
    ----------
    house : House
        The house.
    paths : Paths
        Its leaks and whatever else stands open.
    density : ndarray, shape (n_spaces + 1,)
        Of the air of each space, last outdoors [kg/m³].
    fan : int
        Index of the space in which fan and gauge stand.
    gauge_level : float
        Height of the gauge above the outside ground [m].
    """

    house: House
    paths: Paths
    density: NDArray[np.float64]
    fan: int
    gauge_level: float

    def balance(self, supply: NDArray[np.float64]) -> Balance:
        """Return the network in balance with `supply` forced into each space [kg/s]."""
        paths = self.paths
        return solve_once(
            self.density,
            paths.first,
            paths.second,
            paths.level,
            paths.coefficient,
            paths.exponent,
            supply=supply,
        )

    def with_fan(self, mass: float) -> NDArray[np.float64]:
        """Return the gauge pressures of all spaces while the fan forces `mass` in [Pa]."""
        supply = np.zeros(len(self.house.spaces))
        supply[self.fan] = mass
        return self.gauge(self.balance(supply))

    def gauge(self, balance: Balance) -> NDArray[np.float64]:
        """Return each space with reference to outdoors at the gauge's level [Pa]."""
        lighter = self.density[-1] - self.density[:-1]
        return np.asarray(balance.pressure + lighter * GRAVITY * self.gauge_level)


def set_up_gauges(
    house: House,
    indoor_temperature: float,
    outdoor_temperature: float,
    opened: tuple[str | Opening, ...],
    fan_space: str | None,
) -> GaugedHouse:
    """Lay a house out for a test.

    Parameters
    ----------
    house : House
        The house.
    indoor_temperature, outdoor_temperature : float
        During the test [K]; buffer spaces are halfway between.
    opened : tuple of str or Opening
        Leaks opened wide, by id, and other doors, hatches or holes that stand open.
    fan_space : str or None
        Id of the space with fan and gauge; None for the largest living space.

    Returns
    -------
    GaugedHouse

    Raises
    ------
    HouseError
        If a space has no path to outdoors, or a name is not one of the house.
    """
    require_paths_outdoors(house)
    barometer = pressure_at_altitude(house.site.elevation)
    between = 0.5 * (indoor_temperature + outdoor_temperature)
    temperatures = [
        indoor_temperature if space.kind is SpaceKind.LIVING else between for space in house.spaces
    ]
    density = [moist_air_density(each, barometer) for each in (*temperatures, outdoor_temperature)]
    fan = _space_of_the_fan(house, fan_space)
    return GaugedHouse(
        house=house,
        paths=lay_paths(house, tuple(_hole(house, each) for each in opened)),
        density=np.array(density),
        fan=fan,
        gauge_level=house.spaces[fan].floor_level + GAUGE_HEIGHT,
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
    coefficient = opening_flow(opened.area, 1.0)  # exponent 0.5: the flow at 1 Pa
    name = f"opening {opened.first} {opened.second}"
    return Leak(
        name, name, opened.first, opened.second, opened.level, None, coefficient, 0.5, LeakKind.HOLE
    )
