"""Check levels, trends and doubts of carbon monoxide in room air."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.finding import Severity
from rooftree.readings.ambient_co import (
    CAUTIONS,
    AmbientReading,
    AmbientTest,
    Answer,
    reduce_ambient_co,
    trend_of,
)

GOOD = AmbientTest(
    (
        AmbientReading(0.0, "Outdoors", 0.0),
        AmbientReading(300.0, "kitchen", 2.0),
        AmbientReading(1200.0, "kitchen", 3.0, "range"),
        AmbientReading(2400.0, "kitchen", 2.0),
        AmbientReading(2700.0, "outdoors", 0.0),
    ),
    zeroed_outdoors=Answer.YES,
)


def codes(test: AmbientTest) -> list[str]:
    """Return the codes of the findings without their first part."""
    return [
        finding.code.removeprefix("ambient-co/") for finding in reduce_ambient_co(test).findings
    ]


def at(ppm: float) -> AmbientTest:
    """Return the good test with one more reading in the hall."""
    return replace(GOOD, air=(*GOOD.air, AmbientReading(2800.0, "hall", ppm)))


def test_quiet_house() -> None:
    """Low readings that do not rise ask for nothing."""
    result = reduce_ambient_co(GOOD)
    assert result.findings == ()
    assert result.highest is not None
    assert (result.highest.place, result.highest.highest) == ("kitchen", 3.0)
    assert result.says.startswith("At most 3 ppm of carbon monoxide indoors (kitchen)")
    assert result.cautions == CAUTIONS
    assert len(result.places) == 2


@pytest.mark.published(
    source="older trade standard on ambient carbon monoxide",
    where="0-9 ppm proceed, 10-35 find the source, 36-99 mitigate",
    read="quoted in a secondary source",
)
@pytest.mark.parametrize(
    ("ppm", "found", "severity"),
    [(9, [], None), (10, ["raised"], Severity.GATE), (35, ["raised"], Severity.GATE),
     (36, ["level"], Severity.STOP), (99, ["level"], Severity.STOP)],
)  # fmt: skip
def test_levels(ppm: float, found: list[str], severity: Severity | None) -> None:
    """Each level has its own demand, its ends included."""
    result = reduce_ambient_co(at(ppm))
    assert codes(at(ppm)) == found
    if severity:
        assert result.findings[0].severity is severity
        assert result.findings[0].about == "hall"
        assert result.says == result.findings[0].says


@pytest.mark.published(
    source="trade action levels", where="100 ppm and more: evacuate",
    read="quoted in a secondary source",
)  # fmt: skip
def test_hundred_ppm_is_out_at_once() -> None:
    """At 100 ppm everybody is out; at 80 the recalled 70 ppm adds its sentence to the stop."""
    assert "everybody out now" in reduce_ambient_co(at(100)).says
    assert "A recalled limit of 70 ppm" in reduce_ambient_co(at(80)).says


@pytest.mark.parametrize("field", ["alarm_sounded", "symptoms"])
def test_alarm_or_symptoms_stop_whatever_was_read(field: str) -> None:
    """People come before readings."""
    result = reduce_ambient_co(replace(GOOD, **{field: True}))  # type: ignore[arg-type]
    assert result.findings[0].severity is Severity.STOP
    assert "everybody out now" in result.says


def test_rising_room_is_told() -> None:
    """Six ppm an hour are told with the time until 35 ppm."""
    rising = tuple(AmbientReading(600.0 * i, "basement", float(1 + i)) for i in range(7))
    test = replace(GOOD, air=(AmbientReading(0.0, "outdoors", 0.0), *rising))
    (finding,) = reduce_ambient_co(test).findings
    assert finding.code == "ambient-co/rising"
    assert "almost certain" in finding.says
    assert "35 ppm are reached in 5 hours" in finding.says


@pytest.mark.parametrize(
    ("changes", "found"),
    [
        ({"zeroed_outdoors": Answer.NO}, ["not-zeroed"]),
        ({"air": (AmbientReading(0.0, "outdoors", 7.0),)}, ["not-zeroed"]),
        ({"air": (AmbientReading(0.0, "outdoors", 0.0),
                       AmbientReading(9.0, "den", -4.0))}, ["not-zeroed"]),
        ({"air": (AmbientReading(0.0, "den", 1.0),)}, ["no-outdoors"]),
        ({"air": GOOD.air[::-1]}, ["time-backwards"]),
    ],
)  # fmt: skip
def test_doubts(changes: dict[str, object], found: list[str]) -> None:
    """Each mistake in how it was read has its own finding."""
    assert codes(replace(GOOD, **changes)) == found  # type: ignore[arg-type]


def test_above_range_is_a_stop() -> None:
    """An analyser at its end shows a lower bound only."""
    assert codes(replace(at(1000.0), analyser_range=1000.0)) == ["level", "above-range"]


def test_nothing_read_yet() -> None:
    """An empty log says what to do first."""
    assert reduce_ambient_co(AmbientTest()).says == (
        "No room has been read yet. Read outdoors first, then each room."
    )


@given(st.floats(-20.0, 20.0), st.floats(0.0, 30.0), st.integers(3, 12))
def test_straight_line_gives_back_its_slope(slope: float, start: float, count: int) -> None:
    """Readings on a line give its slope, whatever their number."""
    seconds = [600.0 * i for i in range(count)]
    trend = trend_of(seconds, [start + slope * s / 3600.0 for s in seconds], 1.0, 0.0)
    assert trend is not None
    assert trend.value == pytest.approx(slope, abs=1e-9)


@pytest.mark.parametrize("seconds", [[0.0, 60.0], [5.0, 5.0, 5.0]])
def test_no_trend_without_time(seconds: list[float]) -> None:
    """Two readings, or readings at one moment, have no trend."""
    assert trend_of(seconds, [1.0] * len(seconds), 1.0, 0.0) is None


@given(st.lists(st.floats(0.0, 300.0), min_size=1, max_size=6), st.floats(0.0, 100.0))
def test_more_carbon_monoxide_is_never_milder(shown: list[float], more: float) -> None:
    """Adding to every reading never takes a stop away."""

    def stops(extra: float) -> bool:
        readings = tuple(
            AmbientReading(60.0 * i, "hall", value + extra) for i, value in enumerate(shown)
        )
        result = reduce_ambient_co(AmbientTest(readings))
        return any(finding.severity is Severity.STOP for finding in result.findings)

    assert stops(more) or not stops(0.0)
