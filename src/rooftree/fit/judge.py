"""What is odd about leaks fitted to readings, and which readings could not be met."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.fit.trial import EXPONENT_UNCERTAINTY
from rooftree.house import OUTDOORS

if TYPE_CHECKING:
    from rooftree.fit.trial import Solution, Trial
    from rooftree.house import House, Space
    from rooftree.readings.zone_pressures.readings import ZonePressureTest

MET = 1e-6
"""Share of the measured flow within which it counts as given back [-]."""

WEAK = 0.5
"""Spread of the logarithm of a factor above which a reading tells little [-]."""

ODD = 4.0
"""Factor, up or down, that says the house was described wrongly [-]."""


def doubt_reading(
    test: ZonePressureTest, space: Space, has_cracks: bool, again: bool
) -> Finding | None:
    """Return why a zone pressure cannot be used, or None.

    Parameters
    ----------
    test : ZonePressureTest
        The reading.
    space : Space
        Whose it is.
    has_cracks : bool
        Whether any crack joins the living spaces to it.
    again : bool
        Whether the space has another reading already.

    Returns
    -------
    Finding or None
    """
    if (
        not 0.0
        < test.zone_pressure * math.copysign(1.0, test.house_pressure)
        < abs(test.house_pressure)
    ):
        return Finding(
            "fit/zone-sign",
            Severity.NOTE,
            f"The pressure between house and {space.name} is not between zero and the pressure "
            "of the house, so that it was not used; check the hoses and the signs.",
            test.zone_pressure,
            test.house_pressure,
            "Pa",
            "mass balance of the zone",
            test.space,
        )
    if not has_cracks:
        says = (
            f"The record has no crack between the living spaces and {space.name}, so that its "
            "pressure settles nothing; add the cracks that join them."
        )
        return Finding("fit/zone-without-cracks", Severity.NOTE, says, about=test.space)
    if again:
        says = (
            f"There is more than one pressure of {space.name}; the first was used. "
            "Keep the one taken with everything as found."
        )
        return Finding("fit/zone-twice", Severity.NOTE, says, about=test.space)
    return None


def judge_leaks(
    house: House,
    trial: Trial,
    tests: tuple[ZonePressureTest, ...],
    groups: tuple[str, ...],
    solution: Solution,
    residual: float,
) -> tuple[Finding, ...]:
    """Return what is odd about a fit.

    Parameters
    ----------
    house : House
        As it was described.
    trial : Trial
        The fan test to meet.
    tests : tuple of ZonePressureTest
        The readings that were used.
    groups : tuple of str
        What each group of cracks joins the living spaces to.
    solution : Solution
        The fit.
    residual : float
        Simulated flow at 50 Pa over the measured one, less 1 [-].

    Returns
    -------
    tuple of Finding
    """
    names = {space.id: space.name for space in house.spaces} | {OUTDOORS: OUTDOORS}
    return (
        *_judge_flow(residual, trial.flow),
        *(
            finding
            for test, between, spread in zip(tests, solution.between, solution.spread, strict=True)
            for finding in _judge_zone(test, names[test.space], between, spread)
        ),
        *(
            finding
            for beyond, scale in zip(groups, solution.scale, strict=True)
            for finding in _judge_scale(beyond, names[beyond], scale)
        ),
        *_judge_exponent(trial.exponent, solution.exponent),
    )


def _judge_flow(residual: float, flow: float) -> tuple[Finding, ...]:
    if abs(residual) <= MET:
        return ()
    says = (
        "Vents, flues and holes of the record let more air through in the simulated fan test "
        "than was measured, even with every crack closed; check their sizes."
        if residual > 0.0
        else "The record leaves the fan too few ways to outdoors for the flow that was measured, "
        "however large its cracks; add the vents of the buffer spaces or the leaks outdoors."
    )
    simulated = flow * (1.0 + residual)
    return (_finding("fit/flow", says, simulated, flow, "m³/s", "the measured fan test"),)


def _judge_zone(
    test: ZonePressureTest, name: str, between: float, spread: float
) -> tuple[Finding, ...]:
    measured = abs(test.zone_pressure)
    if abs(between - measured) > 2.0 * test.pressure_uncertainty:
        says = (
            f"The pressure of {name} cannot be met with the vents that the record has; check "
            "their sizes, and look for openings that it does not have."
        )
        source = "the measured zone pressure"
        return (_finding("fit/zone-pressure", says, between, measured, "Pa", source, test.space),)
    if spread > WEAK:
        says = (
            f"The pressure of {name} tells little about the cracks into it; open a known hole "
            "on one side and read it again."
        )
        return (_finding("fit/zone-weak", says, spread, WEAK, "-", "this fit", test.space),)
    return ()


def _judge_scale(beyond: str, name: str, scale: float) -> tuple[Finding, ...]:
    if 1.0 / ODD <= scale <= ODD:
        return ()
    says = (
        f"The cracks from the living spaces to {name} came out far from what was described; "
        "look for a hole that the record does not have, or one it has too many."
    )
    limit = ODD if scale > 1.0 else 1.0 / ODD
    return (_finding("fit/scale", says, scale, limit, "-", "common practice", beyond),)


def _judge_exponent(measured: float | None, simulated: float) -> tuple[Finding, ...]:
    if measured is None or abs(simulated - measured) <= 2.0 * EXPONENT_UNCERTAINTY:
        return ()
    says = (
        "The exponent of the measured curve cannot be met by the cracks of the record, whose "
        "exponents stay between 0.5 and 1; away from 50 Pa the model leaks more or less."
    )
    return (_finding("fit/exponent", says, simulated, measured, "-", "the measured fan test"),)


def _finding(
    code: str, says: str, value: float, limit: float, unit: str, source: str, about: str = ""
) -> Finding:
    return Finding(code, Severity.NOTE, says, value, limit, unit, source, about)
