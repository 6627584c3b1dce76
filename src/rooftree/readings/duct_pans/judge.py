"""Judge pan pressures: what cannot be compared, what looks wrong, and where to look first."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.duct_pans.standing import CONNECTED, REFERENCE, TARGET, Standing

if TYPE_CHECKING:
    from rooftree.readings.duct_pans.readings import DuctPanTest
    from rooftree.readings.duct_pans.reduction import PanResult

LOWEST_HOUSE_PRESSURE = 15.0
"""House pressure below which pan pressures are lost in the gauge's noise [Pa]; ours."""

HIGHEST_HOUSE_PRESSURE = 100.0
"""House pressure beyond which no fan test goes [Pa]; common practice."""

INCH_OF_WATER = 249.089
"""[Pa]."""

DISAGREEING = 3.5
"""Standard uncertainties apart from which two readings of one pressure disagree [-]; ours."""

DICTIONARY = "LBNL, dictionary of building data, entry 'pressure pan'"
GUIDES = "recalled: state weatherization field guides"
SERIES = "mass balance of a duct between house and outdoors"


def judge_readings(test: DuctPanTest) -> tuple[Finding, ...]:
    """Return what forbids to compare the readings.

    Parameters
    ----------
    test : DuctPanTest
        Readings.

    Returns
    -------
    tuple of Finding
    """
    checks = (_house(test), _none(test), _signs(test), _inches(test))
    return tuple(finding for finding in checks if finding)


def _house(test: DuctPanTest) -> Finding | None:
    whole = abs(test.house_pressure)
    if LOWEST_HOUSE_PRESSURE <= whole <= HIGHEST_HOUSE_PRESSURE:
        return _driving(test)
    inches = whole * INCH_OF_WATER
    if LOWEST_HOUSE_PRESSURE <= inches <= HIGHEST_HOUSE_PRESSURE:
        says = (
            f"The house reads {whole:.2g} Pa. Almost certain: the gauge showed inches of water, for"
            f" that would be {inches:.0f} Pa. Set it to pascals and type all pressures again."
        )
        return _note("units", says, whole, LOWEST_HOUSE_PRESSURE)
    if whole > HIGHEST_HOUSE_PRESSURE:
        says = (
            f"The house reads {whole:.0f} Pa, more than any fan test is made at. Almost certain: a"
            " wrong unit or a digit too many. Look at the gauge and type it again."
        )
        return _note("units", says, whole, HIGHEST_HOUSE_PRESSURE)
    says = (
        f"The house was held at {whole:.1f} Pa only, too little for the pan. Hold it at 50 Pa, or"
        f" at {LOWEST_HOUSE_PRESSURE:.0f} Pa at least."
    )
    return _note("house-pressure", says, whole, LOWEST_HOUSE_PRESSURE, source="ours")


def _driving(test: DuctPanTest) -> Finding | None:
    if test.space_pressure is None or abs(test.space_pressure) >= LOWEST_HOUSE_PRESSURE:
        return None
    says = (
        f"The space that holds the ducts stands only {abs(test.space_pressure):.1f} Pa from the"
        " house, so that leaks into it hardly show. Open its hatch, door or vents to outdoors"
        " (and shut those to the house), and pan again."
    )
    return _note("space-inside", says, abs(test.space_pressure), LOWEST_HOUSE_PRESSURE)


def _none(test: DuctPanTest) -> Finding | None:
    if test.pans:
        return None
    says = "No register was read. Put the pan over one after another and note each pressure."
    return _note("no-readings", says)


