"""Closed rooms: how much air they are short of or have too much, and what relieves them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.openings import opening_area
from rooftree.physics.propagation import Propagated, propagate, propagate_positive
from rooftree.readings.room_pressures.house_shift import stepped_shift
from rooftree.readings.room_pressures.opening import door_flow, relief_area
from rooftree.readings.room_pressures.readings import Room
from rooftree.readings.room_pressures.results import RoomResult
from rooftree.readings.room_pressures.states import State, StateTable, difference

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.readings.room_pressures.curve import HouseCurve
    from rooftree.readings.room_pressures.readings import RoomPressureTest

CLEAR = 3.0
"""Standard uncertainties that a pressure must be off zero to size a flow from it [-]; ours."""

USUAL_SHARE, USUAL_SHARE_UNCERTAINTY = 0.08, 0.04
"""Share of a bedroom in the leakage of a house where it is not known [0-1]; ours."""

SHARE_UNCERTAINTY = 0.3
"""Standard uncertainty of a room's share as entered [0-1], relative; ours."""

DOOR_UNCERTAINTY = 0.005
"""Standard uncertainty of the width of a door [m]; ours."""

UNREAD_HOUSE_UNCERTAINTY = 2.0
"""Standard uncertainty of the main space's own change where it was not read [Pa]; ours."""

CLOSED_ON, CLOSED_OFF = State(True, True), State(True, False)


@dataclass(frozen=True, slots=True)
class _ClosedRoom:
    """One closed room with the inputs of its formulas.

    Inputs in order: pressure against the main space [Pa], discharge coefficient [-],
    undercut [m], door width [m], share of the house's leakage [0-1], change of the main
    space against outdoors with doors closed and with doors open [Pa], leakage at 50 Pa
    [m³/s], exponent [-], stack spread [Pa].
    """

    room: Room
    pressure: Propagated
    sign: float
    values: tuple[float, ...]
    doubts: tuple[float, ...]

    def area(self, *inputs: float) -> float:
        """Return the clear area to the main space [m²]."""
        return max(inputs[2] * inputs[3], 0.0) + self.room.other_area

    def lost(self, at: float, *inputs: float) -> float:
        """Return what leaks from the room to outdoors at a pressure [m³/s]."""
        pressure, _, _, _, share, closed, opened, *curve = inputs
        if share <= 0.0:
            return 0.0
        # Closed rooms move the main space too: as all are relieved it goes back with them.
        outside = at + opened + (closed - opened) * at / pressure
        return share * stepped_shift(outside, curve[0], curve[1], curve[2])

    def through(self, *inputs: float) -> float:
        """Return the net flow by pressure and openings [m³/s], in the sense of the pressure."""
        at_door = door_flow(self.area(*inputs), inputs[0], discharge=inputs[1])
        return self.sign * (at_door + self.lost(inputs[0], *inputs))


def reduce_rooms(
    test: RoomPressureTest, table: StateTable, curve: HouseCurve | None
) -> tuple[RoomResult, ...]:
    """Reduce every room that was read with its door closed and the air handler on.

    Parameters
    ----------
    test : RoomPressureTest
        Readings.
    table : StateTable
        The same by state.
    curve : HouseCurve or None
        Leakage of the house; without it no air leaks from the rooms to outdoors.

    Returns
    -------
    tuple of RoomResult
        Largest pressure first.
    """
    known = {room.name: room for room in test.rooms}
    found = []
    for name in table.rooms:
        shown = table.room(name, CLOSED_ON)
        if shown is not None:
            room = known.get(name, Room(name))
            found.append(_reduce_room(test, room, shown, table, curve))
    return tuple(sorted(found, key=lambda room: -abs(room.pressure.value)))


def opening_of(room: Room) -> float | None:
    """Return the clear area between a closed room and the main space.

    Parameters
    ----------
    room : Room
        What is known of it.

    Returns
    -------
    float or None
        [m²]; None where neither undercut nor other opening is known.
    """
    if room.undercut is None:
        return room.other_area or None
    return room.undercut * room.door_width + room.other_area


def _reduce_room(
    test: RoomPressureTest,
    room: Room,
    shown: Propagated,
    table: StateTable,
    curve: HouseCurve | None,
) -> RoomResult:
    before = table.room(room.name, CLOSED_OFF)
    pressure = difference(shown, before) if before else shown
    closed = _closed_room(test, room, pressure, _house_changes(table), curve)
    is_clear = abs(pressure.value) >= CLEAR * pressure.standard
    door = None
    if is_clear and opening_of(room):
        door = _signed(_sized(closed.through, closed.values, closed.doubts), closed.sign)
    registers = _by_registers(test, room)
    net = registers or door
    relief = None
    if is_clear and net is not None and net.value * pressure.value > 0.0:
        relief = _relief(test, closed, registers)
    return RoomResult(
        name=room.name,
        pressure=pressure,
        baseline=before.value if before else None,
        through_door=door,
        by_registers=registers,
        net_flow=net,
        area_to_add=relief,
    )


