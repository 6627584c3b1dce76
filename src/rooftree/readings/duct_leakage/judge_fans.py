"""Judge the duct fan's readings: configuration, units, band, and whether they lie on one line."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.physics.fan_calibration import calibrated_flow, distance_from_band
from rooftree.physics.sureness import probability_from_odds, probability_within, sureness
from rooftree.readings.duct_leakage.notes import duct_note
from rooftree.readings.duct_leakage.stations import fit_line, reduce_stations

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.finding import Finding
    from rooftree.readings.duct_leakage.readings import (
        DuctFanBand,
        DuctFanReading,
        DuctLeakageTest,
    )
    from rooftree.readings.duct_leakage.stations import DuctFanFlow, DuctLine, DuctStation

INCH_OF_WATER = 249.089
"""[Pa]."""

CFM_PER_LITRE = 2.11888
"""Cubic feet a minute in one litre a second [-]."""

SHOWN_DOUBT = 0.05
"""Standard uncertainty of a flow shown over the flow by the fan pressure read beside it [0-1],
relative; ours: both sway with the duct pressure."""

MISFIT = 10.0
"""Sum of squared residuals beyond its mean from which stations do not lie on one line [-];
ours: three stations exceed it by chance once in five hundred tests."""

BAND_MARGIN = 0.05
"""Share of a band's end by which a fan pressure may lie outside before it counts [0-1]; ours."""


def judge_fans(
    test: DuctLeakageTest, stations: tuple[DuctStation, ...], line: DuctLine | None
) -> tuple[Finding, ...]:
    """Return what is doubtful about fans and stations.

    Parameters
    ----------
    test : DuctLeakageTest
        Readings.
    stations : tuple of DuctStation
        Reduced.
    line : DuctLine or None
        Through them.

    Returns
    -------
    tuple of Finding
    """
    fans = [fan for station in stations for fan in station.fans]
    found = [*_no_flow(fans), *_shown(test, fans), *_band(test, fans)]
    if line and not found:
        found += _line(test, line)
    return tuple(found)


def _no_flow(fans: list[DuctFanFlow]) -> list[Finding]:
    lost = [
        fan.reading.configuration or "without a name"
        for fan in fans
        if fan.reading.flow is None and fan.reading.fan_pressure is not None and fan.band is None
    ]
    if not lost:
        return []
    says = (
        f"A fan pressure was read with the configuration {lost[0]}, for which there is no"
        " calibration. Enter its calibration, or the flow that the gauge shows."
    )
    return [duct_note("no-calibration", says, None, None, "", "common practice")]


def _shown(test: DuctLeakageTest, fans: list[DuctFanFlow]) -> list[Finding]:
    """Hold the flow shown against the calibration: the unit, or another configuration."""
    known = [fan for fan in fans if fan.shown_over_calibrated]
    if not known:
        return []
    ratio = math.exp(
        math.fsum(math.log(f.shown_over_calibrated or 1.0) for f in known) / len(known)
    )
    doubt = math.hypot(SHOWN_DOUBT, test.flow_uncertainty)
    distance = abs(math.log(ratio)) / doubt
    if distance <= 3.5:
        return []
    unit, configuration = _by_unit(ratio, doubt), _by_configuration(test, known[0], doubt)
    if unit[0] <= min(configuration[0], 3.5):
        sure = sureness(probability_from_odds(0.5 * (distance**2 - unit[0] ** 2)))
        says = (
            f"The flow typed is {ratio:.2f} times the one that its fan pressure gives."
            f" {sure.capitalize()}: {unit[1]}, for the two differ by 2.12. Look at the unit on the"
            " gauge and type the flow again."
        )
        return [duct_note("flow-units", says, ratio, 1.0, "-", "calibration of the fan")]
    fits = configuration[0] <= 3.5
    hint = f" It would fit the configuration {configuration[1]}." if fits else ""
    sure = sureness(probability_within(distance))
    says = (
        f"The flow shown is {ratio:.2f} times the one that the fan pressure gives by the"
        f" calibration. {sure.capitalize()}: the gauge was set to another configuration than the"
        f" one on the fan.{hint} Look at the ring on the fan, set the gauge to it, read again."
    )
    return [duct_note("wrong-configuration", says, ratio, 1.0, "-", "calibration of the fan")]


def _by_unit(ratio: float, doubt: float) -> tuple[float, str]:
    """Return how far a wrong unit is from explaining a ratio, in uncertainties, and which."""
    return min(
        (
            abs(math.log(ratio * CFM_PER_LITRE)) / doubt,
            "the gauge showed L/s, or cfm was chosen for what was typed in L/s",
        ),
        (
            abs(math.log(ratio / CFM_PER_LITRE)) / doubt,
            "the gauge showed cfm, or L/s was chosen for what was typed in cfm",
        ),
    )


