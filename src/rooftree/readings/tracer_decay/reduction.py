"""Reduce a tracer decay to an air change rate and an air flow.

Sources
-------
[E741] ASTM E741, concentration decay (scope read in E741-00; equations recalled).
[GUM] JCGM 100:2008, eq. 10 and annex G.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.propagation import Propagated
from rooftree.physics.uncertainty import UncertaintyTerm, combined_uncertainty, coverage_factor
from rooftree.readings.tracer_decay.background import reduce_background
from rooftree.readings.tracer_decay.departure import find_departure
from rooftree.readings.tracer_decay.formulas import HOUR
from rooftree.readings.tracer_decay.judge import (
    REFUSING,
    judge_background,
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
from rooftree.readings.tracer_decay.line import STATED_WEIGHT, fit_line
from rooftree.readings.tracer_decay.results import PositionDecay, TracerDecayResult
from rooftree.readings.tracer_decay.series import (
    BINS,
    average,
    find_window,
    flat_top,
    goes_back,
    record_of,
)
from rooftree.readings.tracer_decay.steady import reduce_steady

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.finding import Finding
    from rooftree.readings.tracer_decay.background import Background
    from rooftree.readings.tracer_decay.line import Line
    from rooftree.readings.tracer_decay.readings import TracerDecayTest
    from rooftree.readings.tracer_decay.results import SteadyResult
    from rooftree.readings.tracer_decay.series import Record

ONE_PLACE, STIRRED = 0.05, 0.02
"""Relative standard uncertainty of the rate at one place for what mixing leaves unknown [-],
without stirring and with it; ours."""

CURVED_SHARE = 0.5
"""Share of the sensor's uncertainty by which its two ends may differ [0-1]; ours: what is
common to both drops out of the ratio."""

CFM = 0.3048**3 / 60.0


class _Decay:
    """What the window of one test gives, before it is judged."""

    __slots__ = ("background", "noise", "positions", "record", "window")

    def __init__(self, test: TracerDecayTest, record: Record, background: Background) -> None:
        start, end = find_window(test, record, background)
        self.record = record.part((record.time >= start) & (record.time <= end))
        self.window = (start, end)
        self.background = background
        self.noise = test.concentration_scatter
        bins = max(BINS // max(len(record.places), 1), 8)
        self.positions = tuple(
            made
            for index, name in enumerate(record.places)
            if (made := self._position(index, name, bins)) is not None
        )

    def _position(self, index: int, name: str, bins: int) -> PositionDecay | None:
        here = self.record.place == index
        time, concentration, count = (
            average(self.record.time[here], self.record.concentration[here], bins)
            if here.any()
            else (np.empty(0),) * 3
        )
        excess = concentration - self.background.at(time)
        keep = excess > 0.0
        if keep.sum() < 2 or float(np.ptp(time[keep])) <= 0.0:
            return None
        line = fit_line(time[keep], excess[keep], self.noise / np.sqrt(count[keep]))
        return PositionDecay(
            name, tuple(time[keep].tolist()), tuple(excess[keep].tolist()), line, int(here.sum())
        )

    def arrays(
        self, decay: PositionDecay, shift: float = 0.0
    ) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
        """Return times, excess over a background raised by `shift`, and scatter."""
        time = np.array(decay.times)
        # A raised background may swallow the last reading; half of it is left then.
        excess = np.array(decay.excess)
        moved = np.maximum(excess - shift, 0.5 * excess)
        count = max(decay.readings / len(decay.times), 1.0)
        return time, moved, np.full(len(time), self.noise / math.sqrt(count))

    def lines(self, shift: float) -> list[Line]:
        """Return every position's line with the background raised by `shift` [ppm]."""
        return [fit_line(*self.arrays(decay, shift)) for decay in self.positions]


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
    if not test.readings:
        if steady is None:
            told = (
                note("no-readings", "There is no reading yet: enter times and concentrations."),
            )
        return _without(background, steady, None, told)
    record = record_of(test)
    lines = judge_record(test, record, goes_back(record), flat_top(test, record))
    if any(finding.code in REFUSING for finding in lines):
        return _without(background, steady, None, lines + told)
    decay = _Decay(test, record, background)
    if not decay.positions:
        told = lines + judge_background(test, background, float(record.concentration.min())) + told
        says = "Fewer than two readings above the background lie in the window: no rate. Read on."
        return _without(background, steady, decay, (*told, note("too-few", says)))
    return _judged(test, decay, steady, lines + told, size, expected_air_changes)


def _judged(
    test: TracerDecayTest,
    decay: _Decay,
    steady: SteadyResult | None,
    told: tuple[Finding, ...],
    volume: float | None,
    expected: float | None,
) -> TracerDecayResult:
    slope = sum(one.line.slope for one in decay.positions) / len(decay.positions)
    duration = max(one.times[-1] - one.times[0] for one in decay.positions)
    scatter = _scatter(decay)
    told += judge_background(test, decay.background, float(decay.record.concentration.min()))
    refused = judge_fall(slope, scatter.standard, duration, test.people)
    terms: tuple[UncertaintyTerm, ...] = ()
    if not refused:
        terms, straight = _terms(test, decay, slope, duration, scatter)
        told += judge_positions(_deviations(decay)) + straight
        refused = _too_unsure(combined_uncertainty(terms), slope, duration)
    if refused or any(finding.code == "tracer-decay/below-background" for finding in told):
        return _without(decay.background, steady, decay, told + refused, slope, duration)
    air_changes = _by_factor(slope * HOUR, combined_uncertainty(terms))
    told += judge_length(slope, duration, _first_excess(decay), decay.background.standard)
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


