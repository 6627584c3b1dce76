"""Check the test room of ANSI/ASHRAE Standard 140 against the published reference results.

Denver 725650 TMY3 from the folder of public typical years; skipped where it is absent.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import pytest

from conftest import WEATHER
from engine.validation.checks import Check, confirm
from engine.validation.fabric_box import CASES
from engine.validation.fabric_ranges import (
    DAY_CHECKS,
    DELTA_CHECKS,
    LOAD_CHECKS,
    MONTH_CHECKS,
    MONTHS,
    QUANTITIES,
    READ,
    SOURCE,
    SUN_CHECKS,
    TEMPERATURE_CHECKS,
    TRACE_CHECKS,
)
from rooftree.engine import simulate
from rooftree.weather import parse_epw, plane_irradiance
from rooftree.weather.hours import MONTH_START, month_of_hour

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from rooftree.engine import YearResult
    from rooftree.engine.results import Hourly
    from rooftree.weather import WeatherYear

DENVER = WEATHER / "USA_CO_Denver.Intl.AP.725650_TMY3.epw"
PLANES = {"horizontal": (0.0, 0.0), "south": (90.0, 180.0), "west": (90.0, 270.0),
          "north": (90.0, 0.0)}  # fmt: skip

pytestmark = pytest.mark.skipif(not DENVER.exists(), reason="needs the Denver typical year")


@cache
def denver() -> WeatherYear:
    """Return the typical year, read once."""
    return parse_epw(DENVER.read_text())


@cache
def run(case: str) -> YearResult:
    """Return a case, run once."""
    return simulate(CASES[case], denver())


@cache
def hours_of(case: str) -> Hourly:
    """Return the hours of a case, run once."""
    kept = simulate(CASES[case], denver(), hourly=True).hourly
    assert kept is not None
    return kept


@cache
def sun_on(plane: str) -> NDArray[np.float64]:
    """Return the sun on a plane hour by hour [W/m²]."""
    sun = plane_irradiance(denver(), *PLANES[plane])
    return sun.beam + sun.sky + sun.ground


def four_numbers(case: str) -> dict[str, float]:
    """Return heat and cold of the year [MWh] and their peaks [kW]."""
    year = run(case)
    results = (
        year.heating_load / 3.6e9,
        year.cooling_load / 3.6e9,
        year.peak_heating / 1e3,
        year.peak_cooling / 1e3,
    )
    return {name: value for (name, _), value in zip(QUANTITIES, results, strict=True)}


@pytest.mark.published(source=SOURCE, where="tables B8-1 to B8-4", read=READ)
@pytest.mark.parametrize("check", LOAD_CHECKS, ids=str)
def test_loads_lie_among_the_programs(check: Check) -> None:
    """Heat and cold of the year and their peaks lie in the ranges, to their last digit."""
    confirm(check, four_numbers(check.case)[check.quantity])


@pytest.mark.published(source=SOURCE, where="table B8-5", read=READ)
@pytest.mark.parametrize("check", TEMPERATURE_CHECKS, ids=str)
def test_free_floating_temperatures_lie_among_the_programs(check: Check) -> None:
    """Without heating and cooling the room is as warm and as cold as in the programs."""
    year = run(check.case)
    results = {
        "largest": year.maximum_temperature,
        "least": year.minimum_temperature,
        "mean": year.mean_temperature,
    }
    confirm(check, float(results[check.quantity.split()[0]][0]) - 273.15)


@pytest.mark.published(source=SOURCE, where="tables B8-6 and B8-7", read=READ)
@pytest.mark.parametrize("check", DELTA_CHECKS, ids=str)
def test_changes_lie_among_the_programs(check: Check) -> None:
    """A change of the room changes heat, cold and peaks as much as in the programs."""
    case, base = check.case.split("-")
    one, other = four_numbers(case), four_numbers(base)
    confirm(check, one[check.quantity] - other[check.quantity])


@pytest.mark.published(source=SOURCE, where="tables B8-M1 and B8-M2", read=READ)
@pytest.mark.parametrize("check", MONTH_CHECKS, ids=str)
def test_months_lie_among_the_programs(check: Check) -> None:
    """In every month case 600 is heated and cooled as much as in the programs."""
    kind, _, month = check.quantity.partition(" of ")
    kept = hours_of(check.case)
    power = {"heat": kept.heating, "cold": kept.cooling}[kind][:, 0]
    confirm(check, float(power[month_of_hour() == MONTHS.index(month)].sum()) / 1e3)


@pytest.mark.published(source=SOURCE, where="hourly temperature, 1 February", read=READ)
@pytest.mark.parametrize("check", TRACE_CHECKS, ids=str)
def test_a_winter_day_lies_among_the_programs(check: Check) -> None:
    """The room without heating warms and cools through a day as in the programs."""
    hour = MONTH_START[1] + int(check.quantity.split()[-1]) - 1
    confirm(check, float(hours_of(check.case).temperature[hour, 0]) - 273.15)


@pytest.mark.published(source=SOURCE, where="tables B8-13 and B8-14", read=READ)
@pytest.mark.parametrize("check", SUN_CHECKS, ids=str)
def test_sun_of_the_year_lies_among_the_programs(check: Check) -> None:
    """As much sun as in the programs falls on the walls and passes the glass."""
    let_in = hours_of("600").sun[denver().global_horizontal > 0.0, 0].sum() / 12.0
    results = {
        "sun on the horizontal": sun_on("horizontal").sum() / 1e3,
        "sun on the south wall": sun_on("south").sum() / 1e3,
        "sun on the north wall": sun_on("north").sum() / 1e3,
        "sun through the south glass": let_in / 1e3,
        "sun through the south glass over sun on it": let_in / sun_on("south").sum(),
    }
    confirm(check, float(results[check.quantity]))


@pytest.mark.published(source=SOURCE, where="incident sun, 14 July", read=READ)
@pytest.mark.parametrize("check", DAY_CHECKS, ids=str)
def test_sun_of_a_clear_day_lies_among_the_programs(check: Check) -> None:
    """Hour by hour as much sun as in the programs falls on three planes."""
    _, plane, hour = check.quantity.split(", ")
    entry = MONTH_START[6] + 13 * 24 + int(hour.split()[-1]) - 1
    confirm(check, float(sun_on(plane)[entry]))


@pytest.mark.parametrize("case", CASES)
def test_heat_balance_closes(case: str) -> None:
    """No more than a millionth of the heat of the year is unaccounted for."""
    assert run(case).heat_balance_error < 1e-6


def test_sunspace_warms_the_room_behind_it() -> None:
    """Case 960 needs less heat than a room that has plain air where its sunspace is."""
    assert run("960").heating_load < run("430").heating_load
    assert run("960").mean_temperature[1] > run("600").mean_temperature[0]


@pytest.mark.parametrize(("shaded", "bare"), [("610", "600"), ("630", "620")])
def test_shade_costs_heat_and_saves_cold(shaded: str, bare: str) -> None:
    """Overhang and fins keep off sun that saves a little heat and costs much cold."""
    one, other = run(shaded), run(bare)
    more, less = (
        one.heating_load - other.heating_load,
        other.cooling_load - one.cooling_load,
    )
    assert 0.0 < more < 0.15 * other.heating_load
    assert less > 0.2 * other.cooling_load


def test_overhang_lets_the_winter_sun_in() -> None:
    """Of the sun on the south glass an overhang keeps off more in July than in December."""
    shaded, bare = hours_of("610").sun[:, 0], hours_of("600").sun[:, 0]
    left = [
        float(shaded[month_of_hour() == month].sum() / bare[month_of_hour() == month].sum())
        for month in (6, 11)
    ]
    assert left[0] < 0.7 < 0.9 < left[1]


def test_night_air_cools_without_heat() -> None:
    """Case 650 is never heated and needs less cold than case 600."""
    assert run("650").heating_load == 0.0
    assert run("650").cooling_load < run("600").cooling_load
