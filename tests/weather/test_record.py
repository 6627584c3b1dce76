"""Check weather records of any length, and the clouds that the sun tells."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from conftest import WEATHER
from rooftree.errors import NotEnoughDataError, WeatherError
from rooftree.physics.air import pressure_at_altitude
from rooftree.weather import WeatherYear, climate_zone, design_conditions, parse_epw, record_year
from rooftree.weather.clouds import clouds_from_sun
from rooftree.weather.ground import GroundClimate, fit_ground_climate, ground_temperature
from rooftree.weather.moisture import saturation_over_water, vapor_pressure
from rooftree.weather.sky import sky_infrared, sky_temperature
from rooftree.weather.sun import plane_irradiance, sun_position

ALPINE = GroundClimate(282.0, 10.0, 500.0)
YEARS = sorted(WEATHER.glob("*.epw"))


def record(hours: int = 72, **changes: Any) -> WeatherYear:
    """Return a record of August days that are all alike."""
    clock = np.arange(hours) % 24
    sun = 700.0 * np.clip(np.sin(np.pi * (clock - 5.0) / 14.0), 0.0, None)
    given: dict[str, Any] = {
        "latitude": 47.874, "longitude": 11.728, "utc_offset": 1.0, "elevation": 680.0,
        "start": "2013-08-21", "temperature": 288.0 + 5.0 * np.sin(np.pi * (clock - 9.0) / 12.0),
        "relative_humidity": np.full(hours, 0.7), "wind_speed": np.full(hours, 2.0),
        "global_horizontal": sun, "diffuse_horizontal": 0.3 * sun, "ground": ALPINE,
    }  # fmt: skip
    return record_year("yard", "made", **{**given, **changes})


def test_a_record_keeps_its_length_and_its_calendar() -> None:
    """Every array has one value an hour, and months and days are those of the calendar."""
    days = record(96, start="2012-02-28")
    assert {getattr(days, name).size for name in ("temperature", "sky_temperature", "sun_azimuth",
            "ground_temperature", "humidity_ratio", "direct_normal")} == {96}  # fmt: skip
    assert days.day_of_year[[0, 23, 24, 48]].tolist() == [58, 58, 59, 60]
    assert days.month[[0, 47, 48]].tolist() == [1, 1, 2]


def test_the_sun_is_that_of_the_date() -> None:
    """The sun of a record stands where it stood on that day, in the middle of the hour."""
    start = np.datetime64("2013-08-21T00:00:00")
    altitude, azimuth = sun_position([12.5], 47.874, 11.728, 1.0, 680.0, start)
    assert record().sun_altitude[12] == pytest.approx(altitude[0])
    assert record().sun_azimuth[12] == pytest.approx(azimuth[0])
    noon = record(24, start="2013-12-21").sun_altitude.max()
    assert noon == pytest.approx(90.0 - 47.874 - 23.43, abs=0.5)


def test_a_level_plane_receives_the_global_irradiance_of_the_record() -> None:
    """Beam and diffuse on the level are what was measured, once the sun is 5° high."""
    for start, share in (("2013-08-21", 1.0), ("2013-12-30", 0.2)):
        sun = share * record().global_horizontal
        days = record(start=start, global_horizontal=sun, diffuse_horizontal=0.5 * sun)
        level = plane_irradiance(days, 0.0, 0.0)
        high = days.sun_altitude > 5.0
        assert (level.beam + level.sky)[high] == pytest.approx(sun[high], abs=1e-9)


def test_a_wall_receives_the_same_in_a_record_as_in_the_year_it_was_cut_from() -> None:
    """Days cut from a typical year and made a record of its almanac have the same sun."""
    if not YEARS:
        pytest.skip("needs a typical year")
    year = parse_epw(YEARS[-1].read_text(encoding="latin-1"))
    cut = slice(24 * 150, 24 * 160)
    part = record(
        240, start="2003-05-31", latitude=year.latitude, longitude=year.longitude,
        utc_offset=year.utc_offset, elevation=year.elevation, temperature=year.temperature[cut],
        global_horizontal=year.global_horizontal[cut],
        diffuse_horizontal=year.global_horizontal[cut]
        - year.direct_normal[cut] * np.sin(np.radians(np.maximum(year.sun_altitude[cut], 0.0))),
    )  # fmt: skip
    whole, south = plane_irradiance(year, 90.0, 180.0), plane_irradiance(part, 90.0, 180.0)
    assert part.sun_altitude == pytest.approx(year.sun_altitude[cut], abs=1e-6)
    assert south.beam.sum() == pytest.approx(whole.beam[cut].sum(), rel=0.01)
    assert south.sky.sum() == pytest.approx(whole.sky[cut].sum(), rel=0.01)


@pytest.mark.published(
    source="WMO-No. 8 (2008), annex 4.B", where="saturation over water", read="memory"
)
def test_humidity_of_a_record_is_over_water() -> None:
    """Air at -20 °C that a weather service calls 82 % is saturated over ice."""
    frost = record(temperature=np.full(72, 253.15), relative_humidity=np.full(72, 0.82))
    assert frost.dew_point[0] == pytest.approx(253.15, abs=0.05)
    wet = record(temperature=np.full(72, 253.15), relative_humidity=np.full(72, 0.95))
    assert wet.dew_point[0] == 253.15
    warm = record(temperature=np.full(72, 293.15), relative_humidity=np.full(72, 0.5))
    halved = 0.5 * saturation_over_water([293.15])[0]
    assert vapor_pressure(warm.dew_point)[0] == pytest.approx(halved, rel=1e-6)


def test_pressure_left_out_is_that_of_the_height() -> None:
    """The standard atmosphere fills in for a barometer."""
    assert record().pressure[0] == pytest.approx(pressure_at_altitude(680.0))


def test_infrared_that_was_measured_is_used() -> None:
    """A measured sky takes the place of the clouds."""
    sky = record(infrared=np.full(72, 300.0)).sky_temperature
    assert sky == pytest.approx(float(sky_temperature(300.0)))
    overcast, clear = record(cloud_cover=np.ones(72)), record(cloud_cover=np.zeros(72))
    assert (overcast.sky_temperature > clear.sky_temperature + 5.0).all()


def test_ground_of_a_record_longer_than_a_year_is_fitted_to_it() -> None:
    """The yearly wave is found from 18 months that begin in August."""
    hours = 24 * 540
    wave = ground_temperature(ALPINE, 0.0, 24.0 * 232 + np.arange(hours) + 0.5)
    fitted = fit_ground_climate(wave, 24.0 * 232)
    assert fitted.mean == pytest.approx(282.0, abs=1e-6)
    assert fitted.amplitude == pytest.approx(10.0, abs=1e-6)
    assert fitted.coldest_hour == pytest.approx(500.0, abs=1e-3)
    below = ground_temperature(ALPINE, 1.0, 24.0 * 232 + np.arange(hours) + 0.5)
    long = record(hours, temperature=wave, ground=None)
    assert long.ground_temperature == pytest.approx(below, abs=1e-3)


def test_a_short_record_asks_for_the_ground() -> None:
    """Six weeks do not tell the yearly wave of the ground."""
    with pytest.raises(NotEnoughDataError, match="give the ground climate"):
        record(ground=None)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"start": "2013-08-21T06:00"}, "must begin at midnight"),
        ({"start": "21.8.2013"}, "write the date"),
        ({"hours": 20}, "the record has 20 hours; it needs whole days"),
        ({"hours": 30}, "the record has 30 hours; it needs whole days"),
        ({"wind_speed": np.zeros(71)}, "wind speed has 71 values; the record has 72"),
        ({"relative_humidity": np.full(72, 70.0)}, "relative humidity is 70"),
    ],
)
def test_a_record_that_cannot_be_taken_says_why(changes: dict[str, Any], words: str) -> None:
    """Errors name the column and what is allowed."""
    with pytest.raises(WeatherError, match=words):
        record(**changes)


def test_missing_hours_are_named_by_date() -> None:
    """Gaps are named by their day and clock time."""
    air = np.full(72, 288.0)
    air[[3, 4, 30]] = np.nan
    with pytest.raises(WeatherError, match="2013-08-21 03:00 to 2013-08-21 05:00; 2013-08-22 06"):
        record(temperature=air)


def test_design_conditions_and_zones_need_a_year() -> None:
    """What is defined by a year refuses a record."""
    for asked in (design_conditions, climate_zone):
        with pytest.raises(WeatherError, match="need a year of 8760 hours; this record has 72"):
            asked(record())


@pytest.mark.published(
    source="Kasten and Czeplak 1980", where="global irradiance by cloud amount", read="memory"
)
def test_overcast_lets_a_quarter_of_the_sun_through() -> None:
    """A clear hour has no clouds, a quarter of its sun means overcast, nights lie between."""
    cover = clouds_from_sun([425.0, 0.0, 106.25, 20.0], [30.0, -20.0, 30.0, 30.0])
    assert cover == pytest.approx([0.0, 0.5, 1.0, 1.0])


def test_without_sun_the_clouds_stay_unknown() -> None:
    """In polar night the sun tells nothing."""
    with pytest.raises(NotEnoughDataError, match="give cloud cover or infrared"):
        record(24, start="2013-12-21", latitude=69.0)


@pytest.mark.skipif(not YEARS, reason="needs the folder of typical years")
@pytest.mark.parametrize("path", YEARS, ids=lambda path: path.stem)
def test_sky_from_the_sun_is_near_that_of_the_file(path: Any) -> None:
    """Six American years: mean within 1.5 K, single hours within 4 K (root mean square)."""
    year = parse_epw(path.read_text(encoding="latin-1"))
    clouds = clouds_from_sun(year.global_horizontal, year.sun_altitude)
    sky = sky_temperature(sky_infrared(year.temperature, year.dew_point, clouds))
    off = sky - year.sky_temperature
    assert abs(off.mean()) < 1.5
    assert float(np.sqrt((off**2).mean())) < 4.0
