"""From the parts of a household's use to what the simulation reads."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from rooftree.house.model import Fuel, SpaceKind, Use
from rooftree.house.use.hours import HOT_WATER_HOURS, cooling_setpoints, heating_setpoints
from rooftree.house.use.ip import YEAR
from rooftree.house.use.reference import Household
from rooftree.house.use.water import STORED, Draw, hot_water_heat
from rooftree.known import How, Known
from rooftree.weather.hours import DAYS_IN_MONTH

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rooftree.house.model import House
    from rooftree.house.use.items import UseItem
    from rooftree.weather import WeatherYear


def household_of(house: House) -> Household:
    """Return what decides the usual use of a house, as far as its description tells it.

    Parameters
    ----------
    house : House
        The house.

    Returns
    -------
    Household
        A range that burns gas where any gas is told for cooking and drying; an electric dryer, a
        dishwasher and a clothes washer, about which a house says nothing.

    Raises
    ------
    OutOfRangeError
        If the house is smaller or larger than the equations are for.
    """
    use, heater = house.use, house.water_heater
    return Household(
        floor_area=house.floor_area,
        bedrooms=use.bedrooms,
        people=use.people,
        range_fuel=Fuel.GAS if use.cooking_gas > 0.0 else Fuel.ELECTRICITY,
        has_garage=any(space.kind is SpaceKind.GARAGE for space in house.spaces),
        stored_water=heater.setpoint if heater else STORED,
    )


def use_of(
    household: Household,
    items: tuple[UseItem, ...],
    year: WeatherYear,
    *,
    is_programmable: bool = False,
) -> Use:
    """Return what the simulation reads about people and what they do.

    Parameters
    ----------
    household : Household
        Size, people and what is there.
    items : tuple of UseItem
        Parts of the use: reference ones, seen ones, and what is there besides.
    year : WeatherYear
        Weather of 8760 hours, for the temperature of the mains.
    is_programmable : bool
        Whether the thermostat is set back at night and up while people are out.

    Returns
    -------
    Use
        Each field says how it is known: as its least sure large part.

    Raises
    ------
    WeatherError
        If it is a record of other length than a year.

    Notes
    -----
    Electricity outside the living spaces counts in what is bought and not as heat inside. The
    heat of hot water follows the mains through the year (`hot_water_months`); here stands its
    mean. Air that a dryer or a hood blows out is a fan of the house and not counted here.
    """
    gains, vapors = _by_hour(items)
    vapor = sum(item.vapor for item in items)
    draw = draw_of(items)
    months = hot_water_heat(draw, year, household.stored_water)
    return Use(
        people=household.head_count,
        bedrooms=household.bedrooms,
        heating_setpoint=heating_setpoints(is_programmable=is_programmable),
        cooling_setpoint=cooling_setpoints(is_programmable=is_programmable),
        sensible_gain=gains,
        vapor_gain=vapor,
        electricity=sum(item.electricity for item in items) / YEAR,
        hot_water_heat=float(np.average(months, weights=DAYS_IN_MONTH)),
        cooking_gas=sum(item.gas for item in items) / YEAR,
        vapor_hours=vapors,
        hot_water_hours=HOT_WATER_HOURS,
        known=_known(items),
    )


def draw_of(items: Iterable[UseItem]) -> Draw:
    """Return the water that all parts together draw.

    Parameters
    ----------
    items : iterable of UseItem
        Parts of the use.

    Returns
    -------
    Draw
        Hot water of machines stands under the dishwasher's, all other water under the taps'.
    """
    parts = tuple(items)
    return Draw(
        fixtures=sum(item.tap_water for item in parts),
        waste=0.0,
        dishwasher=sum(item.hot_water for item in parts),
        clothes_washer=0.0,
    )


def _by_hour(items: tuple[UseItem, ...]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return the heat of each hour [W], and its vapor over the mean [-]."""
    heat = sum((item.sensible * np.array(item.gain_hours) for item in items), np.zeros(24))
    vapor = sum((item.vapor * np.array(item.vapor_hours) for item in items), np.zeros(24))
    over_mean = vapor / vapor.mean() if vapor.any() else np.zeros(0)
    return tuple(float(value) for value in heat), tuple(float(value) for value in over_mean)


_SUREST_LAST = tuple(reversed(How))
_PARTS = {
    "electricity": "electricity",
    "cooking_gas": "gas",
    "sensible_gain": "sensible",
    "vapor_gain": "vapor",
}


def _known(items: tuple[UseItem, ...]) -> dict[str, Known]:
    """Return how each field is known: as its least sure part of a tenth or more."""
    known = {
        field: _least_sure(items, [abs(getattr(item, part)) for item in items])
        for field, part in _PARTS.items()
    }
    known["hot_water_heat"] = _least_sure(items, [i.tap_water + i.hot_water for i in items])
    assumed = Known(How.ASSUMED, "reference home of ANSI/RESNET/ICC 301-2014 (recalled)")
    return {**known, "heating_setpoint": assumed, "cooling_setpoint": assumed}


def _least_sure(items: tuple[UseItem, ...], sizes: list[float]) -> Known:
    large = [i.known for i, size in zip(items, sizes, strict=True) if size >= 0.1 * sum(sizes) > 0]
    if not large:
        return Known(How.ASSUMED, "none")
    least = min(large, key=lambda known: _SUREST_LAST.index(known.how))
    seen = sorted({known.how.value for known in large if known.how is not least.how})
    note = f"{least.note}; some parts {' and '.join(seen)}" if seen else least.note
    return Known(least.how, note)
