"""Judge carbon monoxide in room air: levels with what to do, trends, and doubts.

Levels are those of the table of combustion limits; what is only recalled adds a sentence.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.known import Answer
from rooftree.physics.sureness import probability_within, sureness
from rooftree.physics.uncertainty import coverage_factor
from rooftree.tables.combustion_limits import combustion_limit, recalled_limits

if TYPE_CHECKING:
    from rooftree.readings.ambient_co.readings import AmbientTest
    from rooftree.readings.ambient_co.trend import PlaceResult
    from rooftree.tables.combustion_limits import CombustionLimit

OUTDOORS = "outdoors"
"""Place that tells whether the air comes in with it."""

CLEAR = 0.9973
"""Probability that a trend is no more than chance [0-1]; ours."""

OFFSET = 3.0
"""Reading outdoors above which the zero of the analyser is doubted [ppm]; ours: open air far
from a running engine holds less than one."""

CAUTIONS = (
    "Carbon monoxide cannot be smelt. With an alarm or symptoms everybody leaves at once and calls"
    " for help from outside; nobody goes back in to read. Local codes, the utility and the fire"
    " service decide."
)
"""The usual cautions, for every page and paper that shows these readings."""


def level_limit(demands: str) -> CombustionLimit:
    """Return the level of the table that makes a demand.

    Parameters
    ----------
    demands : str
        ``"find the source"``, ``"stop the test"`` or ``"leave the house"``.

    Returns
    -------
    CombustionLimit

    Raises
    ------
    LookupError
        If the table has no such row that was read.
    """
    found = combustion_limit("ambient-co", demands)
    if found is None:
        raise LookupError(f"the table of limits has no ambient-co that says: {demands}")
    return found


def judge_people(test: AmbientTest) -> tuple[Finding, ...]:
    """Return the stop that an alarm or symptoms demand, whatever was read.

    Parameters
    ----------
    test : AmbientTest
        Readings.

    Returns
    -------
    tuple of Finding
    """
    if not test.alarm_sounded and not test.symptoms:
        return ()
    why = "An alarm sounded" if test.alarm_sounded else "Somebody has symptoms that fit"
    return (
        _finding(
            "leave",
            Severity.STOP,
            f"{why}: everybody out now, whatever the analyser shows; call the fire service or the"
            " utility from outside, and a doctor where somebody feels ill.",
            source="common practice",
        ),
    )


def judge_level(place: PlaceResult) -> tuple[Finding, ...]:
    """Return what the highest reading of one place demands.

    Parameters
    ----------
    place : PlaceResult
        Readings of one room.

    Returns
    -------
    tuple of Finding
        A stop, a gate, or nothing.
    """
    co, where = place.highest, place.place
    leave, stop = level_limit("leave the house"), level_limit("stop the test")
    source = level_limit("find the source")
    if co >= leave.value:
        says = (
            f"{co:.0f} ppm of carbon monoxide ({where}): everybody out now, burners off from"
            " outside if that can be done, call the fire service or the utility."
        )
        return (_of_limit("level", Severity.STOP, says, co, leave, where),)
    if co > stop.value:
        says = (
            f"{co:.0f} ppm of carbon monoxide ({where}): stop, turn the burners off, air the house,"
            " and take everybody outside until it has fallen. Call a technician."
        )
        for limit in recalled_limits("ambient-co"):
            if co > limit.value:
                says += (
                    f" A recalled limit of {limit.value:.0f} ppm is exceeded too"
                    f" ({limit.source.removeprefix('recalled: ')}): leave."
                )
        return (_of_limit("level", Severity.STOP, says, co, stop, where),)
    if co > source.value:
        says = (
            f"{co:.0f} ppm of carbon monoxide ({where}): find the source (burner, stove, garage,"
            " street) before anything makes the house tighter."
        )
        return (_of_limit("raised", Severity.GATE, says, co, source, where),)
    return ()


def judge_trend(place: PlaceResult) -> tuple[Finding, ...]:
    """Return the warning that a place fills with carbon monoxide.

    Parameters
    ----------
    place : PlaceResult
        Readings of one room.

    Returns
    -------
    tuple of Finding
        Empty where it does not rise beyond doubt.
    """
    trend = place.trend
    if trend is None:
        return ()
    if place.rising <= coverage_factor(trend.degrees_of_freedom, CLEAR):
        return ()
    stop = level_limit("stop the test")
    ahead = max(stop.value - place.last, 0.0) / trend.value
    sure = sureness(probability_within(place.rising))
    return (
        _finding(
            "rising",
            Severity.NOTE,
            f"Carbon monoxide rises by {trend.value:.1f} ppm an hour ({place.place}): it is {sure}"
            f" that something feeds it. At that rate {stop.value:.0f} ppm are reached in"
            f" {_duration(ahead)}. Turn burners off one by one and see which one stops it.",
            value=trend.value,
            limit=0.0,
            unit="ppm/h",
            about=place.place,
        ),
    )


def _duration(hours: float) -> str:
    return f"{60.0 * hours:.0f} minutes" if hours < 2.0 else f"{hours:.0f} hours"


def judge_analyser(test: AmbientTest, places: tuple[PlaceResult, ...]) -> tuple[Finding, ...]:
    """Return doubts about the analyser and the log.

    Parameters
    ----------
    test : AmbientTest
        Readings.
    places : tuple of PlaceResult
        The same by place.

    Returns
    -------
    tuple of Finding
    """
    found = []
    times = [reading.seconds for reading in test.air]
    if times != sorted(times):
        found.append(
            _finding(
                "time-backwards",
                Severity.NOTE,
                "The readings are not in the order of their times: one time is almost certain to"
                " be mistyped. Look through them now.",
            )
        )
    outdoors = [place for place in places if place.place.strip().lower() == OUTDOORS]
    lowest = min((reading.carbon_monoxide for reading in test.air), default=0.0)
    shifted = lowest < -2.0 * test.reading_uncertainty or any(
        place.last > OFFSET + 2.0 * test.reading_uncertainty for place in outdoors
    )
    if test.zeroed_outdoors is Answer.NO or shifted:
        found.append(
            _finding(
                "not-zeroed",
                Severity.NOTE,
                "The analyser was not warmed up and zeroed in outdoor air, or shows"
                f" {outdoors[0].last if outdoors else lowest:.0f} ppm where there is none: it is"
                " almost certain that every reading is shifted. Zero it outdoors, away from"
                " engines, and read again.",
                source="common practice",
            )
        )
    if not outdoors:
        found.append(
            _finding(
                "no-outdoors",
                Severity.NOTE,
                "No reading outdoors: without it a street or an engine cannot be told from a"
                " burner. Read outdoors before the house and after.",
                source="common practice",
            )
        )
    highest = max((place.highest for place in places), default=0.0)
    if test.analyser_range is not None and highest >= test.analyser_range:
        found.append(
            _finding(
                "above-range",
                Severity.STOP,
                f"The analyser shows {highest:.0f} ppm and can show {test.analyser_range:.0f} ppm"
                " at most: it is almost certain that there is more. Leave, and do not go back in"
                " to read.",
                value=highest,
                limit=test.analyser_range,
                unit="ppm",
            )
        )
    return tuple(found)


def _of_limit(
    code: str, severity: Severity, says: str, co: float, limit: CombustionLimit, about: str
) -> Finding:
    return Finding(
        f"ambient-co/{code}", severity, says, co, limit.value, limit.unit, limit.source, about
    )


def _finding(
    code: str,
    severity: Severity,
    says: str,
    *,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
    source: str = "ours, from the readings themselves",
    about: str = "",
) -> Finding:
    return Finding(f"ambient-co/{code}", severity, says, value, limit, unit, source, about)