def _scatter(decay: _Decay) -> UncertaintyTerm:
    """Return the uncertainty of the mean slope from scatter [1/s]."""
    lines = [one.line for one in decay.positions]
    return combined_uncertainty(
        UncertaintyTerm("scatter", line.standard / len(lines), line.degrees_of_freedom)
        for line in lines
    )


def _mixing(decay: _Decay, slope: float, *, is_mixed: bool) -> UncertaintyTerm:
    """Return what imperfect mixing leaves unknown of the mean slope [-], relative.

    What is stated counts for four degrees of freedom beside what the positions show; the
    part of their spread that scatter explains is taken out.
    """
    stated = STIRRED if is_mixed else ONE_PLACE
    lines = [one.line for one in decay.positions]
    count = len(lines)
    if count < 2:
        return UncertaintyTerm("mixing", stated)
    seen = float(np.var([line.slope for line in lines], ddof=1))
    seen = max(seen - sum(line.standard**2 for line in lines) / count, 0.0) / slope**2
    freedom = STATED_WEIGHT + count - 1.0
    variance = (STATED_WEIGHT * stated**2 + (count - 1.0) * seen) / freedom
    return UncertaintyTerm("mixing", math.sqrt(variance / count), freedom)


def _terms(
    test: TracerDecayTest,
    decay: _Decay,
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
        found = judge_straight(departure, one.times[0], share)
        if found and departure is not None:
            curved = max(curved, abs(departure.after - departure.before) / math.sqrt(12.0))
        straight = straight or found
    sensor = CURVED_SHARE * test.concentration_uncertainty * math.sqrt(2.0)
    terms = (
        UncertaintyTerm("scatter", scatter.standard / slope, scatter.degrees_of_freedom),
        UncertaintyTerm("background", abs(0.5 * moved / count) / slope),
        UncertaintyTerm("sensor", sensor / (slope * duration)),
        _mixing(decay, slope, is_mixed=test.is_mixed),
        UncertaintyTerm("bend", curved / slope),
    )
    return terms, straight


def _too_unsure(relative: UncertaintyTerm, slope: float, duration: float) -> tuple[Finding, ...]:
    limit = tracer_limits()["most-unsure"]
    if relative.standard <= limit.value:
        return ()
    more = max(time_to_go(slope, duration), duration)
    return (
        note(
            "too-unsure",
            f"The rate is known to {100.0 * relative.standard:.0f} % only, too little to state it."
            " Go on for as long again, read outdoors with the same sensor, or start higher.",
            relative.standard,
            "most-unsure",
            about=f"{more:.0f} s",
        ),
    )


def _deviations(decay: _Decay) -> list[tuple[str, float, float]]:
    """Return how far each position's line lies off the mean at both ends of the window."""
    if len(decay.positions) < 2:
        return []
    rows = []
    for time in (
        max(one.times[0] for one in decay.positions),
        min(one.times[-1] for one in decay.positions),
    ):
        levels = [one.line.at(time) for one in decay.positions]
        mean = sum(levels) / len(levels)
        for one, level in zip(decay.positions, levels, strict=True):
            away = abs(time - one.line.middle)
            doubt = math.hypot(one.line.standard * away, decay.background.standard / mean)
            rows.append((one.position, level / mean - 1.0, doubt))
    return rows


def _first_excess(decay: _Decay) -> float:
    return max(one.line.at(one.times[0]) for one in decay.positions)


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
        f"{rate}: {_both(flow.value)} of outdoor air, between {_both(flow.low)} and"
        f" {_both(flow.high)}. It holds for the weather of that hour and the fans that ran."
    )


def _both(flow: float) -> str:
    return f"{flow / CFM:.0f} cfm ({1000.0 * flow:.0f} L/s)"


def _without(
    background: Background,
    steady: SteadyResult | None,
    decay: _Decay | None,
    findings: tuple[Finding, ...],
    slope: float = 0.0,
    duration: float = 0.0,
) -> TracerDecayResult:
    """Return a result without a rate."""
    if steady is not None and steady.flow is not None:
        says = (
            f"People and their breath let expect {_both(steady.flow.value)} of outdoor air,"
            f" between {_both(steady.flow.low)} and {_both(steady.flow.high)}."
        )
    else:
        says = findings[-1].says
    return TracerDecayResult(
        None, None, (), background, decay.window if decay else None, slope * duration,
        time_to_go(slope, duration) if slope > 0.0 else None,
        decay.positions if decay else (), steady, findings, says,
    )  # fmt: skip
