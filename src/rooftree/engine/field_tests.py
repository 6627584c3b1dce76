"""Field tests made on the simulated house: what an assessor's gauges would show in it.

The network of the year is the network of the test: same leaks, same law, another forcing.
Vents and flues stay as they are, the air handler and the house's own fans are off, there
is no wind. The fan and the gauge stand in one living space; the gauge compares it with
outdoors at its own height. Tests of ducts are in :mod:`rooftree.engine.duct_tests`, those
with the house's own fans in :mod:`rooftree.engine.pressure_tests`. No reading error is
added anywhere.

Sources
-------
[ISO9972] ISO 9972:2015: pressures are read against the baseline of zero flow.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from rooftree.engine.duct_paths import Ducts
from rooftree.engine.gauges import ROOM, Opening, Setting, inside_doors, set_up
from rooftree.errors import HouseError, OutOfRangeError
from rooftree.house import OUTDOORS, SpaceKind
from rooftree.physics.air import pressure_at_altitude
from rooftree.readings.airtightness.readings import (
    Direction,
    Fan,
    FanReading,
    FanTest,
    Standard,
    Station,
)
from rooftree.readings.airtightness.stations import densities
from rooftree.readings.zone_pressures.readings import (
    AddedHoleTest,
    Boundary,
    OpenedHatchTest,
    ZoneKind,
    ZonePressureTest,
)

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.engine.gauges import GaugedHouse, Standing
    from rooftree.house import House

__all__ = [
    "ROOM", "FanTestPoint", "SimulatedFanTest", "exhaust_pressure", "fan_test_flow",
    "fan_test_reading", "hole_into", "simulate_added_hole", "simulate_fan_test",
    "simulate_opened_hatch", "simulate_zone_pressure",
]  # fmt: skip

ZONE_KINDS = {
    SpaceKind.LIVING: ZoneKind.ROOM,
    SpaceKind.ATTIC: ZoneKind.ATTIC,
    SpaceKind.KNEE_WALL_ATTIC: ZoneKind.KNEE_WALL,
    SpaceKind.CRAWLSPACE: ZoneKind.CRAWLSPACE,
    SpaceKind.BASEMENT: ZoneKind.BASEMENT,
    SpaceKind.GARAGE: ZoneKind.GARAGE,
}
"""What the readings call each kind of space."""


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
    ducts: Ducts = Ducts.LEFT_OUT,
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
    ducts : Ducts
        Whether the leaks of the ducts are part of the house: left out as in the simulated
        year while the air handler stands still, or with registers open or sealed.

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
        ducts=ducts,
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
    ducts: Ducts = Ducts.LEFT_OUT,
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
    ducts : Ducts
        Whether the leaks of the ducts are part of the house: left out as in the simulated
        year while the air handler stands still, or with registers open or sealed.

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
        _require_pressure(pressure)
    setting = Setting(
        (*inside_doors(house), *opened),
        ducts=ducts,
        gauge=fan_space,
        indoor_temperature=indoor_temperature,
        outdoor_temperature=outdoor_temperature,
    )
    test = set_up(house, setting)
    calm = test.hold({})
    sign = -1.0 if direction is Direction.DEPRESSURIZE else 1.0
    points = tuple(
        _point(test, calm, _hold_induced(test, calm, sign * pressure)) for pressure in pressures
    )
    return SimulatedFanTest(direction, float(calm.pressure[test.fan]), points)


def _require_pressure(pressure: float) -> None:
    if not 0.0 < pressure <= 500.0:
        raise OutOfRangeError("pressure", pressure, 0.0, 500.0, "Pa")


def _hold_induced(test: GaugedHouse, calm: Standing, induced: float) -> Standing:
    return test.hold({test.fan: float(calm.pressure[test.fan]) + induced})


def _point(test: GaugedHouse, calm: Standing, standing: Standing) -> FanTestPoint:
    change = standing.pressure - calm.pressure
    mass = float(standing.forced[test.fan])
    through = test.density[test.fan] if mass < 0.0 else test.density[-1]
    return FanTestPoint(
        induced=float(change[test.fan]),
        reading=float(standing.pressure[test.fan]),
        flow=abs(mass) / float(through),
        zone_pressures=MappingProxyType(
            {
                space.id: float(change[test.fan] - change[i])
                for i, space in enumerate(test.house.spaces)
                if space.kind is not SpaceKind.LIVING
            }
        ),
    )


def fan_test_reading(
    house: House,
    pressures: tuple[float, ...],
    *,
    direction: Direction = Direction.DEPRESSURIZE,
    indoor_temperature: float = ROOM,
    outdoor_temperature: float = ROOM,
    ducts: Ducts = Ducts.LEFT_OUT,
) -> FanTest:
    """Make a fan test on the simulated house and return it as it would be read.

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
    ducts : Ducts
        Whether the leaks of the ducts are part of the house.

    Returns
    -------
    FanTest
        By a fan whose gauge shows flow, right for its usual density.

    Raises
    ------
    OutOfRangeError
        If a pressure is outside its range.
    HouseError
        If a space has no path to outdoors.
    """
    shown = simulate_fan_test(
        house,
        pressures,
        direction=direction,
        indoor_temperature=indoor_temperature,
        outdoor_temperature=outdoor_temperature,
        ducts=ducts,
    )
    fan = Fan("fan")
    empty = FanTest(
        direction=direction,
        standard=Standard.ISO_9972,
        baseline_before=(shown.baseline,),
        baseline_after=(shown.baseline,),
        stations=(),
        fans=(fan,),
        indoor_temperature=indoor_temperature,
        outdoor_temperature=outdoor_temperature,
        barometric_pressure=pressure_at_altitude(house.site.elevation),
    )
    by_gauge = math.sqrt(densities(empty).at_fan / fan.calibration_density)
    stations = tuple(
        Station(point.reading, (FanReading("fan", flow=point.flow * by_gauge),))
        for point in shown.points
    )
    return replace(empty, stations=stations)


def simulate_zone_pressure(
    house: House,
    space: str,
    pressure: float = -50.0,
    *,
    indoor_temperature: float = ROOM,
    outdoor_temperature: float = ROOM,
    ducts: Ducts = Ducts.LEFT_OUT,
) -> ZonePressureTest:
    """Read the pressure of a buffer space while the fan holds the house.

    Parameters
    ----------
    house : House
        The house.
    space : str
        Id of a space.
    pressure : float
        Induced pressure of the house, signed [Pa], up to 500 either way and not 0.
    indoor_temperature, outdoor_temperature : float
        During the test [K]; buffer spaces are halfway between.
    ducts : Ducts
        Whether the leaks of the ducts are part of the house.

    Returns
    -------
    ZonePressureTest

    Raises
    ------
    OutOfRangeError
        If the pressure is outside its range.
    HouseError
        If the space is not one of the house, or has no path to outdoors.
    """
    setting = Setting(
        inside_doors(house),
        ducts=ducts,
        indoor_temperature=indoor_temperature,
        outdoor_temperature=outdoor_temperature,
    )
    one = _read_zone(house, space, pressure, setting)
    exponents = _exponents(house, space)
    return ZonePressureTest(
        space,
        pressure,
        one.between,
        exponents[0],
        zone=ZONE_KINDS[house.space(space).kind],
        outdoor_exponent=exponents[1],
        outdoor_pressure=pressure - one.between,
    )


def simulate_added_hole(
    house: House,
    space: str,
    boundary: Boundary,
    area: float,
    pressure: float = -50.0,
    *,
    discharge: float = 0.60,
    ducts: Ducts = Ducts.LEFT_OUT,
) -> AddedHoleTest:
    """Read a buffer space before and after a measured hole is opened into it.

    Parameters
    ----------
    house : House
        The house.
    space : str
        Id of the buffer space.
    boundary : Boundary
        Where the hole is opened.
    area : float
        Its area [m²], > 0.
    pressure : float
        Induced pressure of the house, held both times, signed [Pa].
    discharge : float
        Discharge coefficient of the hole [-].
    ducts : Ducts
        Whether the leaks of the ducts are part of the house.

    Returns
    -------
    AddedHoleTest

    Raises
    ------
    OutOfRangeError
        If the pressure is outside its range.
    HouseError
        If the space is not one of the house, or has no path to outdoors.
    """
    before, after = _before_and_after(house, space, boundary, area, pressure, discharge, ducts)
    exponents = _exponents(house, space)
    return AddedHoleTest(
        space,
        pressure,
        before.between,
        boundary,
        area,
        after.between,
        discharge,
        closed=True,
        pressure_closed=before.between,
        exponent=exponents[0],
        outdoor_exponent=exponents[1],
        zone=ZONE_KINDS[house.space(space).kind],
    )


def simulate_opened_hatch(
    house: House,
    space: str,
    area: float,
    pressure: float = -50.0,
    *,
    boundary: Boundary = Boundary.HOUSE,
    discharge: float = 0.60,
    ducts: Ducts = Ducts.LEFT_OUT,
) -> OpenedHatchTest:
    """Read a buffer space and the fan before and after a hatch or door is opened.

    Parameters
    ----------
    house : House
        The house.
    space : str
        Id of the buffer space.
    area : float
        Free area of the open hatch [m²], > 0.
    pressure : float
        Induced pressure of the house, held both times, signed [Pa].
    boundary : Boundary
        Whether the hatch joins the zone to the house or to outdoors.
    discharge : float
        Discharge coefficient of the hatch [-].
    ducts : Ducts
        Whether the leaks of the ducts are part of the house.

    Returns
    -------
    OpenedHatchTest

    Raises
    ------
    OutOfRangeError
        If the pressure is outside its range.
    HouseError
        If the space is not one of the house, or has no path to outdoors.
    """
    before, after = _before_and_after(house, space, boundary, area, pressure, discharge, ducts)
    exponents = _exponents(house, space)
    return OpenedHatchTest(
        space,
        pressure,
        before.between,
        after.between,
        before.flow,
        after.flow,
        closed=True,
        boundary=boundary,
        area=area,
        discharge=discharge,
        pressure_closed=before.between,
        exponent=exponents[0],
        outdoor_exponent=exponents[1],
        zone=ZONE_KINDS[house.space(space).kind],
    )


@dataclass(frozen=True, slots=True)
class _ZonePoint:
    """House with reference to a zone, baseline taken off [Pa], and the fan's flow [m³/s]."""

    between: float
    flow: float


