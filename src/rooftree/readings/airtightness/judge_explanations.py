"""Doubts from the pattern in which stations depart from one line."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.sureness import sureness
from rooftree.readings.airtightness import limits
from rooftree.readings.airtightness.candidates import Cause

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rooftree.readings.airtightness.explanations import Explanation
    from rooftree.readings.airtightness.results import FanTestResult

NOISE_ENOUGH = 0.5
"""Probability of noise alone from which no other explanation is told [0-1]; ours."""

WORTH_TELLING = 0.2
"""Probability of an explanation below which it is not told [0-1]; ours."""


def judge_explanations(result: FanTestResult) -> Iterator[Finding]:
    """Yield what most probably went wrong where noise alone does not explain the stations.

    Parameters
    ----------
    result : FanTestResult
        Reduced; its explanations are used.

    Yields
    ------
    Finding
        How sure, which stations, and what to do while the fan still stands. A stray
        station is told by :func:`.judge_stations.judge_stations`.
    """
    for each in told(result.explanations):
        code, severity, says = _WORDS[each.cause](each, result)
        yield Finding(
            code=code,
            severity=severity,
            says=says,
            value=each.probability,
            limit=WORTH_TELLING,
            unit="0-1",
            source="probability among the explanations weighed; ours, see the reference page",
            about=_about(each.stations),
        )


def told(explanations: Sequence[Explanation]) -> tuple[Explanation, ...]:
    """Return the explanations worth telling, the most probable first.

    Parameters
    ----------
    explanations : sequence of Explanation
        All, weighed.

    Returns
    -------
    tuple of Explanation
        Empty where noise alone is as probable as not.
    """
    noise = sum(each.probability for each in explanations if each.cause is Cause.NONE)
    if not explanations or noise >= NOISE_ENOUGH:
        return ()
    return tuple(
        each
        for each in explanations
        if each.cause not in (Cause.NONE, Cause.STRAY) and each.probability >= WORTH_TELLING
    )


def _opened(each: Explanation, result: FanTestResult) -> tuple[str, Severity, str]:
    more = each.size > 0.0
    place = _between(each, result)
    what = "leakier" if more else "tighter"
    cause = (
        "something opened: look for a window, hatch, damper, plug or seal that gave way"
        if more
        else "something closed: look for a door, flap or loose sheet that was drawn shut"
    )
    return (
        "fan-test/opened",
        Severity.GATE,
        (
            f"{place} the house became {abs(math.expm1(each.size)):.0%} {what} "
            f"({sureness(each.probability)}): {cause}; put it right and repeat from station "
            f"{each.stations[0]} on."
        ),
    )


def _configuration(each: Explanation, _: FanTestResult) -> tuple[str, Severity, str]:
    return (
        "fan-test/wrong-configuration",
        Severity.GATE,
        (
            f"The line is straight if {each.detail} at {_about(each.stations)}"
            + _instead(each, "if {detail} at {stations}")
            + f", and not as noted there ({sureness(each.probability)}): look at the fan, put "
            "right what was noted or what the gauge was set to, or repeat."
        ),
    )


def _flow_unit(each: Explanation, _: FanTestResult) -> tuple[str, Severity, str]:
    return (
        "fan-test/unit-slip",
        Severity.GATE,
        (
            f"The line is straight if the flow at {_about(each.stations)} was {each.detail}"
            + _instead(each, "that at {stations} was {detail}")
            + f" ({sureness(each.probability)}): check the unit on the gauge, or repeat."
        ),
    )


def _offset(each: Explanation, _: FanTestResult) -> tuple[str, Severity, str]:
    return (
        "fan-test/offset",
        Severity.NOTE,
        (
            f"The stations bend as if every pressure were off by {abs(each.size):.1f} ± "
            f"{2.0 * each.size_uncertainty:.1f} Pa ({sureness(each.probability)}): the baseline "
            "was forgotten or read with a fan running, or the gauge was not zeroed; seal the fan, "
            "read the baseline again and see that air handler and exhaust fans are off."
        ),
    )


def _fan_started(each: Explanation, result: FanTestResult) -> tuple[str, Severity, str]:
    return (
        "fan-test/baseline-shift",
        Severity.NOTE,
        (
            f"{_between(each, result)} all pressures shifted by {abs(each.size):.1f} Pa "
            f"({sureness(each.probability)}): an air handler, exhaust fan or dryer started or "
            "stopped, or a hose moved; look, read the baseline, and repeat from station "
            f"{each.stations[0]} on."
        ),
    )


def _unsteady(each: Explanation, _: FanTestResult) -> tuple[str, Severity, str]:
    way = "more" if each.size > 0.0 else "less"
    return (
        "fan-test/unsteady",
        Severity.NOTE,
        (
            f"Stations reached from below read {abs(math.expm1(each.size)):.0%} {way} flow than "
            f"those reached from above ({sureness(each.probability)}): they were read before fan "
            "and house were steady; wait longer at each station, approach all from one side, and "
            "repeat."
        ),
    )


_WORDS = {
    Cause.OPENED: _opened,
    Cause.CONFIGURATION: _configuration,
    Cause.FLOW_UNIT: _flow_unit,
    Cause.OFFSET: _offset,
    Cause.FAN_STARTED: _fan_started,
    Cause.UNSTEADY: _unsteady,
}


def _instead(each: Explanation, words: str) -> str:
    """Return what would do as well at the other stations, since a line cannot tell them apart."""
    if each.instead is None:
        return ""
    stations, detail = each.instead
    return ", or " + words.format(stations=_about(stations), detail=detail)


def _between(each: Explanation, result: FanTestResult) -> str:
    first = each.stations[0]
    before = max(s.number for s in result.stations if s.is_used and s.number < first)
    sure = "" if each.share >= limits.SURE_PLACE.value else ", or near there,"
    return f"Between stations {before} and {first}{sure}"


def _about(numbers: Sequence[int]) -> str:
    """Return "station 3" or "stations 3 to 6"."""
    if len(numbers) == 1:
        return f"station {numbers[0]}"
    return f"stations {numbers[0]} to {numbers[-1]}"
