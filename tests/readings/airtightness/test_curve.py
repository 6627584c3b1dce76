"""Check the fits against published readings, an independent solver and their own laws."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import least_squares

from rooftree.errors import NotEnoughDataError, OutOfRangeError
from rooftree.physics.uncertainty import coverage_factor
from rooftree.readings.airtightness.curve import (
    FitMethod,
    LeakageCurve,
    assume_leakage_curve,
    fit_leakage_curve,
    fit_weighted_curve,
)

if TYPE_CHECKING:
    from random import Random

curves = st.builds(LeakageCurve, st.floats(1e-4, 1.0), st.floats(0.5, 1.0))
pressures = st.lists(st.floats(5.0, 100.0), min_size=3, max_size=12, unique_by=round)

COURSE_PRESSURES = (10, 20, 30, 40, 50, 60)
COURSE_FLOWS = (237, 364, 444, 625, 688, 704)

UNDER = (
    (84.35, 77.03, 68.91, 60.67, 53.21, 45.27, 36.12, 28.78, 19.49, 9.35),
    (60.72, 56.4, 52.64, 49.05, 44.88, 40.74, 35.65, 31.06, 23.84, 14.95),
)
OVER = (
    (86.57, 76.51, 68.37, 60.39, 51.41, 44.61, 37.71, 26.51, 20.04, 9.86),
    (65.21, 59.59, 55.85, 51.05, 45.75, 41.21, 38.82, 30.28, 25.59, 15.52),
)
"""Readings of R. Huijzer's fan-pressurization data set of 2022-05-10 (MIT licence): pressure
[Pa] and flow [L/s]. It was published without results: those below are arithmetic."""


@pytest.mark.published(
    source="C. Ghiaus, dm4bem_book (INSA Lyon course book)",
    where="tutorial A06, fan test of six stations: n, its standard error, C and r2",
    read="source",
)
def test_course_book_data_set() -> None:
    """The book prints four decimals of exponent, error and r², and of the coefficient."""
    fit = fit_leakage_curve(COURSE_PRESSURES, COURSE_FLOWS)
    assert fit.curve.exponent == pytest.approx(0.6434, abs=1e-4)
    assert fit.exponent_error == pytest.approx(0.0442, abs=1e-4)
    assert fit.curve.coefficient == pytest.approx(53.3956, abs=1e-3)
    assert fit.r_squared == pytest.approx(0.9815, abs=1e-4)


@pytest.mark.parametrize(
    ("readings", "exponent", "coefficient", "r_squared", "s_n", "s_lnc"),
    [
        (UNDER, 0.631000, 3.672813, 0.999644, 0.0042085, 0.0158372),
        (OVER, 0.650480, 3.565227, 0.998721, 0.0082299, 0.0309548),
    ],
)
def test_second_data_set_fit(
    readings: tuple[tuple[float, ...], tuple[float, ...]],
    exponent: float,
    coefficient: float,
    r_squared: float,
    s_n: float,
    s_lnc: float,
) -> None:
    """Hand arithmetic of the annexes' equations on measured readings comes back."""
    fit = fit_leakage_curve(*readings)
    assert fit.curve.exponent == pytest.approx(exponent, abs=1e-5)
    assert fit.curve.coefficient == pytest.approx(coefficient, abs=1e-5)
    assert fit.r_squared == pytest.approx(r_squared, abs=1e-5)
    assert fit.exponent_error == pytest.approx(s_n, abs=1e-6)
    assert fit.coefficient_error == pytest.approx(s_lnc, abs=1e-6)
    assert coverage_factor(fit.degrees_of_freedom) == pytest.approx(2.306004, abs=1e-5)


