"""Check that tracer decays keep their texts and become SI."""

from __future__ import annotations

import pytest

from rooftree.errors import DocumentError
from rooftree.job import Test as FieldTest
from rooftree.readings.tracer_decay import (
    Activity,
    OutdoorReading,
    SteadyReading,
    Tracer,
    TracerDecayTest,
    TracerReading,
)
from rooftree.records.document import read_test
from rooftree.records.document.field_tests.tracer_decay import TracerDecayDocument
from rooftree.records.document.writing import test_entry as entry_of
from rooftree.units import DisplaySystem

ENTRY = {
    "id": "d",
    "kind": "tracer decay",
    "name": "Decay",
    "visit": "v",
    "lines": [
        {"time": "0 min", "concentration": "1800 ppm", "position": "den"},
        {"time": "2 h", "concentration": "900 ppm", "position": "den"},
    ],
    "outdoors": [{"concentration": "420 ppm"}, {"concentration": "424 ppm", "time": "-5 min"}],
    "tracer": "carbon dioxide",
    "people": "0",
    "is_mixed": True,
    "volume": "400 m³",
    "steady": [{"time": "1 h", "concentration": "1100 ppm"}],
    "steady_people": "2.5",
    "steady_activity": "asleep",
}
READ = TracerDecayTest(
    lines=(TracerReading(0.0, 1800.0, "den"), TracerReading(7200.0, 900.0, "den")),
    outdoors=(OutdoorReading(420.0), OutdoorReading(424.0, -300.0)),
    tracer=Tracer.CARBON_DIOXIDE,
    is_mixed=True,
    volume=400.0,
    steady=(SteadyReading(3600.0, 1100.0),),
    steady_people=2.5,
    steady_activity=Activity.ASLEEP,
)


def test_an_entry_becomes_readings_in_si() -> None:
    """Rows are taken; what was left out has the defaults of the core."""
    assert read_test(ENTRY) == READ


def test_an_entry_comes_back_as_typed() -> None:
    """What is written is what was read, to the letter."""
    document = TracerDecayDocument.model_validate(ENTRY)
    assert document.model_dump(mode="json", exclude_unset=True) == ENTRY


@pytest.mark.parametrize("system", list(DisplaySystem))
def test_readings_survive_the_file(system: DisplaySystem) -> None:
    """Readings of the core, written in either system, are read back as they were."""
    back = read_test(entry_of(FieldTest("d", "Decay", "v", READ), system))
    assert back.lines == READ.lines
    assert back.outdoors == READ.outdoors
    assert back.steady == READ.steady
    assert back.volume == pytest.approx(400.0, rel=1e-3)


def test_text_in_a_number_is_refused() -> None:
    """A line that is no number is named by its place."""
    lines = [{"time": "0 min", "concentration": "high"}]
    with pytest.raises(DocumentError) as caught:
        read_test(ENTRY | {"lines": lines})
    ((path, says),) = caught.value.problems
    assert path == "lines[0].concentration"
    assert says.startswith('"high" is not a number with a unit')
