"""What is used beside the house: pools, spas, wells, vehicles.

Sources
-------
[APPLICATIONS] ASHRAE Handbook - HVAC Applications, chapter "Service water heating", heating of
    swimming pools: ``10.5 Btu/(h·ft²·°F)`` from the water to the air (recalled).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import HouseError, OutOfRangeError
from rooftree.house.model import Fuel
from rooftree.house.use.ip import BTU, DAY, HOUR, RANKINE, SQUARE_FOOT, YEAR
from rooftree.house.use.items import UseItem
from rooftree.known import How, Known
from rooftree.weather.climate import monthly_means
from rooftree.weather.hours import DAYS_IN_MONTH

if TYPE_CHECKING:
    from collections.abc import Collection

    from rooftree.weather import WeatherYear

GRAVITY, WATER = 9.80665, 998.0
"""Standard gravity [m/s²] and density of water at 20 °C [kg/m³]."""

OPEN_WATER = 10.5 * BTU / HOUR / (SQUARE_FOOT * RANKINE)
"""Heat from an open pool to the air, by evaporation, radiation and convection together, in
an ordinary wind of about 1.6 m/s [W/(m²·K)] [APPLICATIONS]_."""

WIND_FACTORS = {"sheltered": 0.75, "ordinary": 1.0, "breezy": 1.25, "windy": 2.0}
"""On that loss: out of the wind, 1.6, 2.2 and 4.5 m/s [-] [APPLICATIONS]_."""


def _require(name: str, value: float, low: float, high: float, unit: str) -> None:
    if not low <= value <= high:
        raise OutOfRangeError(name, value, low, high, unit)


def pumping_power(flow: float, head: float, efficiency: float) -> float:
    """Return the electric power that lifts water.

    Parameters
    ----------
    flow : float
        Of water [m³/s], >= 0.
    head : float
        Height and friction together, as a column of water [m], >= 0.
    efficiency : float
        Of pump and motor together [0-1], above 0; 0.3 to 0.5 is usual (recalled).

    Returns
    -------
    float
        Power [W].

    Raises
    ------
    OutOfRangeError
        If a number cannot be.

    Notes
    -----
    ``density x gravity x flow x head / efficiency``: the work of lifting.

    Examples
    --------
    >>> round(pumping_power(0.003, 12.0, 0.4))
    881
    """
    _require("flow", flow, 0.0, math.inf, "m³/s")
    _require("head", head, 0.0, math.inf, "m")
    _require("efficiency", efficiency, 0.01, 1.0, "-")
    return WATER * GRAVITY * flow * head / efficiency


def pool_pump(
    volume: float,
    *,
    turnovers: float = 1.0,
    hours_a_day: float = 8.0,
    head: float = 15.0,
    efficiency: float = 0.4,
    months: float = 12.0,
    known: Known | None = None,
) -> UseItem:
    """Return what a pool's circulation pump uses, from the water that it turns over.

    Parameters
    ----------
    volume : float
        Of the pool [m³].
    turnovers : float
        Times a day that all of it passes the filter [-].
    hours_a_day : float
        In which it does [h], above 0.
    head : float
        Friction of filter and pipes as a column of water [m]; it falls with the square of the
        flow, so that a slow pump has a fraction of it.
    efficiency : float
        Of pump and motor together [0-1].
    months : float
        Of the year in which it runs [-].
    known : Known or None
        How this is known; None for assumed.

    Returns
    -------
    UseItem

    Raises
    ------
    OutOfRangeError
        If a number cannot be.

    Notes
    -----
    Turnovers, hours, head and efficiency are usual figures without a source: where a plate or
    a meter tells the power, use `power_item` instead.
    """
    _require("hours_a_day", hours_a_day, 0.1, 24.0, "h")
    _require("months", months, 0.0, 12.0, "months")
    _require("volume", volume, 0.0, math.inf, "m³")
    flow = volume * turnovers / (hours_a_day * HOUR)
    mean = pumping_power(flow, head, efficiency) * hours_a_day * HOUR / DAY * months / 12.0
    note = known or Known(How.ASSUMED, "lifting of water; usual head and efficiency")
    return UseItem("pool pump", "pool pump", electricity=mean * YEAR, known=note)


def well_pump(
    water: float, head: float, *, efficiency: float = 0.4, known: Known | None = None
) -> UseItem:
    """Return what a well pump uses.

    Parameters
    ----------
    water : float
        All water that the household draws, mean over the year [m³/s].
    head : float
        From the water in the well to the tank, with the tank's pressure [m].
    efficiency : float
        Of pump and motor together [0-1].
    known : Known or None
        How this is known; None for assumed.

    Returns
    -------
    UseItem

    Raises
    ------
    OutOfRangeError
        If a number cannot be.
    """
    power = pumping_power(water, head, efficiency)
    note = known or Known(How.ASSUMED, "lifting of water; usual efficiency")
    return UseItem("well pump", "well pump", electricity=power * YEAR, known=note)


def water_surface_loss(
    area: float, water: float, air: float, *, exposure: str = "ordinary"
) -> float:
    """Return the heat that an open pool or spa loses to the air.

    Parameters
    ----------
    area : float
        Of the water's surface [m²], >= 0.
    water : float
        Temperature of the water [K].
    air : float
        Temperature of the air [K].
    exposure : str
        ``"sheltered"``, ``"ordinary"``, ``"breezy"`` or ``"windy"``.

    Returns
    -------
    float
        Loss [W]; 0 where the air is warmer.

    Raises
    ------
    OutOfRangeError
        If the area is negative.
    HouseError
        If the exposure is none of these.

    Notes
    -----
    ``10.5 Btu/(h·ft²·°F)`` and its factors for wind [APPLICATIONS]_. Sun into the water, dry
    air and losses to the ground are left out, each of which can be a large part: take the result
    for a first guess, and bills for the truth.

    References
    ----------
    .. [APPLICATIONS] ASHRAE Handbook - HVAC Applications, swimming pools (recalled).

    Examples
    --------
    >>> round(water_surface_loss(1.0, 300.0, 290.0))
    596
    """
    _require("area", area, 0.0, math.inf, "m²")
    if exposure not in WIND_FACTORS:
        message = f"exposure is {exposure}; use one of {', '.join(WIND_FACTORS)}"
        raise HouseError(message)
    return OPEN_WATER * WIND_FACTORS[exposure] * area * max(water - air, 0.0)


def water_heating(
    name: str,
    year: WeatherYear,
    *,
    area: float,
    water: float,
    efficiency: float,
    fuel: Fuel = Fuel.GAS,
    months: Collection[int] = range(1, 13),
    open_share: float = 1.0,
    exposure: str = "ordinary",
    known: Known | None = None,
) -> UseItem:
    """Return what it takes to keep a pool or a spa warm.

    Parameters
    ----------
    name : str
        ``"pool heater"``, ``"spa"`` or the like; also its id.
    year : WeatherYear
        Weather of 8760 hours.
    area : float
        Of the water's surface [m²].
    water : float
        Temperature at which it is kept [K].
    efficiency : float
        Of the heater [-]; a heat pump's is above 1.
    fuel : Fuel
        Electricity or natural gas.
    months : collection of int
        In which it is kept warm; 1 for January.
    open_share : float
        Share of the loss that is left with the cover as it is used [0-1]; a cover takes away
        about nine tenths while it lies on the water (recalled).
    exposure : str
        As for `water_surface_loss`.
    known : Known or None
        How this is known; None for assumed.

    Returns
    -------
    UseItem

    Raises
    ------
    OutOfRangeError
        If a number cannot be.
    HouseError
        If exposure or fuel are none that are known.
    WeatherError
        If it is a record of other length than a year.

    Notes
    -----
    From the mean air of each month; the heat of first filling and warming is left out.
    """
    year.require_whole_year("losses of a pool")
    _require("efficiency", efficiency, 0.1, 20.0, "-")
    _require("open_share", open_share, 0.0, 1.0, "-")
    if fuel not in (Fuel.ELECTRICITY, Fuel.GAS):
        message = f"{name} burns {fuel}; use electricity or natural gas"
        raise HouseError(message)
    loss = [
        water_surface_loss(area, water, float(air), exposure=exposure)
        for air in monthly_means(year.temperature)
    ]
    warm = np.array([month in months for month in range(1, 13)])
    heat = float(np.sum(np.multiply(DAYS_IN_MONTH, loss)[warm])) * DAY
    bought = open_share * heat / efficiency
    note = known or Known(How.ASSUMED, "surface loss of ASHRAE Handbook - HVAC Applications")
    is_gas = fuel is Fuel.GAS
    return UseItem(
        name, name, electricity=0.0 if is_gas else bought, gas=bought if is_gas else 0.0, known=note
    )


def electric_vehicle(
    distance: float, consumption: float, *, charging: float = 0.9, known: Known | None = None
) -> UseItem:
    """Return what an electric vehicle draws at home.

    Parameters
    ----------
    distance : float
        Driven in a year on what is charged at home [m].
    consumption : float
        From the battery per distance, as its display tells [J/m].
    charging : float
        Share of what is drawn that reaches the battery [0-1]; about 0.9 (recalled).
    known : Known or None
        How this is known; None for told.

    Returns
    -------
    UseItem

    Raises
    ------
    OutOfRangeError
        If a number cannot be.

    Examples
    --------
    >>> round(electric_vehicle(16e6, 650.0).electricity / 3.6e6)
    3210
    """
    _require("distance", distance, 0.0, 2e8, "m")
    _require("consumption", consumption, 0.0, 5000.0, "J/m")
    _require("charging", charging, 0.3, 1.0, "-")
    drawn = distance * consumption / charging
    note = known or Known(How.TOLD)
    return UseItem("electric vehicle", "electric vehicle", electricity=drawn, known=note)
