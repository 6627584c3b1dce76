"""Heating, cooling, ducts and dehumidifiers of a house, as the hour loop reads them.

Sources
-------
[CUTLER2013] NREL/TP-5500-56354, 2013 (as quoted in secondary sources): effect of air flow
    on capacity and input, degradation by cycling, rated air flow of 400 cfm a ton.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from rooftree.engine.arrays import WATER_DRAW, Plant
from rooftree.engine.ducts import duct_balance, supply_shares
from rooftree.engine.moist import HEAT_OF_AIR, HEAT_OF_EVAPORATION, HEAT_OF_VAPOR, WATER_TO_AIR
from rooftree.errors import HouseError
from rooftree.house import Cooling, Fuel, Heating
from rooftree.physics.air import saturation_pressure

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.house import House

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

HEATERS = ("furnace", "boiler", "resistance", "heat pump", "ideal")
COOLERS = ("air conditioner", "heat pump", "ideal")
"""What heats and what cools."""

SPEEDS = {"single": 1.0, "variable": 0.3}
"""Least share of full output without cycling [-]: machines of variable speed come down to
a quarter or a third (recalled)."""

ALWAYS_COLD, ALWAYS_HOT = 0.0, 1000.0
"""Setpoints that are never reached [K]."""

NO_RESIDUE = (0.0, 1.0, 0.0, 0.0)
"""Input in proportion to output."""


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
    The central thermostat is in the largest living space unless the house says otherwise;
    the other spaces get their share of what it asks for, whether that suits them or not.
    Without an air handler, or with ideal equipment, heat goes straight to the living
    spaces. Room units serve their own space.
    """
    units = _ideal_in_each_room(house) if each_room else (_central(house), *_own_units(house))
    machines = [_machine(house, unit, density) for unit in units]
    people = None if each_room else _people_at_windows(house)
    rows = [*machines, people] if people else machines
    handler = house.air_handler
    is_ducted = not each_room and any(m["hot_ducted"] or m["cold_ducted"] for m in machines)
    flow = density * handler.flow if handler and is_ducted else 0.0
    n = len(house.spaces)
    ducts, idle = (
        (duct_balance(house, flow), duct_balance(house, flow, standing=True))
        if flow
        else (None,) * 2
    )
    zero = np.zeros((n, n))
    drier = {d.space: d for d in house.dehumidifiers}
    driers = [drier.get(space.id) for space in house.spaces]
    by_hour = ("heat_setpoint", "cool_setpoint")
    of_rows: dict[str, Any] = {
        name: np.array([row[name] for row in rows], dtype=float)
        for name in rows[0]
        if name not in (*by_hour, "thermostat")
    }
    of_rows |= {name: np.stack([row[name] for row in rows], axis=1) for name in by_hour}
    return Plant(
        thermostats=len(rows),
        room_units=len(machines) - 1,
        windows=len(machines) if people else -1,
        thermostat=np.array([row["thermostat"] for row in rows], dtype=np.int64),
        **of_rows,
        air_flow=np.array([flow]),
        duct_heat=ducts.heat if ducts else zero,
        duct_standing=idle.heat - ducts.heat if ducts and idle else zero,
        standing_shares=idle.heat_shares - ducts.heat_shares if ducts and idle else np.zeros(n),
        duct_vapor=ducts.vapor if ducts else zero,
        duct_supply=ducts.net_supply if ducts else np.zeros(n),
        window_area=np.array([house.use.open_window_area]),
        **_hot_water(house),
        drier_capacity=np.array([d.capacity if d else 0.0 for d in driers]),
        drier_energy=np.array([1.0 / d.energy_factor if d else 0.0 for d in driers]),
        drier_setpoint=np.array([d.setpoint if d else 1.0 for d in driers]),
    )


class _Unit(NamedTuple):
    """A thermostat with what it runs."""

    space: int
    heating: Heating | None
    cooling: Cooling | None
    heat_setpoint: tuple[float, ...]
    cool_setpoint: tuple[float, ...]
    is_central: bool


