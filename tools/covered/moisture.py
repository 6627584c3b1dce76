"""Moisture readings: instruments with noise over air, faces and wood whose truth is drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from covered.method import Method
from rooftree.physics.air import saturation_pressure
from rooftree.physics.dew_point import dew_point, humidity_ratio_of, vapor_pressure_at_wet_bulb
from rooftree.physics.wood_moisture import pin_reading_at_20, wood_equilibrium
from rooftree.readings.moisture import (
    AirReading,
    MoistureTest,
    PlaceKind,
    SurfaceReading,
    Thermometer,
    WoodReading,
    reduce_moisture,
)
from rooftree.readings.moisture.wood import EQUILIBRIUM_UNCERTAINTY

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.physics.propagation import Propagated

ZERO, PRESSURE = 273.15, 101_325.0
Air = tuple[float, float]
"""True temperature [K] and relative humidity [0-1]."""


def _place(random: Generator, kind: PlaceKind, air: Air) -> AirReading:
    return AirReading(
        kind.value, kind, air[0] + random.normal(0.0, 0.3), air[1] + random.normal(0.0, 0.02)
    )


def _airs(random: Generator) -> tuple[Air, Air]:
    outdoors = random.uniform(-10.0, 8.0) + ZERO, random.uniform(0.4, 0.9)
    return outdoors, (random.uniform(19.0, 24.0) + ZERO, random.uniform(0.25, 0.6))


def _vapor(air: Air) -> float:
    return air[1] * saturation_pressure(air[0])


def _visit(random: Generator, outdoors: Air, hall: Air, *faces: SurfaceReading) -> MoistureTest:
    return MoistureTest(
        (_place(random, PlaceKind.OUTDOORS, outdoors), _place(random, PlaceKind.LIVING, hall)),
        faces,
    )


def dew_trial(random: Generator) -> tuple[float, Propagated]:
    """Dew point from temperature and relative humidity."""
    outdoors, hall = _airs(random)
    result = reduce_moisture(_visit(random, outdoors, hall))
    return dew_point(_vapor(hall)), result.places[1].dew_point


def wet_bulb_trial(random: Generator) -> tuple[float, Propagated]:
    """Humidity ratio from dry and wet bulb."""
    dry = random.uniform(18.0, 32.0) + ZERO
    wet = dry - random.uniform(1.0, 9.0)
    truth = humidity_ratio_of(vapor_pressure_at_wet_bulb(dry, wet, PRESSURE), PRESSURE)
    reading = AirReading(
        "hall",
        PlaceKind.LIVING,
        dry + random.normal(0.0, 0.3),
        wet_bulb=wet + random.normal(0.0, 0.3),
    )
    return truth, reduce_moisture(MoistureTest((reading,))).places[0].humidity_ratio


def difference_trial(random: Generator) -> tuple[float, Propagated]:
    """Humidity ratio inside above outdoors."""
    outdoors, hall = _airs(random)
    result = reduce_moisture(_visit(random, outdoors, hall))
    inside, outside = (humidity_ratio_of(_vapor(air), PRESSURE) for air in (hall, outdoors))
    return inside - outside, result.comparisons[0].difference


def _contact(random: Generator) -> tuple[float, Air, Air, SurfaceReading]:
    outdoors, hall = _airs(random)
    truth = outdoors[0] + (hall[0] - outdoors[0]) * random.uniform(0.5, 0.95)
    shown = truth + random.normal(0.0, 0.7)
    face = SurfaceReading("face", shown, "living space", thermometer=Thermometer.CONTACT)
    return truth, outdoors, hall, face


def factor_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Temperature factor by a contact probe."""
    truth, outdoors, hall, face = _contact(random)
    found = reduce_moisture(_visit(random, outdoors, hall, face)).surfaces[0].factor
    factor = (truth - outdoors[0]) / (hall[0] - outdoors[0])
    return None if found is None else (factor, found)


def face_humidity_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Relative humidity at a face by a contact probe."""
    truth, outdoors, hall, face = _contact(random)
    found = reduce_moisture(_visit(random, outdoors, hall, face)).surfaces[0].relative_humidity
    return None if found is None else (_vapor(hall) / saturation_pressure(truth), found)


def infrared_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Temperature of a painted face by infrared, what it mirrors taken from the air."""
    truth, outdoors, hall, _ = _contact(random)
    emissivity = min(max(random.normal(0.90, 0.03), 0.5), 1.0)
    mirrored = hall[0] + random.normal(0.0, 2.0)
    signal = emissivity * truth**4 + (1.0 - emissivity) * mirrored**4
    # The instrument takes 0.95 and what its user believes is mirrored: the air.
    believed = hall[0]
    shown = ((signal - 0.05 * believed**4) / 0.95) ** 0.25 + random.normal(0.0, 0.7)
    face = SurfaceReading("face", float(shown), "living space")
    found = reduce_moisture(_visit(random, outdoors, hall, face)).surfaces[0].temperature
    return None if found is None else (truth, found)


def wood_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Moisture content of Douglas fir by pins, corrected for the temperature of the wood."""
    truth, warmth = random.uniform(0.10, 0.26), random.uniform(2.0, 30.0) + ZERO
    low, high = 0.0, 0.6
    for _ in range(50):  # what a perfect meter would show
        middle = 0.5 * (low + high)
        low, high = (middle, high) if pin_reading_at_20(middle, warmth) < truth else (low, middle)
    air = AirReading("crawlspace", PlaceKind.CRAWLSPACE, warmth, 0.7)
    wood = WoodReading(
        "joist",
        0.5 * (low + high) + random.normal(0.0, 0.015),
        "crawlspace",
        warmth + random.normal(0.0, 1.0),
    )
    found = reduce_moisture(MoistureTest((air,), (), (wood,))).woods[0].moisture_content
    return None if found is None else (truth, found)


def balance_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Equilibrium of solid wood with the air of a crawlspace."""
    air = random.uniform(8.0, 24.0) + ZERO, random.uniform(0.4, 0.85)
    truth = wood_equilibrium(*air) + random.normal(0.0, EQUILIBRIUM_UNCERTAINTY)
    place = _place(random, PlaceKind.CRAWLSPACE, air)
    wood = WoodReading("joist", 0.15, "crawlspace")
    found = reduce_moisture(MoistureTest((place,), (), (wood,))).woods[0].equilibrium
    return None if found is None else (truth, found)


METHODS = (
    Method("dew point from temperature and relative humidity", dew_trial,
           "air 19 to 24 °C, 25 to 60 %; noise of 0.3 K and 0.02"),
    Method("humidity ratio from dry and wet bulb", wet_bulb_trial,
           "dry bulb 18 to 32 °C, wet bulb 1 to 9 K below; noise of 0.3 K on both"),
    Method("humidity ratio inside above outdoors", difference_trial,
           "outdoors -10 to 8 °C, 40 to 90 %, inside as above; the same noise"),
    Method("temperature factor by a contact probe", factor_trial,
           "factor 0.5 to 0.95; noise of 0.7 K on the face, 0.3 K on both airs"),
    Method("relative humidity at a face", face_humidity_trial, "as above"),
    Method("temperature of a painted face by infrared", infrared_trial,
           "emissivity 0.90 ± 0.03, mirrored 2 K round the air; noise of 0.7 K"),
    Method("moisture content of wood by pins", wood_trial,
           "0.10 to 0.26 at 2 to 30 °C; noise of 0.015 and 1 K; the correction itself as true"),
    Method("equilibrium of wood with the air", balance_trial,
           "air 8 to 24 °C, 40 to 85 %; wood 0.012 round the equation"),
)  # fmt: skip
