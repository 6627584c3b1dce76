"""Check that tests of zones and ducts go to the job file and come back."""

from __future__ import annotations

import dataclasses

import pytest

from rooftree.errors import DocumentError
from rooftree.job import Test as FieldTest
from rooftree.readings.duct_leakage import DuctFanBand, DuctFanReading, DuctLeakageTest
from rooftree.readings.duct_leakage_from_house import DeltaQTest, DuctSubtractionTest, HouseFlow
from rooftree.readings.duct_pans import DuctPanTest, DuctSide, PanReading
from rooftree.readings.zone_pressures import (
    AddedHoleTest,
    Boundary,
    OpenedHatchTest,
    ZoneKind,
    ZonePressureTest,
)
from rooftree.records.document import read_test
from rooftree.records.document.writing import test_entry as entry_of
from rooftree.units import DisplaySystem

READINGS = (
    ZonePressureTest(
        "attic", -50.0, -42.0, 0.6, zone=ZoneKind.ATTIC, outdoor_exponent=0.55,
        outdoor_pressure=-8.0, again_pressure=-41.5, vent_area=0.2,
    ),
    AddedHoleTest(
        "attic", -50.0, -42.0, Boundary.OUTDOORS, 0.04, -46.0, 0.65, 0.01, closed=True,
        house_pressure_after=-49.0, pressure_closed=-42.5,
    ),
    OpenedHatchTest(
        "garage", -50.0, -42.0, -50.0, 0.9, 1.0, boundary=Boundary.OUTDOORS, area=4.0,
        zone=ZoneKind.GARAGE,
    ),
    DuctLeakageTest(
        True, air_handler_flow=0.5,
        fan_readings=(DuctFanReading(25.0, None, 70.0, "ring"), DuctFanReading(18.0, 0.04)),
        calibration=(DuctFanBand("ring", 20.0, 400.0, 0.005, 0.5, "one"),),
        duct_house_pressure=-0.4, registers=9, registers_sealed=8, filter_out=False,
    ),
    DuctPanTest(
        -45.0, (PanReading("bath", 8.0, DuctSide.RETURN, "crawlspace", 7.5),), -40.0,
        air_handler_off=True, registers=7,
    ),
    DuctSubtractionTest(50.0, 1.0, 0.9, 40.0, 0.5),
    DeltaQTest(40.0, 60.0, (HouseFlow(True, -20.0, -0.4), HouseFlow(False, 20.0, 0.4)), 0.5, 1.5),
)  # fmt: skip


def near(one: object, other: object) -> bool:
    """Return whether two readings agree to the digits that a file keeps."""
    if dataclasses.is_dataclass(one):
        names = [field.name for field in dataclasses.fields(one)]
        return all(near(getattr(one, name), getattr(other, name)) for name in names)
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(map(near, one, other))
    if isinstance(one, float):
        return other == pytest.approx(one, rel=1e-4)
    return one == other


@pytest.mark.parametrize("reading", READINGS, ids=lambda one: type(one).__name__)
@pytest.mark.parametrize("system", list(DisplaySystem))
def test_readings_go_to_the_file_and_back(reading: object, system: DisplaySystem) -> None:
    """Written in either system, a test comes back as it was."""
    entry = entry_of(FieldTest("t", "A test", "visit-1", reading), system)
    assert near(reading, read_test(entry))


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"zone": "cellar"}, "zone"),
        ({"zone_pressure": -42}, "zone_pressure"),
        ({"exponent": 0.3}, "exponent"),
        ({"vent_area": "-1 in²"}, "vent_area"),
    ],
)
def test_what_cannot_be_taken_is_named(change: dict[str, object], path: str) -> None:
    """A wrong word, a bare number or a value out of range names its field."""
    entry = entry_of(FieldTest("t", "A test", "v", READINGS[0]), DisplaySystem.IP)
    with pytest.raises(DocumentError) as caught:
        read_test(entry | change)
    assert [problem[0] for problem in caught.value.problems] == [path]
