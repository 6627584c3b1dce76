"""Check that a decay gives back its rate, and that it is refused where it cannot."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.readings.tracer_decay import (
    OutdoorReading,
    SteadyReading,
    Tracer,
    TracerDecayResult,
    TracerDecayTest,
    TracerReading,
    generation_rates,
    reduce_tracer_decay,
)
from rooftree.readings.tracer_decay.readings import Activity

HOUR = 3600.0
OUTDOORS = (OutdoorReading(420.0, 0.0), OutdoorReading(420.0, 3.0 * HOUR))


def decay(
    rate: float = 0.5,
    hours: float = 3.0,
    *,
    start: float = 1400.0,
    count: int = 13,
    scatter: float = 0.0,
    seed: int = 1,
) -> TracerDecayTest:
    """Return a decay from `start` ppm above 420 ppm at `rate` an hour."""
    noise = np.random.default_rng(seed).normal(0.0, 1.0, count) * scatter
    lines = tuple(
        TracerReading(time * HOUR, 420.0 + start * math.exp(-rate * time) + float(noise[index]))
        for index, time in enumerate(np.linspace(0.0, hours, count).tolist())
    )
    outdoors = (OutdoorReading(420.0, 0.0), OutdoorReading(420.0, hours * HOUR))
    return TracerDecayTest(lines, outdoors, is_mixed=True, volume=400.0)


def codes(result: TracerDecayResult) -> set[str]:
    """Return the codes of the findings without the kind."""
    return {finding.code.removeprefix("tracer-decay/") for finding in result.findings}


@given(st.floats(0.1, 5.0), st.floats(1.0, 2.2), st.integers(3, 400))
def test_exact_readings_give_back_the_rate(rate: float, fall: float, count: int) -> None:
    """Readings made from a decay, few or many, give its rate and flow back."""
    result = reduce_tracer_decay(decay(rate, fall / rate, count=count))
    assert result.air_changes is not None
    assert result.flow is not None
    assert result.air_changes.value == pytest.approx(rate, rel=1e-4)
    assert result.flow.value == pytest.approx(result.air_changes.value * 400.0 / HOUR)
    assert result.air_changes.low < rate < result.air_changes.high
    assert codes(result) <= {"go-on"}


@given(st.floats(0.2, 5.0))
def test_gain_of_the_sensor_drops_out(gain: float) -> None:
    """A share common to all readings of one sensor changes nothing."""
    test = decay()
    scaled = replace(
        test,
        tracer=Tracer.OTHER,
        lines=tuple(replace(line, concentration=gain * line.concentration) for line in test.lines),
        outdoors=tuple(
            replace(one, concentration=gain * one.concentration) for one in test.outdoors
        ),
        concentration_scatter=gain * test.concentration_scatter,
    )
    one, other = (
        reduce_tracer_decay(replace(test, tracer=Tracer.OTHER)),
        reduce_tracer_decay(scaled),
    )
    assert one.air_changes is not None
    assert other.air_changes is not None
    assert other.air_changes.value == pytest.approx(one.air_changes.value)
    assert other.air_changes.standard == pytest.approx(one.air_changes.standard)


@given(st.floats(-1e6, 1e6))
def test_start_of_the_clock_does_not_matter(shift: float) -> None:
    """Another zero of time gives the same rate."""
    test = decay(scatter=5.0)
    later = replace(
        test,
        lines=tuple(replace(line, time=line.time + shift) for line in test.lines),
        outdoors=tuple(
            OutdoorReading(one.concentration, None if one.time is None else one.time + shift)
            for one in test.outdoors
        ),
    )
    one, other = reduce_tracer_decay(test), reduce_tracer_decay(later)
    assert one.air_changes is not None
    assert other.air_changes is not None
    assert other.air_changes.value == pytest.approx(one.air_changes.value, rel=1e-6)


def test_long_record_is_averaged_without_bias() -> None:
    """A hundred thousand lines give the same rate as thirteen, to a thousandth."""
    result = reduce_tracer_decay(decay(count=100_000, scatter=5.0))
    assert result.air_changes is not None
    assert result.air_changes.value == pytest.approx(0.5, rel=1e-3)
    assert sum(one.readings for one in result.positions) > 90_000
    assert len(result.positions[0].times) <= 60


def test_rise_before_the_decay_is_left_out() -> None:
    """The gas is let in first; only what follows the highest reading counts."""
    test = decay(scatter=3.0, count=37)
    filling = tuple(TracerReading(-600.0 + 60.0 * k, 420.0 + 100.0 * k) for k in range(10))
    result = reduce_tracer_decay(replace(test, lines=filling + test.lines))
    assert result.window is not None
    assert result.window[0] == 0.0
    assert result.air_changes is not None
    assert result.air_changes.value == pytest.approx(0.5, rel=0.02)


def test_return_of_the_people_ends_the_window() -> None:
    """When the concentration rises again the rest is not used."""
    test = decay(hours=2.0, count=25)
    after = tuple(TracerReading(2.0 * HOUR + 300.0 * k, 935.0 + 80.0 * k) for k in range(1, 9))
    result = reduce_tracer_decay(replace(test, lines=test.lines + after))
    assert result.window == (0.0, 2.0 * HOUR)
    assert result.air_changes is not None
    assert result.air_changes.value == pytest.approx(0.5, rel=0.01)


def test_given_window_is_kept() -> None:
    """A window that a person chose is what is used."""
    test = replace(decay(count=61), window_start=0.5 * HOUR, window_end=2.0 * HOUR)
    result = reduce_tracer_decay(test)
    assert result.window == (0.5 * HOUR, 2.0 * HOUR)
    assert result.fall == pytest.approx(0.75, rel=1e-3)


@pytest.mark.published(
    source="ASTM E741", where="minimum sampling times for two points at 10 %", read="memory"
)
@pytest.mark.parametrize(("rate", "hours"), [(0.25, 4.0), (1.0, 1.0), (4.0, 0.25)])
def test_time_to_measure(rate: float, hours: float) -> None:
    """4 h at 0.25, 1 h at 1 and a quarter of an hour at 4 an hour: half the time asks for it."""
    short = reduce_tracer_decay(decay(rate, 0.5 * hours))
    assert short.go_on == pytest.approx(0.5 * hours * HOUR, rel=1e-2)
    assert "go-on" in codes(short)
    assert "go-on" not in codes(reduce_tracer_decay(decay(rate, 1.01 * hours)))


def test_go_on_says_how_long() -> None:
    """The advice is a time in hours and minutes."""
    (says,) = [
        finding.says
        for finding in reduce_tracer_decay(decay(0.25, 2.0)).findings
        if finding.code == "tracer-decay/go-on"
    ]
    assert says == "The rate stands, but not yet well: go on for 2 h more."


def test_doubt_falls_with_the_fall() -> None:
    """The longer it decays, the better the rate is known."""
    widths = []
    for hours in (1.0, 2.0, 4.0):
        rate = reduce_tracer_decay(decay(hours=hours)).air_changes
        assert rate is not None
        widths.append(rate.standard / rate.value)
    assert widths[0] > widths[1] > widths[2]


def test_background_enters_the_doubt() -> None:
    """Background read once, or not at all, leaves the rate less sure than read twice."""
    test = decay()
    rates = [
        reduce_tracer_decay(replace(test, outdoors=outdoors)).air_changes
        for outdoors in (test.outdoors, test.outdoors[:1], ())
    ]
    doubts = [rate.standard for rate in rates if rate is not None]
    assert len(doubts) == 3
    assert doubts[0] < doubts[1] < doubts[2]


def test_other_sensor_outdoors_enters_the_doubt() -> None:
    """Outdoors read with another sensor has that sensor's gain in it."""
    test = decay()
    one = reduce_tracer_decay(test).air_changes
    other = reduce_tracer_decay(replace(test, same_sensor=False)).air_changes
    assert one is not None
    assert other is not None
    assert other.standard > one.standard


