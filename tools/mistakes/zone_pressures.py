"""Mistakes made with zone pressures, and whether the reductions notice them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from covered.zone_pressures import GAUGE, draw_zone, read_zone
from known_air import hold, hole
from mistakes.mistake import Mistake
from rooftree.readings.zone_pressures import (
    AddedHoleTest,
    Boundary,
    OpenedHatchTest,
    ZoneKind,
    ZonePressureTest,
    reduce_added_hole,
    reduce_opened_hatch,
    reduce_zone_pressure,
)

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.finding import Finding

INCH_OF_WATER = 249.089
FLOW_50 = 1.0
VENTED = (ZoneKind.ATTIC, ZoneKind.KNEE_WALL, ZoneKind.CRAWLSPACE, ZoneKind.GARAGE)


def clean_pressure(random: Generator) -> ZonePressureTest:
    """Read a vented zone that can be divided, as a gauge shows it."""
    _, house, between, _ = read_zone(draw_zone(random, 0.15, 0.85), random)
    kind = VENTED[int(random.integers(len(VENTED)))]
    return ZonePressureTest("zone", house, round(between, 1), zone=kind)


def read_twice(random: Generator) -> ZonePressureTest:
    """Read the same with the probe moved, and zone to outdoors beside it."""
    true, house, between, _ = read_zone(zone := draw_zone(random, 0.15, 0.85), random)
    _, shown = hold(2, zone.paths(), true)
    again, outdoors = (
        round(float(p + random.normal(0.0, GAUGE)), 1) for p in (shown[0] - shown[1], shown[1])
    )
    return ZonePressureTest(
        "zone", house, round(between, 1), again_pressure=again, outdoor_pressure=outdoors
    )


def clean_hole(random: Generator) -> AddedHoleTest:
    """Read a zone with a hole to the house, close it and read it again."""
    zone = draw_zone(random, 0.5, 0.9)
    true, house, between, _ = read_zone(zone, random)
    area = zone.house * random.uniform(0.2, 0.6)
    _, shown = hold(2, (*zone.paths(), hole(0, 1, area)), true)
    after = round(float(shown[0] - shown[1] + random.normal(0.0, GAUGE)), 1)
    _, closed = hold(2, zone.paths(), true)
    again = round(float(closed[0] - closed[1] + random.normal(0.0, GAUGE)), 1)
    return AddedHoleTest(
        "zone",
        house,
        round(between, 1),
        Boundary.HOUSE,
        area,
        after,
        closed=True,
        pressure_closed=again,
    )


def clean_hatch(random: Generator) -> OpenedHatchTest:
    """Open a hatch of known area and read pressures and flows."""
    zone = draw_zone(random, 0.6, 0.9)
    true, house, between, flow = read_zone(zone, random)
    area = zone.house * random.uniform(0.5, 1.0)
    more, shown = hold(2, (*zone.paths(), hole(0, 1, area)), true)
    after = round(float(shown[0] - shown[1] + random.normal(0.0, GAUGE)), 1)
    flows = [q * (1.0 + 0.01 * random.standard_normal()) for q in (flow, -more)]
    return OpenedHatchTest(
        "zone", house, round(between, 1), after, flows[0], flows[1], closed=True, area=area
    )


def _findings(test: ZonePressureTest) -> tuple[Finding, ...]:
    return reduce_zone_pressure(test, FLOW_50).findings


def _pinch(test: ZonePressureTest, random: Generator) -> ZonePressureTest:
    end = 0.0 if random.random() < 0.5 else test.house_pressure
    return replace(test, zone_pressure=round(end + random.normal(0.0, GAUGE), 1))


def _pinch_inside(test: ZonePressureTest, random: Generator) -> ZonePressureTest:
    return replace(test, zone_pressure=round(random.normal(0.0, GAUGE), 1))


def _near_end(test: ZonePressureTest, random: Generator) -> ZonePressureTest:
    share = random.uniform(0.0, 0.02)
    share = share if random.random() < 0.5 else 1.0 - share
    return replace(test, zone_pressure=round(share * test.house_pressure, 1))


def _in_inches(test: ZonePressureTest, _: Generator) -> ZonePressureTest:
    inches = round(test.zone_pressure / INCH_OF_WATER, 3)
    return replace(
        test, zone_pressure=inches, house_pressure=round(test.house_pressure / INCH_OF_WATER, 3)
    )


def _zone_in_inches(test: ZonePressureTest, _: Generator) -> ZonePressureTest:
    return replace(test, zone_pressure=round(test.zone_pressure / INCH_OF_WATER, 3))


MISTAKES = (
    Mistake(
        3,
        "hoses of house and zone swapped",
        ("zone-pressure/sign", "zone-pressure/beyond-house"),
        clean_pressure,
        lambda test, _: replace(test, zone_pressure=-test.zone_pressure),
        _findings,
    ),
    Mistake(
        3,
        "house and zone typed in each other's place",
        ("zone-pressure/beyond-house",),
        clean_pressure,
        lambda test, _: replace(
            test, zone_pressure=test.house_pressure, house_pressure=test.zone_pressure
        ),
        _findings,
    ),
    Mistake(
        14,
        "tube pinched or probe in insulation: reads like the house or like outdoors",
        ("zone-pressure/probe", "zone-pressure/near-house", "zone-pressure/near-outdoors"),
        clean_pressure,
        _pinch,
        _findings,
    ),
    Mistake(
        14,
        "tube of a vented zone came out in the house",
        ("zone-pressure/probe",),
        clean_pressure,
        _pinch_inside,
        _findings,
        factor_of_two=True,
    ),
    Mistake(
        14,
        "one of two places of the probe in insulation",
        ("zone-pressure/not-repeating", "zone-pressure/sum"),
        read_twice,
        _pinch,
        _findings,
        factor_of_two=True,
    ),
    Mistake(
        15,
        "zone too near the house or outdoors to be divided",
        ("zone-pressure/near-house", "zone-pressure/near-outdoors"),
        clean_pressure,
        _near_end,
        _findings,
        factor_of_two=True,
    ),
    Mistake(
        16,
        "rooms of the house ranked by their pressure",
        ("zone-pressure/room",),
        clean_pressure,
        lambda test, _: replace(test, zone=ZoneKind.ROOM),
        _findings,
    ),
    Mistake(
        17,
        "added hole not closed, told by nobody",
        ("zone-pressure/hole-open",),
        clean_hole,
        lambda test, _: replace(test, closed=False, pressure_closed=None),
        lambda test: reduce_added_hole(test).findings,
    ),
    Mistake(
        17,
        "added hole said to be closed but open",
        ("zone-pressure/not-restored",),
        clean_hole,
        lambda test, random: replace(
            test, pressure_closed=round(test.pressure_after + random.normal(0.0, GAUGE), 1)
        ),
        lambda test: reduce_added_hole(test).findings,
    ),
    Mistake(
        29,
        "both pressures typed in inches of water",
        ("zone-pressure/units",),
        clean_pressure,
        _in_inches,
        _findings,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "zone pressure typed in inches of water",
        ("zone-pressure/units",),
        clean_pressure,
        _zone_in_inches,
        _findings,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "fan flows in L/s typed as cfm",
        ("zone-pressure/hole-disagrees", "zone-pressure/flow-rise", "zone-pressure/unsure"),
        clean_hatch,
        lambda test, _: replace(
            test, flow_before=test.flow_before / 0.471947, flow_after=test.flow_after / 0.471947
        ),
        lambda test: reduce_opened_hatch(test).findings,
        factor_of_two=True,
    ),
)
