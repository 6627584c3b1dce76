"""Duct leakage: whether the truth is in the range, for each set-up of fan and pressures."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from covered.method import Method
from known_air import Path, held_flow, hold, hole
from rooftree.readings.duct_leakage import (
    DuctFanBand,
    DuctFanReading,
    DuctLeakageTest,
    reduce_duct_leakage,
)

if TYPE_CHECKING:
    from numpy.random import Generator

    from covered.method import Ranged

CFM = 0.471947e-3
GAUGE = 0.25
"""Standard uncertainty of one pressure reading [Pa]."""

BANDS = (
    DuctFanBand("open", 20.0, 400.0, 0.0150, 0.50),
    DuctFanBand("ring", 20.0, 400.0, 0.0055, 0.51),
    DuctFanBand("small", 20.0, 400.0, 0.0021, 0.52),
)
"""Calibration of an invented duct fan."""


@dataclass(frozen=True, slots=True)
class Ducts:
    """Ducts as they truly are: leaks at 25 Pa to the house and outdoors [m³/s], exponents."""

    inside: float
    outdoors: float
    inside_exponent: float
    exponent: float

    def paths(self) -> tuple[Path, ...]:
        """Return the leaks; 0 is the house, 1 the ducts, 2 outdoors."""
        n, m = self.inside_exponent, self.exponent
        return (
            Path(0, 2, 1.0 / 50.0**0.65, 0.65),
            Path(0, 1, self.inside / 25.0**n, n),
            Path(1, 2, self.outdoors / 25.0**m, m),
        )

    @property
    def total(self) -> float:
        """Leakage of both at 25 Pa [m³/s]."""
        return self.inside + self.outdoors


def draw_ducts(random: Generator) -> Ducts:
    """Draw ducts of a house as found."""
    outdoors = 60.0 * CFM * math.exp(random.normal(0.0, 0.6))
    inside = outdoors * math.exp(random.normal(0.0, 0.7))
    n = min(max(random.normal(0.6, 0.05), 0.5), 1.0)
    return Ducts(inside, outdoors, n, n)


def total_flow(ducts: Ducts, random: Generator, pressure: float, *extra: Path) -> float:
    """Return what the duct fan blows with the ducts held above a house that is open."""
    true = pressure + random.normal(0.0, GAUGE)
    paths = (*ducts.paths(), hole(0, 2, 1.8), *extra)
    flow, shown = hold(2, paths, true, space=1)
    # The fan takes its air from the house, so that it is held against the house.
    for _ in range(3):
        flow, shown = hold(2, paths, true + float(shown[0]), space=1, flows=(-flow, 0.0))
    return flow


def outdoors_flow(ducts: Ducts, random: Generator, pressure: float, apart: float = 0.0) -> float:
    """Return what the duct fan blows with the house held at the pressure of the ducts."""
    true = pressure + random.normal(0.0, GAUGE)
    difference = apart + random.normal(0.0, GAUGE)
    return held_flow(ducts.paths(), (true - difference, true), 1)


def shown_flow(flow: float, right: float, random: Generator) -> float:
    """Return a flow as a gauge shows it: calibration and repeatability."""
    return max(flow, 1e-5) * right * math.exp(0.01 * random.standard_normal())


def calibration(random: Generator) -> float:
    """Return how far the fan's calibration is off."""
    return math.exp(0.03 * random.standard_normal())


def fan_reading(
    pressure: float, flow: float, random: Generator, configuration: str | None = None
) -> DuctFanReading:
    """Return the fan pressure that a flow makes, under the first configuration that fits."""
    for band in BANDS:
        fan = (flow / band.coefficient) ** (1.0 / band.exponent)
        wanted = configuration is None or band.configuration == configuration
        if wanted and (band.low <= fan <= band.high or band is BANDS[-1]):
            read = fan + random.normal(0.0, GAUGE)
            return DuctFanReading(pressure, None, round(read, 1), band.configuration)
    return DuctFanReading(pressure, flow)


def _total(random: Generator) -> tuple[float, Ranged] | None:
    ducts = draw_ducts(random)
    flow = shown_flow(total_flow(ducts, random, 25.0), calibration(random), random)
    found = reduce_duct_leakage(DuctLeakageTest(False, 25.0, flow)).flow_25
    return (ducts.total, found) if found else None


def _not_reached(random: Generator) -> tuple[float, Ranged] | None:
    ducts, pressure = draw_ducts(random), float(random.uniform(8.0, 18.0))
    flow = shown_flow(total_flow(ducts, random, pressure), calibration(random), random)
    found = reduce_duct_leakage(DuctLeakageTest(False, pressure, flow)).flow_25
    return (ducts.total, found) if found else None


def _several(random: Generator) -> tuple[float, Ranged] | None:
    ducts, right = draw_ducts(random), calibration(random)
    readings: list[DuctFanReading] = []
    for pressure in (35.0, 25.0, 15.0):
        flow = total_flow(ducts, random, pressure) * right * math.exp(random.normal(0.0, 0.01))
        share = random.uniform(0.4, 0.6)
        parts = (share, 1.0 - share)
        readings += [fan_reading(pressure, flow * part, random) for part in parts]
    test = DuctLeakageTest(False, fan_readings=tuple(readings), calibration=BANDS)
    found = reduce_duct_leakage(test).flow_25
    return (ducts.total, found) if found else None


def _outdoors(
    random: Generator, apart: float = 0.0, *, with_total: bool = False
) -> tuple[float, Ranged] | None:
    ducts, right = draw_ducts(random), calibration(random)
    flow = shown_flow(outdoors_flow(ducts, random, 25.0, apart), right, random)
    test = DuctLeakageTest(True, 25.0, flow, duct_house_pressure=apart)
    total = shown_flow(ducts.total, right, random) if with_total else None
    found = reduce_duct_leakage(test, total_flow_25=total).flow_25
    return (ducts.outdoors, found) if found else None


def _apart(random: Generator) -> tuple[float, Ranged] | None:
    return _outdoors(random, float(random.uniform(-2.0, 3.0)), with_total=True)


def _apart_alone(random: Generator) -> tuple[float, Ranged] | None:
    return _outdoors(random, float(random.uniform(0.5, 3.0)))


DRAWS = "leaks to house and outdoors log-normal, exponent of both from 0.6 ± 0.05, gauge ± 0.25 Pa"

METHODS = (
    Method("total at 25 Pa", _total, f"{DRAWS}, calibration ± 3 %"),
    Method("total at a pressure not reached", _not_reached, f"{DRAWS}, 8 to 18 Pa reached"),
    Method("total with two fans at three pressures", _several, f"{DRAWS}, fan pressures read"),
    Method("to outdoors, house and ducts equal", _outdoors, f"{DRAWS}, leak to the house unknown"),
    Method("to outdoors, house and ducts apart, total known", _apart, f"{DRAWS}, -2 to 3 Pa apart"),
    Method(
        "to outdoors, house and ducts apart, total unknown", _apart_alone, f"{DRAWS}, 0.5 to 3 Pa"
    ),
)