@pytest.mark.parametrize(
    ("readings", "pressure", "flow", "above", "below"),
    [
        (UNDER, 50.0, 43.3561, 0.669, 0.665),
        (UNDER, 10.0, 15.7036, 1.514, 1.492),
        (UNDER, 4.0, 8.8084, 2.367, 2.312),
        (OVER, 50.0, 45.4186, 1.293, 1.277),
        (OVER, 10.0, 15.9429, 2.974, 2.888),
        (OVER, 4.0, 8.7845, 4.675, 4.466),
    ],
)
def test_second_data_set_limits(
    readings: tuple[tuple[float, ...], tuple[float, ...]],
    pressure: float,
    flow: float,
    above: float,
    below: float,
) -> None:
    """Hand arithmetic of the 95 % limits of flow at 50, 10 and 4 Pa comes back."""
    limits = fit_leakage_curve(*readings).flow_limits(pressure)
    assert limits.value == pytest.approx(flow, abs=1e-3)
    assert 100.0 * (limits.high / limits.value - 1.0) == pytest.approx(above, abs=5e-3)
    assert 100.0 * (1.0 - limits.low / limits.value) == pytest.approx(below, abs=5e-3)


@pytest.mark.parametrize(
    ("readings", "exponent", "coefficient", "flow50"),
    [(UNDER, 0.634368, 3.636401, 43.4954), (OVER, 0.649381, 3.577334, 45.3773)],
)
def test_second_data_set_up_to_62_pascal(
    readings: tuple[tuple[float, ...], tuple[float, ...]],
    exponent: float,
    coefficient: float,
    flow50: float,
) -> None:
    """The seven stations that a house test would have give their own line."""
    pressure, flow = zip(
        *((p, q) for p, q in zip(*readings, strict=True) if p <= 62.0), strict=True
    )
    fit = fit_leakage_curve(pressure, flow)
    assert len(pressure) == 7
    assert fit.curve.exponent == pytest.approx(exponent, abs=1e-5)
    assert fit.curve.coefficient == pytest.approx(coefficient, abs=1e-5)
    assert fit.curve.flow(50.0) == pytest.approx(flow50, abs=1e-3)
    assert coverage_factor(fit.degrees_of_freedom) == pytest.approx(2.570582, abs=1e-5)


@pytest.mark.published(
    source="C.-A. Roulet, Ventilation and Airflow in Buildings",
    where="p. 64, eq. 4.6, two-point exponent and coefficient",
    read="source",
)
def test_two_points_give_the_printed_formula() -> None:
    """Through two points the exponent is ln(q1/q2)/ln(p1/p2) and C is q1/p1^n, exactly."""
    fit = fit_weighted_curve([50.6, 9.9], [1213.17, 412.78], [0.5, 0.5], [30.0, 10.0])
    assert fit.method is FitMethod.TWO_POINTS
    exponent = math.log(1213.17 / 412.78) / math.log(50.6 / 9.9)
    assert fit.curve.exponent == pytest.approx(exponent, rel=1e-12)
    assert fit.curve.exponent == pytest.approx(0.66083, abs=1e-4)
    assert fit.curve.coefficient == pytest.approx(1213.17 / math.pow(50.6, exponent), rel=1e-12)
    assert fit.r_squared is None


@pytest.mark.published(
    source="York et al., Am. J. Phys. 72 (2004) 367; Pearson's points with York's weights",
    where="slope -0.4805, intercept 5.4799, standard errors 0.0580 and 0.2950, chi-square 11.866",
    read="memory",
)
def test_weighted_line_of_york() -> None:
    """The line through ten points of very different weight is printed to four decimals."""
    x = np.array([0.0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4])
    y = np.array([5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5])
    weight_x = np.array([1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1.0])
    weight_y = np.array([1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500])
    p, q = np.exp(x), np.exp(y)
    fit = fit_weighted_curve(p, q, p / np.sqrt(weight_x), q / np.sqrt(weight_y))
    inflation = math.sqrt(11.866 / 8.0)  # ours, since the points scatter; York's errors lack it
    assert fit.curve.exponent == pytest.approx(-0.4805, abs=5e-5)
    assert math.log(fit.curve.coefficient) == pytest.approx(5.4799, abs=5e-5)
    assert fit.exponent_error / inflation == pytest.approx(0.0580, abs=5e-5)
    assert fit.coefficient_error / inflation == pytest.approx(0.2950, abs=5e-5)