def test_correlated_scatter_widens_the_range() -> None:
    """Scatter that lasts from line to line tells less than as many independent readings."""
    rng = np.random.default_rng(5)
    slow = np.zeros(600)
    for index in range(1, 600):
        slow[index] = 0.95 * slow[index - 1] + rng.normal(0.0, 5.0 * math.sqrt(1 - 0.95**2))
    fast = rng.permutation(slow)
    test = decay(count=600)
    widths = []
    for noise in (fast, slow):
        lines = tuple(
            replace(line, concentration=line.concentration + float(more))
            for line, more in zip(test.lines, noise, strict=True)
        )
        result = reduce_tracer_decay(replace(test, lines=lines))
        widths.append(next(term.standard for term in result.terms if term.name == "scatter"))
    assert widths[1] > 1.5 * widths[0]


def test_drifting_background_is_followed() -> None:
    """Background that rises from 400 to 460 in a straight line is taken off as it was."""
    lines = tuple(
        TracerReading(900.0 * k, 400.0 + 5.0 * k + 1500.0 * math.exp(-0.125 * k)) for k in range(13)
    )
    outdoors = (OutdoorReading(400.0, 0.0), OutdoorReading(460.0, 10_800.0))
    result = reduce_tracer_decay(TracerDecayTest(lines, outdoors, volume=400.0))
    assert result.air_changes is not None
    assert result.air_changes.value == pytest.approx(0.5, rel=1e-6)