def thermostat_space(house: House) -> int:
    """Return the index of the space with the central thermostat.

    Parameters
    ----------
    house : House
        The house.

    Returns
    -------
    int

    Raises
    ------
    HouseError
        If the space that is named is not a living one.
    """
    living = house.living_spaces or house.spaces
    if not house.use.thermostat:
        return house.spaces.index(max(living, key=lambda space: space.floor_area))
    for space in living:
        if space.id == house.use.thermostat:
            return house.spaces.index(space)
    message = (
        f"the thermostat is in {house.use.thermostat}, which is not a living space; use one of "
        f"{', '.join(space.id for space in living)}"
    )
    raise HouseError(message)


def _central(house: House) -> _Unit:
    use = house.use
    return _Unit(
        thermostat_space(house), house.heating, house.cooling, use.heating_setpoint,
        use.cooling_setpoint, True,
    )  # fmt: skip


def _own_units(house: House) -> tuple[_Unit, ...]:
    living = {space.id: house.spaces.index(space) for space in house.living_spaces}
    for unit in house.room_units:
        if unit.space not in living:
            message = f"room unit {unit.id} is in {unit.space}, which is not a living space"
            raise HouseError(message)
    return tuple(
        _Unit(
            living[unit.space], unit.heating, unit.cooling,
            unit.heating_setpoint or house.use.heating_setpoint,
            unit.cooling_setpoint or house.use.cooling_setpoint, False,
        )
        for unit in house.room_units
    )  # fmt: skip


def _ideal_in_each_room(house: House) -> tuple[_Unit, ...]:
    """Return an ideal machine for each living space."""
    use = house.use
    heating = Heating("ideal", Fuel.ELECTRICITY, 0.0, 1.0, ducted=False)
    cooling = Cooling("ideal", 0.0, 1.0, ducted=False)
    return tuple(
        _Unit(i, heating, cooling, use.heating_setpoint, use.cooling_setpoint, False)
        for i, space in enumerate(house.spaces)
        if space in house.living_spaces
    )


def _machine(house: House, unit: _Unit, density: float) -> dict[str, Any]:
    """Return the row of one thermostat in the arrays."""
    heating, cooling, handler = unit.heating, unit.cooling, house.air_handler
    if heating:
        _require_kind(heating.kind, HEATERS, "heating")
        _require_kind(heating.speeds, tuple(SPEEDS), "the speed of heating")
    if cooling:
        _require_kind(cooling.kind, COOLERS, "cooling")
        _require_kind(cooling.speeds, tuple(SPEEDS), "the speed of cooling")
    hot, cold = heating.kind if heating else "", cooling.kind if cooling else ""
    may_duct = unit.is_central and handler is not None
    hot_ducted = bool(may_duct and heating and heating.ducted and hot != "ideal")
    cold_ducted = bool(may_duct and cooling and cooling.ducted and cold != "ideal")
    flow = density * handler.flow if handler else 0.0
    rated = density * RATED_FLOW * (cooling.capacity if cooling else 0.0)
    hot_flow = _flow_share(house, heating.capacity if heating else 0.0, hot_ducted)
    cold_flow = _flow_share(house, cooling.capacity if cooling else 0.0, cold_ducted)
    cold_curves = _FLOW_CURVES["cold pump" if cold == "heat pump" else "cold"]
    fan = handler.power if handler else 0.0
    bypass = 0.0
    if cooling and cold != "ideal":
        bypass = _bypass(cooling.sensible_fraction) ** (1.0 / cold_flow)
    standing = heating.crankcase if heating else 0.0
    return {
        "thermostat": unit.space,
        "heat_setpoint": np.array(unit.heat_setpoint, dtype=float),
        "cool_setpoint": np.array(unit.cool_setpoint, dtype=float),
        "hot_burner": float(hot in ("furnace", "boiler", "resistance")),
        "hot_pump": float(hot == "heat pump"),
        "hot_ideal": float(hot == "ideal"),
        "heat_capacity": heating.capacity if heating else 0.0,
        "heat_efficiency": heating.efficiency if heating else 1.0,
        "backup_capacity": heating.backup_capacity if heating else 0.0,
        "heat_cycling": _heat_cycling(heating),
        "heat_turndown": SPEEDS[heating.speeds] if heating and hot == "heat pump" else 1.0,
        "part_load": _part_load(heating),
        "heat_standing": standing,
        "pump_power": heating.pump_power if heating and hot == "boiler" else 0.0,
        "cold_kind": float(cooling is not None),
        "cold_pump": float(cold == "heat pump"),
        "cold_ideal": float(cold == "ideal"),
        "cool_capacity": cooling.capacity if cooling else 0.0,
        "cop": cooling.cop if cooling else 1.0,
        "cool_cycling": _cool_cycling(cooling),
        "cool_turndown": SPEEDS[cooling.speeds] if cooling else 1.0,
        "cool_standing": cooling.crankcase if cooling else 0.0,
        "bypass": bypass,
        "coil_flow": max(flow if cold_ducted else rated, 1e-6),
        "hot_flow_capacity": _at_flow(_FLOW_CURVES["hot"][0], hot_flow),
        "hot_flow_power": _at_flow(_FLOW_CURVES["hot"][1], hot_flow),
        "cold_flow_capacity": _at_flow(cold_curves[0], cold_flow),
        "cold_flow_power": _at_flow(cold_curves[1], cold_flow),
        "hot_fan": fan if hot_ducted else 0.0,
        "cold_fan": fan if cold_ducted else 0.0,
        "hot_ducted": float(hot_ducted),
        "cold_ducted": float(cold_ducted),
        **_shares(house, unit, flow, hot_ducted, cold_ducted),
    }  # fmt: skip


