"""Hold the engine against a vented attic that was measured for 19 months.

Targets: hourly temperature within 2.5 K (root mean square), mean of a season within 1.5 K,
mean relative humidity within 8 %. Nothing was tuned: guesses were chosen before the first run,
and docs/reference/measured-houses.md says what each matters. Where a target is missed the test
is marked with why, and fails as soon as it is met.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from engine.measured import attic
from engine.measured.attic import POINTS, humidities, measured, seasons, temperatures
from engine.measured.records import Comparison, hours_of
from engine.measured.vapor import Wood, buffered

SOURCE = "TRH-1 database, Tampere University and contributors, house R3 (CC BY 4.0)"

pytestmark = [
    pytest.mark.skipif(not attic.is_there(), reason="needs the folder of measured data"),
    pytest.mark.published(source=SOURCE, where="roof YP2, hourly", read="source"),
]

TOO_MUCH_SUN = pytest.mark.xfail(
    strict=True, reason="the model's roof is hotter in the sun: wind at the vents, trees, see docs"
)


def temperature(point: str, season: str) -> Comparison:
    """Return model against sensor [K]."""
    hours = seasons()[season]
    return Comparison.of(temperatures()[point][hours], measured(POINTS[point])[hours])


def humidity(point: str, season: str) -> Comparison:
    """Return model against sensor [% relative humidity]."""
    hours = seasons()[season]
    return Comparison.of(humidities()[point][hours], measured(POINTS[point], "RH")[hours])


@pytest.mark.parametrize("point", POINTS)
@pytest.mark.parametrize(
    "season",
    [
        "winter",
        "autumn",
        pytest.param("spring", marks=TOO_MUCH_SUN),
        pytest.param("summer", marks=TOO_MUCH_SUN),
    ],
)
def test_seasonal_mean_temperature_lies_within_1_5_kelvin(point: str, season: str) -> None:
    """The mean of a season is that of the sensor; in winter because snow is on the roof."""
    assert abs(temperature(point, season).bias) < 1.5


@pytest.mark.parametrize("point", POINTS)
def test_hours_of_winter_lie_within_2_5_kelvin(point: str) -> None:
    """Under snow the attic follows the model hour by hour."""
    assert temperature(point, "winter").spread < 2.5


def test_hours_of_autumn_lie_within_2_5_kelvin_in_the_air() -> None:
    """With a low sun the attic's air follows the model hour by hour."""
    assert temperature("air, mid-height", "autumn").spread < 2.5


@TOO_MUCH_SUN
@pytest.mark.parametrize("point", POINTS)
def test_hours_of_the_whole_record_lie_within_2_5_kelvin(point: str) -> None:
    """The target for the whole record."""
    assert temperature(point, "whole record").spread < 2.5


@pytest.mark.parametrize("point", POINTS)
def test_mean_humidity_lies_within_8_percent(point: str) -> None:
    """The mean of the whole record, and of summer and autumn."""
    for season in ("whole record", "summer", "autumn"):
        assert abs(humidity(point, season).bias) < 8.0


def test_snow_lies_when_the_attic_stands_still() -> None:
    """On sunny days with snow the attic swings less than half as far as without."""
    air = measured(POINTS["air, mid-height"])
    days = air[: air.size // 24 * 24].reshape(-1, 24)
    swing = days.max(axis=1) - days.min(axis=1)
    sun = attic.weather().global_horizontal[: days.size].reshape(-1, 24).mean(axis=1)
    white = attic.is_white()[: days.size].reshape(-1, 24)
    bright = sun > 60.0
    under_snow, bare = swing[bright & white.all(axis=1)], swing[bright & ~white.any(axis=1)]
    assert np.median(under_snow) < 0.5 * np.median(bare)


def test_wood_that_holds_water_by_its_own_temperature_explains_the_vapor() -> None:
    """With penetration depths the attic is moister by day and drier by night than outdoors.

    The engine's multiple of the air's water cannot do that. Given the measured temperature of
    the boards, errors of relative humidity in autumn are halved.
    """
    result = attic.run()
    kept = hours_of(result)
    here, below = (result.space_ids.index(each) for each in ("attic", "house"))
    point, hours = POINTS["air, mid-height"], seasons()["autumn"] & ~attic.is_white()
    celsius, sensor = measured(point), measured(point, "RH")
    wood = buffered(
        entering=np.stack([kept.entering[:, here, below], kept.entering[:, here, -1]], axis=1),
        origins=np.stack([kept.humidity_ratio[:, below], attic.weather().humidity_ratio], axis=1),
        air_mass=60.0,
        area=100.0,
        face=measured(POINTS["underside of the boards"]) + 273.15,
        pressure=attic.weather().pressure,
        wood=Wood(),
    )
    spreads = [
        Comparison.of(attic.relative_humidity(ratio, celsius)[hours], sensor[hours]).spread
        for ratio in (kept.humidity_ratio[:, here], wood)
    ]
    assert spreads[1] < 5.0
    assert spreads[1] < 0.7 * spreads[0]


def test_more_vents_cool_the_attic() -> None:
    """Twice the vents bring a summer attic nearer to outdoors."""
    wider = attic.temperatures(replace(attic.BASE, vent_share=0.008))["air, mid-height"]
    summer = seasons()["summer"]
    assert (wider - temperatures()["air, mid-height"])[summer].mean() < -0.5