def spoiled(**changes: object) -> TracerDecayTest:
    """Return a plain decay with something changed."""
    return replace(decay(count=31, scatter=2.0), **changes)  # type: ignore[arg-type]


def changed_lines(
    test: TracerDecayTest, times: float = 1.0, concentration: float | None = None
) -> tuple[TracerReading, ...]:
    """Return the lines on another clock, or all at one concentration."""
    return tuple(
        TracerReading(
            line.time * times, line.concentration if concentration is None else concentration
        )
        for line in test.lines
    )


@pytest.mark.parametrize(
    ("test", "code"),
    [
        (spoiled(people=2.0), "people"),
        (spoiled(lines=decay().lines[:3]), "too-few"),
        (spoiled(lines=tuple(reversed(decay().lines))), "time-back"),
        (spoiled(lines=changed_lines(decay(), concentration=5000.0)), "constant"),
        (spoiled(lines=(*decay().lines, TracerReading(4 * HOUR, -3.0))), "negative"),
        (spoiled(lines=(*decay().lines, TracerReading(4 * HOUR, math.nan))), "no-number"),
        (spoiled(lines=(*decay().lines, TracerReading(4 * HOUR, math.inf))), "no-number"),
        (spoiled(lines=decay(rate=-0.1).lines), "not-decaying"),
        (
            spoiled(
                lines=decay(rate=0.01, start=40.0, scatter=3.0).lines,
                window_start=0.0,
                window_end=3 * HOUR,
            ),
            "not-decaying",
        ),
        (spoiled(lines=decay(rate=0.08).lines), "too-short"),
        (spoiled(outdoors=(OutdoorReading(900.0),)), "below-background"),
        (spoiled(lines=decay().lines[:1]), "too-few"),
        (spoiled(lines=()), "no-readings"),
        (spoiled(lines=decay(start=60.0, count=5).lines, same_sensor=False), "too-unsure"),
    ],
)
def test_refused_without_a_number(test: TracerDecayTest, code: str) -> None:
    """What cannot give a rate gives a finding and no number."""
    if code == "too-few" and len(test.lines) == 3:
        test = replace(test, window_start=10 * HOUR)
    result = reduce_tracer_decay(test)
    assert result.air_changes is None
    assert result.flow is None
    assert code in codes(result)
    assert result.says


def test_too_short_says_how_long() -> None:
    """The refusal says how much longer, and the result carries it in seconds."""
    result = reduce_tracer_decay(decay(0.4, 0.5))
    assert result.air_changes is None
    assert result.go_on == pytest.approx(2.0 * HOUR, rel=0.01)
    assert result.says == (
        "The excess fell by 18 % only, too little for a rate. Go on for about 2 h 5 min."
    ) or result.says.endswith("Go on for about 2 h.")


