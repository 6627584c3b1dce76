"""Check what the section shows against the simulated year that it is taken from."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pvlib
import pytest

from job.jobs import small_house
from rooftree.engine import simulate
from rooftree.house import OUTDOORS, House
from rooftree.papers.section import breathing_sentence, draw_section, state_at, state_over_year
from rooftree.units import DisplaySystem
from rooftree.weather import parse_any

if TYPE_CHECKING:
    from rooftree.engine.results import YearResult
    from rooftree.weather.year import WeatherYear

COLD_NIGHT = 24 * 12 + 5


@pytest.fixture(scope="module")
def weather() -> WeatherYear:
    """Return the typical year of Greensboro that pvlib carries."""
    path = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
    return parse_any(path.read_text(encoding="utf-8", errors="replace"), path.name)


@pytest.fixture(scope="module")
def house() -> House:
    """Return the small house."""
    return small_house()


@pytest.fixture(scope="module")
def year(house: House, weather: WeatherYear) -> YearResult:
    """Return its year, with every hour."""
    return simulate(house, weather, hourly=True)


def test_an_hour_shows_that_hour(house: House, year: YearResult, weather: WeatherYear) -> None:
    """Temperatures and weather are those of the hour asked for."""
    state = state_at(house, year, weather, COLD_NIGHT)
    assert year.hourly is not None
    for k, key in enumerate(year.space_ids):
        assert state.temperature[key] == pytest.approx(year.hourly.temperature[COLD_NIGHT, k])
    assert state.outdoor_temperature == pytest.approx(weather.temperature[COLD_NIGHT])
    assert state.when == "5 a.m. on 13 January"


@pytest.mark.parametrize(
    ("hour", "words"),
    [(0, "12 a.m. on 1 January"), (12, "12 p.m. on 1 January"), (8759, "11 p.m. on 31 December"),
     (24 * 59, "12 a.m. on 1 March")],
)  # fmt: skip
def test_hours_of_the_year_are_told_as_clocks_do(
    house: House, year: YearResult, weather: WeatherYear, hour: int, words: str
) -> None:
    """Midnight and noon are twelve; there is no 29 February."""
    assert state_at(house, year, weather, hour).when == words


def test_mean_of_the_year_is_the_mean_of_its_hours(
    house: House, year: YearResult, weather: WeatherYear
) -> None:
    """The whole year averages every hour."""
    state = state_over_year(house, year, weather)
    for k, key in enumerate(year.space_ids):
        assert state.temperature[key] == pytest.approx(year.mean_temperature[k], abs=1e-6)
    assert state.when == "Mean of the year"


def test_months_average_to_the_year(house: House, year: YearResult, weather: WeatherYear) -> None:
    """Twelve months, each by its length, make the year; so do their flows."""
    days = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    months = [state_over_year(house, year, weather, (m,)) for m in range(1, 13)]
    whole = state_over_year(house, year, weather)
    mean = np.average([month.temperature["main"] for month in months], weights=days)
    assert mean == pytest.approx(whole.temperature["main"])
    for ends, amount in whole.flow.items():
        flow = np.average([month.flow[ends] for month in months], weights=days)
        assert flow == pytest.approx(amount, rel=1e-9, abs=1e-12)


def test_months_are_named_in_a_sentence(
    house: House, year: YearResult, weather: WeatherYear
) -> None:
    """A season reads as people say it."""
    when = state_over_year(house, year, weather, (12, 1, 2)).when
    assert when == "Mean of December, January and February"
    assert state_over_year(house, year, weather, (7,)).when == "Mean of July"


def test_air_flows_balance_in_every_buffer_space(house: House, weather: WeatherYear) -> None:
    """A buffer space without fans or ducts passes on what it takes in."""
    bare = replace(house, ducts=(), air_handler=None, heating=None, cooling=None, fans=())
    result = simulate(bare, weather, hourly=True)
    flow = state_over_year(bare, result, weather, (1,)).flow
    for space in ("attic", "crawl"):
        enters = sum(amount for (_, target), amount in flow.items() if target == space)
        leaves = sum(amount for (source, _), amount in flow.items() if source == space)
        assert enters == pytest.approx(leaves, rel=1e-4)


def test_neutral_level_lies_between_the_openings_in_the_cold(
    house: House, year: YearResult, weather: WeatherYear
) -> None:
    """With leaks at floor and ceiling the level is somewhere near the house."""
    state = state_over_year(house, year, weather, (1,))
    assert state.neutral_level is not None
    assert -2.0 < state.neutral_level < 8.0


def test_no_neutral_level_without_a_difference(
    house: House, year: YearResult, weather: WeatherYear
) -> None:
    """Where indoors is as warm as outdoors a level would be a guess."""
    assert year.hourly is not None
    mild = int(np.argmin(np.abs(year.hourly.temperature[:, 0] - weather.temperature)))
    assert state_at(house, year, weather, mild).neutral_level is None


def test_a_year_without_its_hours_is_refused(
    house: House, year: YearResult, weather: WeatherYear
) -> None:
    """The section cannot be drawn from sums."""
    with pytest.raises(
        ValueError, match=r"^the section needs a year that was simulated with its hours kept$"
    ):
        state_at(house, replace(year, hourly=None), weather, 0)


@pytest.mark.parametrize("hour", [0, COLD_NIGHT, 4500, 8759])
def test_every_hour_can_be_drawn(
    house: House, year: YearResult, weather: WeatherYear, hour: int
) -> None:
    """First, last, cold and hot hours all make a drawing."""
    state = state_at(house, year, weather, hour)
    assert draw_section(house, state, system=DisplaySystem.SI).startswith("<svg")


@pytest.mark.parametrize(
    ("crawl", "attic", "outdoors", "sentence"),
    [
        (0.05, 0.0, 0.05, "Half of the air that leaks in comes through the crawlspace"),
        (0.06, 0.03, 0.01,
         "Nearly all of the air that leaks in comes through the crawlspace and the attic"),
        (0.0, 0.0, 0.1, "Nearly all of the air that enters comes straight from outdoors"),
        (0.0, 0.0, 0.0, "Nearly all of the air that enters comes straight from outdoors"),
        (0.02, 0.0, 0.08, "A fifth of the air that leaks in comes through the crawlspace"),
        (0.003, 0.03, 0.067, "A third of the air that leaks in comes through the attic"),
    ],
)  # fmt: skip
def test_the_sentence_tells_where_the_air_comes_from(
    house: House, crawl: float, attic: float, outdoors: float, sentence: str
) -> None:
    """Shares in plain words; spaces that give hardly anything are not named."""
    flow = {
        ("crawl", "main"): crawl,
        ("attic", "main"): attic,
        (OUTDOORS, "main"): outdoors,
        ("main", "attic"): 0.5,
    }
    assert breathing_sentence(house, flow) == sentence


def test_only_what_the_headline_names_counts_in_its_share(house: House) -> None:
    """Four buffers of an eighth each: two are named, and they bring a quarter of the air."""
    attic = house.space("attic")
    sources = [f"attic {k}" for k in range(4)]
    wide = replace(house, spaces=(*house.spaces, *(replace(attic, id=one) for one in sources)))
    flow = {(OUTDOORS, "main"): 4.0} | {(source, "main"): 1.0 for source in sources}
    said = breathing_sentence(wide, flow)
    assert said == "A quarter of the air that leaks in comes through the attic"
    few = {(OUTDOORS, "main"): 84.0} | {(source, "main"): 4.0 for source in sources}
    assert breathing_sentence(wide, few).startswith("Most of the air that enters comes straight")
