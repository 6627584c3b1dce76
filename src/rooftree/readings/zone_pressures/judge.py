"""Judge a zone pressure: can it be divided, and what to do where it cannot."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.zone_pressures.division import hole_to_open
from rooftree.readings.zone_pressures.readings import ZoneKind
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from rooftree.readings.zone_pressures.readings import ZonePressureTest

MARGIN = 4.0
"""Standard uncertainties that a pressure must lie away from 0 and from the house's [-].

Ours: at that distance the smaller one of the two pressures is known to a quarter of
itself and the ratio of the leaks to about a quarter, exponent included."""

LOWEST_HOUSE_PRESSURE = 15.0
"""House pressure below which zone pressures are too small to divide [Pa]; ours, after the
lowest pressure of a one-point fan test (ANSI/RESNET/ICC 380, recalled)."""

HIGHEST_HOUSE_PRESSURE = 100.0
"""House pressure beyond which no fan test goes [Pa]; common practice."""

ZONE_SHARE = 0.18
"""Guess of a zone's share in the house's leakage [0-1]: the mean of ceilings.

ASHRAE Handbook - Fundamentals 2021, ch. 16, after Dickerhoff 1982 and Harrje 1982."""

MEDIAN_FLOW_50 = 12.0 * 340.0 / 3600.0
"""Leakage at 50 Pa of a house of which nothing is known [m³/s]: 12 air changes, the median of
US houses (Chan, Joh & Sherman, Energy and Buildings 66 (2013) 616), in 340 m³."""

INCH_OF_WATER = 249.089
"""[Pa]."""

DISAGREEING = 3.5
"""Standard uncertainties apart from which two readings of one pressure disagree [-]; ours:
chance does it once in two thousand tests."""

SERIES = "mass balance of a zone between house and outdoors"
SQUARE_INCH = 0.0254**2


def margin(test: ZonePressureTest) -> float:
    """Return how far from both ends a pressure must lie to be divided.

    Parameters
    ----------
    test : ZonePressureTest
        Readings.

    Returns
    -------
    float
        Distance from 0 and from the house pressure [Pa].
    """
    return MARGIN * test.pressure_uncertainty


def judge_pressures(test: ZonePressureTest) -> tuple[Finding, ...]:
    """Return what makes the readings unfit to be divided.

    Parameters
    ----------
    test : ZonePressureTest
        Readings.

    Returns
    -------
    tuple of Finding
        Empty where they are fit; the place of the reading between 0 and the house
        pressure is judged by :func:`judge_end`.
    """
    checks = (_room(test), _house(test), _sign(test), _beyond(test))
    return tuple(finding for finding in checks if finding)


def _room(test: ZonePressureTest) -> Finding | None:
    if test.zone is not ZoneKind.ROOM:
        return None
    says = (
        "This is a room of the house. A pressure between house and zone divides a path only"
        " where everything that passes it goes on to outdoors; rooms share air by doors and"
        " gaps, so rooms cannot be ranked by it. Read attic, crawlspace, basement, garage or"
        " neighbour, and find leaks of a room with smoke or with an infrared camera."
    )
    source = "common practice: zone pressures are for buffer spaces"
    return zone_finding(test, "room", says, source=source)


def _house(test: ZonePressureTest) -> Finding | None:
    whole = abs(test.house_pressure)
    if LOWEST_HOUSE_PRESSURE <= whole <= HIGHEST_HOUSE_PRESSURE:
        return None
    in_inches = whole * INCH_OF_WATER
    if LOWEST_HOUSE_PRESSURE <= in_inches <= HIGHEST_HOUSE_PRESSURE:
        says = (
            f"The house reads {whole:.2g} Pa. Almost certain: the gauge showed inches of water,"
            f" for {whole:.2g} in. w.c. are {in_inches:.0f} Pa. Set the gauge to pascals and"
            " type both pressures again."
        )
        return zone_finding(test, "units", says, value=whole, limit=LOWEST_HOUSE_PRESSURE)
    if whole > HIGHEST_HOUSE_PRESSURE:
        says = (
            f"The house reads {whole:.0f} Pa, more than any fan test is made at. Almost certain:"
            " a wrong unit or a digit too many. Look at the gauge and type it again."
        )
        return zone_finding(test, "units", says, value=whole, limit=HIGHEST_HOUSE_PRESSURE)
    return zone_finding(
        test,
        "house-pressure",
        f"The house was held at {whole:.1f} Pa only, too little to divide between two"
        f" leaks. Hold it at 50 Pa, or at {LOWEST_HOUSE_PRESSURE:.0f} Pa at least.",
        value=whole,
        limit=LOWEST_HOUSE_PRESSURE,
        source="ours, after ANSI/RESNET/ICC 380 (recalled)",
    )


def _sign(test: ZonePressureTest) -> Finding | None:
    if test.house_pressure * test.zone_pressure >= 0.0 or abs(test.zone_pressure) <= margin(test):
        return None
    sure = sureness(probability_within(test.zone_pressure / test.pressure_uncertainty))
    return zone_finding(
        test,
        "sign",
        "House to outdoors and house to zone have opposite signs, which no zone between them"
        f" can have. {sure.capitalize()}: hoses swapped, or a hose on the wrong tap. House on"
        " the input and zone on the reference tap, then read again.",
        value=test.zone_pressure,
    )


def _beyond(test: ZonePressureTest) -> Finding | None:
    whole, part = abs(test.house_pressure), abs(test.zone_pressure)
    if part <= whole + margin(test):
        return None
    in_pascals = whole * INCH_OF_WATER
    hint = (
        " The house pressure looks like inches of water." if part < 1.05 * in_pascals < 105 else ""
    )
    return zone_finding(
        test,
        "beyond-house",
        f"The zone reads {part:.1f} Pa, more than the house itself at {whole:.1f} Pa, which no"
        " zone can without a fan of its own. Almost certain: the two hoses changed places, the"
        f" zone was read against something else, or a fan runs in it.{hint} Follow each hose to"
        " its end and read again.",
        value=part,
        limit=whole,
    )


def judge_end(test: ZonePressureTest, house_flow_50: float | None = None) -> Finding | None:
    """Return the refusal of a reading too near 0 or the house pressure, with the remedy.

    Parameters
    ----------
    test : ZonePressureTest
        Readings that :func:`judge_pressures` found fit.
    house_flow_50 : float or None
        Leakage of the house at 50 Pa, to size the hole [m³/s]; a house of median
        tightness is guessed where it is None.

    Returns
    -------
    Finding or None
        None where the reading can be divided.
    """
    whole, part, edge = abs(test.house_pressure), abs(test.zone_pressure), margin(test)
    if edge <= part <= whole - edge:
        return None
    near_house = part < edge
    start, target = (edge, 0.2 * whole) if near_house else (whole - edge, 0.8 * whole)
    if not 0.0 < start < whole:
        start = target = 0.5 * whole  # a gauge too coarse for any place between the ends
    area = hole_to_open(
        start,
        target,
        whole,
        test.exponent,
        _house_side(test, house_flow_50),
        test.exponent_outdoors,
    )
    where, whole_side = (
        ("between the zone and outdoors", "inside the house")
        if near_house
        else ("between the house and the zone", "outdoors")
    )
    guess = "" if house_flow_50 else " (for a house of median tightness)"
    moved = (
        ""
        if test.again_pressure is not None
        else " First move the probe clear of insulation and hatch and read again."
    )
    return zone_finding(
        test,
        "near-house" if near_house else "near-outdoors",
        f"The zone reads {part:.1f} Pa of {whole:.1f} Pa: it is as good as {whole_side}, and"
        f" the ratio of its two leaks cannot be told from {edge:.1f} Pa of doubt.{moved} Then add"
        f" a measured hole of about {_rounded(area)} {where}{guess},"
        " read, make it half as large again, read, and close it.",
        value=part,
        limit=edge if near_house else whole - edge,
    )


def _house_side(test: ZonePressureTest, house_flow_50: float | None) -> float:
    flow = ZONE_SHARE * (house_flow_50 or MEDIAN_FLOW_50)
    return float(flow / 50.0**test.exponent)


def _rounded(area: float) -> str:
    tens = max(10.0 * round(area / SQUARE_INCH / 10.0), 10.0)
    return both(tens * SQUARE_INCH, Kind.LEAKAGE_AREA, digits=2)


def zone_finding(
    test: ZonePressureTest,
    code: str,
    says: str,
    *,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "Pa",
    source: str = SERIES,
) -> Finding:
    """Return a finding about a zone.

    Parameters
    ----------
    test : ZonePressureTest
        Readings of the zone.
    code : str
        Second part of the finding's code.
    says : str
        What looks wrong, how sure, and what to do now.
    value, limit : float or None
        What was found and what it is held against [in `unit`].
    unit : str
        Of both.
    source : str
        Document of the limit.

    Returns
    -------
    Finding
    """
    return Finding(
        code=f"zone-pressure/{code}",
        severity=Severity.NOTE,
        says=says,
        value=value,
        limit=limit,
        unit=unit if value is not None else "",
        source=source,
        about=test.space,
    )