def _closed_room(
    test: RoomPressureTest,
    room: Room,
    pressure: Propagated,
    house: tuple[Propagated, Propagated],
    curve: HouseCurve | None,
) -> _ClosedRoom:
    share, doubt = USUAL_SHARE, USUAL_SHARE_UNCERTAINTY
    if room.leakage_share is not None:
        share, doubt = room.leakage_share, SHARE_UNCERTAINTY * room.leakage_share
    if curve is None:
        share = doubt = 0.0
    has_gap = bool(room.undercut)
    return _ClosedRoom(
        room=room,
        pressure=pressure,
        sign=math.copysign(1.0, pressure.value),
        values=(
            pressure.value,
            test.discharge,
            room.undercut or 0.0,
            room.door_width,
            share,
            *(change.value for change in house),
            *(curve.values() if curve else (1.0, 0.65, 0.0)),
        ),
        doubts=(
            pressure.standard,
            test.discharge_uncertainty,
            test.undercut_uncertainty if has_gap else 0.0,
            DOOR_UNCERTAINTY if has_gap else 0.0,
            doubt,
            *(change.standard if share else 0.0 for change in house),
            *(curve.doubts() if curve else (0.0, 0.0, 0.0)),
        ),
    )


def _house_changes(table: StateTable) -> tuple[Propagated, Propagated]:
    """Return how far the air handler moves the main space, doors closed and open [Pa]."""
    still = table.main(State(True, False)) or table.main(State(False, False))
    unread = Propagated(0.0, UNREAD_HOUSE_UNCERTAINTY, 0.0, 0.0)
    closed, opened = (
        difference(shown, table.main(State(doors, False)) or still)
        if still and (shown := table.main(State(doors, True)))
        else None
        for doors in (True, False)
    )
    return closed or opened or unread, opened or Propagated(0.0, 0.0, 0.0, 0.0)


def _by_registers(test: RoomPressureTest, room: Room) -> Propagated | None:
    flow = room.net_flow
    if flow is None:
        return None
    standard = test.flow_uncertainty * math.hypot(room.supply_flow or 0.0, room.return_flow)
    return Propagated(flow, standard, flow - 2.0 * standard, flow + 2.0 * standard)


def _relief(
    test: RoomPressureTest, closed: _ClosedRoom, registers: Propagated | None
) -> Propagated | None:
    """Return the opening to add; None where the room is within the allowed pressure.

    The flow that has to pass is that of the registers where they were read, else that of
    the openings; less what still leaks to outdoors at the allowed pressure.
    """
    allowed = test.allowed_pressure
    if abs(closed.pressure.value) <= allowed:
        return None
    is_gap_known = opening_of(closed.room) is not None
    given = [abs(registers.value)] if registers else []

    def formula(*inputs: float) -> float:
        state, flows = inputs[: len(closed.values)], inputs[len(closed.values) :]
        net = flows[0] if flows else closed.through(*state)
        still = closed.sign * closed.lost(closed.sign * allowed, *state)
        there = closed.area(*state)
        if not is_gap_known:
            leaving = max(net - closed.sign * closed.lost(state[0], *state), 0.0)
            there = opening_area(leaving, abs(state[0]), discharge=state[1])
        return relief_area(max(net - still, 0.0), there, allowed, discharge=state[1])

    values = (*closed.values, *given)
    doubts = (*closed.doubts, *([registers.standard] if registers else []))
    return _sized(formula, values, doubts)


def _sized(
    formula: Callable[..., float], values: tuple[float, ...], doubts: tuple[float, ...]
) -> Propagated | None:
    """Return a size above zero; None where there is none.

    Limits stay positive unless the doubt reaches zero.
    """
    if not formula(*values) > 0.0:
        return None
    try:
        return propagate_positive(formula, values, doubts)
    except ValueError:
        return propagate(formula, values, doubts)


def _signed(value: Propagated | None, sign: float) -> Propagated | None:
    if value is None or sign > 0.0:
        return value
    return Propagated(
        -value.value, value.standard, -value.high, -value.low, is_by_factor=value.is_by_factor
    )
