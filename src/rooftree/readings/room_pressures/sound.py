"""What cannot be about rooms and house is taken out before anything is computed."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.readings.room_pressures.note import note

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.readings.room_pressures.readings import RoomPressureTest

WIDEST_GAP = 0.3
"""Gap under a door above which a unit is wrong [m]; ours."""


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
