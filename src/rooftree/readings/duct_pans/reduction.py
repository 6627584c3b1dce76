"""Reduce pan pressures to a ranked list of registers at one house pressure.

Sources
-------
[SERIES] One flow through two leaks in series: from outdoors into the duct, and from the duct
    into the house through the other registers.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.physics.draws import draw_inputs, propagate_draws
from rooftree.readings.duct_pans.judge import judge_pans, judge_readings, judge_results
from rooftree.readings.duct_pans.standing import REFERENCE, Standing, stand

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.duct_pans.readings import DuctPanTest, PanReading

MOST_UNSURE = 0.2
"""Standard uncertainty of the gauge over the house pressure beyond which pans say nothing
[0-1]; ours."""

SURELY = 2.0
"""Standard uncertainties of a difference from which one register ranks above another [-]."""


@dataclass(frozen=True, slots=True)
class PanResult:
    """One register.

    Attributes
    ----------
    reading : PanReading
        As read.
    normalized : Propagated
        Pan pressure with the house at 50 Pa [Pa].
    rank : int
        1 plus the number of registers that surely read more; equal for those that cannot be
        told apart.
    standing : Standing
        What it means.
    ratio : Propagated or None
        Leakage of the run to outdoors over its opening to the house, as holes [-]; None
        where the pressure is too near 0 or the house's to tell.
    """

    reading: PanReading
    normalized: Propagated
    rank: int
    standing: Standing
    ratio: Propagated | None


@dataclass(frozen=True, slots=True)
class DuctPansResult:
    """All registers, the leakiest first.

    Attributes
    ----------
    pans : tuple of PanResult
        Ranked; empty where the readings cannot be compared.
    findings : tuple of Finding
        Doubts, and what to look for.
    says : str
        What it means for this house.
    """

    pans: tuple[PanResult, ...]
    findings: tuple[Finding, ...]
    says: str


def reduce_duct_pans(test: DuctPanTest) -> DuctPansResult:
    """Reduce the pan pressures of one system.

    Parameters
    ----------
    test : DuctPanTest
        Readings.

    Returns
    -------
    DuctPansResult

    Raises
    ------
    OutOfRangeError
        If the gauge is less sure than a fifth of the house pressure.

    Notes
    -----
    Within one power law the duct takes a fixed share of the pressure between house and the
    space that holds it, so that ``p_50 = 50 p / T`` [SERIES]_; two different exponents move
    that share a little when the house is not at 50 Pa, which the limits allow for. A screen:
    it ranks runs for a search, and measures no flow. Readings of registers close together
    depend on each other, and all sink while the largest leak is sealed: pan again then.

    References
    ----------
    .. [SERIES] Mass balance of the duct.

    Examples
    --------
    >>> from rooftree.readings.duct_pans.readings import DuctPanTest, PanReading
    >>> pans = (PanReading("kitchen", -1.2), PanReading("bath", -8.0))
    >>> found = reduce_duct_pans(DuctPanTest(-40.0, pans))
    >>> [(pan.reading.name, round(pan.normalized.value, 1), pan.rank) for pan in found.pans]
    [('bath', 10.0, 1), ('kitchen', 1.5, 2)]
    """
    forbidding = judge_readings(test)
    most = MOST_UNSURE * _across(test)
    if not forbidding and not 0.0 <= test.pressure_uncertainty <= most:
        raise OutOfRangeError("pressure uncertainty", test.pressure_uncertainty, 0.0, most, "Pa")
    if forbidding:
        return DuctPansResult((), forbidding, forbidding[0].says)
    normalized = [_normalize(test, reading) for reading in test.pans]
    pans = sorted(
        (
            PanResult(reading, value, _rank(value, normalized), stand(value), _ratio(test, reading))
            for reading, value in zip(test.pans, normalized, strict=True)
        ),
        key=lambda pan: (-pan.normalized.value, pan.reading.name),
    )
    findings = (*judge_pans(test), *judge_results(test, tuple(pans)))
    return DuctPansResult(tuple(pans), findings, _in_words(pans))


def _across(test: DuctPanTest) -> float:
    """Return the pressure that drives the leaks, without sign [Pa]."""
    return abs(test.house_pressure if test.space_pressure is None else test.space_pressure)


def _read(test: DuctPanTest, reading: PanReading) -> tuple[float, float]:
    """Return the pan pressure and its standard uncertainty, without sign [Pa]."""
    first, again = abs(reading.pressure), reading.again
    if again is None:
        return first, test.pressure_uncertainty
    return 0.5 * (first + abs(again)), test.pressure_uncertainty / math.sqrt(2.0)


def _drawn(test: DuctPanTest, reading: PanReading) -> tuple[NDArray[np.float64], ...]:
    part, doubt = _read(test, reading)
    values = (part, _across(test), test.exponent, test.exponent)
    other = test.exponent_uncertainty
    p, t, n, m = draw_inputs(values, (doubt, test.pressure_uncertainty, other, other))
    return p / t, t, np.clip(n, 0.5, 1.0), np.clip(m, 0.5, 1.0)


def _normalize(test: DuctPanTest, reading: PanReading) -> Propagated:
    part, _ = _read(test, reading)
    share, across, n, m = _drawn(test, reading)
    inside = np.clip(share, 0.0, 1.0)
    # One Newton step of the balance of two exponents, in the logarithm of s / (1 - s).
    shift = np.exp((n - m) * np.log(across / REFERENCE) / (n * (1.0 - inside) + m * inside))
    at_50 = REFERENCE * share * shift / (1.0 - inside + inside * shift)
    return propagate_draws(REFERENCE * part / _across(test), at_50)


def _ratio(test: DuctPanTest, reading: PanReading) -> Propagated | None:
    part, doubt = _read(test, reading)
    across = _across(test)
    if not 4.0 * doubt <= part <= across - 4.0 * test.pressure_uncertainty:
        return None
    share, t, n, m = _drawn(test, reading)
    within = np.clip(share, 1e-4, 1.0 - 1e-4) * t
    ratios = np.power(within / REFERENCE, n) / np.power((t - within) / REFERENCE, m)
    return propagate_draws(math.pow(part / (across - part), test.exponent), ratios)


def _rank(value: Propagated, others: list[Propagated]) -> int:
    return 1 + sum(
        other.value - value.value > SURELY * math.hypot(other.standard, value.standard)
        for other in others
    )


def _in_words(pans: list[PanResult]) -> str:
    worst = [pan for pan in pans if pan.standing in (Standing.LEAKS, Standing.OPEN)]
    some = [pan for pan in pans if pan.standing is Standing.SOME]
    if not worst and not some:
        return "No run shows leakage to outdoors: every register reads 1 Pa or less."
    if not worst:
        names = ", ".join(pan.reading.name for pan in some[:3])
        return f"No run leaks much to outdoors; a little does at {names}."
    names = ", ".join(pan.reading.name for pan in worst[:3])
    more = f" and {len(worst) - 3} more" if len(worst) > 3 else ""
    number = f"{len(worst)} of {len(pans)} runs leak"
    number = f"1 of {len(pans)} runs leaks" if len(worst) == 1 else number
    return f"{number} to outdoors; start at {names}{more}, and pan again after each repair."
