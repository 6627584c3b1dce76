"""Judge a duct leakage test: its doubts, what it costs, and the limits of new work."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.readings.duct_leakage.flow import (
    HIGHEST_PRESSURE,
    LOWEST_PRESSURE,
    REFERENCE_PRESSURE,
)
from rooftree.readings.duct_leakage.limits import CFM_PER_100_FT2

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.duct_leakage.limits import DuctLimit
    from rooftree.readings.duct_leakage.readings import DuctLeakageTest

CLOSE_TO_25 = 3.0
"""Distance from 25 Pa that counts as reached [Pa]; common practice."""

WELL_BUILT_SHARE, TYPICAL_SHARE = 0.05, 0.11
"""Leakage of a well-built system, and of a typical one, on each side [0-1] of the fan flow:
ASHRAE Handbook - Fundamentals 2021, ch. 17."""

HANDBOOK = "ASHRAE Handbook - Fundamentals 2021, ch. 17 (well built 5 %, typical 11 % each side)"
E1554 = "recalled: ASTM E1554, methods B and C"


def judge_readings(test: DuctLeakageTest) -> tuple[Finding, ...]:
    """Return what is doubtful in the readings.

    Parameters
    ----------
    test : DuctLeakageTest
        Readings.

    Returns
    -------
    tuple of Finding
    """
    pressure = abs(test.duct_pressure)
    findings = []
    if not LOWEST_PRESSURE <= pressure <= HIGHEST_PRESSURE:
        findings.append(
            _note(
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
            _note(
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
    if test.to_outdoors and test.duct_pressure < 0.0:
        findings.append(
            _note(
                "sign",
                "The ducts were read below outdoors. In the test to outdoors house and ducts are"
                " usually raised to the same pressure: look at the hoses, or note that both"
                " were lowered.",
                test.duct_pressure,
                0.0,
                "Pa",
                E1554,
            )
        )
    if test.air_handler_flow <= 0.0:
        findings.append(
            _note(
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
    typical = 2.0 * TYPICAL_SHARE
    how = "more than from a typical system" if share.value > typical else "as from many systems"
    return (
        _note(
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


def judge_limit(per_floor_area: Propagated, limit: DuctLimit | None) -> tuple[Finding, ...]:
    """Return how the leakage stands against a limit for new work.

    Parameters
    ----------
    per_floor_area : Propagated
        Leakage at 25 Pa for each floor area [m³/(s·m²)].
    limit : DuctLimit or None
        Of the edition asked for.

    Returns
    -------
    tuple of Finding
        One note: within, beyond, or too close to say.
    """
    if limit is None:
        return ()
    if per_floor_area.high <= limit.per_floor_area:
        verdict = "within"
    elif per_floor_area.low > limit.per_floor_area:
        verdict = "beyond"
    else:
        verdict = "too close to"
    recalled = " The limit is recalled, not read: check it." if limit.recalled else ""
    value, allowed = (
        number / CFM_PER_100_FT2 for number in (per_floor_area.value, limit.per_floor_area)
    )
    return (
        _note(
            "limit",
            f"Leakage is {verdict} the limit for new ducts of the {limit.edition} edition:"
            f" {value:.1f} against {allowed:.0f} cfm for each 100 ft² of floor. An existing"
            f" house need not meet it unless its code says so.{recalled}",
            per_floor_area.value,
            limit.per_floor_area,
            "m³/(s·m²)",
            limit.source,
        ),
    )


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
    sure = to_outdoors.low > total.high
    weight = "cannot be" if sure else "may be chance, for the limits overlap"
    return (
        _note(
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


def _note(code: str, says: str, value: float, limit: float, unit: str, source: str) -> Finding:
    return Finding(f"duct-leakage/{code}", Severity.NOTE, says, value, limit, unit, source)
