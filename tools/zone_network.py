"""Invented houses with one appliance zone, as networks: what a gauge would show in them.

For the mistakes and the coverage of the worst-case search. Three spaces: the main rooms, the
rooms behind doors, and the zone with the burner; leaks at three heights, warm air, exhaust
fans, and an air handler whose ducts leak.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rooftree.engine.network import solve_once
from rooftree.readings.worst_case import (
    Answer,
    Combination,
    Hearth,
    Stage,
    WorstCaseTest,
    next_state,
)
from rooftree.readings.worst_case.switches import EXHAUSTS

if TYPE_CHECKING:
    from numpy.random import Generator

MAIN, ROOMS, ZONE, OUTDOORS = range(4)
SQUARE_METRE = 0.6 * (2.0 / 1.2041) ** 0.5
"""Flow through one square metre at one pascal [m³/s]."""
OPEN_DOOR = 1.5 * SQUARE_METRE


@dataclass(frozen=True)
class TrueHouse:
    """A house as it is: what the assessor cannot see."""

    flow_50: float
    exponent: float
    room_share: float
    zone_share: float
    height: float
    indoors: float
    outdoors: float
    door_gap: float
    room_gap: float
    dryer: float
    range_hood: float
    bath_fans: float
    handler_flow: float
    return_leak: float
    supply_leak: float
    zone_return: float

    def pressure(self, combination: Combination, *, dead: frozenset[str] = frozenset()) -> float:
        """Return the zone against outdoors at its floor [Pa]; `dead` fans move nothing."""
        on, turns = combination.exhausts - dead, combination.turns
        coefficient = self.flow_50 / 50.0**self.exponent
        shares = {ROOMS: self.room_share, ZONE: self.zone_share}
        shares[MAIN] = 1.0 - sum(shares.values())
        first, second, level, size, exponent = [], [], [], [], []
        for space, share in shares.items():
            for part in (0.05, 0.5, 0.95):
                first.append(space)
                second.append(OUTDOORS)
                level.append(part * self.height)
                size.append(share * coefficient / 3.0)
                exponent.append(self.exponent)
        doors = (
            (ZONE, self.door_gap, "zone_door_closed"),
            (ROOMS, self.room_gap, "interior_doors_closed"),
        )
        for space, gap, name in doors:
            first.append(space)
            second.append(MAIN)
            level.append(1.0)
            size.append(gap * SQUARE_METRE if name in turns else OPEN_DOOR)
            exponent.append(0.5)
        supply = [0.0, 0.0, 0.0]
        density = [353.05 / self.indoors] * 3 + [353.05 / self.outdoors]
        for name, space in (("dryer", MAIN), ("range_hood", MAIN), ("bath_fans", ROOMS)):
            if name in on:
                supply[space] -= getattr(self, name)
        if "air_handler" in turns:
            supply[ROOMS] += 0.7 * (self.handler_flow - self.supply_leak)
            supply[MAIN] += 0.3 * (self.handler_flow - self.supply_leak)
            supply[MAIN] -= self.handler_flow - self.return_leak - self.zone_return
            supply[ZONE] -= self.zone_return
        balance = solve_once(
            density, first, second, level, size, exponent,
            supply=[flow * density[0] for flow in supply],
        )  # fmt: skip
        return float(balance.pressure[ZONE])

    def net(self, combination: Combination, *, dead: frozenset[str] = frozenset()) -> float:
        """Return what fans do to the zone [Pa], against everything off and doors open."""
        return self.pressure(combination, dead=dead) - self.pressure(Combination())


def draw_house(rng: Generator) -> TrueHouse:
    """Draw a house."""
    handler = rng.uniform(0.35, 0.6)
    leaks = rng.uniform(0.0, 0.12, 2) * handler
    return TrueHouse(
        flow_50=rng.uniform(0.5, 1.6),
        exponent=float(min(max(rng.normal(0.65, 0.057), 0.5), 0.85)),
        room_share=rng.uniform(0.25, 0.45),
        zone_share=rng.uniform(0.03, 0.08),
        height=rng.uniform(2.4, 5.5),
        indoors=294.0,
        outdoors=rng.uniform(268.0, 302.0),
        door_gap=rng.uniform(0.012, 0.05),
        room_gap=rng.uniform(0.03, 0.09),
        dryer=rng.uniform(0.055, 0.09),
        range_hood=rng.uniform(0.08, 0.25),
        bath_fans=rng.uniform(0.03, 0.08),
        handler_flow=handler,
        return_leak=float(leaks[0]),
        supply_leak=float(leaks[1]),
        zone_return=float(rng.uniform(0.0, 0.04) * handler),
    )


def draw_search(
    rng: Generator,
    house: TrueHouse,
    *,
    wind: float = 0.2,
    dead: frozenset[str] = frozenset(),
    stuck: frozenset[str] = frozenset(),
    most: int = 40,
) -> WorstCaseTest:
    """Do the guided search in a house as a careful person would, with a gauge good to 0.3 Pa.

    `dead` fans do not run though they are logged, `stuck` doors stay open.
    """
    noise = (0.3**2 + wind**2) ** 0.5

    def shown(combination: Combination) -> float:
        moved = Combination(combination.exhausts, combination.turns - stuck)
        value = house.pressure(moved, dead=dead) + rng.normal(0.0, noise)
        return round(float(value), 1)

    def measured(value: float, spread: float = 0.10) -> float:
        return float(value * (1.0 + spread * rng.normal()))

    pull = house.supply_leak - house.return_leak - house.zone_return
    test = WorstCaseTest(
        "closet",
        hearth=Hearth.NONE,
        closed_up=Answer.YES,
        dryer_flow=measured(house.dryer),
        range_hood_flow=measured(house.range_hood),
        bath_fans_flow=measured(house.bath_fans),
        air_handler_pull=measured(pull + house.zone_return),
        zone_return_leak=measured(house.zone_return),
        door_gap=measured(house.door_gap, 0.2),
        zone_share=0.055,
        height=house.height,
        indoor_temperature=house.indoors,
        outdoor_temperature=house.outdoors,
        fans_restored=Answer.YES,
        doors_restored=Answer.YES,
    )
    for _ in range(most):
        following = next_state(test)
        if following is None:
            break
        if following.stage in (Stage.BASELINE, Stage.BASELINE_AFTER):
            three = tuple(shown(Combination()) for _ in range(3))
            name = "before" if following.stage is Stage.BASELINE else "after"
            test = replace(test, **{f"baseline_{name}": three})
        else:
            state = following.combination.state(shown(following.combination))
            test = replace(test, states=(*test.states, state))
    return test


def leakage_read(rng: Generator, house: TrueHouse) -> tuple[float, float]:
    """Return flow at 50 Pa and exponent as a fan test gives them."""
    return (
        float(house.flow_50 * (1.0 + 0.05 * rng.normal())),
        float(house.exponent + 0.02 * rng.normal()),
    )


ALL_EXHAUSTS = frozenset(EXHAUSTS) - {"other_exhaust"}
"""The fans that these houses have."""
