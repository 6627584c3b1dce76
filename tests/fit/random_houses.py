"""Houses drawn at random about one that was described, and what gauges would read in them."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from engine.houses import make_house, make_leak, make_space
from rooftree.engine.duct_paths import Ducts
from rooftree.engine.duct_tests import (
    simulate_delta_q,
    simulate_duct_leakage,
    simulate_duct_subtraction,
)
from rooftree.engine.field_tests import (
    fan_test_flow,
    simulate_added_hole,
    simulate_opened_hatch,
    simulate_zone_pressure,
)
from rooftree.engine.pressure_tests import simulate_room_pressures
from rooftree.fit import FittedUnknown, MeasuredCurve, Read
from rooftree.fit.fitted_house import put_into_house
from rooftree.fit.unknowns import Role, unknowns_of
from rooftree.house import AirHandler, DuctRun, Fan, House, LeakKind
from rooftree.known import How, Known
from rooftree.readings.zone_pressures import Boundary

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.readings.zone_pressures import AddedHoleTest, OpenedHatchTest, ZonePressureTest

TAPED = {"coefficient": Known(How.MEASURED, "tape")}
COMMON = {"(cracks)": 0.5, "(ducts)": 0.5}
"""Spread of the common factors of the true houses: the prior of the fit is wider."""

FLOW, CALIBRATION, EXPONENT, PRESSURE, HOLE = 0.01, 0.025, 0.01, 0.3, 0.1
"""Standard deviations with which flows, the fan, exponents, pressures and holes are read."""


def described_house(*, with_ducts: bool = True) -> House:
    """Return a house over a crawlspace, under an attic, beside a garage, as described."""
    house = make_house(
        make_space("house"),
        make_space("attic", kind="attic", floor_level=3.0),
        make_space("crawl", kind="crawlspace", floor_level=0.0, height=0.6),
        make_space("garage", kind="garage", floor_level=0.0),
        leaks=(
            make_leak("walls", "house", coefficient=0.03),
            make_leak("ceiling", "house", "attic", coefficient=0.025, level=3.0),
            make_leak("floor", "house", "crawl", coefficient=0.02, level=0.5),
            make_leak("wall", "house", "garage", coefficient=0.008, level=1.5),
            make_leak("soffits", "attic", coefficient=0.10, exponent=0.5, kind=LeakKind.VENT),
            make_leak("vents", "crawl", coefficient=0.06, exponent=0.5, kind=LeakKind.VENT),
            make_leak("door", "garage", coefficient=0.05, exponent=0.5, kind=LeakKind.VENT),
        ),
        fans=(Fan("dryer", "dryer", "exhaust", "house", 0.06, (0.0,) * 24, purpose="dryer"),),
        ducts=(
            DuctRun("supply", "supply in the attic", "supply", "attic", 20.0, 0.7, 0.09),
            DuctRun("branch", "supply in the crawlspace", "supply", "crawl", 10.0, 0.7, 0.05),
            DuctRun("return", "return in the crawlspace", "return", "crawl", 8.0, 0.7, 0.07),
            DuctRun("boots", "boots at the registers", "supply", "house", 2.0, 0.7, 0.06),
        ),
        air_handler=AirHandler("crawl", 0.5, 400.0),
    )
    leaks = tuple(
        replace(leak, known=TAPED) if leak.kind is LeakKind.VENT else leak for leak in house.leaks
    )
    house = replace(house, leaks=leaks)
    return house if with_ducts else replace(house, ducts=(), air_handler=None)


def drawn_house(house: House, rng: Generator) -> tuple[House, dict[str, float]]:
    """Return a true house drawn by the spreads before any reading, and its values by key."""
    unknowns = unknowns_of(house)
    drawn = {one.key: float(rng.normal(0.0, COMMON.get(one.key, one.spread))) for one in unknowns}
    values = {
        one.key: drawn[one.key]
        + sum(
            drawn[other.key]
            for other in unknowns
            if other.role is Role.COMMON and one.role is Role.SIZE and one.members <= other.members
        )
        for one in unknowns
        if one.role in (Role.SIZE, Role.EXPONENT)
    }
    fitted = tuple(
        FittedUnknown(one, values[one.key], 1.0, 1.0) for one in unknowns if one.key in values
    )
    return put_into_house(house, fitted), values


@dataclass
class Gauges:
    """Instruments with their noise, the calibration of the fans drawn once.

    Attributes
    ----------
    house : House
        The true house.
    rng : Generator
        Of the noise.
    ducts : Ducts
        How the ducts take part while the air handler stands still.
    """

    house: House
    rng: Generator
    ducts: Ducts

    def __post_init__(self) -> None:
        """Draw the calibrations."""
        self.fan = math.exp(float(self.rng.normal(0.0, CALIBRATION)))
        self.duct_fan = math.exp(float(self.rng.normal(0.0, 0.03)))

    def _flow(self, flow: float) -> float:
        return flow * self.fan * math.exp(float(self.rng.normal(0.0, FLOW)))

    def _pressure(self, pressure: float) -> float:
        return pressure + float(self.rng.normal(0.0, PRESSURE))

    def curve(self) -> MeasuredCurve:
        """Read a fan test."""
        low, high = (fan_test_flow(self.house, p, ducts=self.ducts).flow for p in (10.0, 50.0))
        exponent = math.log(high / low) / math.log(5.0) + float(self.rng.normal(0.0, EXPONENT))
        return MeasuredCurve(self._flow(high), exponent, FLOW, EXPONENT, CALIBRATION)

    def zone(self, space: str) -> ZonePressureTest:
        """Read the pressure of a zone; the house is not quite where its gauge says."""
        test = simulate_zone_pressure(self.house, space, self._pressure(-50.0), ducts=self.ducts)
        return replace(
            test,
            house_pressure=-50.0,
            zone_pressure=self._pressure(test.zone_pressure),
            outdoor_pressure=None,
            pressure_uncertainty=PRESSURE,
        )

    def hole(self, space: str, area: float = 0.05) -> AddedHoleTest:
        """Open a hole whose area was taken with an error."""
        true_area = area * math.exp(float(self.rng.normal(0.0, HOLE)))
        test = simulate_added_hole(self.house, space, Boundary.HOUSE, true_area, ducts=self.ducts)
        return replace(
            test,
            area=area,
            zone_pressure=self._pressure(test.zone_pressure),
            pressure_after=self._pressure(test.pressure_after),
            pressure_uncertainty=PRESSURE,
        )

    def hatch(self, space: str) -> OpenedHatchTest:
        """Open a hatch of unknown size."""
        area = 0.1 * math.exp(float(self.rng.normal(0.0, 0.7)))
        test = simulate_opened_hatch(self.house, space, area, ducts=self.ducts)
        return replace(
            test,
            area=None,
            zone_pressure=self._pressure(test.zone_pressure),
            pressure_after=self._pressure(test.pressure_after),
            flow_before=self._flow(test.flow_before),
            flow_after=self._flow(test.flow_after),
            repeatability=FLOW,
            pressure_uncertainty=PRESSURE,
        )

    def duct_tests(self) -> tuple[Read, ...]:
        """Read the leakage of the ducts to outdoors and by subtraction."""
        out = simulate_duct_leakage(self.house, to_outdoors=True)
        flow = out.flow * self.duct_fan * math.exp(float(self.rng.normal(0.0, 0.01)))
        out = replace(
            out,
            flow=flow,
            duct_house_pressure=None,
            house_pressure=None,
            space_pressure=None,
        )
        sealed = simulate_duct_subtraction(self.house)
        apart = self._pressure(sealed.duct_pressure or 0.0)
        return (
            Read("ducts to outdoors", out),
            Read(
                "registers sealed",
                replace(
                    sealed,
                    flow_open=self._flow(sealed.flow_open),
                    flow_sealed=self._flow(sealed.flow_sealed),
                    duct_pressure=apart,
                    pressure_uncertainty=PRESSURE,
                ),
            ),
        )

    def delta_q(self) -> Read:
        """Read the fan with the air handler off and on."""
        test = simulate_delta_q(self.house)
        flows = tuple(replace(one, flow=self._flow(one.flow)) for one in test.flows)
        return Read("air handler off and on", replace(test, flows=flows))

    def rooms(self) -> Read:
        """Read the pressure of the house with air handler and dryer switched."""
        test = simulate_room_pressures(self.house, ducts=self.ducts)
        rows = tuple(replace(row, pressure=self._pressure(row.pressure)) for row in test.pressures)
        return Read(
            "house pressures",
            replace(test, pressures=rows, pressure_uncertainty=PRESSURE, wind_uncertainty=0.0),
        )

    def everything(self) -> tuple[Read, ...]:
        """Read all tests of a thorough visit."""
        return (
            Read("fan test", self.curve()),
            Read("attic", self.zone("attic")),
            Read("garage", self.zone("garage")),
            Read("hole to the crawlspace", self.hole("crawl")),
            Read("hatch to the attic", self.hatch("attic")),
            *(self.duct_tests() if self.house.ducts else ()),
            *((self.rooms(),) if self.house.ducts else ()),
        )


def gauges(seed: int, *, with_ducts: bool = True) -> tuple[House, dict[str, float], Gauges]:
    """Return the house as described, the true values, and gauges in the true house."""
    rng = np.random.default_rng(seed)
    described = described_house(with_ducts=with_ducts)
    true, values = drawn_house(described, rng)
    return described, values, Gauges(true, rng, Ducts.OPEN if with_ducts else Ducts.LEFT_OUT)
