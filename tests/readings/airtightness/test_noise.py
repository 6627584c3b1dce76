"""How far stations scatter, and what that does to the curve."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from readings.airtightness.making import CURVE, HOUSE, made_test, wiggle
from rooftree.readings.airtightness import reduce_fan_test
from rooftree.readings.airtightness.noise import (
    NOISE_FREEDOM,
    pressure_noise,
    scatter_terms,
    station_noise,
)


def test_the_baseline_shows_the_wind() -> None:
    """Several readings of one set tell the noise; single ones leave it to the gauge."""
    test = made_test()
    assert pressure_noise(test) == test.pressure_uncertainty
    gusty = replace(test, baseline_before=(-1.0, 1.0), baseline_after=(4.0, 6.0))
    assert pressure_noise(gusty) == pytest.approx(np.sqrt(2.0))
    still = replace(test, baseline_before=(1.0, 1.0, 1.0))
    assert pressure_noise(still) == 0.2


@given(st.floats(1.0, 80.0), st.floats(0.1, 20.0))
def test_low_stations_scatter_more(pressure: float, more: float) -> None:
    """The same gust is a larger share of a lower pressure, down to the noise of the flow."""
    low, high = station_noise(made_test(), [pressure, pressure + more])
    assert low > high > 0.01


def test_expected_scatter_stands_in_where_few_stations_tell() -> None:
    """Stations on one line do not make a sure curve; ones far off it make a doubtful one."""
    sure = reduce_fan_test(made_test(), HOUSE)
    rough = reduce_fan_test(made_test(CURVE, factors=wiggle(6, 0.15)), HOUSE)
    terms = [
        scatter_terms(r.test, r.fit, [s for s in r.stations if s.is_used], 50.0)
        for r in (sure, rough)
    ]
    assert sure.fit.exponent_error < 1e-6 < terms[0][1].standard
    assert terms[1][1].standard > 3.0 * terms[0][1].standard
    assert terms[0][0].degrees_of_freedom == NOISE_FREEDOM + 4.0


def test_the_exponent_carries_every_uncertainty() -> None:
    """Its combined limits hold the value, and a doubtful gauge widens them."""
    test = made_test(CURVE, factors=wiggle(6, 0.01))
    sure, doubtful = (
        reduce_fan_test(replace(test, pressure_uncertainty=u), HOUSE).exponent for u in (0.2, 2.0)
    )
    assert sure is not None
    assert doubtful is not None
    assert sure.low < sure.value < sure.high
    assert sure.limits(0.9)[0] > sure.low
    assert doubtful.high - doubtful.low > sure.high - sure.low
