"""Check the equilibrium of wood and the temperature correction of pin meters."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.wood_moisture import (
    pin_reading_at_20,
    wood_equilibria,
    wood_equilibrium,
)

ROWS = [
    # °F, then moisture content in percent at 20, 30, 50, 65, 80, 90, 95 % relative humidity
    (30, 4.6, 6.3, 9.5, 12.4, 16.5, 21.0, 24.3),
    (70, 4.5, 6.2, 9.2, 12.0, 16.0, 20.5, 23.9),
    (100, 4.2, 5.8, 8.7, 11.2, 15.1, 19.5, 22.9),
]


@pytest.mark.published(
    source="USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010)",
    where="Table 4-2, moisture content of wood in equilibrium with air",
    read="memory",
)
@pytest.mark.parametrize("row", ROWS)
def test_equilibrium_table(row: tuple[float, ...]) -> None:
    """The equation behind the table gives its cells to the last digit, 0.1 %."""
    kelvin = (row[0] - 32.0) / 1.8 + 273.15
    for humidity, percent in zip((0.2, 0.3, 0.5, 0.65, 0.8, 0.9, 0.95), row[1:], strict=True):
        assert 100.0 * wood_equilibrium(kelvin, humidity) == pytest.approx(percent, abs=0.11)


@given(st.floats(245.0, 370.0), st.floats(0.0, 0.98))
def test_wetter_air_makes_wetter_wood(temperature: float, humidity: float) -> None:
    """Moisture content rises with relative humidity at any temperature."""
    drier = wood_equilibrium(temperature, humidity)
    assert wood_equilibrium(temperature, humidity + 0.02) > drier


def test_dry_air_leaves_no_water() -> None:
    """In air without vapor wood holds none."""
    assert wood_equilibrium(293.15, 0.0) == 0.0


@given(st.floats(0.08, 0.3), st.floats(254.0, 330.0))
def test_colder_wood_was_wetter(reading: float, temperature: float) -> None:
    """The same reading means more water in colder wood."""
    assert pin_reading_at_20(reading, temperature) > pin_reading_at_20(reading, temperature + 2.0)


@pytest.mark.published(
    source="Electric moisture meters for wood, charts for resistance meters",
    where="a reading of 0.15 in wood at freezing is about 0.03 too low, at 100 °F about 0.02 high",
    read="memory",
)
def test_correction_has_the_size_of_the_charts() -> None:
    """Within one point of moisture content of what such charts show."""
    assert pin_reading_at_20(0.15, 273.15) - 0.15 == pytest.approx(0.03, abs=0.01)
    assert pin_reading_at_20(0.15, 311.0) - 0.15 == pytest.approx(-0.02, abs=0.01)
    assert pin_reading_at_20(0.15, 295.15) == pytest.approx(0.15, abs=0.005)


def test_out_of_range_is_refused() -> None:
    """Temperatures and humidities outside the equations are refused by name."""
    with pytest.raises(OutOfRangeError, match=r"^temperature is 200 K; .* 243\.15 to 373\.15 K$"):
        wood_equilibrium(200.0, 0.5)
    with pytest.raises(OutOfRangeError, match=r"^relative humidity is 1\.5 .* 0 to 1 \[0-1\]$"):
        wood_equilibrium(293.0, 1.5)
    with pytest.raises(OutOfRangeError, match=r"^wood temperature is 400 K; .* 333\.15 K$"):
        pin_reading_at_20(0.1, 400.0)


def test_many_at_once_are_clipped_to_the_range() -> None:
    """Beyond the range many at once are as at its end, where one alone is refused."""
    assert (
        wood_equilibria([200.0, 243.15], [1.2, 1.0]).tolist() == [wood_equilibrium(243.15, 1.0)] * 2
    )
