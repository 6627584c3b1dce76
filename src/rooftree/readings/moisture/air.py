"""The air of one place: from what a hygrometer shows to dew point and humidity ratio."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.air import moist_air_density, saturation_pressure
from rooftree.physics.dew_point import (
    dew_point,
    humidity_ratio_of,
    vapor_density,
    vapor_pressure_at_wet_bulb,
)
from rooftree.physics.propagation import propagate
from rooftree.weather.moisture import wet_bulb_temperature

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.physics.propagation import Propagated
    from rooftree.readings.moisture.readings import AirReading, MoistureTest, PlaceKind

DRIEST = 1.0
"""Vapor pressure below which air is dry beyond any hygrometer [Pa]: a frost point of -60 °C."""

COLDEST, HOTTEST = 213.15, 363.15
"""Temperatures between which air or a surface of a house can be [K]: -60 to 90 °C; ours."""

MOST_HUMIDITY = 1.2
"""Relative humidity beyond which even a wrong hygrometer does not go [0-1]; ours."""


def is_possible(reading: AirReading) -> bool:
    """Return whether readings of air are numbers that could be of a house at all.

    Parameters
    ----------
    reading : AirReading
        Of the place.

    Returns
    -------
    bool
        False leaves the place out of every result; a finding says so.
    """
    read = (reading.temperature, reading.wet_bulb, reading.dew_point)
    humidity = reading.relative_humidity
    return all(t is None or COLDEST <= t <= HOTTEST for t in read) and (
        humidity is None or 0.0 <= humidity <= MOST_HUMIDITY
    )


@dataclass(frozen=True, slots=True)
class PlaceAir:
    """The air of one place.

    Attributes
    ----------
    name : str
        Of the place.
    kind : PlaceKind
        What sort of air.
    temperature : Propagated
        Dry bulb [K].
    vapor_pressure : Propagated
        [Pa].
    humidity_ratio : Propagated
        Water vapor per dry air [kg/kg].
    dew_point : Propagated
        [K].
    relative_humidity : Propagated
        [0-1].
    wet_bulb : float
        Thermodynamic wet bulb [K].
    density : float
        Of the moist air [kg/m³].
    vapor_density : float
        Absolute humidity [kg/m³].
    """

    name: str
    kind: PlaceKind
    temperature: Propagated
    vapor_pressure: Propagated
    humidity_ratio: Propagated
    dew_point: Propagated
    relative_humidity: Propagated
    wet_bulb: float
    density: float
    vapor_density: float


def vapor_formula(
    reading: AirReading, test: MoistureTest
) -> tuple[Callable[..., float], tuple[float, ...], tuple[float, ...]] | None:
    """Return how the vapor pressure of a place follows from its readings.

    Parameters
    ----------
    reading : AirReading
        Of the place.
    test : MoistureTest
        Pressure and uncertainties.

    Returns
    -------
    tuple or None
        Formula, the values it takes (the dry bulb first) and their standard
        uncertainties; None where no measure of moisture was read, or none that can be.
    """
    if not is_possible(reading):
        return None
    warmth, doubt = reading.temperature, test.temperature_uncertainty
    if reading.relative_humidity is not None:
        return (
            lambda t, humidity: max(humidity * saturation_pressure(t), DRIEST),
            (warmth, reading.relative_humidity),
            (doubt, test.humidity_uncertainty),
        )
    if reading.wet_bulb is not None:
        pressure = test.barometric_pressure
        return (
            lambda t, wet: max(vapor_pressure_at_wet_bulb(t, wet, pressure), DRIEST),
            (warmth, reading.wet_bulb),
            (doubt, doubt),
        )
    if reading.dew_point is not None:
        return (
            lambda _t, dew: max(saturation_pressure(dew), DRIEST),
            (warmth, reading.dew_point),
            (doubt, doubt),
        )
    return None


def reduce_place(reading: AirReading, test: MoistureTest) -> PlaceAir | None:
    """Reduce the readings of one place.

    Parameters
    ----------
    reading : AirReading
        Of the place.
    test : MoistureTest
        Pressure and uncertainties.

    Returns
    -------
    PlaceAir or None
        None where no measure of moisture was read, or none that air can have.

    Notes
    -----
    Relations of a perfect-gas mixture (ASHRAE Handbook - Fundamentals 2017, ch. 1), within
    0.6 % of the humidity ratio of the real gas. Each result is a formula of the readings
    themselves, so that what they share is not counted twice.
    """
    found = vapor_formula(reading, test)
    if found is None:
        return None
    vapor, values, doubts = found
    pressure, warmth = test.barometric_pressure, reading.temperature
    if vapor(*values) > 0.5 * pressure:
        return None

    def of(formula: Callable[[float, float], float]) -> Propagated:
        return propagate(lambda t, *rest: formula(t, vapor(t, *rest)), values, doubts)

    share = of(lambda t, p: p / saturation_pressure(t))
    dew = of(lambda _t, p: dew_point(p))
    humidity = min(max(share.value, 0.0), 1.0)
    vapor_now = vapor(*values)
    return PlaceAir(
        name=reading.name,
        kind=reading.kind,
        temperature=propagate(lambda t: t, (warmth,), (test.temperature_uncertainty,)),
        vapor_pressure=of(lambda _t, p: p),
        humidity_ratio=of(lambda _t, p: humidity_ratio_of(p, pressure)),
        dew_point=dew,
        relative_humidity=share,
        wet_bulb=wet_bulb_temperature(warmth, min(dew.value, warmth), pressure),
        density=moist_air_density(warmth, pressure, humidity),
        vapor_density=vapor_density(vapor_now, warmth),
    )
