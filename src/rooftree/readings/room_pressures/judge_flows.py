"""Mistakes that show in the flows of closed rooms: signs, gaps, registers, the balance."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.readings.room_pressures.note import SURE, flow_of, how_sure, note
from rooftree.readings.room_pressures.rooms import CLEAR, opening_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.finding import Finding
    from rooftree.readings.room_pressures.readings import RoomPressureTest
    from rooftree.readings.room_pressures.results import RoomResult

FLOW_RATIO = 1.6
"""Flow by the opening over flow by the registers that cannot be doubt alone [-]; ours."""


def judge_flows(test: RoomPressureTest, rooms: Sequence[RoomResult]) -> tuple[Finding, ...]:
    """Return every doubt about the flows of closed rooms.

    Parameters
    ----------
    test : RoomPressureTest
        Readings.
    rooms : sequence of RoomResult
        Closed rooms.

    Returns
    -------
    tuple of Finding
    """
    return (*_judge_sign(test, rooms), *_judge_openings(test, rooms), *_judge_sum(test, rooms))


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
            f"{how_sure(gap / doubt)}: closed rooms push {flow_of(given)} through"
            f" their doors, the main space takes {flow_of(wanted)} more than it"
            " gets. The two have to be about equal. Look for a room or grille that was left out,"
            " a wrong undercut, a door that was open, mixed units, or large duct leakage.",
            gap,
            max(SURE * doubt, 0.25 * wanted),
            "m³/s",
            "conservation of mass",
        )
    ]
