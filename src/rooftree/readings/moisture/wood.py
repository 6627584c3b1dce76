"""Wood: what the meter's reading means, and what the air would make of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.propagation import propagate, propagate_positive
from rooftree.physics.wood_moisture import pin_reading_at_20, wood_equilibrium
from rooftree.readings.moisture.limits import sorption
from rooftree.readings.moisture.readings import InTheWay, MeterMode, Wood

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.moisture.air import PlaceAir
    from rooftree.readings.moisture.readings import MoistureTest, WoodReading

SPECIES_UNCERTAINTY = 0.02
"""Standard uncertainty added where the meter was set to another wood [0-1]; ours, after the
spread of published species tables (recalled: up to 0.04 either way)."""

PINLESS_UNCERTAINTY = 0.03
"""Standard uncertainty added to a meter without pins, which reads density too [0-1]; ours."""

EQUILIBRIUM_UNCERTAINTY = 0.012
"""Standard uncertainty of the equilibrium for one piece of wood: species, wetting or drying
[0-1]; ours, after the 0.01 to 0.02 of the handbook (recalled)."""

SOLID = frozenset(wood for wood in Wood if wood not in (Wood.PLYWOOD, Wood.OSB))
"""Woods that the equilibrium equation is meant for."""


@dataclass(frozen=True, slots=True)
class WoodMoisture:
    """What one wood reading tells.

    Attributes
    ----------
    name, place : str
        Of the piece and of the place.
    depth : float or None
        Of the pins [m].
    shown : float
        As read [0-1].
    moisture_content : Propagated or None
        Corrected for the temperature of the wood where a correction is published [0-1];
        None where the scale is only relative or something in the way carries current.
    temperature_correction : float
        What the correction added [0-1].
    equilibrium : Propagated or None
        Where the wood would end in the air of its place [0-1].
    excess : Propagated or None
        Moisture content above the equilibrium [0-1].
    """

    name: str
    place: str
    depth: float | None
    shown: float
    moisture_content: Propagated | None
    temperature_correction: float
    equilibrium: Propagated | None
    excess: Propagated | None


def equilibrium_content(wood: str, temperature: float, relative_humidity: float) -> float:
    """Return the moisture content at which wood or a wood panel is in balance with air.

    Parameters
    ----------
    wood : str
        As in :class:`~rooftree.readings.moisture.readings.Wood`.
    temperature : float
        Of air and wood [K].
    relative_humidity : float
        Of the air [0-1].

    Returns
    -------
    float
        Mass of water over that of dry wood [0-1].

    Notes
    -----
    Solid wood by :func:`~rooftree.physics.wood_moisture.wood_equilibrium`. Plywood and
    strand board between measured points of ASHRAE Handbook - Fundamentals 2021, ch. 26
    Table 7, straight from dry to the first, and on with the last slope beyond 0.886.

    Examples
    --------
    >>> round(equilibrium_content("plywood", 293.15, 0.691), 3)
    0.092
    """
    points = sorption(wood)
    if not points:
        return wood_equilibrium(temperature, relative_humidity)
    humidities, contents = (np.array(column) for column in zip((0.0, 0.0), *points, strict=True))
    if relative_humidity > humidities[-1]:
        slope = (contents[-1] - contents[-2]) / (humidities[-1] - humidities[-2])
        return float(contents[-1] + slope * (relative_humidity - humidities[-1]))
    return float(np.interp(relative_humidity, humidities, contents))


def reduce_wood(reading: WoodReading, air: PlaceAir | None, test: MoistureTest) -> WoodMoisture:
    """Reduce one wood moisture reading.

    Parameters
    ----------
    reading : WoodReading
        Of the piece.
    air : PlaceAir or None
        Air of its place.
    test : MoistureTest
        Uncertainties.

    Returns
    -------
    WoodMoisture

    Notes
    -----
    A pin meter is corrected for the temperature of the wood
    (:func:`~rooftree.physics.wood_moisture.pin_reading_at_20`, recalled). No species
    correction is made: the published tables are not available to us, so a meter that was
    set to another wood gets a wider range instead, and a finding that says so.
    """
    content, correction = _content(reading, air, test)
    balance = _equilibrium(reading, air)
    excess = None
    if content is not None and balance is not None:
        excess = propagate(
            lambda a, b: a - b,
            (content.value, balance.value),
            (content.standard, balance.standard),
        )
    return WoodMoisture(
        reading.name,
        reading.place,
        reading.depth,
        reading.moisture_content,
        content,
        correction,
        balance,
        excess,
    )


def _content(
    reading: WoodReading, air: PlaceAir | None, test: MoistureTest
) -> tuple[Propagated | None, float]:
    if reading.mode is MeterMode.RELATIVE or reading.in_the_way is not InTheWay.NOTHING:
        return None, 0.0
    doubt = test.wood_uncertainty
    if reading.wood is not reading.meter_set_to:
        doubt = float(np.hypot(doubt, SPECIES_UNCERTAINTY))
    if reading.mode is MeterMode.PINLESS:
        doubt = float(np.hypot(doubt, PINLESS_UNCERTAINTY))
    shown, warmth = reading.moisture_content, wood_temperature(reading, air)
    if reading.mode is MeterMode.PINLESS or warmth is None:
        return propagate_positive(lambda m: max(m, 0.005), (shown,), (doubt,)), 0.0
    corrected = propagate_positive(
        lambda m, t: max(pin_reading_at_20(m, min(max(t, 253.15), 333.15)), 0.005),
        (shown, warmth),
        (doubt, 1.0),
    )
    return corrected, corrected.value - shown


def wood_temperature(reading: WoodReading, air: PlaceAir | None) -> float | None:
    """Return the temperature of the wood.

    Parameters
    ----------
    reading : WoodReading
        Of the piece.
    air : PlaceAir or None
        Air of its place.

    Returns
    -------
    float or None
        As read, else that of the air [K].
    """
    if reading.temperature is not None:
        return reading.temperature
    return None if air is None else air.temperature.value


def _equilibrium(reading: WoodReading, air: PlaceAir | None) -> Propagated | None:
    if air is None:
        return None
    temperature = min(max(air.temperature.value, 253.15), 353.15)
    humidity = air.relative_humidity
    return propagate(
        lambda h, more: (
            equilibrium_content(reading.wood, temperature, min(max(h, 0.0), 0.99)) + more
        ),
        (humidity.value, 0.0),
        (humidity.standard, EQUILIBRIUM_UNCERTAINTY),
    )
