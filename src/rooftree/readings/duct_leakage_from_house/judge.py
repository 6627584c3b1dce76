"""Judge fan tests with the air handler off and on: can leaks be told, and are they likely."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.duct_leakage_from_house.fit import readings_of
from rooftree.readings.duct_leakage_from_house.notes import note, typed_in_inches
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.readings.duct_leakage_from_house.fit import Fitted
    from rooftree.readings.duct_leakage_from_house.readings import DeltaQTest

FEWEST = 4
"""Readings that are needed with the air handler off, and with it on [-]."""

APART = 10.0
"""Range of house pressures that each set must span [Pa]; ours."""

LOWEST_DUCT, HIGHEST_DUCT = 3.0, 250.0
"""Duct pressures between which air handlers of houses work [Pa]; ours."""

KIND = "delta-q"


def judge_readings(test: DeltaQTest) -> tuple[Finding, ...]:
    """Return what forbids the fit.

    Parameters
    ----------
    test : DeltaQTest
        Readings.

    Returns
    -------
    tuple of Finding
    """
    checks = (*(_duct(test, side) for side in ("supply", "return")), _count(test), _span(test))
    return tuple(finding for finding in checks if finding)


def _duct(test: DeltaQTest, side: str) -> Finding | None:
    pressure = test.supply_pressure if side == "supply" else test.return_pressure
    inches = typed_in_inches(
        KIND, f"The pressure of the {side} ducts", pressure, LOWEST_DUCT, HIGHEST_DUCT
    )
    if inches or LOWEST_DUCT <= abs(pressure) <= HIGHEST_DUCT:
        return inches
    says = (
        f"The {side} ducts read {abs(pressure):.1f} Pa while the air handler runs; air handlers of"
        f" houses work between {LOWEST_DUCT:.0f} and {HIGHEST_DUCT:.0f} Pa. Read the plenum again"
        " with the tip against the stream, and type half of it."
    )
    limit = LOWEST_DUCT if abs(pressure) < LOWEST_DUCT else HIGHEST_DUCT
    return note(f"{KIND}/duct-pressure", says, abs(pressure), limit, "Pa")


def _count(test: DeltaQTest) -> Finding | None:
    on = sum(row.air_handler for row in test.flows)
    off = len(test.flows) - on
    if min(on, off) >= FEWEST:
        return None
    says = (
        f"{off} readings with the air handler off and {on} with it on; at least {FEWEST} of each"
        " are needed, better seven both above and below outdoors."
    )
    return note(f"{KIND}/too-few", says, float(min(on, off)), float(FEWEST), "-")


def _span(test: DeltaQTest) -> Finding | None:
    if not test.flows:
        return None
    largest = max(abs(row.house_pressure) for row in test.flows)
    inches = typed_in_inches(KIND, "The house at its farthest", largest, 5.0, 100.0)
    if inches and largest < 1.0:
        return inches
    spans = []
    for running in (True, False):
        shown = [row.house_pressure for row in test.flows if row.air_handler is running]
        spans.append(max(shown) - min(shown) if shown else 0.0)
    if min(spans) >= APART:
        return None
    says = (
        f"The house pressures span {min(spans):.1f} Pa only. Read from 5 to 25 Pa above and below"
        " outdoors, the same pressures with the air handler off and on."
    )
    return note(f"{KIND}/narrow", says, min(spans), APART, "Pa")


def judge_fit(test: DeltaQTest, fitted: Fitted) -> tuple[Finding, ...]:
    """Return what is odd about the leaks that were found.

    Parameters
    ----------
    test : DeltaQTest
        Readings.
    fitted : Fitted
        Leaks.

    Returns
    -------
    tuple of Finding
    """
    swapped = _swapped(fitted)
    checks = (
        swapped,
        None if swapped else _negative(fitted),
        _one_way(test),
        _misfit(fitted),
        _too_large(test, fitted),
        _no_handler(test),
    )
    return tuple(finding for finding in checks if finding)


def _swapped(fitted: Fitted) -> Finding | None:
    supply = fitted.supply / fitted.supply_standard
    back = fitted.return_ / fitted.return_standard
    total = fitted.supply + fitted.return_
    doubt = math.hypot(fitted.supply_standard, fitted.return_standard)
    if min(supply, back) > -2.0 or total > -3.0 * doubt or max(supply, back) > 1.0:
        return None
    sure = sureness(probability_within(total / doubt))
    says = (
        f"Both leaks come out below zero. {sure.capitalize()}: the readings with the air handler"
        " off and on are exchanged. Look at the note of each row."
    )
    return note(f"{KIND}/on-off-exchanged", says, total, 0.0, "m³/s")


def _negative(fitted: Fitted) -> Finding | None:
    worst = min(
        (fitted.supply / fitted.supply_standard, fitted.supply, "supply"),
        (fitted.return_ / fitted.return_standard, fitted.return_, "return"),
    )
    if worst[0] > -3.0:
        return None
    sure = sureness(probability_within(worst[0]))
    says = (
        f"The {worst[2]} leakage comes out {both(-worst[1], Kind.FLOW)} below zero."
        f" {sure.capitalize()}: a window or door changed between off and on, a sign is"
        " wrong, or the duct pressures of supply and return are exchanged. Read one"
        " pressure again with the air handler off."
    )
    return note(f"{KIND}/negative", says, worst[1], 0.0, "m³/s")


def _one_way(test: DeltaQTest) -> Finding | None:
    on = [
        p
        for p, running in zip(readings_of(test).pressure, readings_of(test).running, strict=True)
        if running
    ]
    if any(p > 3.0 for p in on) and any(p < -3.0 for p in on):
        return None
    says = (
        "The air handler was read with the house on one side of outdoors only: supply and return"
        " leaks can hardly be told apart so. Turn the fan round and read the other side too."
    )
    return note(f"{KIND}/one-direction", says, source="recalled: ASTM E1554, method A")


def _misfit(fitted: Fitted) -> Finding | None:
    if fitted.freedom < 2:
        return None
    allowed = fitted.freedom + 4.0 * math.sqrt(2.0 * fitted.freedom)
    if fitted.misfit <= allowed:
        return None
    off = math.sqrt(fitted.misfit / fitted.freedom)
    says = (
        f"The flows miss the fit by {off:.1f} times what gauge and fan explain. Likely: wind, a"
        " window or door that moved, or a wrong configuration at some reading. The limits are"
        " widened; read the first pressure again to see whether the house is still the same."
    )
    return note(f"{KIND}/misfit", says, fitted.misfit, allowed, "-")


def _too_large(test: DeltaQTest, fitted: Fitted) -> Finding | None:
    leak, doubt = max(
        (fitted.supply, fitted.supply_standard), (fitted.return_, fitted.return_standard)
    )
    limit = 0.5 * test.air_handler_flow
    if limit <= 0.0 or leak - 2.0 * doubt <= limit:
        return None
    says = (
        f"One side would leak {both(leak, Kind.FLOW)}, more than half of what the air handler"
        " moves. Likely: a window changed between off and on, or a unit is wrong (L/s and"
        " cfm differ by 2.12). Look at the unit, then for a duct that came off."
    )
    return note(f"{KIND}/very-large", says, leak, limit, "m³/s")


def _no_handler(test: DeltaQTest) -> Finding | None:
    if test.air_handler_flow > 0.0:
        return None
    says = (
        "The flow of the air handler is missing, so the leaks cannot be told as a share of it."
        " Measure it, or take it from the blower's table and the static pressure."
    )
    return note(f"{KIND}/no-fan-flow", says, source="common practice")
