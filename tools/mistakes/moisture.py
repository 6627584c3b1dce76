"""Mistakes of moisture readings: wrong scale, moved probes, sun, metal, wrong wood."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from mistakes.mistake import Mistake
from rooftree.physics.wood_moisture import wood_equilibrium
from rooftree.readings.moisture import (
    AirReading,
    Finish,
    InTheWay,
    MoistureTest,
    PlaceKind,
    SurfaceReading,
    Thermometer,
    Wood,
    WoodReading,
    reduce_moisture,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from numpy.random import Generator

    from rooftree.finding import Finding

ZERO = 273.15


def _air(
    random: Generator, name: str, kind: PlaceKind, celsius: float, humidity: float
) -> AirReading:
    """Return a settled probe's two readings."""
    temperature = celsius + ZERO + random.normal(0.0, 0.3)
    share = min(max(humidity + random.normal(0.0, 0.02), 0.05), 0.99)
    return AirReading(
        name,
        kind,
        temperature,
        share,
        earlier_temperature=temperature + random.normal(0.0, 0.2),
        earlier_humidity=share + random.normal(0.0, 0.005),
    )


def visit(random: Generator) -> MoistureTest:
    """Return a heating-season visit with four faces and five joists, well read."""
    outdoors, inside = random.uniform(-8.0, 8.0), random.uniform(19.5, 23.5)
    crawl, damp = random.uniform(9.0, 16.0), random.uniform(0.55, 0.85)
    faces = tuple(
        SurfaceReading(
            f"face {number}",
            ZERO
            + outdoors
            + (inside - outdoors) * random.uniform(0.60, 0.95)
            + random.normal(0.0, 0.7),
            "hall",
            thermometer=Thermometer.CONTACT,
            sunless_time=random.uniform(4.0, 12.0) * 3600.0,
        )
        for number in range(1, 5)
    )
    balance = wood_equilibrium(crawl + ZERO, damp)
    joists = tuple(
        WoodReading(
            f"joist {number}",
            max(balance + random.exponential(0.015) + random.normal(0.0, 0.015), 0.05),
            "crawl",
        )
        for number in range(1, 6)
    )
    return MoistureTest(
        (
            _air(random, "yard", PlaceKind.OUTDOORS, outdoors, random.uniform(0.5, 0.9)),
            _air(random, "hall", PlaceKind.LIVING, inside, random.uniform(0.25, 0.50)),
            _air(random, "crawl", PlaceKind.CRAWLSPACE, crawl, damp),
        ),
        faces,
        joists,
        wind_speed=random.uniform(0.0, 4.5),
        steady_time=random.uniform(6.0, 48.0) * 3600.0,
    )


def _findings(test: MoistureTest) -> Iterable[Finding]:
    return reduce_moisture(test, 275.0).findings


def _air_of(test: MoistureTest, index: int, **changes: float) -> MoistureTest:
    places = list(test.places)
    places[index] = replace(places[index], **changes)  # type: ignore[arg-type]
    return replace(test, places=tuple(places))


def _fahrenheit(test: MoistureTest, random: Generator) -> MoistureTest:
    """Type the hall's temperature in °F where °C was asked."""
    typed = 1.8 * (test.places[1].temperature - ZERO) + 32.0 + ZERO
    return _air_of(test, 1, temperature=typed, earlier_temperature=typed + random.normal(0.0, 0.2))


def _celsius(test: MoistureTest, random: Generator) -> MoistureTest:
    """Type the hall's temperature in °C where °F was asked."""
    typed = (test.places[1].temperature - ZERO - 32.0) / 1.8 + ZERO
    return _air_of(test, 1, temperature=typed, earlier_temperature=typed + random.normal(0.0, 0.2))


def _moved(test: MoistureTest, random: Generator) -> MoistureTest:
    """Read the probe in the crawlspace one to three minutes after it left the hall."""
    hall, crawl = test.places[1], test.places[2]
    lag, waited = random.uniform(150.0, 400.0), random.uniform(60.0, 180.0)
    assert hall.relative_humidity is not None  # noqa: S101
    assert crawl.relative_humidity is not None  # noqa: S101

    def shown(now: float, before: float, time: float) -> float:
        return now + (before - now) * math.exp(-time / lag)

    return _air_of(
        test,
        2,
        temperature=shown(crawl.temperature, hall.temperature, waited + 120.0),
        earlier_temperature=shown(crawl.temperature, hall.temperature, waited),
        relative_humidity=shown(crawl.relative_humidity, hall.relative_humidity, waited + 120.0),
        earlier_humidity=shown(crawl.relative_humidity, hall.relative_humidity, waited),
    )


def _share_for_percent(test: MoistureTest, _random: Generator) -> MoistureTest:
    """Type 0.45 where 45 % was asked."""
    return _air_of(test, 1, relative_humidity=(test.places[1].relative_humidity or 0.0) / 100.0)


