"""Years at the ends of the earth, and houses at the ends of what is legal, run and balance."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from engine.ranch import ranch
from engine.validation.fabric_box import box
from rooftree.engine import simulate
from rooftree.engine.field_tests import fan_test_flow
from rooftree.weather import WeatherYear, record_year

HOURS = np.arange(8760)


def year_at(latitude: float, warmest_day: float, mean: float, swing: float) -> WeatherYear:
    """Return an invented year of sines, with as much sun as the sun's height allows."""
    season = np.cos(2.0 * np.pi * (HOURS / 24.0 - warmest_day) / 365.0)
    hour_angle = (HOURS % 24 + 0.5 - 12.0) * np.pi / 12.0
    declination = np.radians(23.45) * np.cos(2.0 * np.pi * (HOURS / 24.0 - 172.0) / 365.0)
    north = np.radians(latitude)
    height = np.sin(north) * np.sin(declination)
    height = height + np.cos(north) * np.cos(declination) * np.cos(hour_angle)
    sun = 800.0 * np.clip(height, 0.0, None)
    return record_year(
        "invented", "made for this test", latitude=latitude, longitude=15.0, utc_offset=1.0,
        elevation=10.0, start="2023-01-01",
        temperature=273.15 + mean + swing * season + 3.0 * np.cos(hour_angle - 0.7),
        relative_humidity=np.full(8760, 0.7), wind_speed=np.full(8760, 4.0),
        wind_direction=HOURS * 7.0 % 360.0,
        global_horizontal=sun, diffuse_horizontal=0.4 * sun,
    )  # fmt: skip


def test_polar_night_has_no_sun_and_balances() -> None:
    """At 78° north the sun stays away for months; the year balances and the house is heated."""
    year = year_at(78.0, 205.0, -6.0, 12.0)
    january = year.sun_altitude[: 31 * 24]
    assert january.max() < 0.0
    result = simulate(ranch(), year, hourly=True)
    assert result.hourly is not None
    assert result.hourly.sun[: 31 * 24].sum() == 0.0
    assert result.heat_balance_error < 1e-9
    assert result.mass_residual < 1.1e-6
    assert result.heating_load > 0.0


def test_south_of_the_equator_the_sun_stands_in_the_north() -> None:
    """At 35° south a window to the north is warmer in winter than one to the south."""
    year = year_at(-35.0, 20.0, 15.0, 7.0)
    loads = {}
    for azimuth in (0.0, 180.0):
        windows = tuple(replace(one, azimuth=azimuth) for one in box().windows)
        loads[azimuth] = simulate(replace(box(), windows=windows), year).heating_load
    assert loads[0.0] < loads[180.0]


@pytest.mark.parametrize("changes_per_hour", [0.3, 60.0])
def test_tight_and_leaky_houses_run(changes_per_hour: float) -> None:
    """From 0.3 to 60 air changes at 50 Pa the air balances and more leaks need more heat."""
    house = ranch()
    volume = sum(space.volume for space in house.living_spaces)
    scale = changes_per_hour * volume / 3600.0 / fan_test_flow(house, 50.0).flow
    leaks = tuple(
        replace(leak, coefficient=leak.coefficient * scale) if leak.kind == "crack" else leak
        for leak in house.leaks
    )
    result = simulate(replace(house, leaks=leaks), year_at(45.0, 205.0, 9.0, 12.0))
    assert result.mass_residual < 1.1e-6
    assert result.heat_balance_error < 1e-9


@pytest.mark.parametrize("resistance", [0.18, 17.6])
def test_bare_and_thick_walls_run(resistance: float) -> None:
    """From R-1 to R-100 of insulation the heat balances."""
    house = ranch()
    surfaces = tuple(
        replace(
            surface,
            layers=tuple(
                replace(layer, conductivity=layer.thickness / resistance)
                if layer.role == "insulation"
                else layer
                for layer in surface.layers
            ),
        )
        for surface in house.surfaces
    )
    result = simulate(replace(house, surfaces=surfaces), year_at(45.0, 205.0, 9.0, 12.0))
    assert result.heat_balance_error < 1e-9
    assert np.isfinite(result.mean_temperature).all()


def test_machines_too_small_report_hours_and_do_not_fail() -> None:
    """A furnace of a tenth of the load leaves hours unmet, and the year runs on."""
    house = ranch()
    assert house.heating is not None
    small = replace(house, heating=replace(house.heating, capacity=500.0))
    result = simulate(small, year_at(45.0, 205.0, 5.0, 15.0))
    assert result.unmet_heating_hours > 1000
    assert result.heat_balance_error < 1e-9
