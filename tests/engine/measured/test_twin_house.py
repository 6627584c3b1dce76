"""Hold the engine against a full-size test house that was measured for 41 days.

Targets: power of the heaters on days 1 to 8 within 5 %, daily means on days 30 to 40 within 1 K.
Nothing was tuned; docs/reference/measured-houses.md says what each guess matters. Where a target
is missed the test is marked with why, and fails as soon as it is met.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from engine.measured import twin_house
from engine.measured.records import day_means
from engine.measured.twin_house import BASE, FREE, PULSES, STEADY

SOURCE = "IEA EBC Annex 58, Twin Houses, experiment 1, house N2"

pytestmark = [
    pytest.mark.skipif(not twin_house.is_there(), reason="needs the folder of measured data"),
    pytest.mark.published(source=SOURCE, where="hourly record", read="source"),
]


def test_the_record_is_read_as_it_was_summed_up() -> None:
    """Means of days 1 to 8 are those that were computed from the same file."""
    assert twin_house.inside()[STEADY].mean() - 273.15 == pytest.approx(30.045, abs=0.01)
    assert twin_house.heater_power()[STEADY].mean() == pytest.approx(1771.0, abs=0.5)
    assert twin_house.record("vent_thP")[STEADY].mean() == pytest.approx(-540.1, abs=0.5)
    assert twin_house.outdoors("air_temp_C")[STEADY].mean() == pytest.approx(13.996, abs=0.05)


def test_ventilation_heat_is_that_of_the_record() -> None:
    """Flow times heat of the air times exhaust less supply is the record's own figure."""
    carried = twin_house.EXCHANGED * (
        twin_house.record("vent_EHA_AT") - twin_house.record("vent_SUA_AT")
    )
    assert carried == pytest.approx(-twin_house.record("vent_thP"), rel=0.01, abs=5.0)


def test_some_weather_columns_are_of_other_days() -> None:
    """Humidity ratio and infrared do not belong to temperature and humidity of their rows."""
    celsius = twin_house.outdoors("air_temp_C")
    vapor = twin_house.outdoors("rh_pct") / 100.0 * np.exp(17.62 * celsius / (243.12 + celsius))
    assert np.corrcoef(vapor, twin_house.outdoors("humidity_ratio_g_kg"))[0, 1] < 0.3
    black = 5.67e-8 * (celsius + 273.15) ** 4
    assert (twin_house.outdoors("longwave_down_W_m2") / black).max() > 1.05


def test_blinds_were_shut_on_the_south() -> None:
    """The room with a south window does not notice the sun; those to east and west do."""
    taken = twin_house.sun_on_heaters()
    assert taken["children_room"][0] < 0.05
    assert taken["kitchen"][1] > 0.2
    assert taken["bath_room"][2] > 0.1


@pytest.mark.xfail(strict=True, reason="a tenth short: film inside, bridges, air leakage; see docs")
def test_heater_power_lies_within_5_percent() -> None:
    """The target for days 1 to 8."""
    measured = twin_house.heater_power()[STEADY].mean()
    assert twin_house.held()[STEADY].mean() == pytest.approx(measured, rel=0.05)


def test_daily_means_without_heat_lie_within_one_kelvin() -> None:
    """On days 30 to 40 every daily mean is that of the house."""
    model, measured = day_means(twin_house.room()[FREE]), day_means(twin_house.inside()[FREE])
    assert np.abs(model - measured).max() < 1.0


def test_heat_pulses_are_followed() -> None:
    """Under pulses the mean of the rooms goes up and down as measured, a little warmer."""
    model, measured = twin_house.room()[PULSES], twin_house.inside()[PULSES]
    assert np.corrcoef(day_means(model), day_means(measured))[0, 1] > 0.98
    assert float(np.std(model - measured)) < 0.6


def test_open_blinds_would_warm_the_house() -> None:
    """With the south windows open the house would need a fifth less heat, which it did not."""
    shut, open_ = (twin_house.held(replace(BASE, south=share))[STEADY].mean() for share in (0, 1))
    assert open_ < 0.85 * shut
