"""Check that fan flows keep their texts and become SI."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rooftree.errors import DocumentError
from rooftree.job import Test as FieldTest
from rooftree.readings.ventilation import (
    FanPurpose,
    FanReading,
    FlowMethod,
    Running,
    VentilationTest,
)
from rooftree.records.document import read_test
from rooftree.records.document.field_tests.ventilation import VentilationDocument
from rooftree.records.document.writing import test_entry as entry_of
from rooftree.units import DisplaySystem

ENTRY = {
    "id": "f",
    "kind": "ventilation",
    "name": "Fans",
    "visit": "v",
    "fans": [
        {"name": "bath", "purpose": "bath", "flow": "25 L/s", "turned_flow": "24 L/s"},
        {"name": "kitchen", "purpose": "kitchen hood", "method": "there is no fan"},
        {
            "name": "ventilator",
            "purpose": "whole-house exhaust",
            "flow": "-20 L/s",
            "is_even": False,
            "running": "by a timer or control",
            "run_share": "50 %",
            "cycle": "2 h",
            "power": "12 W",
        },
    ],
    "edition": "2016",
    "weather_factor": "0.55",
    "people": "4",
}
READ = VentilationTest(
    fans=(
        FanReading("bath", FanPurpose.BATH, 0.025, turned_flow=0.024),
        FanReading("kitchen", FanPurpose.KITCHEN_HOOD, method=FlowMethod.NO_FAN),
        FanReading(
            "ventilator", FanPurpose.WHOLE_EXHAUST, -0.02, is_even=False, running=Running.TIMED,
            run_share=0.5, cycle=7200.0, power=12.0,
        ),
    ),
    edition="2016",
    weather_factor=0.55,
    people=4,
)  # fmt: skip


def test_an_entry_becomes_readings_in_si() -> None:
    """Rows are taken; what was left out has the defaults of the core."""
    read = read_test(ENTRY)
    assert read == READ
    assert isinstance(read.people, int)


def test_an_entry_comes_back_as_typed() -> None:
    """What is written is what was read, to the letter."""
    document = VentilationDocument.model_validate(ENTRY)
    assert document.model_dump(mode="json", exclude_unset=True) == ENTRY


@pytest.mark.parametrize("system", list(DisplaySystem))
def test_readings_survive_the_file(system: DisplaySystem) -> None:
    """Readings of the core, written in either system, are read back as they were."""
    fans = tuple(replace(fan, rated_flow=0.02359737216) for fan in READ.fans)
    reading = replace(READ, fans=fans)
    back = read_test(entry_of(FieldTest("f", "Fans", "v", reading), system))
    assert back.edition == reading.edition
    for one, other in zip(back.fans, reading.fans, strict=True):
        assert one.flow == pytest.approx(other.flow, rel=2e-3)
        assert replace(one, flow=0.0, turned_flow=None, rated_flow=None) == replace(
            other, flow=0.0, turned_flow=None, rated_flow=None
        )


def test_a_flow_without_unit_is_refused() -> None:
    """Cubic feet a minute and litres a second differ by two: the unit must stand there."""
    fans = [{"name": "bath", "purpose": "bath", "flow": "25"}]
    with pytest.raises(DocumentError) as caught:
        read_test(ENTRY | {"fans": fans})
    ((path, says),) = caught.value.problems
    assert path == "fans[0].flow"
    assert says.startswith('"25" has no unit')
