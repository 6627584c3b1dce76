"""A first hour of air sealing in the demo house, with the fan running to see what pays."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.engine.field_tests import fan_test_flow
from rooftree.job import Test
from rooftree.readings.air_sealing import AirSealingLog, LeakPlace, SealingRow

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.random import Generator

    from rooftree.house import House

INDOORS, OUTDOORS = (69.0 + 459.67) / 1.8, (34.0 + 459.67) / 1.8
CFM = 0.3048**3 / 60.0
STACK = -1.1
"""House against outdoors with the fan sealed, at the gauge [Pa]."""

STEPS = (
    # leak, what is left of it, location, place of the map, minutes, work, dollars
    ("hatch", 0.25, "gasket on the attic hatch", "attic hatch", 25, 20, 18.0),
    ("bypass-ceiling", 0.62, "plumbing wall and light fittings", "ceiling", 75, 45, 30.0),
    ("garage-door-gap", 0.4, "weatherstrip, door to garage", "garage wall and door", 100, 20, 24.0),
    ("floor-holes", 0.98, "pipe under the kitchen sink", "floor", 115, 10, 4.0),
)

MAP = (
    LeakPlace("ceiling", 0.20, material_cost=60.0, work=3.0 * 3600.0),
    LeakPlace("attic hatch", 0.03, sealable=0.8),
    LeakPlace("floor", 0.15, material_cost=80.0, work=3.0 * 3600.0),
    LeakPlace("bonus room and knee walls", 0.35, material_cost=220.0, work=7.0 * 3600.0),
    LeakPlace("garage wall and door", 0.06, material_cost=30.0, work=1.5 * 3600.0),
    LeakPlace("walls and windows", 0.18, sealable=0.2, material_cost=90.0, work=6.0 * 3600.0),
)
"""What the assessor guessed from the zone pressures, with the work that each would take."""


def tests(house: House, rng: Generator) -> Iterator[Test]:
    """Yield the log; the last location is too small to be told from the noise."""
    rows = [_row(house, rng, 0.0)]
    for leak, left, location, place, minutes, work, dollars in STEPS:
        house = _sealed(house, leak, left)
        row = _row(house, rng, 60.0 * minutes)
        rows.append(
            replace(row, location=location, place=place, work=60.0 * work, material_cost=dollars)
        )
    yield Test(
        id="test-sealing",
        name="First hour of air sealing",
        visit="visit-1",
        instrument="fan-1",
        reading=AirSealingLog(
            tuple(rows),
            MAP,
            baseline_pressure=STACK,
            labor_rate=65.0 / 3600.0,
            holes_closed=True,
        ),
    )


def _sealed(house: House, leak: str, left: float) -> House:
    leaks = tuple(
        replace(one, coefficient=left * one.coefficient) if one.id == leak else one
        for one in house.leaks
    )
    return replace(house, leaks=leaks)


def _row(house: House, rng: Generator, time: float) -> SealingRow:
    held = 50.0 + float(rng.normal(0.0, 0.6))
    shown = fan_test_flow(house, held, indoor_temperature=INDOORS, outdoor_temperature=OUTDOORS)
    flow = shown.flow * float(rng.normal(1.0, 0.006))
    pressure = STACK - held + float(rng.normal(0.0, 0.3))
    return SealingRow(
        time, "", round(pressure, 1), round(flow / CFM, -1) * CFM, configuration="open"
    )
