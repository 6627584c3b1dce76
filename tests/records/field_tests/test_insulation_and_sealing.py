"""Check that insulation and logs of air sealing keep their texts and become SI."""

from __future__ import annotations

from typing import Any

import pytest

from rooftree.errors import DocumentError
from rooftree.readings.air_sealing import AirSealingLog, LeakPlace, SealingRow
from rooftree.readings.insulation import (
    DepthPoint,
    Grade,
    InsulationPatch,
    InsulationSurvey,
    Material,
    Position,
    Spot,
)
from rooftree.records.document import read_test
from rooftree.records.document.field_tests.air_sealing import AirSealingDocument
from rooftree.records.document.field_tests.insulation import InsulationDocument

ATTIC: dict[str, Any] = {
    "id": "i",
    "kind": "insulation",
    "name": "Attic",
    "visit": "v",
    "where": "Attic floor",
    "position": "attic floor",
    "patches": [
        {
            "name": "north",
            "area": "50 m2",
            "material": "glass fiber batt",
            "label_resistance": "2 m2K/W",
            "label_depth": "90 mm",
            "grade": "grade II",
            "covers_framing": False,
            "age": "20 years",
        }
    ],
    "depths": [
        {"depth": "80 mm"},
        {"patch": "north", "depth": "0 mm", "spot": "at the hatch or access"},
    ],
    "temperature_difference": "30 K",
}
SEALING: dict[str, Any] = {
    "id": "s",
    "kind": "air sealing",
    "name": "Sealing",
    "visit": "v",
    "rows": [
        {"time": "0 min", "house_pressure": "-50 Pa", "fan_flow": "1200 L/s"},
        {
            "time": "45 min",
            "location": "chase",
            "house_pressure": "-49 Pa",
            "fan_flow": "1100 L/s",
            "work": "40 min",
            "material_cost": "$25",
        },
    ],
    "places": [{"place": "chase", "share": "15 %"}],
    "labor_rate": "$72/h",
    "holes_closed": True,
}


def test_insulation_becomes_si() -> None:
    """Patches and depths are taken; the rest has the defaults of the core."""
    patch = InsulationPatch(
        "north",
        50.0,
        Material.GLASS_BATT,
        label_resistance=2.0,
        label_depth=pytest.approx(0.09),
        grade=Grade.II,
        covers_framing=False,
        age=20.0 * 365.0 * 86400.0,
    )
    points = (
        DepthPoint("", pytest.approx(0.08)),
        DepthPoint("north", 0.0, Spot.HATCH),
    )
    assert read_test(ATTIC) == InsulationSurvey(
        "Attic floor", Position.ATTIC_FLOOR, (patch,), points, temperature_difference=30.0
    )


def test_a_log_becomes_si() -> None:
    """Rows, places and the cost of labor are taken; the rest has the defaults of the core."""
    assert read_test(SEALING) == AirSealingLog(
        (
            SealingRow(0.0, "", -50.0, pytest.approx(1.2)),
            SealingRow(2700.0, "chase", -49.0, pytest.approx(1.1), 2400.0, 25.0),
        ),
        (LeakPlace("chase", pytest.approx(0.15)),),
        labor_rate=pytest.approx(0.02),
        holes_closed=True,
    )


def test_entries_come_back_as_typed() -> None:
    """What is written is what was read, to the letter."""
    for model, entry in ((InsulationDocument, ATTIC), (AirSealingDocument, SEALING)):
        assert model.model_validate(entry).model_dump(mode="json", exclude_unset=True) == entry


@pytest.mark.parametrize(
    ("entry", "change", "path"),
    [
        (ATTIC, {"position": "roof"}, "position"),
        (ATTIC, {"depths": [{"depth": "deep"}]}, "depths[0].depth"),
        (ATTIC, {"depths": [{"depth": "-1 in"}]}, "depths[0].depth"),
        (ATTIC, {"patches": [{"name": "a", "area": "1 m2", "material": "straw"}]},
         "patches[0].material"),
        (SEALING, {"rows": [{"time": "1 h", "house_pressure": "50 Pa", "fan_flow": 7}]},
         "rows[0].fan_flow"),
        (SEALING, {"labor_rate": "60 $"}, "labor_rate"),
        (SEALING, {"exponent": 1.2}, "exponent"),
    ],
)  # fmt: skip
def test_a_wrong_field_is_named(entry: dict[str, Any], change: dict[str, Any], path: str) -> None:
    """What cannot be read is refused with its path."""
    with pytest.raises(DocumentError) as refused:
        read_test(entry | change)
    assert [where for where, _ in refused.value.problems] == [path]
