"""A fan test in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, limited_line, line, listed
from rooftree.readings.airtightness import FanTest, FanTestResult, hole_in_words
from rooftree.units import Kind, show

if TYPE_CHECKING:
    from rooftree.readings.airtightness import LeakageSizes
    from rooftree.units import DisplaySystem

_WORTH_A_WORD = 0.0005
"""Uncertainty that is told [0-1], relative."""

_DIRECTION = {"depressurize": "air pulled out of the house", "pressurize": "air pushed into it"}

_SIZES = (
    ("Flow at 50 Pa", "flow50", Kind.FLOW),
    ("Air changes at 50 Pa", "air_changes50", Kind.AIR_CHANGES),
    ("Flow at 50 Pa over envelope area", "permeability50", Kind.PERMEABILITY),
    ("Flow at 50 Pa over floor area", "specific_leakage50", Kind.PERMEABILITY),
    ("Effective leakage area at 4 Pa (ELA)", "effective_leakage_area", Kind.LEAKAGE_AREA),
    ("Equivalent leakage area at 10 Pa (EqLA)", "equivalent_leakage_area", Kind.LEAKAGE_AREA),
    ("Normalized leakage", "normalized_leakage", Kind.RATIO),
)


def size_lines(sizes: LeakageSizes, system: DisplaySystem) -> tuple[Line, ...]:
    """Return every size of the leakage with its limits.

    Parameters
    ----------
    sizes : LeakageSizes
        Of one test or of the mean of several.
    system : DisplaySystem
        Units in which they are shown.

    Returns
    -------
    tuple of Line
    """
    return tuple(
        limited_line(words, getattr(sizes, name), kind, system) for words, name, kind in _SIZES
    )


def curve_lines(result: FanTestResult, system: DisplaySystem) -> tuple[Line, ...]:
    """Return what the fit and the baseline of one test say.

    Parameters
    ----------
    result : FanTestResult
        The test.
    system : DisplaySystem
        Units in which values are shown.

    Returns
    -------
    tuple of Line
    """
    fit = result.fit
    squared = [] if fit.r_squared is None else [Line("r²", f"{fit.r_squared:.4f}")]
    exponent = result.exponent or fit.exponent_limits
    return (
        Line("Fit", f"{fit.method.value}, {result.test.standard.value}"),
        limited_line(
            "Coefficient C, as tested", fit.coefficient_limits, Kind.LEAKAGE_COEFFICIENT, system
        ),
        Line("Exponent n", f"{exponent.value:.3f}", f"{exponent.low:.3f} to {exponent.high:.3f}"),
        *squared,
        line("Baseline taken off", result.baseline.pressure, Kind.PRESSURE, system),
        *_weighted(result, system),
        Line("Uncertain by", _terms(result)),
    )


def hole_sentence(sizes: LeakageSizes, system: DisplaySystem) -> str:
    """Return how large all leaks are together, as something that anybody has seen."""
    hole = hole_in_words(sizes.equivalent_leakage_area.value, system)
    return f"All the leaks together are as large as {hole}."


def _weighted(result: FanTestResult, system: DisplaySystem) -> tuple[Line, ...]:
    """Return the flow by the fit that trusts each station by its own uncertainty."""
    if result.weighted is None:
        return ()
    flow = result.weighted.flow_limits(50.0)
    return (limited_line("Weighted fit: flow at 50 Pa, as tested", flow, Kind.FLOW, system),)


def _terms(result: FanTestResult) -> str:
    return ", ".join(
        f"{term.name} {100.0 * term.standard:.1f} %"
        for term in result.uncertainties
        if term.standard > _WORTH_A_WORD
    )


def _method(reading: FanTest, result: FanTestResult | None) -> str:
    method = f"{reading.standard.value}, {_DIRECTION[reading.direction.value]}"
    if result is not None:
        method += f", {len(reading.stations)} stations, {result.fit.method.value} fit"
    return method


def _readings(reading: FanTest, system: DisplaySystem) -> tuple[Line, ...]:
    warmth = listed(
        (reading.indoor_temperature, reading.outdoor_temperature), Kind.TEMPERATURE, system
    )
    return (
        Line("Indoors, outdoors", warmth),
        line("Wind", reading.wind_speed, Kind.SPEED, system),
        line("Barometer", reading.barometric_pressure, Kind.PRESSURE, system),
        Line("Baseline before", listed(reading.baseline_before, Kind.PRESSURE, system)),
        Line("Baseline after", listed(reading.baseline_after, Kind.PRESSURE, system)),
        Line("The house", _house(reading)),
    )


_STATES = (
    ("interior_doors_open", "inside doors open", "inside doors not all open"),
    ("openings_closed", "windows and dampers shut", "an opening not shut"),
    ("air_handler_off", "air handler off", "air handler on"),
    ("exhaust_fans_off", "exhaust fans off", "an exhaust fan on"),
)


def _house(reading: FanTest) -> str:
    """Return how the house stood, as far as it was noted."""
    noted = [
        good if getattr(reading, name) else bad
        for name, good, bad in _STATES
        if getattr(reading, name) is not None
    ]
    return ", ".join(noted) or "not noted"


def _results(result: FanTestResult, system: DisplaySystem) -> tuple[Line, ...]:
    return (*size_lines(result.sizes, system), *curve_lines(result, system))


def _stations(result: FanTestResult, system: DisplaySystem) -> tuple[Table, ...]:
    rows = tuple(
        (
            _signed(station.pressure),
            _signed(station.induced_pressure),
            show(station.fan_flow, Kind.FLOW, system),
            _off(station.residual) if station.is_used else station.left_out.value,
        )
        for station in result.stations
    )
    columns = ("Read, Pa", "Induced, Pa", "Fan flow", "Off the curve")
    return (Table("Stations", columns, rows),)


def _signed(pressure: float) -> str:
    return f"{pressure:.1f}".replace("-", "−")


def _off(residual: float | None) -> str:
    return "" if residual is None else f"{100.0 * residual:+.1f} %".replace("-", "−")


WORDS = TestWords(
    reading=FanTest,
    name="Fan test of the enclosure",
    method=_method,
    readings=_readings,
    results=_results,
    tables=_stations,
)
