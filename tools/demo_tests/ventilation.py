"""Fans of the demo house: what a hood on their grilles and a box on the hood showed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.job import Test
from rooftree.readings.ventilation import (
    FanPurpose,
    FanReading,
    FlowMethod,
    VentilationTest,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.random import Generator

    from rooftree.house import House

CFM = 4.719474e-4


def tests(house: House, rng: Generator) -> Iterator[Test]:
    """Yield one round of the fans; the bath fan is poor, its grille was dusty and uneven."""
    moved = {fan.id: fan.flow for fan in house.fans}
    bath, again = (_shown(moved["bath-fan"], rng, 0.10) for _ in range(2))
    fans = (
        FanReading(
            "bath fan",
            FanPurpose.BATH,
            bath,
            turned_flow=again,
            is_even=False,
            is_clean=False,
            rated_flow=50.0 * CFM,
            window_opens=True,
        ),
        FanReading("kitchen", FanPurpose.KITCHEN_HOOD, method=FlowMethod.NO_FAN, window_opens=True),
        FanReading(
            "clothes dryer",
            FanPurpose.DRYER,
            _shown(moved["dryer"], rng, 0.08),
            method=FlowMethod.BOX,
        ),
    )
    yield Test(
        id="test-fans",
        name="Fans as found",
        visit="visit-1",
        reading=VentilationTest(fans),
    )


def _shown(flow: float, rng: Generator, scatter: float) -> float:
    return round(flow * math.exp(rng.normal(0.0, scatter)) / CFM) * CFM
