"""Reduce a tracer decay to an air change rate and an air flow.

Sources
-------
[E741] ASTM E741, concentration decay (scope read in E741-00; equations recalled).
[GUM] JCGM 100:2008, eq. 10 and annex G.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.physics.propagation import Propagated
from rooftree.physics.uncertainty import UncertaintyTerm, combined_uncertainty, coverage_factor
from rooftree.readings.tracer_decay.background import reduce_background
from rooftree.readings.tracer_decay.decay import Decay
from rooftree.readings.tracer_decay.departure import find_departure
from rooftree.readings.tracer_decay.formulas import HOUR
from rooftree.readings.tracer_decay.judge import (
    REFUSING,
    judge_background,
    judge_empty,
    judge_positions,
    judge_record,
    note,
    tracer_limits,
)
from rooftree.readings.tracer_decay.judge_decay import (
    judge_fall,
    judge_length,
    judge_once,
    judge_rate,
    judge_straight,
    time_to_go,
)
from rooftree.readings.tracer_decay.results import TracerDecayResult
from rooftree.readings.tracer_decay.series import (
    flat_top,
    goes_back,
    record_of,
)
from rooftree.readings.tracer_decay.steady import reduce_steady
from rooftree.units import Kind, both, both_range

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.readings.tracer_decay.background import Background
    from rooftree.readings.tracer_decay.readings import TracerDecayTest
    from rooftree.readings.tracer_decay.results import SteadyResult

CURVED_SHARE = 0.5
"""Share of the sensor's uncertainty by which its two ends may differ [0-1]; ours: what is
common to both drops out of the ratio."""


def reduce_tracer_decay(
    test: TracerDecayTest,
    *,
    volume: float | None = None,
    expected_air_changes: float | None = None,
) -> TracerDecayResult:
    """Reduce a tracer decay, and readings near the steady state, to air flows.

    Parameters
    ----------
    test : TracerDecayTest
        Readings; its own volume goes before `volume`.
    volume : float or None
        Of the air of the house [m³]; without any there is a rate and no flow.
    expected_air_changes : float or None
        Air changes that leakage and weather let expect [1/h], to hold the result against.

    Returns
    -------
    TracerDecayResult

    Notes
    -----
    Weighted regression of ``ln(C - C_out)`` on time for each position [E741]_, the rates
    averaged. Relative uncertainty: scatter with the correlation of neighbours, background,
    the part of the sensor's uncertainty by which its two ends may differ, mixing, and a
    bend of the logarithm that was found. Records longer than 60 lines are averaged over
    60 equal times first, which leaves the slope of an exponential as it is.

    References
    ----------
    .. [E741] ASTM E741, recalled but for its scope.

    Examples
    --------
    >>> from rooftree.readings.tracer_decay.readings import TracerReading, TracerDecayTest
    >>> lines = tuple(TracerReading(900.0 * k, 425 + 1000 * 0.9**k) for k in range(9))
    >>> round(reduce_tracer_decay(TracerDecayTest(lines)).air_changes.value, 3)
    0.421
    """
    size = volume if test.volume is None else test.volume
    background = reduce_background(test)
    steady = reduce_steady(test, background, size)
    told = steady.findings if steady else ()
    if not test.lines:
        if steady is None:
            told = (
                note("no-readings", "There is no reading yet: enter times and concentrations."),
            )
        return _without(background, steady, None, told)
    record = record_of(test)
    lines = judge_record(test, record, goes_back(record), flat_top(test, record))
    if any(finding.code in REFUSING for finding in lines):
        return _without(background, steady, None, lines + told)
    decay = Decay(test, record, background)
    if not decay.positions:
        told = lines + judge_background(test, background, float(record.concentration.min())) + told
        return _without(background, steady, decay, (*told, judge_empty(test, len(record.time))))
    return _judged(test, decay, steady, lines + told, size, expected_air_changes)


def _judged(
    test: TracerDecayTest,
    decay: Decay,
    steady: SteadyResult | None,
    told: tuple[Finding, ...],
    volume: float | None,
    expected: float | None,
) -> TracerDecayResult:
    slope, duration, scatter = decay.slope, decay.duration, decay.scatter
    told += judge_background(test, decay.background, decay.lowest)
    refused = judge_fall(slope, scatter.standard, duration, test.people)
    terms: tuple[UncertaintyTerm, ...] = ()
    if not refused:
        terms, straight = _terms(test, decay, slope, duration, scatter)
        told += judge_positions(decay.deviations) + straight
        refused = _too_unsure(combined_uncertainty(terms))
    if refused or any(finding.code == "tracer-decay/below-background" for finding in told):
        return _without(decay.background, steady, decay, told + refused, slope, duration)
    air_changes = _by_factor(slope * HOUR, combined_uncertainty(terms))
    told += judge_length(slope, duration, decay.first_excess, decay.background.standard)
    told += judge_once(len(decay.record.time), len(decay.positions), is_mixed=test.is_mixed)
    told += judge_rate(air_changes, expected, steady)
    flow = None
    if volume is None:
        told += (note("no-volume", "Without the volume of the house there is a rate and no flow."),)
    else:
        more = UncertaintyTerm("volume", test.volume_uncertainty)
        flow = _by_factor(air_changes.value * volume / HOUR, combined_uncertainty([*terms, more]))
    return TracerDecayResult(
        air_changes, flow, terms, decay.background, decay.window, slope * duration,
        time_to_go(slope, duration), decay.positions, steady, told,
        _in_words(air_changes, flow),
    )  # fmt: skip


def _terms(
    test: TracerDecayTest,
    decay: Decay,
    slope: float,
    duration: float,
    scatter: UncertaintyTerm,
) -> tuple[tuple[UncertaintyTerm, ...], tuple[Finding, ...]]:
    doubt = decay.background.standard
    above, below = decay.lines(doubt), decay.lines(-doubt)
    count = len(decay.positions)
    moved = sum(up.slope - down.slope for up, down in zip(above, below, strict=True))
    straight: tuple[Finding, ...] = ()
    curved = 0.0
    for one, up, down in zip(decay.positions, above, below, strict=True):
        share = abs(0.5 * (up.bend - down.bend) / one.line.bend) if one.line.bend else 0.0
        departure = find_departure(one.line, *decay.arrays(one))
        found = judge_straight(departure, one.times[0], share, count)
        if found and departure is not None:
            curved = max(curved, abs(departure.after - departure.before) / math.sqrt(12.0))
        straight = straight or found
    sensor = CURVED_SHARE * test.concentration_uncertainty * math.sqrt(2.0)
    terms = (
        UncertaintyTerm("scatter", scatter.standard / slope, scatter.degrees_of_freedom),
        UncertaintyTerm("background", abs(0.5 * moved / count) / slope),
        UncertaintyTerm("sensor", sensor / (slope * duration)),
        decay.mixing(is_mixed=test.is_mixed),
        UncertaintyTerm("bend", curved / slope),
    )
    return terms, straight


def _too_unsure(relative: UncertaintyTerm) -> tuple[Finding, ...]:
    limit = tracer_limits()["most-unsure"]
    if relative.standard <= limit.value:
        return ()
    return (
        note(
            "too-unsure",
            f"The rate is known to {100.0 * relative.standard:.0f} % only, too little to state it."
            " Go on for as long again, read outdoors with the same sensor, or start higher.",
            relative.standard,
            "most-unsure",
        ),
    )


def _by_factor(value: float, relative: UncertaintyTerm) -> Propagated:
    freedom = relative.degrees_of_freedom
    spread = math.exp(coverage_factor(freedom) * relative.standard)
    return Propagated(
        value, value * relative.standard, value / spread, value * spread,
        is_by_factor=True, degrees_of_freedom=freedom,
    )  # fmt: skip


def _in_words(air_changes: Propagated, flow: Propagated | None) -> str:
    rate = (
        f"The air of the house was changed {air_changes.value:.2f} times an hour"
        f" ({air_changes.low:.2f} to {air_changes.high:.2f}) while it decayed"
    )
    if flow is None:
        return f"{rate}."
    return (
        f"{rate}: {both(flow.value, Kind.FLOW)} of outdoor air, likely within"
        f" {both_range(flow.low, flow.high, Kind.FLOW)}. It holds for the weather of that hour and"
        " the fans that ran."
    )


def _without(
    background: Background,
    steady: SteadyResult | None,
    decay: Decay | None,
    findings: tuple[Finding, ...],
    slope: float = 0.0,
    duration: float = 0.0,
) -> TracerDecayResult:
    """Return a result without a rate."""
    if steady is not None and steady.flow is not None:
        flow = steady.flow
        says = (
            f"People and their breath let expect {both(flow.value, Kind.FLOW)} of outdoor air,"
            f" likely within {both_range(flow.low, flow.high, Kind.FLOW)}."
        )
    else:
        says = findings[-1].says
    return TracerDecayResult(
        None, None, (), background, decay.window if decay else None, slope * duration,
        time_to_go(slope, duration) if slope > 0.0 else None,
        decay.positions if decay else (), steady, findings, says,
    )  # fmt: skip
