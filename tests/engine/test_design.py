"""Check design loads."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from engine.validation.fabric_box import THICK_WALL, box
from engine.ranch import BEDS, BONUS, MAIN, ranch
from engine.test_simulate import greensboro
from engine.weather_years import even_year
from rooftree.engine import simulate
from rooftree.engine.design import design_loads


def test_rooms_add_up_to_the_house() -> None:
    """In steady cold the rooms' loads are the house's; in the heat each peaks on its own."""
    loads = design_loads(ranch(), greensboro())
    assert set(loads.heating_by_space) == {MAIN, BEDS, BONUS}
    assert sum(loads.heating_by_space.values()) == pytest.approx(loads.heating)
    assert sum(loads.cooling_by_space.values()) >= loads.cooling - 1e-6


def test_design_temperatures_are_those_of_the_year() -> None:
    """One hour in a hundred is colder, one in a hundred is hotter."""
    loads, temperature = design_loads(ranch(), greensboro()), greensboro().temperature
    assert np.mean(temperature < loads.heating_temperature) <= 0.01
    assert np.mean(temperature > loads.cooling_temperature) <= 0.01


def test_steady_weather_gives_the_steady_load() -> None:
    """Where the weather never changes the design load is the mean load of the year."""
    room = box(windows={}, gain=0.0)
    year = even_year(263.15)
    mean = simulate(room, year).heating_load / (8760 * 3600)
    assert design_loads(room, year).heating == pytest.approx(mean, rel=1e-4)


def test_insulation_lowers_the_load() -> None:
    """Thicker walls need less heat on the cold day."""
    plain, thick = box(), box(wall=THICK_WALL)
    year = greensboro()
    assert design_loads(thick, year).heating < design_loads(plain, year).heating


def test_gains_do_not_help_on_the_cold_day() -> None:
    """People and lamps are left out of the heating load and counted in the cooling load."""
    year, quiet, busy = greensboro(), box(gain=0.0), box(gain=1000.0)
    assert design_loads(busy, year).heating == pytest.approx(design_loads(quiet, year).heating)
    assert design_loads(busy, year).cooling > design_loads(quiet, year).cooling


def test_the_system_does_not_matter() -> None:
    """Loads are those of the rooms, whatever heats and cools them now."""
    year = greensboro()
    bare = replace(ranch(), heating=None, cooling=None)
    assert design_loads(bare, year).heating == pytest.approx(design_loads(ranch(), year).heating)
