"""Judge the ventilation of a dwelling: what is missing, and what could not be counted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.readings.ventilation.editions import CFM
from rooftree.readings.ventilation.local_exhaust import SOURCE, exhaust_deficit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.readings.ventilation.editions import Edition
    from rooftree.readings.ventilation.readings import ExhaustReading, WholeHouseFan

LONGEST_CYCLE = 3.0
"""Time from start to start up to which the mean flow counts in full [h]: Uniform Mechanical
Code, appendix E, 605.1.7.1."""

CYCLE_SOURCE = "Uniform Mechanical Code, appendix E, 605.1.7.1"


def average_flow(fan: WholeHouseFan) -> float:
    """Return what a whole-house fan gives on average, as far as it counts.

    Parameters
    ----------
    fan : WholeHouseFan
        As measured.

    Returns
    -------
    float
        Mean flow [m³/s]; 0 for a fan that rests longer than the mean rate allows.

    Notes
    -----
    A fan that starts at least every three hours counts with its mean flow; for longer
    cycles the standard's table of effectiveness is needed, which we do not have.
    """
    return fan.flow * fan.run_share if fan.cycle <= LONGEST_CYCLE else 0.0


def judge_fans(fans: Sequence[WholeHouseFan]) -> tuple[Finding, ...]:
    """Return the fans that could not be counted.

    Parameters
    ----------
    fans : sequence of WholeHouseFan
        As measured.

    Returns
    -------
    tuple of Finding
    """
    return tuple(
        Finding(
            "ventilation/long-cycle",
            Severity.NOTE,
            f"The {fan.name} starts every {fan.cycle:.0f} h only, and is not counted: let it run"
            " at least once every three hours.",
            fan.cycle,
            LONGEST_CYCLE,
            "h",
            CYCLE_SOURCE,
            fan.name,
        )
        for fan in fans
        if fan.cycle > LONGEST_CYCLE
    )


def judge_rooms(rooms: Sequence[ExhaustReading], *, is_new: bool) -> tuple[Finding, ...]:
    """Return the rooms whose exhaust falls short.

    Parameters
    ----------
    rooms : sequence of ExhaustReading
        Kitchens and baths.
    is_new : bool
        Whether the dwelling is new.

    Returns
    -------
    tuple of Finding
    """
    way = (
        "A new dwelling has no way round it: fit a fan."
        if is_new
        else "Fit a fan to outdoors, or let the whole-house fan make up a quarter of it."
    )
    return tuple(
        Finding(
            "ventilation/local-exhaust",
            Severity.NOTE,
            f"The {reading.room} lacks {_both(lack.missing)} of the {_both(lack.required)} of"
            f" exhaust that it should have. {way}",
            lack.required - lack.missing,
            lack.required,
            "m³/s",
            SOURCE,
            reading.room,
        )
        for reading in rooms
        if (lack := exhaust_deficit(reading)).missing > 0.0
    )


def judge_need(
    rule: Edition, fan: float, given: float, *, known_leakage: bool
) -> tuple[Finding, ...]:
    """Return whether the whole-house fans give what is needed.

    Parameters
    ----------
    rule : Edition
        Edition that sets the need.
    fan, given : float
        Mean flow that the fans must give, and give [m³/s].
    known_leakage : bool
        Whether infiltration could be credited.

    Returns
    -------
    tuple of Finding
    """
    findings = []
    if given < fan:
        findings.append(
            Finding(
                "ventilation/short",
                Severity.NOTE,
                f"The dwelling needs {_both(fan)} from whole-house fans by 62.2-{rule.year}; they"
                f" give {_both(given)}. Add {_both(fan - given)}.",
                given,
                fan,
                "m³/s",
                rule.source,
            )
        )
    if not known_leakage:
        findings.append(
            Finding(
                "ventilation/no-credit",
                Severity.NOTE,
                "Infiltration is not credited: that takes a fan test and a weather-and-shielding"
                " factor of the place.",
                source=rule.source,
            )
        )
    if rule.recalled:
        findings.append(
            Finding(
                "ventilation/recalled-edition",
                Severity.NOTE,
                f"The rules of the {rule.year} edition are recalled, not read: check them.",
                source=rule.source,
            )
        )
    return tuple(findings)


def _both(flow: float) -> str:
    return f"{flow / CFM:.0f} cfm ({1000.0 * flow:.0f} L/s)"
