"""Judge whether the probe was where it should be: pinched tubes, wrong taps, wrong units."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.physics.openings import opening_flow
from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.zone_pressures.judge import (
    DISAGREEING,
    INCH_OF_WATER,
    margin,
    zone_finding,
)
from rooftree.readings.zone_pressures.readings import ZoneKind

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.readings.zone_pressures.readings import ZonePressureTest

OPEN_TO_OUTDOORS = frozenset(
    {
        ZoneKind.ATTIC,
        ZoneKind.KNEE_WALL,
        ZoneKind.CRAWLSPACE,
        ZoneKind.GARAGE,
        ZoneKind.NEIGHBOUR,
    }
)
"""Zones that hardly ever stand at the pressure of the house; common practice."""

VENT_DISCHARGE = 0.4
"""Discharge coefficient of a vent with louvers and screen [-]; ours, between a free sharp
opening (0.6) and one half blocked (0.3)."""

VENT_DOUBT = 0.35
"""Standard uncertainty of the logarithm of a vent's flow [-]; ours, from the same range."""

FLOW_DOUBT = 0.10
"""Standard uncertainty of the logarithm of the house's leakage [-]; ours."""


def judge_probe(test: ZonePressureTest, house_flow_50: float | None = None) -> tuple[Finding, ...]:
    """Return what says that the probe or its tube did not see the zone.

    Parameters
    ----------
    test : ZonePressureTest
        Readings.
    house_flow_50 : float or None
        Leakage of the house at 50 Pa [m³/s].

    Returns
    -------
    tuple of Finding
    """
    checks = (_again(test), _sum(test), _vents(test, house_flow_50), _kind(test), _inches(test))
    return tuple(finding for finding in checks if finding)


def _again(test: ZonePressureTest) -> Finding | None:
    if test.again_pressure is None:
        return None
    apart = test.again_pressure - test.zone_pressure
    distance = abs(apart) / (test.pressure_uncertainty * math.sqrt(2.0))
    if distance <= DISAGREEING:
        return None
    sure = sureness(probability_within(distance))
    return zone_finding(
        test,
        "not-repeating",
        f"With the probe moved the zone reads {test.again_pressure:.1f} Pa instead of"
        f" {test.zone_pressure:.1f} Pa. {sure.capitalize()}: in one of the two places the probe"
        " touched insulation, or the tube was pinched. Lead the tube through a free gap, hang"
        " the end in still air, and read until two places agree.",
        value=apart,
        limit=DISAGREEING * test.pressure_uncertainty * math.sqrt(2.0),
        source="two readings of one pressure",
    )


def _sum(test: ZonePressureTest) -> Finding | None:
    if test.outdoor_pressure is None:
        return None
    missing = test.house_pressure - test.zone_pressure - test.outdoor_pressure
    distance = abs(missing) / (test.pressure_uncertainty * math.sqrt(3.0))
    if distance <= DISAGREEING:
        return None
    sure = sureness(probability_within(distance))
    return zone_finding(
        test,
        "sum",
        f"House to zone and zone to outdoors add up to {missing:+.1f} Pa less than house to"
        f" outdoors. {sure.capitalize()}: one of the three hoses was elsewhere, or the house was"
        " not held. Read the three within a minute, one after another.",
        value=missing,
        limit=DISAGREEING * test.pressure_uncertainty * math.sqrt(3.0),
        source="pressures along a path add up",
    )


def _vents(test: ZonePressureTest, house_flow_50: float | None) -> Finding | None:
    if not test.vent_area or not house_flow_50:
        return None
    through = vent_flow_50(test)
    if through <= house_flow_50:
        return None
    distance = math.log(through / house_flow_50) / math.hypot(VENT_DOUBT, FLOW_DOUBT)
    if distance <= 2.0:
        return None
    sure = sureness(probability_within(distance))
    return zone_finding(
        test,
        "probe",
        f"By this pressure {through / house_flow_50:.1f} times as much would pass the vents as the"
        f" whole house leaks. {sure.capitalize()}: the tube is pinched, the probe is in"
        " insulation, or the vents are blocked. Move the probe and read again.",
        value=through,
        limit=house_flow_50,
        unit="m³/s",
    )


def vent_flow_50(test: ZonePressureTest) -> float:
    """Return the flow through a zone's vents with the house at 50 Pa.

    Parameters
    ----------
    test : ZonePressureTest
        Readings, with the area of the vents.

    Returns
    -------
    float
        [m³/s]; 0 where the vents were not measured. What passes the zone is that much or
        more, for vents are not its only way to outdoors.
    """
    whole, part = abs(test.house_pressure), abs(test.zone_pressure)
    across = 50.0 * max(1.0 - part / whole, 0.0) if whole else 0.0
    return opening_flow(test.vent_area or 0.0, across, discharge=VENT_DISCHARGE)


def _kind(test: ZonePressureTest) -> Finding | None:
    whole, part, edge = abs(test.house_pressure), abs(test.zone_pressure), margin(test)
    inside = part < edge and test.zone in OPEN_TO_OUTDOORS
    outside = part > whole - edge and test.zone is ZoneKind.BASEMENT
    if not inside and not outside:
        return None
    where, open_to = ("the house", "the house") if inside else ("outdoors", "outdoors")
    repeated = test.again_pressure is not None
    sure = "Possible, though it read so twice" if repeated else "Likely"
    return zone_finding(
        test,
        "probe",
        f"This {test.zone} reads like {where}, which is rare. {sure}: the tube is pinched by hatch"
        f" or door, its end lies in insulation or came out into {where}, or it is not on the"
        " gauge. Blow through the tube, move the end, and read again; if it stays, look for a"
        f" large opening to {open_to}.",
        value=part,
        limit=edge if inside else whole - edge,
        source="common practice",
    )


def _inches(test: ZonePressureTest) -> Finding | None:
    whole, part = abs(test.house_pressure), abs(test.zone_pressure)
    finer = abs(10.0 * part - round(10.0 * part)) > 1e-6
    if not (0.005 < part <= 1.05 * whole / INCH_OF_WATER and whole > 1.0 and finer):
        return None
    return zone_finding(
        test,
        "units",
        f"The zone reads {part:.3g} Pa. Likely: that channel of the gauge showed inches of water,"
        f" for {part:.3g} in. w.c. are {part * INCH_OF_WATER:.0f} Pa, and pascals come with one"
        " decimal. Set it to pascals and type the reading again.",
        value=part,
    )
