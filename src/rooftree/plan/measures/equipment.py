"""Measures on heating, cooling, water heating and flues."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.errors import PlanError
from rooftree.house import Cooling, Draft, Fuel, Heating, LeakKind
from rooftree.plan.measures.kind import Setting, Settings, number, optional_number, word
from rooftree.plan.measures.parts import demand
from rooftree.units.kinds import Kind as Quantity

if TYPE_CHECKING:
    from rooftree.house import House

KEEP = "keep"
"""Word for a flue that stays open when its appliance goes, such as a fireplace's."""

DRAWS_ROOM_AIR = frozenset({Draft.NATURAL, Draft.FAN_ASSISTED})
"""Burners that take their air from the space they stand in."""

_FLUE = Setting(
    None,
    "id of the flue that is capped; where left out, the only flue of the space, once no burner "
    "there needs it; 'keep' to cap none",
    "",
)
_DRAFT = Setting(
    None, "how its smoke leaves", Draft.SEALED.value, choices=tuple(draft.value for draft in Draft)
)
_FUELS = tuple(fuel.value for fuel in Fuel)
_YES_NO = ("yes", "no")


def _power(says: str) -> Setting:
    return Setting(Quantity.POWER, f"{says} [W]", low=500.0, high=100_000.0)


def _handler(says: str = "electric power of the air handler; as it is where left out") -> Setting:
    return Setting(Quantity.POWER, f"{says} [W]", low=0.0, high=3000.0)


FURNACE_SETTINGS = {
    "efficiency": Setting(Quantity.RATIO, "seasonal efficiency [0-1]", 0.95, low=0.6, high=1.0),
    "capacity": _power("output; as it is where left out"),
    "fuel": Setting(None, "what it burns; as it is where left out", choices=_FUELS),
    "draft": _DRAFT,
    "handler_power": _handler(),
    "closed_flue": _FLUE,
}
AIR_CONDITIONER_SETTINGS = {
    "cop": Setting(Quantity.RATIO, "at 35 °C outdoors [-]", 3.6, low=1.5, high=8.0),
    "capacity": Setting(
        Quantity.COOLING_CAPACITY,
        "at 35 °C outdoors; as it is where left out [W]",
        low=500.0,
        high=50e3,
    ),
    "sensible_fraction": Setting(
        Quantity.FRACTION, "sensible share of the capacity [0-1]", 0.75, low=0.5, high=1.0
    ),
    "handler_power": _handler(),
}
HEAT_PUMP_SETTINGS = {
    "heating_cop": Setting(Quantity.RATIO, "at 8.3 °C outdoors [-]", 3.7, low=1.5, high=7.0),
    "heating_capacity": _power("output at 8.3 °C; as the old heating where left out"),
    "cooling_cop": Setting(Quantity.RATIO, "at 35 °C outdoors [-]", 3.6, low=1.5, high=8.0),
    "cooling_capacity": Setting(
        Quantity.COOLING_CAPACITY,
        "at 35 °C; as the old cooling where left out [W]",
        low=500.0,
        high=50e3,
    ),
    "sensible_fraction": Setting(
        Quantity.FRACTION, "sensible share of the cooling capacity [0-1]", 0.75, low=0.5, high=1.0
    ),
    "backup_capacity": Setting(
        Quantity.POWER, "electric backup [W]", 5000.0, low=0.0, high=40_000.0
    ),
    "ducted": Setting(None, "whether it uses the ducts", "yes", choices=_YES_NO),
    "handler_power": _handler(),
    "closed_flue": _FLUE,
}
WATER_HEATER_SETTINGS = {
    "kind": Setting(None, "of heater", "tank", choices=("tank", "tankless", "heat pump")),
    "efficiency": Setting(
        Quantity.RATIO, "useful heat over what is bought [-]", required=True, low=0.3, high=5.0
    ),
    "fuel": Setting(
        None, "what it uses; electricity for a heat pump, else as it is", choices=_FUELS
    ),
    "draft": Setting(
        None,
        "how its smoke leaves; sealed combustion where left out",
        choices=tuple(draft.value for draft in Draft),
    ),
    "standby_loss": Setting(
        Quantity.POWER,
        "heat lost to its space; as it is, and none without a tank [W]",
        low=0,
        high=500.0,
    ),
    "closed_flue": _FLUE,
}


def room_air_burners(house: House) -> tuple[tuple[str, str, Draft], ...]:
    """Return what burns with air of the space it stands in.

    Parameters
    ----------
    house : House
        Any house.

    Returns
    -------
    tuple of (str, str, Draft)
        Name in plain words, id of its space, how its smoke leaves.
    """
    found: list[tuple[str, str, Draft]] = []
    if house.heating and house.heating.draft in DRAWS_ROOM_AIR:
        found.append((house.heating.kind, house.heating.space, house.heating.draft))
    if house.water_heater and house.water_heater.draft in DRAWS_ROOM_AIR:
        found.append(("water heater", house.water_heater.space, house.water_heater.draft))
    return tuple(found)


def cap_flue(before: House, after: House, choice: str) -> House:
    """Return the house after a burner was replaced, with the flue it leaves behind capped.

    Parameters
    ----------
    before, after : House
        With the old and with the new burner.
    choice : str
        Id of a flue, ``"keep"``, or empty: the only flue of the old burner's space, if
        no burner there needs it any more.

    Returns
    -------
    House
        The house after.

    Raises
    ------
    PlanError
        If the house has no flue of that id.
    """
    flues = {leak.id: leak for leak in after.leaks if leak.kind is LeakKind.FLUE}
    if choice == KEEP:
        return after
    if choice:
        if choice not in flues:
            raise PlanError(f"closed_flue is {choice!r}; the house has no such flue")
        dead = {choice}
    else:
        still = {space for _, space, _ in room_air_burners(after)}
        freed = {space for _, space, _ in room_air_burners(before)} - still
        dead = set()
        for space in freed:
            there = [leak.id for leak in flues.values() if space in (leak.first, leak.second)]
            dead |= set(there) if len(there) == 1 else set()
    leaks = tuple(
        replace(leak, coefficient=0.0) if leak.id in dead else leak for leak in after.leaks
    )
    return replace(after, leaks=leaks)


