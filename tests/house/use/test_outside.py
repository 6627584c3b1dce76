"""Check what is used beside the house against the work of lifting and steady losses."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.weather_years import even_year
from rooftree.errors import HouseError, OutOfRangeError
from rooftree.house import Fuel
from rooftree.house.use import electric_vehicle, pool_pump, power_item, water_heating, well_pump
from rooftree.house.use.ip import BTU, GALLON_A_DAY, HOUR, KWH, RANKINE, SQUARE_FOOT, THERM, YEAR
from rooftree.house.use.outside import pumping_power, water_surface_loss


def test_lifting_takes_its_work() -> None:
    """A litre a second lifted by ten metres without loss takes 98 watts."""
    assert pumping_power(1e-3, 10.0, 1.0) == pytest.approx(998.0 * 9.80665 * 1e-2)


@given(st.floats(20.0, 120.0), st.floats(2.0, 24.0))
def test_the_same_turnover_takes_the_same_work(volume: float, hours: float) -> None:
    """At the same head it does not matter how long the pump takes, and months count."""
    slow, quick = (pool_pump(volume, hours_a_day=h).electricity for h in (hours, 1.0))
    assert slow == pytest.approx(quick)
    assert pool_pump(volume, months=6.0).electricity == pytest.approx(0.5 * quick)


def test_well_pump_lifts_what_is_drawn() -> None:
    """200 gallons a day out of 60 m take about 45 kWh a year for the lift alone."""
    lifted = 200.0 * 3.785411784e-3 * 365.0 * 998.0 * 9.80665 * 60.0
    item = well_pump(200.0 * GALLON_A_DAY, 60.0, efficiency=1.0)
    assert item.electricity == pytest.approx(lifted)
    assert item.sensible == 0.0


@pytest.mark.published(
    source="ASHRAE Handbook - HVAC Applications, service water heating",
    where="loss of a pool's surface 10.5 Btu/(h·ft²·°F)",
    read="memory",
)
def test_open_water_loses_to_the_air() -> None:
    """A pool of 400 ft² that is 10 °F warmer than the air loses 42,000 Btu/h."""
    loss = water_surface_loss(400.0 * SQUARE_FOOT, 300.0 + 10.0 * RANKINE, 300.0)
    assert loss / (BTU / HOUR) == pytest.approx(42000.0)
    assert water_surface_loss(10.0, 300.0, 310.0) == 0.0
    windy = water_surface_loss(400.0 * SQUARE_FOOT, 300.0 + 10.0 * RANKINE, 300.0, exposure="windy")
    assert windy == pytest.approx(2.0 * loss)


def test_pool_in_even_weather() -> None:
    """In weather that never changes a heater makes up the steady loss; a cover lessens it."""
    year = even_year(290.0)
    heater = water_heating("pool heater", year, area=30.0, water=300.0, efficiency=0.8)
    assert heater.gas == pytest.approx(water_surface_loss(30.0, 300.0, 290.0) / 0.8 * YEAR)
    assert heater.gas / THERM > 1000.0
    part = water_heating(
        "spa", year, area=30.0, water=300.0, efficiency=1.0, fuel=Fuel.ELECTRICITY,
        months=(6, 7, 8), open_share=0.1,
    )  # fmt: skip
    assert part.electricity == pytest.approx(0.8 * 0.1 * heater.gas * 92.0 / 365.0)
    assert part.gas == 0.0


def test_vehicle_draws_what_it_consumes() -> None:
    """Ten thousand miles at 250 Wh a mile take 2,778 kWh through a charger of 90 %."""
    mile = 1609.344
    item = electric_vehicle(1e4 * mile, 250.0 * 3600.0 / mile)
    assert item.electricity / KWH == pytest.approx(2777.8, abs=0.1)


def test_power_and_hours() -> None:
    """100 W for half of each day in half the year, outside: no heat within."""
    item = power_item("pump", 100.0, 12.0, months=6.0)
    assert item.electricity / KWH == pytest.approx(0.1 * 12.0 * 365.0 / 2.0)
    assert item.sensible == 0.0


def test_what_cannot_be_is_refused() -> None:
    """Numbers out of range and words that are not known name what would do."""
    with pytest.raises(OutOfRangeError, match=r"^hours_a_day is 25 h; the method covers 0 to 24 h"):
        power_item("pump", 100.0, 25.0)
    with pytest.raises(OutOfRangeError, match=r"^efficiency is 0 -; the method covers 0\.01 to 1"):
        pumping_power(1e-3, 10.0, 0.0)
    with pytest.raises(HouseError, match=r"^exposure is stormy; use one of sheltered, ordinary"):
        water_surface_loss(1.0, 300.0, 290.0, exposure="stormy")
    with pytest.raises(HouseError, match=r"^spa burns wood; use electricity or natural gas$"):
        water_heating("spa", even_year(), area=5.0, water=310.0, efficiency=1.0, fuel=Fuel.WOOD)
