"""Mistakes in pressures of rooms and house, while the gauge is still in hand."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.readings.room_pressures.note import SURE, WATER_INCH, how_sure, note
from rooftree.readings.room_pressures.rooms import CLEAR, CLOSED_OFF, CLOSED_ON, opening_of
from rooftree.readings.room_pressures.states import HOUSE, StateTable

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.finding import Finding
    from rooftree.readings.room_pressures.readings import PressureReading, RoomPressureTest
    from rooftree.readings.room_pressures.results import RoomResult

HIGHEST = 100.0
"""Pressure that no room or house has by its own fans [Pa]; ours. The highest of 70 houses with
doors closed was 37.3 Pa (Cummings and Withers, ASHRAE Trans. 112(1), 2006)."""

INCHES_BELOW = 0.16
"""Largest reading of a set that looks like inches of water [Pa]: 40 Pa typed as inches; ours."""

OPEN_DOOR = 1.0
"""Pressure across an open door that cannot be [Pa]: it would pass about 2 m³/s; ours."""

STILL = 1.0
"""Pressure of a closed room with everything off that asks for a look [Pa]; ours."""

WIDEST_GAP = 0.3
"""Gap under a door above which a unit is wrong [m]; ours."""

FLOW_RATIO = 1.6
"""Flow by the opening over flow by the registers that cannot be doubt alone [-]; ours."""


def judge_readings(
    test: RoomPressureTest, table: StateTable, rooms: Sequence[RoomResult]
) -> tuple[Finding, ...]:
    """Return every doubt about the readings.

    Parameters
    ----------
    test : RoomPressureTest
        Readings.
    table : StateTable
        The same by state.
    rooms : sequence of RoomResult
        Closed rooms.

    Returns
    -------
    tuple of Finding
    """
    if not test.pressures:
        return (
            note(
                "no-readings",
                "No pressure was read. Close the door of one room, run the air handler, and read"
                " the room against the main space.",
            ),
        )
    units = _judge_units(test, table)
    if units:
        return tuple(units)
    return (
        *_judge_reference(test, table),
        *_judge_open_doors(test),
        *_judge_still(test, table),
        *_judge_sign(test, rooms),
        *_judge_openings(test, rooms),
        *_judge_sum(test, rooms),
    )


def sound_rooms(test: RoomPressureTest) -> tuple[RoomPressureTest, tuple[Finding, ...]]:
    """Take out what cannot be about a room.

    Parameters
    ----------
    test : RoomPressureTest
        Readings.

    Returns
    -------
    RoomPressureTest
        With such values as if they had not been read.
    tuple of Finding
        One for each of them.
    """
    rooms, found = [], []
    for room in test.rooms:
        gap, share, flow = room.undercut, room.leakage_share, room.supply_flow
        wrong = []
        if gap is not None and not 0.0 <= gap <= WIDEST_GAP:
            wrong.append(("gap under the door", gap))
            gap = None
        if share is not None and not 0.0 <= share <= 1.0:
            wrong.append(("share in the leakage", share))
            share = None
        if flow is not None and min(flow, room.return_flow) < 0.0:
            wrong.append(("register flow", min(flow, room.return_flow)))
            flow = None
        rooms.append(replace(room, undercut=gap, leakage_share=share, supply_flow=flow))
        found += [
            note(
                "impossible",
                f"The {name} of {room.name} cannot be {value:g}; it is left out. A gap is"
                " 0 to 0.3 m (12 in), a share 0 to 1, flows have no sign. Enter it again with its"
                " unit.",
                value,
                about=room.name,
            )
            for name, value in wrong
        ]
    known = {
        "indoor temperature": test.indoor_temperature,
        "outdoor temperature": test.outdoor_temperature,
        "height of the house": test.house_height,
    }
    odd = [name for name, value in known.items() if not _is_possible(name, value)]
    found += [
        note(
            "impossible",
            f"The {name} cannot be; it is left out. Enter it again with its unit.",
            known[name],
        )
        for name in odd
    ]
    inside, outside, height = (None if name in odd else value for name, value in known.items())
    sound = replace(
        test,
        rooms=tuple(rooms),
        indoor_temperature=inside,
        outdoor_temperature=outside,
        house_height=height,
    )
    return sound, tuple(found)


def _is_possible(name: str, value: float | None) -> bool:
    low, high = (200.0, 340.0) if "temperature" in name else (0.0, 100.0)
    return value is None or low < value < high


def _judge_units(test: RoomPressureTest, table: StateTable) -> list[Finding]:
    largest = max(test.pressures, key=lambda row: abs(row.pressure))
    if abs(largest.pressure) > HIGHEST:
        return [
            note(
                "units",
                f"Almost certain: {abs(largest.pressure):.0f} Pa is no pressure of a room or house"
                " on its own fans. Pascals were entered as inches of water (249 Pa each), or the"
                " hose was on a duct. Enter the reading again with the unit of the gauge.",
                largest.pressure,
                HIGHEST,
                "Pa",
                about=largest.room,
            )
        ]
    shown = [value for name in table.rooms for value in table.rooms[name].get(CLOSED_ON, [])]
    if len(shown) < 2 or max(map(abs, shown)) > INCHES_BELOW or not any(shown):
        return []
    fine = [value for value in shown if abs(round(value, 1) - value) > 1e-6]
    if len(fine) < 2:
        return []
    most = max(map(abs, shown))
    return [
        note(
            "units",
            "Likely: inches of water were entered as pascals. All closed rooms together stay"
            f" within {most:.3f}, finer than the gauge reads pascals; as inches of water that"
            f" would be {most * WATER_INCH:.1f} Pa. Look at the unit on the gauge.",
            most,
            INCHES_BELOW,
            "Pa",
        )
    ]


def _judge_reference(test: RoomPressureTest, table: StateTable) -> list[Finding]:
    lost = [
        row
        for row in test.pressures
        if row.is_against_outdoors
        and row.room != HOUSE
        and not any(
            _state_of(row) == (s.doors_closed, s.air_handler, s.running) for s in table.house
        )
    ]
    if not lost:
        return []
    return [
        note(
            "reference",
            f"{lost[0].room} was read against outdoors, but the main space was not in the same"
            " state. Read the main space against outdoors too, or the room against the main"
            " space.",
            about=lost[0].room,
        )
    ]


def _state_of(row: PressureReading) -> tuple[bool, bool, frozenset[str]]:
    return row.doors_closed, row.air_handler, row.running


def _judge_open_doors(test: RoomPressureTest) -> list[Finding]:
    edge = max(OPEN_DOOR, SURE * test.reading_uncertainty)
    odd = [
        row
        for row in test.pressures
        if not row.is_against_outdoors and not row.doors_closed and abs(row.pressure) > edge
    ]
    return [
        note(
            "open-door",
            f"Almost certain: the door of {row.room} was not open. {row.pressure:+.1f} Pa across"
            " an open door would need more air than a house fan moves. See whether it was closed"
            " or the reference hose lay elsewhere, and correct the state or read again. Before a"
            " fan test open every inside door.",
            row.pressure,
            edge,
            "Pa",
            about=row.room,
        )
        for row in odd
    ]


def _judge_still(test: RoomPressureTest, table: StateTable) -> list[Finding]:
    edge = max(STILL, SURE * test.reading_uncertainty)
    found = []
    for name in table.rooms:
        still = table.room(name, CLOSED_OFF)
        if still is not None and abs(still.value) > edge:
            found.append(
                note(
                    "not-off",
                    f"{name} reads {still.value:+.1f} Pa with the air handler said to be off."
                    " Likely: the air handler or another fan still ran, or the gauge was not"
                    " zeroed; else wind. Switch everything off, wait a minute, zero the gauge,"
                    " read again.",
                    still.value,
                    edge,
                    "Pa",
                    about=name,
                )
            )
    has_on = any(table.room(name, CLOSED_ON) for name in table.rooms)
    has_off = any(table.room(name, CLOSED_OFF) for name in table.rooms)
    if has_on and not has_off:
        found.append(
            note(
                "no-baseline",
                "No closed room was read with the air handler off, so wind and the gauge's zero"
                " are not taken off. Read one room once more with it off.",
            )
        )
    return found


def _judge_sign(test: RoomPressureTest, rooms: Sequence[RoomResult]) -> list[Finding]:
    flows = {room.name: room.net_flow for room in test.rooms}
    wrong = [
        room
        for room in rooms
        if (flow := flows.get(room.name)) is not None
        and flow * room.pressure.value < 0.0
        and abs(room.pressure.value) > SURE * room.pressure.standard
    ]
    if not wrong:
        return []
    clear = [
        room
        for room in rooms
        if flows.get(room.name) and abs(room.pressure.value) > SURE * room.pressure.standard
    ]
    worst = max(wrong, key=lambda room: abs(room.pressure.value))
    distance = worst.pressure.value / worst.pressure.standard
    cause = (
        "the hoses are swapped, or the sign was lost"
        if len(wrong) == len(clear)
        else "the hoses were swapped for it, or its supply leaks before the register"
    )
    expected = "above" if (flows[worst.name] or 0.0) > 0.0 else "below"
    return [
        note(
            "sign",
            f"{how_sure(distance)}: {cause}. {worst.name} reads {worst.pressure.value:+.1f} Pa, but"
            f" by its registers it has to be {expected} the main space. The room's hose belongs on"
            " the input, the main space on the reference; read again.",
            worst.pressure.value,
            0.0,
            "Pa",
            about=worst.name,
        )
    ]


def _judge_openings(test: RoomPressureTest, rooms: Sequence[RoomResult]) -> list[Finding]:
    """Return the doubts about rooms whose registers and openings give different flows."""
    known = {room.name: room for room in test.rooms}
    found = []
    for room in rooms:
        door, registers = room.through_door, room.by_registers
        described = known.get(room.name)
        if registers is None or described is None or registers.value == 0.0:
            continue
        if door is None or door.value * registers.value <= 0.0:
            found += _judge_silent(test, room, opening_of(described), registers.value)
            continue
        ratio = door.value / registers.value
        doubt = math.hypot(door.standard / door.value, registers.standard / registers.value)
        if abs(math.log(ratio)) <= max(math.log(FLOW_RATIO), CLEAR * doubt):
            continue
        more = (
            "Its registers give more than was read, or less of the undercut is clear (carpet)."
            if ratio > 1.0
            else "Air leaves it another way (leaks to outdoors, attic or next room, a jump duct)"
            " or its registers give less than was read."
        )
        found.append(
            note(
                "opening-and-registers",
                f"{how_sure(math.log(ratio) / doubt)}: {room.name} at {room.pressure.value:+.1f} Pa"
                f" would pass {ratio:.1f} times what its registers give. {more} If cfm and L/s"
                " (2.12) are mixed, enter the flow again; else measure the gap and the registers"
                " once more.",
                ratio,
                FLOW_RATIO if ratio > 1.0 else 1.0 / FLOW_RATIO,
                "-",
                about=room.name,
            )
        )
    return found


def _judge_silent(
    test: RoomPressureTest, room: RoomResult, area: float | None, flow: float
) -> list[Finding]:
    """Return the doubt about a room that shows nothing where it has to show something."""
    if not area or abs(room.pressure.value) > SURE * room.pressure.standard:
        return []
    speed = abs(flow) / (test.discharge * area)
    expected = 0.5 * 1.2041 * speed**2
    if expected < 3.0 * SURE * room.pressure.standard:
        return []
    return [
        note(
            "silent-room",
            f"Likely: {room.name} was not closed, the air handler did not run, or a tube is pinched"
            f" under the door. It reads {room.pressure.value:+.1f} Pa where its registers through"
            f" its undercut make about {expected:.0f} Pa. Blow into the tube to see the gauge move,"
            " and read again.",
            room.pressure.value,
            expected,
            "Pa",
            about=room.name,
        )
    ]


def _judge_sum(test: RoomPressureTest, rooms: Sequence[RoomResult]) -> list[Finding]:
    """Return the doubt about rooms that do not balance with the main space."""
    back, out = test.main_return_flow, test.main_supply_flow
    flows = [room.through_door for room in rooms]
    if back is None or not flows or len(flows) < len(test.rooms) or not all(flows):
        return []
    given = math.fsum(flow.value for flow in flows if flow)
    wanted = back - (out or 0.0)
    if wanted <= 0.0:
        return []
    doubt = math.hypot(
        *(flow.standard for flow in flows if flow),
        test.flow_uncertainty * math.hypot(back, out or 0.0),
        0.08 * back,  # what leaks from the ducts of one side more than of the other
    )
    gap = given - wanted
    if abs(gap) <= max(SURE * doubt, 0.25 * wanted):
        return []
    return [
        note(
            "rooms-do-not-balance",
            f"{how_sure(gap / doubt)}: closed rooms push {given / 4.719474e-4:.0f} cfm through"
            f" their doors, the main space takes {wanted / 4.719474e-4:.0f} cfm more than it"
            " gets. The two have to be about equal. Look for a room or grille that was left out,"
            " a wrong undercut, a door that was open, mixed units, or large duct leakage.",
            gap,
            max(SURE * doubt, 0.25 * wanted),
            "m³/s",
            "conservation of mass",
        )
    ]