def _read_zone(house: House, space: str, pressure: float, setting: Setting) -> _ZonePoint:
    _require_pressure(abs(pressure))
    test = set_up(house, setting)
    zone, calm = test.place(space), test.hold({})
    standing = _hold_induced(test, calm, pressure)
    change = standing.pressure - calm.pressure
    return _ZonePoint(float(change[test.fan] - change[zone]), _point(test, calm, standing).flow)


def _before_and_after(
    house: House,
    space: str,
    boundary: Boundary,
    area: float,
    pressure: float,
    discharge: float,
    ducts: Ducts,
) -> tuple[_ZonePoint, _ZonePoint]:
    doors = inside_doors(house)
    hole = hole_into(house, space, boundary, area, discharge)
    return (
        _read_zone(house, space, pressure, Setting(doors, ducts=ducts)),
        _read_zone(house, space, pressure, Setting((*doors, hole), ducts=ducts)),
    )


def hole_into(
    house: House, space: str, boundary: Boundary, area: float, discharge: float = 0.60
) -> Opening:
    """Return a hole into a buffer space from the living space that borders on it.

    Parameters
    ----------
    house : House
        The house.
    space : str
        Id of the buffer space.
    boundary : Boundary
        Where the hole is.
    area : float
        Its area [m²], > 0.
    discharge : float
        Discharge coefficient [-].

    Returns
    -------
    Opening
        Into the living space that leaks most into the zone; into the largest where none does.

    Raises
    ------
    HouseError
        If the space is not one of the house, or the house has no living space.
    """
    zones = {one.id: one for one in house.spaces}
    if space not in zones:
        message = f"{space} is not a space of the house; use one of its ids"
        raise HouseError(message)
    if not house.living_spaces:
        message = "the house has no living space to test; give one space that kind"
        raise HouseError(message)
    level = zones[space].floor_level
    if boundary is Boundary.OUTDOORS:
        return Opening(space, OUTDOORS, area, level, discharge)
    main = max(house.living_spaces, key=lambda one: (_joining(house, one.id, space), one.volume))
    return Opening(main.id, space, area, level, discharge)


