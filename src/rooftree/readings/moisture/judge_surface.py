"""Judge surfaces: wet, damp, badly insulated, or not to be trusted."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.mould import COLDEST, HOTTEST, critical_humidity, weeks_to_mould
from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.moisture.limits import moisture_limit
from rooftree.readings.moisture.readings import Side, Thermometer
from rooftree.readings.moisture.surfaces import is_reflective
from rooftree.readings.moisture.temperature_factor import transmittance_for
from rooftree.readings.moisture.unit_slip import SURFACE_SPREAD, find_slip
from rooftree.readings.moisture.words import percent
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.readings.moisture.readings import AirReading, MoistureTest, SurfaceReading
    from rooftree.readings.moisture.surfaces import Surface

MAYBE = 0.05
"""Probability of condensation from which it is mentioned [0-1]; ours."""

OUTSIDE = 2.5
"""Standard uncertainties by which a temperature factor lies outside 0 to 1 [-]; ours."""

CAUTION = (
    " Mould can make people ill: keep it undisturbed, and have large areas cleaned by those who"
    " are equipped for it."
)


def judge_surface(
    reading: SurfaceReading,
    surface: Surface,
    air: AirReading | None,
    outdoors: AirReading | None,
    test: MoistureTest,
) -> tuple[Finding, ...]:
    """Return what one surface demands and what casts doubt on it.

    Parameters
    ----------
    reading : SurfaceReading
        As read.
    surface : Surface
        As reduced.
    air, outdoors : AirReading or None
        Air at the surface, and outdoors.
    test : MoistureTest
        Uncertainties.

    Returns
    -------
    tuple of Finding
    """
    if air is None:
        return (
            _finding(
                reading.name,
                "unknown-place",
                f"No air was read at {reading.place!r}, where {reading.name} is. Read it there, or"
                " correct the name of the place.",
            ),
        )
    if is_reflective(reading):
        least = moisture_limit("emissivity", "least")
        return (
            _finding(
                reading.name,
                "reflective",
                f"{reading.name} is {reading.finish.value}: an infrared instrument sees what it"
                " mirrors, almost certainly not its temperature. Put tape or paint on it and wait"
                " two minutes, or press a contact probe to it.",
                limit=least.value,
                unit=least.unit,
                source=least.source,
            ),
        )
    doubts = (
        _judge_scale(reading, air, outdoors),
        _judge_condensing(surface),
        _judge_mould(surface),
        _judge_range(surface),
        _judge_sun(reading, surface, test),
    )
    return tuple(doubt for doubt in doubts if doubt is not None)


def judge_conditions(test: MoistureTest, surfaces: Sequence[Surface]) -> tuple[Finding, ...]:
    """Return whether the weather allows temperature factors and infrared patterns.

    Parameters
    ----------
    test : MoistureTest
        Conditions and the rule that applies.
    surfaces : sequence of Surface
        As reduced.

    Returns
    -------
    tuple of Finding
        Empty where no inside face was read.
    """
    faces = [surface for surface in surfaces if surface.difference is not None]
    if not faces:
        return ()
    findings = []
    rule = test.rule.value
    difference = min(abs(surface.difference or 0.0) for surface in faces)
    least = moisture_limit("temperature-difference", rule)
    if difference < least.value:
        findings.append(
            _finding(
                "conditions",
                "temperature-difference",
                f"Inside and outdoors differ by {both(difference, Kind.TEMPERATURE_DIFFERENCE)}"
                f" only: {both(least.value, Kind.TEMPERATURE_DIFFERENCE)} are asked. Factors are"
                " unsure, and patterns of faces may be stored heat. Come back before dawn or on a"
                " colder day, or heat or cool the house first.",
                difference,
                least.value,
                least.unit,
                least.source,
            )
        )
    windiest = moisture_limit("wind-speed", rule)
    if test.wind_speed is not None and test.wind_speed > windiest.value:
        findings.append(
            _finding(
                "conditions",
                "wind",
                f"Wind of {both(test.wind_speed, Kind.SPEED)} cools faces and drives air through"
                f" them; {both(windiest.value, Kind.SPEED)} is the most. Do the sheltered side"
                " only, or wait.",
                test.wind_speed,
                windiest.value,
                windiest.unit,
                windiest.source,
            )
        )
    steady = moisture_limit("steady-time", rule)
    if test.steady_time is not None and test.steady_time < steady.value:
        findings.append(
            _finding(
                "conditions",
                "not-steady",
                f"The difference has lasted {test.steady_time / 3600.0:.1f} h;"
                f" {steady.value / 3600.0:.0f} h are asked, more for masonry. Faces still follow"
                " the hours before.",
                test.steady_time,
                steady.value,
                steady.unit,
                steady.source,
            )
        )
    return tuple(findings)


def judge_factor(surface: Surface, needed: float | None) -> tuple[Finding, ...]:
    """Return whether a face is insulated well enough to stay free of mould.

    Parameters
    ----------
    surface : Surface
        As reduced.
    needed : float or None
        Factor that keeps the face below the mould criterion in the coldest month, with the
        air of today [-].

    Returns
    -------
    tuple of Finding
        Nothing where the factor is unsure enough to pass.
    """
    factor = surface.factor
    if factor is None or needed is None or factor.high >= needed:
        return ()
    limit = moisture_limit("surface-humidity", "mould")
    most = transmittance_for(needed)
    return (
        _finding(
            surface.name,
            "temperature-factor",
            f"{surface.name} has a temperature factor of {factor.value:.2f}; with the air of today"
            f" it needs {needed:.2f} in the coldest month to stay free of mould, which a plain"
            f" wall has up to {both(most, Kind.U_VALUE)}. Insulate it, warm it,"
            " or keep the air drier." + CAUTION,
            factor.value,
            needed,
            "[-]",
            limit.source,
        ),
    )


def _judge_condensing(surface: Surface) -> Finding | None:
    chance = surface.condensing
    if chance is None or chance < MAYBE or surface.temperature is None:
        return None
    return _finding(
        surface.name,
        "condensation",
        f"{surface.name} at {both(surface.temperature.value, Kind.TEMPERATURE)}: it is"
        f" {sureness(chance)} ({percent(chance)}) that it is below the dew point of the air at"
        " it. Feel for water with a dry tissue; dry the air, insulate the cold face, or keep the"
        " air from it.",
        chance,
        0.5,
        "[0-1]",
        "dew point of the air of the place; ASHRAE Handbook - Fundamentals 2017, ch. 1",
    )


def _judge_mould(surface: Surface) -> Finding | None:
    limit, humidity = moisture_limit("surface-humidity", "mould"), surface.relative_humidity
    if humidity is None or humidity.value < limit.value or (surface.condensing or 0.0) >= 0.5:
        return None
    sure = sureness(probability_within((humidity.value - limit.value) / humidity.standard))
    return _finding(
        surface.name,
        "mould-humidity",
        f"The air right at {surface.name} is at {percent(humidity.value)} relative humidity: {sure}"
        f" that it is above the {percent(limit.value)} at which mould grows if it lasts"
        f"{_how_long(surface)}. One reading is no month: log it, and look behind furniture."
        + CAUTION,
        humidity.value,
        limit.value,
        limit.unit,
        limit.source,
    )


def _how_long(surface: Surface) -> str:
    """Return how long steady damp would take on wood, as part of a sentence."""
    face, humidity = surface.temperature, surface.relative_humidity
    if face is None or humidity is None or not COLDEST < face.value <= HOTTEST:
        return ""
    weeks = weeks_to_mould(face.value, min(humidity.value, 1.0))
    if not math.isfinite(weeks):
        need = percent(critical_humidity(face.value))
        return f" (on wood as cold as this from {need} on)"
    return f" (on bare pine after about {max(weeks, 1.0):.0f} weeks like this)"


def _judge_range(surface: Surface) -> Finding | None:
    factor = surface.factor
    if factor is None:
        return None
    beyond = max(factor.value - 1.0, -factor.value) / factor.standard
    if beyond <= OUTSIDE:
        return None
    sure = sureness(probability_within(beyond))
    return _finding(
        surface.name,
        "factor-range",
        f"{surface.name} is {'warmer' if factor.value > 1.0 else 'colder'} than both airs allow"
        f" (factor {factor.value:.2f}): {sure} that sun, a pipe, a lamp or stored heat feeds it, or"
        " that it was read in another light. Shade it and read again before dawn.",
        factor.value,
        1.0 if factor.value > 1.0 else 0.0,
        "[-]",
        "a face lies between the airs on both sides when heat flows steadily",
    )


def _judge_sun(reading: SurfaceReading, surface: Surface, test: MoistureTest) -> Finding | None:
    limit = moisture_limit("sunless-time", test.rule.value)
    hours = reading.sunless_time
    if reading.side is not Side.INSIDE or hours is None or hours >= limit.value:
        return None
    return _finding(
        surface.name,
        "sun",
        f"Sun fell on {surface.name} {hours / 3600.0:.1f} h before;"
        f" {limit.value / 3600.0:.0f} h are asked, more for masonry:"
        " likely that it is still warm from it. Read it before dawn.",
        hours,
        limit.value,
        limit.unit,
        limit.source,
    )


def _judge_scale(
    reading: SurfaceReading, air: AirReading, outdoors: AirReading | None
) -> Finding | None:
    middle = air.temperature
    if outdoors is not None and reading.side is Side.INSIDE:
        middle = 0.7 * air.temperature + 0.3 * outdoors.temperature
    slip = find_slip(reading.temperature, middle - 273.15, SURFACE_SPREAD)
    if slip is None:
        return None
    return _finding(
        reading.name,
        "temperature-scale",
        f"{both(reading.temperature, Kind.TEMPERATURE)} at {reading.name} is far from the air at"
        f" it; it is {sureness(slip.probability)} that it was read in {slip.scale}, which makes it"
        f" {both(slip.meant, Kind.TEMPERATURE)}. Look at the scale on the instrument and type it"
        " again.",
        reading.temperature,
        slip.meant,
        "K",
        "ours",
    )


def judge_pattern(reading: SurfaceReading) -> tuple[Finding, ...]:
    """Return what an infrared reading must be confirmed by.

    Parameters
    ----------
    reading : SurfaceReading
        As read.

    Returns
    -------
    tuple of Finding
        A note where glass was read: what it mirrors counts for a sixth of the signal.
    """
    if reading.thermometer is not Thermometer.INFRARED or reading.finish.value != "glass":
        return ()
    if reading.reflected_temperature is not None:
        return ()
    return (
        _finding(
            reading.name,
            "mirrored",
            f"{reading.name} is glass and mirrors a sixth of what stands before it, which was not"
            " read. Read it off crumpled foil held at the glass, or use a contact probe.",
            source="ASHRAE Handbook - Fundamentals 2021, ch. 26 Table 2 (glass 0.84)",
        ),
    )


def _finding(
    about: str,
    code: str,
    says: str,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
    source: str = "",
) -> Finding:
    return Finding(f"moisture/{code}", Severity.NOTE, says, value, limit, unit, source, about)