def _by_configuration(test: DuctLeakageTest, fan: DuctFanFlow, doubt: float) -> tuple[float, str]:
    """Return how far another configuration is from explaining a flow shown, and which."""
    pressure, shown = fan.reading.fan_pressure or 0.0, fan.reading.flow or 0.0
    others = [
        (abs(math.log(calibrated_flow(band, pressure) / shown)) / doubt, band.configuration)
        for band in _others(test, fan.reading)
    ]
    return min(others, default=(math.inf, ""))


def _others(test: DuctLeakageTest, reading: DuctFanReading) -> Iterator[DuctFanBand]:
    for band in test.calibration:
        if band.fan == reading.fan and band.configuration != reading.configuration:
            yield band


def _band(test: DuctLeakageTest, fans: list[DuctFanFlow]) -> list[Finding]:
    outside = [
        fan
        for fan in fans
        if fan.band
        and fan.outside_band > max(2.0 * test.pressure_uncertainty, BAND_MARGIN * fan.band.low)
    ]
    if not outside:
        return []
    fan = max(outside, key=lambda each: each.outside_band)
    pressure, band = abs(fan.reading.fan_pressure or 0.0), fan.band
    if band is None:
        return []
    if distance_from_band(band, pressure * INCH_OF_WATER) == 0.0 and pressure < 2.0:
        says = (
            f"The fan reads {pressure:.2g} Pa. Almost certain: the gauge showed inches of water,"
            f" for that would be {pressure * INCH_OF_WATER:.0f} Pa and lie within the band of the"
            " calibration. Set the gauge to pascals and type it again."
        )
        return [duct_note("units", says, pressure, band.low, "Pa", "calibration of the fan")]
    fits = [
        other.configuration
        for other in _others(test, fan.reading)
        if distance_from_band(other, pressure) == 0.0
    ]
    hint = f" It lies within the band of {', '.join(dict.fromkeys(fits))}." if fits else ""
    says = (
        f"The fan reads {pressure:.0f} Pa with the configuration {fan.reading.configuration}, whose"
        f" calibration holds from {band.low:.0f} to {band.high:.0f} Pa. Likely: another"
        f" configuration is on the fan, or a smaller or larger one is needed.{hint} Look at the"
        " fan, change the ring if it is the one noted, and read again."
    )
    limit = band.low if pressure < band.low else band.high
    return [duct_note("outside-band", says, pressure, limit, "Pa", "calibration of the fan")]


def _line(test: DuctLeakageTest, line: DuctLine) -> list[Finding]:
    """Find stations that do not lie on one line, and which configuration restores it."""
    beyond = line.misfit - line.freedom
    if line.freedom < 1 or beyond <= MISFIT:
        return []
    best: tuple[float, str, str] | None = None
    for old, new, trial in _assignments(test):
        fitted = fit_line(test, reduce_stations(test, trial))
        if fitted and (best is None or fitted.misfit < best[0]):
            best = (fitted.misfit, old, new)
    if best and best[0] - line.freedom <= MISFIT:
        sure = sureness(probability_from_odds(0.5 * (line.misfit - best[0])))
        says = (
            f"The flows do not lie on one line. {sure.capitalize()}: where {best[1]} was noted"
            f" {best[2]} was on the fan, for with it they do. Look at the photographs of the fan"
            " or read one pressure again."
        )
        return [
            duct_note(
                "wrong-configuration", says, line.misfit, MISFIT, "-", "line through stations"
            )
        ]
    says = (
        "The flows at the pressures read do not lie on one line. Likely: a tape came off, a door"
        " moved, or a configuration is wrong at one of them. Read the first pressure again; if it"
        " differs now, look for what opened."
    )
    return [duct_note("not-on-a-line", says, line.misfit, MISFIT, "-", "line through stations")]


def _assignments(
    test: DuctLeakageTest,
) -> Iterator[tuple[str, str, tuple[DuctFanReading, ...]]]:
    """Yield the readings with one of them, or all of one kind, under another configuration."""
    readings = test.readings
    for i, reading in enumerate(readings):
        if reading.flow is not None or reading.fan_pressure is None:
            continue
        for name in dict.fromkeys(band.configuration for band in _others(test, reading)):
            changed = replace(reading, configuration=name)
            yield reading.configuration, name, (*readings[:i], changed, *readings[i + 1 :])
            alike = tuple(
                replace(other, configuration=name)
                if (other.fan, other.configuration) == (reading.fan, reading.configuration)
                else other
                for other in readings
            )
            yield reading.configuration, name, alike
