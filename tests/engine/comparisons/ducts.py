"""Ducts simulated at a steady design hour, beside the method of Standard 152.

The same house is run with ducts and without, in weather that never changes, with equipment
just large enough that it hardly stops. The ratio of what the coil gives without ducts and
with them is the distribution efficiency at constant efficiency of the equipment.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from typing import TYPE_CHECKING, Literal

import numpy as np

from engine.comparisons.plain_house import ATTIC, CELLAR, CRAWL, FLOOR_AREA, Plan, plain_house
from engine.weather_years import even_year, first_days
from rooftree.engine import simulate
from rooftree.house import AirHandler, Cooling, DuctRun, Fuel, Heating
from rooftree.physics.air import density_at_altitude
from rooftree.physics.distribution_efficiency import (
    SPECIFIC_HEAT,
    DuctSide,
    delivery_effectiveness,
    distribution_efficiency,
    with_regain,
)
from rooftree.physics.superposition import half_fan_flow

if TYPE_CHECKING:
    from rooftree.engine import YearResult
    from rooftree.house import House
    from rooftree.weather import WeatherYear

R_UNIT = 0.1761102
"""1 h·ft²·°F/Btu [m²·K/W]."""

LAST = slice(-24, None)
"""The day by which everything has settled."""

REGAIN = {ATTIC: 0.10, CRAWL: 0.12, CELLAR: 0.30}
"""Thermal regain of the simple tables for attic, crawlspace and basement [-] (recalled)."""

RISE, FULL_RUN = 28.0, 0.97
"""Rise of temperature in the furnace [K], and share of the hour for which machines run [-]."""

LEAST_CAPACITY, MOST_CAPACITY = 1000.0, 40000.0
"""Between which the capacity that the house needs is sought [W]."""

DAYS = 40
"""Length of the weather [d]; soil and walls settle within half of it."""

COOLING_FLOW = 400.0 * 4.719474e-4 / 3516.853
"""Air flow per total capacity of a cooling machine [m³/(s·W)]: 400 cfm a ton."""


@dataclass(frozen=True, slots=True)
class Situation:
    """Where the ducts are, what they leak and how they are wrapped.

    Attributes
    ----------
    space : str
        Through which all ducts outside the rooms run.
    supply_leak, return_leak : float
        Shares of the air handler's flow [0-1].
    insulation : float
        Of wrap and films [h·ft²·°F/Btu].
    mode : {"heating", "cooling"}
        -10 °C outdoors without sun, or 35 °C with sun.
    published : float or None
        Duct loss over building load that the handbook prints for the case [-].
    """

    space: str
    supply_leak: float
    return_leak: float
    insulation: float
    mode: Literal["heating", "cooling"]
    published: float | None = None

    @property
    def name(self) -> str:
        """Return a short description."""
        leaks = f"{100 * self.supply_leak:g}/{100 * self.return_leak:g} %"
        return f"{self.space}, {self.mode}, {leaks}, R-{self.insulation:g}"


SITUATIONS = (
    Situation(ATTIC, 0.11, 0.11, 4.0, "heating", 0.29),
    Situation(ATTIC, 0.05, 0.05, 8.0, "heating", 0.13),
    Situation(ATTIC, 0.15, 0.03, 4.0, "heating"),
    Situation(CRAWL, 0.11, 0.11, 4.0, "heating", 0.29),
    Situation(CRAWL, 0.05, 0.05, 8.0, "heating", 0.13),
    Situation(CELLAR, 0.11, 0.11, 4.0, "heating", 0.18),
    Situation(CELLAR, 0.05, 0.05, 8.0, "heating", 0.08),
    Situation(ATTIC, 0.11, 0.11, 4.0, "cooling", 0.71),
    Situation(ATTIC, 0.05, 0.05, 8.0, "cooling", 0.27),
    Situation(ATTIC, 0.03, 0.15, 4.0, "cooling"),
    Situation(CRAWL, 0.11, 0.11, 4.0, "cooling", 0.12),
    Situation(CELLAR, 0.05, 0.05, 8.0, "cooling", 0.04),
)
"""Loss factors of ASHRAE Handbook - Fundamentals 2021, ch. 17 Table 6, one storey, furnace."""

FOUNDATION = {ATTIC: "slab", CRAWL: "crawlspace", CELLAR: "basement"}


@dataclass(frozen=True, slots=True)
class DuctComparison:
    """One situation, simulated and by the method.

    Attributes
    ----------
    around_idle, around : float
        Temperature round the ducts without them and with them [K].
    simulated_delivery, method_delivery : float
        Share of the coil's sensible output that comes out of the registers: simulated, and
        by the method from the simulated temperatures [-].
    simulated, method : float
        Distribution efficiency: simulated, and by the method from the temperature round
        the ducts without them, with the table's regain and the load factor [-].
    implied_regain : float
        Regain with which the method would give what was simulated [-].
    load_factor : float
        Load without ducts over the load with the air that their leaks move, by the
        half-fan rule [-].
    """

    situation: Situation
    around_idle: float
    around: float
    simulated_delivery: float
    method_delivery: float
    simulated: float
    method: float
    implied_regain: float
    load_factor: float

    @property
    def duct_load(self) -> float:
        """Return the simulated duct loss over the building's load [-]."""
        return 1.0 / self.simulated - 1.0


