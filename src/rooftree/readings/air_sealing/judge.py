"""Doubts about a log of air sealing, with how sure they are and what to do about them."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.air_sealing.held_flow import (
    LEAST_PRESSURE,
    flow_at,
    induced_pressure,
    is_usable,
)
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.physics.propagation import Propagated
    from rooftree.readings.air_sealing.readings import AirSealingLog
    from rooftree.readings.air_sealing.results import LimitAhead, LocationResult

OURS = "ours"
HOLDING = 3.0
"""How far from the held pressure a row may be [Pa]; ours, about as ISO 9972 asks of stations."""

PRESSURE_DOUBTS = 3.5
"""The same in standard uncertainties of a pressure [-]; ours."""

MOST_SHARES = 1.2
"""Sum of the shares of a leak map beyond which it is doubted [0-1]; ours."""

SAME_TEST = 2.5
"""How many standard uncertainties the first row may be from the fan test [-]; ours."""

CAUTION = (
    "Carbon monoxide kills: after every change of tightness the appliances are tested again,"
    " and a licensed technician decides under the local code."
)


def judge_rows(log: AirSealingLog) -> tuple[Finding, ...]:
    """Judge rows one by one: what cannot be used, times, pressures, the first row.

    Parameters
    ----------
    log : AirSealingLog
        As written.

    Returns
    -------
    tuple of Finding
    """
    return (
        *_unusable(log),
        *_directions(log),
        *_times(log),
        *_not_held(log),
        *_start(log),
        *_holes(log),
    )


def judge_map(log: AirSealingLog) -> tuple[Finding, ...]:
    """Judge whether leak map and log fit together.

    Parameters
    ----------
    log : AirSealingLog
        As written.

    Returns
    -------
    tuple of Finding
    """
    found = []
    if log.places:
        known = {each.place for each in log.places}
        strange = dict.fromkeys(
            row.place or row.location for row in log.rows[1:] if row.location or row.place
        )
        missing = [name for name in strange if name not in known]
        if missing:
            found.append(
                note(
                    "unknown-place",
                    f"The leak map has no {', '.join(missing)}: what was sealed there is not"
                    " taken off any place. Name the place of the map beside the location.",
                    about=missing[0],
                )
            )
    shares = sum(each.share or 0.0 for each in log.places if each.flow_50 is None)
    if shares > MOST_SHARES:
        found.append(
            note(
                "shares",
                f"The shares of the leak map come to {both(shares, Kind.FRACTION, digits=2)}: one"
                " typed wrongly or counted"
                " twice is likely. They are scaled to the whole; check them.",
                value=shares,
                limit=MOST_SHARES,
                unit="[0-1]",
            )
        )
    return tuple(found)


def judge_noise(locations: Sequence[LocationResult]) -> tuple[Finding, ...]:
    """Judge whether the single reductions can be told from noise.

    Parameters
    ----------
    locations : sequence of LocationResult
        What each location did.

    Returns
    -------
    tuple of Finding
    """
    dim = [each for each in locations if not each.is_clear]
    if not dim:
        return ()
    names = ", ".join(each.location or f"row {each.number}" for each in dim[:3])
    least = 2.0 * max(each.reduction.standard for each in dim)
    return (
        note(
            "not-clear",
            f"{len(dim)} of {len(locations)} changes are no larger than the noise ({names}):"
            f" less than {both(least, Kind.FLOW, digits=2)} cannot be told. Average for longer, or"
            " seal more between two readings.",
            value=min(abs(each.reduction.value) for each in dim),
            limit=least,
            unit="m³/s",
            source="ours, by propagation of the readings' uncertainty",
        ),
    )


def judge_earlier(
    start: Propagated, relative: float, earlier: float | None, earlier_uncertainty: float
) -> tuple[Finding, ...]:
    """Hold the first row against the fan test that was made before.

    Parameters
    ----------
    start : Propagated
        Leakage at 50 Pa by the first row [m³/s].
    relative : float
        What of its relative standard uncertainty the fan test does not share [0-1].
    earlier : float or None
        Leakage at 50 Pa by the fan test [m³/s].
    earlier_uncertainty : float
        Relative standard uncertainty of that, without what both share [0-1].

    Returns
    -------
    tuple of Finding
    """
    if earlier is None or not earlier > 0.0:
        return ()
    doubt = (relative**2 + earlier_uncertainty**2) ** 0.5
    away = (start.value / earlier - 1.0) / doubt
    if abs(away) < SAME_TEST:
        return ()
    off = both(abs(start.value / earlier - 1.0), Kind.FRACTION, digits=2)
    more = f"{off} {'more' if away > 0.0 else 'less'}"
    sure = sureness(probability_within(away))
    if away > 0.0:
        says = (
            f"Before sealing the house leaks {more} than in its fan test. A hole, hatch, window"
            f" or damper left open since is {sure}: find and close it, or every reduction"
            " holds and the end does not."
        )
        code = "hole-left"
    else:
        says = (
            f"Before sealing the house leaks {more} than in its fan test. Another set-up, an"
            f" inside door that is shut or another fan configuration is {sure}: look before"
            " sealing."
        )
        code = "set-up"
    return (note(code, says, value=start.value, limit=earlier, unit="m³/s"),)


def judge_limits(limits: Sequence[LimitAhead]) -> tuple[Finding, ...]:
    """Turn the limits ahead into findings.

    Parameters
    ----------
    limits : sequence of LimitAhead
        Those that are known.

    Returns
    -------
    tuple of Finding
    """
    found = []
    for limit in limits:
        if not (limit.is_passed or limit.is_next):
            continue
        passed = limit.is_passed
        if limit.name == "ventilation":
            says = (
                "From here the leaks alone do not bring the fresh air that the house needs."
                if passed
                else "After the next location the leaks alone may not bring the fresh air needed."
            )
            says += " That is no reason to stop: a ventilation fan goes in with the sealing."
        else:
            says = (
                "The house is, or may be, tight enough for its fans to pull on a flue."
                if passed
                else "The next location may leave the house tight enough for its fans to pull on"
                " a flue."
            )
            says += f" Measure the worst case of the appliance's zone now. {CAUTION}"
        found.append(
            Finding(
                code=f"air_sealing/{limit.name}-{'limit' if passed else 'ahead'}",
                severity=Severity.GATE,
                says=says,
                value=limit.limit + limit.margin,
                limit=limit.limit,
                unit="m³/s",
                source="worked out from this house",
            )
        )
    return tuple(found)


def judge_missing(
    value: float | None, ventilation: float | None, combustion: float | None
) -> tuple[Finding, ...]:
    """Say what nobody worked out, so that it was not judged.

    Parameters
    ----------
    value : float or None
        Of leakage in a year [$·s/(year·m³)].
    ventilation, combustion : float or None
        Leakage at 50 Pa at which either limit is passed [m³/s].

    Returns
    -------
    tuple of Finding
    """
    lacks = [
        words
        for number, words in (
            (value, "what leakage costs in a year"),
            (ventilation, "the leakage that fresh air needs"),
            (combustion, "the leakage below which fans pull on a flue"),
        )
        if number is None
    ]
    if not lacks:
        return ()
    return (
        note(
            "not-judged",
            f"Not known of this house, and so not judged: {', '.join(lacks)}. The simulated"
            " year and the ventilation and combustion tests give them.",
        ),
    )


def _unusable(log: AirSealingLog) -> tuple[Finding, ...]:
    found = []
    for number, row in enumerate(log.rows, start=1):
        if is_usable(log, row):
            continue
        pressure = induced_pressure(log, row)
        found.append(
            note(
                "unusable",
                f"Row {number} has a flow of {both(row.fan_flow, Kind.FLOW, digits=2)} at"
                f" {pressure:.1f} Pa and is left out: it needs a flow above zero and a pressure"
                " well away from the"
                " baseline. Read it again.",
                value=pressure,
                limit=LEAST_PRESSURE,
                unit="Pa",
                about=row.location,
            )
        )
    return tuple(found)


def _directions(log: AirSealingLog) -> tuple[Finding, ...]:
    signs = {induced_pressure(log, row) > 0.0 for row in log.rows if is_usable(log, row)}
    if len(signs) < 2:
        return ()
    return (
        note(
            "signs",
            "Some pressures are above zero and some below: hoses swapped between two rows, or a"
            " sign left out, is almost certain. The sizes are used; look at the hoses.",
        ),
    )


def _times(log: AirSealingLog) -> tuple[Finding, ...]:
    for number, (one, other) in enumerate(pairwise(log.rows), start=2):
        if other.time < one.time:
            return (
                note(
                    "time",
                    f"Row {number} is earlier than the row before it: a slip of the clock, or"
                    " rows in the wrong order, is almost certain. Put them in the order in which"
                    " they were read.",
                    value=other.time,
                    limit=one.time,
                    unit="s",
                    about=other.location,
                ),
            )
    return ()


def _not_held(log: AirSealingLog) -> tuple[Finding, ...]:
    allowed = max(HOLDING, PRESSURE_DOUBTS * log.pressure_repeatability)
    off = [
        (number, row, abs(induced_pressure(log, row)) - log.held_pressure)
        for number, row in enumerate(log.rows, start=1)
        if is_usable(log, row)
    ]
    wrong = [each for each in off if abs(each[2]) > allowed]
    if not wrong:
        return ()
    number, row, away = max(wrong, key=lambda each: abs(each[2]))
    read = abs(induced_pressure(log, row))
    moved = abs(flow_at(1.0, read, log.held_pressure, log.exponent) - 1.0)
    sure = sureness(probability_within(away / max(log.pressure_repeatability, 0.1)))
    return (
        note(
            "not-held",
            f"Row {number} was read at {read:.0f} Pa and not at {log.held_pressure:.0f} Pa: that"
            f" the pressure was not held is {sure}. Its flow was carried over by"
            f" {both(moved, Kind.FRACTION, digits=2)} with"
            " an assumed exponent; bring the fan back to the pressure and read again.",
            value=read,
            limit=log.held_pressure,
            unit="Pa",
            about=row.location,
        ),
    )


def _start(log: AirSealingLog) -> tuple[Finding, ...]:
    if not log.rows or not log.rows[0].location:
        return ()
    return (
        note(
            "no-start",
            f"The first row already has {log.rows[0].location} sealed: what that did is not known."
            " Read the fan once before anything is sealed.",
            about=log.rows[0].location,
        ),
    )


def _holes(log: AirSealingLog) -> tuple[Finding, ...]:
    if log.holes_closed:
        return ()
    return (
        note(
            "holes",
            "Nobody confirmed that hatches, doors and holes opened for other tests were closed"
            " before the first row. Look now: one left open is sealed by nothing.",
            source="common practice",
        ),
    )


def note(
    code: str,
    says: str,
    *,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
    source: str = OURS,
    about: str = "",
) -> Finding:
    """Return one doubt about the log.

    Parameters
    ----------
    code : str
        Behind ``air_sealing/``.
    says : str
        One or two sentences with the remedy.
    value, limit : float or None
        What was found and what it was held against [in `unit`].
    unit : str
        Of both.
    source : str
        Of the limit.
    about : str
        Location or place.

    Returns
    -------
    Finding
    """
    return Finding(
        code=f"air_sealing/{code}",
        severity=Severity.NOTE,
        says=says,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        about=about,
    )
