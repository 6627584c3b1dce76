"""A small house with one of everything that a measure can change, and a toy year."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from rooftree.bills import Tariff
from rooftree.engine.results import YearResult
from rooftree.house import (
    GROUND,
    OUTDOORS,
    AirHandler,
    Cooling,
    Draft,
    DuctRun,
    EndUse,
    Fan,
    Fuel,
    Heating,
    House,
    Layer,
    Leak,
    LeakKind,
    Site,
    Space,
    SpaceKind,
    Surface,
    Use,
    WaterHeater,
    Window,
)
from rooftree.plan.leakage import flow_at_50
from rooftree.plan.model import Measure
from rooftree.weather.year import HOURS, WeatherYear

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

ONE_BATT = Layer("batt", 0.089, 0.045, 12.0, 840.0, role="insulation")
GYPSUM = Layer("gypsum board", 0.0127, 0.16, 800.0, 1090.0)
BOARD = Layer("boards", 0.02, 0.12, 510.0, 1380.0)


def surface(
    key: str, kind: str, inside: str, outside: str, area: float, *layers: Layer, void: float = 0.1
) -> Surface:
    """Return a surface of the small house."""
    tilt = {"wall": 90.0, "ceiling": 0.0, "roof": 30.0, "floor": 180.0, "slab": 180.0}[kind]
    return Surface(key, key, kind, inside, outside, area, tilt, 180.0, layers,
                   framing_fraction=0.1, void_fraction=void)  # fmt: skip


def leak(
    key: str, first: str, second: str, level: float, coefficient: float,
    kind: LeakKind = LeakKind.CRACK, exponent: float = 0.65,
) -> Leak:  # fmt: skip
    """Return a leak of the small house."""
    azimuth = 180.0 if second == OUTDOORS and kind is not LeakKind.FLUE else None
    return Leak(key, key, first, second, level, azimuth, coefficient, exponent, kind)


@pytest.fixture(scope="session")
def house() -> House:
    """Return a storey and a half over a crawlspace, with a room over the garage."""
    return House(
        name="small house",
        site=Site(36.1, -79.95, 270.0),
        spaces=(
            Space("main", "main floor", SpaceKind.LIVING, 120.0, 290.0, 0.8, 2.4, 4e6),
            Space("bonus", "bonus room", SpaceKind.LIVING, 25.0, 55.0, 2.8, 2.2, 8e5),
            Space("attic", "attic", SpaceKind.ATTIC, 120.0, 120.0, 3.2, 1.0),
            Space("knee", "knee-wall attic", SpaceKind.KNEE_WALL_ATTIC, 15.0, 12.0, 2.8, 1.0),
            Space("crawl", "crawlspace", SpaceKind.CRAWLSPACE, 120.0, 90.0, 0.0, 0.75,
                  vapor_source=1.0e-4),
            Space("garage", "garage", SpaceKind.GARAGE, 40.0, 105.0, 0.0, 2.6),
        ),
        surfaces=(
            surface("wall", "wall", "main", OUTDOORS, 90.0, GYPSUM, ONE_BATT, BOARD),
            surface("gable", "wall", "bonus", OUTDOORS, 12.0, GYPSUM, ONE_BATT, BOARD),
            surface("ceiling", "ceiling", "main", "attic", 120.0, GYPSUM, ONE_BATT),
            surface("floor", "floor", "main", "crawl", 120.0, BOARD, ONE_BATT),
            surface("bonus-floor", "floor", "bonus", "garage", 25.0, BOARD,
                    Layer("batts in bays", 0.2, 0.09, role="insulation"), GYPSUM, void=0.3),
            surface("knee-wall", "wall", "bonus", "knee", 16.0, GYPSUM, ONE_BATT),
            surface("roof", "roof", "attic", OUTDOORS, 130.0, BOARD, void=0.0),
            surface("knee-roof", "roof", "knee", OUTDOORS, 20.0, BOARD, void=0.0),
            surface("bonus-roof", "roof", "bonus", OUTDOORS, 20.0, GYPSUM, ONE_BATT, BOARD),
            surface("crawl-wall", "wall", "crawl", OUTDOORS, 35.0,
                    Layer("concrete block", 0.2, 0.85, 1100.0, 840.0), void=0.0),
            surface("crawl-ground", "slab", "crawl", GROUND, 120.0,
                    Layer("soil", 0.15, 1.4, 1700.0, 1000.0), void=0.0),
            surface("garage-slab", "slab", "garage", GROUND, 40.0,
                    Layer("concrete", 0.1, 1.4, 2300.0, 880.0), void=0.0),
            surface("garage-wall", "wall", "garage", OUTDOORS, 40.0, BOARD, void=0.0),
        ),
        use=Use(
            people=4, bedrooms=3, heating_setpoint=(293.15,) * 24, cooling_setpoint=(297.0,) * 24,
            sensible_gain=(600.0,) * 24, vapor_gain=1e-4, electricity=600.0, hot_water_heat=330.0,
        ),
        windows=(
            Window("south-window", "south windows", "main", 9.0, 90.0, 180.0, 5.0, 0.7, 1),
            Window("bonus-window", "bonus window", "bonus", 1.2, 90.0, 90.0, 2.8, 0.6, 2),
        ),
        leaks=(
            leak("wall-cracks", "main", OUTDOORS, 1.5, 0.03),
            leak("ceiling-bypass", "main", "attic", 3.2, 0.03),
            leak("floor-holes", "main", "crawl", 0.8, 0.015),
            leak("bonus-joists", "bonus", "knee", 2.8, 0.01),
            leak("knee-cracks", "bonus", "knee", 3.6, 0.006),
            leak("bonus-garage", "bonus", "garage", 2.8, 0.004),
            leak("gable-cracks", "bonus", OUTDOORS, 3.8, 0.003),
            leak("stair", "main", "bonus", 2.4, 0.2, LeakKind.HOLE, 0.5),
            leak("flue", "main", OUTDOORS, 6.0, 0.0035, LeakKind.FLUE, 0.5),
            leak("attic-vent", "attic", OUTDOORS, 3.3, 0.2, LeakKind.VENT, 0.5),
            leak("knee-vent", "knee", OUTDOORS, 2.9, 0.06, LeakKind.VENT, 0.5),
            leak("crawl-vent", "crawl", OUTDOORS, 0.4, 0.15, LeakKind.VENT, 0.5),
            leak("garage-gap", "garage", OUTDOORS, 0.2, 0.03, LeakKind.VENT, 0.5),
        ),
        ducts=(
            DuctRun("supply-crawl", "supply", "supply", "crawl", 25.0, 0.7, 0.10),
            DuctRun("supply-knee", "supply to bonus", "supply", "knee", 5.0, 0.7, 0.04),
            DuctRun("return-crawl", "return", "return", "crawl", 8.0, 0.5, 0.08),
            DuctRun("supply-hall", "supply in the hall", "supply", "main", 3.0, 0.5, 0.02),
        ),
        air_handler=AirHandler("crawl", 0.5, 500.0),
        heating=Heating("furnace", Fuel.GAS, 18_000.0, 0.78, True, Draft.FAN_ASSISTED, "crawl"),
        cooling=Cooling("air conditioner", 10_000.0, 2.9),
        water_heater=WaterHeater("tank", Fuel.GAS, 0.56, "main", Draft.NATURAL, 60.0),
        fans=(
            Fan("bath-fan", "bath fan", "exhaust", "main", 0.010, (0.1,) * 24, 30.0,
                purpose="bath"),
            Fan("dryer", "dryer", "exhaust", "main", 0.055, (0.03,) * 24, 0.0, purpose="dryer"),
        ),
    )  # fmt: skip


SETTINGS: dict[str, dict[str, float | str]] = {
    "air-sealing": {"target_flow_50": 0.75, "low_target_flow_50": 0.68,
                    "high_target_flow_50": 0.85},
    "ventilation": {"flow": 0.03},
    "water-heater": {"kind": "heat pump", "efficiency": 3.0},
}  # fmt: skip
"""Settings of the kinds that need some."""


def measure(kind: str, /, cost: float = 1000.0, **settings: float | str) -> Measure:
    """Return a measure of a kind, its id the kind, with the settings that it needs."""
    return Measure(
        id=kind,
        kind=kind,
        title=kind,
        settings={**SETTINGS.get(kind, {}), **settings},
        cost_low=0.8 * cost,
        cost_high=1.2 * cost,
        cost_basis="invented",
        life=20.0,
        trade="any",
    )


@pytest.fixture(name="measure", scope="session")
def measure_fixture() -> object:
    """Return the function that makes a measure of a kind."""
    return measure


KWH, THERM = 3.6e6, 105.5056e6
SECONDS = 3.15576e7


@pytest.fixture(scope="session")
def tariff() -> Tariff:
    """Return invented prices of electricity and gas."""
    return Tariff(
        price={"electricity": 0.14 / KWH, "natural gas": 1.5 / THERM},
        standing_charge={"electricity": 150.0, "natural gas": 120.0},
        emission={"electricity": 0.37 / KWH, "natural gas": 5.3 / THERM},
        source="invented",
    )


def linear_year(house: House) -> YearResult:
    """Return a year by hand: losses times degrees over efficiencies, damp by its source."""
    living = {space.id for space in house.living_spaces}
    conductance = sum(
        surface.area * (1.0 + 2.0 * surface.void_fraction)
        / (0.2 + sum(layer.resistance for layer in surface.layers))
        for surface in house.surfaces
        if (surface.inside in living) != (surface.outside in living)
    ) + sum(window.area * window.u_value for window in house.windows)  # fmt: skip
    leaks = flow_at_50(house) / 20.0
    fans = sum(fan.flow * sum(fan.hours) / 24.0 * (1.0 - fan.recovery) for fan in house.fans)
    loss = conductance + 1206.0 * (leaks + 0.5 * fans)
    ducts = 1.0
    for run in house.ducts:
        if run.space not in living:
            ducts *= 1.0 - 0.5 * run.leakage - 0.002 * run.area / run.resistance
    assert house.heating is not None
    assert house.cooling is not None
    assert house.water_heater is not None
    heating, cooling = loss * 12.0 * 0.5 * SECONDS, loss * 3.0 * 0.3 * SECONDS
    bought = {
        (house.heating.fuel, EndUse.HEATING): heating / house.heating.efficiency / ducts,
        (Fuel.ELECTRICITY, EndUse.COOLING): cooling / house.cooling.cop / ducts,
        (house.water_heater.fuel, EndUse.HOT_WATER):
            house.use.hot_water_heat / house.water_heater.efficiency * SECONDS,
        (Fuel.ELECTRICITY, EndUse.VENTILATION): sum(
            fan.power * sum(fan.hours) / 24.0 for fan in house.fans) * SECONDS,
    }  # fmt: skip
    peak = loss * 30.0 / ducts
    count = len(house.spaces)
    damp = [
        max(0.0, 6e7 * space.vapor_source - 2000.0 * len(house.dehumidifiers))
        for space in house.spaces
    ]
    return YearResult(
        space_ids=tuple(space.id for space in house.spaces),
        leak_ids=tuple(leak.id for leak in house.leaks),
        element_ids=(),
        energy={key: np.full(12, energy / 12.0) for key, energy in bought.items()},
        heating_load=heating,
        cooling_load=cooling,
        peak_heating=peak,
        peak_cooling=0.5 * peak,
        unmet_heating_hours=int(max(0.0, peak - house.heating.capacity) / 10.0),
        unmet_cooling_hours=0,
        mean_infiltration=leaks,
        source_shares={OUTDOORS: 1.0},
        entering=np.ones((count, count + 1)),
        mean_temperature=np.full(count, 290.0),
        minimum_temperature=np.full(count, 280.0),
        maximum_temperature=np.full(count, 300.0),
        mean_relative_humidity=np.full(count, 0.5),
        hours_above_80_percent=np.array(damp, dtype=np.int64),
        heat_balance_error=0.0,
        mass_residual=0.0,
    )


class LinearYears:
    """Runs houses through the linear year, and counts them."""

    def __init__(self) -> None:
        self.count = 0

    def __call__(
        self,
        houses: Sequence[House],
        year: object,  # noqa: ARG002
        *,
        workers: int | None = None,  # noqa: ARG002
        progress: Callable[[int, int], None] | None = None,
        cancelled: Callable[[], bool] | None = None,
    ) -> tuple[YearResult, ...]:
        """Return a linear year of each house; stop when told to."""
        results: list[YearResult] = []
        for house in houses:
            if cancelled is not None and cancelled():
                break
            results.append(linear_year(house))
            self.count += 1
            if progress is not None:
                progress(len(results), len(houses))
        return tuple(results)


@pytest.fixture(scope="session", name="weather")
def steady_weather() -> WeatherYear:
    """Return a year that is always 10 °C, dew at 7 °C, with 3 m/s of wind."""
    zeros, ones = np.zeros(HOURS), np.ones(HOURS)
    return WeatherYear(
        name="steady", source="invented", latitude=36.0, longitude=-80.0, utc_offset=-5.0,
        elevation=270.0, temperature=283.15 * ones, dew_point=280.15 * ones,
        pressure=98_000.0 * ones, humidity_ratio=0.0064 * ones, wind_speed=3.0 * ones,
        wind_direction=zeros, global_horizontal=zeros, direct_normal=zeros,
        diffuse_horizontal=zeros, sky_temperature=270.0 * ones,
        ground_temperature=285.0 * ones, sun_altitude=zeros, sun_azimuth=zeros,
    )  # fmt: skip


@pytest.fixture
def linear() -> LinearYears:
    """Return a simulator that counts, one for each test."""
    return LinearYears()
