"""Check that a test tells the same whether it was typed in cfm and °F or in L/s and °C."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from demo_job import demo_text
from rooftree.job import Test as FieldTest
from rooftree.job.kinds import REDUCERS, reduce_reading
from rooftree.job.reduction import circumstances_of
from rooftree.readings.combustion import CombustionTest
from rooftree.readings.duct_leakage_from_house import DeltaQTest, DuctSubtractionTest, HouseFlow
from rooftree.readings.zone_pressures import AddedHoleTest, Boundary
from rooftree.records.document import read_document, read_test
from rooftree.records.document import test_entry as entry_of
from rooftree.units import DisplaySystem

if TYPE_CHECKING:
    from collections.abc import Iterator

KEPT = 3e-3
"""How well results agree [0-1]: a file keeps four to six digits of each reading."""

JOB = read_document(demo_text()).to_core()

OTHERS = (
    AddedHoleTest("attic", -50.0, -42.0, Boundary.OUTDOORS, 0.04, -46.0),
    DuctSubtractionTest(50.0, 1.0, 0.9, 40.0, 0.5),
    DeltaQTest(
        40.0,
        60.0,
        tuple(
            HouseFlow(on, p, q * (1.05 if on else 1.0))
            for p, q in ((-40.0, -0.9), (-20.0, -0.6), (20.0, 0.6), (40.0, 0.9))
            for on in (False, True)
        ),
    ),
)
"""Tests of kinds that the demo does not have."""


def off_the_edge(test: FieldTest) -> FieldTest:
    """Return a test whose draft is not exactly the least that is asked for."""
    if not isinstance(test.reading, CombustionTest):
        return test
    return dataclasses.replace(test, reading=dataclasses.replace(test.reading, draft_pressure=-1.0))


TESTS = (
    *map(off_the_edge, JOB.tests),
    *(FieldTest(type(one).__name__, "A test", "visit-1", one) for one in OTHERS),
)


def values(thing: Any, path: str = "") -> Iterator[tuple[str, float, float]]:
    """Yield every value with how unsure it is, and where it stands."""
    if isinstance(thing, np.ndarray):
        thing = thing.tolist()
    if dataclasses.is_dataclass(thing):
        if {"value", "standard"} <= {field.name for field in dataclasses.fields(thing)}:
            yield path, thing.value, thing.standard  # type: ignore[attr-defined]
            return
        for field in dataclasses.fields(thing):
            yield from values(getattr(thing, field.name), f"{path}.{field.name}")
    elif isinstance(thing, dict):
        for key, one in thing.items():
            yield from values(one, f"{path}.{key}")
    elif isinstance(thing, list | tuple):
        for place, one in enumerate(thing):
            yield from values(one, f"{path}[{place}]")


def test_every_kind_is_tried() -> None:
    """No kind of test is left out below."""
    assert {type(test.reading) for test in TESTS} == set(REDUCERS)


@pytest.mark.parametrize("test", TESTS, ids=lambda test: test.id)
def test_both_systems_tell_the_same(test: FieldTest) -> None:
    """Findings are the same, and each value within a hundredth of its doubt or three per mille."""
    around = dataclasses.replace(circumstances_of(JOB, None), readings=())
    results = [
        reduce_reading(read_test(entry_of(test, system)), around) for system in DisplaySystem
    ]
    codes = [[finding.code for finding in result.findings] for result in results]
    assert codes[0] == codes[1]
    pairs = list(zip(*(list(values(result)) for result in results), strict=True))
    for (path, one, doubt), (_, other, _) in pairs:
        assert one == pytest.approx(other, rel=KEPT, abs=max(0.01 * doubt, 1e-9)), path
