"""Check what happens to a reading before any curve is drawn."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from readings.airtightness.making import CURVE, made_test
from rooftree.physics.air import moist_air_density
from rooftree.readings.airtightness import Direction, Fan, FanBand, FanReading, LeftOut, Station
from rooftree.readings.airtightness.stations import (
    densities,
    fan_flow,
    mean_baseline,
    reduce_station,
)

RINGED = Fan(
    "fan",
    bands=(
        FanBand("open", 20.0, 300.0, 0.30, 0.5),
        FanBand("ring", 20.0, 100.0, 0.10, 0.5),
        FanBand("ring", 100.0, 300.0, 0.102, 0.495),
    ),
    flow_uncertainty=0.03,
)


def test_baseline_is_the_mean_of_both_ends_signs_kept() -> None:
    """Before and after are averaged, each by itself first, and keep their signs."""
    baseline = mean_baseline((-2.0, -1.0), (1.0,))
    assert (baseline.before, baseline.after, baseline.pressure) == (-1.5, 1.0, -0.25)


def test_one_end_stands_alone() -> None:
    """Where one end was not read the other is used, and is less sure."""
    one = mean_baseline((), (-1.0,))
    assert (one.before, one.after, one.pressure) == (None, -1.0, -1.0)
    assert one.uncertainty > mean_baseline((-1.0,), (-1.0,)).uncertainty


def test_unread_baseline_is_zero_within_five_pascal() -> None:
    """Without any baseline, zero is used, unsure by a rectangle of 5 Pa."""
    none = mean_baseline((), ())
    assert none.pressure == 0.0
    assert none.uncertainty == pytest.approx(5.0 / math.sqrt(3.0))


@given(st.floats(0.0, 4.0), st.floats(0.0, 4.0))
def test_more_drift_is_never_surer(one: float, other: float) -> None:
    """The farther the baseline moved, the less sure it is."""
    less, more = sorted((one, other))
    assert mean_baseline((0.0,), (more,)).uncertainty >= mean_baseline((0.0,), (less,)).uncertainty


def test_scatter_of_the_baseline_counts() -> None:
    """Gusty baseline readings make the baseline less sure, more readings surer."""
    calm = mean_baseline((1.0, 1.0), (1.0, 1.0)).uncertainty
    gusty = mean_baseline((0.0, 2.0), (0.0, 2.0)).uncertainty
    longer = mean_baseline((0.0, 2.0) * 8, (0.0, 2.0) * 8).uncertainty
    assert calm < longer < gusty


def test_flow_shown_is_taken_as_shown() -> None:
    """A gauge that shows flow is believed."""
    part = fan_flow(FanReading("fan", flow=0.5), Fan("fan"), 0.5)
    assert (part.flow, part.left_out, part.relative_uncertainty) == (0.5, LeftOut.NO, 0.025)


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_flow_by_calibration(sign: float) -> None:
    """Fan pressure and configuration give the flow by the calibration, whatever the sign."""
    part = fan_flow(FanReading("fan", fan_pressure=sign * 81.0, configuration="ring"), RINGED, 0.5)
    assert part.flow == pytest.approx(0.10 * 9.0)
    assert not part.is_outside_band


def test_the_band_that_holds_the_pressure_is_used() -> None:
    """Two bands of one configuration split by fan pressure."""
    part = fan_flow(FanReading("fan", fan_pressure=144.0, configuration="ring"), RINGED, 0.5)
    assert part.flow == pytest.approx(0.102 * math.pow(144.0, 0.495))


@pytest.mark.parametrize("fan_pressure", [20.0, 100.0, 300.0])
def test_ends_of_a_band_belong_to_it(fan_pressure: float) -> None:
    """A fan pressure exactly at the end of a band is inside."""
    reading = FanReading("fan", fan_pressure=fan_pressure, configuration="ring")
    assert not fan_flow(reading, RINGED, 0.5).is_outside_band


@pytest.mark.parametrize(("fan_pressure", "coefficient"), [(10.0, 0.10), (400.0, 0.102)])
def test_outside_all_bands_the_nearest_is_carried_on(
    fan_pressure: float, coefficient: float
) -> None:
    """Outside its calibration the fan still gives a flow, and says so."""
    reading = FanReading("fan", fan_pressure=fan_pressure, configuration="ring")
    part = fan_flow(reading, RINGED, 0.5)
    assert part.is_outside_band
    assert part.band is not None
    assert part.band.coefficient == coefficient
    assert part.flow > 0.0


def test_low_fan_pressure_is_less_sure() -> None:
    """Half a pascal of gauge error matters more at 25 Pa than at 250 Pa."""
    low, high = (
        fan_flow(FanReading("fan", fan_pressure=p, configuration="open"), RINGED, 0.5)
        for p in (25.0, 250.0)
    )
    assert low.relative_uncertainty == pytest.approx(math.hypot(0.03, 0.5 * 0.5 / 25.0))
    assert low.relative_uncertainty > high.relative_uncertainty > 0.03


def test_shown_flow_is_held_against_the_calibration() -> None:
    """Where both are there the shown one is used and their ratio kept."""
    reading = FanReading("fan", flow=0.99, fan_pressure=81.0, configuration="ring")
    part = fan_flow(reading, RINGED, 0.5)
    assert part.flow == 0.99
    assert part.shown_over_calibrated == pytest.approx(1.1)


@pytest.mark.parametrize(
    ("reading", "fan", "reason"),
    [
        (FanReading("fan"), Fan("fan"), LeftOut.NO_FLOW),
        (FanReading("fan", flow=-0.5), Fan("fan"), LeftOut.NO_FLOW),
        (
            FanReading("fan", fan_pressure=50.0, configuration="plate"),
            RINGED,
            LeftOut.NO_CALIBRATION,
        ),
        (FanReading("fan", fan_pressure=50.0), Fan("fan"), LeftOut.NO_CALIBRATION),
        (FanReading("other", flow=0.5), None, LeftOut.NO_FAN),
    ],
)
def test_a_fan_without_flow_says_why(reading: FanReading, fan: Fan | None, reason: LeftOut) -> None:
    """Nothing is guessed where no flow can be had."""
    assert fan_flow(reading, fan, 0.5).left_out is reason


def test_depressurizing_moves_indoor_air_through_the_fan() -> None:
    """The fan moves air of the side it draws from; the leaks admit the other."""
    test = made_test(indoor=293.15, outdoor=273.15)
    down = densities(test)
    up = densities(replace(test, direction=Direction.PRESSURIZE))
    assert (down.at_fan, down.at_leaks) == (down.indoor, down.outdoor)
    assert (up.at_fan, up.at_leaks) == (up.outdoor, up.indoor)
    assert down.outdoor == pytest.approx(moist_air_density(273.15))


@pytest.mark.published(
    source="ATTMA Technical Standard L2",
    where="App. A.1.4, eq. 5 and 6: flow of the fan to flow of the envelope",
    read="source",
)
@pytest.mark.parametrize(
    ("direction", "expected"),
    [(Direction.DEPRESSURIZE, 273.15 / 293.15), (Direction.PRESSURIZE, 293.15 / 273.15)],
)
def test_envelope_flow_is_fan_flow_by_the_ratio_of_densities(
    direction: Direction, expected: float
) -> None:
    """Depressurizing multiplies by T_e/T_i, pressurizing by T_i/T_e, exactly for dry air."""
    test = made_test(direction=direction, indoor=293.15, outdoor=273.15)
    air = densities(test)
    station = reduce_station(1, test.stations[0], test, mean_baseline((0.0,), (0.0,)), air)
    assert station.flow / station.fan_flow == pytest.approx(expected, rel=1e-12)


@pytest.mark.published(
    source="ATTMA Technical Standard L2",
    where="App. A.1.3, eq. 4: flow device at another density than its calibration",
    read="memory",
)
def test_fan_flow_is_corrected_by_the_root_of_densities() -> None:
    """Thin air lets a pressure-sensing fan move more than its gauge shows, by the root."""
    test = replace(made_test(), fans=(Fan("fan", calibration_density=1.2041),))
    high = replace(test, barometric_pressure=84_556.0)
    air = densities(high)
    station = reduce_station(1, high.stations[0], high, mean_baseline((0.0,), (0.0,)), air)
    shown = high.stations[0].fans[0].flow
    assert shown is not None
    assert station.fan_flow / shown == pytest.approx(math.sqrt(1.2041 / air.indoor), rel=1e-12)


@pytest.mark.published(
    source="C.-A. Roulet, Ventilation and Airflow in Buildings",
    where="p. 64: ignoring a difference of 10 C biases the flow by about 3 %",
    read="source",
)
def test_ten_kelvin_matter_about_three_percent() -> None:
    """The bias is 10/293, which the book rounds to 3 %; half a point of rounding."""
    test = made_test(indoor=293.15, outdoor=283.15)
    air = densities(test)
    station = reduce_station(1, test.stations[0], test, mean_baseline((0.0,), (0.0,)), air)
    assert 1.0 - station.flow / station.fan_flow == pytest.approx(0.03, abs=5e-3)


def test_several_fans_are_added() -> None:
    """Flows of all fans add; their calibration errors add in quadrature."""
    test = made_test()
    test = replace(test, fans=(*test.fans, replace(test.fans[0], id="second")))
    both = Station(-50.0, (FanReading("fan", 0.3), FanReading("second", 0.4)))
    station = reduce_station(1, both, test, mean_baseline((0.0,), (0.0,)), densities(test))
    assert station.flow == pytest.approx(0.7)
    assert station.flow_uncertainty == pytest.approx(0.025 * 0.5)


def test_a_second_fan_may_stand_still() -> None:
    """A fan that shows zero adds nothing and does no harm."""
    test = made_test()
    test = replace(test, fans=(*test.fans, Fan("second")))
    both = Station(-50.0, (FanReading("fan", 0.3), FanReading("second", 0.0)))
    station = reduce_station(1, both, test, mean_baseline((0.0,), (0.0,)), densities(test))
    assert station.is_used
    assert station.flow == pytest.approx(0.3)


@pytest.mark.parametrize("fans", [(), (FanReading("fan", 0.0),)])
def test_a_station_without_any_flow_is_left_out(fans: tuple[FanReading, ...]) -> None:
    """No fan, or all of them at zero, is no reading of flow."""
    test = made_test()
    station = reduce_station(
        1, Station(-50.0, fans), test, mean_baseline((0.0,), (0.0,)), densities(test)
    )
    assert station.left_out is LeftOut.NO_FLOW


@given(st.floats(-5.0, 5.0), st.sampled_from(Direction))
def test_baseline_is_taken_off_with_its_sign(baseline: float, direction: Direction) -> None:
    """Whatever wind and stack add, the induced pressure is what the fan made."""
    test = made_test(CURVE, (40.0,), direction=direction, baseline=baseline)
    station = reduce_station(
        1, test.stations[0], test, mean_baseline((baseline,), (baseline,)), densities(test)
    )
    assert station.induced_pressure == pytest.approx(40.0)
