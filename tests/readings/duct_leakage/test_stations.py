"""Check duct tests with several fans, configurations and pressures, and their doubts."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.physics.fan_calibration import calibrated_flow, distance_from_band, nearest_band
from rooftree.readings.duct_leakage import (
    DuctFanBand,
    DuctFanReading,
    DuctLeakageTest,
    reduce_duct_leakage,
)

CFM = 0.471947e-3
RING = DuctFanBand("ring", 20.0, 400.0, 0.0055, 0.51)
SMALL = DuctFanBand("small", 20.0, 400.0, 0.0021, 0.52)
BANDS = (RING, SMALL)


def reads(flow: float, band: DuctFanBand) -> float:
    """Return the fan pressure that a flow makes [Pa]."""
    return math.pow(flow / band.coefficient, 1.0 / band.exponent)


def line(flow_25: float, rows: list[tuple[float, DuctFanBand]]) -> DuctLeakageTest:
    """Return readings on a line of exponent 0.6 through a flow at 25 Pa [m³/s]."""
    readings = tuple(
        DuctFanReading(p, None, reads(flow_25 * (p / 25.0) ** 0.6, band), band.configuration)
        for p, band in rows
    )
    return DuctLeakageTest(False, fan_readings=readings, calibration=BANDS)


def codes(test: DuctLeakageTest) -> set[str]:
    """Return what was noticed, without the kind of test and without what is missing."""
    found = {f.code.partition("/")[2] for f in reduce_duct_leakage(test).findings}
    return found - {"no-fan-flow", "pressure-not-reached"}


@given(st.floats(0.03, 0.06))
def test_stations_on_a_line_give_it_back(flow: float) -> None:
    """Three pressures with two rings come to one flow at 25 Pa."""
    result = reduce_duct_leakage(line(flow, [(35.0, RING), (25.0, RING), (15.0, SMALL)]))
    assert result.flow_25 is not None
    assert result.flow_25.value == pytest.approx(flow, rel=1e-9)
    assert result.exponent == pytest.approx(0.6, abs=1e-9)
    assert len(result.stations) == 3


def test_fans_at_one_pressure_are_summed() -> None:
    """Two fans that run together count with the sum of their flows."""
    rows = (DuctFanReading(25.0, 0.02, fan="a"), DuctFanReading(25.0, 0.03, fan="b"))
    result = reduce_duct_leakage(DuctLeakageTest(False, fan_readings=rows))
    assert result.flow_25 is not None
    assert result.flow_25.value == pytest.approx(0.05)
    assert len(result.stations) == 1


def test_several_pressures_sharpen_an_exponent_far_away() -> None:
    """From 10 Pa alone the exponent matters; with 40 Pa beside it, less."""
    far = reduce_duct_leakage(line(0.03, [(10.0, SMALL)])).flow_25
    both = reduce_duct_leakage(line(0.03, [(10.0, SMALL), (40.0, RING)])).flow_25
    assert far is not None
    assert both is not None
    assert both.standard / both.value < far.standard / far.value


def test_warm_thin_air_is_corrected() -> None:
    """At 45 °C the flow is the root of the density ratio more: 4 %."""
    cold = reduce_duct_leakage(DuctLeakageTest(False, 25.0, 0.05)).flow_25
    warm = reduce_duct_leakage(DuctLeakageTest(False, 25.0, 0.05, air_temperature=318.15)).flow_25
    assert cold is not None
    assert warm is not None
    assert warm.value / cold.value == pytest.approx((318.15 / 293.15) ** 0.5, rel=1e-3)


def test_wrong_ring_is_found_by_the_line() -> None:
    """With one ring noted wrongly the stations leave the line, and the right one restores it."""
    test = line(0.04, [(35.0, RING), (25.0, RING), (15.0, SMALL)])
    assert codes(test) == set()
    *rest, last = test.fan_readings
    wrong = replace(test, fan_readings=(*rest, replace(last, configuration="ring")))
    (finding,) = [
        f for f in reduce_duct_leakage(wrong).findings if f.code.endswith("wrong-configuration")
    ]
    assert "where ring was noted small was on the fan" in finding.says
    assert "Almost certain" in finding.says


def test_an_opening_between_stations_is_not_on_a_line() -> None:
    """Flow that no configuration explains is told as such."""
    test = DuctLeakageTest(
        False,
        fan_readings=tuple(
            DuctFanReading(p, q) for p, q in ((30.0, 0.05), (25.0, 0.045), (20.0, 0.08))
        ),
    )
    assert codes(test) == {"not-on-a-line"}


def test_gauge_set_to_another_ring_is_found() -> None:
    """A flow shown that fits another ring's calibration names that ring."""
    p = reads(0.05, RING)
    reading = DuctFanReading(25.0, calibrated_flow(SMALL, p), p, "ring")
    test = DuctLeakageTest(False, fan_readings=(reading,), calibration=BANDS)
    (finding,) = [f for f in reduce_duct_leakage(test).findings if "wrong" in f.code]
    assert "It would fit the configuration small" in finding.says


@pytest.mark.parametrize("factor", [2.11888, 1.0 / 2.11888])
def test_flow_in_the_other_unit_is_found(factor: float) -> None:
    """L/s typed as cfm, or the reverse, shows beside the fan pressure."""
    reading = DuctFanReading(25.0, 0.05 * factor, reads(0.05, RING), "ring")
    test = DuctLeakageTest(False, fan_readings=(reading,), calibration=BANDS)
    assert codes(test) == {"flow-units"}


def test_fan_pressure_outside_the_band_is_told() -> None:
    """A fan pressure below the band names the ring whose band it lies in, or inches of water."""
    low = DuctFanReading(25.0, None, 8.0, "ring")
    wide = (RING, replace(SMALL, low=5.0))
    test = DuctLeakageTest(False, fan_readings=(low,), calibration=wide)
    (finding,) = [f for f in reduce_duct_leakage(test).findings if "outside" in f.code]
    assert "It lies within the band of small." in finding.says
    inches = replace(test, fan_readings=(replace(low, fan_pressure=0.45),))
    assert codes(inches) == {"units"}


def test_ring_without_calibration_is_told() -> None:
    """A configuration that was never entered gives no flow but a remedy."""
    test = DuctLeakageTest(
        False, fan_readings=(DuctFanReading(25.0, None, 80.0, "plate"),), calibration=BANDS
    )
    result = reduce_duct_leakage(test)
    assert result.flow_25 is None
    assert codes(test) == {"no-calibration"}


def test_duct_pressure_in_inches_is_told() -> None:
    """0.1 in. w.c. typed as pascals is recognized."""
    assert codes(DuctLeakageTest(False, 0.1, 0.05)) == {"units"}


def test_more_than_half_of_the_fan_is_doubted() -> None:
    """Leakage beyond half of the air handler's flow is doubted before it is believed."""
    assert codes(DuctLeakageTest(False, 25.0, 0.4, 0.5)) == {"very-large"}


def test_bands_are_chosen_by_distance() -> None:
    """A fan pressure takes the band of its configuration in which it lies, or the nearest."""
    low, high = RING, replace(RING, low=400.0, high=900.0, coefficient=0.0056)
    assert nearest_band((low, high), "ring", 500.0) is high
    assert nearest_band((low, high), "ring", -30.0) is low
    assert nearest_band((low, high), "plate", 30.0) is None
    assert distance_from_band(low, 410.0) == pytest.approx(10.0)
    assert calibrated_flow(low, 0) == 0.0
