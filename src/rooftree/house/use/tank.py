"""Water heaters with a tank: loss from the rating, and efficiency at the real draw.

Sources
-------
[LUTZ1999] J. Lutz, C. Whitehead, A. Lekov, G. Rosenquist, D. Winiarski, "Simplified
    tool for calculating water heater energy use", ASHRAE Transactions 105(1), 1999 (recalled).
[RESNET301] ANSI/RESNET/ICC 301-2014, Table 4.2.2(1), as quoted in a formal interpretation
    of RESNET, 2016.
"""

from __future__ import annotations

import math
from types import MappingProxyType
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.house.model import Draft, Fuel, WaterHeater
from rooftree.house.use.ip import BTU, DAY, GALLON, GALLON_A_DAY, HOUR, RANKINE
from rooftree.house.use.water import STORED
from rooftree.known import How, Known

if TYPE_CHECKING:
    from collections.abc import Mapping

TEST_EXCESS = 67.5 * RANKINE
"""Water over room in the rating test, 135 over 67.5 °F [K]."""

TEST_HEAT = 41094.0 * BTU / DAY
"""Heat in the water drawn in the rating test, 64.3 gal a day warmed by 77 °F [W]."""

REFERENCE_VOLUME = 40.0 * GALLON
"""Of the tank where none is there [m³] [RESNET301]_."""

ROOM = 293.15
"""At which the standby loss of the house model is stated [K]."""

RATING_DRAWS: Mapping[str, float] = MappingProxyType(
    {"very small": 10.0 * GALLON_A_DAY, "low": 38.0 * GALLON_A_DAY,
     "medium": 55.0 * GALLON_A_DAY, "high": 84.0 * GALLON_A_DAY}
)  # fmt: skip
"""Hot water drawn where uniform energy factors are rated [m³/s] (10 CFR 430, recalled)."""


def rated_tank_loss(energy_factor: float, recovery_efficiency: float, power: float) -> float:
    """Return the loss of a tank from its rating by the test of the energy factor.

    Parameters
    ----------
    energy_factor : float
        Heat in the water over energy bought in the test [-], below the recovery efficiency.
    recovery_efficiency : float
        Heat into the water over energy bought while it heats [0-1].
    power : float
        What it draws or burns while it heats [W], > 0.

    Returns
    -------
    float
        Loss per kelvin between water and room [W/K].

    Raises
    ------
    OutOfRangeError
        If the rating cannot be one of a heater with a tank.

    Notes
    -----
    ``(1/EF - 1/RE) / (67.5 °F (24 h / 41094 Btu - 1 / (RE P)))`` [LUTZ1999]_. For the test
    before 2015; a uniform energy factor is measured at 125 °F and other draws and must not be
    put in. The uniform test also has four draw patterns.

    References
    ----------
    .. [LUTZ1999] J. Lutz et al., ASHRAE Transactions 105(1), 1999 (recalled).

    Examples
    --------
    >>> loss = rated_tank_loss(0.59, 0.76, 38000.0 * BTU / HOUR)
    >>> round(loss / (BTU / HOUR / RANKINE), 2)
    10.22
    """
    if not 0.0 < recovery_efficiency <= 1.0:
        raise OutOfRangeError("recovery_efficiency", recovery_efficiency, 0.0, 1.0, "-")
    if not 0.0 < energy_factor <= recovery_efficiency:
        raise OutOfRangeError("energy_factor", energy_factor, 0.0, recovery_efficiency, "-")
    least = TEST_HEAT / recovery_efficiency
    if not power > least:
        raise OutOfRangeError("power", power, least, math.inf, "W")
    excess = 1.0 / energy_factor - 1.0 / recovery_efficiency
    return excess / (TEST_EXCESS * (1.0 / TEST_HEAT - 1.0 / (recovery_efficiency * power)))


