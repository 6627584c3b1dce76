"""From one fan test, or one in each direction, to the airtightness of a house.

Sources
-------
[ISO9972] ISO 9972:2015; [EN13829] EN 13829, p. 12, as quoted in a test report.
[E779] ASTM E779; [ROULET] C.-A. Roulet, "Ventilation and Airflow in Buildings", 2008, eq. 4.15.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import NotEnoughDataError, OutOfRangeError
from rooftree.physics.air import REFERENCE_DENSITY, REFERENCE_TEMPERATURE, dynamic_viscosity
from rooftree.physics.uncertainty import (
    UncertaintyTerm,
    combined_uncertainty,
    relative_limits,
)
from rooftree.readings.airtightness.budget import FIT, exponent_estimate, flow_uncertainties
from rooftree.readings.airtightness.curve import (
    NARROWEST_SPREAD,
    FitMethod,
    LeakageCurve,
    LeakageFit,
    assume_leakage_curve,
    fit_leakage_curve,
    fit_weighted_curve,
)
from rooftree.readings.airtightness.explanations import weigh_explanations
from rooftree.readings.airtightness.judge import judge_both_directions, judge_fan_test
from rooftree.readings.airtightness.readings import Direction, Standard
from rooftree.readings.airtightness.results import (
    AirtightnessResult,
    FanTestResult,
    FitBand,
    FlowEstimate,
)
from rooftree.readings.airtightness.sizes import leakage_sizes
from rooftree.readings.airtightness.stations import (
    LeftOut,
    StationResult,
    densities,
    mean_baseline,
    reduce_station,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rooftree.readings.airtightness.readings import Enclosure, FanTest

    Bound = tuple[str, float, float, float, str]

LOWEST_PRESSURE, HIGHEST_PRESSURE = 0.1, 500.0
"""Between which a leakage curve may be asked for a flow [Pa]."""


def reduce_fan_test(test: FanTest, enclosure: Enclosure) -> FanTestResult:
    """Reduce one direction of a fan test to every result, with limits and doubts.

    Parameters
    ----------
    test : FanTest
        As read: several stations, or one.
    enclosure : Enclosure
        Volume, areas and height of the tested space.

    Returns
    -------
    FanTestResult

    Raises
    ------
    NotEnoughDataError
        If no station has both a pressure away from the baseline and a flow.
    OutOfRangeError
        If a number cannot be what it says it is, such as a volume of zero.

    Notes
    -----
    Baseline, fan, density and fit as told in :mod:`.stations` and :mod:`.curve`. With three
    or more stations the curve is fitted; with two it is drawn through both; with one, or
    with all within a ratio of 1.25, the exponent is assumed.
    """
    _require_sense(test, enclosure)
    baseline, air = mean_baseline(test.baseline_before, test.baseline_after), densities(test)
    reduced = [
        reduce_station(number, station, test, baseline, air)
        for number, station in enumerate(test.stations, start=1)
    ]
    stations = _sorted_out(reduced)
    used = [station for station in stations if station.is_used]
    if not used:
        raise NotEnoughDataError(
            f"none of the {len(stations)} stations has both a pressure away from the baseline "
            "and a flow above zero; read the house pressure and the fan at one station or more"
        )
    fit, weighted = _fits(used)
    factor = reference_factor(test, air.at_leaks, fit.curve.exponent)
    curve = LeakageCurve(fit.curve.coefficient * factor, fit.curve.exponent)
    budgets = {p: flow_uncertainties(p, test, baseline, fit, used) for p in (50.0, 10.0, 4.0)}
    flows = [
        relative_limits(curve.flow(p), combined_uncertainty(terms)) for p, terms in budgets.items()
    ]
    result = FanTestResult(
        test=test,
        baseline=baseline,
        densities=air,
        stations=_with_residuals(stations, fit),
        fit=fit,
        weighted=weighted,
        curve=curve,
        reference_factor=factor,
        sizes=leakage_sizes(flows[0], flows[1], flows[2], enclosure),
        uncertainties=budgets[50.0],
        band=_band(fit, used),
        findings=(),
        explanations=weigh_explanations(test, used),
        exponent=exponent_estimate(test, baseline, fit, used),
    )
    return replace(result, findings=judge_fan_test(result, enclosure))


def reduce_both_directions(
    results: Sequence[FanTestResult], enclosure: Enclosure
) -> AirtightnessResult:
    """Average tests in both directions.

    Parameters
    ----------
    results : sequence of FanTestResult
        One or more; several in one direction are averaged first.
    enclosure : Enclosure
        Volume, areas and height of the tested space.

    Returns
    -------
    AirtightnessResult

    Raises
    ------
    NotEnoughDataError
        If there is no test at all.

    Notes
    -----
    Flows are averaged at each pressure, not coefficients or exponents [ISO9972]_ [E779]_.
    Scatter is independent from test to test; fan, gauge, baseline and density are taken as
    wrong the same way in all, so that averaging does not shrink them.
    """
    if not results:
        raise NotEnoughDataError("no fan test to average; reduce at least one")
    tests = tuple(results)
    flows = [_mean_flow(tests, pressure) for pressure in (50.0, 10.0, 4.0)]
    estimates = [relative_limits(f.flow, combined_uncertainty(f.terms)) for f in flows]
    exponent = math.log(flows[0].flow / flows[2].flow) / math.log(50.0 / 4.0)
    return AirtightnessResult(
        results=tests,
        curve=LeakageCurve(flows[2].flow / math.pow(4.0, exponent), exponent),
        sizes=leakage_sizes(estimates[0], estimates[1], estimates[2], enclosure),
        uncertainties=flows[0].terms,
        findings=judge_both_directions(tests),
    )


def flow_at(result: FanTestResult | AirtightnessResult, pressure: float) -> FlowEstimate:
    """Return the leakage flow at any pressure, with its 95 % limits.

    Parameters
    ----------
    result : FanTestResult or AirtightnessResult
        One test, or the mean of several.
    pressure : float
        Induced pressure [Pa], 0.1 to 500.

    Returns
    -------
    FlowEstimate
        At reference conditions.

    Raises
    ------
    OutOfRangeError
        If the pressure is outside the range.

    Notes
    -----
    The inner limits are those of the standards, ``C dp^n exp(±t s_y)``; the outer ones add
    instruments, baseline, density and, outside the pressures reached, the doubt that one
    power law holds there.
    """
    if not LOWEST_PRESSURE <= pressure <= HIGHEST_PRESSURE:
        raise OutOfRangeError("pressure", pressure, LOWEST_PRESSURE, HIGHEST_PRESSURE, "Pa")
    tests = (result,) if isinstance(result, FanTestResult) else result.results
    return _mean_flow(tests, pressure)


def reference_factor(test: FanTest, density_at_leaks: float, exponent: float) -> float:
    """Return what turns a coefficient at test conditions into one at reference conditions.

    Parameters
    ----------
    test : FanTest
        Its standard, direction and temperatures are used.
    density_at_leaks : float
        Density of the air that went through the leaks [kg/m³].
    exponent : float
        Of the leakage curve [-].

    Returns
    -------
    float
        Factor [-].

    Notes
    -----
    ISO 9972: ``C_L = C (rho/rho_0)^(1-n)`` [EN13829]_. ASTM E779:
    ``C_0 = C (mu/mu_0)^(2n-1) (rho/rho_0)^(1-n)`` [ROULET]_ eq. 4.15; the viscosity makes
    the two differ by 1.8 % at a difference of 20 K. Density and viscosity are those of the
    air in the leaks: outdoor air depressurizing, indoor air pressurizing. Reference is dry
    air at 20 °C and 101 325 Pa, 1.2041 kg/m³.
    """
    factor = math.pow(density_at_leaks / REFERENCE_DENSITY, 1.0 - exponent)
    if test.standard is Standard.ISO_9972:
        return factor
    inward = test.direction is Direction.DEPRESSURIZE
    temperature = test.outdoor_temperature if inward else test.indoor_temperature
    viscosity = dynamic_viscosity(temperature) / dynamic_viscosity(REFERENCE_TEMPERATURE)
    return factor * math.pow(viscosity, 2.0 * exponent - 1.0)


def _require_sense(test: FanTest, enclosure: Enclosure) -> None:
    """Refuse numbers that no reading can be."""
    for name, value, low, high, unit in (*_bounds(test, enclosure), *_station_bounds(test)):
        if not low <= value <= high:
            raise OutOfRangeError(name, value, low, high, unit)


def _bounds(test: FanTest, enclosure: Enclosure) -> Iterator[Bound]:
    yield "indoor temperature", test.indoor_temperature, 230.0, 330.0, "K"
    yield "outdoor temperature", test.outdoor_temperature, 220.0, 330.0, "K"
    yield "barometric pressure", test.barometric_pressure, 50e3, 110e3, "Pa"
    yield "relative humidity", test.relative_humidity, 0.0, 1.0, "[0-1]"
    yield "pressure uncertainty", test.pressure_uncertainty, 0.0, 50.0, "Pa"
    yield "volume", enclosure.volume, 1.0, 1e6, "m³"
    yield "floor area", enclosure.floor_area, 1.0, 1e6, "m²"
    yield "envelope area", enclosure.envelope_area, 1.0, 1e6, "m²"
    yield "height", enclosure.height, 1.0, 200.0, "m"
    for fan in test.fans:
        yield f"calibration density of fan {fan.id}", fan.calibration_density, 0.5, 2.0, "kg/m³"
        yield f"flow uncertainty of fan {fan.id}", fan.flow_uncertainty, 0.0, 1.0, "[0-1]"
        for band in fan.bands:
            name = f"calibration coefficient of fan {fan.id}, {band.configuration}"
            yield name, band.coefficient, 1e-9, 1e3, "m³/(s·Paⁿ)"
            name = f"calibration exponent of fan {fan.id}, {band.configuration}"
            yield name, band.exponent, 0.1, 2.0, "-"


def _station_bounds(test: FanTest) -> Iterator[Bound]:
    for reading in (*test.baseline_before, *test.baseline_after):
        yield "baseline", reading, -1e5, 1e5, "Pa"
    for number, station in enumerate(test.stations, start=1):
        yield f"pressure at station {number}", station.pressure, -1e5, 1e5, "Pa"
        for fan in station.fans:
            if fan.flow is not None:
                yield f"fan flow at station {number}", fan.flow, -1e4, 1e4, "m³/s"
            if fan.fan_pressure is not None:
                yield f"fan pressure at station {number}", fan.fan_pressure, -1e5, 1e5, "Pa"


def _sorted_out(stations: list[StationResult]) -> list[StationResult]:
    """Count pressure in the sense of most stations; leave out those on the other side."""
    sense = math.fsum(math.copysign(1.0, s.induced_pressure) for s in stations if s.is_used)
    turned = (
        [replace(s, induced_pressure=-s.induced_pressure) for s in stations]
        if sense < 0.0
        else stations
    )
    return [
        replace(s, left_out=LeftOut.WRONG_WAY) if s.is_used and s.induced_pressure <= 0.0 else s
        for s in turned
    ]


def _fits(used: list[StationResult]) -> tuple[LeakageFit, LeakageFit | None]:
    """Return the fit that the results come from, and the weighted one beside it."""
    pressure = [s.induced_pressure for s in used]
    flow = [s.flow for s in used]
    pressure_uncertainty = [s.pressure_uncertainty for s in used]
    flow_uncertainty = [s.flow_uncertainty for s in used]
    if max(pressure) < NARROWEST_SPREAD * min(pressure):
        return assume_leakage_curve(pressure, flow, pressure_uncertainty, flow_uncertainty), None
    weighted = fit_weighted_curve(pressure, flow, pressure_uncertainty, flow_uncertainty)
    if len(used) == 2:
        return weighted, None
    return fit_leakage_curve(pressure, flow), weighted


def _with_residuals(stations: list[StationResult], fit: LeakageFit) -> tuple[StationResult, ...]:
    def compared(station: StationResult) -> StationResult:
        if station.induced_pressure <= 0.0 or station.flow <= 0.0:
            return station
        fitted = fit.curve.flow(station.induced_pressure)
        return replace(station, fitted_flow=fitted, residual=math.log(station.flow / fitted))

    return tuple(compared(station) for station in stations)


def _band(fit: LeakageFit, used: list[StationResult]) -> FitBand:
    reached = [station.induced_pressure for station in used]
    pressures = np.geomspace(min(4.0, *reached), max(60.0, *reached), 41).tolist()
    limits = [fit.flow_limits(p) for p in pressures]
    return FitBand(
        pressures=tuple(pressures),
        flows=tuple(limit.value for limit in limits),
        lows=tuple(limit.low for limit in limits),
        highs=tuple(limit.high for limit in limits),
    )


def _flow(result: FanTestResult, pressure: float) -> tuple[float, tuple[UncertaintyTerm, ...]]:
    used = [station for station in result.stations if station.is_used]
    terms = flow_uncertainties(pressure, result.test, result.baseline, result.fit, used)
    return result.curve.flow(pressure), terms


def _mean_flow(tests: Sequence[FanTestResult], pressure: float) -> FlowEstimate:
    """Average the flows of each direction, then both directions."""
    shares = _shares(tests)
    parts = [_flow(test, pressure) for test in tests]
    flow = math.fsum(share * q for share, (q, _) in zip(shares, parts, strict=True))
    weights = [share * q / flow for share, (q, _) in zip(shares, parts, strict=True)]
    terms = _mean_terms(tests, weights, [terms for _, terms in parts])
    inner = relative_limits(flow, next(term for term in terms if term.name == FIT))
    outer = relative_limits(flow, combined_uncertainty(terms))
    reached = [
        [station.induced_pressure for station in test.stations if station.is_used] for test in tests
    ]
    return FlowEstimate(
        pressure=pressure,
        flow=flow,
        low=inner.low,
        high=inner.high,
        combined_low=outer.low,
        combined_high=outer.high,
        is_extrapolated=any(not min(p) <= pressure <= max(p) for p in reached),
        terms=terms,
    )


def _shares(tests: Sequence[FanTestResult]) -> list[float]:
    """Give each direction the same weight, and each test of a direction its part of it."""
    directions = [test.direction for test in tests]
    return [1.0 / (len(set(directions)) * directions.count(own)) for own in directions]


def _mean_terms(
    tests: Sequence[FanTestResult],
    weights: Sequence[float],
    budgets: Sequence[tuple[UncertaintyTerm, ...]],
) -> tuple[UncertaintyTerm, ...]:
    """Combine term by term: scatter as independent, the rest as common to all tests."""
    names = dict.fromkeys(term.name for terms in budgets for term in terms)
    scaled = [
        UncertaintyTerm(term.name, weight * term.standard, term.degrees_of_freedom)
        for weight, terms in zip(weights, budgets, strict=True)
        for term in terms
    ]
    stated = any(test.fit.method is not FitMethod.ORDINARY for test in tests)
    mean = []
    for name in names:
        own = [term for term in scaled if term.name == name]
        if name == FIT and not stated:
            both = combined_uncertainty(own)
            mean.append(UncertaintyTerm(name, both.standard, both.degrees_of_freedom))
        else:
            degrees = min(term.degrees_of_freedom for term in own)
            mean.append(UncertaintyTerm(name, math.fsum(t.standard for t in own), degrees))
    return tuple(mean)
