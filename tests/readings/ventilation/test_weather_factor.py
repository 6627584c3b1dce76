"""Check the effective air change and the computed weather-and-shielding factor."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pvlib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.readings.ventilation import (
    ReferenceHouse,
    effective_air_change,
    weather_shielding_factor,
)
from rooftree.weather import parse_any
from rooftree.weather.year import HOURS, WeatherYear


def steady_year(celsius: float, wind: float) -> WeatherYear:
    """Return a year in which only temperature and wind matter, and never change."""
    same = np.full(HOURS, 0.0)
    return WeatherYear(
        name="steady", source="invented", latitude=36.0, longitude=-80.0, utc_offset=-5.0,
        elevation=0.0, temperature=same + celsius + 273.15, dew_point=same + 273.15,
        pressure=same + 101_325.0, humidity_ratio=same, wind_speed=same + wind,
        wind_direction=same, global_horizontal=same, direct_normal=same,
        diffuse_horizontal=same, sky_temperature=same, ground_temperature=same,
        sun_altitude=same, sun_azimuth=same,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("air_changes", "effective"),
    [([0.2, 0.8], 0.492786), ([0.2] * 12 + [0.8] * 12, 0.384726)],
)
def test_effective_air_change_by_hand(air_changes: list[float], effective: float) -> None:
    """Alternating each hour, and each half day, in the cyclic steady state, to 1e-5."""
    assert effective_air_change(air_changes) == pytest.approx(effective, abs=1e-5)


@given(st.floats(0.01, 5.0), st.integers(1, 50))
def test_steady_air_change_is_its_own_effect(rate: float, hours: int) -> None:
    """Without change the effective air change is the air change."""
    assert effective_air_change([rate] * hours) == pytest.approx(rate)


@given(st.lists(st.floats(0.05, 3.0), min_size=2, max_size=40))
def test_effective_lies_between_harmonic_and_arithmetic_mean(rates: list[float]) -> None:
    """Swings cost dilution, and never more than if each hour stood alone."""
    effective = effective_air_change(rates)
    harmonic = len(rates) / sum(1.0 / rate for rate in rates)
    assert harmonic * 0.98 <= effective <= sum(rates) / len(rates) * (1.0 + 1e-9)


def test_still_hours_are_taken() -> None:
    """An hour without any air change lets things pile up, and nothing breaks."""
    assert 0.0 < effective_air_change([0, 1]) < 0.5


@pytest.mark.parametrize("rates", [[0.0, 0.0], [-0.1, 0.2]])
def test_no_air_at_all_is_refused(rates: list[float]) -> None:
    """A house that never changes its air has no effective rate."""
    with pytest.raises(OutOfRangeError, match=r"^air_changes is .* 1/h, not all zero$"):
        effective_air_change(rates)


def test_factor_of_a_steady_year_by_hand() -> None:
    """At 0 °C and 4 m/s the factor is the house's own air change over its leakage."""
    house = ReferenceHouse(shelter=0.7)
    result = weather_shielding_factor(steady_year(0.0, 4.0), house)
    # 0.0750 m² of leakage is 0.0764967 m³/(s·Paⁿ); stack and wind of AIM-2 at 1.2923 kg/m³.
    coefficient = 0.075 * (2.0 / 1.2) ** 0.5 * 4.0 ** (0.5 - 0.67)
    density = 101_325.0 / (287.055 * 273.15)
    stack = coefficient * 0.251214 * (density * 9.81 * 2.5 * 20.0 / 293.15) ** 0.67
    wind = coefficient * 0.221113 * (0.5 * density * (0.7 * 1.93187) ** 2) ** 0.67
    power, cross = 1.0 / 0.67, (stack * wind) ** (0.5 / 0.67) / 3.0
    flow = (stack**power + wind**power - cross) ** 0.67
    assert result.value == pytest.approx(1.44 * 1000.0 * flow / (0.5 * 150.0), rel=1e-4)
    assert result.effective == pytest.approx(result.mean)


def test_factor_says_that_it_is_computed() -> None:
    """The words that go with the value name every assumption and what is not available."""
    says = weather_shielding_factor(steady_year(0.0, 4.0)).says
    assert says.startswith("computed for an assumed house: one storey of 2.5 m on a slab")
    assert "not available" in says


def test_harsher_weather_gives_a_larger_factor() -> None:
    """Cold and wind raise the factor; shelter lowers it."""
    mild = weather_shielding_factor(steady_year(10.0, 3.0)).value
    assert weather_shielding_factor(steady_year(-10.0, 3.0)).value > mild
    assert weather_shielding_factor(steady_year(10.0, 6.0)).value > mild
    hidden = weather_shielding_factor(steady_year(10.0, 3.0), ReferenceHouse(shelter=0.3))
    assert hidden.value < mild


def test_leakage_of_the_reference_house_matters_little() -> None:
    """A factor is of the place: twice the leakage changes it by less than a twentieth."""
    year = steady_year(5.0, 4.0)
    swing = np.where(np.arange(HOURS) % 24 < 12, 1.0, 0.2)
    year = replace(year, wind_speed=year.wind_speed * swing)
    tight, leaky = (
        weather_shielding_factor(year, ReferenceHouse(normalized_leakage=leakage)).value
        for leakage in (0.5, 1.0)
    )
    assert leaky == pytest.approx(tight, rel=0.05)


def test_greensboro_lies_where_houses_lie() -> None:
    """For the embedded year the factor stays between tight and open shelter."""
    shipped = Path(pvlib.__file__).with_name("data") / "723170TYA.CSV"
    year = parse_any(shipped.read_text())
    hidden, plain, bare = (
        weather_shielding_factor(year, ReferenceHouse(shelter=shelter)).value
        for shelter in (0.3, 0.7, 1.0)
    )
    assert hidden < plain < bare
    assert plain == pytest.approx(0.32, abs=0.01)