@pytest.mark.parametrize(
    ("test", "code"),
    [
        (spoiled(outdoors=()), "no-background"),
        (spoiled(outdoors=(OutdoorReading(0.0),)), "low-background"),
        (spoiled(outdoors=(OutdoorReading(610.0),)), "high-background"),
        (spoiled(is_mixed=False), "one-position"),
        (spoiled(volume=None), "no-volume"),
        (spoiled(lines=decay().lines[::12]), "two-points"),
        (spoiled(lines=decay(start=150.0).lines), "low-start"),
        (spoiled(lines=changed_lines(decay(), 1.0 / 60.0)), "implausible"),
        (spoiled(lines=changed_lines(decay(hours=4.0), 60.0)), "implausible"),
    ],
)
def test_doubts_leave_the_number(test: TracerDecayTest, code: str) -> None:
    """What casts doubt on a rate is said beside it."""
    result = reduce_tracer_decay(test)
    assert code in codes(result)
    assert result.air_changes is not None


def test_end_of_the_sensors_range_is_cut_off() -> None:
    """Readings at the end of the range are left out, and the rest gives the rate."""
    test = decay(start=3000.0, count=61)
    lines = tuple(
        replace(line, concentration=min(line.concentration, 2000.0)) for line in test.lines
    )
    for known in (None, 2000.0):
        result = reduce_tracer_decay(replace(test, lines=lines, highest_concentration=known))
        assert "saturated" in codes(result)
        assert result.air_changes is not None
        assert result.air_changes.value == pytest.approx(0.5, rel=1e-4)


def test_window_opened_is_found_in_time() -> None:
    """A rate that trebles after an hour is found, with its moment and both rates."""
    lines = tuple(
        TracerReading(
            120.0 * k,
            420.0 + 1500.0 * math.exp(-0.4 * k / 30.0 - 0.8 * max(k / 30.0 - 1.0, 0.0)),
        )
        for k in range(46)
    )
    result = reduce_tracer_decay(TracerDecayTest(lines, OUTDOORS, is_mixed=True, volume=400.0))
    (says,) = [f.says for f in result.findings if f.code == "tracer-decay/changed"]
    assert says.startswith(
        "The air change went from 0.40 to 1.20 an hour about 1 h into the decay, almost certain"
    )


def test_someone_in_the_house_bends_the_decay() -> None:
    """A decay that levels off above the background is noticed."""
    lines = tuple(
        TracerReading(300.0 * k, 420.0 + 300.0 + 1200.0 * math.exp(-0.05 * k)) for k in range(37)
    )
    result = reduce_tracer_decay(TracerDecayTest(lines, OUTDOORS, is_mixed=True, volume=400.0))
    (says,) = [f.says for f in result.findings if f.code == "tracer-decay/bent"]
    assert says.startswith("The decay slows down on its way, almost certain")


def rooms(shares: tuple[float, ...]) -> TracerDecayTest:
    """Return a decay in rooms that start at these shares of 1400 ppm."""
    lines = tuple(
        TracerReading(600.0 * k, 420.0 + share * 1400.0 * math.exp(-k / 12.0), f"room {room}")
        for room, share in enumerate(shares)
        for k in range(19)
    )
    return TracerDecayTest(lines, OUTDOORS, volume=400.0)


@pytest.mark.published(
    source="ASTM E741", where="concentrations within 10 % of their mean", read="memory"
)
@pytest.mark.parametrize(
    ("shares", "mixed"), [((1.0, 1.0), True), ((1.0, 0.9), True), ((1.2, 0.8), False)]
)
def test_rooms_within_a_tenth_are_mixed(shares: tuple[float, ...], mixed: bool) -> None:
    """Rooms more than a tenth off their mean are not one zone."""
    result = reduce_tracer_decay(rooms(shares))
    assert ("not-mixed" not in codes(result)) is mixed
    assert "one-position" not in codes(result)
    assert result.air_changes is not None
    assert result.air_changes.value == pytest.approx(0.5, rel=1e-3)


