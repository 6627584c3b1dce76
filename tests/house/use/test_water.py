"""Check hot water against the equations as recalled, and against what mixing must do."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.weather_years import even_year
from rooftree.errors import OutOfRangeError
from rooftree.house.use.ip import BTU, GALLON, GALLON_A_DAY, RANKINE, kelvin
from rooftree.house.use.water import (
    AT_THE_TAP,
    HEAT_OF_WATER,
    STORED,
    hot_share,
    hot_water_heat,
    hot_water_months,
    hot_water_volume,
    mains_of_year,
    mains_temperature,
    reference_draw,
)
from rooftree.weather import WeatherYear, parse_tmy3
from rooftree.weather.hours import DAYS_IN_MONTH

by_301 = pytest.mark.published(
    source="ANSI/RESNET/ICC 301-2014, Addendum A",
    where="hot-water use of the reference home, three bedrooms",
    read="memory",
)


@cache
def greensboro() -> WeatherYear:
    """Return the typical year that comes with the package pvlib."""
    return parse_tmy3((files("pvlib") / "data" / "723170TYA.CSV").read_text())


@by_301
def test_draw_of_three_bedrooms() -> None:
    """Fixtures, waste and both machines come out as in the recalled example, in gallons."""
    draw = reference_draw(3)
    found = [draw.fixtures, draw.waste, draw.dishwasher, draw.clothes_washer]
    assert np.divide(found, GALLON_A_DAY) == pytest.approx([44.6, 15.718, 4.317, 3.889], abs=0.002)


@by_301
def test_share_of_hot_water_at_the_tap() -> None:
    """Water of 105 °F out of 125 °F and 60 °F is hot to nine thirteenths."""
    assert float(hot_share(kelvin(60.0))) == pytest.approx(0.69231, abs=2e-5)


@by_301
@pytest.mark.parametrize(("mains", "gallons"), [(60.0, 49.96), (58.0, 50.52)])
def test_hot_water_of_three_bedrooms(mains: float, gallons: float) -> None:
    """The whole draw is that of the recalled example, and grows as the mains cool."""
    volume = float(hot_water_volume(reference_draw(3), kelvin(mains)))
    assert volume / GALLON_A_DAY == pytest.approx(gallons, abs=0.01)


@by_301
def test_heat_of_a_year() -> None:
    """A year of 49.96 gallons a day warmed by 65 °F takes 9.84 million Btu."""
    heat = HEAT_OF_WATER * 49.96 * GALLON * 65.0 * RANKINE * 365.0
    assert heat / BTU / 1e6 == pytest.approx(9.84, abs=0.02)


@pytest.mark.published(
    source="J. Burch, C. Christensen, Solar 2007",
    where="mains water temperature: offset, ratio and lag",
    read="memory",
)
def test_mains_swing_by_ratio_after_lag() -> None:
    """At a mean of 54 °F the water swings by half as much as the air, 25 days later."""
    day = np.arange(1, 366)
    water = mains_temperature(kelvin(54.0), 40.0 * RANKINE, day)
    assert water.mean() == pytest.approx(kelvin(60.0), abs=0.02)
    assert float(np.ptp(water)) == pytest.approx(0.5 * 40.0 * RANKINE, rel=1e-3)
    assert day[np.argmin(water)] == 15 + 25
    assert float(mains_temperature(kelvin(54.0), 40.0 * RANKINE, 40)) == pytest.approx(kelvin(50.0))


def test_south_is_half_a_year_away() -> None:
    """In the south the water is coldest when it is warmest in the north."""
    north, south = (
        mains_temperature(285.0, 15.0, np.arange(1, 366), is_southern=there)
        for there in (False, True)
    )
    assert north + south == pytest.approx(np.full(365, 2.0 * north.mean()), abs=0.1)


def test_water_does_not_freeze() -> None:
    """In a cold climate the mains stay above freezing."""
    assert mains_temperature(262.0, 45.0, np.arange(1, 366)).min() == 273.15


def test_months_follow_the_mains() -> None:
    """Cold mains take more heat, and the months weighed by their days have a mean of one."""
    months = hot_water_months(reference_draw(3), greensboro())
    assert np.average(months, weights=DAYS_IN_MONTH) == pytest.approx(1.0)
    assert months.argmax() in (0, 1)
    assert months.argmin() in (6, 7)
    mains = mains_of_year(greensboro())
    assert mains.shape == (365,)
    heat = hot_water_heat(reference_draw(3), greensboro())
    assert months[3] * np.average(heat, weights=DAYS_IN_MONTH) == pytest.approx(heat[3])


def test_a_climate_without_seasons_has_even_months() -> None:
    """Where the weather never changes every month takes the same."""
    assert hot_water_months(reference_draw(2), even_year(290.0)) == pytest.approx(np.ones(12))


@given(st.floats(274.0, 300.0), st.floats(320.0, 340.0))
def test_mixing_balances_heat(mains: float, stored: float) -> None:
    """Hot and cold water together have the heat of the water at the tap."""
    hot = float(hot_share(mains, stored))
    assert hot * stored + (1.0 - hot) * mains == pytest.approx(max(AT_THE_TAP, 0.0))


@given(st.integers(0, 7))
def test_more_bedrooms_draw_more(bedrooms: int) -> None:
    """Every part of the draw grows with the bedrooms."""
    fewer, more = reference_draw(bedrooms), reference_draw(bedrooms + 1)
    for part in ("fixtures", "waste", "dishwasher", "clothes_washer"):
        assert getattr(more, part) > getattr(fewer, part)


def test_water_stored_cool_is_used_as_it_is() -> None:
    """Where hot water is no hotter than it is used, none is mixed."""
    assert float(hot_share(290.0, stored=AT_THE_TAP)) == 1.0
    assert STORED > AT_THE_TAP


def test_mains_warmer_than_the_tap_are_refused() -> None:
    """Cold water must be colder than what is used."""
    with pytest.raises(OutOfRangeError, match=r"^mains is 330 K; the method covers 0 to 313\.7"):
        hot_share(330.0)
    with pytest.raises(OutOfRangeError, match=r"^bedrooms is -1 rooms; the method covers 0 to inf"):
        reference_draw(-1)
    with pytest.raises(OutOfRangeError, match=r"^mean is 350 K; the method covers 250 to 305 K$"):
        mains_temperature(350.0, 10.0, 1)
