"""The machines of a house as a list of facts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.house import Draft, Fuel
from rooftree.units import Kind, show, show_range

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from rooftree.house import (
        Cooling,
        Dehumidifier,
        Fan,
        Heating,
        House,
        RoomUnit,
        Site,
        Use,
        WaterHeater,
    )
    from rooftree.known import Known
    from rooftree.units import DisplaySystem


@dataclass(frozen=True, slots=True)
class Part:
    """One machine.

    Attributes
    ----------
    name : str
        What it is.
    where : str
        In which space it stands; empty where that is not recorded.
    facts : tuple of (str, str)
        Name and value of each thing known of it.
    known : mapping from str to Known
        How values are known, by the name of the field.
    kind, part : str
        Kind of part of the house and its name in it, for its form.
    """

    name: str
    where: str
    facts: tuple[tuple[str, str], ...]
    known: Mapping[str, Known]
    kind: str
    part: str = ""


def equipment_of(house: House, names: Mapping[str, str], system: DisplaySystem) -> tuple[Part, ...]:
    """Return every machine of the house in the order in which people ask.

    Parameters
    ----------
    house : House
        The house.
    names : mapping from str to str
        What to call each space.
    system : DisplaySystem
        Units in which values are shown.

    Returns
    -------
    tuple of Part
    """
    return tuple(_parts(house, names, system))


def _parts(house: House, names: Mapping[str, str], system: DisplaySystem) -> Iterator[Part]:
    if house.heating is not None:
        yield _heating(house.heating, names, system)
    if house.cooling is not None:
        yield _cooling(house.cooling, system)
    if house.air_handler is not None:
        handler = house.air_handler
        facts = (
            ("Air flow", show(handler.flow, Kind.FLOW, system)),
            ("Power", show(handler.power, Kind.ELECTRIC_POWER, system)),
        )
        where = names.get(handler.space, "")
        yield Part("Air handler", where, facts, handler.known, "air handler")
    if house.water_heater is not None:
        yield _water_heater(house.water_heater, names)
    for fan in house.fans:
        yield _fan(fan, names, system)
    for unit in house.room_units:
        yield _room_unit(unit, names, system)
    for place, dryer in enumerate(house.dehumidifiers):
        yield _dehumidifier(dryer, str(place), names, system)


def _heating(heating: Heating, names: Mapping[str, str], system: DisplaySystem) -> Part:
    facts = [
        ("Runs on", heating.fuel.value),
        ("Output", show(heating.capacity, Kind.POWER, system)),
        _efficiency(heating.fuel, heating.efficiency),
    ]
    if heating.draft is not Draft.NONE:
        facts.append(("Smoke leaves by", heating.draft.value))
    if heating.backup_capacity:
        facts.append(("Electric backup", show(heating.backup_capacity, Kind.POWER, system)))
    where = names.get(heating.space, "")
    return Part(heating.kind.capitalize(), where, tuple(facts), heating.known, "heating")


def _efficiency(fuel: Fuel, efficiency: float) -> tuple[str, str]:
    if fuel is Fuel.ELECTRICITY:
        return "Heat per electricity", f"{efficiency:.2f}"
    return "Seasonal efficiency", f"{efficiency:.0%}".replace("%", " %")


def _cooling(cooling: Cooling, system: DisplaySystem) -> Part:
    facts = (
        ("Capacity", show(cooling.capacity, Kind.COOLING_CAPACITY, system)),
        ("Cooling per electricity", f"{cooling.cop:.2f}"),
        ("Sensible share", show(cooling.sensible_fraction, Kind.FRACTION, system)),
    )
    return Part(cooling.kind.capitalize(), "", facts, cooling.known, "cooling")


def _water_heater(heater: WaterHeater, names: Mapping[str, str]) -> Part:
    facts = [("Runs on", heater.fuel.value), _efficiency(heater.fuel, heater.efficiency)]
    if heater.draft is not Draft.NONE:
        facts.append(("Smoke leaves by", heater.draft.value))
    name = f"Water heater ({heater.kind})"
    where = names.get(heater.space, "")
    return Part(name, where, tuple(facts), heater.known, "water heater")


def _fan(fan: Fan, names: Mapping[str, str], system: DisplaySystem) -> Part:
    facts = [
        ("Air flow", show(fan.flow, Kind.FLOW, system)),
        ("Runs", f"{sum(fan.hours):.1f} h a day"),
        ("Way", fan.kind),
    ]
    if fan.recovery:
        facts.append(("Heat recovered", show(fan.recovery, Kind.FRACTION, system)))
    return Part(fan.name, names.get(fan.space, ""), tuple(facts), fan.known, "fan", fan.id)


def _room_unit(unit: RoomUnit, names: Mapping[str, str], system: DisplaySystem) -> Part:
    facts = []
    if unit.heating is not None:
        facts.append(("Heat output", show(unit.heating.capacity, Kind.POWER, system)))
        facts.append(_efficiency(unit.heating.fuel, unit.heating.efficiency))
    if unit.cooling is not None:
        facts.append(("Capacity", show(unit.cooling.capacity, Kind.COOLING_CAPACITY, system)))
        facts.append(("Cooling per electricity", f"{unit.cooling.cop:.2f}"))
    where = names.get(unit.space, "")
    return Part(unit.name, where, tuple(facts), unit.known, "room unit", unit.id)


def _dehumidifier(
    dryer: Dehumidifier, place: str, names: Mapping[str, str], system: DisplaySystem
) -> Part:
    facts = (
        ("Water removed", show(dryer.capacity, Kind.VAPOR_FLOW, system)),
        ("Runs above", f"{show(dryer.setpoint, Kind.FRACTION, system)} relative humidity"),
    )
    where = names.get(dryer.space, "")
    return Part("Dehumidifier", where, facts, dryer.known, "dehumidifier", place)


def site_of(site: Site, system: DisplaySystem) -> Part:
    """Return what is known of where a house stands."""
    facts = (
        ("Latitude", show(site.latitude, Kind.ANGLE, system, digits=4)),
        ("Longitude", show(site.longitude, Kind.ANGLE, system, digits=4)),
        ("Height above sea level", show(site.elevation, Kind.LENGTH, system)),
        ("Surroundings", site.terrain),
        ("Wind left at the walls", show(site.shelter, Kind.FRACTION, system)),
    )
    return Part("Site", "", facts, site.known, "site")


def use_of(use: Use, names: Mapping[str, str], system: DisplaySystem) -> Part:
    """Return what is known of the people of a house and what they do."""
    facts = [
        ("People", f"{use.people}, {use.bedrooms} bedrooms"),
        ("Thermostat, heating", _span(use.heating_setpoint, Kind.TEMPERATURE, system)),
        ("Thermostat, cooling", _span(use.cooling_setpoint, Kind.TEMPERATURE, system)),
        ("Hangs in the", names.get(use.thermostat, "largest living space")),
        ("Lights and appliances", show(use.electricity, Kind.ELECTRIC_POWER, system)),
        ("Heat in hot water", show(use.hot_water_heat, Kind.POWER, system)),
        ("Water vapor released", show(use.vapor_gain, Kind.VAPOR_FLOW, system)),
    ]
    if use.open_window_area:
        facts.append(("Windows they open", show(use.open_window_area, Kind.AREA, system)))
    return Part("People and use", "", tuple(facts), use.known, "use")


def _span(hours: Sequence[float], kind: Kind, system: DisplaySystem) -> str:
    return show_range(min(hours), max(hours), kind, system)