@given(st.floats(0.25, 0.75), st.floats(0.2, 0.8), st.floats(4.0, 20.0))
def test_two_zones_give_the_outdoor_air_of_both(size: float, leak: float, back: float) -> None:
    """Two zones with leaks of their own, and air back and forth, solved exactly.

    The rate of the whole, outdoor air over volume, lies in the range that the reduction of
    both records states.
    """
    # Volume and outdoor air taken as one: 0.5 air changes an hour.
    rates, shapes = np.linalg.eig(
        0.5
        * np.array(
            [
                [-(leak + back) / size, back / size],
                [back / (1.0 - size), -(1.0 - leak + back) / (1.0 - size)],
            ]
        )
    )
    times = np.arange(0.0, 3.01, 0.1)
    weights = np.linalg.solve(shapes, np.full(2, 1400.0))
    excess = (shapes * weights) @ np.exp(np.outer(rates, times))
    lines = tuple(
        TracerReading(float(time) * HOUR, 420.0 + float(level), zone)
        for zone, levels in zip(("up", "down"), excess, strict=True)
        for time, level in zip(times, levels, strict=True)
    )
    rate = reduce_tracer_decay(TracerDecayTest(lines, OUTDOORS)).air_changes
    assert rate is not None
    assert rate.low < 0.5 < rate.high


@pytest.mark.parametrize(("expected", "told"), [(0.4, False), (0.1, True), (2.0, True)])
def test_rate_is_held_against_what_leakage_lets_expect(expected: float, told: bool) -> None:
    """A rate beyond three times what is expected either way is a doubt."""
    result = reduce_tracer_decay(decay(), expected_air_changes=expected)
    assert ("unexpected" in codes(result)) is told


def evening(people: float, flow: float, *, volume: float | None = 400.0) -> TracerDecayTest:
    """Return readings while people sit in the house, on the way to the steady state."""
    source = people * generation_rates()[Activity.SEATED].rate
    size = volume or 400.0
    steady = tuple(
        SteadyReading(
            600.0 * k, 420.0 + 1e6 * source / flow * (1 - 0.3 * math.exp(-flow / size * 600.0 * k))
        )
        for k in range(7)
    )
    return TracerDecayTest(outdoors=OUTDOORS, volume=volume, steady=steady, steady_people=people)


def test_people_give_the_flow() -> None:
    """On the way to the steady state the storage in the air is allowed for."""
    result = reduce_tracer_decay(evening(4.0, 0.05))
    assert result.steady is not None
    assert result.steady.flow is not None
    assert result.steady.air_changes is not None
    assert result.steady.flow.value == pytest.approx(0.05, rel=0.01)
    assert result.steady.air_changes.value == pytest.approx(0.45, rel=0.01)
    assert result.says.startswith("People and their breath let expect ")


@pytest.mark.parametrize(
    ("test", "code"),
    [
        (replace(evening(4.0, 0.05), steady_people=0.0), "steady-people"),
        (evening(4.0, 0.05, volume=None), "steady-volume"),
        (replace(evening(4.0, 0.05), volume=20_000.0), "not-steady"),
        (evening(0.05, 0.5), "steady-low"),
    ],
)
def test_people_cannot_give_the_flow(test: TracerDecayTest, code: str) -> None:
    """Without people, volume, rise or patience there is no flow from them."""
    result = reduce_tracer_decay(test)
    assert result.steady is not None
    assert result.steady.flow is None
    assert code in codes(result)


def test_two_answers_that_differ_are_told() -> None:
    """A decay of 0.5 and people who let expect 3 an hour contradict each other."""
    test = replace(
        evening(4.0, 0.33), lines=decay().lines, outdoors=decay().outdoors, is_mixed=True
    )
    assert "two-answers" in codes(reduce_tracer_decay(test))
    same = replace(test, steady=evening(4.0, 0.055).steady)
    assert "two-answers" not in codes(reduce_tracer_decay(same))


def test_whole_numbers_are_taken() -> None:
    """Readings typed without a decimal point reduce like any others."""
    lines = (TracerReading(0, 1800), TracerReading(3600, 1250), TracerReading(7200, 900))
    result = reduce_tracer_decay(TracerDecayTest(lines, (OutdoorReading(420),), volume=453))
    assert result.air_changes is not None
    assert result.air_changes.value == pytest.approx(0.528, abs=0.003)