@cache
def weather(mode: str) -> WeatherYear:
    """Return -10 °C without sun, or 35 °C under a high sun, for weeks; nearly dry air."""
    if mode == "heating":
        cold = even_year(263.15, wind_speed=3.0, sky_temperature=250.0, ground_temperature=281.15)
        return first_days(cold, DAYS)
    hot = even_year(308.15, wind_speed=3.0, sky_temperature=293.0, ground_temperature=291.15)
    ones = np.ones(hot.temperature.size)
    sunny = replace(
        hot, sun_altitude=60.0 * ones, sun_azimuth=180.0 * ones, direct_normal=700.0 * ones,
        diffuse_horizontal=130.0 * ones,
        global_horizontal=(130.0 + 700.0 * np.sin(np.radians(60.0))) * ones,
    )  # fmt: skip
    return first_days(sunny, DAYS)


def _house(case: Situation, capacity: float, *, has_ducts: bool) -> House:
    """Return the house with equipment of a sensible output [W], and ducts of default size."""
    plan = Plan(1, FOUNDATION[case.space], 7.0)  # type: ignore[arg-type]
    resistance = case.insulation * R_UNIT
    ducts = (
        DuctRun("s", "s", "supply", case.space, 0.27 * FLOOR_AREA, resistance, case.supply_leak),
        DuctRun("r", "r", "return", case.space, 0.05 * FLOOR_AREA, resistance, case.return_leak),
    )
    is_heating = case.mode == "heating"
    flow = capacity / (1.2 * SPECIFIC_HEAT * RISE) if is_heating else COOLING_FLOW * capacity
    return replace(
        plain_house(plan),
        ducts=ducts if has_ducts else (),
        air_handler=AirHandler("storey-0", flow, 0.0),
        heating=Heating("furnace", Fuel.GAS, capacity, 1.0) if is_heating else None,
        cooling=None if is_heating else Cooling("air conditioner", capacity, 3.5),
    )


def _run(case: Situation, *, has_ducts: bool) -> tuple[House, YearResult]:
    """Return the settled house with equipment that runs nearly all the time."""
    low, high = LEAST_CAPACITY, MOST_CAPACITY
    while True:
        capacity = math.sqrt(low * high)
        house = _house(case, capacity, has_ducts=has_ducts)
        year = simulate(house, weather(case.mode), hourly=True)
        assert year.hourly is not None
        run = float(year.hourly.runtime[LAST].mean())
        if abs(run - FULL_RUN) < 0.01:
            break
        low, high = (low, capacity) if run < FULL_RUN else (capacity, high)
    return house, year


def _mass_flow(house: House) -> float:
    """Return the flow of the air handler while it runs [kg/s], at 20 °C as in the engine."""
    assert house.air_handler is not None
    return house.air_handler.flow * density_at_altitude(0.0, 293.15)


