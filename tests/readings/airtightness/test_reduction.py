"""Check whole reductions: a chain worked by hand, both standards, and the laws between them."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from readings.airtightness.making import (
    CALM,
    CUBIC_METRE_PER_HOUR,
    CURVE,
    HOUSE,
    USUAL_PRESSURES,
    made_test,
    wiggle,
    with_station,
    worked_chain,
)
from rooftree.errors import NotEnoughDataError, OutOfRangeError
from rooftree.physics.air import dynamic_viscosity, moist_air_density
from rooftree.readings.airtightness import (
    Direction,
    Enclosure,
    Fan,
    FanBand,
    FanReading,
    FanTest,
    FitMethod,
    LeakageCurve,
    LeftOut,
    Standard,
    Station,
    flow_at,
    reduce_both_directions,
    reduce_fan_test,
)

curves = st.builds(LeakageCurve, st.floats(5e-3, 0.2), st.floats(0.5, 0.9))
directions = st.sampled_from(Direction)
standards = st.sampled_from(Standard)
indoors, outdoors = st.floats(288.0, 303.0), st.floats(258.0, 308.0)


def test_chain_worked_by_hand() -> None:
    """Readings to fit: each line of the chain, to the digits it was worked to."""
    result = reduce_fan_test(worked_chain(), HOUSE)
    induced = [s.induced_pressure for s in result.stations]
    flows = [s.flow / CUBIC_METRE_PER_HOUR for s in result.stations]
    assert induced == pytest.approx([60.2, 50.6, 39.9, 30.2, 20.1, 9.9], abs=1e-9)
    assert flows == pytest.approx([1352.94, 1213.17, 1029.61, 864.69, 655.97, 412.78], abs=6e-3)
    fit = result.fit
    assert fit.curve.exponent == pytest.approx(0.658994, abs=1e-5)
    assert fit.exponent_error == pytest.approx(0.0027198, abs=1e-5)
    assert fit.r_squared == pytest.approx(0.999932, abs=1e-5)
    assert fit.curve.coefficient / CUBIC_METRE_PER_HOUR == pytest.approx(91.0716, abs=1e-3)
    assert fit.coefficient_error == pytest.approx(0.0093989, abs=1e-6)


@pytest.mark.parametrize(
    ("pressure", "flow", "above", "below"),
    [
        (50.0, 1199.48, 0.602, 0.599),
        (10.0, 415.315, 0.953, 0.944),
        (4.0, 227.058, 1.603, 1.577),
    ],
)
def test_chain_limits(pressure: float, flow: float, above: float, below: float) -> None:
    """Flows at test conditions with their 95 % limits, as worked by hand."""
    limits = reduce_fan_test(worked_chain(), HOUSE).fit.flow_limits(pressure)
    assert limits.value / CUBIC_METRE_PER_HOUR == pytest.approx(flow, abs=0.01)
    assert 100.0 * (limits.high / limits.value - 1.0) == pytest.approx(above, abs=1e-3)
    assert 100.0 * (1.0 - limits.low / limits.value) == pytest.approx(below, abs=1e-3)


def test_chain_results() -> None:
    """Every result at reference conditions, 0.01 % as worked by hand."""
    sizes = reduce_fan_test(worked_chain(), HOUSE).sizes
    hour = CUBIC_METRE_PER_HOUR
    assert sizes.flow50.value / hour == pytest.approx(1228.74, rel=1e-4)
    assert sizes.air_changes50.value == pytest.approx(3.6139, rel=1e-4)
    assert sizes.permeability50.value / hour == pytest.approx(4.0958, rel=1e-4)
    assert sizes.specific_leakage50.value / hour == pytest.approx(8.7767, rel=1e-4)
    assert 1e4 * sizes.effective_leakage_area.value == pytest.approx(250.66, rel=1e-4)
    assert 1e4 * sizes.equivalent_leakage_area.value == pytest.approx(474.59, rel=1e-4)
    assert sizes.normalized_leakage.value == pytest.approx(0.22043, abs=1e-5)
    assert sizes.ventilation_normalized_leakage.value == pytest.approx(0.23625, abs=1e-5)
    assert sizes.specific_leakage_area.value == pytest.approx(0.025066 / 140.0, rel=1e-4)
    assert sizes.normalized_leakage_area.value == pytest.approx(0.047459 / 300.0, rel=1e-4)


@pytest.mark.published(
    source="EN 13829, p. 12, depressurization",
    where="C_L = C_env (rho_e / rho_0)^(1-n)",
    read="quoted in a UK test report",
)
def test_reference_conditions_of_iso() -> None:
    """The coefficient moves by the density of the air that came in, and nothing else."""
    result = reduce_fan_test(worked_chain(), HOUSE)
    factor = math.pow(moist_air_density(273.15) / 1.2041, 1.0 - result.fit.curve.exponent)
    assert result.reference_factor == pytest.approx(factor, rel=1e-12)
    assert result.curve.coefficient / CUBIC_METRE_PER_HOUR == pytest.approx(93.2927, abs=1e-3)


@pytest.mark.published(
    source="C.-A. Roulet, Ventilation and Airflow in Buildings",
    where="p. 66, eq. 4.15, coefficient at reference conditions with viscosity",
    read="source",
)
def test_reference_conditions_of_astm() -> None:
    """Viscosity comes in with the power 2n-1, density with 1-n."""
    result = reduce_fan_test(worked_chain(Standard.ASTM_E779), HOUSE)
    n = result.fit.curve.exponent
    viscosity = dynamic_viscosity(273.15) / dynamic_viscosity(293.15)
    density = moist_air_density(273.15) / 1.2041
    factor = math.pow(viscosity, 2.0 * n - 1.0) * math.pow(density, 1.0 - n)
    assert result.reference_factor == pytest.approx(factor, rel=1e-12)
    assert result.curve.coefficient / CUBIC_METRE_PER_HOUR == pytest.approx(91.669, abs=0.01)


@pytest.mark.published(
    source="EN 13829, p. 12, pressurization",
    where="C_L = C_env (rho_i / rho_0)^(1-n)",
    read="memory",
)
def test_pressurizing_takes_the_density_indoors() -> None:
    """Pushed out, it is indoor air that passes the leaks."""
    test = made_test(direction=Direction.PRESSURIZE, indoor=297.0, outdoor=265.0)
    result = reduce_fan_test(test, HOUSE)
    factor = math.pow(moist_air_density(297.0) / 1.2041, 1.0 - result.fit.curve.exponent)
    assert result.reference_factor == pytest.approx(factor, rel=1e-9)


def test_error_traps() -> None:
    """Leaving out the baseline or the temperatures gives the wrong curve known beforehand."""
    chain = worked_chain()
    blind = replace(chain, baseline_before=(0.0,), baseline_after=(0.0,))
    fit = reduce_fan_test(blind, HOUSE).fit.curve
    assert fit.exponent == pytest.approx(0.70074, abs=1e-3)
    assert fit.coefficient / CUBIC_METRE_PER_HOUR == pytest.approx(76.03, rel=1e-3)
    warm = reduce_fan_test(replace(chain, outdoor_temperature=293.15), HOUSE).fit.curve
    assert warm.coefficient / CUBIC_METRE_PER_HOUR == pytest.approx(97.740, rel=1e-3)


@pytest.mark.parametrize(("exponent", "expected"), [(0.65, 0.033), (0.60, 0.030)])
def test_a_neglected_baseline_costs_three_percent(exponent: float, expected: float) -> None:
    """A baseline of -2.5 Pa left out of a one-point test at 50 Pa biases it by 1 - 0.95^n."""
    curve = LeakageCurve(0.03, exponent)
    test = made_test(curve, (47.5,), baseline=-2.5)
    station = reduce_fan_test(test, HOUSE).stations[0]
    assert station.pressure == -50.0
    right = curve.flow(50.0)
    assert 1.0 - station.flow / right == pytest.approx(expected, abs=5e-4)


@given(curves, directions, standards, indoors, outdoors, st.floats(-4.0, 4.0))
def test_the_curve_of_the_enclosure_is_recovered(
    curve: LeakageCurve,
    direction: Direction,
    standard: Standard,
    indoor: float,
    outdoor: float,
    baseline: float,
) -> None:
    """Readings made from a curve give it back, whatever direction, weather or baseline."""
    test = made_test(
        curve,
        direction=direction,
        standard=standard,
        indoor=indoor,
        outdoor=outdoor,
        baseline=baseline,
    )
    result = reduce_fan_test(test, HOUSE)
    assert result.fit.curve.exponent == pytest.approx(curve.exponent, rel=1e-9)
    assert result.fit.curve.coefficient == pytest.approx(curve.coefficient, rel=1e-8)
    assert result.weighted is not None
    assert result.weighted.curve.exponent == pytest.approx(curve.exponent, rel=1e-7)


@given(curves, directions)
def test_standards_agree_at_reference_conditions(curve: LeakageCurve, direction: Direction) -> None:
    """At 20 °C and sea level there is nothing to correct, up to the digits of 1.2041."""
    flows = [
        reduce_fan_test(
            made_test(curve, direction=direction, standard=s, outdoor=CALM), HOUSE
        ).flow50.value
        for s in Standard
    ]
    assert flows[0] == pytest.approx(flows[1], rel=1e-12)
    assert flows[0] == pytest.approx(curve.flow(50.0), rel=1e-5)


@given(curves, st.floats(0.2, 5.0))
def test_a_bigger_fan_unit_scales_all_results(curve: LeakageCurve, factor: float) -> None:
    """All flows times a factor are all results times it, exponent and doubts the same."""
    noise = wiggle(6, 0.02)
    one = reduce_fan_test(made_test(curve, factors=noise), HOUSE)
    other = reduce_fan_test(made_test(curve, factors=[factor * f for f in noise]), HOUSE)
    assert other.fit.curve.exponent == pytest.approx(one.fit.curve.exponent, rel=1e-9)
    assert other.sizes.air_changes50.high == pytest.approx(
        factor * one.sizes.air_changes50.high, rel=1e-9
    )
    assert other.sizes.effective_leakage_area.low == pytest.approx(
        factor * one.sizes.effective_leakage_area.low, rel=1e-9
    )


@given(curves)
def test_direction_mirrors_signs_only(curve: LeakageCurve) -> None:
    """With the same air on both sides the two directions are mirror images."""
    down, up = (
        reduce_fan_test(made_test(curve, direction=d, outdoor=CALM), HOUSE) for d in Direction
    )
    assert down.flow50.value == pytest.approx(up.flow50.value, rel=1e-12)


def test_calibration_and_flow_shown_give_the_same() -> None:
    """A fan that shows its pressure is reduced like one whose gauge does the sum."""
    shown = made_test()
    band = FanBand("ring", 1.0, 1e4, 0.05, 0.5)
    fan = replace(shown.fans[0], bands=(band,))
    stations = tuple(
        Station(
            s.pressure,
            (FanReading("fan", None, math.pow((s.fans[0].flow or 0.0) / 0.05, 2.0), "ring"),),
        )
        for s in shown.stations
    )
    by_pressure = replace(shown, fans=(fan,), stations=stations)
    one, other = reduce_fan_test(shown, HOUSE), reduce_fan_test(by_pressure, HOUSE)
    assert other.flow50.value == pytest.approx(one.flow50.value, rel=1e-9)


def test_two_fans_share_the_flow() -> None:
    """Split over two fans the same air gives the same house, a little surer."""
    one = made_test()
    second = replace(one.fans[0], id="second")
    stations = tuple(
        Station(
            s.pressure,
            tuple(FanReading(name, 0.5 * (s.fans[0].flow or 0.0)) for name in ("fan", "second")),
        )
        for s in one.stations
    )
    two = replace(one, fans=(*one.fans, second), stations=stations)
    single, double = reduce_fan_test(one, HOUSE), reduce_fan_test(two, HOUSE)
    assert double.flow50.value == pytest.approx(single.flow50.value, rel=1e-12)
    assert double.flow50.high < single.flow50.high


def test_one_point_from_the_chain() -> None:
    """The one reading at 50.6 Pa gives 1203.80 m³/h at 50 Pa by the exponent 0.65."""
    chain = worked_chain()
    one = replace(chain, stations=chain.stations[1:2])
    result = reduce_fan_test(one, HOUSE)
    assert result.fit.method is FitMethod.ONE_POINT
    assert result.weighted is None
    assert result.fit.curve.flow(50.0) / CUBIC_METRE_PER_HOUR == pytest.approx(1203.80, abs=0.01)


def test_two_points_from_the_chain() -> None:
    """The readings at 50.6 and 9.9 Pa give an exponent of 0.66083."""
    chain = worked_chain()
    two = replace(chain, stations=(chain.stations[1], chain.stations[5]))
    result = reduce_fan_test(two, HOUSE)
    assert result.fit.method is FitMethod.TWO_POINTS
    assert result.fit.curve.exponent == pytest.approx(0.66083, abs=1e-4)
    assert result.flow50.low < result.flow50.value < result.flow50.high


def test_readings_all_alike_count_as_one_point() -> None:
    """Three readings near 50 Pa fix no slope, so the exponent is assumed."""
    result = reduce_fan_test(made_test(pressures=(49.0, 50.0, 51.0)), HOUSE)
    assert result.fit.method is FitMethod.ONE_POINT


def test_fewer_pressures_are_never_surer() -> None:
    """At 4 Pa one point tells less than two, and two less than six."""
    widths = []
    for pressures in ((50.0,), (50.0, 12.5), USUAL_PRESSURES):
        sizes = reduce_fan_test(made_test(pressures=pressures), HOUSE).sizes
        widths.append(sizes.flow4.high / sizes.flow4.low)
    assert widths == sorted(widths, reverse=True)


def test_fifty_pascal_not_reached_is_less_sure() -> None:
    """A test that stops at 30 Pa gives wider limits at 50 Pa than one that goes to 60."""
    noise = wiggle(5, 0.01)
    short = reduce_fan_test(made_test(pressures=(30, 25, 20, 15, 10), factors=noise), HOUSE)
    full = reduce_fan_test(made_test(pressures=(60, 48, 35, 22, 10), factors=noise), HOUSE)
    at = flow_at(short, 50.0)
    assert at.is_extrapolated
    assert not flow_at(full, 50.0).is_extrapolated
    assert short.flow50.high / short.flow50.low > full.flow50.high / full.flow50.low
    beyond = {term.name: term.standard for term in short.uncertainties}
    assert beyond["outside the pressures reached"] == pytest.approx(0.03 * math.log(50.0 / 30.0))


@given(st.floats(0.1, 500.0), st.integers(0, 100))
def test_combined_limits_hold_those_of_the_fit(pressure: float, seed: int) -> None:
    """Adding instruments, baseline and air never narrows the limits, bar a surer factor t."""
    random = np.random.default_rng(seed)
    factors = np.exp(random.normal(0.0, 0.01, 6)).tolist()
    at = flow_at(reduce_fan_test(made_test(factors=factors), HOUSE), pressure)
    assert at.combined_low < at.flow < at.combined_high
    assert at.low < at.flow < at.high
    fit = next(t.standard for t in at.terms if t.name == "scatter of the stations")
    assert math.hypot(*(t.standard for t in at.terms)) >= fit


def test_combined_uncertainty_covers_what_it_claims() -> None:
    """Of 1500 made tests with wrong fan, gauge and scatter, at least 95 % hold the true flow.

    The gauge is off by one amount in the whole test, as the budget assumes; less one point
    for chance.
    """
    random = np.random.default_rng(9972)
    true = CURVE.flow(50.0)
    held = 0
    for _ in range(1500):
        off, shift = math.exp(random.normal(0.0, 0.025)), random.normal(0.0, 0.5)
        factors = off * np.exp(random.normal(0.0, 0.01, 6))
        test = made_test(factors=factors.tolist())
        stations = tuple(replace(s, pressure=s.pressure + shift) for s in test.stations)
        flow = reduce_fan_test(replace(test, stations=stations), HOUSE).flow50
        held += flow.low <= true <= flow.high
    assert held / 1500 >= 0.94


def test_flow_at_any_pressure() -> None:
    """The flow is that of the curve at reference conditions."""
    result = reduce_fan_test(worked_chain(), HOUSE)
    assert flow_at(result, 37.0).flow == pytest.approx(result.curve.flow(37.0), rel=1e-12)
    assert flow_at(result, 50.0).combined_high == pytest.approx(result.flow50.high, rel=1e-12)


@pytest.mark.parametrize("pressure", [0.0, -50.0, 501.0, float("nan")])
def test_flow_at_no_pressure_is_refused(pressure: float) -> None:
    """A power law has no flow to give at zero, below, or far beyond any test."""
    result = reduce_fan_test(worked_chain(), HOUSE)
    with pytest.raises(OutOfRangeError, match=r"^pressure is .* covers 0\.1 to 500 Pa$"):
        flow_at(result, pressure)


def test_both_directions_average_the_flows() -> None:
    """Flows, not coefficients, are averaged, at each pressure by itself."""
    down = reduce_fan_test(made_test(LeakageCurve(0.020, 0.70)), HOUSE)
    up = reduce_fan_test(
        made_test(LeakageCurve(0.030, 0.55), direction=Direction.PRESSURIZE), HOUSE
    )
    both = reduce_both_directions([down, up], HOUSE)
    for pressure in (4.0, 10.0, 50.0):
        mean = 0.5 * (down.curve.flow(pressure) + up.curve.flow(pressure))
        assert flow_at(both, pressure).flow == pytest.approx(mean, rel=1e-12)
    assert both.curve.flow(50.0) == pytest.approx(both.flow50.value, rel=1e-12)
    assert both.curve.flow(4.0) == pytest.approx(both.sizes.flow4.value, rel=1e-12)
    assert both.sizes.air_changes50.value == pytest.approx(both.flow50.value * 3600.0 / 340.0)


def test_measured_data_in_both_directions() -> None:
    """The mean of the second measured data set, worked by hand: 44.3873 L/s at 50 Pa."""
    under = (
        (84.35, 77.03, 68.91, 60.67, 53.21, 45.27, 36.12, 28.78, 19.49, 9.35),
        (60.72, 56.4, 52.64, 49.05, 44.88, 40.74, 35.65, 31.06, 23.84, 14.95),
    )
    over = (
        (86.57, 76.51, 68.37, 60.39, 51.41, 44.61, 37.71, 26.51, 20.04, 9.86),
        (65.21, 59.59, 55.85, 51.05, 45.75, 41.21, 38.82, 30.28, 25.59, 15.52),
    )
    results = []
    for direction, (pressure, flow) in zip(Direction, (under, over), strict=True):
        unit = LeakageCurve(1e-3, 0.0)
        test = made_test(unit, pressure, direction=direction, factors=flow)
        results.append(reduce_fan_test(test, HOUSE))
    both = reduce_both_directions(results, HOUSE)
    to_test = 1e3 / results[0].reference_factor
    assert flow_at(both, 50.0).flow * to_test == pytest.approx(44.3873, abs=1e-3)
    assert flow_at(both, 10.0).flow * to_test == pytest.approx(15.8233, abs=1e-3)
    assert flow_at(both, 4.0).flow * to_test == pytest.approx(8.7965, abs=1e-3)
    areas = [1e4 * r.sizes.effective_leakage_area.value for r in results]
    assert areas == pytest.approx([34.173, 34.080], abs=0.01)
    areas = [1e4 * r.sizes.equivalent_leakage_area.value for r in results]
    assert areas == pytest.approx([63.063, 64.024], abs=0.01)


def test_repeated_tests_count_as_one_direction() -> None:
    """Two tests down and one up weigh as much down as up."""
    down = reduce_fan_test(made_test(LeakageCurve(0.020, 0.65)), HOUSE)
    up = reduce_fan_test(
        made_test(LeakageCurve(0.030, 0.65), direction=Direction.PRESSURIZE), HOUSE
    )
    three = reduce_both_directions([down, down, up], HOUSE).flow50.value
    assert three == pytest.approx(reduce_both_directions([down, up], HOUSE).flow50.value)


def test_averaging_shrinks_scatter_but_not_the_calibration() -> None:
    """Two tests with one fan share its error, so their mean keeps it."""
    noise = wiggle(6, 0.02)
    one = reduce_fan_test(made_test(factors=noise), HOUSE)
    other = reduce_fan_test(made_test(factors=noise, direction=Direction.PRESSURIZE), HOUSE)
    both = reduce_both_directions([one, other], HOUSE)
    single = {t.name: t.standard for t in one.uncertainties}
    mean = {t.name: t.standard for t in both.uncertainties}
    assert mean["fan calibration"] == pytest.approx(single["fan calibration"], rel=1e-9)
    scatter = single["scatter of the stations"] / math.sqrt(2.0)
    assert mean["scatter of the stations"] == pytest.approx(scatter, rel=1e-6)


def test_mean_of_one_test_is_that_test() -> None:
    """One direction alone is its own mean."""
    one = reduce_fan_test(worked_chain(), HOUSE)
    mean = reduce_both_directions([one], HOUSE)
    assert mean.flow50.value == pytest.approx(one.flow50.value, rel=1e-12)
    assert mean.flow50.high == pytest.approx(one.flow50.high, rel=1e-9)
    assert mean.sizes.normalized_leakage.value == pytest.approx(
        one.sizes.normalized_leakage.value, rel=1e-12
    )


def test_no_tests_have_no_mean() -> None:
    """Nothing cannot be averaged."""
    with pytest.raises(NotEnoughDataError, match=r"^no fan test to average; reduce at least one$"):
        reduce_both_directions([], HOUSE)


def test_the_page_gets_what_it_draws() -> None:
    """Line and limits are in order, start at 4 Pa, and the limits hold the line."""
    band = reduce_fan_test(worked_chain(), HOUSE).band
    assert band.pressures[0] == pytest.approx(4.0)
    assert band.pressures[-1] == pytest.approx(60.2)
    assert len({len(band.pressures), len(band.flows), len(band.lows), len(band.highs)}) == 1
    assert all(
        low < q < high for low, q, high in zip(band.lows, band.flows, band.highs, strict=True)
    )
    assert list(band.flows) == sorted(band.flows)


def test_the_table_tells_every_station() -> None:
    """Stations that were left out stay in the table, with their reason and no part in the fit."""
    test = with_station(made_test(), 3, Station(-40.0, (FanReading("fan"),)))
    result = reduce_fan_test(test, HOUSE)
    assert [s.number for s in result.stations] == [1, 2, 3, 4, 5, 6]
    assert [s.is_used for s in result.stations] == [True, True, False, True, True, True]
    assert result.stations[2].left_out is LeftOut.NO_FLOW
    assert result.stations[2].residual is None
    assert all(abs(s.residual or 0.0) < 1e-9 for s in result.stations)
    assert result.fit.curve.exponent == pytest.approx(CURVE.exponent)


def test_swapped_hoses_are_reduced_by_size() -> None:
    """All signs the wrong way round give the same house, and a finding elsewhere."""
    right = made_test(baseline=1.5)
    swapped = replace(
        right,
        baseline_before=(-1.5,),
        baseline_after=(-1.5,),
        stations=tuple(replace(s, pressure=-s.pressure) for s in right.stations),
    )
    one, other = reduce_fan_test(right, HOUSE), reduce_fan_test(swapped, HOUSE)
    assert other.flow50.value == pytest.approx(one.flow50.value, rel=1e-12)


@pytest.mark.parametrize(
    "stations",
    [
        (),
        (Station(-50.0, ()),),
        (Station(-50.0, (FanReading("fan"),)),),
        (Station(0.0, (FanReading("fan", 0.5),)),),
        (Station(-50.0, (FanReading("unknown", 0.5),)),),
    ],
)
def test_nothing_to_reduce_is_refused(stations: tuple[Station, ...]) -> None:
    """A test without one whole reading is refused, with what to do."""
    test = replace(made_test(), stations=stations)
    with pytest.raises(
        NotEnoughDataError,
        match=rf"^none of the {len(stations)} stations has both a pressure away from the baseline "
        r"and a flow above zero; read the house pressure and the fan at one station or more$",
    ):
        reduce_fan_test(test, HOUSE)


@pytest.mark.parametrize(
    ("test", "message"),
    [
        (replace(made_test(), indoor_temperature=20.0), r"^indoor temperature is 20 K; .* 330 K$"),
        (replace(made_test(), outdoor_temperature=400.0), r"^outdoor temperature is 400 K; .*$"),
        (
            replace(made_test(), barometric_pressure=29.92),
            r"^barometric pressure is 29\.92 Pa; .*$",
        ),
        (replace(made_test(), relative_humidity=50.0), r"^relative humidity is 50 \[0-1\]; .*$"),
        (replace(made_test(), pressure_uncertainty=-1.0), r"^pressure uncertainty is -1 Pa; .*$"),
        (replace(made_test(), baseline_after=(math.nan,)), r"^baseline is nan Pa; .*$"),
        (
            with_station(made_test(), 2, Station(math.nan, (FanReading("fan", 0.5),))),
            r"^pressure at station 2 is nan Pa; .*$",
        ),
        (
            with_station(made_test(), 2, Station(-50.0, (FanReading("fan", math.inf),))),
            r"^fan flow at station 2 is inf m³/s; .*$",
        ),
        (
            with_station(made_test(), 4, Station(-50.0, (FanReading("fan", None, math.nan),))),
            r"^fan pressure at station 4 is nan Pa; .*$",
        ),
        (
            replace(made_test(), fans=(Fan("fan", calibration_density=0.0),)),
            r"^calibration density of fan fan is 0 kg/m³; .*$",
        ),
        (
            replace(made_test(), fans=(Fan("fan", flow_uncertainty=5.0),)),
            r"^flow uncertainty of fan fan is 5 \[0-1\]; .*$",
        ),
        (
            replace(made_test(), fans=(Fan("fan", bands=(FanBand("ring", 1, 9, -1.0, 0.5),)),)),
            r"^calibration coefficient of fan fan, ring is -1 m³/\(s·Paⁿ\); .*$",
        ),
    ],
)
def test_impossible_readings_are_refused(test: FanTest, message: str) -> None:
    """A number that no instrument can show is refused by name, value and range."""
    with pytest.raises(OutOfRangeError, match=message):
        reduce_fan_test(test, HOUSE)


@pytest.mark.parametrize(
    ("house", "message"),
    [
        (replace(HOUSE, volume=0.0), r"^volume is 0 m³; .*$"),
        (replace(HOUSE, floor_area=-140.0), r"^floor area is -140 m²; .*$"),
        (replace(HOUSE, envelope_area=math.nan), r"^envelope area is nan m²; .*$"),
        (replace(HOUSE, height=0.0), r"^height is 0 m; .*$"),
    ],
)
def test_impossible_houses_are_refused(house: Enclosure, message: str) -> None:
    """A house without size gives no result per size."""
    with pytest.raises(OutOfRangeError, match=message):
        reduce_fan_test(made_test(), house)