def _shares(
    house: House, unit: _Unit, flow: float, hot_ducted: bool, cold_ducted: bool
) -> dict[str, Any]:
    """Return where the heat, cold and dryness of a machine go, and whence its air comes."""
    if unit.is_central:
        straight, _ = supply_shares(house)
    else:
        straight = np.zeros(len(house.spaces))
        straight[unit.space] = 1.0
    ducts = duct_balance(house, flow) if hot_ducted or cold_ducted else None
    return {
        "hot_shares": ducts.heat_shares if ducts and hot_ducted else straight,
        "cold_shares": ducts.heat_shares if ducts and cold_ducted else straight,
        "latent_shares": ducts.latent_shares if ducts and cold_ducted else straight,
        "return_mix": ducts.return_mix if ducts else straight,
    }


def _people_at_windows(house: House) -> dict[str, Any] | None:
    """Return the row of the people who open windows halfway between the setpoints."""
    use = house.use
    if use.open_window_area <= 0.0:
        return None
    ideal = Cooling("ideal", 0.0, 1.0, ducted=False)
    middle = tuple(
        0.5 * (low + high)
        for low, high in zip(use.heating_setpoint, use.cooling_setpoint, strict=True)
    )
    unit = _Unit(thermostat_space(house), None, ideal, (ALWAYS_COLD,) * 24, middle, False)
    row = _machine(house, unit, 1.2)
    areas = np.array([s.floor_area if s in house.living_spaces else 0.0 for s in house.spaces])
    return row | {"cold_shares": areas / areas.sum(), "hot_shares": areas / areas.sum()}


def _hot_water(house: House) -> dict[str, Any]:
    """Return the water heater's part of the arrays."""
    heater, use = house.water_heater, house.use
    profile = np.array(use.hot_water_hours or (1.0,) * 24, dtype=float)
    space = -1
    if heater is not None:
        space = next((i for i, s in enumerate(house.spaces) if s.id == heater.space), -1)
        if space < 0:
            message = (
                f"the water heater names the space {heater.space}, which the house does not have"
            )
            raise HouseError(message)
    reach = max(heater.setpoint - 293.15, 1.0) if heater else 1.0
    return {
        "heater_space": space,
        "water_column": WATER_DRAW,
        "hot_water": use.hot_water_heat * profile if heater else np.zeros(24),
        "water_input": np.array([1.0 / heater.efficiency if heater else 0.0]),
        "water_pump": np.array([float(heater is not None and heater.kind == "heat pump")]),
        "tank_loss": np.array([heater.standby_loss / reach if heater else 0.0]),
        "tank_temperature": np.array([heater.setpoint if heater else 293.15]),
    }


