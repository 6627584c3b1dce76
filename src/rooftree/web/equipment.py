"""The machines of a house as a list of facts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.house import Draft, Fuel
from rooftree.units import Kind, show

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from rooftree.house import Cooling, Dehumidifier, Fan, Heating, House, WaterHeater
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
    """

    name: str
    where: str
    facts: tuple[tuple[str, str], ...]
    known: Mapping[str, Known]


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
        yield Part("Air handler", names.get(handler.space, ""), facts, handler.known)
    if house.water_heater is not None:
        yield _water_heater(house.water_heater, names)
    for fan in house.fans:
        yield _fan(fan, names, system)
    for dryer in house.dehumidifiers:
        yield _dehumidifier(dryer, names, system)


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
    return Part(
        heating.kind.capitalize(), names.get(heating.space, ""), tuple(facts), heating.known
    )


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
    return Part(cooling.kind.capitalize(), "", facts, cooling.known)


def _water_heater(heater: WaterHeater, names: Mapping[str, str]) -> Part:
    facts = [("Runs on", heater.fuel.value), _efficiency(heater.fuel, heater.efficiency)]
    if heater.draft is not Draft.NONE:
        facts.append(("Smoke leaves by", heater.draft.value))
    name = f"Water heater ({heater.kind})"
    return Part(name, names.get(heater.space, ""), tuple(facts), heater.known)


def _fan(fan: Fan, names: Mapping[str, str], system: DisplaySystem) -> Part:
    facts = [
        ("Air flow", show(fan.flow, Kind.FLOW, system)),
        ("Runs", f"{sum(fan.hours):.1f} h a day"),
        ("Way", fan.kind),
    ]
    if fan.recovery:
        facts.append(("Heat recovered", show(fan.recovery, Kind.FRACTION, system)))
    return Part(fan.name, names.get(fan.space, ""), tuple(facts), fan.known)


def _dehumidifier(dryer: Dehumidifier, names: Mapping[str, str], system: DisplaySystem) -> Part:
    facts = (
        ("Water removed", show(dryer.capacity, Kind.VAPOR_FLOW, system)),
        ("Runs above", f"{show(dryer.setpoint, Kind.FRACTION, system)} relative humidity"),
    )
    return Part("Dehumidifier", names.get(dryer.space, ""), facts, dryer.known)
