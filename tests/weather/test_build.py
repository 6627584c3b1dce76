"""Check the making of a year of weather out of columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from rooftree.errors import OutOfRangeError, WeatherError
from rooftree.weather import weather_year
from rooftree.weather.sun import hourly_sun, sun_position

if TYPE_CHECKING:
    from rooftree.weather import WeatherYear


def build(**changes: object) -> WeatherYear:
    """Return a year of the same hour, 8760 times, with some columns changed."""
    columns: dict[str, object] = {
        "latitude": 40.0, "longitude": -75.0, "utc_offset": -5.0, "elevation": 100.0,
        "temperature": 280.0, "dew_point": 275.0, "pressure": 1e5, "wind_speed": 3.0,
        "wind_direction": 0.0, "global_horizontal": 0.0, "direct_normal": 0.0,
        "diffuse_horizontal": 0.0, "infrared": 300.0,
    }  # fmt: skip
    columns |= changes
    single = ("latitude", "longitude", "utc_offset", "elevation")
    for key, value in columns.items():
        if key not in single and isinstance(value, float | int):
            columns[key] = np.full(8760, value)
    return weather_year("here", "made", **columns)  # type: ignore[arg-type]


def test_constant_year_has_constant_ground_and_sky() -> None:
    """Without seasons the ground is as warm as the air."""
    year = build()
    assert year.ground_temperature == pytest.approx(280.0)
    assert np.ptp(year.sky_temperature) == 0.0


def test_whole_numbers_are_taken() -> None:
    """Columns of whole numbers become floats."""
    assert build(temperature=np.full(8760, 280)).temperature.dtype == np.float64


def test_rounded_dew_point_is_set_to_the_dry_bulb() -> None:
    """A dew point a tenth above the dry bulb is saturated air; 1 K is the most taken."""
    assert build(dew_point=280.1).dew_point[0] == 280.0
    assert build(dew_point=281.0).dew_point[0] == 280.0
    with pytest.raises(WeatherError, match=r"^dew-point temperature is 1\.1 K above the dry bulb"):
        build(dew_point=281.1)


@pytest.mark.parametrize("length", [8759, 8784])
def test_other_lengths_are_refused(length: int) -> None:
    """A column of another length is refused by name."""
    with pytest.raises(
        WeatherError,
        match=rf"^wind speed has {length} values; a year has 8760; correct these hours",
    ):
        build(wind_speed=np.ones(length))


@pytest.mark.parametrize("column", ["infrared", "cloud_cover"])
def test_other_lengths_of_sky_columns_are_refused(column: str) -> None:
    """The two columns of the sky are held to the same length."""
    infrared = {"infrared": np.full(8760, np.nan)} if column == "cloud_cover" else {}
    with pytest.raises(WeatherError, match=r"has 8759 values; a year has 8760"):
        build(**{**infrared, column: np.full(8759, 0.5)})


@pytest.mark.parametrize(
    ("name", "value", "message"),
    [
        ("latitude", 90.1, r"^latitude is 90\.1 °; the method covers -90 to 90 °$"),
        ("longitude", -181.0, r"^longitude is -181 °; the method covers -180 to 180 °$"),
        ("utc_offset", 15.0, r"^UTC offset is 15 h; the method covers -12 to 14 h$"),
        ("elevation", float("nan"), r"^elevation is nan m; the method covers -500 to 9000 m$"),
    ],
)
def test_places_off_the_earth_are_refused(name: str, value: float, message: str) -> None:
    """A place outside its range is refused by name and range."""
    with pytest.raises(OutOfRangeError, match=message):
        build(**{name: value})


def test_sun_of_the_sunrise_hour_stands_in_its_sunlit_part() -> None:
    """In an hour with sunrise the sun is above the horizon, at half the height it reaches."""
    altitude, _ = hourly_sun(40.0, -75.0, -5.0, 0.0)
    ends, _ = sun_position(np.arange(8761.0), 40.0, -75.0, -5.0, 0.0)
    rises = (ends[:-1] <= 0.0) & (ends[1:] > 0.0)
    assert np.count_nonzero(rises) == 365
    assert (altitude[rises] > 0.0).all()
    assert altitude[rises] == pytest.approx(ends[1:][rises] / 2.0, abs=0.45)
    night = (ends[:-1] <= 0.0) & (ends[1:] <= 0.0)
    assert (altitude[night] <= 0.0).all()


def test_sun_north_of_the_polar_circle() -> None:
    """Midnight sun and polar night are taken as they are."""
    altitude, _ = hourly_sun(70.0, 25.0, 2.0, 0.0)
    assert altitude[172 * 24 : 173 * 24].min() > 0.0
    assert altitude[: 5 * 24].max() < 0.0
