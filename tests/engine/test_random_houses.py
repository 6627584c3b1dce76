"""Whatever legal house is drawn, heat, air and vapor balance and nothing runs away."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

import numpy as np
from hypothesis import given, settings

from engine.random_houses import numbered_house, numbers
from engine.weather_years import first_days
from many_houses import main, run_houses
from rooftree.engine import simulate
from rooftree.house import SpaceKind
from rooftree.house.sound import require_sound
from rooftree.weather import parse_tmy3

if TYPE_CHECKING:
    import pytest

    from rooftree.weather import WeatherYear

BOILING = 373.15
"""Where the vapor pressure of water reaches that of the air [K]: no house is meant beyond."""


@cache
def january() -> WeatherYear:
    """Return the first 30 days of the typical year that comes with the package pvlib."""
    year = parse_tmy3((files("pvlib") / "data" / "723170TYA.CSV").read_text())
    return first_days(year, 30)


@given(numbers)
def test_random_houses_are_legal(number: int) -> None:
    """The generator draws only what the model allows."""
    require_sound(numbered_house(number))


def test_the_same_number_is_the_same_house() -> None:
    """A house can be drawn again, to look at what went wrong in it."""
    assert numbered_house(7) == numbered_house(7)
    assert numbered_house(7) != numbered_house(8)


def test_draws_reach_over_the_model() -> None:
    """Among 300 houses is every kind of space and machine, few and many spaces, R-1 to R-100."""
    drawn = [numbered_house(number) for number in range(300)]
    assert {space.kind for house in drawn for space in house.spaces} == set(SpaceKind)
    living = {len(house.living_spaces) for house in drawn}
    assert {1, 8} <= living
    assert {0, 6} <= {len(house.spaces) - len(house.living_spaces) for house in drawn}
    heating = {house.heating.kind for house in drawn if house.heating}
    assert heating == {"furnace", "boiler", "heat pump", "resistance", "ideal"}
    resistances = [
        sum(layer.resistance for layer in surface.layers)
        for house in drawn
        for surface in house.surfaces
    ]
    assert min(resistances) < 0.2
    assert max(resistances) > 16.0
    assert any(house.use.open_window_area for house in drawn)
    assert any(leak.fired_by for house in drawn for leak in house.leaks)
    assert any(house.room_units for house in drawn)


@settings(max_examples=25)
@given(numbers)
def test_random_houses_balance(number: int) -> None:
    """Over a month: heat to 1e-6 of what passed, vapor likewise, air to a milligram a second."""
    year = simulate(numbered_house(number), january(), hourly=True)
    hourly = year.hourly
    assert hourly is not None
    for name in ("temperature", "humidity_ratio", "pressure", "leak_flow", "heating", "cooling",
                 "infiltration", "runtime", "face_inside", "face_outside"):  # fmt: skip
        assert np.isfinite(getattr(hourly, name)).all(), name
    if float(year.maximum_temperature.max()) < BOILING:
        assert year.heat_balance_error < 1e-6
        assert year.vapor_balance_error < 1e-6
        assert year.mass_residual <= 1e-6
        assert hourly.humidity_ratio.min() > 0.0
    assert np.all((hourly.runtime >= 0.0) & (hourly.runtime <= 1.0))
    assert np.all(hourly.heating >= 0.0)
    assert np.all(hourly.cooling >= 0.0)


def test_tool_shows_the_worst(capsys: pytest.CaptureFixture[str]) -> None:
    """The tool runs houses by number and lists what is left over."""
    assert main(["3", "--days", "2", "--first", "11", "--workers", "1"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("3 random houses, 2 days each: 3 balance, 0 do not")
    assert "worst vapor [-]: " in said
    assert run_houses([11], 2)[0].is_good


def test_an_absurd_first_guess_is_forgotten() -> None:
    """A room of less than a cubic metre that ducts blow into is guessed below zero kelvin.

    That is the balance of heat before any air has moved; the year runs and balances.
    """
    result = simulate(numbered_house(1269), first_days(january(), 5))
    assert result.heat_balance_error < 1e-9
    assert result.minimum_temperature.min() > 200.0
