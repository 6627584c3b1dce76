"""Money over the years: what a saving is worth today, and whether it pays.

Rates are shares a year and real or nominal throughout, as the caller likes; savings of
a year come at its end, the first of them already escalated once.

Sources
-------
[HB135] NIST Handbook 135, Life-Cycle Costing Manual; the formulas are recalled, their
    forms are those of 10 CFR 436.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.plan.model import Effect, Worth

if TYPE_CHECKING:
    from rooftree.plan.model import Measure

UNCALIBRATED = (0.4, 1.0)
"""Share of a computed saving that comes true where the model was not fitted to bills
[-]: about 0.4 in a randomized trial of low-income retrofits in Michigan (Fowlie,
Greenstone and Wolfram 2018), 0.57 to 0.69 in 49 New York homes (Berry and Gettings
1998); none of them found more than was computed on average."""

CALIBRATED = (0.7, 1.1)
"""The same where the model was fitted to bills [-]; judgement: savings after retrofit
lay 2 % above what was computed in 1,172 Swiss buildings once use before it was known
(Cozza et al. 2020), and ASHRAE Guideline 14 lets savings be unsure by half."""


def present_value(rate: float, years: float) -> float:
    """Return what one dollar paid after some years is worth today.

    Parameters
    ----------
    rate : float
        Discount rate [1/year], > -1.
    years : float
        Years until it is paid [years], >= 0.

    Returns
    -------
    float
        Single present value factor [-].

    Notes
    -----
    ``SPV = (1 + d) ** -n`` [HB135]_.

    References
    ----------
    [HB135] NIST Handbook 135, Life-Cycle Costing Manual (recalled).

    Examples
    --------
    >>> round(present_value(0.03, 10), 6)
    0.744094
    """
    _require("years", years, 0.0, 200.0, "years")
    return math.pow(1.0 + _rate("rate", rate), -years)


def annuity_value(rate: float, years: int, escalation: float = 0.0) -> float:
    """Return what one dollar a year, growing or not, is worth today.

    Parameters
    ----------
    rate : float
        Discount rate [1/year], > -1.
    years : int
        Number of yearly payments, the first after one year.
    escalation : float
        Growth of the payment [1/year]; the first is already ``1 + escalation``.

    Returns
    -------
    float
        Uniform present value factor, modified by the escalation [-].

    Notes
    -----
    ``UPV* = q (1 - q ** n) / (1 - q)`` with ``q = (1 + e) / (1 + d)``, and `n` where
    ``q = 1`` [HB135]_.

    References
    ----------
    [HB135] NIST Handbook 135, Life-Cycle Costing Manual (recalled).

    Examples
    --------
    >>> round(annuity_value(0.03, 15), 5)
    11.93794
    >>> round(annuity_value(0.03, 20, 0.01), 5)
    16.38272
    """
    _require("years", years, 0, 200, "years")
    q = (1.0 + _rate("escalation", escalation)) / (1.0 + _rate("rate", rate))
    if abs(q - 1.0) < 1e-12:
        return float(years)
    return q * (1.0 - math.pow(q, years)) / (1.0 - q)


def _rate(name: str, rate: float) -> float:
    _require(name, rate, -0.5, 1.0, "1/year")
    return rate


def _require(name: str, value: float, low: float, high: float, unit: str) -> None:
    if not low <= value <= high:
        raise OutOfRangeError(name, value, low, high, unit)


def worth_of(
    investment: float,
    yearly_saving: float,
    *,
    rate: float,
    years: int,
    escalation: float = 0.0,
    present: float | None = None,
) -> Worth:
    """Return what a yearly saving is worth against what was paid for it.

    Parameters
    ----------
    investment : float
        Present value of all that is paid [$], >= 0.
    yearly_saving : float
        Saving at today's prices [$/year].
    rate, escalation : float
        Discount rate and growth of energy prices [1/year].
    years : int
        Horizon.
    present : float or None
        Present value of the savings where fuels escalate differently [$]; from the
        yearly saving and the escalation where None.

    Returns
    -------
    Worth

    Notes
    -----
    ``NS = PV savings - investment``, ``SIR = PV savings / investment``,
    ``AIRR = (1 + d) SIR ** (1 / N) - 1``, ``SPB = first cost / first year's saving`` at
    today's prices [HB135]_. The discounted payback is read between years on a straight
    line of the discounted savings.

    References
    ----------
    [HB135] NIST Handbook 135, Life-Cycle Costing Manual (recalled).

    Examples
    --------
    >>> worth = worth_of(1800.0, 168.0, rate=0.03, years=30, escalation=0.005)
    >>> round(worth.net_saving, 2)
    1722.13
    """
    _require("investment", investment, 0.0, 1e9, "$")
    _require("years", years, 1, 200, "years")
    savings = yearly_saving * annuity_value(rate, years, escalation)
    if present is not None:
        savings = present
    ratio = savings / investment if investment > 0.0 else None
    returned = (1.0 + rate) * math.pow(ratio, 1.0 / years) - 1.0 if ratio and ratio > 0.0 else None
    return Worth(
        savings=savings,
        investment=investment,
        net_saving=savings - investment,
        savings_to_investment=ratio,
        rate_of_return=returned,
        simple_payback=investment / yearly_saving if yearly_saving > 0.0 else None,
        discounted_payback=_discounted_payback(investment, yearly_saving, rate, years, escalation),
    )


def _discounted_payback(
    investment: float, saving: float, rate: float, years: int, escalation: float
) -> float | None:
    if saving <= 0.0:
        return 0.0 if investment == 0.0 else None
    left = investment
    for year in range(1, years + 1):
        gained = saving * math.pow((1.0 + escalation) / (1.0 + rate), year)
        if gained >= left:
            return year - 1 + left / gained
        left -= gained
    return None


def investment_of(measure: Measure, *, rate: float, years: int) -> float:
    """Return what a measure costs over a horizon beyond what is due in any case.

    Parameters
    ----------
    measure : Measure
        What is paid for; the middle of its cost range is taken.
    rate : float
        Discount rate [1/year].
    years : int
        Horizon.

    Returns
    -------
    float
        Present value [$].

    Notes
    -----
    First cost less what is due anyway, plus the same again each time the life ends
    within the horizon, less what is left of the last life at the end, on a straight
    line. Replacements cost the same extra as the first: the old kind would have been
    replaced as often.
    """
    extra = measure.cost - measure.anyway_cost
    life = measure.life
    _require(f"life of {measure.id}", life, 1.0, 200.0, "years")
    times = math.ceil(years / life)
    bought = sum(extra * present_value(rate, life * again) for again in range(times))
    left = (times * life - years) / life
    return bought - left * extra * present_value(rate, years)


def likely_range(effect: Effect, calibrated: bool) -> tuple[Effect, Effect]:
    """Return the range in which a computed effect will likely come true.

    Parameters
    ----------
    effect : Effect
        As computed.
    calibrated : bool
        Whether the house was fitted to its bills.

    Returns
    -------
    tuple of Effect
        Low and high end; energy, money and emissions each taken by themselves.

    Notes
    -----
    Computed savings times `UNCALIBRATED` or `CALIBRATED`, whose sources stand there.
    Where more is used, the low end is the larger use.

    References
    ----------
    Fowlie, Greenstone and Wolfram, Quarterly Journal of Economics, 2018; Berry and
    Gettings, ORNL, 1998; Cozza et al., Energy and Buildings 224, 2020, 110235.
    """
    shares = CALIBRATED if calibrated else UNCALIBRATED

    def ends(value: float) -> tuple[float, float]:
        low, high = sorted(value * share for share in shares)
        return low, high

    energy = {fuel: ends(saved) for fuel, saved in effect.energy_saved.items()}
    money, emissions = ends(effect.money_saved), ends(effect.emissions_saved)
    low, high = (
        Effect({fuel: both[end] for fuel, both in energy.items()}, money[end], emissions[end])
        for end in (0, 1)
    )
    return low, high
