"""Fan tests made from a known curve, for the tests of this folder."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.physics.air import moist_air_density
from rooftree.readings.airtightness import (
    Direction,
    Enclosure,
    Fan,
    FanReading,
    FanTest,
    LeakageCurve,
    Standard,
    Station,
)

if TYPE_CHECKING:
    from collections.abc import Iterable

HOUSE = Enclosure(volume=340.0, floor_area=140.0, envelope_area=300.0, height=5.0)
"""The house of the worked chain."""

CURVE = LeakageCurve(0.025, 0.65)
"""A middling house [m³/(s·Paⁿ)]."""

USUAL_PRESSURES = (60.0, 50.0, 40.0, 30.0, 20.0, 10.0)

CALM = 293.15
"""Same temperature in and out, so that nothing is corrected [K]."""

CALM_OUTDOORS = CALM + 1e-5
"""The same for every purpose, yet not the same number typed twice [K]."""

CUBIC_METRE_PER_HOUR = 1.0 / 3600.0

DRY_INDOOR_DENSITY = moist_air_density(293.15)


def made_test(
    curve: LeakageCurve = CURVE,
    pressures: Iterable[float] = USUAL_PRESSURES,
    *,
    direction: Direction = Direction.DEPRESSURIZE,
    standard: Standard = Standard.ISO_9972,
    baseline: float = 0.0,
    factors: Iterable[float] | None = None,
    indoor: float = CALM,
    outdoor: float = CALM_OUTDOORS,
) -> FanTest:
    """Return what would be read on a house that leaks along a curve.

    The curve is that of the enclosure at test conditions; `factors` multiply the flows.
    """
    induced = tuple(pressures)
    sense = -1.0 if direction is Direction.DEPRESSURIZE else 1.0
    inside, outside = moist_air_density(indoor), moist_air_density(outdoor)
    at_fan, at_leaks = (inside, outside) if sense < 0.0 else (outside, inside)
    fan = Fan("fan", calibration_density=at_fan)
    return FanTest(
        direction=direction,
        standard=standard,
        baseline_before=(baseline,),
        baseline_after=(baseline,),
        stations=tuple(
            Station(
                sense * p + baseline,
                (FanReading("fan", factor * curve.flow(p) * at_leaks / at_fan),),
            )
            for p, factor in zip(induced, factors or [1.0] * len(induced), strict=True)
        ),
        fans=(fan,),
        indoor_temperature=indoor,
        outdoor_temperature=outdoor,
        barometric_pressure=101_325.0,
        relative_humidity=0.0,
    )


def worked_chain(standard: Standard = Standard.ISO_9972) -> FanTest:
    """Return the worked chain: 20 °C in, 0 °C out, baselines -1.6 and -1.2 Pa."""
    pressures = (-61.6, -52.0, -41.3, -31.6, -21.5, -11.3)
    flows = (1452, 1302, 1105, 928, 704, 443)
    return FanTest(
        direction=Direction.DEPRESSURIZE,
        standard=standard,
        baseline_before=(-1.6,),
        baseline_after=(-1.2,),
        stations=tuple(
            Station(p, (FanReading("fan", q * CUBIC_METRE_PER_HOUR),))
            for p, q in zip(pressures, flows, strict=True)
        ),
        fans=(Fan("fan", calibration_density=DRY_INDOOR_DENSITY),),
        indoor_temperature=293.15,
        outdoor_temperature=273.15,
        barometric_pressure=101_325.0,
        relative_humidity=0.0,
    )


def with_station(test: FanTest, number: int, station: Station) -> FanTest:
    """Return the test with one station, counted from 1, replaced."""
    stations = list(test.stations)
    stations[number - 1] = station
    return replace(test, stations=tuple(stations))


def with_flow_times(test: FanTest, number: int, factor: float) -> FanTest:
    """Return the test with the flow of one station, counted from 1, multiplied."""
    old = test.stations[number - 1]
    flow = old.fans[0].flow
    assert flow is not None
    return with_station(test, number, replace(old, fans=(FanReading("fan", factor * flow),)))


def wiggle(count: int, size: float) -> list[float]:
    """Return factors that scatter by about `size`, the same ones each time."""
    return [1.0 + size * math.sin(2.4 * (i + 1)) for i in range(count)]
