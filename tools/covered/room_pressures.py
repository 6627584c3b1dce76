"""How often the ranges of the room-pressure reductions hold the truth."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import brentq

from covered.method import Method
from rooftree.engine.network import GRAVITY, solve_once
from rooftree.physics.openings import opening_flow
from rooftree.readings.room_pressures import (
    Exhaust,
    PressureReading,
    Reference,
    Room,
    RoomPressureResult,
    RoomPressureTest,
    reduce_room_pressures,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.random import Generator
    from numpy.typing import NDArray

    from rooftree.physics.propagation import Propagated

ROOMS = 3
INSIDE, LEVELS, GAUGE_LEVEL = 293.15, 9, 1.0
ALLOWED = 3.0
"""Pressure of a closed room that is allowed [Pa]."""

OPEN_DOOR = 1.6
"""Clear area of an open door [m²]."""


@dataclass(frozen=True, slots=True)
class KnownHouse:
    """A main space and three rooms with supply only, as they are, in SI."""

    flow_50: float
    exponent: float
    shares: tuple[float, ...]
    height: float
    outside: float
    discharge: float
    undercuts: tuple[float, ...]
    flows: tuple[float, ...]
    supply_leak: float
    return_leak: float
    exhaust: float

    def pressures(
        self,
        *,
        doors_closed: bool,
        air_handler: bool,
        exhaust: bool = False,
        added: tuple[float, ...] = (0.0,) * ROOMS,
    ) -> NDArray[np.float64]:
        """Return main space and rooms against outdoors at the gauge's level [Pa]."""
        spaces = ROOMS + 1
        first, second, level, size, power = [], [], [], [], []
        whole = self.flow_50 / 50.0**self.exponent
        for space, share in enumerate((1.0 - sum(self.shares), *self.shares)):
            for height in (np.arange(LEVELS) + 0.5) / LEVELS * self.height:
                first.append(space)
                second.append(spaces)
                level.append(float(height))
                size.append(whole * share / LEVELS)
                power.append(self.exponent)
        for room in range(ROOMS):
            area = self.undercuts[room] * 0.76 + added[room] if doors_closed else OPEN_DOOR
            first.append(0)
            second.append(room + 1)
            level.append(GAUGE_LEVEL)
            size.append(opening_flow(area, 1.0, discharge=self.discharge))
            power.append(0.5)
        density = np.array([1.2041] * spaces + [1.2041 * INSIDE / self.outside])
        supply = np.zeros(spaces)
        if air_handler:
            supply[1:] = self.flows
            supply[0] = -sum(self.flows) - self.supply_leak + self.return_leak
        if exhaust:
            supply[0] -= self.exhaust
        balance = solve_once(density, first, second, level, size, power, supply=supply * density[0])
        shown = balance.pressure + (density[-1] - density[0]) * GRAVITY * GAUGE_LEVEL
        return np.asarray(shown)


def draw_house(random: Generator) -> KnownHouse:
    """Draw a house with closed rooms that are fed and not relieved."""
    flows = random.uniform(0.03, 0.07, ROOMS)
    leak = float(random.uniform(0.03, 0.10))
    is_supply = bool(random.integers(2))
    return KnownHouse(
        flow_50=float(random.uniform(0.25, 0.9)),
        exponent=float(np.clip(random.normal(0.65, 0.03), 0.52, 0.8)),
        shares=tuple(float(share) for share in random.uniform(0.05, 0.12, ROOMS)),
        height=float(random.uniform(2.4, 5.2)),
        outside=INSIDE - float(random.uniform(0.0, 20.0)),
        discharge=float(random.normal(0.60, 0.04)),
        undercuts=tuple(float(gap) for gap in random.uniform(0.008, 0.020, ROOMS)),
        flows=tuple(float(flow) for flow in flows),
        supply_leak=leak if is_supply else 0.0,
        return_leak=0.0 if is_supply else leak,
        exhaust=float(random.uniform(0.04, 0.14)),
    )