@given(st.integers(0, 10_000), st.integers(3, 10))
def test_weighted_line_is_the_most_likely_one(seed: int, count: int) -> None:
    """An independent solver that minimizes chi-square over line and true points agrees."""
    random = np.random.default_rng(seed)
    x = np.linspace(2.3, 4.1, count)
    ux, uy = random.uniform(0.005, 0.05, count), random.uniform(0.005, 0.05, count)
    y = -3.7 + 0.65 * x + random.normal(0.0, uy)
    x = x + random.normal(0.0, ux)

    def misfit(unknown: np.ndarray) -> np.ndarray:
        level, slope, true = unknown[0], unknown[1], unknown[2:]
        return np.concatenate([(x - true) / ux, (y - level - slope * (true - 3.2)) / uy])

    start = np.concatenate([[-1.6, 0.65], x])
    solved = least_squares(misfit, start, xtol=1e-12, ftol=1e-12, gtol=1e-12).x
    p, q = np.exp(x), np.exp(y)
    fit = fit_weighted_curve(p, q, ux * p, uy * q)
    assert fit.curve.exponent == pytest.approx(solved[1], abs=2e-5)
    assert math.log(fit.curve.flow(math.exp(3.2))) == pytest.approx(solved[0], abs=2e-5)


@given(pressures, st.randoms(use_true_random=False))
def test_equal_weights_give_the_ordinary_line(pressure: list[float], noise: Random) -> None:
    """With certain pressures and flows of one relative uncertainty both fits are the same."""
    flow = np.array([0.05 * p**0.65 * noise.uniform(0.95, 1.05) for p in pressure])
    plain = fit_leakage_curve(pressure, flow)
    weighted = fit_weighted_curve(pressure, flow, [0.0] * len(pressure), 0.02 * flow)
    assert weighted.curve.exponent == pytest.approx(plain.curve.exponent, rel=1e-9)
    assert weighted.curve.coefficient == pytest.approx(plain.curve.coefficient, rel=1e-9)


def test_weighted_fit_trusts_low_pressures_less() -> None:
    """A reading wrong by one pascal at 10 Pa bends the weighted line less than the ordinary."""
    true = LeakageCurve(0.025, 0.65)
    read = np.array([60.0, 50.0, 40.0, 30.0, 20.0, 10.0])
    flow = np.array([true.flow(p) for p in (60.0, 50.0, 40.0, 30.0, 20.0, 11.0)])
    plain = fit_leakage_curve(read, flow).curve.exponent
    weighted = fit_weighted_curve(read, flow, [0.7] * 6, 0.005 * flow).curve.exponent
    assert abs(weighted - 0.65) < 0.6 * abs(plain - 0.65)


def test_readings_without_uncertainty_still_fit() -> None:
    """Someone who states no uncertainty gets the line and no excuse for its scatter."""
    fit = fit_weighted_curve(COURSE_PRESSURES, COURSE_FLOWS, [0.0] * 6, [0.0] * 6)
    plain = fit_leakage_curve(COURSE_PRESSURES, COURSE_FLOWS)
    assert fit.curve.exponent == pytest.approx(plain.curve.exponent, rel=1e-9)
    assert fit.exponent_error == pytest.approx(plain.exponent_error, rel=1e-6)


@given(curves, pressures)
def test_exact_readings_give_back_the_curve(curve: LeakageCurve, pressure: list[float]) -> None:
    """Readings made from a curve, with no noise, give that curve back."""
    fitted = fit_leakage_curve(pressure, [curve.flow(p) for p in pressure]).curve
    assert fitted.exponent == pytest.approx(curve.exponent, rel=1e-9)
    assert fitted.coefficient == pytest.approx(curve.coefficient, rel=1e-8)


@given(curves, pressures)
def test_exact_readings_give_back_the_curve_weighted(
    curve: LeakageCurve, pressure: list[float]
) -> None:
    """The weighted fit, too, gives back the curve that readings were made from."""
    flow = [curve.flow(p) for p in pressure]
    fitted = fit_weighted_curve(pressure, flow, [0.5] * len(flow), [0.03 * q for q in flow]).curve
    assert fitted.exponent == pytest.approx(curve.exponent, rel=1e-7)
    assert fitted.coefficient == pytest.approx(curve.coefficient, rel=1e-6)


