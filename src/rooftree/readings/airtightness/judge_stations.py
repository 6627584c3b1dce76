"""Doubts about single stations: signs, fans, stray readings and slips of unit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.finding import Finding, Severity
from rooftree.physics.uncertainty import coverage_factor
from rooftree.readings.airtightness import limits
from rooftree.readings.airtightness.candidates import Cause
from rooftree.readings.airtightness.configurations import band_behind, how_far_outside
from rooftree.readings.airtightness.curve import LeakageCurve, fit_leakage_curve
from rooftree.readings.airtightness.judge_explanations import WORTH_TELLING, told
from rooftree.readings.airtightness.noise import NOISE_FREEDOM, station_noise
from rooftree.readings.airtightness.readings import Direction
from rooftree.readings.airtightness.stations import LeftOut

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import ArrayLike

    from rooftree.readings.airtightness.explanations import Explanation
    from rooftree.readings.airtightness.results import FanTestResult
    from rooftree.readings.airtightness.stations import StationResult

_LEAST_CONFIDENCE = 0.05
"""Chance of naming a station in a test that has no stray one [0-1]."""


@dataclass(frozen=True, slots=True)
class Stray:
    """One station against the line of the others.

    Attributes
    ----------
    station : StationResult
        The one left out.
    others : LeakageCurve
        Of all other stations, at test conditions.
    departure : float
        ln(flow / flow of the others' curve) [0-1], relative.
    """

    station: StationResult
    others: LeakageCurve
    departure: float


def judge_stations(result: FanTestResult) -> Iterator[Finding]:
    """Yield every doubt about single stations.

    Parameters
    ----------
    result : FanTestResult
        Reduced; its own findings are not looked at.

    Yields
    ------
    Finding
        With the station it is about.
    """
    yield from _judge_signs(result)
    yield from _judge_fans(result)
    yield from _judge_scale(result)
    slips = [*_judge_pressure_units(result)]
    yield from slips
    used = [station for station in result.stations if station.is_used]
    stray = worst_stray(used, station_noise(result.test, [s.induced_pressure for s in used]))
    if stray is None or f"station {stray.station.number}" in {slip.about for slip in slips}:
        return
    if _is_best_told_astray(result.explanations):
        yield _stray_finding(stray)


def _is_best_told_astray(explanations: Sequence[Explanation]) -> bool:
    """Tell whether nothing explains more: a step makes good stations look astray."""
    others = told(explanations)
    if not others or any(each.cause is Cause.FLOW_UNIT for each in others):
        return not others
    return any(
        each.cause is Cause.STRAY and each.probability >= WORTH_TELLING for each in explanations
    )


def worst_stray(used: Sequence[StationResult], noise: ArrayLike) -> Stray | None:
    """Return the station that lies farthest from the line of the others, if one does.

    Parameters
    ----------
    used : sequence of StationResult
        Stations of the fit.
    noise : array_like, shape (n,)
        Expected scatter of ln(flow) of each station [0-1].

    Returns
    -------
    Stray or None
        None where no station stands out, or fewer than five could tell.

    Notes
    -----
    Externally studentized residual of the line that weighs each station by its expected
    scatter, against Student's t at 5 % over all N stations (Bonferroni), and at least 3 %
    away. The scatter of the others is pooled with the expected one, which counts for
    six readings, so that five or six stations can tell. One station is named, since a
    stray one makes good ones look bad.
    """
    count = len(used)
    if count < 5:
        return None
    x = np.log([s.induced_pressure for s in used])
    y = np.log([s.flow for s in used])
    if not np.ptp(x) > 0.0:  # one pressure only: no line to lie beside
        return None
    expected = np.asarray(noise, dtype=float)
    weight = expected**-2.0
    design = np.column_stack([np.ones(count), x - np.average(x, weights=weight)])
    normal = np.linalg.inv(design.T @ (weight[:, None] * design))
    residual = y - design @ (normal @ (design.T @ (weight * y)))
    left = 1.0 - weight * np.einsum("ki,ij,kj->k", design, normal, design)
    standardized = residual / expected / np.sqrt(left)
    freedom = NOISE_FREEDOM + count - 3
    without = float(np.sum((residual / expected) ** 2)) - standardized**2
    distance = np.abs(standardized) / np.sqrt((NOISE_FREEDOM + np.maximum(without, 0.0)) / freedom)
    worst = int(np.argmax(distance))
    departure = float(residual[worst] / left[worst])
    if distance[worst] <= coverage_factor(freedom, 1.0 - _LEAST_CONFIDENCE / count):
        return None
    if abs(departure) <= limits.OUTLIER.value:
        return None
    rest = [s for i, s in enumerate(used) if i != worst]
    others = fit_leakage_curve([s.induced_pressure for s in rest], [s.flow for s in rest])
    return Stray(used[worst], others.curve, departure)


def _stray_finding(stray: Stray) -> Finding:
    number, off = stray.station.number, math.expm1(stray.departure)
    slip = _slip(stray)
    return Finding(
        code="fan-test/unit-slip" if slip else "fan-test/outlier",
        severity=Severity.NOTE,
        says=f"Station {number} at {stray.station.induced_pressure:.3g} Pa reads {abs(off):.0%} "
        f"{'more' if off > 0 else 'less'} flow than the other stations say; "
        + (slip or "repeat it, and check the fan configuration noted there."),
        value=off,
        limit=limits.OUTLIER.value,
        unit="0-1",
        source=limits.COMMON,
        about=f"station {number}",
    )


def _slip(stray: Stray) -> str:
    """Say which units were mixed up, if the departure is as large as such a slip."""
    if abs(abs(stray.departure) + math.log(limits.FLOW_SLIP)) < limits.SLIP_TOLERANCE:
        return "that is as much as cfm and L/s differ: check the unit of its flow."
    pressures = abs(stray.departure) / max(stray.others.exponent, 0.1)
    if abs(pressures / math.log(limits.PRESSURE_SLIP) - 1.0) < 0.1:
        return "that is as much as inches of water and Pa differ: check the unit of its pressure."
    return ""


def _judge_signs(result: FanTestResult) -> Iterator[Finding]:
    inward = result.direction is Direction.DEPRESSURIZE
    sense = -1.0 if inward else 1.0
    turned = any(
        s.is_used and sense * (s.pressure - result.baseline.pressure) < 0.0 for s in result.stations
    )
    if turned:
        sign = "negative" if inward else "positive"
        yield Finding(
            code="fan-test/sign",
            severity=Severity.GATE,
            says=f"A fan that {result.direction.value}s the house makes its pressure {sign}, yet "
            "the readings have the other sign; the two hoses are probably swapped at the gauge, "
            "or the direction was noted wrong: put it right (the sizes were used as read).",
            source=limits.COMMON,
        )
    for station in result.stations:
        if station.left_out is LeftOut.WRONG_WAY:
            yield Finding(
                code="fan-test/sign",
                severity=Severity.NOTE,
                says=f"Station {station.number} reads {station.pressure:g} Pa, which does not lie "
                "beyond the baseline as the other stations do, and was left out; check its "
                "sign, and whether the hoses were swapped there.",
                value=station.pressure,
                unit="Pa",
                source=limits.COMMON,
                about=f"station {station.number}",
            )


def _judge_fans(result: FanTestResult) -> Iterator[Finding]:
    for station in result.stations:
        if station.left_out not in (LeftOut.NO, LeftOut.WRONG_WAY):
            yield Finding(
                code="fan-test/no-flow",
                severity=Severity.NOTE,
                says=f"Station {station.number} was left out: {station.left_out.value}; enter "
                "the flow shown, or the fan pressure and a configuration of that fan.",
                source=limits.COMMON,
                about=f"station {station.number}",
            )
    yield from _judge_bands(result)
    yield from _judge_two_flows(result)
    yield from _judge_shown_flows(result)


def _judge_bands(result: FanTestResult) -> Iterator[Finding]:
    outside = [
        (station.number, part, part.band)
        for station in result.stations
        for part in station.fans
        if part.band is not None and part.is_outside_band
    ]
    for fan, configuration in dict.fromkeys((p.fan, b.configuration) for _, p, b in outside):
        own = [(n, p, b) for n, p, b in outside if (p.fan, b.configuration) == (fan, configuration)]
        number, part, band = own[0]
        low = abs(part.fan_pressure or 0.0) < band.low
        yield Finding(
            code="fan-test/fan-band",
            severity=Severity.NOTE,
            says=f"Fan {fan}, configuration {configuration!r}, ran outside the {band.low:g} to "
            f"{band.high:g} Pa of its calibration at {_stations([n for n, _, _ in own])}; change "
            f"to a configuration with a {'smaller' if low else 'larger'} opening there.",
            value=part.fan_pressure,
            limit=band.low if low else band.high,
            unit="Pa",
            source="calibration of the fan",
            about=f"station {number}",
        )


def _judge_shown_flows(result: FanTestResult) -> Iterator[Finding]:
    """Doubt flows that the fan could not have moved with the configuration noted."""
    by_id = {fan.id: fan for fan in result.test.fans}
    beyond = [
        (station.number, part, *behind)
        for station in result.stations
        for part in station.fans
        if part.left_out is LeftOut.NO and part.flow > 0.0 and part.fan_pressure is None
        if (behind := band_behind(part, by_id[part.fan])) is not None
        if how_far_outside(*behind) > limits.SHOWN_OUTSIDE
    ]
    if not beyond:
        return
    number, part, band, fan_pressure = max(beyond, key=lambda one: how_far_outside(*one[2:]))
    yield Finding(
        code="fan-test/shown-flow",
        severity=Severity.NOTE,
        says=f"The flow shown at {_stations([one[0] for one in beyond])} does not go with "
        f"configuration {part.configuration!r} of fan {part.fan}: it would take {fan_pressure:.3g} "
        f"Pa at the fan, and the calibration goes from {band.low:g} to {band.high:g} Pa (likely "
        "wrong): check the unit of the flow, and the configuration on the fan and on the gauge.",
        value=fan_pressure,
        limit=band.high if fan_pressure > band.high else band.low,
        unit="Pa",
        source="calibration of the fan",
        about=f"station {number}",
    )


def _judge_two_flows(result: FanTestResult) -> Iterator[Finding]:
    """Hold the flow shown against the fan's own calibration where both are known."""
    both = [
        (abs(math.log(part.shown_over_calibrated)), station.number, part)
        for station in result.stations
        for part in station.fans
        if part.shown_over_calibrated is not None and part.shown_over_calibrated > 0.0
    ]
    if not both:
        return
    worst, number, part = max(both, key=lambda entry: entry[0])
    if worst <= math.log1p(limits.SHOWN.value):
        return
    slip = abs(worst + math.log(limits.FLOW_SLIP)) < limits.SLIP_TOLERANCE
    yield Finding(
        code="fan-test/unit-slip" if slip else "fan-test/shown-flow",
        severity=Severity.NOTE,
        says=f"At station {number} the flow shown for fan {part.fan} is "
        f"{part.shown_over_calibrated:.2f} times that of its calibration; "
        + (
            "cfm and L/s differ by as much: check the unit of the flow."
            if slip
            else "check that the gauge was set to the configuration that was on the fan."
        ),
        value=worst,
        limit=limits.SHOWN.value,
        unit="0-1",
        source=limits.SHOWN.source,
        about=f"station {number}",
    )


def _judge_scale(result: FanTestResult) -> Iterator[Finding]:
    """Suspect the unit of all pressures at once."""
    highest = max(s.induced_pressure for s in result.stations if s.is_used)
    if limits.WEAKEST.value <= highest <= limits.STRONGEST.value:
        return
    limit = limits.WEAKEST if highest < limits.WEAKEST.value else limits.STRONGEST
    yield Finding(
        code="fan-test/unit-slip",
        severity=Severity.GATE,
        says=f"The highest pressure is {highest:.3g} Pa, which no house test makes; the pressures "
        "were probably read in inches of water and noted as Pa, or the reverse (1 in. of water "
        "is 249 Pa): check the unit.",
        value=highest,
        limit=limit.value,
        unit="Pa",
        source=limits.COMMON,
    )


def _judge_pressure_units(result: FanTestResult) -> Iterator[Finding]:
    """Suspect the unit of single pressures: in another one, the station is on the line."""
    used = [station for station in result.stations if station.is_used]
    middle = float(np.median([abs(station.pressure) for station in used]))
    for station in result.stations:
        ratio = abs(station.pressure) / middle
        if station.flow <= 0.0 or 0.05 < ratio < 20.0:
            continue
        factor = limits.PRESSURE_SLIP if ratio < 1.0 else 1.0 / limits.PRESSURE_SLIP
        others = [other for other in used if other is not station]
        induced = result.sense * (station.pressure * factor - result.baseline.pressure)
        if len(others) < 3 or induced <= 0.0:
            continue
        line = fit_leakage_curve([s.induced_pressure for s in others], [s.flow for s in others])
        away = math.log(station.flow / line.curve.flow(induced))
        if abs(away) < limits.SLIP_TOLERANCE:
            yield Finding(
                code="fan-test/unit-slip",
                severity=Severity.GATE,
                says=f"Station {station.number} lies within {abs(math.expm1(away)):.0%} of the "
                f"line if its {station.pressure:g} Pa were read in "
                + ("inches of water" if factor > 1.0 else "Pa and noted in inches of water")
                + " (almost certain): check the unit of its pressure.",
                value=station.pressure,
                unit="Pa",
                source=limits.COMMON,
                about=f"station {station.number}",
            )


def _stations(numbers: Sequence[int]) -> str:
    """Return "station 3" or "stations 3, 4 and 6"."""
    *most, last = (str(number) for number in numbers)
    return f"stations {', '.join(most)} and {last}" if most else f"station {last}"
