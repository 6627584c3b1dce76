"""Check degree days, climate zones and design conditions."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.weather import climate_zone, design_conditions
from rooftree.weather.climate import (
    Edition,
    cooling_degree_days,
    daily_means,
    heating_degree_days,
    thermal_zone,
)
from rooftree.weather.hours import DAYS_IN_MONTH

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.weather import WeatherYear

DENVER = "USA_CO_Denver.Intl.AP.725650_TMY3.epw"
MIAMI = "USA_FL_Miami.Intl.AP.722020_TMY3.epw"
CHICAGO = "USA_IL_Chicago-OHare.Intl.AP.725300_TMY3.epw"


def kelvin(fahrenheit: float) -> float:
    """Return a temperature in K."""
    return (fahrenheit - 32.0) / 1.8 + 273.15


@pytest.mark.parametrize(
    ("file", "hdd65", "cdd65", "hdd60"),
    [
        ("ColoradTMY-v5.0.epw", 6160, 478, 4832),
        ("DRYCOLDTMY.epw", 6248, 579, 4940),
        ("LasvegaTMY-v5.0.epw", 2471, 3089, 1643),
        (DENVER, 5784, 884, 4587),
        (MIAMI, 140, 4196, 36),
        (CHICAGO, 6325, 842, 5127),
    ],
)
def test_degree_days_of_known_years(
    shared_year: Callable[[str], WeatherYear], file: str, hdd65: int, cdd65: int, hdd60: int
) -> None:
    """Degree days that others computed from the same files come back, in whole °F·d.

    Needs ../shared/weather.
    """
    days = daily_means(shared_year(file).temperature)
    assert round(1.8 * heating_degree_days(days, kelvin(65.0))) == hdd65
    assert round(1.8 * cooling_degree_days(days, kelvin(65.0))) == cdd65
    assert round(1.8 * heating_degree_days(days, kelvin(60.0))) == hdd60


def test_degree_days_of_each_month(shared_year: Callable[[str], WeatherYear]) -> None:
    """Monthly heating degree days to 62 °F of Chicago, to a tenth. Needs ../shared/weather."""
    expected = [1189.3, 967.0, 716.6, 422.8, 140.8, 11.3, 0.0, 0.3, 38.5, 320.9, 647.4, 1135.7]
    days = daily_means(shared_year(CHICAGO).temperature)
    months = np.split(days, np.cumsum(DAYS_IN_MONTH)[:-1])
    found = [1.8 * heating_degree_days(month, kelvin(62.0)) for month in months]
    assert found == pytest.approx(expected, abs=0.051)


@given(st.lists(st.floats(230.0, 320.0), max_size=60), st.floats(270.0, 300.0))
def test_heating_less_cooling_degree_days_is_base_less_mean(days: list[float], base: float) -> None:
    """The difference of the two sums is the sum of base less temperature."""
    difference = heating_degree_days(days, base) - cooling_degree_days(days, base)
    assert difference == pytest.approx(sum(base - day for day in days), abs=1e-6)


@pytest.mark.published(
    source="ANSI/ASHRAE Standard 169-2006 and -2013, representative places of the zones",
    where="climate zone definitions", read="quoted in building-stock documentation",
)  # fmt: skip
@pytest.mark.parametrize("edition", ["2006", "2013"])
@pytest.mark.parametrize(("file", "zone"), [(MIAMI, "1A"), (CHICAGO, "5A")])
def test_representative_places_fall_in_their_zone(
    shared_year: Callable[[str], WeatherYear], file: str, zone: str, edition: Edition
) -> None:
    """Miami and Chicago come out as their zones represent. Needs ../shared/weather."""
    assert str(climate_zone(shared_year(file), edition=edition)) == zone


@pytest.mark.published(
    source="ANSI/ASHRAE Standard 169-2006, SI bounds", where="thermal zone definitions",
    read="quoted in building-stock documentation",
)  # fmt: skip
@pytest.mark.parametrize(
    ("cooling", "heating", "marine", "zone"),
    [
        (5000.1, 0, False, 1), (5000, 0, False, 2), (3500, 0, False, 3), (2500.1, 3000, False, 3),
        (2500, 1000, False, 4), (2500, 3000, False, 4), (2500, 2000, True, 3),
        (2500, 2000.1, True, 4), (2500, 3000.1, False, 5), (2500, 4000, False, 5),
        (2500, 4000.1, False, 6), (1000, 5000.1, False, 7), (1000, 7000, False, 7),
        (0, 7000.1, False, 8),
    ],
)  # fmt: skip
def test_bounds_of_the_2006_zones(cooling: float, heating: float, marine: bool, zone: int) -> None:
    """An upper bound belongs to the warmer zone."""
    assert thermal_zone(cooling, heating, marine=marine, edition="2006") == zone


@pytest.mark.published(
    source="ANSI/ASHRAE Standard 169-2013, SI bounds", where="thermal zone definitions",
    read="memory",
)  # fmt: skip
@pytest.mark.parametrize(
    ("cooling", "heating", "zone"),
    [
        (6000.1, 0, 0), (6000, 0, 1), (5000, 0, 2), (3500, 2000, 3), (3500, 2000.1, 4),
        (2000, 3000, 4), (2000, 3000.1, 5), (2000, 4000.1, 6), (1000, 5000.1, 7), (0, 7000.1, 8),
    ],
)  # fmt: skip
def test_bounds_of_the_2013_zones(cooling: float, heating: float, zone: int) -> None:
    """The later definition splits off zone 0 and moves zones 3 and 4."""
    assert thermal_zone(cooling, heating) == zone


@pytest.mark.parametrize(("centimetres", "letter"), [(33.9, "B"), (34.1, "A")])
def test_rain_parts_dry_from_moist(
    greensboro: WeatherYear, centimetres: float, letter: str
) -> None:
    """At a mean of 10 °C, a place with even rain is dry below 34.0 cm a year."""
    shift = 283.15 - greensboro.temperature.mean()
    year = replace(greensboro, temperature=greensboro.temperature + shift)
    zone = climate_zone(year, rain=np.full(12, centimetres / 1200.0))
    assert zone.moisture == letter
    assert not zone.moisture_estimated


def test_summer_rain_raises_the_bound(greensboro: WeatherYear) -> None:
    """With seven tenths of the rain in summer more of it is needed to count as moist."""
    shift = 283.15 - greensboro.temperature.mean()
    year = replace(greensboro, temperature=greensboro.temperature + shift)
    rain = np.zeros(12)
    rain[3:9] = 0.40 / 6.0
    assert climate_zone(year, rain=rain).moisture == "B"
    assert climate_zone(year, rain=rain, edition="2006").moisture == "A"


def test_mild_place_with_dry_summer_is_marine(greensboro: WeatherYear) -> None:
    """Mild months and a dry summer make a marine climate; even rain does not."""
    mild = 284.15 + 0.4 * (greensboro.temperature - greensboro.temperature.mean())
    year = replace(greensboro, temperature=mild, dew_point=np.minimum(greensboro.dew_point, mild))
    wet_winter = np.where(np.isin(np.arange(12), [3, 4, 5, 6, 7, 8]), 0.02, 0.15)
    assert climate_zone(year, rain=wet_winter).moisture == "C"
    assert climate_zone(year, rain=np.full(12, 0.1)).moisture == "A"


def test_zone_without_rain_says_that_its_letter_is_estimated(greensboro: WeatherYear) -> None:
    """Greensboro is zone 4A; the letter rests on the humidity of its air."""
    zone = climate_zone(greensboro)
    assert (str(zone), zone.moisture_estimated) == ("4A", True)


@pytest.mark.parametrize("rain", [[0.1] * 11, [0.1] * 11 + [-0.1]])
def test_rain_of_other_than_twelve_months_is_refused(
    greensboro: WeatherYear, rain: list[float]
) -> None:
    """Eleven months, or a negative month, are refused."""
    with pytest.raises(OutOfRangeError, match=r"^(months of rain is 11|rain of a month is -0\.1)"):
        climate_zone(greensboro, rain=rain)


def test_design_conditions_are_percentiles(greensboro: WeatherYear) -> None:
    """One hour in a hundred is colder than the heating, and hotter than the cooling, value."""
    design = design_conditions(greensboro)
    assert np.mean(greensboro.temperature < design.heating_temperature) <= 0.01
    assert np.mean(greensboro.temperature <= design.heating_temperature) >= 0.01
    assert np.mean(greensboro.temperature > design.cooling_temperature) <= 0.01
    assert np.mean(greensboro.temperature >= design.cooling_temperature) >= 0.01
    assert design.cooling_wet_bulb < design.cooling_temperature
    assert np.mean(greensboro.wind_speed > design.strong_wind) <= 0.01


def test_warmer_year_moves_design_temperatures_with_it(greensboro: WeatherYear) -> None:
    """Adding 2 K to every hour adds 2 K to both temperatures and leaves range and wind."""
    here = design_conditions(greensboro)
    there = design_conditions(replace(greensboro, temperature=greensboro.temperature + 2.0))
    assert there.heating_temperature == pytest.approx(here.heating_temperature + 2.0)
    assert there.cooling_temperature == pytest.approx(here.cooling_temperature + 2.0)
    assert there.daily_range == pytest.approx(here.daily_range)
    assert there.strong_wind == here.strong_wind
