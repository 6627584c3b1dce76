"""Judge a duct leakage test: its doubts, what it costs, and the limits of new work."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.duct_leakage.flow import (
    HIGHEST_PRESSURE,
    LOWEST_PRESSURE,
    REFERENCE_PRESSURE,
)
from rooftree.readings.duct_leakage.limits import CFM_PER_100_FT2
from rooftree.readings.duct_leakage.notes import E1554, duct_note
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.duct_leakage.limits import DuctLimit
    from rooftree.readings.duct_leakage.readings import DuctLeakageTest

CLOSE_TO_25 = 3.0
"""Distance from 25 Pa that counts as reached [Pa]; common practice."""

WELL_BUILT_SHARE, TYPICAL_SHARE = 0.05, 0.11
"""Leakage of a well-built system, and of a typical one, on each side [0-1] of the fan flow:
ASHRAE Handbook - Fundamentals 2021, ch. 17."""

HANDBOOK = "ASHRAE Handbook - Fundamentals 2021, ch. 17 (well built 5 %, typical 11 % each side)"
INCH_OF_WATER = 249.089
"""[Pa]."""

TOO_MUCH = 0.5
"""Share of the air handler's flow above which leakage at 25 Pa is hardly from leaks [0-1]; ours:
the systems that leak so much have a register open, a duct off, or a wrong unit."""


def judge_readings(test: DuctLeakageTest, pressures: tuple[float, ...]) -> tuple[Finding, ...]:
    """Return what is doubtful in the readings.

    Parameters
    ----------
    test : DuctLeakageTest
        Readings.
    pressures : tuple of float
        Duct pressures that were read [Pa].

    Returns
    -------
    tuple of Finding
    """
    shown = min(pressures, key=lambda p: abs(abs(p) - REFERENCE_PRESSURE), default=0.0)
    pressure = abs(shown)
    findings = []
    if 0.0 < pressure < 1.0 and LOWEST_PRESSURE <= pressure * INCH_OF_WATER <= HIGHEST_PRESSURE:
        findings.append(
            duct_note(
                "units",
                f"The ducts read {pressure:.2g} Pa. Almost certain: the gauge showed inches of"
                f" water, for that would be {pressure * INCH_OF_WATER:.0f} Pa. Set the gauge to"
                " pascals and type it again.",
                pressure,
                LOWEST_PRESSURE,
                "Pa",
                E1554,
            )
        )
    elif not LOWEST_PRESSURE <= pressure <= HIGHEST_PRESSURE:
        findings.append(
            duct_note(
                "pressure-range",
                f"The ducts were at {pressure:.1f} Pa, too far from 25 Pa to go there by an"
                " assumed exponent. Seal the registers that are open, or use a larger fan.",
                pressure,
                LOWEST_PRESSURE if pressure < LOWEST_PRESSURE else HIGHEST_PRESSURE,
                "Pa",
                E1554,
            )
        )
    elif abs(pressure - REFERENCE_PRESSURE) > CLOSE_TO_25:
        findings.append(
            duct_note(
                "pressure-not-reached",
                f"25 Pa was not held ({pressure:.1f} Pa): the flow was taken to 25 Pa with the"
                f" exponent {test.exponent:.2f}, which widens its limits. A large opening or a"
                " disconnected duct is the usual cause of a low pressure.",
                pressure,
                REFERENCE_PRESSURE,
                "Pa",
                E1554,
            )
        )
    if test.to_outdoors and shown < 0.0:
        findings.append(
            duct_note(
                "sign",
                "The ducts were read below outdoors. In the test to outdoors house and ducts are"
                " usually raised to the same pressure: look at the hoses, or note that both"
                " were lowered.",
                shown,
                0.0,
                "Pa",
                E1554,
            )
        )
    if test.air_handler_flow <= 0.0:
        findings.append(
            duct_note(
                "no-fan-flow",
                "The flow of the air handler is missing, so the leakage cannot be told as a"
                " share of it. Measure it, or take it from the blower's table and the static"
                " pressure.",
                test.air_handler_flow,
                0.0,
                "m³/s",
                "common practice",
            )
        )
    return tuple(findings)


def judge_share(share: Propagated | None) -> tuple[Finding, ...]:
    """Return what the leaked share of the air handler's flow means.

    Parameters
    ----------
    share : Propagated or None
        Leakage at 25 Pa over the air handler's flow [0-1].

    Returns
    -------
    tuple of Finding
        One note where more leaks than from a well-built system.
    """
    if share is None or share.value <= 2.0 * WELL_BUILT_SHARE:
        return ()
    if share.low > TOO_MUCH:
        return (
            duct_note(
                "very-large",
                f"The flow is {100.0 * share.value:.0f} % of what the air handler moves. Likely: a"
                " register is open, a duct came off, or a unit is wrong (L/s and cfm differ by"
                " 2.12). Feel for air at each register, look at the unit, and read again.",
                share.value,
                TOO_MUCH,
                "-",
                "ours",
            ),
        )
    typical = 2.0 * TYPICAL_SHARE
    how = "more than from a typical system" if share.value > typical else "as from many systems"
    return (
        duct_note(
            "share",
            f"Ducts leak {100.0 * share.value:.0f} % of what the fan moves at 25 Pa, {how}; a"
            f" well-built one loses {200.0 * WELL_BUILT_SHARE:.0f} %, both sides together. What"
            " leaks in the attic or crawlspace is heated and cooled for nothing.",
            share.value,
            2.0 * WELL_BUILT_SHARE,
            "-",
            HANDBOOK,
        ),
    )


def judge_limit(
    limit: DuctLimit | None,
    flow: Propagated,
    share: Propagated | None,
    per_floor_area: Propagated | None,
) -> tuple[Finding, ...]:
    """Return how the leakage stands against a limit.

    Parameters
    ----------
    limit : DuctLimit or None
        Of the edition asked for.
    flow : Propagated
        Leakage at 25 Pa [m³/s].
    share : Propagated or None
        The same over the air handler's flow [0-1].
    per_floor_area : Propagated or None
        The same for each floor area [m³/(s·m²)].

    Returns
    -------
    tuple of Finding
        One note: within, beyond, or too close to say; or what is missing to tell.
    """
    if limit is None:
        return ()
    recalled = " The limit is recalled, not read: check it." if limit.recalled else ""
    found, allowed, unit, missing = _held(limit, flow, share, per_floor_area)
    if found is None:
        says = f"The limit of the {limit.edition} edition needs {missing}: enter it."
        return (duct_note("limit-unknown", says, None, None, "", limit.source),)
    if found.high <= allowed:
        verdict = "within"
    elif found.low > allowed:
        verdict = "beyond"
    else:
        verdict = "too close to"
    is_altered = limit.when == "altered"
    work = "altered ducts" if is_altered else "new ducts"
    free = "" if is_altered else " An existing house need not meet it unless its code says so."
    return (
        duct_note(
            "limit",
            f"Leakage is {verdict} the limit for {work} of the {limit.edition} edition:"
            f" {_in_words(found.value, unit)} against {_in_words(allowed, unit)}.{free}{recalled}",
            found.value,
            allowed,
            unit,
            limit.source,
        ),
    )


def _in_words(value: float, unit: str) -> str:
    if unit == "-":
        return f"{100.0 * value:.1f} % of the air handler's flow"
    if unit == "m³/s":
        return both(value, Kind.FLOW)
    metric = f"{1000.0 * value:.2g} L/s for each m² of floor"
    return f"{value / CFM_PER_100_FT2:.1f} cfm for each 100 ft² of floor ({metric})"


def _held(
    limit: DuctLimit,
    flow: Propagated,
    share: Propagated | None,
    per_floor_area: Propagated | None,
) -> tuple[Propagated | None, float, str, str]:
    if limit.per_floor_area is not None:
        return per_floor_area, limit.per_floor_area, "m³/(s·m²)", "the floor area"
    if limit.share is not None:
        return share, limit.share, "-", "that flow"
    return flow, limit.flow or 0.0, "m³/s", ""


def judge_both(total: Propagated, to_outdoors: Propagated) -> tuple[Finding, ...]:
    """Return the doubt about leakage to outdoors that exceeds the total.

    Parameters
    ----------
    total, to_outdoors : Propagated
        Leakage at 25 Pa of the two tests on one system [m³/s].

    Returns
    -------
    tuple of Finding
        Empty where the two agree; severity note, for both tests are then in doubt.
    """
    if to_outdoors.value <= total.value:
        return ()
    doubt = math.hypot(total.standard / total.value, to_outdoors.standard / to_outdoors.value)
    distance = math.log(to_outdoors.value / total.value) / doubt if doubt else math.inf
    sure = to_outdoors.low > total.high
    chance = "may be chance, for the limits overlap"
    weight = f"cannot be: {sureness(probability_within(distance))} a mistake" if sure else chance
    return (
        duct_note(
            "outdoors-beyond-total",
            f"More leaks to outdoors than in all, which {weight}. Look for a register that was"
            " open in one test, a door to outdoors shut in the other, or house and ducts not"
            " at one pressure.",
            to_outdoors.value,
            total.value,
            "m³/s",
            "leakage to outdoors is a part of the total",
        ),
    )
