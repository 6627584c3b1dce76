"""Check that readings at an air handler keep their texts and become SI."""

from __future__ import annotations

import pytest

from rooftree.errors import DocumentError
from rooftree.readings.air_handler import (
    AirHandlerTest,
    Component,
    ComponentDrop,
    FanCurvePoint,
    Operation,
    RegisterFlow,
    RegisterSide,
    TraversePoint,
)
from rooftree.records.document import read_test
from rooftree.records.document.field_tests import Around
from rooftree.records.document.field_tests.air_handler import AirHandlerDocument

ENTRY = {
    "id": "a",
    "kind": "air handler",
    "name": "Air handler",
    "visit": "v",
    "operation": "heating",
    "entering_static": "-0.25 in. w.c.",
    "drops": [{"part": "coil", "drop": "50 Pa", "inside": True}],
    "fan_curve": [{"static": "100 Pa", "flow": "500 L/s"}],
    "traverse": [{"speed": "5 m/s"}],
    "registers": [{"name": "hall", "side": "return", "flow": "100 cfm"}],
}


def test_an_entry_becomes_readings_in_si() -> None:
    """Rows and single values are taken; the rest has the defaults of the core."""
    assert read_test(ENTRY, Around(barometric_pressure=90_000.0)) == AirHandlerTest(
        operation=Operation.HEATING,
        entering_static=pytest.approx(-62.272, abs=0.001),
        drops=(ComponentDrop(Component.COIL, 50.0, inside=True),),
        fan_curve=(FanCurvePoint(100.0, pytest.approx(0.5)),),
        traverse=(TraversePoint(speed=5.0),),
        registers=(RegisterFlow("hall", RegisterSide.RETURN, pytest.approx(0.0471947, rel=1e-6)),),
        barometric_pressure=90_000.0,
    )


def test_an_entry_comes_back_as_typed() -> None:
    """What is written is what was read, to the letter."""
    document = AirHandlerDocument.model_validate(ENTRY)
    assert document.model_dump(mode="json", exclude_unset=True) == ENTRY


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"entering_static": -0.25}, "entering_static"),
        ({"operation": "drying"}, "operation"),
        ({"drops": [{"part": "coil", "drop": "much"}]}, "drops[0].drop"),
        ({"heat_efficiency": "800 %"}, "heat_efficiency"),
    ],
)
def test_what_cannot_be_taken_is_named(change: dict[str, object], path: str) -> None:
    """A bare number, a wrong word or text names its field."""
    with pytest.raises(DocumentError) as caught:
        read_test(ENTRY | change)
    assert [problem[0] for problem in caught.value.problems] == [path]
