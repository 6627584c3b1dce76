"""Guided air sealing: whether the truth is in the range, for steps, the whole and the map."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from covered.method import Method
from known_air import Path, hold
from rooftree.readings.air_sealing import (
    AirSealingLog,
    LeakPlace,
    SealingRow,
    reduce_air_sealing,
)
from rooftree.readings.air_sealing.leak_map import FIRMNESS

if TYPE_CHECKING:
    from numpy.random import Generator

    from covered.method import Ranged

GAUGE, GUSTS, FAN, REPEATS = 0.5, 0.25, 0.03, 0.005
"""Standard uncertainties: gauge and one pressure [Pa], the fan's calibration and one flow [0-1]."""

PLACES = 6
DRAWN = (
    "6 places, log-normal about their guess by half; exponents 0.65 (0.057) of the house and"
    " 0.03 of each place; share closed by beta distribution; held to 1 Pa"
)


@dataclass(frozen=True, slots=True)
class Sealed:
    """A house sealed place by place: the truth after each row, and the log as read."""

    leaks: tuple[tuple[float, ...], ...]
    """True flow of each place at 50 Pa after each row [m³/s]."""
    log: AirSealingLog

    @property
    def flows(self) -> tuple[float, ...]:
        """True flow of the house at 50 Pa after each row [m³/s]."""
        return tuple(sum(row) for row in self.leaks)


def seal_house(random: Generator, rows: int = 4) -> Sealed:
    """Draw a house and seal some of its places, reading the fan after each."""
    guess = random.uniform(0.05, 0.3, PLACES)
    size = random.uniform(0.5, 2.0)
    spread = np.sqrt(np.log1p(0.5**2))
    leak = size * guess * np.exp(spread * random.standard_normal(PLACES))
    house = random.normal(0.65, 0.057)
    exponents = np.clip(house + 0.03 * random.standard_normal(PLACES), 0.5, 1.0)
    sealable = random.uniform(0.4, 0.8, PLACES)
    order = random.permutation(PLACES)[:rows]
    fan, gauge = 1.0 + FAN * random.standard_normal(), GAUGE * random.standard_normal()
    read, truth = [], []
    for number in range(rows + 1):
        if number:
            k = order[number - 1]
            share = sealable[k]
            leak[k] *= 1.0 - random.beta(FIRMNESS * share, FIRMNESS * (1.0 - share))
        paths = [Path(0, 1, q / 50.0**n, n) for q, n in zip(leak, exponents, strict=True)]
        held = -50.0 + random.standard_normal()
        flow, _ = hold(1, paths, held)
        read.append(
            SealingRow(
                time=1500.0 * number,
                location=f"place {order[number - 1]}" if number else "",
                house_pressure=round(held + gauge + GUSTS * random.standard_normal(), 2),
                fan_flow=abs(flow) * fan * (1.0 + REPEATS * random.standard_normal()),
                work=1200.0 if number else 0.0,
            )
        )
        truth.append(tuple(leak.tolist()))
    places = tuple(
        LeakPlace(f"place {k}", float(guess[k] / guess.sum()), sealable=float(sealable[k]))
        for k in range(PLACES)
    )
    log = AirSealingLog(tuple(read), places, labor_rate=0.02, holes_closed=True)
    return Sealed(tuple(truth), log)


def one_location(random: Generator) -> tuple[float, Ranged] | None:
    """Try the reduction of one location."""
    house = seal_house(random)
    k = int(random.integers(len(house.flows) - 1))
    result = reduce_air_sealing(house.log)
    return house.flows[k] - house.flows[k + 1], result.locations[k].reduction


def whole_log(random: Generator) -> tuple[float, Ranged] | None:
    """Try the reduction from the first row to the last."""
    house = seal_house(random)
    result = reduce_air_sealing(house.log)
    if result.reduction is None:
        return None
    return house.flows[0] - house.flows[-1], result.reduction


def whole_share(random: Generator) -> tuple[float, Ranged] | None:
    """Try the same as a share, from a log held badly."""
    house = seal_house(random)
    result = reduce_air_sealing(replace(house.log, places=()))
    if result.share is None:
        return None
    return 1.0 - house.flows[-1] / house.flows[0], result.share


def left_at_place(random: Generator) -> tuple[float, Ranged] | None:
    """Try what is left at one place of the map, sealed or not."""
    house = seal_house(random)
    k = int(random.integers(PLACES))
    result = reduce_air_sealing(house.log)
    left = next(each for each in result.left if each.place == f"place {k}")
    return house.leaks[-1][k], left.left


METHODS = (
    Method("Reduction of one location", one_location, DRAWN),
    Method("Reduction of the whole log", whole_log, DRAWN),
    Method("The same as a share of the start", whole_share, DRAWN),
    Method("Leakage left at one place of the map", left_at_place, DRAWN),
)
