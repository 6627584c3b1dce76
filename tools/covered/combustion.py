"""Round trips of the flue gas, the spillage and the pressure at one burner."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from covered.method import Method
from rooftree.readings.combustion import CombustionTest, SpillageCheck, reduce_combustion

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.physics.propagation import Propagated

BLANK = CombustionTest(
    "water heater", "natural draft", 0.0, None, None, 0.0, 0.0, "", None, None, False, 283.15,
)  # fmt: skip
ULTIMATE = 0.121


def _burner(rng: Generator) -> tuple[float, float, float]:
    """Return true air-free carbon monoxide, and thinned by excess air with its oxygen share."""
    free = float(rng.uniform(20.0, 500.0))
    thinned = float(rng.uniform(0.3, 0.9))
    return free, free * thinned, 0.209 * (1.0 - thinned)


def by_oxygen(rng: Generator) -> tuple[float, Propagated] | None:
    """Read carbon monoxide and oxygen with the noise of their cells."""
    free, measured, oxygen = _burner(rng)
    test = replace(
        BLANK,
        flue_co=measured * (1.0 + 0.05 * rng.normal()),
        flue_oxygen=max(oxygen + 0.002 * rng.normal(), 0.0),
    )
    found = reduce_combustion(test).gas.air_free
    return (free, found) if found else None


def by_carbon_dioxide(rng: Generator) -> tuple[float, Propagated] | None:
    """Read carbon dioxide instead; the gas of the day differs from the handbook's."""
    free, measured, oxygen = _burner(rng)
    ultimate = ULTIMATE * (1.0 + 0.02 * rng.normal())
    dioxide = ultimate * (1.0 - oxygen / 0.209)
    test = replace(
        BLANK,
        flue_co=measured * (1.0 + 0.05 * rng.normal()),
        flue_carbon_dioxide=dioxide + 0.002 * rng.normal(),
    )
    found = reduce_combustion(test).gas.air_free
    return (free, found) if found else None


def net_pressure(rng: Generator) -> tuple[float, Propagated]:
    """Read baseline and worst case with a gauge good to half a pascal."""
    baseline, net = rng.normal(0.0, 1.5), -rng.uniform(0.5, 8.0)
    test = replace(
        BLANK,
        baseline_pressure=baseline + 0.5 * rng.normal(),
        worst_pressure=baseline + net + 0.5 * rng.normal(),
    )
    return float(net), reduce_combustion(test).zone


def spillage(rng: Generator) -> tuple[float, Propagated] | None:
    """Look at the draft hood every five to fifteen seconds, with a thumb good to two."""
    end = float(rng.uniform(5.0, 200.0))
    looks, time = [], 0.0
    while time < end + 20.0:
        time += float(rng.uniform(5.0, 15.0))
        looks.append(SpillageCheck(max(time + 2.0 * rng.normal(), 0.0), time < end))
    found = reduce_combustion(replace(BLANK, spillage_checks=tuple(looks))).spillage.end
    return (end, found) if found else None


METHODS = (
    Method("carbon monoxide air free, by oxygen", by_oxygen,
           "20 to 500 ppm, 10 to 70 % spare air in the sample"),
    Method("carbon monoxide air free, by carbon dioxide", by_carbon_dioxide,
           "the same, and the gas of the day by 2 %"),
    Method("worst case less baseline at a burner", net_pressure, "-0.5 to -8 Pa"),
    Method("end of spillage between two looks", spillage, "5 to 200 s, looks 5 to 15 s apart"),
)  # fmt: skip
