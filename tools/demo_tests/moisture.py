"""Moisture of the demo's January visit: a hygrometer, a spot thermometer and a pin meter."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.job import Test
from rooftree.physics.wood_moisture import wood_equilibrium
from rooftree.readings.moisture import (
    AirReading,
    MoistureTest,
    PlaceKind,
    Side,
    SurfaceReading,
    Thermometer,
    Wood,
    WoodReading,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.random import Generator

    from rooftree.house import House

AIRS = (
    ("yard", PlaceKind.OUTDOORS, 34.0, 0.74),
    ("hall", PlaceKind.LIVING, 69.0, 0.38),
    ("crawlspace", PlaceKind.CRAWLSPACE, 49.0, 0.86),
    ("attic", PlaceKind.ATTIC, 41.0, 0.66),
)
"""Name, kind, temperature [°F] and relative humidity [0-1]: the ground of the crawlspace gives
off water, and some of it goes up through the house."""

FACES = (
    ("north wall of bedroom 3", 0.88),
    ("corner of bedroom 3 behind the wardrobe", 0.62),
    ("window of the bath", 0.55),
)
"""Name and temperature factor of inside faces."""

CUPPED = 0.03
"""Moisture of the floor joists above what the air explains: the ground wets them all year."""


def _kelvin(fahrenheit: float) -> float:
    return (fahrenheit + 459.67) / 1.8


def tests(house: House, rng: Generator) -> Iterator[Test]:
    """Yield one round with the three meters."""
    del house  # its air and its wood are told above
    yield Test(
        id="test-moisture",
        name="Moisture, before noon",
        visit="visit-1",
        reading=MoistureTest(
            tuple(_air(*air, rng) for air in AIRS),
            (*(_face(name, factor, rng) for name, factor in FACES), _trunk(rng)),
            tuple(_woods(rng)),
            wind_speed=2.2,
            steady_time=14.0 * 3600.0,
        ),
    )


def _air(
    name: str, kind: PlaceKind, fahrenheit: float, humidity: float, rng: Generator
) -> AirReading:
    shown = round(fahrenheit + float(rng.normal(0.0, 0.4)), 1)
    share = round(humidity + float(rng.normal(0.0, 0.012)), 3)
    return AirReading(
        name,
        kind,
        _kelvin(shown),
        share,
        earlier_temperature=_kelvin(round(shown + float(rng.normal(0.0, 0.1)), 1)),
        earlier_humidity=round(share + float(rng.normal(0.0, 0.003)), 3),
    )


def _face(name: str, factor: float, rng: Generator) -> SurfaceReading:
    true = AIRS[0][2] + factor * (AIRS[1][2] - AIRS[0][2])
    shown = round(true + float(rng.normal(0.0, 0.8)), 1)
    return SurfaceReading(name, _kelvin(shown), "hall", sunless_time=16.0 * 3600.0)


def _trunk(rng: Generator) -> SurfaceReading:
    """Read the jacket of the trunk duct by a contact probe."""
    shown = round(62.0 + float(rng.normal(0.0, 0.8)), 1)
    return SurfaceReading(
        "jacket of the trunk duct", _kelvin(shown), "crawlspace", Side.NEITHER, Thermometer.CONTACT
    )


def _woods(rng: Generator) -> Iterator[WoodReading]:
    _, _, fahrenheit, humidity = AIRS[2]
    balance = wood_equilibrium(_kelvin(fahrenheit), humidity)
    for number in (2, 5, 9):
        shown = round(balance + CUPPED - 0.012 + float(rng.normal(0.0, 0.008)), 3)
        yield WoodReading(
            f"joist {number}",
            shown,
            "crawlspace",
            _kelvin(fahrenheit),
            Wood.SOUTHERN_PINE,
            Wood.SOUTHERN_PINE,
        )
    # The pins sat on a joist hanger: a visit has such readings, and this one is told.
    yield WoodReading(
        "joist 12 at its hanger",
        0.62,
        "crawlspace",
        _kelvin(fahrenheit),
        Wood.SOUTHERN_PINE,
        Wood.SOUTHERN_PINE,
    )
