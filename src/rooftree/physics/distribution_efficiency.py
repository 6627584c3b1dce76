"""How much of the heat or cold of an air handler reaches the rooms: the method of Standard 152.

One hour or one season at steady temperatures: air comes back from the rooms, exchanges heat
through the return ducts, is joined by what leaks in, passes the coil, exchanges heat through
the supply ducts and loses what leaks out. Cold is counted as heat below zero, so that one
equation serves both.

Sources
-------
[SPC152] ANSI/ASHRAE Standard 152, "Method of test for determining the design and seasonal
    efficiencies of residential thermal distribution systems" (recalled; the chain was worked
    by hand beside it, and the correction for regain derived a second time).
[ACM] California Energy Commission, ACM approval manual, appendices on ducts (recalled): the
    simple correction for regain.
[HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17, eq. 19.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rooftree.errors import OutOfRangeError

SPECIFIC_HEAT = 1006.0
"""Of air [J/(kg·K)]."""


@dataclass(frozen=True, slots=True)
class DuctSide:
    """The supply or the return ducts outside the heated and cooled rooms.

    Attributes
    ----------
    leakage : float
        Share of the air handler's flow that is lost to or drawn from outside the rooms
        while it runs [0-1], below 1.
    area : float
        Surface of the ducts outside the rooms [m²].
    resistance : float
        Of wall, wrap and films [m²·K/W], > 0.
    difference : float
        Temperature of the rooms less that of the air round the ducts [K].
    regain : float
        Share of what the ducts lose that warms the rooms after all, because it warms the
        space round the ducts [0-1].
    """

    leakage: float
    area: float
    resistance: float
    difference: float
    regain: float = 0.0

    def __post_init__(self) -> None:
        """Refuse ducts that cannot be.

        Raises
        ------
        OutOfRangeError
            If a share, the area or the resistance is out of range.
        """
        below_one = math.nextafter(1.0, 0.0)
        for name, value, low, high, unit in (
            ("leakage", self.leakage, 0.0, below_one, "-"),
            ("area", self.area, 0.0, math.inf, "m²"),
            ("resistance", self.resistance, math.nextafter(0.0, 1.0), math.inf, "m²·K/W"),
            ("regain", self.regain, 0.0, 1.0, "-"),
        ):
            if not low <= value <= high:
                raise OutOfRangeError(name, value, low, high, unit)

    @property
    def tight_share(self) -> float:
        """Return the share of the flow that does not leak [0-1]."""
        return 1.0 - self.leakage


@dataclass(frozen=True, slots=True)
class DuctAir:
    """Temperatures of the air on its way round.

    Attributes
    ----------
    returned, mixed, plenum, register : float
        At the end of the return ducts, after what leaks into them has joined, behind the
        coil, and at the registers [K].
    """

    returned: float
    mixed: float
    plenum: float
    register: float


def conduction_share(side: DuctSide, capacity_rate: float) -> float:
    """Return the share of its temperature difference that air keeps along the ducts.

    Parameters
    ----------
    side : DuctSide
        The ducts.
    capacity_rate : float
        Mass flow of the air handler times specific heat [W/K], > 0.

    Returns
    -------
    float
        Share [0-1]: ``B = exp(-A / (R m c))`` [SPC152]_.

    Raises
    ------
    OutOfRangeError
        If no air flows.

    References
    ----------
    .. [SPC152] ANSI/ASHRAE Standard 152 (recalled).

    Examples
    --------
    >>> round(conduction_share(DuctSide(0.1, 45.0, 1.06, 20.0), 683.7), 4)
    0.9398
    """
    if not 0.0 < capacity_rate < math.inf:
        raise OutOfRangeError("capacity_rate", capacity_rate, 0.0, math.inf, "W/K")
    return math.exp(-side.area / (side.resistance * capacity_rate))


def _require_rise(rise: float) -> None:
    if rise == 0.0 or not math.isfinite(rise):
        raise OutOfRangeError("rise (other than zero)", rise, -math.inf, math.inf, "K")


def delivery_effectiveness(
    supply: DuctSide, back: DuctSide, capacity_rate: float, rise: float
) -> float:
    """Return the share of the coil's sensible heat or cold that comes out of the registers.

    Parameters
    ----------
    supply, back : DuctSide
        Supply and return ducts.
    capacity_rate : float
        Mass flow of the air handler times specific heat [W/K], > 0.
    rise : float
        Change of temperature through the coil: output over `capacity_rate` [K]; above 0
        while it heats, below 0 while it cools.

    Returns
    -------
    float
        Delivery effectiveness before regain [-]; below 0 where the ducts take more than
        the coil gives.

    Raises
    ------
    OutOfRangeError
        If no air flows, or the coil does nothing.

    Notes
    -----
    ``a_s B_s - a_s B_s (1 - a_r B_r) dT_r / dT_e - a_s (1 - B_s) dT_s / dT_e``, with the
    tight shares `a` and the conduction shares `B` of the two sides [SPC152]_. For cooling
    it leaves out the moisture of the air that leaks into the return, which
    :func:`moist_delivery_effectiveness` counts.

    References
    ----------
    .. [SPC152] ANSI/ASHRAE Standard 152 (recalled).

    Examples
    --------
    >>> ducts = DuctSide(0.10, 45.15, 1.0567, 20.0), DuctSide(0.05, 8.36, 1.0567, 20.0)
    >>> round(delivery_effectiveness(*ducts, 683.66, 27.78), 3)
    0.769
    """
    _require_rise(rise)
    kept, kept_back = conduction_share(supply, capacity_rate), conduction_share(back, capacity_rate)
    out = supply.tight_share
    return out * (
        kept
        - kept * (1.0 - back.tight_share * kept_back) * back.difference / rise
        - (1.0 - kept) * supply.difference / rise
    )


def duct_air(
    supply: DuctSide, back: DuctSide, capacity_rate: float, rise: float, indoor: float
) -> DuctAir:
    """Return the temperatures of the air on its way through the ducts.

    Parameters
    ----------
    supply, back : DuctSide
        Supply and return ducts.
    capacity_rate : float
        Mass flow of the air handler times specific heat [W/K], > 0.
    rise : float
        Change of temperature through the coil [K].
    indoor : float
        Temperature of the rooms [K].

    Returns
    -------
    DuctAir

    Raises
    ------
    OutOfRangeError
        If no air flows.

    Notes
    -----
    The chain behind :func:`delivery_effectiveness` [SPC152]_.

    References
    ----------
    .. [SPC152] ANSI/ASHRAE Standard 152 (recalled).

    Examples
    --------
    >>> sides = DuctSide(0.0, 0.0, 1.0, 20.0), DuctSide(0.1, 0.0, 1.0, 20.0)
    >>> duct_air(*sides, 600.0, 28.0, 293.15).register
    319.15
    """
    round_back, round_supply = indoor - back.difference, indoor - supply.difference
    returned = round_back + conduction_share(back, capacity_rate) * (indoor - round_back)
    mixed = back.tight_share * returned + back.leakage * round_back
    plenum = mixed + rise
    kept = conduction_share(supply, capacity_rate)
    return DuctAir(returned, mixed, plenum, round_supply + kept * (plenum - round_supply))


def moist_delivery_effectiveness(
    supply: DuctSide,
    back: DuctSide,
    mass_flow: float,
    capacity: float,
    *,
    supply_plenum: float,
    round_supply: float,
    indoor_enthalpy: float,
    return_enthalpy: float,
) -> float:
    """Return the share of the coil's total cold, moisture included, that reaches the rooms.

    Parameters
    ----------
    supply, back : DuctSide
        Supply and return ducts.
    mass_flow : float
        Of the air handler [kg/s], > 0.
    capacity : float
        Total output of the coil, below 0 while it cools [W].
    supply_plenum, round_supply : float
        Temperature of the air behind the coil and of that round the supply ducts [K].
    indoor_enthalpy, return_enthalpy : float
        Enthalpy of the air of the rooms and of that round the return ducts, per dry air
        [J/kg].

    Returns
    -------
    float
        Delivery effectiveness before regain [-].

    Raises
    ------
    OutOfRangeError
        If no air flows, or the coil does nothing.

    Notes
    -----
    ``(a_s m / E) (E / m + (1 - a_r) (h_r - h_in) + a_r c (B_r - 1) dT_r
    + c (B_s - 1) (t_sp - t_s))`` [SPC152]_. In dry air it is
    :func:`delivery_effectiveness`.

    References
    ----------
    .. [SPC152] ANSI/ASHRAE Standard 152 (recalled).

    Examples
    --------
    >>> sides = DuctSide(0.1, 0.0, 1.0, -10.0), DuctSide(0.1, 0.0, 1.0, -10.0)
    >>> temperatures = {"supply_plenum": 286.0, "round_supply": 308.0}
    >>> damp = {"indoor_enthalpy": 50e3, "return_enthalpy": 80e3}
    >>> round(moist_delivery_effectiveness(*sides, 0.6, -10e3, **temperatures, **damp), 3)
    0.738
    """
    if not 0.0 < mass_flow < math.inf:
        raise OutOfRangeError("mass_flow", mass_flow, 0.0, math.inf, "kg/s")
    _require_rise(capacity / (mass_flow * SPECIFIC_HEAT))
    rate = mass_flow * SPECIFIC_HEAT
    gained = (
        capacity
        + mass_flow * back.leakage * (return_enthalpy - indoor_enthalpy)
        + rate * back.tight_share * (conduction_share(back, rate) - 1.0) * back.difference
        + rate * (conduction_share(supply, rate) - 1.0) * (supply_plenum - round_supply)
    )
    return supply.tight_share * gained / capacity


def with_regain(
    effectiveness: float, supply: DuctSide, back: DuctSide, capacity_rate: float, rise: float
) -> float:
    """Return delivery effectiveness with what the space round the ducts gives back.

    Parameters
    ----------
    effectiveness : float
        Before regain, of :func:`delivery_effectiveness` [-].
    supply, back : DuctSide
        Supply and return ducts, with the regain of the spaces they run through.
    capacity_rate : float
        Mass flow of the air handler times specific heat [W/K], > 0.
    rise : float
        Change of temperature through the coil [K].

    Returns
    -------
    float
        Corrected delivery effectiveness [-].

    Raises
    ------
    OutOfRangeError
        If no air flows, or the coil does nothing.

    Notes
    -----
    ``DE + F_s (1 - DE) - (F_s - F_r - B_r (a_r F_s - F_r)) dT_r / dT_e`` [SPC152]_: the
    losses of the supply, counted from the temperature of the rooms, times their regain, and
    the conduction of the return times its own. Cold air drawn into the return is no loss of
    ducts that could come back, which the simple form :func:`with_simple_regain` overlooks.

    References
    ----------
    .. [SPC152] ANSI/ASHRAE Standard 152 (recalled, and derived again).

    Examples
    --------
    >>> ducts = DuctSide(0.1, 45.15, 1.0567, 20.0, 0.1), DuctSide(0.05, 8.36, 1.0567, 20.0, 0.1)
    >>> round(with_regain(0.76912, *ducts, 683.66, 27.78), 3)
    0.789
    """
    _require_rise(rise)
    kept = conduction_share(back, capacity_rate)
    of_return = (
        supply.regain - back.regain - kept * (back.tight_share * supply.regain - back.regain)
    )
    lost = 1.0 - effectiveness
    return effectiveness + supply.regain * lost - of_return * back.difference / rise


def with_simple_regain(effectiveness: float, regain: float) -> float:
    """Return delivery effectiveness with one regain for all that is lost.

    Parameters
    ----------
    effectiveness : float
        Before regain [-].
    regain : float
        Share of the losses that comes back [0-1].

    Returns
    -------
    float
        Corrected delivery effectiveness [-].

    Raises
    ------
    OutOfRangeError
        If the regain is outside 0 to 1.

    Notes
    -----
    ``DE + F (1 - DE)`` [ACM]_; too high where the return leaks.

    References
    ----------
    .. [ACM] California Energy Commission, ACM approval manual (recalled).

    Examples
    --------
    >>> round(with_simple_regain(0.76912, 0.10), 5)
    0.79221
    """
    if not 0.0 <= regain <= 1.0:
        raise OutOfRangeError("regain", regain, 0.0, 1.0, "-")
    return effectiveness + regain * (1.0 - effectiveness)


def distribution_efficiency(
    effectiveness: float, *, equipment: float = 1.0, load: float = 1.0
) -> float:
    """Return the efficiency of a distribution system.

    Parameters
    ----------
    effectiveness : float
        Corrected delivery effectiveness [-].
    equipment : float
        Efficiency of the equipment with these ducts over that with perfect ones [-], > 0.
    load : float
        Load of the house with perfect ducts over that with these, whose leaks move outdoor
        air through it [-], > 0.

    Returns
    -------
    float
        Energy that perfect ducts would need over what these need [-].

    Raises
    ------
    OutOfRangeError
        If a factor is not above 0.

    Notes
    -----
    The product of the three [SPC152]_.

    References
    ----------
    .. [SPC152] ANSI/ASHRAE Standard 152 (recalled).

    Examples
    --------
    >>> round(distribution_efficiency(0.78865, load=0.97), 3)
    0.765
    """
    for name, value in (("equipment", equipment), ("load", load)):
        if not 0.0 < value < math.inf:
            raise OutOfRangeError(name, value, 0.0, math.inf, "-")
    return effectiveness * equipment * load


def efficiency_of_duct_load(factor: float) -> float:
    """Return the efficiency that goes with a duct load over the load of the building.

    Parameters
    ----------
    factor : float
        Duct loss or gain over the building's load [-], above -1.

    Returns
    -------
    float
        ``1 / (1 + F)`` [-], from equation 19 [HOF2021]_: the duct load is `F` times that of
        the building, and equipment carries both.

    Raises
    ------
    OutOfRangeError
        If the factor is -1 or less.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17, eq. 19.

    Examples
    --------
    >>> efficiency_of_duct_load(0.25)
    0.8
    """
    if not -1.0 < factor < math.inf:
        raise OutOfRangeError("factor", factor, math.nextafter(-1.0, 0.0), math.inf, "-")
    return 1.0 / (1.0 + factor)