def _signs(test: DuctPanTest) -> Finding | None:
    sure = DISAGREEING * test.pressure_uncertainty
    up = [pan for pan in test.pans if pan.pressure > sure]
    down = [pan for pan in test.pans if pan.pressure < -sure]
    if not up or not down:
        return None
    sides = [{pan.side for pan in group} for group in (up, down)]
    if all(len(group) == 1 for group in sides) and sides[0] != sides[1]:
        says = (
            "Supplies and returns read opposite signs. Almost certain: the air handler was"
            " running. Turn it off at its switch, wait until it stands, and pan all again."
        )
        return _note("air-handler-running", says, source="common practice")
    fewer = min(up, down, key=len)
    names = ", ".join(pan.name for pan in fewer[:3])
    says = (
        f"{names} read the other way than the rest. Almost certain: a minus sign was lost, the"
        " hoses were swapped in between, or the air handler started. Read these again."
    )
    return _note("sign", says, fewer[0].pressure)


def _inches(test: DuctPanTest) -> Finding | None:
    shown = [abs(pan.pressure) for pan in test.pans]
    most = max(shown, default=0.0)
    finer = [p for p in shown if p and abs(10.0 * p - round(10.0 * p)) > 1e-6]
    limit = 1.05 * abs(test.house_pressure) / INCH_OF_WATER
    if not finer or not 0.005 < most <= limit or len(finer) < 0.5 * sum(p > 0.0 for p in shown):
        return None
    says = (
        f"All registers read {most:.3g} Pa or less, with more decimals than pascals come with."
        f" Likely: the gauge showed inches of water, {most:.3g} in. w.c. are"
        f" {most * INCH_OF_WATER:.1f} Pa. Set it to pascals and type them again."
    )
    return _note("units", says, most, limit)


def judge_pans(test: DuctPanTest) -> tuple[Finding, ...]:
    """Return what is doubtful about single registers and the set-up.

    Parameters
    ----------
    test : DuctPanTest
        Readings that can be compared.

    Returns
    -------
    tuple of Finding
    """
    checks = (_beyond(test), _again(test), _running(test), _missing(test), _twice(test))
    return tuple(finding for finding in checks if finding)


def _beyond(test: DuctPanTest) -> Finding | None:
    whole = abs(test.house_pressure)
    limit = whole + DISAGREEING * test.pressure_uncertainty * math.sqrt(2.0)
    beyond = [pan for pan in test.pans if abs(pan.pressure) > limit]
    if not beyond:
        return None
    worst = max(beyond, key=lambda pan: abs(pan.pressure))
    says = (
        f"{worst.name} reads {abs(worst.pressure):.1f} Pa, more than the house itself at"
        f" {whole:.1f} Pa. Almost certain: the house pressure changed, a hose is on the wrong tap,"
        " or a digit is wrong. Look at the house pressure and read it again."
    )
    return _note("beyond-house", says, abs(worst.pressure), whole)


def _again(test: DuctPanTest) -> Finding | None:
    limit = DISAGREEING * test.pressure_uncertainty * math.sqrt(2.0)
    apart = [
        (abs(abs(pan.again) - abs(pan.pressure)), pan)
        for pan in test.pans
        if pan.again is not None and abs(abs(pan.again) - abs(pan.pressure)) > limit
    ]
    if not apart:
        return None
    most, pan = max(apart, key=lambda each: each[0])
    sure = sureness(probability_within(most / (test.pressure_uncertainty * math.sqrt(2.0))))
    says = (
        f"{pan.name} reads {most:.1f} Pa different the second time. {sure.capitalize()}: the"
        " pan did not seal, or its tube was pinched. Press the gasket on all round, tape what"
        " is left, and read until two readings agree."
    )
    return _note("not-repeating", says, most, limit, source="two readings of one pressure")


def _running(test: DuctPanTest) -> Finding | None:
    if test.air_handler_off is not False:
        return None
    says = (
        "The air handler was running: almost certain that the pan read the blower and not the"
        " leaks. Turn it off at its switch and pan all again."
    )
    return _note("air-handler-running", says, source="common practice")


def _missing(test: DuctPanTest) -> Finding | None:
    if test.registers is None or test.registers <= len(test.pans):
        return None
    says = (
        f"{len(test.pans)} of {round(test.registers)} registers were read. Those left out may be"
        " the leakiest: look behind furniture, in closets, and at the returns."
    )
    return _note("registers-missing", says, float(len(test.pans)), float(test.registers), unit="-")


