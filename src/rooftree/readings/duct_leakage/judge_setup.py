"""Judge how a duct test was set up: registers, filter, dampers, doors, and the three pressures."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.duct_leakage.flow import REFERENCE_PRESSURE
from rooftree.readings.duct_leakage.notes import E1554, duct_note
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.readings.duct_leakage.readings import DuctLeakageTest

DISAGREEING = 3.5
"""Standard uncertainties apart from which two readings of one pressure disagree [-]; ours."""

UNEVEN = 0.15
"""Fall of the duct pressure from the fan to the farthest register that is too much [0-1], as
a share of the pressure near the fan; ours."""

OPEN_REGISTER = 0.077
"""Flow at 25 Pa through a register of 200 cm² that was left open [m³/s], by Bernoulli."""

HELD_OPEN = 1.0
"""Pressure of a house with a door open, and of a vented space, that is nearly none [Pa]; ours."""


def judge_setup(test: DuctLeakageTest, pressure: float) -> tuple[Finding, ...]:
    """Return what is wrong or unsaid about the set-up.

    Parameters
    ----------
    test : DuctLeakageTest
        Readings.
    pressure : float
        Of the ducts [Pa].

    Returns
    -------
    tuple of Finding
    """
    found = (
        _registers(test),
        _uneven(test, pressure),
        _noted(test),
        _door(test),
        _equal(test),
        _house(test, pressure),
        _space(test, pressure),
    )
    return tuple(finding for finding in found if finding)


def _registers(test: DuctLeakageTest) -> Finding | None:
    if test.registers is None or test.registers_sealed is None:
        return None
    missing = round(test.registers - test.registers_sealed)
    if missing <= 0:
        return None
    plural = "registers are" if missing > 1 else "register is"
    return duct_note(
        "register-missed",
        f"{missing} {plural} not sealed: almost certain that the total is too high, by up to"
        f" {both(OPEN_REGISTER, Kind.FLOW, digits=1)} at 25 Pa for each that is wide open."
        " Walk the rooms, also behind furniture, in closets and ceilings, and"
        " photograph each tape.",
        float(test.registers_sealed),
        float(test.registers),
        "-",
        "California 2008 Reference Residential Appendices, RA3.1.4.3.2.1: seal all registers",
    )


def _uneven(test: DuctLeakageTest, pressure: float) -> Finding | None:
    if test.far_pressure is None or not pressure:
        return None
    fall = abs(pressure) - abs(test.far_pressure)
    distance = fall / (test.pressure_uncertainty * math.sqrt(2.0))
    if distance <= DISAGREEING or fall <= UNEVEN * abs(pressure):
        return None
    sure = sureness(probability_within(distance))
    return duct_note(
        "register-missed",
        f"The farthest register stands at {abs(test.far_pressure):.1f} Pa, {fall:.1f} Pa below the"
        f" pressure near the fan. {sure.capitalize()}: a register was missed, a duct came off, or"
        " a damper or the filter stands in the way. Look for the opening between the two.",
        fall,
        UNEVEN * abs(pressure),
        "Pa",
        "air at rest in sealed ducts has one pressure",
    )


def _noted(test: DuctLeakageTest) -> Finding | None:
    left = [
        words
        for words, is_done in (
            ("the filter is still in", test.filter_out),
            ("dampers are not all open", test.dampers_open),
        )
        if is_done is False
    ]
    if not left:
        return None
    return duct_note(
        "blocked",
        f"{' and '.join(left).capitalize()}: likely that a part of the ducts was not at the"
        " pressure that was read, so that the leakage is too low. Take the filter out, open every"
        " damper, and repeat.",
        None,
        None,
        "",
        E1554,
    )


def _door(test: DuctLeakageTest) -> Finding | None:
    if test.to_outdoors:
        return None
    shown = test.house_pressure
    limit = max(HELD_OPEN, DISAGREEING * test.pressure_uncertainty)
    if shown is not None and abs(shown) > limit:
        sure = sureness(probability_within(shown / test.pressure_uncertainty))
        return duct_note(
            "door-closed",
            f"The house stands {shown:+.1f} Pa from outdoors during the test of the total."
            f" {sure.capitalize()}: the door to outdoors is shut and duct leaks charge the house."
            " Open it and read again.",
            shown,
            limit,
            "Pa",
            "California 2008 Reference Residential Appendices, RA3.1.4.3.2.1",
        )
    if test.door_open is False:
        return duct_note(
            "door-closed",
            "No door or window stood open to outdoors: likely that duct leaks charged the house,"
            " so that leaks to outdoors saw another pressure than those to the house. Open one and"
            " read again.",
            None,
            None,
            "",
            "California 2008 Reference Residential Appendices, RA3.1.4.3.2.1",
        )
    return None


def _equal(test: DuctLeakageTest) -> Finding | None:
    if not test.to_outdoors or test.duct_house_pressure is None:
        return None
    apart = test.duct_house_pressure
    limit = max(0.5, DISAGREEING * test.pressure_uncertainty)
    if abs(apart) <= limit:
        return None
    sure = sureness(probability_within(apart / test.pressure_uncertainty))
    share = math.pow(abs(apart) / REFERENCE_PRESSURE, test.exponent)
    way = "into the house, so that it reads high" if apart > 0.0 else "from the house: it reads low"
    return duct_note(
        "not-equalized",
        f"Ducts and house are {apart:+.1f} Pa apart. {sure.capitalize()}: the duct fan also moves"
        f" {100.0 * share:.0f} % of the leakage between ducts and house, {way}. The result is"
        " corrected and its limits are wider; trim the duct fan to 0.0 Pa and read again.",
        apart,
        limit,
        "Pa",
        "ours, by the mass balance of the ducts",
    )


def _house(test: DuctLeakageTest, pressure: float) -> Finding | None:
    """Hold the three pressures of the test to outdoors against their sum."""
    if not test.to_outdoors or test.house_pressure is None or test.duct_house_pressure is None:
        return None
    missing = pressure - test.house_pressure - test.duct_house_pressure
    distance = abs(missing) / (test.pressure_uncertainty * math.sqrt(3.0))
    if distance <= DISAGREEING:
        return None
    sure = sureness(probability_within(distance))
    return duct_note(
        "sum",
        f"Ducts to house and house to outdoors miss ducts to outdoors by {missing:+.1f} Pa."
        f" {sure.capitalize()}: a hose is on the wrong tap, or one of the fans was not steady."
        " Read the three within a minute.",
        missing,
        DISAGREEING * test.pressure_uncertainty * math.sqrt(3.0),
        "Pa",
        "pressures along a path add up",
    )


def _space(test: DuctLeakageTest, pressure: float) -> Finding | None:
    if not test.to_outdoors or test.space_pressure is None:
        return None
    limit = max(HELD_OPEN, DISAGREEING * test.pressure_uncertainty)
    if abs(test.space_pressure) <= limit:
        return None
    left = max(1.0 - test.space_pressure / pressure, 0.0) if pressure else 0.0
    low = math.pow(left, test.exponent)
    sure = sureness(probability_within(test.space_pressure / test.pressure_uncertainty))
    return duct_note(
        "space-charged",
        f"The space that holds the ducts stands {test.space_pressure:+.1f} Pa from outdoors."
        f" {sure.capitalize()}: the ducts there leak only {100.0 * low:.0f} % of what they would"
        " against open air. The result is corrected as if all ducts were there; open hatch, vents"
        " or door of that space to outdoors and read again.",
        test.space_pressure,
        limit,
        "Pa",
        "ours, by the mass balance of the ducts; ASTM E1554 (recalled)",
    )
