"""How the house stood during a fan test, and whether its sizes fit one another."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from readings.airtightness.making import CALM, HOUSE, made_test
from rooftree.finding import Severity
from rooftree.readings.airtightness import Enclosure, reduce_fan_test

GOOD = made_test()


def codes(enclosure: Enclosure = HOUSE, **changes: object) -> list[str]:
    """Return what is said about the good test with fields changed."""
    test = replace(GOOD, **changes)  # type: ignore[arg-type]
    return [f.code.removeprefix("fan-test/") for f in reduce_fan_test(test, enclosure).findings]


@pytest.mark.parametrize(
    ("field", "code"),
    [
        ("interior_doors_open", "doors"),
        ("air_handler_off", "air-handler"),
        ("exhaust_fans_off", "exhaust-fan"),
        ("openings_closed", "opening"),
    ],
)
def test_a_house_that_stood_wrong_is_told(field: str, code: str) -> None:
    """Only a state that was noted as wrong is a doubt; not noted and right are none."""
    assert codes(**{field: False}) == [code]
    assert codes(**{field: True}) == codes(**{field: None}) == []


def test_embers_stop_the_test() -> None:
    """Embers are told first, and stop."""
    first = reduce_fan_test(replace(GOOD, embers=True), HOUSE).findings[0]
    assert first.code == "fan-test/embers"
    assert first.severity is Severity.STOP
    assert codes(embers=False) == []


@pytest.mark.parametrize(("pressure", "code"), [(5.9, []), (6.1, ["doors"]), (-6.1, ["doors"])])
def test_a_room_behind_a_door(pressure: float, code: list[str]) -> None:
    """A tenth of the 60 Pa of the house is allowed between rooms, either way."""
    assert codes(room_pressure=pressure) == code


def test_one_temperature_typed_twice_is_told() -> None:
    """The same number indoors and outdoors was probably not read."""
    assert codes(outdoor_temperature=CALM, indoor_temperature=CALM) == ["temperatures"]


@pytest.mark.parametrize(("swing", "code"), [(0.9, []), (1.1, ["gusts"])])
def test_gusts_show_in_the_baseline(swing: float, code: list[str]) -> None:
    """Three readings that scatter by more than a pascal are gusts; two tell nothing."""
    assert codes(baseline_before=(-swing, 0.0, swing)) == code
    assert codes(baseline_before=(-swing, swing), baseline_after=(0.0,)) == []


@pytest.mark.parametrize(
    ("volume", "floor", "envelope", "height", "code"),
    [
        (340.0, 140.0, 300.0, 5.0, []),
        (680.0, 140.0, 500.0, 5.0, ["volume"]),
        (170.0, 140.0, 300.0, 5.0, ["volume"]),
        (340.0, 280.0, 300.0, 5.0, ["volume"]),
        (340.0, 140.0, 300.0, 1.5, ["volume"]),
        (340.0, 140.0, 150.0, 5.0, ["envelope-area"]),
        (340.0, 140.0, 900.0, 5.0, ["envelope-area"]),
    ],
)
def test_sizes_that_do_not_fit(
    volume: float, floor: float, envelope: float, height: float, code: list[str]
) -> None:
    """Volume, floor area, envelope area and height are held against one another."""
    assert codes(Enclosure(volume, floor, envelope, height)) == code


@given(st.floats(5.0, 15.0), st.floats(5.0, 15.0), st.floats(2.3, 3.2), st.integers(1, 3))
def test_a_plain_box_of_a_house_fits(
    width: float, length: float, ceiling: float, floors: int
) -> None:
    """A box with one to three floors has sizes that fit."""
    height = floors * ceiling
    box = Enclosure(
        volume=width * length * height,
        floor_area=floors * width * length,
        envelope_area=2.0 * width * length + 2.0 * (width + length) * height,
        height=height,
    )
    assert not {"volume", "envelope-area"} & set(codes(box))
