"""Judge duct runs: what cannot be, what was mistyped, what sweats, what arrives too warm."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.duct_heat.limits import duct_heat_limit
from rooftree.readings.duct_heat.readings import Cover
from rooftree.readings.duct_heat.run import is_possible, size_of
from rooftree.readings.duct_heat.unit_slip import find_slip
from rooftree.units import Kind, both, both_range

if TYPE_CHECKING:
    from rooftree.readings.duct_heat.limits import DuctHeatLimit
    from rooftree.readings.duct_heat.readings import DuctHeatTest, DuctRunReading
    from rooftree.readings.duct_heat.results import RunResult

DIFFERS = 2.8
"""Standard uncertainties beyond which a register differs from what its wrap allows [-]; ours."""

BEYOND = 2.5
"""Standard uncertainties by which a register lies beyond what any wall allows [-]; ours."""

MAYBE = 0.05
"""Probability of condensation from which it is mentioned [0-1]; ours."""

DEEP = 3.5 * 0.0254
"""Insulation above the top of a duct that the code calls deeply buried [m] (recalled)."""

HUMID_ZONES = frozenset({"0A", "1A", "2A", "3A"})
"""Climate zones in which a buried duct needs the thicker wrap."""


def judge_entries(
    reading: DuctRunReading, test: DuctHeatTest, number: float | None
) -> tuple[Finding, ...]:
    """Return the doubts about what was typed for one run.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.
    test : DuctHeatTest
        Uncertainties.
    number : float or None
        Conductance over capacity rate [-]; None where it is not known.

    Returns
    -------
    tuple of Finding
    """
    slip = find_slip(reading, number)
    doubts = [
        *_judge_missing(reading),
        *_judge_label(reading),
        *_judge_early(reading),
    ]
    if slip is not None:
        doubts.append(
            _finding(
                reading.name,
                "temperature-scale",
                f"The temperatures of {reading.name} make no run of a duct as they stand: it is"
                f" {sureness(slip.probability)} that {slip.which} was read in {slip.scale}, which"
                f" makes it {both(slip.meant, Kind.TEMPERATURE)}. Look at it; type it again.",
                source="ours: usual temperatures, and what the run makes of them",
            )
        )
    else:
        doubts += _judge_between(reading, test)
    return tuple(doubts)


def _judge_missing(reading: DuctRunReading) -> list[Finding]:
    if reading.diameter is None and None in (reading.width, reading.height):
        return [_finding(reading.name, "no-size", f"The size of {reading.name} is missing.")]
    if size_of(reading) is None:
        return [
            _finding(
                reading.name,
                "size-unit",
                f"{reading.name} has a size that no duct of a house has: almost certain that it was"
                " typed in another unit (in, cm, mm). Type it again.",
                source="ours",
            )
        ]
    if reading.flow is None and reading.air_speed is None:
        says = (
            f"Read the flow or the air speed of {reading.name}: how warm its air gets hangs on it."
        )
        return [_finding(reading.name, "no-flow", says)]
    if not is_possible(reading):
        return [
            _finding(
                reading.name,
                "impossible",
                f"A temperature, length or thickness of {reading.name} cannot be that of a duct in"
                " a house: almost certain to be mistyped. The run is left out; type it again.",
                source="ours",
            )
        ]
    return []


def _judge_label(reading: DuctRunReading) -> list[Finding]:
    most, least = duct_heat_limit("label", "most"), duct_heat_limit("label", "least")
    label = reading.insulation_resistance
    if label == 0.0 or least.value <= label <= most.value:
        return []
    factor = 5.678 if label > most.value else 1.0 / 5.678
    return [
        _finding(
            reading.name,
            "insulation-unit",
            f"No duct blanket is labelled {both(label, Kind.THERMAL_RESISTANCE)} ({reading.name}):"
            " almost certain that R in h·ft²·°F/Btu and in m²·K/W were exchanged. It would then be"
            f" {both(label / factor, Kind.THERMAL_RESISTANCE)}.",
            label,
            most.value if label > most.value else least.value,
            "m²·K/W",
            most.source,
        )
    ]


def is_settled(reading: DuctRunReading) -> bool:
    """Return whether a register was read after the duct had given up what it stored.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.

    Returns
    -------
    bool
        Also where nobody noted how long the fan had run.
    """
    ran = reading.running_time
    return ran is None or ran >= duct_heat_limit("running", "least").value


def _judge_early(reading: DuctRunReading) -> list[Finding]:
    limit, ran = duct_heat_limit("running", "least"), reading.running_time
    if reading.register_temperature is None or ran is None or is_settled(reading):
        return []
    return [
        _finding(
            reading.name,
            "read-too-early",
            f"The register of {reading.name} was read {both(ran, Kind.DURATION)} after the fan"
            " started: likely that the duct still gave up what it had stored. It is left out:"
            " read it again after five minutes of running.",
            ran,
            limit.value,
            limit.unit,
            limit.source,
        )
    ]


def _judge_between(reading: DuctRunReading, test: DuctHeatTest) -> list[Finding]:
    register = reading.register_temperature
    if register is None:
        return []
    low, high = sorted((reading.entering_temperature, reading.surroundings_temperature))
    beyond = max(low - register, register - high) / (2.0**0.5 * test.temperature_uncertainty)
    if beyond <= BEYOND:
        return []
    return [
        _finding(
            reading.name,
            "register-beyond",
            f"The register of {reading.name} at {both(register, Kind.TEMPERATURE)} lies outside the"
            f" entering air and the surroundings: {sureness(probability_within(beyond))} that two"
            " readings were exchanged, or that the probe hung in room air or saw the coil. Hold it"
            " in the stream for two minutes and read all three again.",
            register,
            low if register < low else high,
            "K",
            "air in a duct ends between where it began and what surrounds it",
        )
    ]


def judge_run(
    reading: DuctRunReading, result: RunResult, test: DuctHeatTest, climate_zone: str | None
) -> tuple[Finding, ...]:
    """Return what is wrong with one run.

    Parameters
    ----------
    reading : DuctRunReading
        As read.
    result : RunResult
        As reduced.
    test : DuctHeatTest
        Uncertainties.
    climate_zone : str or None
        Of the place, such as ``"4A"``.

    Returns
    -------
    tuple of Finding
    """
    return (
        *_judge_speed(result),
        *_judge_difference(result, test),
        *_judge_condensing(result),
        *_judge_burst(result),
        *_judge_wrap(reading),
        *_judge_buried(reading, climate_zone),
        *_judge_credit(reading, result),
    )


def _judge_speed(result: RunResult) -> tuple[Finding, ...]:
    most, least = (duct_heat_limit("air-speed", f"branch {end}") for end in ("most", "least"))
    speed = result.air_speed
    if least.value <= speed <= most.value:
        return ()
    fast = speed > most.value
    factor = 2.119 if fast else 1.0 / 2.119
    would = least.value <= speed / factor <= most.value
    unit = " or cfm and L/s were exchanged" if would else ""
    return (
        _limited(
            result.name,
            "air-speed",
            f"Air in {result.name} at {both(speed, Kind.DUCT_SPEED)} is"
            f" {'faster' if fast else 'slower'} than branches are built for: likely that the run is"
            f" {'too small' if fast else 'too large, crushed or shut'}{unit}. Check size, unit and"
            " damper.",
            speed,
            most if fast else least,
        ),
    )


def _judge_difference(result: RunResult, test: DuctHeatTest) -> tuple[Finding, ...]:
    off = result.difference
    if off is None:
        return ()
    doubt = math.hypot(result.register.standard, test.temperature_uncertainty)
    far = abs(off) / doubt
    if far <= DIFFERS:
        return ()
    sure = sureness(probability_within(far))
    gains = result.heat.value > 0.0
    more = (off > 0.0) == gains
    off_words = both(abs(off), Kind.TEMPERATURE_DIFFERENCE)
    if more:
        bare = ""
        if result.found_resistance is not None and math.isfinite(result.found_resistance.high):
            band = both_range(
                result.found_resistance.low, result.found_resistance.high, Kind.THERMAL_RESISTANCE
            )
            bare = f" It insulates like a blanket of {band}."
        return (
            _finding(
                result.name,
                "more-than-wrap",
                f"The register of {result.name} is {off_words}"
                f" {'warmer' if gains else 'colder'} than its wrap allows: {sure} that wrap is"
                " torn, wet or crushed, that the run is longer or slower than noted, or that the"
                f" fan had just started.{bare} Walk along it.",
                off,
                DIFFERS * doubt,
                "K",
                "temperatures at both ends against the wrap as noted",
            ),
        )
    return (
        _finding(
            result.name,
            "less-than-wrap",
            f"The register of {result.name} is {off_words} nearer to the entering air than its"
            f" wrap allows: {sure} that the surroundings are milder along the run, the flow larger"
            " or the run shorter than noted, or that the entering air was read in the wrong place.",
            off,
            DIFFERS * doubt,
            "K",
            "temperatures at both ends against the wrap as noted",
        ),
    )


def _judge_condensing(result: RunResult) -> tuple[Finding, ...]:
    chance = result.condensing
    if chance is None or chance < MAYBE or result.dew_point is None:
        return ()
    least = result.least_blanket
    remedy = "no blanket helps in air as damp as that: dry the air round it first"
    if least is not None and math.isfinite(least):
        label = both(max(least, 0.0), Kind.THERMAL_RESISTANCE)
        remedy = f"an unbroken blanket of {label} with a sealed vapor jacket keeps it dry"
    return (
        _finding(
            result.name,
            "condensation",
            f"The outside of {result.name} is at {both(result.jacket.value, Kind.TEMPERATURE)}, the"
            f" dew point round it at {both(result.dew_point.value, Kind.TEMPERATURE)}: it is"
            f" {sureness(chance)} ({both(chance, Kind.FRACTION)}) that it sweats; {remedy}.",
            chance,
            0.5,
            "[0-1]",
            "surface temperature against dew point",
        ),
    )


def _judge_burst(result: RunResult) -> tuple[Finding, ...]:
    burst, limit = result.burst, duct_heat_limit("burst", "long")
    if burst is None or burst.first.value == result.register.value:
        return ()
    seconds = burst.seconds
    if seconds is not None and seconds.value <= limit.value:
        return ()
    time = "the first five minutes" if seconds is None else f"the first {seconds.value:.0f} s"
    return (
        _limited(
            result.name,
            "burst",
            f"After the fan has stood, air of {both(burst.first.value, Kind.TEMPERATURE)} comes out"
            f" of {result.name} first, and for {time} it works against the room. Short cycles make"
            " it worse: more wrap, a shorter or buried run, or a smaller unit that runs longer.",
            None if seconds is None else seconds.value,
            limit,
        ),
    )


def _judge_wrap(reading: DuctRunReading) -> tuple[Finding, ...]:
    limit = duct_heat_limit("insulation", "attic supply 2015")
    if reading.insulation_resistance >= 0.99 * limit.value or reading.cover is Cover.BURIED:
        return ()
    if reading.foam_thickness > 0.03:
        return ()
    if reading.insulation_resistance == 0.0:
        says = f"{reading.name} has no wrap; new supply ducts in attics get"
    else:
        label = both(reading.insulation_resistance, Kind.THERMAL_RESISTANCE)
        says = f"{reading.name} has a wrap of {label}; new supply ducts in attics get"
    return (
        _limited(
            reading.name,
            "thin-wrap",
            f"{says} {both(limit.value, Kind.THERMAL_RESISTANCE)} (recalled). Seal its joints"
            " before more wrap goes on.",
            reading.insulation_resistance,
            limit,
        ),
    )


def _judge_buried(reading: DuctRunReading, climate_zone: str | None) -> tuple[Finding, ...]:
    if reading.cover is not Cover.BURIED or reading.foam_thickness >= 0.03:
        return ()
    rule = "humid" if climate_zone is None or climate_zone in HUMID_ZONES else "elsewhere"
    limit = duct_heat_limit("buried-wrap", rule)
    if reading.insulation_resistance >= 0.99 * limit.value:
        return ()
    where = "in a humid climate" if rule == "humid" else "here"
    return (
        _limited(
            reading.name,
            "buried-wrap",
            f"{reading.name} is buried with a wrap of"
            f" {both(reading.insulation_resistance, Kind.THERMAL_RESISTANCE)}: loose insulation"
            f" makes its jacket colder and lets damp air to it. {where.capitalize()} it needs"
            f" {both(limit.value, Kind.THERMAL_RESISTANCE)} with a vapor retarder, or foam.",
            reading.insulation_resistance,
            limit,
        ),
    )


def _judge_credit(reading: DuctRunReading, result: RunResult) -> tuple[Finding, ...]:
    wrap = duct_heat_limit("insulation", "attic supply 2015")
    limit = duct_heat_limit("deeply-buried", "credit")
    deep = reading.cover is Cover.BURIED and reading.cover_depth >= DEEP
    if not deep or reading.insulation_resistance < 0.99 * wrap.value:
        return ()
    return (
        _limited(
            reading.name,
            "deeply-buried",
            f"{reading.name} is deeply buried: where the insulation round it has R-30, the 2018"
            f" code counts it as {both(limit.value, Kind.THERMAL_RESISTANCE)} (recalled);"
            f" conduction alone gives {both(result.resistance, Kind.THERMAL_RESISTANCE)} on its"
            " jacket.",
            result.resistance,
            limit,
        ),
    )


def _limited(
    about: str, code: str, says: str, value: float | None, limit: DuctHeatLimit
) -> Finding:
    return _finding(about, code, says, value, limit.value, limit.unit, limit.source)


def _finding(
    about: str,
    code: str,
    says: str,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
    source: str = "common practice",
) -> Finding:
    return Finding(f"duct_heat/{code}", Severity.NOTE, says, value, limit, unit, source, about)
