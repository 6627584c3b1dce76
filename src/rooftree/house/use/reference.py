"""What a household of this size usually uses, part by part, by published equations.

Sources
-------
[RESNET301] ANSI/RESNET/ICC 301-2014, section 4.2.2: energy of the reference home's lights and
    appliances, share of it that becomes heat and vapor inside, gains of people and of water
    in use (recalled; the shares are the quotients of its tables of gains and of energy, which
    come out round: 90 % for plug loads, 80 % for a range, 15 % for a dryer, 60 % for a
    dishwasher, 30 % for a clothes washer).
[RESNET2011] RESNET, proposed amendment on lighting, appliance and miscellaneous loads, 2011:
    the equations before these (read in the struck text).
[ANGELL1988] W. Angell, W. Olson, "Moisture Sources Associated with Potential Damage in Cold
    Climate Housing", University of Minnesota, 1988 (quoted).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from rooftree.errors import HouseError, OutOfRangeError
from rooftree.house.model import Fuel
from rooftree.house.use.hours import DINNER_HOURS, EVEN, GAIN_HOURS, HOT_WATER_HOURS
from rooftree.house.use.ip import BTU_A_DAY, DAY, KWH, SQUARE_FOOT, THERM, YEAR
from rooftree.house.use.items import UseItem
from rooftree.house.use.water import STORED, reference_draw
from rooftree.known import How, Known
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Mapping

PERSON_SENSIBLE = 3716.0 * BTU_A_DAY
"""Heat of a person in the house, mean over the day [W] [RESNET301]_."""

PERSON_LATENT = 2884.0 * BTU_A_DAY
"""Heat in the vapor of a person, mean over the day [W] [RESNET301]_."""

HEAT_OF_EVAPORATION = 2.43e6
"""Of water at skin and room temperature [J/kg]."""

VAPOR_OF_GAS = 4.05e-8
"""Vapor of natural gas that burns inside [kg/J]: methane, 2.246 kg of water and 55.5 MJ a
kilogram."""

EFFICIENT_LIGHTS = 0.1
"""Share of efficient lamps in the reference home [0-1] [RESNET301]_."""

_BY_301 = Known(How.ASSUMED, "ANSI/RESNET/ICC 301-2014 (recalled)")


@dataclass(frozen=True, slots=True)
class Household:
    """What decides the usual use of a house.

    Attributes
    ----------
    floor_area : float
        Of the living spaces [m²], > 0.
    bedrooms : int
        Number, >= 0.
    people : int or None
        Who live there; None for one a bedroom, as in the reference home.
    range_fuel : Fuel
        Electricity or natural gas.
    dryer_fuel : Fuel or None
        Electricity or natural gas; None without a dryer.
    has_dishwasher, has_clothes_washer, has_garage : bool
        Whether they are there.
    efficient_lights : float
        Share of efficient lamps inside [0-1].
    stored_water : float
        Hot water as it is stored [K].
    """

    floor_area: float
    bedrooms: int
    people: int | None = None
    range_fuel: Fuel = Fuel.ELECTRICITY
    dryer_fuel: Fuel | None = Fuel.ELECTRICITY
    has_dishwasher: bool = True
    has_clothes_washer: bool = True
    has_garage: bool = False
    efficient_lights: float = EFFICIENT_LIGHTS
    stored_water: float = STORED

    def __post_init__(self) -> None:
        """Refuse a household that cannot be.

        Raises
        ------
        OutOfRangeError
            If a number is out of range.
        HouseError
            If range or dryer burn something else than natural gas.
        """
        for name, value, low, high, unit in (
            ("floor_area", self.floor_area, 10.0, 2000.0, "m²"),
            ("bedrooms", self.bedrooms, 0, 20, "rooms"),
            ("people", self.head_count, 0, 40, "people"),
            ("efficient_lights", self.efficient_lights, 0.0, 1.0, "-"),
            ("stored_water", self.stored_water, 310.0, 366.0, "K"),
        ):
            if not low <= value <= high:
                raise OutOfRangeError(name, value, low, high, unit)
        for name, fuel in (("range", self.range_fuel), ("dryer", self.dryer_fuel)):
            if fuel not in (None, Fuel.ELECTRICITY, Fuel.GAS):
                message = f"{name} burns {fuel}; use electricity or natural gas"
                raise HouseError(message)

    @property
    def head_count(self) -> int:
        """Return the number of people."""
        return self.bedrooms if self.people is None else self.people


def reference_items(household: Household) -> tuple[UseItem, ...]:
    """Return what such a household usually uses, part by part.

    Parameters
    ----------
    household : Household
        Size, people and what is there.

    Returns
    -------
    tuple of UseItem
        Lights, appliances, water and people; each says its source.

    Notes
    -----
    Means over many homes. One household with the same rooms may use half or twice as much, and
    lights and refrigerators use less than they did when the equations were made; so replace
    what was seen (`replace_seen`) and fit the rest to bills.
    """
    rows = table_rows("rooftree.house.use", "appliances.csv")
    return (
        *(_appliance(row, household) for row in rows if _is_there(row, household)),
        _taps(household),
        _waste(household),
        _cooking(household),
        _people(household),
    )


def _is_there(row: Mapping[str, str], household: Household) -> bool:
    """Return whether the household has what a row describes; range and dryer by their fuel."""
    is_there = {
        "range": row["fuel"] == household.range_fuel,
        "dryer": row["fuel"] == household.dryer_fuel,
        "garage lighting": household.has_garage,
        "dishwasher": household.has_dishwasher,
        "clothes washer": household.has_clothes_washer,
    }
    return is_there.get(row["id"], True)


def _appliance(row: Mapping[str, str], household: Household) -> UseItem:
    """Return the part that a row of the table describes."""
    rooms, number = household.bedrooms, {key: float(row[key] or 0.0) for key in _NUMBERS}
    feet = household.floor_area / SQUARE_FOOT
    electricity = number["kwh"] + number["kwh_per_ft2"] * feet + number["kwh_per_bedroom"] * rooms
    if row["id"] == "lighting":
        electricity *= lamp_factor(household.efficient_lights)
    gas = (number["therms"] + number["therms_per_bedroom"] * rooms) * THERM
    bought = electricity * KWH + gas
    draw = reference_draw(rooms)
    water = {"dishwasher": draw.dishwasher, "clothes washer": draw.clothes_washer}
    return UseItem(
        row["id"],
        row["name"],
        electricity=electricity * KWH,
        gas=gas,
        hot_water=water.get(row["id"], 0.0),
        sensible=number["sensible"] * bought / YEAR,
        vapor=number["latent"] * bought / YEAR / HEAT_OF_EVAPORATION,
        runs=number["runs"] + number["runs_per_bedroom"] * rooms,
        vapor_hours=GAIN_HOURS,
        known=Known(How.ASSUMED, f"{row['source']} ({row['read']})"),
    )


_NUMBERS = (
    "kwh", "kwh_per_ft2", "kwh_per_bedroom", "therms", "therms_per_bedroom", "sensible",
    "latent", "runs", "runs_per_bedroom",
)  # fmt: skip


def lamp_factor(efficient: float) -> float:
    """Return the electricity of lights inside over that of the reference home.

    Parameters
    ----------
    efficient : float
        Share of efficient lamps [0-1].

    Returns
    -------
    float
        Factor [-], 1 for the reference home's share of 0.1.

    Raises
    ------
    OutOfRangeError
        If it is no share.

    Notes
    -----
    ``0.8 (4 - 3 q) / 3.7 + 0.2``: four fifths of the lamps can be changed, and an efficient one
    takes a quarter (compact fluorescent lamps; others save a little more) [RESNET301]_.

    References
    ----------
    .. [RESNET301] ANSI/RESNET/ICC 301-2014, eq. 4.2-2 (recalled).

    Examples
    --------
    >>> round(lamp_factor(1.0), 3)
    0.416
    """
    if not 0.0 <= efficient <= 1.0:
        raise OutOfRangeError("efficient_lights", efficient, 0.0, 1.0, "-")
    return 0.8 * (4.0 - 3.0 * efficient) / 3.7 + 0.2


def _taps(household: Household) -> UseItem:
    """Return showers and taps; what evaporates cools the room [RESNET301]_."""
    rooms = household.bedrooms
    return UseItem(
        "taps",
        "showers and taps",
        tap_water=reference_draw(rooms).fixtures,
        sensible=-(1227.0 + 409.0 * rooms) * BTU_A_DAY,
        vapor=(1245.0 + 415.0 * rooms) * BTU_A_DAY / HEAT_OF_EVAPORATION,
        gain_hours=HOT_WATER_HOURS,
        vapor_hours=HOT_WATER_HOURS,
        known=_BY_301,
    )


def _waste(household: Household) -> UseItem:
    water = reference_draw(household.bedrooms).waste
    return UseItem("waste", "water run off until it is warm", tap_water=water, known=_BY_301)


def _cooking(household: Household) -> UseItem:
    """Return the vapor of cooking: of a dinner for each, and of the gas that burns."""
    gas = 0.0
    if household.range_fuel is Fuel.GAS:
        gas = (22.6 + 2.7 * household.bedrooms) * THERM / YEAR
    food = household.head_count * vapor_of("cooking") / DAY
    return UseItem(
        "cooking",
        "vapor of cooking",
        vapor=food + VAPOR_OF_GAS * gas,
        runs=365.0,
        vapor_hours=DINNER_HOURS,
        known=Known(How.ASSUMED, "Angell and Olson 1988 (quoted); methane for gas"),
    )


def _people(household: Household) -> UseItem:
    return UseItem(
        "people",
        "people",
        sensible=household.head_count * PERSON_SENSIBLE,
        vapor=household.head_count * vapor_of("person") / DAY,
        vapor_hours=EVEN,
        known=Known(
            How.ASSUMED,
            "heat: ANSI/RESNET/ICC 301-2014 (recalled); vapor: Angell and Olson 1988 (quoted)",
        ),
    )


@cache
def _vapors() -> Mapping[str, float]:
    rows = table_rows("rooftree.house.use", "vapor.csv")
    return MappingProxyType({row["id"]: float(row["kilograms"]) for row in rows})


def vapor_of(source: str) -> float:
    """Return the water that one thing gives off [kg], a day or each time that it is done.

    Parameters
    ----------
    source : str
        ``"person"``, ``"cooking"``, ``"shower"``, ``"dishes by hand"``, ``"line drying"``,
        ``"house plants"``, ``"kerosene"`` or ``"humidifier"``.

    Returns
    -------
    float
        Water [kg]; plants and persons a day, others each time.

    Raises
    ------
    HouseError
        If it is not in the table.

    Notes
    -----
    [ANGELL1988]_; amounts differ between households by a factor of two.

    References
    ----------
    .. [ANGELL1988] W. Angell, W. Olson, University of Minnesota, 1988 (quoted).

    Examples
    --------
    >>> round(vapor_of("shower"), 3)
    0.237
    """
    if source not in _vapors():
        message = f"no vapor is known of {source}; use one of {', '.join(_vapors())}"
        raise HouseError(message)
    return _vapors()[source]


def design_vapor(bedrooms: int) -> float:
    """Return the vapor that a house is to be designed for, if nobody knows better.

    Parameters
    ----------
    bedrooms : int
        Number, >= 1.

    Returns
    -------
    float
        Vapor of all sources in the house [kg/s].

    Raises
    ------
    OutOfRangeError
        If there is no bedroom.

    Notes
    -----
    8, 12, 14, 15 L a day for one to four bedrooms, 1 more for each further (ASHRAE Standard
    160, Table 4.3.2, recalled). A high figure on purpose; see `reference_items` for usual ones.

    Examples
    --------
    >>> round(design_vapor(3) * 86400.0, 1)
    14.0
    """
    if bedrooms < 1:
        raise OutOfRangeError("bedrooms", bedrooms, 1, math.inf, "rooms")
    return ((8.0, 12.0, 14.0, 15.0)[min(bedrooms, 4) - 1] + max(bedrooms - 4, 0)) / DAY


def older_use(floor_area: float) -> float:
    """Return the energy of lights and appliances by the equation before this one.

    Parameters
    ----------
    floor_area : float
        Of the living spaces [m²], > 0.

    Returns
    -------
    float
        Energy, mean over the year [W].

    Raises
    ------
    OutOfRangeError
        If the area is not positive.

    Notes
    -----
    ``18,842 + 25.1 A`` Btu a day with A in ft² [RESNET2011]_: a second opinion on the sum of
    `reference_items`, which is a twentieth lower.

    References
    ----------
    .. [RESNET2011] RESNET, proposed amendment on lighting, appliance and miscellaneous loads.

    Examples
    --------
    >>> round(older_use(2000.0 * SQUARE_FOOT) * 365.0 / BTU_A_DAY / 1e6, 2)
    25.2
    """
    if not 0.0 < floor_area < math.inf:
        raise OutOfRangeError("floor_area", floor_area, 0.0, math.inf, "m²")
    return (18842.0 + 25.1 * floor_area / SQUARE_FOOT) * BTU_A_DAY


def older_gains(floor_area: float, bedrooms: int) -> float:
    """Return the heat of people, lights and appliances by the equation before this one.

    Parameters
    ----------
    floor_area : float
        Of the living spaces [m²], > 0.
    bedrooms : int
        Number, >= 0.

    Returns
    -------
    float
        Heat inside, mean over the year [W].

    Raises
    ------
    OutOfRangeError
        If the area is not positive.

    Notes
    -----
    ``17,900 + 23.8 A + 4,104 N`` Btu a day with A in ft² [RESNET2011]_. It keeps 95 % of what
    lights and appliances draw inside; the later tables, which know that a dryer blows its heat
    out, keep about 80 %.

    References
    ----------
    .. [RESNET2011] RESNET, proposed amendment on lighting, appliance and miscellaneous loads.

    Examples
    --------
    >>> round(older_gains(2000.0 * SQUARE_FOOT, 3) / BTU_A_DAY)
    77812
    """
    if not 0.0 < floor_area < math.inf:
        raise OutOfRangeError("floor_area", floor_area, 0.0, math.inf, "m²")
    area = floor_area / SQUARE_FOOT
    return (17900.0 + 23.8 * area + 4104.0 * bedrooms) * BTU_A_DAY
