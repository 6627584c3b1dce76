"""Zone pressures: whether the truth is in the range, for each way to read a zone."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from covered.method import Method
from known_air import Path, hold, hole
from rooftree.readings.zone_pressures import (
    AddedHoleTest,
    Boundary,
    OpenedHatchTest,
    ZonePressureTest,
    reduce_added_hole,
    reduce_opened_hatch,
    reduce_zone_pressure,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.random import Generator

    from covered.method import Ranged

GAUGE = 0.5
"""Standard uncertainty of one pressure reading [Pa]."""


@dataclass(frozen=True, slots=True)
class Zone:
    """A house with one buffer space, as it truly is: flows at 50 Pa [m³/s] and exponents."""

    rest: float
    house: float
    outdoors: float
    exponent: float
    outdoor_exponent: float

    def paths(self) -> tuple[Path, ...]:
        """Return the leaks; 0 is the house, 1 the zone, 2 outdoors."""
        n, m = self.exponent, self.outdoor_exponent
        return (
            Path(0, 2, self.rest / 50.0**0.65, 0.65),
            Path(0, 1, self.house / 50.0**n, n),
            Path(1, 2, self.outdoors / 50.0**m, m),
        )

    @property
    def through(self) -> float:
        """Flow through the zone with the house at 50 Pa [m³/s]."""
        _, shown = hold(2, self.paths(), -50.0)
        return self.house * float((shown[1] - shown[0]) / 50.0) ** self.exponent


def draw_zone(random: Generator, low: float = 0.1, high: float = 0.9) -> Zone:
    """Draw a zone that stands between `low` and `high` of the house pressure."""
    n, m = (min(max(random.normal(0.65, 0.057), 0.5), 1.0) for _ in range(2))
    share, house = random.uniform(low, high), 0.19 * math.exp(random.normal(0.0, 0.5))
    outdoors = house * share**n / (1.0 - share) ** m
    return Zone(house * random.uniform(2.0, 4.0), house, outdoors, n, m)


def _read(random: Generator, pressure: float) -> float:
    return float(pressure + random.normal(0.0, GAUGE))


def read_zone(zone: Zone, random: Generator) -> tuple[float, float, float, float]:
    """Read a zone with the fan on: true and shown house pressure, zone pressure, flow."""
    true = -50.0 + random.normal(0.0, GAUGE)
    flow, shown = hold(2, zone.paths(), true)
    return true, -50.0, _read(random, float(shown[0] - shown[1])), -flow


def _pressure_alone(result: str) -> Callable[[Generator], tuple[float, Ranged] | None]:
    def trial(random: Generator) -> tuple[float, Ranged] | None:
        zone = draw_zone(random)
        _, house, between, _ = read_zone(zone, random)
        found = reduce_zone_pressure(ZonePressureTest("zone", house, between))
        truth = {"ratio": zone.outdoors / zone.house, "path": zone.through / zone.house}
        value = getattr(found, result)
        return (truth[result], value) if value else None

    return trial


def _again(
    zone: Zone, random: Generator, boundary: Boundary, area: float, true: float
) -> tuple[float, float]:
    """Return the zone pressure and the fan's flow with a hole open."""
    ends = (0, 1) if boundary is Boundary.HOUSE else (1, 2)
    size = area * max(1.0 + 0.10 * random.standard_normal(), 0.3)
    flow, shown = hold(2, (*zone.paths(), hole(*ends, size)), true)
    return _read(random, float(shown[0] - shown[1])), -flow


def _hole(boundary: Boundary, result: str) -> Callable[[Generator], tuple[float, Ranged] | None]:
    def trial(random: Generator) -> tuple[float, Ranged] | None:
        low, high = (0.4, 0.9) if boundary is Boundary.HOUSE else (0.1, 0.6)
        zone = draw_zone(random, low, high)
        true, house, before, _ = read_zone(zone, random)
        leak = zone.house if boundary is Boundary.HOUSE else zone.outdoors
        area = leak * random.uniform(0.2, 0.6)
        after, _ = _again(zone, random, boundary, area, true)
        test = AddedHoleTest("zone", house, before, boundary, area, after, closed=True)
        found = reduce_added_hole(test)
        return _outcome(zone, found, result)

    return trial


def _hatch(boundary: Boundary, result: str) -> Callable[[Generator], tuple[float, Ranged] | None]:
    def trial(random: Generator) -> tuple[float, Ranged] | None:
        low, high = (0.4, 0.9) if boundary is Boundary.HOUSE else (0.1, 0.6)
        zone = draw_zone(random, low, high)
        true, house, before, flow = read_zone(zone, random)
        after, more = _again(zone, random, boundary, random.uniform(0.3, 1.0), true)
        right = 1.0 + 0.025 * random.standard_normal()
        flows = [q * right * (1.0 + 0.01 * random.standard_normal()) for q in (flow, more)]
        test = OpenedHatchTest(
            "zone", house, before, after, flows[0], flows[1], closed=True, boundary=boundary
        )
        return _outcome(zone, reduce_opened_hatch(test), result)

    return trial


def _outcome(zone: Zone, found: object, result: str) -> tuple[float, Ranged] | None:
    truth = {"house_50": zone.house, "outdoors_50": zone.outdoors, "flow_50": zone.through}
    value = getattr(found, result)
    return (truth[result], value) if value else None


DRAWS = (
    "a zone at 10 to 90 % of the house pressure, both exponents from 0.65 ± 0.057, gauge ± 0.5 Pa"
)
HOLES = "as above at 40 to 90 % (hole or hatch to outdoors: 10 to 60 %)"

METHODS = (
    Method("one pressure: ratio of both leaks", _pressure_alone("ratio"), DRAWS),
    Method("one pressure: share of the path", _pressure_alone("path"), DRAWS),
    Method(
        "hole to the house: leak to the house",
        _hole(Boundary.HOUSE, "house_50"),
        f"{HOLES}, hole ± 10 %",
    ),
    Method(
        "hole to the house: leak to outdoors",
        _hole(Boundary.HOUSE, "outdoors_50"),
        f"{HOLES}, hole ± 10 %",
    ),
    Method(
        "hole to outdoors: flow through the zone",
        _hole(Boundary.OUTDOORS, "flow_50"),
        f"{HOLES}, hole ± 10 %",
    ),
    Method(
        "opened hatch and the fan's gain: leak to outdoors",
        _hatch(Boundary.HOUSE, "outdoors_50"),
        f"{HOLES}, flow repeats to 1 %, calibration ± 2.5 %",
    ),
    Method(
        "opened hatch and the fan's gain: flow through the zone",
        _hatch(Boundary.HOUSE, "flow_50"),
        f"{HOLES}, flow repeats to 1 %, calibration ± 2.5 %",
    ),
    Method(
        "opened door to outdoors and the fan's gain: leak to the house",
        _hatch(Boundary.OUTDOORS, "house_50"),
        f"{HOLES}, flow repeats to 1 %, calibration ± 2.5 %",
    ),
)
