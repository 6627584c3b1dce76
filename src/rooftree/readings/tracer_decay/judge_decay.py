"""Judge the fitted decay: refusals, doubts about its straightness, and how long to go on."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.physics.uncertainty import coverage_factor
from rooftree.readings.tracer_decay.formulas import HOUR
from rooftree.readings.tracer_decay.judge import MIXED, note, sureness, tracer_limits

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.tracer_decay.departure import Departure
    from rooftree.readings.tracer_decay.results import SteadyResult

FALSE_ALARM = 0.0004
"""Probability with which scatter alone is called bent [0-1]; many breaks are tried."""

PARTED = 3.0
"""Standard uncertainties between two results that are called different [-]; ours."""

STRAIGHT = "recalled: ASTM E741, the logarithm of a decay is a straight line"

STEP = 300.0
"""Times in sentences are rounded up to this [s]."""


def judge_fall(
    slope: float, standard: float, duration: float, people: float
) -> tuple[Finding, ...]:
    """Return why a decay gives no rate.

    Parameters
    ----------
    slope : float
        Fall of the logarithm [1/s].
    standard : float
        Its standard uncertainty from scatter [1/s].
    duration : float
        Of the window [s].
    people : float
        In the house during the decay [-].

    Returns
    -------
    tuple of Finding
        At most one; empty where a rate can be stated.
    """
    fall = slope * duration
    if people > 0.0:
        return (
            note(
                "people",
                f"{people:g} people breathed out during the decay, which slows the fall by an"
                " unknown amount: certain. Leave the house empty, or use the estimate from"
                " people near the steady state.",
                source=MIXED,
            ),
        )
    if slope <= 2.0 * standard:
        return (
            note(
                "not-decaying",
                "The concentration does not fall beyond its scatter: almost certainly somebody"
                " is still inside, the gas still flows, or the background is too high. Start"
                " from at least 1500 ppm with everybody out.",
                fall,
                "least-fall",
            ),
        )
    if fall < tracer_limits()["least-fall"].value:
        return (
            note(
                "too-short",
                f"The excess fell by {100.0 * -math.expm1(-fall):.0f} % only, too little for a"
                f" rate. Go on for about {in_words(time_to_go(slope, duration))}.",
                fall,
                "least-fall",
            ),
        )
    return ()


def time_to_go(slope: float, duration: float) -> float:
    """Return how much longer to measure for the fall that is wanted.

    Parameters
    ----------
    slope : float
        Fall of the logarithm [1/s], > 0.
    duration : float
        So far [s].

    Returns
    -------
    float
        Time [s]; 0 where it was enough.

    Notes
    -----
    A fall of the logarithm of 1, after the minimum sampling times of ASTM E741 (recalled):
    4 h at 0.25/h, 1 h at 1/h, a quarter of an hour at 4/h.
    """
    return max(tracer_limits()["wanted-fall"].value / slope - duration, 0.0)


def in_words(seconds: float) -> str:
    """Return a time in hours and minutes, rounded up to five minutes.

    Parameters
    ----------
    seconds : float
        Time [s].

    Returns
    -------
    str
    """
    minutes = math.ceil(seconds / STEP - 1e-9) * 5
    hours, minutes = divmod(minutes, 60)
    parts = [f"{hours} h"] if hours else []
    return " ".join([*parts, f"{minutes} min"] if minutes or not hours else parts)


def judge_length(slope: float, duration: float, excess: float, doubt: float) -> tuple[Finding, ...]:
    """Return the advice to measure longer, or to start higher.

    Parameters
    ----------
    slope : float
        Fall of the logarithm [1/s], > 0.
    duration : float
        Of the window [s].
    excess : float
        At the start of the window, above the background [ppm].
    doubt : float
        Standard uncertainty of the background [ppm].

    Returns
    -------
    tuple of Finding
    """
    findings = []
    more = time_to_go(slope, duration)
    if more > 0.0:
        findings.append(
            note(
                "go-on",
                f"The rate stands, but not yet well: go on for {in_words(more)} more.",
                slope * duration,
                "wanted-fall",
            )
        )
    limit = tracer_limits()["least-excess"]
    if excess < max(limit.value, 10.0 * doubt):
        findings.append(
            note(
                "low-start",
                f"The decay starts {excess:.0f} ppm above a background that is known to"
                f" {doubt:.0f} ppm: start from 1500 ppm or more, so that the background matters"
                " less.",
                excess,
                "least-excess",
            )
        )
    return tuple(findings)


def judge_straight(
    departure: Departure | None, start: float, from_background: float, positions: int = 1
) -> tuple[Finding, ...]:
    """Return whether the logarithm is no straight line, and where it breaks.

    Parameters
    ----------
    departure : Departure or None
        What speaks most against a straight line.
    start : float
        Of the window [s].
    from_background : float
        Share of the bend that one standard uncertainty of the background makes [-].
    positions : int
        How many decays are judged together.

    Returns
    -------
    tuple of Finding
        At most one.

    Notes
    -----
    The departure is held against its scatter and what the background may explain, with a
    probability of `FALSE_ALARM` shared by all positions.
    """
    if departure is None or departure.deviations <= 0.0:
        return ()
    off = 1.0 / math.hypot(1.0 / departure.deviations, from_background)
    if off < coverage_factor(departure.degrees_of_freedom, 1.0 - FALSE_ALARM / positions):
        return ()
    before, after = departure.before, departure.after
    if departure.moment is not None and min(before, after) > 0.0:
        return (_changed(departure.moment - start, before, after, sureness(off)),)
    if after < before:
        says = (
            f"The decay slows down on its way, {sureness(off)} more than scatter: somebody is"
            " inside, the background is higher than entered, or air comes from another room."
            " Check that the house is empty and read outdoors again."
        )
    else:
        says = (
            f"The decay gets faster on its way, {sureness(off)} more than scatter: a window or"
            " fan came on, the wind rose, or the background is lower than entered. Check windows"
            " and fans and read outdoors again."
        )
    return (note("bent", says, source=STRAIGHT),)


def _changed(after_start: float, before: float, after: float, sure: str) -> Finding:
    return note(
        "changed",
        f"The air change went from {before * HOUR:.2f} to {after * HOUR:.2f} an hour about"
        f" {in_words(after_start)} into the decay, {sure}: a window, door or fan changed. Use"
        " the part before or after it, or measure again with nothing touched.",
        source=STRAIGHT,
    )


def judge_rate(
    air_changes: Propagated, expected: float | None, steady: SteadyResult | None
) -> tuple[Finding, ...]:
    """Return where a rate contradicts what else is known.

    Parameters
    ----------
    air_changes : Propagated
        From the decay [1/h].
    expected : float or None
        Air changes that leakage and weather let expect [1/h].
    steady : SteadyResult or None
        The estimate from people.

    Returns
    -------
    tuple of Finding
    """
    findings = []
    for name, is_beyond in (
        ("highest-rate", air_changes.low > tracer_limits()["highest-rate"].value),
        ("lowest-rate", air_changes.high < tracer_limits()["lowest-rate"].value),
    ):
        if is_beyond:
            findings.append(
                note(
                    "implausible",
                    f"{air_changes.value:.3g} air changes an hour is beyond what houses have:"
                    " almost certainly the times are in another unit (seconds, minutes, hours)."
                    " Check them.",
                    air_changes.value,
                    name,
                )
            )
    if expected is not None and expected > 0.0:
        ratio = air_changes.value / expected
        if not 1.0 / 3.0 <= ratio <= 3.0:
            findings.append(
                note(
                    "unexpected",
                    f"The decay gives {ratio:.1f} times the {expected:.2f} air changes an hour that"
                    " leakage and weather let expect: likely a window, a running fan, a door to"
                    " another zone, or a wrong volume or time unit. Look before it is put away.",
                    ratio,
                    source="ours: infiltration models miss single houses by up to 100 %"
                    " (ASHRAE Handbook - Fundamentals 2021, ch. 16)",
                )
            )
    if steady is not None and steady.air_changes is not None:
        findings += _against(air_changes, steady.air_changes)
    return tuple(findings)


def _against(decay: Propagated, steady: Propagated) -> list[Finding]:
    apart = math.log(decay.value / steady.value)
    doubt = math.hypot(decay.standard / decay.value, steady.standard / steady.value)
    if abs(apart) <= PARTED * doubt:
        return []
    return [
        note(
            "two-answers",
            f"The decay gives {decay.value:.2f} and the people {steady.value:.2f} air changes an"
            f" hour, {sureness(abs(apart) / doubt)} more than both doubts: windows or fans"
            " differed, or the number of people is wrong.",
            source=MIXED,
        )
    ]


def judge_once(count: int, positions: int, *, is_mixed: bool) -> tuple[Finding, ...]:
    """Return what was read too seldom or in too few places.

    Parameters
    ----------
    count : int
        Readings within the window.
    positions : int
        Places where they were read.
    is_mixed : bool
        Whether fans stirred the air.

    Returns
    -------
    tuple of Finding
    """
    findings = []
    if count < 3:
        findings.append(
            note(
                "two-points",
                "Two readings give a rate but cannot show whether it stayed the same: read at"
                " least every quarter of an hour.",
                source="recalled: ASTM E741, regression preferred over two points",
            )
        )
    if positions < 2 and not is_mixed:
        findings.append(
            note(
                "one-position",
                "It was read in one place, with nothing that stirs the air: whether the house"
                " is one mixed zone is not shown. Read in another room too.",
                source="recalled: ASTM E741, concentrations within 10 % of their mean",
            )
        )
    return tuple(findings)
