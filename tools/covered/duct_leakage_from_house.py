"""Duct leakage from house tests: whether the truth is in the range."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from covered.method import Method
from known_air import Path, held_flow, hold
from rooftree.readings.duct_leakage_from_house import (
    DeltaQTest,
    DuctSubtractionTest,
    HouseFlow,
    reduce_delta_q,
    reduce_duct_subtraction,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.random import Generator

    from covered.method import Ranged

CFM = 0.471947e-3
PRESSURES = (-30.0, -22.0, -15.0, -8.0, 8.0, 15.0, 22.0, 30.0)


def _exponent(random: Generator, mean: float, spread: float) -> float:
    return min(max(float(random.normal(mean, spread)), 0.5), 1.0)


@dataclass(frozen=True, slots=True)
class Ducted:
    """A house with leaking supply and return ducts, as it truly is."""

    paths: tuple[Path, ...]
    supply: float
    return_: float
    supply_pressure: float
    return_pressure: float

    def flow(self, pressure: float, *, running: bool) -> float:
        """Return the fan's flow into the house [m³/s]; 0 house, 1 supply, 2 return."""
        up, down = (self.supply_pressure, self.return_pressure) if running else (0.0, 0.0)
        held = (pressure, pressure + up, pressure - down)
        return sum(held_flow(self.paths, held, space) for space in range(3))


def draw_ducted(random: Generator) -> Ducted:
    """Draw house and ducts."""
    house = 1500.0 * CFM * math.exp(random.normal(0.0, 0.3))
    n, m = _exponent(random, 0.65, 0.057), _exponent(random, 0.6, 0.05)
    supply, back = (float(random.uniform(10.0, 200.0)) * CFM for _ in range(2))
    up, down = float(random.uniform(20.0, 60.0)), float(random.uniform(30.0, 80.0))
    paths = (
        Path(0, 3, house / 50.0**n, n),
        Path(1, 3, supply / up**m, m),
        Path(2, 3, back / down**m, m),
    )
    return Ducted(paths, supply, back, up, down)


def read_ducted(house: Ducted, random: Generator, *, gauge: float = 0.3) -> DeltaQTest:
    """Read the fan with the air handler off and on at the same pressures, both ways."""
    right = 1.0 + 0.025 * random.standard_normal()
    flows = []
    for running in (False, True):
        for pressure in PRESSURES:
            true = house.flow(pressure + random.normal(0.0, gauge), running=running)
            shown = true * right * (1.0 + 0.01 * random.standard_normal())
            flows.append(HouseFlow(running, pressure, shown))
    up, down = (
        pressure * math.exp(0.25 * random.standard_normal())
        for pressure in (house.supply_pressure, house.return_pressure)
    )
    return DeltaQTest(up, down, tuple(flows), air_handler_flow=1000.0 * CFM)


def _running(side: str) -> Callable[[Generator], tuple[float, Ranged] | None]:
    def trial(random: Generator) -> tuple[float, Ranged] | None:
        house = draw_ducted(random)
        found = reduce_delta_q(read_ducted(house, random))
        value = found.supply if side == "supply" else found.return_
        truth = house.supply if side == "supply" else house.return_
        return (truth, value) if value else None

    return trial


@dataclass(frozen=True, slots=True)
class Sealed:
    """A house and its ducts at rest: 0 house, 1 ducts, 2 outdoors."""

    open_paths: tuple[Path, ...]
    sealed_paths: tuple[Path, ...]
    leakage: float


def draw_sealed(random: Generator) -> Sealed:
    """Draw house and ducts with registers open and sealed."""
    house = 1500.0 * CFM * math.exp(random.normal(0.0, 0.3))
    n, m = _exponent(random, 0.65, 0.057), _exponent(random, 0.6, 0.05)
    leakage = float(random.uniform(60.0, 400.0)) * CFM
    inside = leakage * float(random.uniform(0.2, 1.0))
    shell = Path(0, 2, house / 50.0**n, n)
    leak = Path(1, 2, leakage / 25.0**m, m)
    registers = Path(0, 1, 0.6 * 0.3 * (2.0 / 1.2041) ** 0.5, 0.5)
    return Sealed((shell, leak, registers), (shell, leak, Path(0, 1, inside / 25.0**m, m)), leakage)


def read_sealed(house: Sealed, random: Generator) -> DuctSubtractionTest:
    """Hold the house at 50 Pa with registers open and sealed."""
    true = 50.0 + random.normal(0.0, 0.5)
    flow_open, _ = hold(2, house.open_paths, true)
    flow_sealed, shown = hold(2, house.sealed_paths, true)
    right = 1.0 + 0.025 * random.standard_normal()
    flows = [q * right * (1.0 + 0.01 * random.standard_normal()) for q in (flow_open, flow_sealed)]
    between = float(shown[0] - shown[1]) + random.normal(0.0, 0.5)
    return DuctSubtractionTest(50.0, flows[0], flows[1], between)


def _subtraction(random: Generator) -> tuple[float, Ranged] | None:
    house = draw_sealed(random)
    found = reduce_duct_subtraction(read_sealed(house, random)).flow_25
    return (house.leakage, found) if found else None


DRAWS = (
    "eight pressures both ways, gauge ± 0.3 Pa, flow repeats to 1 %, calibration ± 2.5 %, duct"
    " pressures ± 25 %, duct exponent 0.6 ± 0.05"
)

METHODS = (
    Method("air handler off and on: supply leakage", _running("supply"), DRAWS),
    Method("air handler off and on: return leakage", _running("return"), DRAWS),
    Method(
        "registers open and sealed: leakage to outdoors",
        _subtraction,
        "60 to 400 cfm at 25 Pa in a house of about 1500 cfm at 50 Pa, flow repeats to 1 %",
    ),
)
