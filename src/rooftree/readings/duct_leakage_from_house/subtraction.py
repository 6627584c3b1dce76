"""Duct leakage to outdoors as the difference of two fan tests of the house.

Sources
-------
[BALANCE] Mass balance of the ducts, power law of one exponent: with the registers sealed the
    duct leaks still let some air through, by the leaks between ducts and house.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.physics.draws import draw_inputs, propagate_draws
from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.duct_leakage_from_house.notes import (
    HIGHEST_HOUSE_PRESSURE,
    LOWEST_HOUSE_PRESSURE,
    note,
    typed_in_inches,
)
from rooftree.units import Kind, both, both_range

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.duct_leakage_from_house.readings import DuctSubtractionTest

REFERENCE = 25.0
"""Duct pressure at which leakage is stated [Pa]."""

LEAST_SHARE = 0.2
"""Share of the house pressure that the sealed ducts must stand from the house [0-1]; ours: below
it sealing the registers hardly changed what the duct leaks pass."""

WITHOUT_READING = (0.6, 1.0)
"""Shares of the house pressure between which sealed ducts stand where nobody read
it [0-1]; ours."""

MOST_UNSURE = 0.2
"""Standard uncertainty of the gauge over the house pressure beyond which the method says
nothing [0-1]; ours."""

CLEAR = 2.0
"""Scatters of the difference of two flows from which it counts as one [-]; ours."""

KIND = "duct-subtraction"


@dataclass(frozen=True, slots=True)
class DuctSubtractionResult:
    """What the difference of the two tests tells.

    Attributes
    ----------
    flow_25 : Propagated or None
        Leakage to outdoors at 25 Pa [m³/s]; None where the readings do not give it. Its lower
        limit may lie below zero.
    share : Propagated or None
        The same over the air handler's flow [-].
    difference : float
        Flow with registers open less that with them sealed [m³/s].
    scatter : float
        Standard uncertainty of that difference from repeatability alone [m³/s].
    findings : tuple of Finding
        Doubts.
    says : str
        What it means for this house.
    """

    flow_25: Propagated | None
    share: Propagated | None
    difference: float
    scatter: float
    findings: tuple[Finding, ...]
    says: str


def reduce_duct_subtraction(test: DuctSubtractionTest) -> DuctSubtractionResult:
    """Reduce two fan tests, with registers open and sealed, to leakage to outdoors.

    Parameters
    ----------
    test : DuctSubtractionTest
        Readings.

    Returns
    -------
    DuctSubtractionResult

    Notes
    -----
    Open registers put the ducts at house pressure ``T``; sealed, they stand at ``P`` from the
    house and the leaks to outdoors still pass ``C (T - P)^n``. The difference of the flows is
    ``C (T^n - (T - P)^n)`` [BALANCE]_, and the leakage at 25 Pa ``C 25^n``. Where ``P`` was not
    read it is taken as 0.6 to 1 of ``T``. Limits from 10,000 draws; the method is the difference
    of two large numbers and cannot be sharp.

    References
    ----------
    .. [BALANCE] Mass balance of the ducts.

    Examples
    --------
    >>> from rooftree.readings.duct_leakage_from_house.readings import DuctSubtractionTest
    >>> test = DuctSubtractionTest(50.0, 1.00, 0.90, 45.0)
    >>> round(reduce_duct_subtraction(test).flow_25.value, 4)
    0.0881
    """
    rise = test.flow_open - test.flow_sealed
    scatter = test.repeatability * math.hypot(test.flow_open, test.flow_sealed)
    forbidding = _forbid(test)
    if forbidding:
        return DuctSubtractionResult(None, None, rise, scatter, forbidding, forbidding[0].says)
    most = MOST_UNSURE * abs(test.house_pressure)
    if not 0.0 <= test.pressure_uncertainty <= most:
        raise OutOfRangeError("pressure uncertainty", test.pressure_uncertainty, 0.0, most, "Pa")
    values, doubts = _inputs(test, rise, scatter)
    value = float(_leakage(np.array(values)[:, None])[0])
    drawn = _leakage(draw_inputs(values, doubts))
    flow = propagate_draws(value, drawn)
    handler = test.air_handler_flow
    share = propagate_draws(value / handler, drawn / handler) if handler > 0.0 else None
    findings = _judge(test, flow, rise, scatter)
    return DuctSubtractionResult(flow, share, rise, scatter, findings, _in_words(flow))


def _inputs(
    test: DuctSubtractionTest, rise: float, scatter: float
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    whole, read = abs(test.house_pressure), test.duct_pressure
    low, high = WITHOUT_READING
    apart = 0.5 * (low + high) * whole if read is None else abs(read)
    doubt = (high - low) * whole / math.sqrt(12.0) if read is None else test.pressure_uncertainty
    values = (rise, apart, whole, test.exponent, 1.0)
    return values, (
        scatter,
        doubt,
        test.pressure_uncertainty,
        test.exponent_uncertainty,
        test.flow_uncertainty,
    )


def _leakage(rows: NDArray[np.float64]) -> NDArray[np.float64]:
    rise, apart, whole, exponent, right = rows
    n = np.clip(exponent, 0.5, 1.0)
    left = np.clip(whole - apart, 0.0, 0.98 * whole)
    coefficient = rise / (np.power(whole, n) - np.power(left, n))
    return np.asarray(right * coefficient * np.power(REFERENCE, n))


def _forbid(test: DuctSubtractionTest) -> tuple[Finding, ...]:
    whole = abs(test.house_pressure)
    inches = typed_in_inches(
        KIND, "The house", whole, LOWEST_HOUSE_PRESSURE, HIGHEST_HOUSE_PRESSURE
    )
    if inches:
        return (inches,)
    if not LOWEST_HOUSE_PRESSURE <= whole <= HIGHEST_HOUSE_PRESSURE:
        says = (
            f"The house was held at {whole:.0f} Pa; the difference of two flows needs"
            f" {LOWEST_HOUSE_PRESSURE:.0f} to {HIGHEST_HOUSE_PRESSURE:.0f} Pa. Hold it at 50 Pa"
            " both times."
        )
        return (note(f"{KIND}/house-pressure", says, whole, LOWEST_HOUSE_PRESSURE, "Pa"),)
    if test.flow_open <= 0.0 or test.flow_sealed <= 0.0:
        says = "One of the two flows is missing or not above zero. Read the fan both times."
        return (note(f"{KIND}/no-flow", says, min(test.flow_open, test.flow_sealed), 0.0, "m³/s"),)
    if test.duct_pressure is not None and abs(test.duct_pressure) < LEAST_SHARE * whole:
        apart = abs(test.duct_pressure)
        says = (
            f"With the registers sealed the ducts still stand at house pressure, {apart:.1f} Pa"
            " from it. Likely: a register is not sealed, or the ducts leak mostly into the house;"
            " the difference of the two tests then says nothing. Look for the open register, or"
            " test with a duct fan."
        )
        return (note(f"{KIND}/ducts-at-house", says, apart, LEAST_SHARE * whole, "Pa"),)
    return ()


def _judge(
    test: DuctSubtractionTest, flow: Propagated, rise: float, scatter: float
) -> tuple[Finding, ...]:
    found = [_sure(flow, rise, scatter)]
    if test.duct_pressure is None:
        says = (
            "The pressure between house and sealed ducts was not read; it is taken as 60 to 100 %"
            " of the house's, which widens the limits. Read it at a register through the tape."
        )
        found.append(note(f"{KIND}/no-duct-pressure", says))
    elif abs(test.duct_pressure) > abs(test.house_pressure) + 3.5 * test.pressure_uncertainty:
        says = (
            "The sealed ducts read farther from the house than outdoors do. Almost certain: the"
            " hose is on the wrong tap, or the air handler runs. Read it again."
        )
        found.append(
            note(f"{KIND}/beyond-house", says, test.duct_pressure, test.house_pressure, "Pa")
        )
    if test.air_handler_flow > 0.0 and flow.low > 0.5 * test.air_handler_flow:
        says = (
            "More than half of what the air handler moves would leak. Likely: something else was"
            " opened or closed between the two tests, or a unit is wrong (L/s and cfm differ by"
            " 2.12). Repeat both."
        )
        found.append(
            note(f"{KIND}/very-large", says, flow.value, 0.5 * test.air_handler_flow, "m³/s")
        )
    return tuple(found)


def _sure(flow: Propagated, rise: float, scatter: float) -> Finding:
    if rise < -3.0 * scatter:
        sure = sureness(probability_within(rise / scatter) if scatter > 0.0 else 1.0)
        says = (
            f"The house leaks more with the registers sealed. {sure.capitalize()}: the two tests"
            " are exchanged, or something was opened between them. Repeat both, one after another."
        )
        return note(f"{KIND}/exchanged", says, rise, 0.0, "m³/s")
    if rise < CLEAR * scatter:
        says = (
            f"The two flows differ by {both(rise, Kind.FLOW)}, no more than chance makes two"
            f" readings of one flow differ: {both(scatter, Kind.FLOW)}. This method cannot see"
            f" leaks below {both(2.0 * scatter, Kind.FLOW)} in this house: use a duct fan, or read"
            " with the air handler off and on."
        )
        return note(f"{KIND}/within-scatter", says, rise, CLEAR * scatter, "m³/s")
    relative = 0.5 * (flow.high - flow.low) / flow.value
    says = (
        f"The leakage is a small difference of two large flows: it may be {100.0 * relative:.0f} %"
        " off either way. Use it to find a disaster, not to prove a repair."
    )
    return note(f"{KIND}/wide", says, relative, None, "-")


def _in_words(flow: Propagated) -> str:
    leak = both_range(max(flow.low, 0.0), max(flow.high, 0.0), Kind.FLOW)
    return f"The ducts leak {leak} to outdoors at 25 Pa by the difference of the two tests."