def _with_handler(house: House, settings: Settings) -> House:
    power = optional_number(settings, "handler_power")
    if power is None or house.air_handler is None:
        return house
    return replace(house, air_handler=replace(house.air_handler, power=power))


def renew_furnace(house: House, settings: Settings) -> House:
    """Return the house with a new furnace in place of its heating.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``efficiency`` [-], ``capacity`` [W], ``fuel``, ``draft``, ``handler_power`` [W],
        ``closed_flue``.

    Returns
    -------
    House
        The house after.
    """
    old = house.heating
    demand("furnace", old, "heating to replace")
    demand("furnace", house.air_handler, "an air handler with ducts")
    assert old is not None  # noqa: S101 - demanded above
    burns = old.fuel if old.fuel is not Fuel.ELECTRICITY else Fuel.GAS
    new = Heating(
        "furnace",
        Fuel(word(settings, "fuel") or burns),
        optional_number(settings, "capacity") or old.capacity,
        number(settings, "efficiency"),
        ducted=True,
        draft=Draft(word(settings, "draft")),
        space=old.space,
    )
    after = _with_handler(replace(house, heating=new), settings)
    return cap_flue(house, after, word(settings, "closed_flue"))


def renew_air_conditioner(house: House, settings: Settings) -> House:
    """Return the house with a new air conditioner.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``cop`` [-], ``capacity`` [W], ``sensible_fraction`` [0-1], ``handler_power`` [W].

    Returns
    -------
    House
        The house after.
    """
    demand("air-conditioner", house.air_handler, "an air handler with ducts")
    capacity = optional_number(settings, "capacity") or (house.cooling and house.cooling.capacity)
    if not capacity:
        raise PlanError("air-conditioner needs its setting 'capacity': the house has no cooling")
    new = Cooling(
        "air conditioner",
        capacity,
        number(settings, "cop"),
        number(settings, "sensible_fraction"),
    )
    return _with_handler(replace(house, cooling=new), settings)


def fit_heat_pump(house: House, settings: Settings) -> House:
    """Return the house with a heat pump in place of its heating and cooling.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``heating_cop``, ``cooling_cop`` [-], ``heating_capacity``, ``cooling_capacity``,
        ``backup_capacity``, ``handler_power`` [W], ``sensible_fraction`` [0-1],
        ``ducted``, ``closed_flue``.

    Returns
    -------
    House
        The house after.
    """
    old = house.heating
    demand("heat-pump", old, "heating to replace")
    assert old is not None  # noqa: S101 - demanded above
    ducted = word(settings, "ducted") == "yes"
    if ducted:
        demand("heat-pump", house.air_handler, "an air handler with ducts")
    heats = optional_number(settings, "heating_capacity") or old.capacity
    cools = optional_number(settings, "cooling_capacity") or (
        house.cooling.capacity if house.cooling else heats
    )
    heating = Heating(
        "heat pump",
        Fuel.ELECTRICITY,
        heats,
        number(settings, "heating_cop"),
        ducted=ducted,
        draft=Draft.NONE,
        space=old.space,
        backup_capacity=number(settings, "backup_capacity"),
    )
    cooling = Cooling(
        "heat pump",
        cools,
        number(settings, "cooling_cop"),
        number(settings, "sensible_fraction"),
        ducted=ducted,
    )
    after = _with_handler(replace(house, heating=heating, cooling=cooling), settings)
    return cap_flue(house, after, word(settings, "closed_flue"))


def renew_water_heater(house: House, settings: Settings) -> House:
    """Return the house with a new water heater.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``kind``, ``efficiency`` [-], ``fuel``, ``draft``, ``standby_loss`` [W],
        ``closed_flue``.

    Returns
    -------
    House
        The house after.
    """
    old = house.water_heater
    demand("water-heater", old, "a water heater to replace")
    assert old is not None  # noqa: S101 - demanded above
    kind = word(settings, "kind")
    electric = Fuel.ELECTRICITY if kind == "heat pump" else old.fuel
    fuel = Fuel(word(settings, "fuel") or electric)
    if kind == "heat pump" and fuel is not Fuel.ELECTRICITY:
        raise PlanError(f"water-heater.fuel is {fuel.value!r}; a heat pump takes electricity")
    burner = Draft(word(settings, "draft") or Draft.SEALED)
    loss = optional_number(settings, "standby_loss")
    new = replace(
        old,
        kind=kind,
        fuel=fuel,
        efficiency=number(settings, "efficiency"),
        draft=Draft.NONE if fuel is Fuel.ELECTRICITY else burner,
        standby_loss=(0.0 if kind == "tankless" else old.standby_loss) if loss is None else loss,
        known={},
    )
    return cap_flue(house, replace(house, water_heater=new), word(settings, "closed_flue"))


def repair_flue(house: House, settings: Settings) -> House:  # noqa: ARG001
    """Return the house as it is: a sound flue makes it safe and changes no load.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        None are used.

    Returns
    -------
    House
        The same house.
    """
    demand("flue-repair", room_air_burners(house), "a burner with a flue")
    return house