def _twice(test: DuctPanTest) -> Finding | None:
    twice = [name for name, count in Counter(p.name for p in test.pans).items() if count > 1]
    if not twice:
        return None
    says = f"{twice[0]} stands in the list more than once: give each register its own name."
    return _note("twice", says)


def judge_results(test: DuctPanTest, pans: tuple[PanResult, ...]) -> tuple[Finding, ...]:
    """Return what the registers together show.

    Parameters
    ----------
    test : DuctPanTest
        Readings.
    pans : tuple of PanResult
        Reduced.

    Returns
    -------
    tuple of Finding
    """
    checks = (_all_zero(test, pans), _alike(pans), _open(pans), _leaking(pans), _some(pans))
    return tuple(finding for finding in checks if finding)


def _all_zero(test: DuctPanTest, pans: tuple[PanResult, ...]) -> Finding | None:
    limit = 2.5 * test.pressure_uncertainty
    if len(pans) < 3 or any(abs(pan.reading.pressure) > limit for pan in pans):
        return None
    says = (
        "Every register reads nothing. Possible: the tube of the pan is off or pinched. Blow into"
        " it and see the gauge move. If it does, no run is connected to outdoors, or the space of"
        " the ducts stands at house pressure: read that too."
    )
    return _note("all-zero", says, limit=limit, value=max(abs(p.reading.pressure) for p in pans))


def _alike(pans: tuple[PanResult, ...]) -> Finding | None:
    values = [pan.normalized.value for pan in pans]
    if len(values) < 4 or min(values) < CONNECTED or max(values) > 1.3 * min(values):
        return None
    says = (
        "All registers read nearly the same. Likely: the leak is common to all, at the air"
        " handler, its plenums or the return, and not in the runs. Look there first."
    )
    return _note("all-alike", says, max(values), min(values), source=SERIES)


def _open(pans: tuple[PanResult, ...]) -> Finding | None:
    found = [pan for pan in pans if pan.standing is Standing.OPEN]
    if not found:
        return None
    names = ", ".join(pan.reading.name for pan in found[:4])
    says = (
        f"{names}: the duct stands at the pressure of outdoors. Likely: it came off its boot or"
        " trunk, or the boot was never connected. Look before anything is sealed or insulated"
        " over it."
    )
    return _note("open", says, found[0].normalized.value, REFERENCE, source=SERIES)


def _leaking(pans: tuple[PanResult, ...]) -> Finding | None:
    found = [pan for pan in pans if pan.standing is Standing.LEAKS]
    if not found:
        return None
    names = ", ".join(f"{pan.reading.name} {pan.normalized.value:.1f} Pa" for pan in found[:5])
    says = (
        f"Runs that leak to outdoors, the most first, with the house at 50 Pa: {names}. Follow"
        " each from the register towards the trunk, seal with mastic, and pan again: sealing the"
        " worst lowers the others too."
    )
    return _note("leaking", says, found[0].normalized.value, CONNECTED, source=DICTIONARY)


def _some(pans: tuple[PanResult, ...]) -> Finding | None:
    found = [pan for pan in pans if pan.standing is Standing.SOME]
    if not found:
        return None
    says = (
        f"{len(found)} registers lie between 1 and 5 Pa: some leakage at boot or branch."
        " Weatherization programmes ask for 1 Pa or less after sealing (recalled)."
    )
    return _note("above-target", says, found[0].normalized.value, TARGET, source=GUIDES)


def _note(
    code: str,
    says: str,
    value: float | None = None,
    limit: float | None = None,
    *,
    unit: str = "Pa",
    source: str = SERIES,
) -> Finding:
    shown = unit if value is not None else ""
    return Finding(f"duct-pans/{code}", Severity.NOTE, says, value, limit, shown, source)