def tank_efficiency(
    loss: float,
    recovery_efficiency: float,
    power: float,
    heat: float,
    *,
    stored: float = STORED,
    room: float = ROOM,
) -> float:
    """Return heat in the hot water over what is bought for it, at a real draw.

    Parameters
    ----------
    loss : float
        Of the tank per kelvin [W/K].
    recovery_efficiency : float
        Heat into the water over energy bought while it heats [0-1].
    power : float
        What it draws or burns while it heats [W].
    heat : float
        In the water drawn, mean over the year [W], > 0.
    stored : float
        Hot water [K].
    room : float
        Where the tank stands [K].

    Returns
    -------
    float
        Efficiency over a year [0-1].

    Raises
    ------
    OutOfRangeError
        If nothing is drawn, or the heater is too small for what is drawn.

    Notes
    -----
    ``bought = heat / RE (1 - UA dT / P) + UA dT`` [LUTZ1999]_: while it burns, the tank's loss
    is part of the recovery efficiency already. In the rating test it gives the energy factor.

    References
    ----------
    .. [LUTZ1999] J. Lutz et al., ASHRAE Transactions 105(1), 1999 (recalled).

    Examples
    --------
    >>> round(tank_efficiency(5.4, 0.76, 11137.0, 330.0), 3)
    0.551
    """
    if not 0.0 < heat <= recovery_efficiency * power:
        raise OutOfRangeError("heat", heat, 0.0, recovery_efficiency * power, "W")
    idle = loss * (stored - room)
    return heat / (heat / recovery_efficiency * (1.0 - idle / power) + idle)


def reference_energy_factor(fuel: Fuel, volume: float = REFERENCE_VOLUME) -> float:
    """Return the energy factor of the reference home's water heater.

    Parameters
    ----------
    fuel : Fuel
        Electricity, or a fuel that is burned.
    volume : float
        Of the tank [m³], 0.05 to 0.5.

    Returns
    -------
    float
        Energy factor [-].

    Raises
    ------
    OutOfRangeError
        If no such tank is made.

    Notes
    -----
    ``0.97 - 0.00132 V`` and ``0.67 - 0.0019 V`` with gallons [RESNET301]_.

    References
    ----------
    .. [RESNET301] ANSI/RESNET/ICC 301-2014, Table 4.2.2(1), quoted by RESNET, 2016.

    Examples
    --------
    >>> round(reference_energy_factor(Fuel.GAS), 3)
    0.594
    """
    if not 0.05 <= volume <= 0.5:
        raise OutOfRangeError("volume", volume, 0.05, 0.5, "m³")
    if fuel is Fuel.ELECTRICITY:
        return 0.97 - 0.00132 * volume / GALLON
    return 0.67 - 0.0019 * volume / GALLON


def reference_water_heater(
    fuel: Fuel, space: str, heat: float, *, volume: float = REFERENCE_VOLUME, stored: float = STORED
) -> WaterHeater:
    """Return a usual water heater, with its loss and its efficiency at a household's draw.

    Parameters
    ----------
    fuel : Fuel
        Electricity, or a fuel that is burned.
    space : str
        Id of the space in which it stands.
    heat : float
        In the water drawn, mean over the year [W], > 0.
    volume : float
        Of the tank [m³].
    stored : float
        Hot water [K].

    Returns
    -------
    WaterHeater
        Everything about it is assumed and says so.

    Raises
    ------
    OutOfRangeError
        If no such tank is made, or more is drawn than it can heat.

    Notes
    -----
    Recovery efficiency 0.98 and 4.5 kW, or 0.76 and 38,000 Btu/h: usual sizes, recalled. A
    burner is taken as one with natural draft; part of its loss then leaves by the flue, so that
    the standby loss to the room is an upper limit.
    """
    factor = reference_energy_factor(fuel, volume)
    is_electric = fuel is Fuel.ELECTRICITY
    recovery, power = (0.98, 4500.0) if is_electric else (0.76, 38000.0 * BTU / HOUR)
    loss = rated_tank_loss(factor, recovery, power)
    by_rating = Known(How.ASSUMED, "reference heater of ANSI/RESNET/ICC 301-2014")
    by_draw = Known(How.ASSUMED, f"energy factor {factor:.3f} at this household's draw")
    return WaterHeater(
        kind="tank",
        fuel=fuel,
        efficiency=tank_efficiency(loss, recovery, power, heat, stored=stored),
        space=space,
        draft=Draft.NONE if is_electric else Draft.NATURAL,
        standby_loss=loss * (stored - ROOM),
        setpoint=stored,
        known={"efficiency": by_draw, "standby_loss": by_rating, "setpoint": by_rating},
    )