def _last(year: YearResult, space: str) -> float:
    assert year.hourly is not None
    return float(year.hourly.temperature[LAST, year.space_ids.index(space)].mean())


def _living(year: YearResult, kind: str) -> float:
    """Return the heat or cold that reaches the living space [W]."""
    assert year.hourly is not None
    column = year.hourly.heating if kind == "heating" else year.hourly.cooling
    return float(column[LAST, 0].mean())


def coil_output(case: Situation, house: House, year: YearResult) -> float:
    """Return the sensible output of the coil [W], from what all spaces receive.

    What spaces receive through ducts is counted from their own temperatures; where supply
    and return leak unequally the ducts move air between them, whose heat is added here.
    """
    hourly = year.hourly
    assert hourly is not None
    column = hourly.heating if case.mode == "heating" else hourly.cooling
    received = float(column[LAST].sum(axis=1).mean())
    run = float(hourly.runtime[LAST].mean())
    excess = case.return_leak - case.supply_leak if house.ducts else 0.0
    moved = run * _mass_flow(house) * SPECIFIC_HEAT * excess
    warmer = _last(year, "storey-0") - _last(year, case.space)
    return received + (moved if case.mode == "heating" else -moved) * warmer


def _sides(case: Situation, indoor: float, around: float) -> tuple[DuctSide, DuctSide]:
    resistance, regain = case.insulation * R_UNIT, REGAIN[case.space]
    apart = indoor - around
    return (
        DuctSide(case.supply_leak, 0.27 * FLOOR_AREA, resistance, apart, regain),
        DuctSide(case.return_leak, 0.05 * FLOOR_AREA, resistance, apart, regain),
    )


@cache
def compare_ducts(case: Situation) -> DuctComparison:
    """Run one situation and reduce it by the method."""
    _, perfect = _run(case, has_ducts=False)
    house, real = _run(case, has_ducts=True)
    assert real.hourly is not None
    run = float(real.hourly.runtime[LAST].mean())
    bare = Situation(case.space, 0.0, 0.0, case.insulation, case.mode)
    without = coil_output(bare, replace(house, ducts=()), perfect)
    coil = coil_output(case, house, real)
    indoor, around, idle = (
        _last(real, "storey-0"), _last(real, case.space), _last(perfect, case.space),
    )  # fmt: skip
    rate = _mass_flow(house) * SPECIFIC_HEAT
    rise = (1.0 if case.mode == "heating" else -1.0) * coil / (run * rate)
    as_run = _sides(case, indoor, around)
    as_planned = _sides(case, indoor, idle)
    raw = delivery_effectiveness(*as_planned, rate, rise)
    load_factor = _load_factor(case, perfect, without, run * _mass_flow(house))
    corrected = with_regain(raw, *as_planned, rate, rise)
    per_regain = (corrected - raw) / REGAIN[case.space]
    simulated = without / coil
    return DuctComparison(
        situation=case,
        around_idle=idle,
        around=around,
        simulated_delivery=_living(real, case.mode) / coil,
        method_delivery=delivery_effectiveness(*as_run, rate, rise),
        simulated=simulated,
        method=distribution_efficiency(corrected, load=load_factor),
        implied_regain=(simulated / load_factor - raw) / per_regain,
        load_factor=load_factor,
    )


def _load_factor(case: Situation, perfect: YearResult, load: float, mass_flow: float) -> float:
    """Return the load without ducts over that with the outdoor air that their leaks move.

    The half-fan rule gives all outdoor air. What comes in through a leaky return is part of
    it, but its heat is already in the delivery effectiveness.
    """
    assert perfect.hourly is not None
    natural = float(perfect.hourly.infiltration[LAST].mean())
    density = density_at_altitude(0.0, 293.15)
    drawn = mass_flow / density * (case.return_leak - case.supply_leak)
    through_walls = half_fan_flow(natural, abs(drawn)) - max(drawn, 0.0)
    apart = abs(_last(perfect, "storey-0") - float(weather(case.mode).temperature[0]))
    return load / (load + (through_walls - natural) * density * SPECIFIC_HEAT * apart)
