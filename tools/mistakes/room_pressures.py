"""Mistakes made with pressures of rooms and house, and whether the reductions notice them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from covered.room_pressures import ROOMS, draw_house, read_house
from mistakes.mistake import Mistake
from rooftree.readings.room_pressures import (
    PressureReading,
    RoomPressureTest,
    reduce_room_pressures,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from numpy.random import Generator

    from rooftree.finding import Finding

INCH_OF_WATER = 249.089
CFM_PER_LITRE = 2.118880
FLOW_50, EXPONENT = 0.5, 0.65


def reduce(test: RoomPressureTest) -> tuple[Finding, ...]:
    """Return the findings, the house's leakage known."""
    return reduce_room_pressures(
        test, flow_50=FLOW_50, exponent=EXPONENT, exponent_uncertainty=0.03
    ).findings


def clean(random: Generator) -> RoomPressureTest:
    """Read all states of a house of known leakage, registers and open doors too."""
    house = replace(draw_house(random), flow_50=FLOW_50, exponent=EXPONENT)
    leak = random.uniform(0.0, 0.02)
    house = replace(house, supply_leak=leak, return_leak=0.0, exhaust=random.uniform(0.06, 0.14))
    test = read_house(house, random, registers=True)
    opened = house.pressures(doors_closed=False, air_handler=True)
    rows = [
        PressureReading(
            f"room {i}",
            float(opened[i] - opened[0] + random.normal(0.0, test.reading_uncertainty)),
            doors_closed=False,
        )
        for i in range(1, ROOMS + 1)
    ]
    back = sum(house.flows) * (1.0 + test.flow_uncertainty * random.standard_normal())
    return replace(
        test,
        pressures=tuple(_as_shown([*test.pressures, *rows])),
        main_supply_flow=0.0,
        main_return_flow=back,
    )


def _as_shown(rows: Iterable[PressureReading]) -> list[PressureReading]:
    """Return readings as a gauge shows them, to a tenth of a pascal."""
    return [replace(row, pressure=round(row.pressure, 1)) for row in rows]


def _scaled(factor: float) -> Callable[[RoomPressureTest, Generator], RoomPressureTest]:
    def spoil(test: RoomPressureTest, _: Generator) -> RoomPressureTest:
        rows = tuple(replace(row, pressure=factor * row.pressure) for row in test.pressures)
        return replace(test, pressures=rows)

    return spoil


def _scaled_flows(factor: float) -> Callable[[RoomPressureTest, Generator], RoomPressureTest]:
    def spoil(test: RoomPressureTest, _: Generator) -> RoomPressureTest:
        rooms = tuple(
            replace(room, supply_flow=factor * (room.supply_flow or 0.0)) for room in test.rooms
        )
        return replace(test, rooms=rooms)

    return spoil


def shut_door(test: RoomPressureTest, _: Generator) -> RoomPressureTest:
    """Leave every door shut where it is said to be open."""
    shut = {
        row.room: row.pressure for row in test.pressures if row.doors_closed and row.air_handler
    }
    rows = tuple(
        row if row.doors_closed or not row.room else replace(row, pressure=shut[row.room])
        for row in test.pressures
    )
    return replace(test, pressures=rows)


def still_running(test: RoomPressureTest, _: Generator) -> RoomPressureTest:
    """Let the air handler run where it is said to be off."""
    on = {row.room: row.pressure for row in test.pressures if row.doors_closed and row.air_handler}
    rows = tuple(
        row if row.air_handler or not row.doors_closed else replace(row, pressure=on[row.room])
        for row in test.pressures
    )
    return replace(test, pressures=rows)


def swapped_hoses(test: RoomPressureTest, _: Generator) -> RoomPressureTest:
    """Swap the hoses for the rooms."""
    rows = tuple(
        replace(row, pressure=-row.pressure) if row.room else row for row in test.pressures
    )
    return replace(test, pressures=rows)


def pinched_tube(test: RoomPressureTest, random: Generator) -> RoomPressureTest:
    """Pinch the tube under one door."""
    sigma = test.reading_uncertainty
    rows = tuple(
        replace(row, pressure=round(float(random.normal(0.0, sigma)), 1))
        if row.room == "room 1"
        else row
        for row in test.pressures
    )
    return replace(test, pressures=rows)


def dead_exhaust(test: RoomPressureTest, random: Generator) -> RoomPressureTest:
    """Read the house with an exhaust fan on whose damper is stuck."""
    still = next(
        row.pressure
        for row in test.pressures
        if not (row.room or row.doors_closed or row.air_handler or row.exhausts)
    )
    shown = still + random.normal(0.0, test.reading_uncertainty)
    rows = tuple(replace(row, pressure=shown) if row.exhausts else row for row in test.pressures)
    return replace(test, pressures=rows)


def left_out(test: RoomPressureTest, _: Generator) -> RoomPressureTest:
    """Leave out two of three rooms that are fed."""
    names = ("room 2", "room 3")
    return replace(
        test,
        pressures=tuple(row for row in test.pressures if row.room not in names),
        rooms=tuple(room for room in test.rooms if room.name not in names),
    )


MISTAKES: tuple[Mistake, ...] = (
    Mistake(
        5,
        "inside doors shut where they are said to be open",
        ("room_pressures/open-door",),
        clean,
        shut_door,
        reduce,
    ),
    Mistake(
        6,
        "air handler running where it is said to be off",
        ("room_pressures/not-off",),
        clean,
        still_running,
        reduce,
    ),
    Mistake(
        29,
        "pascals entered as inches of water",
        ("room_pressures/units",),
        clean,
        _scaled(INCH_OF_WATER),
        reduce,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "inches of water entered as pascals",
        ("room_pressures/units", "room_pressures/silent-room"),
        clean,
        _scaled(1.0 / INCH_OF_WATER),
        reduce,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "register flows: L/s entered as cfm",
        ("room_pressures/opening-and-registers", "room_pressures/rooms-do-not-balance"),
        clean,
        _scaled_flows(1.0 / CFM_PER_LITRE),
        reduce,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "register flows: cfm entered as L/s",
        ("room_pressures/opening-and-registers", "room_pressures/rooms-do-not-balance"),
        clean,
        _scaled_flows(CFM_PER_LITRE),
        reduce,
        factor_of_two=True,
    ),
    Mistake(3, "hoses swapped", ("room_pressures/sign",), clean, swapped_hoses, reduce),
    Mistake(
        14,
        "tube pinched under a door",
        ("room_pressures/silent-room",),
        clean,
        pinched_tube,
        reduce,
    ),
    Mistake(
        None,
        "exhaust fan that moves nothing",
        ("room_pressures/exhaust-weak", "room_pressures/exhaust-sign"),
        clean,
        dead_exhaust,
        reduce,
    ),
    Mistake(
        None,
        "two of three rooms left out of the balance",
        ("room_pressures/rooms-do-not-balance",),
        clean,
        left_out,
        reduce,
    ),
)