@given(pressures, st.floats(0.1, 10.0), st.randoms(use_true_random=False))
def test_scaling_flow_scales_coefficient_only(
    pressure: list[float], factor: float, noise: Random
) -> None:
    """A change of flow unit moves the coefficient and leaves exponent and errors."""
    flow = np.array([0.05 * p**0.65 * noise.uniform(0.95, 1.05) for p in pressure])
    one, other = fit_leakage_curve(pressure, flow), fit_leakage_curve(pressure, factor * flow)
    assert other.curve.exponent == pytest.approx(one.curve.exponent, abs=1e-9)
    assert other.curve.coefficient == pytest.approx(factor * one.curve.coefficient)
    assert other.exponent_error == pytest.approx(one.exponent_error, abs=1e-9)


@given(pressures, st.floats(0.1, 10.0), st.randoms(use_true_random=False))
def test_scaling_pressure_leaves_the_exponent(
    pressure: list[float], factor: float, noise: Random
) -> None:
    """The exponent has no unit: inches of water give the same one as pascals."""
    flow = np.array([0.05 * p**0.65 * noise.uniform(0.95, 1.05) for p in pressure])
    one = fit_leakage_curve(pressure, flow)
    other = fit_leakage_curve(factor * np.array(pressure), flow)
    assert other.curve.exponent == pytest.approx(one.curve.exponent, abs=1e-9)
    assert other.flow_limits(factor * 50.0).high == pytest.approx(one.flow_limits(50.0).high)


@given(pressures, st.randoms(use_true_random=False))
def test_limits_follow_the_printed_equations(pressure: list[float], noise: Random) -> None:
    """Errors kept at the center give the annexes' s_lnC and s_y at any pressure."""
    x = np.log(pressure)
    y = np.log(0.05) + 0.65 * x + np.array([noise.uniform(-0.05, 0.05) for _ in pressure])
    fit = fit_leakage_curve(pressure, np.exp(y))
    count, n = x.size, fit.curve.exponent
    s_x2, s_y2 = x.var(ddof=1), y.var(ddof=1)
    s_xy = n * s_x2
    s_n = math.sqrt(max(s_y2 - n * s_xy, 0.0) / (count - 2)) / math.sqrt(s_x2)
    # The printed difference of two variances loses digits where the scatter is tiny.
    assert fit.exponent_error == pytest.approx(s_n, rel=1e-4, abs=1e-6)
    s_lnc = fit.exponent_error * math.sqrt(float(x @ x) / count)
    assert fit.coefficient_error == pytest.approx(s_lnc, rel=1e-9)
    away = math.log(4.0) - x.mean()
    s_y = fit.exponent_error * math.sqrt((count - 1) / count * s_x2 + away**2)
    assert fit.error_at(4.0).standard == pytest.approx(s_y, rel=1e-9)


def test_95_percent_limits_cover_95_percent() -> None:
    """Of 4000 made tests with 2 % scatter, 95 % hold the true flow; within 1.2 points."""
    random = np.random.default_rng(20220510)
    pressure = np.array([60.0, 50.0, 40.0, 30.0, 20.0, 10.0])
    true = LeakageCurve(0.025, 0.65)
    exact = np.array([true.flow(p) for p in pressure])
    held = {50.0: 0, 4.0: 0}
    exponents = 0
    for _ in range(4000):
        fit = fit_leakage_curve(pressure, exact * np.exp(random.normal(0.0, 0.02, 6)))
        exponents += fit.exponent_limits.low <= true.exponent <= fit.exponent_limits.high
        for at in held:
            limits = fit.flow_limits(at)
            held[at] += limits.low <= true.flow(at) <= limits.high
    for hits in (held[50.0], held[4.0], exponents):
        assert hits / 4000 == pytest.approx(0.95, abs=0.012)


def test_limits_widen_away_from_the_readings() -> None:
    """The flow is best known in the middle of the readings and worse outside them."""
    fit = fit_leakage_curve(COURSE_PRESSURES, COURSE_FLOWS)
    errors = [fit.error_at(p).standard for p in (2.0, 4.0, 10.0, math.exp(fit.center))]
    assert errors == sorted(errors, reverse=True)
    assert fit.error_at(200.0).standard > fit.error_at(60.0).standard