def _require_kind(kind: str, kinds: tuple[str, ...], what: str) -> None:
    if kind not in kinds:
        message = f"{what} is {kind}; use one of {', '.join(kinds)}"
        raise HouseError(message)


def _part_load(heating: Heating | None) -> NDArray[np.float64]:
    """Return input over full input as four coefficients of the share of full output."""
    given = heating.part_load if heating else ()
    if len(given) > len(NO_RESIDUE):
        message = f"heating has {len(given)} coefficients of part load; use at most four"
        raise HouseError(message)
    return np.array([*given, *(0.0,) * (4 - len(given))] if given else NO_RESIDUE)


def _flow_share(house: House, capacity: float, is_ducted: bool) -> float:
    """Return the air flow over the rated one, within the range of the curves."""
    if not is_ducted or house.air_handler is None or capacity <= 0.0:
        return 1.0
    share = house.air_handler.flow / (RATED_FLOW * capacity)
    return min(max(share, LEAST_FLOW), MOST_FLOW)


def _at_flow(curve: tuple[float, float, float], share: float) -> float:
    return curve[0] + curve[1] * share + curve[2] * share**2


def _heat_cycling(heating: Heating | None) -> float:
    if heating is None or heating.kind != "heat pump":
        return 0.0
    return 0.11 if heating.efficiency >= GOOD_HEAT_PUMP else 0.20


def _cool_cycling(cooling: Cooling | None) -> float:
    if cooling is None or cooling.kind == "ideal":
        return 0.0
    return 0.07 if cooling.cop >= GOOD_COOLER else 0.20


@lru_cache(maxsize=64)
def _bypass(sensible_fraction: float) -> float:
    """Return the share of air that bypasses the coil at the rating point.

    The state of the air moves on a straight line from 26.7 °C dry and 19.4 °C wet bulb
    through where the rated capacities leave it to the saturated state of the coil.
    """
    flow = 1.2 * RATED_FLOW  # for one watt of capacity
    t = 299.82
    w = _entering_humidity()
    colder = sensible_fraction / (flow * HEAT_OF_AIR)
    drier_by = (1.0 / flow - HEAT_OF_AIR * colder) / 2.55e6
    low, high = 1.0, min((t - 255.0) / colder, w / drier_by if drier_by > 0.0 else math.inf)
    if _excess(t, w, colder, drier_by, low) > 0.0 or _excess(t, w, colder, drier_by, high) < 0.0:
        message = (
            f"cooling has a sensible fraction of {sensible_fraction:g}; no coil does "
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
    most = _saturated(wet)
    heat = _enthalpy(wet, most) - 4186.0 * (wet - 273.15) * most
    low, high = 0.0, most
    for _ in range(60):
        middle = 0.5 * (low + high)
        if _enthalpy(299.82, middle) - 4186.0 * (wet - 273.15) * middle > heat:
            high = middle
        else:
            low = middle
    return low


def _excess(t: float, w: float, colder: float, drier_by: float, reach: float) -> float:
    """Return by how much air on the coil's line would exceed saturation [kg/kg]."""
    here = t - reach * colder
    return float(w - reach * drier_by - _saturated(here))


def _saturated(t: float) -> float:
    vapor = saturation_pressure(t)
    return WATER_TO_AIR * vapor / (STANDARD_PRESSURE - vapor)


def _enthalpy(t: float, humidity: float) -> float:
    celsius = t - 273.15
    return HEAT_OF_AIR * celsius + humidity * (HEAT_OF_EVAPORATION + HEAT_OF_VAPOR * celsius)
