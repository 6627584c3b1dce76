"""Pressures of the demo's bedrooms and of the whole house, as a gauge in the hall showed them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.engine.field_tests import exhaust_pressure, fan_test_flow
from rooftree.job import Test
from rooftree.physics.openings import opening_flow
from rooftree.readings.room_pressures import (
    Exhaust,
    PressureReading,
    Reference,
    Room,
    RoomPressureTest,
)
from rooftree.readings.room_pressures.house_shift import flow_shift, shift_flow

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.random import Generator

    from rooftree.house import House

INDOORS, OUTDOORS = (69.0 + 459.67) / 1.8, (34.0 + 459.67) / 1.8
INCH, DOOR, SHARE, HEIGHT = 0.0254, 0.76, 0.07, 2.6
ROOMS = (("bedroom 1", 0.50, 0.14), ("bedroom 2", 0.375, 0.12), ("bedroom 3", 0.50, 0.12))
"""Name, gap under the door [in], share of what the air handler moves."""


def tests(house: House, rng: Generator) -> Iterator[Test]:
    """Yield one walk with the gauge."""
    yield Test(
        id="test-rooms",
        name="Room and house pressures",
        visit="visit-1",
        instrument="gauge-1",
        reading=_walk(house, rng),
    )


def _walk(house: House, rng: Generator) -> RoomPressureTest:
    handler = house.air_handler
    if handler is None:
        message = "the demo house has an air handler"
        raise ValueError(message)
    flow_50 = fan_test_flow(house, 50.0).flow
    closed = {
        name: _closed(gap * INCH * DOOR, share * handler.flow, flow_50)
        for name, gap, share in ROOMS
    }
    lost = sum(SHARE * shift_flow(pressure, flow_50, 0.65) for pressure in closed.values())
    still = -1.1  # the stack of a cold day at the gauge
    opened = still + _house(house, (), air_handler=True)
    rows = [
        _main(still, rng, doors_closed=False, air_handler=False),
        _main(opened, rng, doors_closed=False, air_handler=True),
        _main(opened + flow_shift(-lost, flow_50, 0.65), rng, doors_closed=True, air_handler=True),
    ]
    for fan in ("bath-fan", "dryer"):
        pulled = still + _house(house, (fan,), air_handler=False)
        rows.append(_main(pulled, rng, doors_closed=False, air_handler=False, exhausts=fan))
    for name, pressure in closed.items():
        rows.append(PressureReading(name, _shown(pressure, rng)))
        rows.append(PressureReading(name, _shown(0.0, rng), air_handler=False))
    fans = {fan.id: fan.flow for fan in house.fans}
    return RoomPressureTest(
        pressures=tuple(rows),
        rooms=tuple(Room(name, gap * INCH, leakage_share=SHARE) for name, gap, _ in ROOMS),
        exhausts=(Exhaust("bath-fan", fans["bath-fan"]), Exhaust("dryer", fans["dryer"])),
        house_height=HEIGHT,
        indoor_temperature=INDOORS,
        outdoor_temperature=OUTDOORS,
    )


def _house(house: House, running: tuple[str, ...], *, air_handler: bool) -> float:
    return exhaust_pressure(
        house,
        "living",
        running=running,
        air_handler=air_handler,
        indoor_temperature=INDOORS,
        outdoor_temperature=OUTDOORS,
    )


def _closed(gap: float, fed: float, flow_50: float) -> float:
    """Return the pressure at which gap and leaks of a room pass what it is fed [Pa]."""
    low, high = 0.0, 100.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        out = opening_flow(gap, middle) + SHARE * shift_flow(middle, flow_50, 0.65)
        low, high = (middle, high) if out < fed else (low, middle)
    return low


def _shown(pressure: float, rng: Generator) -> float:
    return round(pressure + float(rng.normal(0.0, 0.15)), 1)


def _main(pressure: float, rng: Generator, **state: bool | str) -> PressureReading:
    return PressureReading("", _shown(pressure, rng), Reference.OUTDOORS, **state)  # type: ignore[arg-type]
