"""Check the test room of ANSI/ASHRAE Standard 140-2011 against its example results.

The older typical year of Denver from the folder of public typical years; skipped where it is
absent.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest

from conftest import WEATHER
from engine.validation.checks import Check, confirm
from engine.validation.fabric_ranges import QUANTITIES
from engine.validation.older_room import CASES, LOAD_CHECKS, READ, SOURCE, TEMPERATURE_CHECKS
from rooftree.engine import simulate
from rooftree.weather import parse_epw

if TYPE_CHECKING:
    from rooftree.engine import YearResult
    from rooftree.weather import WeatherYear

STAPLETON = WEATHER / "DRYCOLDTMY.epw"
GROUND_TEMPERATURE = 283.15

pytestmark = pytest.mark.skipif(not STAPLETON.exists(), reason="needs the older Denver year")


@cache
def stapleton() -> WeatherYear:
    """Return the typical year over ground that is at 10 °C all year."""
    year = parse_epw(STAPLETON.read_text())
    return replace(year, ground_temperature=np.full(year.temperature.size, GROUND_TEMPERATURE))


@cache
def run(case: str) -> YearResult:
    """Return a case, run once."""
    return simulate(CASES[case], stapleton())


@pytest.mark.published(source=SOURCE, where="annual and peak loads", read=READ)
@pytest.mark.parametrize("check", LOAD_CHECKS, ids=str)
def test_loads_lie_among_the_older_programs(check: Check) -> None:
    """Heat and cold of the year and their peaks lie in the ranges, to their last digit."""
    year = run(check.case)
    results = (
        year.heating_load / 3.6e9,
        year.cooling_load / 3.6e9,
        year.peak_heating / 1e3,
        year.peak_cooling / 1e3,
    )
    confirm(check, results[[name for name, _ in QUANTITIES].index(check.quantity)])


@pytest.mark.published(source=SOURCE, where="free-floating temperatures", read=READ)
@pytest.mark.parametrize("check", TEMPERATURE_CHECKS, ids=str)
def test_temperatures_lie_among_the_older_programs(check: Check) -> None:
    """Without heating and cooling the room is as warm and as cold as in the programs."""
    year = run(check.case)
    results = {
        "largest": year.maximum_temperature,
        "least": year.minimum_temperature,
        "mean": year.mean_temperature,
    }
    confirm(check, float(results[check.quantity.split()[0]][0]) - 273.15)
