"""Judge the readings of air: what cannot be, what has not settled, what is damp."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.moisture.air import is_possible
from rooftree.readings.moisture.limits import moisture_limit
from rooftree.readings.moisture.readings import PlaceKind
from rooftree.readings.moisture.unit_slip import USUAL, find_slip
from rooftree.readings.moisture.words import percent
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.moisture.air import PlaceAir
    from rooftree.readings.moisture.readings import AirReading, MoistureTest

PHYSICS = "psychrometrics: ASHRAE Handbook - Fundamentals 2017, ch. 1"

STEADY_TEMPERATURE, STEADY_HUMIDITY = 0.15, 0.005
"""How well a settled probe repeats after two minutes, standard [K] and [0-1]; ours."""

UNSETTLED = 3.0
"""Standard repeatabilities beyond which two readings of one probe differ [-]; ours."""

SPREAD_OF_HOUSEHOLDS = 1.3
"""How far households of four spread above the typical one [-] (solar-housing handbook)."""

LEAST_SHARE = 0.02
"""Relative humidity below which a share was typed where percent was meant [0-1]; ours."""


def judge_place(reading: AirReading, test: MoistureTest) -> tuple[Finding, ...]:
    """Return the doubts about the readings of one place.

    Parameters
    ----------
    reading : AirReading
        Of the place.
    test : MoistureTest
        Uncertainties.

    Returns
    -------
    tuple of Finding
    """
    doubts = (
        _judge_missing(reading),
        _judge_scale(reading),
        _judge_share(reading),
        _judge_possible(reading, test),
        _judge_settled(reading),
    )
    return tuple(doubt for doubt in doubts if doubt is not None)


def judge_dampness(air: PlaceAir) -> tuple[Finding, ...]:
    """Return whether the air of a crawlspace is too damp for its wood.

    Parameters
    ----------
    air : PlaceAir
        Of the place.

    Returns
    -------
    tuple of Finding
    """
    limit = moisture_limit("crawlspace-humidity", "target")
    humidity = air.relative_humidity
    if air.kind is not PlaceKind.CRAWLSPACE or humidity.value <= limit.value:
        return ()
    return (
        Finding(
            "moisture/crawlspace-humidity",
            Severity.NOTE,
            f"The air of {air.name} is at {percent(humidity.value)} relative humidity, above the"
            f" {percent(limit.value)} that keeps a crawlspace dry. Look for open soil, standing"
            " water, leaks and summer air through vents; log it for a week before deciding.",
            humidity.value,
            limit.value,
            limit.unit,
            limit.source,
            air.name,
        ),
    )


def judge_released(released: Propagated | None) -> tuple[Finding, ...]:
    """Return whether more water is released inside than people explain.

    Parameters
    ----------
    released : Propagated or None
        Water released inside [kg/s]; None where it is not known.

    Returns
    -------
    tuple of Finding
        Nothing unless all of its range lies above a third more than a household of four.
    """
    limit = moisture_limit("released", "household of four")
    if released is None or released.low <= SPREAD_OF_HOUSEHOLDS * limit.value:
        return ()
    return (
        Finding(
            "moisture/much-released",
            Severity.NOTE,
            f"{both(released.value, Kind.VAPOR_FLOW)} of water is released inside, more than the"
            f" {both(limit.value, Kind.VAPOR_FLOW)} of a household of four: look for bare soil, a"
            " leak, a dryer or burner that ends indoors, firewood or laundry.",
            released.value,
            limit.value,
            limit.unit,
            limit.source,
        ),
    )


def judge_missing(test: MoistureTest) -> tuple[Finding, ...]:
    """Return which place nobody read.

    Parameters
    ----------
    test : MoistureTest
        All readings.

    Returns
    -------
    tuple of Finding
    """
    findings = []
    kinds = {place.kind for place in test.places}
    if PlaceKind.OUTDOORS not in kinds:
        findings.append(
            Finding(
                "moisture/no-outdoors",
                Severity.NOTE,
                "The air outdoors was not read: without it neither the source of moisture nor a"
                " temperature factor can be told. Read it now, in the shade.",
                source=PHYSICS,
            )
        )
    if len({place.name for place in test.places}) < len(test.places):
        findings.append(
            Finding(
                "moisture/same-name",
                Severity.NOTE,
                "Two places have the same name; surfaces and wood are taken to be at the first."
                " Give each its own name.",
                source="ours",
            )
        )
    return tuple(findings)


def _judge_missing(reading: AirReading) -> Finding | None:
    measures = (reading.relative_humidity, reading.wet_bulb, reading.dew_point)
    if any(measure is not None for measure in measures):
        return None
    return Finding(
        "moisture/no-humidity",
        Severity.NOTE,
        f"No moisture was read at {reading.name}: add relative humidity, wet bulb or dew point.",
        source=PHYSICS,
        about=reading.name,
    )


def _judge_scale(reading: AirReading) -> Finding | None:
    slip = find_slip(reading.temperature, *USUAL[reading.kind], reading.relative_humidity)
    if slip is None:
        return None if is_possible(reading) else _impossible(reading)
    return Finding(
        "moisture/temperature-scale",
        Severity.NOTE,
        f"{both(reading.temperature, Kind.TEMPERATURE)} at {reading.name} is hardly the air of a"
        f" place like that ({reading.kind.value}); it is {sureness(slip.probability)} that it was"
        f" read in {slip.scale}, which makes it {both(slip.meant, Kind.TEMPERATURE)}. Look at the"
        " scale on the instrument and type it again.",
        reading.temperature,
        slip.meant,
        "K",
        "usual temperatures of such places; ours",
        reading.name,
    )


def _impossible(reading: AirReading) -> Finding:
    return Finding(
        "moisture/impossible",
        Severity.NOTE,
        f"The readings at {reading.name} are no air of a house: almost certain to be mistyped. They"
        " are left out; type them again.",
        source="ours",
        about=reading.name,
    )


def _judge_share(reading: AirReading) -> Finding | None:
    humidity = reading.relative_humidity
    if humidity is None or humidity >= LEAST_SHARE:
        return None
    return Finding(
        "moisture/humidity-unit",
        Severity.NOTE,
        f"A relative humidity of {100.0 * humidity:.2g} % at {reading.name} is drier than any"
        " house: almost certain that a share was typed where percent was asked. Type it again.",
        humidity,
        LEAST_SHARE,
        "[0-1]",
        "ours",
        reading.name,
    )


def _judge_possible(reading: AirReading, test: MoistureTest) -> Finding | None:
    """Return what no air can be: wetter than saturated, by more than the doubt allows."""
    above, doubt, what = 0.0, test.temperature_uncertainty * 2.0**0.5, ""
    if reading.relative_humidity is not None:
        above, doubt = reading.relative_humidity - 1.0, test.humidity_uncertainty
        what = f"a relative humidity of {percent(reading.relative_humidity)}"
    elif reading.wet_bulb is not None:
        above = reading.wet_bulb - reading.temperature
        what = f"a wet bulb {both(above, Kind.TEMPERATURE_DIFFERENCE)} above the dry bulb"
    elif reading.dew_point is not None:
        above = reading.dew_point - reading.temperature
        what = f"a dew point {both(above, Kind.TEMPERATURE_DIFFERENCE)} above the air"
    if above <= 2.0 * doubt:
        return None
    sure = sureness(probability_within(above / doubt))
    return Finding(
        "moisture/beyond-saturated",
        Severity.NOTE,
        f"No air can have {what} ({reading.name}): it is {sure}"
        " that two readings were exchanged, or that the sensor was wet or out of calibration."
        " Dry it, wait five minutes, read again.",
        above,
        0.0,
        "[0-1]" if reading.relative_humidity is not None else "K",
        PHYSICS,
        reading.name,
    )


def _judge_settled(reading: AirReading) -> Finding | None:
    moved = 0.0
    if reading.earlier_temperature is not None:
        change = reading.temperature - reading.earlier_temperature
        moved = abs(change) / (2.0**0.5 * STEADY_TEMPERATURE)
    if reading.earlier_humidity is not None and reading.relative_humidity is not None:
        change = reading.relative_humidity - reading.earlier_humidity
        moved = max(moved, abs(change) / (2.0**0.5 * STEADY_HUMIDITY))
    if moved <= UNSETTLED:
        return None
    return Finding(
        "moisture/not-settled",
        Severity.NOTE,
        f"The probe at {reading.name} still moved between its two readings, by {moved:.0f} times"
        f" what a settled one does: {sureness(probability_within(moved))} that it had not yet the"
        " temperature of the place. Leave it there until two readings two minutes apart agree.",
        moved,
        UNSETTLED,
        "[-]",
        "ours: repeatability of hand-held hygrometers",
        reading.name,
    )