def read_house(
    house: KnownHouse, random: Generator, *, registers: bool = False
) -> RoomPressureTest:
    """Read every state with a gauge, wind included in its error."""
    test = RoomPressureTest()
    sigma, rows = test.reading_uncertainty, []
    for doors in (False, True):
        for handler in (False, True):
            true = house.pressures(doors_closed=doors, air_handler=handler)
            shown = true - np.array([0.0, *[true[0]] * ROOMS])
            shown += random.normal(0.0, sigma, ROOMS + 1)
            rows.append(PressureReading("", float(shown[0]), Reference.OUTDOORS, doors, handler))
            rows += [
                PressureReading(
                    f"room {i}", float(shown[i]), doors_closed=doors, air_handler=handler
                )
                for i in range(1, ROOMS + 1)
                if doors
            ]
    fan = house.pressures(doors_closed=False, air_handler=False, exhaust=True)[0]
    fan += random.normal(0.0, sigma)
    rows.append(PressureReading("", float(fan), Reference.OUTDOORS, False, False, "bath"))
    return replace(
        test,
        pressures=tuple(rows),
        rooms=tuple(
            Room(
                f"room {i + 1}",
                undercut=house.undercuts[i] + random.normal(0.0, test.undercut_uncertainty),
                supply_flow=house.flows[i]
                * (1.0 + test.flow_uncertainty * random.standard_normal())
                if registers
                else None,
                leakage_share=house.shares[i] * max(1.0 + 0.3 * random.standard_normal(), 0.1),
            )
            for i in range(ROOMS)
        ),
        exhausts=(Exhaust("bath", house.exhaust),),
        house_height=house.height,
        indoor_temperature=INSIDE,
        outdoor_temperature=house.outside,
    )


def reduce_read(house: KnownHouse, test: RoomPressureTest, random: Generator) -> RoomPressureResult:
    """Reduce with the leakage curve as a fan test gave it."""
    return reduce_room_pressures(
        test,
        flow_50=house.flow_50 * (1.0 + 0.05 * random.standard_normal()),
        exponent=float(np.clip(house.exponent + random.normal(0.0, 0.03), 0.5, 0.95)),
        exponent_uncertainty=0.03,
    )


def imbalance_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Read one closed room by its pressure and the gap under its door."""
    house = draw_house(random)
    result = reduce_read(house, read_house(house, random), random)
    room = next(room for room in result.rooms if room.name == "room 1")
    return None if room.through_door is None else (house.flows[0], room.through_door)


def _relief_trial(*, registers: bool) -> Callable[[Generator], tuple[float, Propagated] | None]:
    def trial(random: Generator) -> tuple[float, Propagated] | None:
        house = draw_house(random)
        result = reduce_read(house, read_house(house, random, registers=registers), random)
        room = next(room for room in result.rooms if room.name == "room 1")
        if room.area_to_add is None:
            return None
        return relieving_areas(house)[0], room.area_to_add

    return trial


def relieving_areas(house: KnownHouse) -> tuple[float, ...]:
    """Return the openings that bring all rooms to 3 Pa [m²]; below zero where they are within."""

    def leak(space: int, pressure: float) -> float:
        """Return what leaks from a space whose pressure at the gauge's level is known."""
        shares = (1.0 - sum(house.shares), *house.shares)
        lighter = 1.2041 * (INSIDE / house.outside - 1.0) * GRAVITY
        heights = (np.arange(LEVELS) + 0.5) / LEVELS * house.height - GAUGE_LEVEL
        across = pressure + lighter * heights
        size = house.flow_50 / 50.0**house.exponent * shares[space] / LEVELS
        return float(np.sum(size * np.sign(across) * np.abs(across) ** house.exponent))

    def surplus(main: float) -> float:
        whole = sum(leak(i, main + (ALLOWED if i else 0.0)) for i in range(ROOMS + 1))
        return whole + house.supply_leak - house.return_leak

    main = float(brentq(surplus, -200.0, 200.0, xtol=1e-9))
    per_area = opening_flow(1.0, ALLOWED, discharge=house.discharge)
    return tuple(
        (house.flows[i] - leak(i + 1, main + ALLOWED)) / per_area - house.undercuts[i] * 0.76
        for i in range(ROOMS)
    )


def duct_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Read the house with the air handler on and off, doors open."""
    house = draw_house(random)
    result = reduce_read(house, read_house(house, random), random)
    if result.duct_imbalance is None:
        return None
    return abs(house.supply_leak - house.return_leak), result.duct_imbalance


def exhaust_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Read the house with an exhaust fan on and off."""
    house = draw_house(random)
    result = reduce_read(house, read_house(house, random), random)
    effect = next(effect for effect in result.effects if effect.exhaust)
    return None if effect.flow is None else (-house.exhaust, effect.flow)


_DRAWN = (
    "leakage and its exponent, height, weather, gap, discharge coefficient, share, all readings"
)

METHODS: tuple[Method, ...] = (
    Method("net flow of a closed room by its pressure and door gap", imbalance_trial, _DRAWN),
    Method("opening that relieves it, by pressure and gap", _relief_trial(registers=False), _DRAWN),
    Method(
        "opening that relieves it, by registers and gap",
        _relief_trial(registers=True),
        _DRAWN + ", register flow",
    ),
    Method("duct leakage that is out of balance, by house pressure", duct_trial, _DRAWN),
    Method("flow of an exhaust fan by house pressure", exhaust_trial, _DRAWN),
)
