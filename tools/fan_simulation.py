"""Fan tests as they come back from a visit: a known curve, read with the noise of real gauges."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rooftree.physics.air import moist_air_density
from rooftree.readings.airtightness import (
    Direction,
    Enclosure,
    Fan,
    FanBand,
    FanReading,
    FanTest,
    LeakageCurve,
    Standard,
    Station,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.random import Generator

CONFIGURATIONS = (
    FanBand("open", 25.0, 400.0, 0.120, 0.495),
    FanBand("ring 1", 25.0, 450.0, 0.045, 0.500),
    FanBand("ring 2", 25.0, 450.0, 0.0155, 0.505),
    FanBand("ring 3", 25.0, 450.0, 0.0055, 0.510),
    FanBand("ring 4", 25.0, 450.0, 0.0019, 0.515),
)
"""An invented fan, each configuration with about a third of the flow of the one before."""

_HOLE, _CRACK = 0.5, 0.8

FAN_ERROR, GAUGE_OFFSET, GAUGE_SHARE, FLOW_NOISE = 0.025, 0.10, 0.005, 0.007
"""Standard errors: calibration [0-1], gauge [Pa] and [0-1], one flow [0-1]."""

THERMOMETER, BAROMETER = 1.0, 0.01
"""Standard errors of temperatures [K] and of the barometer, from altitude [0-1]."""


@dataclass(frozen=True, slots=True)
class Truth:
    """What was drawn for one house.

    Attributes
    ----------
    holes, cracks : LeakageCurve
        The two kinds of leaks, at the density of the air in them.
    enclosure : Enclosure
        The tested space.
    """

    holes: LeakageCurve
    cracks: LeakageCurve
    enclosure: Enclosure

    def flow(self, pressure: float) -> float:
        """Return the leakage flow [m³/s] at a pressure [Pa]: no exact power law."""
        return self.holes.flow(pressure) + self.cracks.flow(pressure)

    @property
    def exponent(self) -> float:
        """Slope of ln(flow) between 10 and 60 Pa [-]."""
        return math.log(self.flow(60.0) / self.flow(10.0)) / math.log(6.0)


@dataclass(frozen=True, slots=True)
class Equipment:
    """Errors that the instruments have throughout.

    Attributes
    ----------
    fan_factor : float
        Flow shown over true flow, inverted [-].
    offset, share : float
        Of the pressure gauge [Pa], [-]; the offset is what its zero and its range differ by,
        so that the baseline does not take it off.
    """

    fan_factor: float
    offset: float
    share: float


@dataclass(frozen=True, slots=True)
class Visit:
    """One test with what it was made on.

    Attributes
    ----------
    test : FanTest
        As read.
    truth : Truth
        Of the house.
    equipment : Equipment
        That was used.
    at_leaks : float
        True density of the air in the leaks [kg/m³].
    """

    test: FanTest
    truth: Truth
    equipment: Equipment
    at_leaks: float

    @property
    def enclosure(self) -> Enclosure:
        """The tested space."""
        return self.truth.enclosure


def draw_house(random: Generator) -> Truth:
    """Return an enclosure of one to three floors with 2 to 15 air changes at 50 Pa."""
    floors = int(random.integers(1, 4))
    footprint, ceiling = random.uniform(60, 180), random.uniform(2.3, 2.8)
    area, height = floors * footprint, floors * (ceiling + 0.3) - 0.3
    envelope = 2.0 * footprint + height * 4.2 * math.sqrt(footprint)
    volume = area * ceiling * random.uniform(0.97, 1.05)
    exponent = min(max(random.normal(0.646, 0.057), 0.54), 0.76)
    changes = math.exp(random.uniform(math.log(2.0), math.log(15.0)))
    flow = min(changes * volume / 3600.0, 1.8)
    share = (_CRACK - exponent) / (_CRACK - _HOLE)  # makes the mean exponent as drawn
    return Truth(
        LeakageCurve(share * flow / math.pow(50.0, _HOLE), _HOLE),
        LeakageCurve((1.0 - share) * flow / math.pow(50.0, _CRACK), _CRACK),
        Enclosure(volume, area, envelope, height),
    )


def draw_visit(random: Generator, *, by_fan_pressure: bool = True) -> Visit:
    """Return a clean test of a drawn house in one direction, in weather that is allowed."""
    truth = draw_house(random)
    equipment = Equipment(
        1.0 + random.normal(0.0, FAN_ERROR),
        random.normal(0.0, GAUGE_OFFSET),
        1.0 + random.normal(0.0, GAUGE_SHARE),
    )
    direction = Direction.DEPRESSURIZE if random.random() < 0.5 else Direction.PRESSURIZE
    standard = Standard.ISO_9972 if random.random() < 0.5 else Standard.ASTM_E779
    return make_visit(
        truth, equipment, direction, standard, random, by_fan_pressure=by_fan_pressure
    )


def other_way(visit: Visit, random: Generator, *, turn: bool = True) -> Visit:
    """Return another test of the same house with the same equipment, turned round or not."""
    direction = visit.test.direction
    if turn:
        direction = next(d for d in Direction if d is not direction)
    return make_visit(visit.truth, visit.equipment, direction, visit.test.standard, random)


def make_visit(
    truth: Truth,
    equipment: Equipment,
    direction: Direction,
    standard: Standard,
    random: Generator,
    *,
    by_fan_pressure: bool = True,
) -> Visit:
    """Read a test on a house: wind, drift of the baseline, gauge, fan and flow make noise."""
    sense = -1.0 if direction is Direction.DEPRESSURIZE else 1.0
    wind = random.uniform(0.0, 2.0)
    noise = 0.1 + 0.07 * wind**2
    baseline = random.normal(0.0, 1.2)
    moved = baseline + random.normal(0.0, 0.3)
    pressures = _stations(random)
    indoor, outdoor = random.uniform(289, 299), random.uniform(268, 303)
    inside, outside = (moist_air_density(t) for t in (indoor, outdoor))
    at_fan, at_leaks = (inside, outside) if sense < 0.0 else (outside, inside)

    def shown(pressure: float) -> float:
        read = pressure + random.normal(0.0, noise)
        return round(equipment.share * read, 1)

    rows = []
    configuration = None
    for place, pressure in enumerate(pressures):
        at = place / (len(pressures) - 1)
        flow = truth.flow(pressure) * at_leaks / at_fan * math.sqrt(at_fan / 1.2041)
        flow *= (1.0 + random.normal(0.0, FLOW_NOISE)) / equipment.fan_factor
        configuration = _configuration(flow, configuration)
        rows.append(
            Station(
                shown(sense * (pressure + equipment.offset) + baseline + at * (moved - baseline)),
                (_reading(flow, configuration, by_fan_pressure=by_fan_pressure),),
            )
        )
    test = FanTest(
        direction=direction,
        standard=standard,
        baseline_before=tuple(shown(baseline) for _ in range(6)),
        baseline_after=tuple(shown(moved) for _ in range(6)),
        stations=tuple(rows),
        fans=(Fan("fan", CONFIGURATIONS if by_fan_pressure else (), flow_uncertainty=FAN_ERROR),),
        indoor_temperature=indoor + random.normal(0.0, THERMOMETER),
        outdoor_temperature=outdoor + random.normal(0.0, THERMOMETER),
        barometric_pressure=101_325.0 * (1.0 + random.normal(0.0, BAROMETER)),
        wind_speed=wind,
        height=truth.enclosure.height,
        pressure_uncertainty=math.hypot(GAUGE_OFFSET, 30.0 * GAUGE_SHARE),
    )
    return Visit(test, truth, equipment, at_leaks)


def change_stations(test: FanTest, change: Callable[[int, Station], Station]) -> FanTest:
    """Return the test with each station, counted from 0, changed."""
    return replace(test, stations=tuple(change(i, s) for i, s in enumerate(test.stations)))


def times_flow(station: Station, factor: float) -> Station:
    """Return a station at which the fan moved more air; its gauge shows what it would."""
    (reading,) = station.fans
    if reading.flow is not None:
        return Station(station.pressure, (replace(reading, flow=factor * reading.flow),))
    band = next(b for b in CONFIGURATIONS if b.configuration == reading.configuration)
    assert reading.fan_pressure is not None  # noqa: S101
    fan_pressure = reading.fan_pressure * math.pow(factor, 1.0 / band.exponent)
    return Station(
        station.pressure,
        (FanReading(reading.fan, None, fan_pressure, reading.configuration),),
    )


def shown_at(station: Station, band: FanBand | None) -> Station:
    """Return the station as a gauge set to a configuration shows it; None for that noted."""
    (reading,) = station.fans
    if band is None:
        band = next(b for b in CONFIGURATIONS if b.configuration == reading.configuration)
    assert reading.fan_pressure is not None  # noqa: S101
    flow = band.coefficient * math.pow(reading.fan_pressure, band.exponent)
    return Station(station.pressure, (FanReading(reading.fan, flow=flow),))


def _stations(random: Generator) -> list[float]:
    count = int(random.integers(6, 11))
    step = 50.0 / (count - 1)
    targets = [60.0 - step * i for i in range(count)]
    if random.random() < 0.5:
        targets.reverse()
    return [max(8.0, target + random.uniform(-1.5, 1.5)) for target in targets]


def _configuration(flow: float, before: FanBand | None) -> FanBand:
    """Return what an assessor puts on: what was on, while it is in its band."""

    def is_good(band: FanBand) -> bool:
        pressure = math.pow(flow / band.coefficient, 1.0 / band.exponent)
        return band.low * 1.05 <= pressure <= band.high * 0.95

    if before is not None and is_good(before):
        return before
    good = [band for band in CONFIGURATIONS if is_good(band)]
    return (
        good[len(good) // 2]
        if good
        else CONFIGURATIONS[0 if flow > 0.5 else len(CONFIGURATIONS) - 1]
    )


def _reading(flow: float, band: FanBand, *, by_fan_pressure: bool) -> FanReading:
    if not by_fan_pressure:
        return FanReading("fan", flow=flow)
    pressure = math.pow(flow / band.coefficient, 1.0 / band.exponent)
    return FanReading("fan", fan_pressure=round(pressure, 1), configuration=band.configuration)
