"""Judge the ventilation of a dwelling: what is missing, and what could not be counted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.readings.ventilation.intermittent import CYCLE_SOURCE, SHORT_CYCLE, average_flow
from rooftree.readings.ventilation.local_exhaust import SOURCE, exhaust_deficit
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.readings.ventilation.editions import Edition
    from rooftree.readings.ventilation.readings import ExhaustReading, WholeHouseFan


def judge_fans(
    fans: Sequence[WholeHouseFan], floor_area: float | None = None
) -> tuple[Finding, ...]:
    """Return the fans that count for less than their mean flow.

    Parameters
    ----------
    fans : sequence of WholeHouseFan
        As measured.
    floor_area : float or None
        Of the dwelling [m²].

    Returns
    -------
    tuple of Finding
    """
    findings = []
    for fan in fans:
        if fan.cycle <= SHORT_CYCLE:
            continue
        mean, counted = fan.flow * fan.run_share, average_flow(fan, floor_area)
        how = (
            f"counts {both(counted, Kind.FLOW)} of its mean {both(mean, Kind.FLOW)}"
            if counted > 0.0
            else "is not counted"
        )
        findings.append(
            Finding(
                "ventilation/long-cycle",
                Severity.NOTE,
                f"The {fan.name} starts every {fan.cycle:.0f} h only and {how}: let it run"
                " at least once every three hours.",
                fan.cycle,
                SHORT_CYCLE,
                "h",
                CYCLE_SOURCE,
                fan.name,
            )
        )
    return tuple(findings)


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
            f"The {reading.room} lacks {both(lack.missing, Kind.FLOW)} of the"
            f" {both(lack.required, Kind.FLOW)} of exhaust that it should have. {way}",
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
                f"The dwelling needs {both(fan, Kind.FLOW)} from whole-house fans by"
                f" 62.2-{rule.year}; they give {both(given, Kind.FLOW)}."
                f" Add {both(fan - given, Kind.FLOW)}.",
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