def _face_of(test: MoistureTest, index: int, **changes: object) -> MoistureTest:
    faces = list(test.surfaces)
    faces[index] = replace(faces[index], **changes)  # type: ignore[arg-type]
    return replace(test, surfaces=tuple(faces))


def _sunny_noted(test: MoistureTest, random: Generator) -> MoistureTest:
    """Read a face 5 to 150 minutes after the sun left it, and note that."""
    warmer = test.surfaces[0].temperature + random.uniform(1.0, 8.0)
    return _face_of(test, 0, temperature=warmer, sunless_time=random.uniform(5.0, 150.0) * 60.0)


def _sunny_unnoted(test: MoistureTest, random: Generator) -> MoistureTest:
    """Read a face that sun has warmed 4 to 12 K above the room, and note nothing."""
    warm = test.places[1].temperature + random.uniform(4.0, 12.0)
    return _face_of(test, 0, temperature=warm, sunless_time=None)


def _mild_day(test: MoistureTest, random: Generator) -> MoistureTest:
    """Read the faces with 2 to 9 K between inside and outdoors."""
    mild = test.places[1].temperature - random.uniform(2.0, 9.0)
    return _air_of(test, 0, temperature=mild, earlier_temperature=mild + random.normal(0.0, 0.2))


def _foil(test: MoistureTest, random: Generator) -> MoistureTest:
    """Point an infrared instrument at foil or bare metal, and note the finish."""
    finish = Finish.FOIL if random.random() < 0.5 else Finish.DULL_METAL
    return _face_of(test, 0, thermometer=Thermometer.INFRARED, finish=finish)


def _windy(test: MoistureTest, random: Generator) -> MoistureTest:
    return replace(test, wind_speed=random.uniform(7.0, 12.0))


def _wood_of(test: MoistureTest, **changes: object) -> MoistureTest:
    woods = (replace(test.woods[0], **changes), *test.woods[1:])  # type: ignore[arg-type]
    return replace(test, woods=woods)


def _metal_unnoted(test: MoistureTest, random: Generator) -> MoistureTest:
    """Bridge the pins with foil or a nail: twice the wood's own reading or far more."""
    typed = max(2.0 * test.woods[0].moisture_content, random.uniform(0.35, 0.70))
    return _wood_of(test, moisture_content=typed)


def _metal_noted(test: MoistureTest, random: Generator) -> MoistureTest:
    way = (InTheWay.FOIL, InTheWay.METAL, InTheWay.SALT)[int(random.integers(3))]
    return _wood_of(test, moisture_content=random.uniform(0.2, 0.7), in_the_way=way)


def _wrong_species(test: MoistureTest, random: Generator) -> MoistureTest:
    wood = (Wood.SOUTHERN_PINE, Wood.OAK, Wood.OSB)[int(random.integers(3))]
    off = random.uniform(0.01, 0.04) * (1.0 if random.random() < 0.5 else -1.0)
    return _wood_of(test, wood=wood, moisture_content=test.woods[0].moisture_content + off)


def _mistake(
    number: int | None,
    name: str,
    spoil: Callable[[MoistureTest, Generator], MoistureTest],
    *codes: str,
    factor_of_two: bool = False,
) -> Mistake:
    full = tuple(f"moisture/{code}" for code in codes)
    return Mistake(number, name, full, visit, spoil, _findings, factor_of_two)


MISTAKES = (
    _mistake(25, "inside and outdoors too alike", _mild_day, "temperature-difference"),
    _mistake(25, "sun-warmed face, the time of the sun noted", _sunny_noted, "sun"),
    _mistake(25, "sun-warmed face, nothing noted", _sunny_unnoted, "factor-range"),
    _mistake(25, "infrared on foil or bare metal", _foil, "reflective", factor_of_two=True),
    _mistake(25, "wind above the limit", _windy, "wind"),
    _mistake(
        26,
        "moisture meter across foil or a nail, nothing noted",
        _metal_unnoted,
        "meter-on-conductor",
        factor_of_two=True,
    ),
    _mistake(
        26,
        "moisture meter near foil, metal or salt, noted",
        _metal_noted,
        "meter-in-the-way",
        factor_of_two=True,
    ),
    _mistake(26, "meter set to another wood", _wrong_species, "wrong-species"),
    _mistake(29, "°F typed for °C", _fahrenheit, "temperature-scale", factor_of_two=True),
    _mistake(29, "°C typed for °F", _celsius, "temperature-scale", factor_of_two=True),
    _mistake(
        29,
        "share typed for percent of humidity",
        _share_for_percent,
        "humidity-unit",
        factor_of_two=True,
    ),
    _mistake(None, "hygrometer read before it had settled", _moved, "not-settled"),
)
