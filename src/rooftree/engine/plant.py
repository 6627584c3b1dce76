"""Heating, cooling, ducts and dehumidifiers of a house, as the hour loop reads them.

Sources
-------
[CUTLER2013] NREL/TP-5500-56354, 2013 (as quoted in secondary sources): effect of air flow
    on capacity and input, degradation by cycling, rated air flow of 400 cfm a ton.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.arrays import BURNER, COOLER, HEAT_PUMP, IDEAL, NO_SYSTEM, Plant
from rooftree.engine.ducts import duct_balance, supply_shares
from rooftree.engine.moist import HEAT_OF_AIR, enthalpy, saturated_humidity
from rooftree.errors import HouseError

if TYPE_CHECKING:
    from rooftree.house import Cooling, House

RATED_FLOW = 400.0 * 4.719474e-4 / 3516.853
"""Air flow at which machines are rated, per capacity [m³/(s·W)] [CUTLER2013]_."""

_FLOW_CURVES = {  # capacity and input of heating and cooling by share of rated flow
    "hot": (
        (0.694045465, 0.474207981, -0.168253446),
        (2.185418751, -1.942827919, 0.757409168),
    ),
    "cold": (
        (0.718605468, 0.410099989, -0.128705457),
        (1.32299905, -0.477711207, 0.154712157),
    ),
    "cold pump": (
        (0.718664047, 0.41797409, -0.136638137),
        (1.143487507, -0.13943972, -0.004047787),
    ),
}

LEAST_FLOW, MOST_FLOW = 0.5, 1.5
"""Share of the rated flow between which the flow curves are used; beyond, as at the end."""

GOOD_COOLER, GOOD_HEAT_PUMP = 4.04, 3.2
"""COP from which a machine loses little by cycling: SEER 13 [CUTLER2013]_; the heating
value stands for an HSPF of 7 (recalled)."""

STANDARD_PRESSURE = 101325.0
"""At which coils are rated [Pa]."""

_HEATERS = {
    "furnace": BURNER,
    "boiler": BURNER,
    "resistance": BURNER,
    "heat pump": HEAT_PUMP,
    "ideal": IDEAL,
}
_COOLERS = {"air conditioner": COOLER, "heat pump": HEAT_PUMP, "ideal": IDEAL}


def make_plant(house: House, density: float, *, each_room: bool = False) -> Plant:
    """Return the equipment of a house as the hour loop reads it.

    Parameters
    ----------
    house : House
        The house.
    density : float
        Of the air in the house [kg/m³].
    each_room : bool
        Whether every living space gets its own ideal thermostat instead.

    Returns
    -------
    Plant

    Raises
    ------
    HouseError
        If equipment is of a kind that is not known, or a coil cannot be as rated.

    Notes
    -----
    The thermostat is in the largest living space; the others get their share of what it
    asks for, whether that suits them or not. Without an air handler, or with ideal
    equipment, heat goes straight to the living spaces.
    """
    heating, cooling, handler = house.heating, house.cooling, house.air_handler
    heat_kind = _kind(heating.kind, _HEATERS, "heating") if heating else NO_SYSTEM
    cool_kind = _kind(cooling.kind, _COOLERS, "cooling") if cooling else NO_SYSTEM
    flow = density * handler.flow if handler else 0.0
    heat_ducted = bool(heating and heating.ducted and handler and heat_kind != IDEAL)
    cool_ducted = bool(cooling and cooling.ducted and handler and cool_kind != IDEAL)
    n = len(house.spaces)
    supply, _ = supply_shares(house)
    zero = np.zeros((n, n))
    ducts = duct_balance(house, flow) if heat_ducted or cool_ducted else None
    coil_flow = flow if cool_ducted else density * RATED_FLOW * (cooling.capacity if cooling else 0)
    heat_flow = _flow_share(house, heating.capacity if heating else 0.0, heat_ducted)
    cool_flow = _flow_share(house, cooling.capacity if cooling else 0.0, cool_ducted)
    cold_curves = _FLOW_CURVES["cold pump" if cool_kind == HEAT_PUMP else "cold"]
    drier = {d.space: d for d in house.dehumidifiers}
    driers = [drier.get(space.id) for space in house.spaces]
    living = house.living_spaces or house.spaces
    largest = max(living, key=lambda space: space.floor_area)
    return Plant(
        each_room=each_room,
        thermostat=house.spaces.index(largest),
        heat_setpoint=np.array(house.use.heating_setpoint, dtype=float),
        cool_setpoint=np.array(house.use.cooling_setpoint, dtype=float),
        heat_kind=heat_kind,
        heat_capacity=float(heating.capacity) if heating else 0.0,
        heat_efficiency=float(heating.efficiency) if heating else 1.0,
        backup_capacity=float(heating.backup_capacity) if heating else 0.0,
        heat_cycling=_heat_cycling(house, heat_kind),
        cool_kind=cool_kind,
        cool_capacity=float(cooling.capacity) if cooling else 0.0,
        cop=float(cooling.cop) if cooling else 1.0,
        cool_cycling=_cool_cycling(cooling, cool_kind),
        bypass=_bypass(cooling, cool_kind) ** (1.0 / cool_flow) if cooling else 0.0,
        flow_capacity=np.array(
            [_at_flow(_FLOW_CURVES["hot"][0], heat_flow), _at_flow(cold_curves[0], cool_flow)]
        ),
        flow_power=np.array(
            [_at_flow(_FLOW_CURVES["hot"][1], heat_flow), _at_flow(cold_curves[1], cool_flow)]
        ),
        fan_power=float(handler.power) if handler else 0.0,
        air_flow=float(coil_flow if cool_ducted or not heat_ducted else flow),
        heat_ducted=heat_ducted,
        cool_ducted=cool_ducted,
        heat_shares=ducts.heat_shares if ducts and heat_ducted else supply,
        cool_shares=ducts.heat_shares if ducts and cool_ducted else supply,
        latent_shares=ducts.latent_shares if ducts and cool_ducted else supply,
        duct_heat=ducts.heat if ducts else zero,
        duct_vapor=ducts.vapor if ducts else zero,
        duct_supply=ducts.net_supply if ducts else np.zeros(n),
        return_mix=ducts.return_mix if ducts else supply,
        drier_capacity=np.array([d.capacity if d else 0.0 for d in driers]),
        drier_energy=np.array([1.0 / d.energy_factor if d else 0.0 for d in driers]),
        drier_setpoint=np.array([d.setpoint if d else 1.0 for d in driers]),
    )


def _kind(kind: str, kinds: dict[str, int], what: str) -> int:
    if kind not in kinds:
        message = f"{what} is {kind}; use one of {', '.join(kinds)}"
        raise HouseError(message)
    return kinds[kind]


def _flow_share(house: House, capacity: float, is_ducted: bool) -> float:
    """Return the air flow over the rated one, within the range of the curves."""
    if not is_ducted or house.air_handler is None or capacity <= 0.0:
        return 1.0
    share = house.air_handler.flow / (RATED_FLOW * capacity)
    return min(max(share, LEAST_FLOW), MOST_FLOW)


def _at_flow(curve: tuple[float, float, float], share: float) -> float:
    return curve[0] + curve[1] * share + curve[2] * share**2


def _heat_cycling(house: House, kind: int) -> float:
    if kind != HEAT_PUMP or house.heating is None:
        return 0.0
    return 0.11 if house.heating.efficiency >= GOOD_HEAT_PUMP else 0.20


def _cool_cycling(cooling: Cooling | None, kind: int) -> float:
    if cooling is None or kind == IDEAL:
        return 0.0
    return 0.07 if cooling.cop >= GOOD_COOLER else 0.20


def _bypass(cooling: Cooling, kind: int) -> float:
    """Return the share of air that bypasses the coil at the rating point.

    The state of the air moves on a straight line from 26.7 °C dry and 19.4 °C wet bulb
    through where the rated capacities leave it to the saturated state of the coil.
    """
    if kind == IDEAL:
        return 0.0
    flow = 1.2 * RATED_FLOW * cooling.capacity
    t = 299.82
    w = _entering_humidity()
    colder = cooling.sensible_fraction * cooling.capacity / (flow * HEAT_OF_AIR)
    drier_by = (cooling.capacity / flow - HEAT_OF_AIR * colder) / 2.55e6
    low, high = 1.0, min((t - 255.0) / colder, w / drier_by if drier_by > 0.0 else math.inf)
    if _excess(t, w, colder, drier_by, low) > 0.0 or _excess(t, w, colder, drier_by, high) < 0.0:
        message = (
            f"cooling has a sensible fraction of {cooling.sensible_fraction:g}; no coil does "
            "that at the rating point: use 0.65 to 0.85"
        )
        raise HouseError(message)
    for _ in range(60):
        middle = 0.5 * (low + high)
        if _excess(t, w, colder, drier_by, middle) > 0.0:
            high = middle
        else:
            low = middle
    return (low - 1.0) / low


def _entering_humidity() -> float:
    """Return the vapor in air of 26.7 °C dry and 19.4 °C wet bulb [kg/kg] at sea level."""
    wet = 292.59
    most = saturated_humidity(wet, STANDARD_PRESSURE)
    heat = enthalpy(wet, most) - 4186.0 * (wet - 273.15) * most
    low, high = 0.0, most
    for _ in range(60):
        middle = 0.5 * (low + high)
        if enthalpy(299.82, middle) - 4186.0 * (wet - 273.15) * middle > heat:
            high = middle
        else:
            low = middle
    return low


def _excess(t: float, w: float, colder: float, drier_by: float, reach: float) -> float:
    """Return by how much air on the coil's line would exceed saturation [kg/kg]."""
    here = t - reach * colder
    return float(w - reach * drier_by - saturated_humidity(here, STANDARD_PRESSURE))
