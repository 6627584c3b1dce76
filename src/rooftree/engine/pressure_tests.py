"""Pressures that the simulated house's own fans and doors make: rooms, worst case, duct sign.

Doors are the leaks of kind *hole* at which a living space ends: as described they are
closed (the gap around and under the door), opened they are wide.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.engine.duct_paths import Ducts
from rooftree.engine.field_tests import exhaust_pressure
from rooftree.engine.gauges import ROOM, Setting, inside_doors, set_up
from rooftree.errors import HouseError
from rooftree.house import LeakKind
from rooftree.known import Answer
from rooftree.physics.openings import opening_area
from rooftree.readings.room_pressures.readings import (
    Exhaust,
    PressureReading,
    Reference,
    Room,
    RoomPressureTest,
)
from rooftree.readings.room_pressures.results import DuctSide
from rooftree.readings.worst_case.readings import Hearth, WorstCaseTest
from rooftree.readings.worst_case.search import Stage, next_state
from rooftree.readings.worst_case.switches import EXHAUSTS, Combination

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from rooftree.house import House, Leak

SWITCHES = {"dryer": "dryer", "kitchen": "range_hood", "bath": "bath_fans"}
"""Purpose of an exhaust fan and the switch that it is in the search for the worst case."""

LEAST_CHANGE = 0.1
"""Change of the house pressure below which no side of the ducts is said to leak more [Pa]."""


def simulate_room_pressures(
    house: House,
    *,
    indoor_temperature: float = ROOM,
    outdoor_temperature: float = ROOM,
    ducts: Ducts = Ducts.OPEN,
) -> RoomPressureTest:
    """Read rooms and house with doors, air handler and exhaust fans switched.

    Parameters
    ----------
    house : House
        With an air handler and ducts; each living space that a door joins to the largest one
        is a room.
    indoor_temperature, outdoor_temperature : float
        [K]; buffer spaces are halfway between.
    ducts : Ducts
        How the ducts take part.

    Returns
    -------
    RoomPressureTest
        Rooms against the largest living space with all doors closed, the largest against
        outdoors in every state, each exhaust fan by itself.

    Raises
    ------
    HouseError
        If there is no living space, or no air handler with ducts where they take part.
    """
    doors = inside_doors(house)
    everything_off = Setting(
        ducts=ducts,
        indoor_temperature=indoor_temperature,
        outdoor_temperature=outdoor_temperature,
    )
    main = house.spaces[set_up(house, everything_off).fan].id
    rooms = [space for space in house.living_spaces if _door(house, main, space.id)]

    def shown(*, closed: bool, handler: bool, running: tuple[str, ...] = ()) -> dict[str, float]:
        setting = Setting(
            () if closed else doors,
            running,
            handler,
            ducts,
            main,
            indoor_temperature,
            outdoor_temperature,
        )
        test = set_up(house, setting)
        pressure = test.hold({}).pressure
        return {space.id: float(pressure[i]) for i, space in enumerate(house.spaces)}

    rows = []
    for closed, handler in ((False, False), (False, True), (True, False), (True, True)):
        at = shown(closed=closed, handler=handler)
        rows.append(PressureReading("", at[main], Reference.OUTDOORS, closed, handler))
        rows += [
            PressureReading(
                room.name, at[room.id] - at[main], doors_closed=closed, air_handler=handler
            )
            for room in rooms
            if closed
        ]
    exhausts = [fan for fan in house.fans if fan.kind == "exhaust"]
    for fan in exhausts:
        at = shown(closed=False, handler=False, running=(fan.id,))
        rows.append(PressureReading("", at[main], Reference.OUTDOORS, False, False, fan.name))
    return RoomPressureTest(
        pressures=tuple(rows),
        rooms=tuple(
            Room(room.name, other_area=_area(_door(house, main, room.id))) for room in rooms
        ),
        exhausts=tuple(Exhaust(fan.name, fan.flow) for fan in exhausts),
        indoor_temperature=indoor_temperature,
        outdoor_temperature=outdoor_temperature,
    )


def dominant_duct_leakage(house: House, *, ducts: Ducts = Ducts.OPEN) -> tuple[DuctSide, float]:
    """Return which side of the ducts leaks more to outdoors, by the sign of one pressure.

    Parameters
    ----------
    house : House
        With an air handler and ducts.
    ducts : Ducts
        How the ducts take part.

    Returns
    -------
    DuctSide
        The house sinks where the supply leaks more, and rises where the return does.
    float
        House with reference to outdoors with the air handler on, less with it off, doors
        open [Pa].

    Raises
    ------
    HouseError
        If there is no living space, or no air handler with ducts where they take part.
    """
    main = house.spaces[set_up(house, Setting()).fan].id
    change = exhaust_pressure(
        house, main, running=(), air_handler=True, opened=inside_doors(house), ducts=ducts
    )
    if abs(change) < LEAST_CHANGE:
        return DuctSide.NEITHER, change
    return (DuctSide.SUPPLY if change < 0.0 else DuctSide.RETURN), change


def simulate_worst_case(
    house: House,
    zone: str,
    *,
    indoor_temperature: float = ROOM,
    outdoor_temperature: float = ROOM,
    ducts: Ducts = Ducts.LEFT_OUT,
) -> WorstCaseTest:
    """Search the simulated house for the deepest pressure of an appliance zone.

    Parameters
    ----------
    house : House
        The house.
    zone : str
        Id of the space with the burner.
    indoor_temperature, outdoor_temperature : float
        [K]; buffer spaces are halfway between.
    ducts : Ducts
        How the ducts take part while the air handler runs.

    Returns
    -------
    WorstCaseTest
        With every state that the search asks for, in its order, and baselines before and
        after.

    Raises
    ------
    HouseError
        If the zone is not a space of the house, or has no path to outdoors.

    Notes
    -----
    The search is that of a visit (:func:`~rooftree.readings.worst_case.search.next_state`):
    every exhaust fan first, then doors and air handler one after another. All fans of one
    purpose are one switch.
    """
    if zone not in {space.id for space in house.spaces}:
        message = f"{zone} is not a space of the house; use one of its ids"
        raise HouseError(message)
    switches = _switches(house)
    zone_doors, other_doors = _doors_of(house, zone)
    still = Setting(
        ducts=ducts,
        gauge=zone,
        indoor_temperature=indoor_temperature,
        outdoor_temperature=outdoor_temperature,
    )

    def shown(combination: Combination) -> float:
        closed = combination.turns
        opened = (
            *(() if "zone_door_closed" in closed else zone_doors),
            *(() if "interior_doors_closed" in closed else other_doors),
        )
        running = tuple(fan for name in sorted(combination.exhausts) for fan in switches[name])
        setting = replace(
            still, opened=opened, running=running, air_handler="air_handler" in closed
        )
        test = set_up(house, setting)
        return float(test.hold({}).pressure[test.fan])

    return _search(_switched(house, zone, switches, (zone_doors, other_doors), still), shown)


def _search(test: WorstCaseTest, shown: Callable[[Combination], float]) -> WorstCaseTest:
    """Take one reading after another until the search has no more to ask for."""
    while (following := next_state(test)) is not None:
        pressure = shown(following.combination)
        if following.stage is Stage.BASELINE:
            test = replace(test, baseline_before=(pressure,))
        elif following.stage is Stage.BASELINE_AFTER:
            test = replace(test, baseline_after=(pressure,))
        else:
            test = replace(test, states=(*test.states, following.combination.state(pressure)))
    return test


def _switched(
    house: House,
    zone: str,
    switches: Mapping[str, tuple[str, ...]],
    doors: tuple[tuple[str, ...], tuple[str, ...]],
    setting: Setting,
) -> WorstCaseTest:
    """Return the search before any reading, with what there is to switch."""
    flows = {fan.id: fan.flow for fan in house.fans}
    drawn = {
        name: sum(flows[fan] for fan in switches[name]) if switches[name] else None
        for name in EXHAUSTS
    }
    closed = [leak for leak in house.leaks if leak.id in doors[0]]
    return WorstCaseTest(
        zone,
        has_dryer=drawn["dryer"] is not None,
        has_range_hood=drawn["range_hood"] is not None,
        has_bath_fans=drawn["bath_fans"] is not None,
        has_other_exhaust=drawn["other_exhaust"] is not None,
        has_air_handler=house.air_handler is not None and bool(house.ducts),
        has_interior_doors=bool(doors[1]),
        has_zone_door=bool(doors[0]),
        hearth=Hearth.NONE,
        closed_up=Answer.YES,
        dryer_flow=drawn["dryer"],
        range_hood_flow=drawn["range_hood"],
        bath_fans_flow=drawn["bath_fans"],
        other_exhaust_flow=drawn["other_exhaust"],
        door_gap=sum(_area(leak) for leak in closed) or None,
        indoor_temperature=setting.indoor_temperature,
        outdoor_temperature=setting.outdoor_temperature,
        fans_restored=Answer.YES,
        doors_restored=Answer.YES,
    )


def _switches(house: House) -> dict[str, tuple[str, ...]]:
    """Return the exhaust fans that each switch turns on."""
    found: dict[str, tuple[str, ...]] = dict.fromkeys(EXHAUSTS, ())
    for fan in house.fans:
        if fan.kind == "exhaust" and fan.flow > 0.0:
            name = SWITCHES.get(fan.purpose, "other_exhaust")
            found[name] = (*found[name], fan.id)
    return found


def _doors_of(house: House, zone: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the doors between a zone and living spaces, and the other inside doors."""
    living = {space.id for space in house.living_spaces}
    own: list[str] = []
    others: list[str] = []
    for leak in house.leaks:
        ends = {leak.first, leak.second}
        if leak.kind is LeakKind.HOLE and ends <= living | {zone}:
            (own if zone in ends else others).append(leak.id)
    return tuple(own), tuple(others)


def _door(house: House, one: str, other: str) -> Leak | None:
    """Return the door between two spaces."""
    for leak in house.leaks:
        if leak.kind is LeakKind.HOLE and {leak.first, leak.second} == {one, other}:
            return leak
    return None


def _area(leak: Leak | None) -> float:
    """Return the free area of a door as described [m²]."""
    return opening_area(leak.coefficient, 1.0) if leak else 0.0
