"""Check that pressures of rooms and house keep their texts and become SI."""

from __future__ import annotations

import pytest

from rooftree.errors import DocumentError
from rooftree.readings.room_pressures import (
    Exhaust,
    PressureReading,
    Reference,
    Room,
    RoomPressureTest,
)
from rooftree.records.document import read_test
from rooftree.records.document.field_tests.room_pressures import RoomPressureDocument

ENTRY = {
    "id": "r",
    "kind": "room pressures",
    "name": "Rooms",
    "visit": "v",
    "pressures": [
        {"room": "den", "pressure": "6.2 Pa"},
        {"room": "den", "pressure": "1 Pa", "reference": "outdoors", "doors_closed": False},
        {"pressure": "-2 Pa", "air_handler": False, "exhausts": "dryer"},
    ],
    "rooms": [{"name": "den", "undercut": "1/2 in", "other_area": "20 in2"}],
    "exhausts": [{"name": "dryer", "flow": "50 L/s"}],
}


def test_an_entry_becomes_readings_in_si() -> None:
    """Rows are taken; what was left out has the defaults of the core."""
    assert read_test(ENTRY) == RoomPressureTest(
        pressures=(
            PressureReading("den", 6.2),
            PressureReading("den", 1.0, Reference.OUTDOORS, doors_closed=False),
            PressureReading("", -2.0, air_handler=False, exhausts="dryer"),
        ),
        rooms=(
            Room(
                "den",
                undercut=pytest.approx(0.0127),
                other_area=pytest.approx(20.0 * 0.0254**2),
            ),
        ),
        exhausts=(Exhaust("dryer", pytest.approx(0.05)),),
    )


def test_an_entry_comes_back_as_typed() -> None:
    """What is written is what was read, to the letter."""
    document = RoomPressureDocument.model_validate(ENTRY)
    assert document.model_dump(mode="json", exclude_unset=True) == ENTRY


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"pressures": [{"pressure": 3}]}, "pressures[0].pressure"),
        ({"rooms": [{"name": "den", "undercut": "-1 in"}]}, "rooms[0].undercut"),
        ({"allowed_pressure": "0 Pa"}, "allowed_pressure"),
    ],
)
def test_what_cannot_be_taken_is_named(change: dict[str, object], path: str) -> None:
    """A bare number, a gap below zero or no allowance names its field."""
    with pytest.raises(DocumentError) as caught:
        read_test(ENTRY | change)
    assert [problem[0] for problem in caught.value.problems] == [path]
