"""Surfaces: how near to the dew point, how damp at the face, how well insulated."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rooftree.physics.air import saturation_pressure
from rooftree.physics.condensation import below_probability
from rooftree.physics.dew_point import dew_point
from rooftree.physics.propagation import propagate, propagate_positive
from rooftree.readings.moisture.air import COLDEST, HOTTEST, is_possible, vapor_formula
from rooftree.readings.moisture.limits import emissivities, moisture_limit
from rooftree.readings.moisture.radiometry import true_temperature
from rooftree.readings.moisture.readings import Side, Thermometer
from rooftree.readings.moisture.temperature_factor import (
    LEAST_DIFFERENCE,
    loss_ratio,
    temperature_factor,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from rooftree.physics.propagation import Propagated
    from rooftree.readings.moisture.readings import AirReading, MoistureTest, SurfaceReading

MIRRORED_UNCERTAINTY = 2.0
"""Standard uncertainty of a mirrored temperature that was taken from the air [K]; ours."""


@dataclass(frozen=True, slots=True)
class Surface:
    """What one surface temperature tells.

    Attributes
    ----------
    name, place : str
        Of the surface, and of the place whose air touches it.
    temperature : Propagated or None
        Of the face, corrected for its emissivity [K]; None where infrared cannot tell, or a
        number cannot be.
    relative_humidity : Propagated or None
        At the face [0-1]; above 1 water condenses.
    condensing : float or None
        Probability that the face is below the dew point [0-1].
    factor : Propagated or None
        Temperature factor [-], for inside faces.
    difference : float or None
        Inside above outdoors [K].
    loss_ratio : float or None
        Transmittance over that of the best face read in the same place [-].
    """

    name: str
    place: str
    temperature: Propagated | None
    relative_humidity: Propagated | None
    condensing: float | None
    factor: Propagated | None
    difference: float | None
    loss_ratio: float | None = None


def is_reflective(reading: SurfaceReading) -> bool:
    """Return whether an infrared instrument sees the surroundings rather than the face.

    Parameters
    ----------
    reading : SurfaceReading
        Of the surface.

    Returns
    -------
    bool
    """
    least = moisture_limit("emissivity", "least").value
    infrared = reading.thermometer is Thermometer.INFRARED
    return infrared and emissivities()[reading.finish] < least


def _face(
    reading: SurfaceReading, air: AirReading, test: MoistureTest
) -> tuple[Callable[..., float], tuple[float, ...], tuple[float, ...]]:
    """Return how the temperature of a face follows from what was shown."""
    if reading.thermometer is Thermometer.CONTACT:
        return lambda shown: shown, (reading.temperature,), (test.surface_uncertainty,)
    mirrored, doubt = air.temperature, MIRRORED_UNCERTAINTY
    if reading.reflected_temperature is not None:
        mirrored, doubt = reading.reflected_temperature, test.surface_uncertainty
    return (
        lambda shown, e, around: true_temperature(
            shown, reading.set_emissivity, min(max(e, 0.05), 1.0), around
        ),
        (reading.temperature, emissivities()[reading.finish], mirrored),
        (test.surface_uncertainty, test.emissivity_uncertainty, doubt),
    )


def reduce_surface(
    reading: SurfaceReading, air: AirReading | None, outdoors: AirReading | None, test: MoistureTest
) -> Surface:
    """Reduce the temperature of one surface.

    Parameters
    ----------
    reading : SurfaceReading
        Of the surface.
    air : AirReading or None
        Place whose air touches it; None where none of that name was read.
    outdoors : AirReading or None
        Air outdoors.
    test : MoistureTest
        Pressure and uncertainties.

    Returns
    -------
    Surface

    Notes
    -----
    Relative humidity at the face is the vapor pressure of the air over that of saturation
    at the face (ISO 13788). The air right at a cold face may be drier than that of the room
    behind furniture or in a corner: the reading holds where it was taken.
    """
    can_be = COLDEST <= reading.temperature <= HOTTEST
    if air is None or is_reflective(reading) or not can_be or not is_possible(air):
        return Surface(reading.name, reading.place, None, None, None, None, None)
    face, values, doubts = _face(reading, air, test)
    warmth = propagate(face, values, doubts)
    share, probability = None, None
    found = vapor_formula(air, test)
    if found is not None:
        vapor, read, unsure = found
        n = len(values)
        share = propagate_positive(
            lambda *all_: vapor(*all_[n:]) / saturation_pressure(face(*all_[:n])),
            (*values, *read),
            (*doubts, *unsure),
        )
        dew = propagate(lambda *of: dew_point(vapor(*of)), read, unsure)
        probability = below_probability(warmth, dew)
    factor, difference = None, None
    if reading.side is Side.INSIDE and outdoors not in (None, air) and is_possible(outdoors):
        difference = air.temperature - outdoors.temperature
        factor = _factor(face, values, doubts, difference, air, outdoors, test)
    return Surface(reading.name, reading.place, warmth, share, probability, factor, difference)


def with_loss_ratios(
    surfaces: tuple[Surface, ...], inside: Mapping[str, AirReading]
) -> tuple[Surface, ...]:
    """Return surfaces with how much more heat each loses than the best face of its place.

    Parameters
    ----------
    surfaces : tuple of Surface
        As reduced.
    inside : mapping
        Air of each place, by name.

    Returns
    -------
    tuple of Surface
        Unchanged where a place has one inside face only, or the best one is as warm as
        the air within its doubt.

    Notes
    -----
    :func:`~rooftree.readings.moisture.temperature_factor.loss_ratio`: steady heat flow and
    equal films, so not for corners against open wall.
    """
    best: dict[str, Surface] = {}
    for surface in surfaces:
        if surface.factor is not None:
            other = best.get(surface.place)
            if other is None or other.factor is None or surface.factor.value > other.factor.value:
                best[surface.place] = surface
    return tuple(_with_ratio(surface, best.get(surface.place), inside) for surface in surfaces)


def _with_ratio(
    surface: Surface, good: Surface | None, inside: Mapping[str, AirReading]
) -> Surface:
    if surface.factor is None or good is None or good is surface:
        return surface
    if surface.temperature is None or good.temperature is None:
        return surface
    air = inside[surface.place].temperature
    if abs(air - good.temperature.value) < 2.0 * good.temperature.standard:
        return surface
    ratio = loss_ratio(air, surface.temperature.value, good.temperature.value)
    return replace(surface, loss_ratio=ratio)


def _factor(
    face: Callable[..., float],
    values: tuple[float, ...],
    doubts: tuple[float, ...],
    difference: float,
    air: AirReading,
    outdoors: AirReading,
    test: MoistureTest,
) -> Propagated | None:
    """Return the temperature factor; None where the difference is lost in its doubt."""
    doubt = test.temperature_uncertainty
    if abs(difference) < LEAST_DIFFERENCE + 3.0 * doubt:
        return None
    n = len(values)
    return propagate(
        lambda *all_: temperature_factor(face(*all_[:n]), all_[n], all_[n + 1]),
        (*values, air.temperature, outdoors.temperature),
        (*doubts, doubt, doubt),
    )