def _joining(house: House, one: str, other: str) -> float:
    """Return the sum of the leaks between two spaces [m³/(s·Paⁿ)]."""
    ends = {one, other}
    return sum(leak.coefficient for leak in house.leaks if {leak.first, leak.second} == ends)


def _exponents(house: House, space: str) -> tuple[float, float]:
    """Return the mean exponents of a zone's leaks to the house and to outdoors."""
    living = {one.id for one in house.living_spaces}
    sums = {True: [0.0, 0.0], False: [0.0, 0.0]}
    for leak in house.leaks:
        if space in (leak.first, leak.second):
            inwards = bool({leak.first, leak.second} & living)
            sums[inwards][0] += leak.coefficient
            sums[inwards][1] += leak.coefficient * leak.exponent
    inner, outer = (total / size if size > 0.0 else 0.65 for size, total in sums.values())
    return inner, outer


def exhaust_pressure(
    house: House,
    space: str,
    *,
    running: tuple[str, ...] | None = None,
    air_handler: bool = False,
    indoor_temperature: float = ROOM,
    outdoor_temperature: float = ROOM,
    opened: tuple[str | Opening, ...] = (),
    ducts: Ducts = Ducts.LEFT_OUT,
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
    ducts : Ducts
        Left out, so that their leaks pass a fixed share of the air handler's flow as in the
        simulated year, or as bodies of air of their own.

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
    every = tuple(fan.id for fan in house.fans if fan.kind == "exhaust")
    still = Setting(
        opened,
        ducts=ducts,
        gauge=space,
        indoor_temperature=indoor_temperature,
        outdoor_temperature=outdoor_temperature,
    )
    on = replace(still, running=every if running is None else running, air_handler=air_handler)
    pressures = [
        float(test.hold({}).pressure[test.fan])
        for test in (set_up(house, on), set_up(house, still))
    ]
    return pressures[0] - pressures[1]
