"""Reduce fan tests of a house with the air handler off and on to the leaks of its ducts."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.propagation import COVERAGE, Propagated
from rooftree.readings.duct_leakage_from_house.fit import fit_leaks, readings_of
from rooftree.readings.duct_leakage_from_house.judge import judge_fit, judge_readings
from rooftree.readings.duct_leakage_from_house.model import delta_q, signed_power
from rooftree.units import Kind, both_range

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.readings.duct_leakage_from_house.fit import Fitted
    from rooftree.readings.duct_leakage_from_house.readings import DeltaQTest


@dataclass(frozen=True, slots=True)
class DeltaQPoint:
    """One reading with the air handler on.

    Attributes
    ----------
    pressure : float
        House with reference to outdoors, baseline taken off [Pa].
    change : float
        Flow as read less that of the enclosure alone by the fit [m³/s].
    fitted : float
        The same by the fitted leaks [m³/s].
    """

    pressure: float
    change: float
    fitted: float


@dataclass(frozen=True, slots=True)
class DeltaQResult:
    """What the air handler changes, and which leaks explain it.

    Attributes
    ----------
    supply, return_ : Propagated or None
        Leakage to outdoors while the air handler runs [m³/s]; None where the readings do not
        give it. A limit may lie below zero.
    supply_share, return_share : Propagated or None
        The same over the air handler's flow [-].
    exponent : float or None
        Of the enclosure [-].
    points : tuple of DeltaQPoint
        Readings with the air handler on, in the order read.
    findings : tuple of Finding
        Doubts.
    says : str
        What it means for this house.
    """

    supply: Propagated | None
    return_: Propagated | None
    supply_share: Propagated | None
    return_share: Propagated | None
    exponent: float | None
    points: tuple[DeltaQPoint, ...]
    findings: tuple[Finding, ...]
    says: str


def reduce_delta_q(test: DeltaQTest) -> DeltaQResult:
    """Reduce the fan's flows with the air handler off and on to supply and return leakage.

    Parameters
    ----------
    test : DeltaQTest
        Readings.

    Returns
    -------
    DeltaQResult

    Notes
    -----
    :func:`~rooftree.readings.duct_leakage_from_house.fit.fit_leaks`; ASTM E1554 method A
    (recalled). Leaks are stated at operating pressure, not at 25 Pa. Published experience:
    repeatable to 1 % and accurate to 1.3 to 2.5 % of the air handler's flow (Walker et al., LBNL,
    2002); in 51 houses biased by a few percent on average and by much in one of five (Francisco
    et al., 2004); wind is its enemy.
    """
    forbidding = judge_readings(test)
    if forbidding:
        return DeltaQResult(None, None, None, None, None, (), forbidding, forbidding[0].says)
    readings = readings_of(test)
    fitted = fit_leaks(test, readings)
    supply = _limited(fitted.supply, fitted.supply_standard)
    back = _limited(fitted.return_, fitted.return_standard)
    handler = test.air_handler_flow
    shares = [
        _limited(leak.value / handler, leak.standard / handler) if handler > 0.0 else None
        for leak in (supply, back)
    ]
    return DeltaQResult(
        supply,
        back,
        shares[0],
        shares[1],
        fitted.exponent,
        _points(test, fitted),
        judge_fit(test, fitted),
        _in_words(supply, back),
    )


def _limited(value: float, standard: float) -> Propagated:
    return Propagated(value, standard, value - COVERAGE * standard, value + COVERAGE * standard)


def _points(test: DeltaQTest, fitted: Fitted) -> tuple[DeltaQPoint, ...]:
    readings = readings_of(test)
    p = readings.pressure
    enclosure = np.where(p > 0.0, fitted.above, fitted.below) * signed_power(p, fitted.exponent)
    change = delta_q(
        p,
        fitted.supply,
        fitted.return_,
        abs(test.supply_pressure),
        abs(test.return_pressure),
        test.exponent,
    )
    return tuple(
        DeltaQPoint(float(pressure), float(flow - alone), float(fit))
        for pressure, flow, alone, fit, on in zip(
            p, readings.flow, enclosure, change, readings.running, strict=True
        )
        if on
    )


def _in_words(supply: Propagated, back: Propagated) -> str:
    parts = [
        f"{name} leak {both_range(max(leak.low, 0.0), max(leak.high, 0.0), Kind.FLOW)}"
        for name, leak in (("supply ducts", supply), ("return ducts", back))
    ]
    says = f"While the air handler runs, {parts[0]} to outdoors and {parts[1]} from outdoors."
    net, doubt = supply.value - back.value, math.hypot(supply.standard, back.standard)
    if abs(net) <= COVERAGE * doubt:
        return says
    way = "lowers" if net > 0.0 else "raises"
    return f"{says} The difference {way} the pressure of the house."