@pytest.mark.published(
    source="ASTM E1827 and ANSI/RESNET/ICC 380",
    where="single point, Q50 = Q (50/dp)^0.65",
    read="memory",
)
def test_one_point_takes_the_usual_exponent() -> None:
    """One reading is carried to 50 Pa with the exponent 0.65."""
    fit = assume_leakage_curve([30.0], [0.4], [0.5], [0.01])
    assert fit.curve.flow(50.0) == pytest.approx(0.4 * math.pow(50.0 / 30.0, 0.65), rel=1e-12)
    assert fit.method is FitMethod.ONE_POINT


@pytest.mark.parametrize(("spread", "expected"), [(0.05, 0.126), (0.08, 0.202)])
def test_assumed_exponent_costs_what_it_should_at_four_pascal(
    spread: float, expected: float
) -> None:
    """An exponent unsure by 0.05 makes the flow at 4 Pa, read at 50, unsure by 12.6 %."""
    fit = assume_leakage_curve([50.0], [0.4], [0.0], [0.0], exponent_error=spread)
    assert fit.error_at(4.0).standard == pytest.approx(expected, abs=5e-4)
    assert fit.error_at(50.0).standard == pytest.approx(0.0, abs=1e-12)


@pytest.mark.published(
    source="Chan, Joh & Sherman, Energy and Buildings 66 (2013) 616",
    where="exponents of 7 000 tests: mean 0.646, standard deviation 0.057",
    read="source",
)
def test_assumed_exponent_is_that_of_the_stock() -> None:
    """The exponent and uncertainty assumed stand for those measured, to their rounding."""
    fit = assume_leakage_curve([50.0], [0.4], [0.5], [0.01])
    assert fit.curve.exponent == pytest.approx(0.646, abs=5e-3)
    assert fit.exponent_error == pytest.approx(0.057, abs=5e-4)


@pytest.mark.parametrize("pressure", [[], [50.0], [50.0, 50.0], [50.0, 50.0, 50.0], [10.0, 50.0]])
def test_too_few_distinct_pressures_is_refused(pressure: list[float]) -> None:
    """One distinct pressure cannot fix a slope, nor can two readings tell their scatter."""
    with pytest.raises(
        NotEnoughDataError,
        match=r"^a fitted leakage curve needs three readings at two or more distinct pressures; "
        r"take readings at more pressures$",
    ):
        fit_leakage_curve(pressure, [1.0] * len(pressure))


def test_other_fits_refuse_too_little() -> None:
    """The weighted fit needs two pressures, the assumed one a reading."""
    with pytest.raises(NotEnoughDataError, match=r"^a weighted leakage curve needs .* pressures$"):
        fit_weighted_curve([50.0, 50.0], [1.0, 1.0], [0.5, 0.5], [0.1, 0.1])
    with pytest.raises(NotEnoughDataError, match=r"^a leakage curve needs a reading; .*50 Pa$"):
        assume_leakage_curve([], [], [], [])


@pytest.mark.parametrize("bad", [0.0, -50.0, float("nan"), float("inf")])
def test_a_pressure_without_logarithm_is_refused(bad: float) -> None:
    """A pressure or flow that is not above zero is named with its value."""
    with pytest.raises(OutOfRangeError, match=r"^induced pressure is .* covers 0 to inf Pa$"):
        fit_leakage_curve([10.0, 20.0, bad], [1.0, 2.0, 3.0])
    with pytest.raises(OutOfRangeError, match=r"^induced flow is .* covers 0 to inf m³/s$"):
        fit_leakage_curve([10.0, 20.0, 30.0], [1.0, 2.0, bad])


def test_unequal_lists_are_refused() -> None:
    """A pressure without its flow is no reading."""
    with pytest.raises(NotEnoughDataError, match=r"^every pressure needs its flow; .*other$"):
        fit_leakage_curve([10.0, 20.0, 30.0], [1.0, 2.0])


def test_whole_numbers_are_taken() -> None:
    """Readings typed without a decimal point fit like any others."""
    assert fit_leakage_curve([10, 40, 90], [1, 2, 3]).curve.exponent == pytest.approx(0.5)


def test_flat_readings_have_no_exponent_and_no_scatter() -> None:
    """The same flow at all pressures is a line of slope zero, not a division by zero."""
    fit = fit_leakage_curve([10, 20, 30], [2, 2, 2])
    assert fit.curve.exponent == pytest.approx(0.0, abs=1e-12)
    assert fit.r_squared == 1.0
