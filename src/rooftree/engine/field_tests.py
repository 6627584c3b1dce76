"""Field tests made on the simulated house: what an assessor's gauges would show in it.

The network of the year is the network of the test: same leaks, same law, another forcing.
Vents and flues stay as they are, the air handler and the house's own fans are off, there
is no wind. The fan and the gauge stand in one living space; the gauge compares it with
outdoors at its own height.

Sources
-------
[ISO9972] ISO 9972:2015: pressures are read against the baseline of zero flow.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import brentq

from rooftree.engine.gauges import GaugedHouse, Opening, inside_doors, set_up_gauges
from rooftree.errors import HouseError, OutOfRangeError
from rooftree.house import SpaceKind
from rooftree.readings.airtightness.readings import Direction

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from rooftree.house import House

ROOM = 293.15
"""Temperature indoors and outdoors where nothing else is said: 20 °C [K]."""


@dataclass(frozen=True, slots=True)
class FanTestPoint:
    """The house held at one pressure by the fan.

    Attributes
    ----------
    induced : float
        House with reference to outdoors, baseline taken off, signed [Pa].
    reading : float
        The same as the gauge shows it, baseline included [Pa].
    flow : float
        Volume that the fan moves, at the density of the air that goes through it:
        indoor air to depressurize, outdoor air to pressurize [m³/s].
    zone_pressures : mapping from str to float
        House with reference to each buffer space, baseline taken off, signed like
        `induced` [Pa].
    """

    induced: float
    reading: float
    flow: float
    zone_pressures: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class SimulatedFanTest:
    """One direction of a fan test on the simulated house.

    Attributes
    ----------
    direction : Direction
        Which way the fan blew.
    baseline : float
        House with reference to outdoors with the fan sealed [Pa]: the stack at the gauge.
    points : tuple of FanTestPoint
        In the order of the pressures asked for.
    """

    direction: Direction
    baseline: float
    points: tuple[FanTestPoint, ...]


def fan_test_flow(
    house: House,
    pressure: float,
    *,
    direction: Direction = Direction.DEPRESSURIZE,
    indoor_temperature: float = ROOM,
    outdoor_temperature: float = ROOM,
    opened: tuple[str | Opening, ...] = (),
    fan_space: str | None = None,
) -> FanTestPoint:
    """Hold the simulated house at a pressure and return what the gauges show.

    Parameters
    ----------
    house : House
        The house.
    pressure : float
        Induced pressure, without sign [Pa], above 0 and up to 500.
    direction : Direction
        Which way the fan blows.
    indoor_temperature, outdoor_temperature : float
        During the test [K]; buffer spaces are halfway between.
    opened : tuple of str or Opening
        Leaks opened wide for the test, by id, and other doors, hatches or holes.
    fan_space : str or None
        Living space in which fan and gauge stand; None for the largest.

    Returns
    -------
    FanTestPoint

    Raises
    ------
    OutOfRangeError
        If the pressure is outside its range.
    HouseError
        If a space has no path to outdoors, or a name is not one of the house.
    """
    test = simulate_fan_test(
        house,
        (pressure,),
        direction=direction,
        indoor_temperature=indoor_temperature,
        outdoor_temperature=outdoor_temperature,
        opened=opened,
        fan_space=fan_space,
    )
    return test.points[0]


def simulate_fan_test(
    house: House,
    pressures: tuple[float, ...],
    *,
    direction: Direction = Direction.DEPRESSURIZE,
    indoor_temperature: float = ROOM,
    outdoor_temperature: float = ROOM,
    opened: tuple[str | Opening, ...] = (),
    fan_space: str | None = None,
) -> SimulatedFanTest:
    """Make a fan test with several pressure stations on the simulated house.

    Parameters
    ----------
    house : House
        The house.
    pressures : tuple of float
        Induced pressures, without sign [Pa], each above 0 and up to 500.
    direction : Direction
        Which way the fan blows.
    indoor_temperature, outdoor_temperature : float
        During the test [K]; buffer spaces are halfway between.
    opened : tuple of str or Opening
        Leaks opened wide for the test, by id, and other doors, hatches or holes.
    fan_space : str or None
        Living space in which fan and gauge stand; None for the largest.

    Returns
    -------
    SimulatedFanTest

    Raises
    ------
    OutOfRangeError
        If a pressure is outside its range.
    HouseError
        If a space has no path to outdoors, or a name is not one of the house.

    Notes
    -----
    Doors between living spaces stand open, as the standards ask of a fan test; the air
    handler is off. No reading error is added. The coefficient of a leak is kept, as in the
    year, whatever the density of the air, where [ISO9972]_ lets it go with
    ``density ** (n - 1)``: at 0 °C that is 2 % of the flow.
    """
    for pressure in pressures:
        if not 0.0 < pressure <= 500.0:
            raise OutOfRangeError("pressure", pressure, 0.0, 500.0, "Pa")
    everything = (*inside_doors(house), *opened)
    test = set_up_gauges(house, indoor_temperature, outdoor_temperature, everything, fan_space)
    calm = test.with_fan(0.0)
    sign = -1.0 if direction is Direction.DEPRESSURIZE else 1.0
    through = test.density[test.fan] if direction is Direction.DEPRESSURIZE else test.density[-1]
    points = []
    for pressure in pressures:
        mass = _mass_to_hold(test, calm[test.fan], sign * pressure)
        shown = test.with_fan(mass)
        change = shown - calm
        points.append(
            FanTestPoint(
                induced=float(change[test.fan]),
                reading=float(shown[test.fan]),
                flow=abs(mass) / float(through),
                zone_pressures=MappingProxyType(
                    {
                        space.id: float(change[test.fan] - change[i])
                        for i, space in enumerate(house.spaces)
                        if space.kind is not SpaceKind.LIVING
                    }
                ),
            )
        )
    return SimulatedFanTest(direction, float(calm[test.fan]), tuple(points))


def exhaust_pressure(
    house: House,
    space: str,
    *,
    running: tuple[str, ...] | None = None,
    air_handler: bool = False,
    indoor_temperature: float = ROOM,
    outdoor_temperature: float = ROOM,
    opened: tuple[str | Opening, ...] = (),
) -> float:
    """Return how far fans change the pressure of a space: the worst case for a flue.

    Parameters
    ----------
    house : House
        The house.
    space : str
        Id of the space whose pressure is asked for.
    running : tuple of str or None
        Ids of the fans that run, flat out; None for every exhaust fan and no other.
    air_handler : bool
        Whether the air handler runs as well, with the leaks of its ducts.
    indoor_temperature, outdoor_temperature : float
        [K]; buffer spaces are halfway between.
    opened : tuple of str or Opening
        Leaks opened wide, by id, and other doors, hatches or holes that stand open.

    Returns
    -------
    float
        Space with reference to outdoors at the gauge's level, with the fans less without
        them [Pa]; negative where air is drawn down the flue.

    Raises
    ------
    HouseError
        If a space has no path to outdoors, or a name is not one of the house.
    """
    test = set_up_gauges(house, indoor_temperature, outdoor_temperature, opened, space)
    supply = np.zeros(len(house.spaces))
    index = {each.id: i for i, each in enumerate(house.spaces)}
    known = {fan.id for fan in house.fans}
    for name in running or ():
        if name not in known:
            message = f"running names {name}, which is not a fan of the house"
            raise HouseError(message)
    for fan in house.fans:
        if fan.kind == "exhaust" and (running is None or fan.id in running):
            supply[index[fan.space]] -= fan.flow * test.density[index[fan.space]]
        if fan.kind == "supply" and running is not None and fan.id in running:
            supply[index[fan.space]] += fan.flow * test.density[-1]
    if air_handler:
        supply += _duct_supply(house, test.density, index)
    still = test.gauge(test.balance(np.zeros_like(supply)))
    return float((test.gauge(test.balance(supply)) - still)[index[space]])


def _duct_supply(
    house: House, density: NDArray[np.float64], index: Mapping[str, int]
) -> NDArray[np.float64]:
    """Return the mass that leaking ducts force into each space while the fan runs [kg/s]."""
    supply = np.zeros(len(house.spaces))
    if house.air_handler is None or not house.living_spaces:
        return supply
    shares = {each.id: each.floor_area / house.floor_area for each in house.living_spaces}
    for run in house.ducts:
        if run.space in shares:
            continue
        sign = 1.0 if run.side == "supply" else -1.0
        mass = sign * run.leakage * house.air_handler.flow * density[index[run.space]]
        supply[index[run.space]] += mass
        for living, share in shares.items():
            supply[index[living]] -= share * mass
    return supply


def _mass_to_hold(test: GaugedHouse, calm: float, induced: float) -> float:
    """Return the mass that the fan must force in for an induced pressure [kg/s], signed."""
    sign = math.copysign(1.0, induced)

    def excess(mass: float) -> float:
        return sign * float(test.with_fan(sign * mass)[test.fan] - calm) - abs(induced)

    at_fan = (test.paths.first == test.fan) | (test.paths.second == test.fan)
    most = float(np.sum((test.paths.coefficient * abs(induced) ** test.paths.exponent)[at_fan]))
    most *= float(test.density.max())
    while excess(most) < 0.0:
        most *= 1.5
    return sign * float(brentq(excess, 0.0, most, xtol=1e-14, rtol=1e-13))
