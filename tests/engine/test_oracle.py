"""Hold the hour loop to the same equations written a second time, plainly, with SciPy.

The oracle differs from the engine in everything but the equations: one system of all faces
and spaces in place of elimination by hand, exact powers and roots in place of polynomials, the
air network solved to rounding, thermostats by trying every state of the machines. What is left
between them is what the engine leaves unbalanced in air, a milligram a second at most.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

import numpy as np
import pytest
from bench.oracle import Books, Oracle, first_state

from engine.ranch import BEDS, BONUS, CRAWL, MAIN, ranch
from engine.random_houses import numbered_house
from engine.weather_years import days_from
from rooftree.engine import simulate, simulation
from rooftree.engine.compile import compile_house
from rooftree.engine.imposed import Imposed
from rooftree.house import (
    OUTDOORS,
    Cooling,
    Dehumidifier,
    Fan,
    Fuel,
    Heating,
    House,
    Leak,
    LeakKind,
    RoomUnit,
    WaterHeater,
)
from rooftree.weather import parse_tmy3

if TYPE_CHECKING:
    from rooftree.engine import YearResult
    from rooftree.weather import WeatherYear

ALL_DAY = (1.0,) * 24
JANUARY, JULY = 0, 181


@cache
def weather(first: int, days: int) -> WeatherYear:
    """Return days of the typical year that comes with the package pvlib."""
    year = parse_tmy3((files("pvlib") / "data" / "723170TYA.CSV").read_text())
    return days_from(year, first, days)


def furnished() -> House:
    """Return the ranch with one of everything that the model has."""
    house = ranch()
    spaces = tuple(
        replace(space, bare_earth=60.0, buffering=12.0) if space.id == CRAWL else space
        for space in house.spaces
    )
    pump = Heating("heat pump", Fuel.ELECTRICITY, 9000.0, 3.4, backup_capacity=6000.0,
                   speeds="variable", crankcase=50.0)  # fmt: skip
    unit = RoomUnit(
        "unit", "unit", BONUS, Heating("resistance", Fuel.ELECTRICITY, 1500.0, 1.0),
        Cooling("air conditioner", 2500.0, 3.2, crankcase=20.0), (294.15,) * 24, (297.15,) * 24,
    )  # fmt: skip
    recovery = Fan("recovery", "recovery", "balanced", MAIN, 0.03, ALL_DAY, 40.0, recovery=0.7,
                   latent_recovery=0.5)  # fmt: skip
    flue = Leak("flue", "flue", MAIN, OUTDOORS, 5.0, None, 0.004, 0.5, LeakKind.FLUE,
                fired_by="water heater", chimney=4.0, gas_temperature=380.0)  # fmt: skip
    return replace(
        house, spaces=spaces, heating=pump, room_units=(unit,),
        cooling=Cooling("heat pump", 9000.0, 4.2, speeds="variable"),
        water_heater=WaterHeater("heat pump", Fuel.ELECTRICITY, 2.8, CRAWL, standby_loss=60.0),
        fans=(*house.fans, recovery), leaks=(*house.leaks, flue),
        dehumidifiers=(Dehumidifier(CRAWL, 2.0e-4, 5.0e-7, 0.6),),
        use=replace(house.use, open_window_area=0.5, thermostat=BEDS),
    )  # fmt: skip


def with_boiler() -> House:
    """Return the ranch with a boiler of poor part load, a pump, and its own fired flue."""
    house = ranch()
    boiler = Heating("boiler", Fuel.OIL, 18000.0, 0.8, ducted=False, pump_power=60.0,
                     part_load=(0.03, 0.92, 0.05))  # fmt: skip
    flue = Leak("flue", "flue", CRAWL, OUTDOORS, 6.0, None, 0.006, 0.5, LeakKind.FLUE,
                fired_by="heating", chimney=5.0, gas_temperature=430.0)  # fmt: skip
    return replace(house, heating=boiler, leaks=(*house.leaks, flue))


def measured(year: WeatherYear) -> Imposed:
    """Return a crawlspace of known temperature and a bedroom with metered heat and air."""
    hours = np.arange(year.temperature.size)
    swing = np.sin(2.0 * np.pi * hours / 24.0)
    return Imposed(
        temperature={CRAWL: 285.0 + swing},
        humidity_ratio={CRAWL: 0.006 + 0.001 * swing},
        heat={BEDS: 300.0 * (1.0 + swing)},
        radiant_fraction=0.3,
        supplied={BEDS: np.full(hours.size, 0.01)},
    )


def both(
    house: House, year: WeatherYear, imposed: Imposed | None, monkeypatch: pytest.MonkeyPatch
) -> tuple[Books, YearResult]:
    """Run a house by oracle and engine, each after one repetition of the first day."""
    monkeypatch.setattr(simulation, "RECORD_WARM_UP", 1)
    compiled = compile_house(house, year, imposed=imposed)
    oracle = Oracle(compiled, first_state(compiled))
    oracle.run(0, 24)
    oracle.books = oracle.empty_books()
    oracle.run(0, year.temperature.size)
    return oracle.books, simulate(house, year, hourly=True, imposed=imposed)


def require_agreement(books: Books, result: YearResult) -> None:
    """Require energy, loads and infiltration alike to 1e-6, and every hour nearly so."""
    hourly = result.hourly
    assert hourly is not None
    bought = hourly.bought.sum(axis=0) * 3600.0
    assert books.bought == pytest.approx(bought, rel=1e-6, abs=1e-6 * bought.max())
    load = max(result.heating_load, result.cooling_load)
    assert books.heating == pytest.approx(result.heating_load, rel=1e-6, abs=1e-6 * load)
    assert books.cooling == pytest.approx(result.cooling_load, rel=1e-6, abs=1e-6 * load)
    assert np.mean(books.infiltration) == pytest.approx(result.mean_infiltration, rel=1e-6)
    assert np.abs(np.array(books.temperature) - hourly.temperature).max() < 1e-3
    assert np.abs(np.array(books.humidity) - hourly.humidity_ratio).max() < 1e-6
    assert np.abs(np.array(books.infiltration) - hourly.infiltration).max() < 1e-5


CASES = {
    "ranch in winter": (ranch, JANUARY, 30),
    "ranch in summer": (ranch, JULY, 30),
    "boiler and fired flue": (with_boiler, JANUARY, 10),
    "one of everything in winter": (furnished, JANUARY, 10),
    "one of everything in spring": (furnished, 110, 10),
    "one of everything in summer": (furnished, JULY, 10),
}


@pytest.mark.parametrize("name", CASES)
def test_engine_is_the_equations(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Energy by use, loads and infiltration agree to 1e-6 with the plain solution."""
    make, first, days = CASES[name]
    require_agreement(*both(make(), weather(first, days), None, monkeypatch))


def test_imposed_values_are_the_equations(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same with a held crawlspace, metered heat and a metered fan."""
    year = weather(JANUARY, 10)
    require_agreement(*both(ranch(), year, measured(year), monkeypatch))


@pytest.mark.parametrize("number", [1, 3, 5, 10, 13, 16, 22, 33])
def test_random_houses_are_the_equations(number: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same for a few random houses, three days of April."""
    require_agreement(*both(numbered_house(number), weather(100, 3), None, monkeypatch))
