"""Carbon dioxide in the demo house: a morning with everybody out, after a night with all in."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.engine.field_tests import fan_test_flow
from rooftree.job import Test
from rooftree.readings.tracer_decay import (
    Activity,
    OutdoorReading,
    SteadyReading,
    TracerDecayTest,
    TracerReading,
    generation_rates,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.random import Generator

    from rooftree.house import House

MINUTE, HOUR = 60.0, 3600.0
OUTDOORS = 428.0
"""Carbon dioxide of the demo's street on that day [ppm]."""

DIVISOR = 17.0
"""Leakage at 50 Pa over what leaks on that cold morning [-]."""


def tests(house: House, rng: Generator) -> Iterator[Test]:
    """Yield the decay, read every five minutes in two rooms, with the night before it."""
    volume = sum(space.volume for space in house.living_spaces)
    flow = fan_test_flow(house, 50.0).flow / DIVISOR
    rate = flow / volume
    people = house.use.people
    night = people * generation_rates()[Activity.ASLEEP].rate / flow * 1e6
    lines = []
    for room, share in (("living room", 0.98), ("bedroom 2", 1.02)):
        for step in range(28):
            time = 5.0 * MINUTE * step
            excess = 1150.0 * share * math.exp(-rate * time)
            lines.append(TracerReading(time, _shown(OUTDOORS + excess, rng), room))
    steady = tuple(
        SteadyReading(
            time * HOUR,
            _shown(OUTDOORS + night * (1.0 - 0.2 * math.exp(-rate * time * HOUR)), rng),
        )
        for time in (4.0, 5.0, 6.0)
    )
    yield Test(
        id="test-tracer",
        name="Carbon dioxide after everybody left",
        visit="visit-1",
        reading=TracerDecayTest(
            lines=tuple(lines),
            outdoors=(
                OutdoorReading(_shown(OUTDOORS, rng), -15.0 * MINUTE),
                OutdoorReading(_shown(OUTDOORS + 4.0, rng), 150.0 * MINUTE),
            ),
            is_mixed=True,
            steady=steady,
            steady_people=float(people),
            steady_activity=Activity.ASLEEP,
        ),
    )


def _shown(concentration: float, rng: Generator) -> float:
    return float(round(concentration + rng.normal(0.0, 4.0)))
