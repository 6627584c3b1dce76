"""Check when mould grows on wood."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.mould import critical_humidity, weeks_to_mould

ZERO = 273.15


@pytest.mark.parametrize(("celsius", "percent"), [(5, 88.02), (10, 82.03), (20, 80.04), (30, 80.0)])
def test_critical_humidity_by_hand(celsius: float, percent: float) -> None:
    """The cubic worked by hand, to 0.02 %."""
    assert 100.0 * critical_humidity(celsius + ZERO) == pytest.approx(percent, abs=0.02)


@pytest.mark.parametrize(
    ("celsius", "percent", "start", "seen"),
    [(20, 100, 0.971, 2.025), (20, 97, 1.484, 2.983), (20, 95, 1.982, 3.888),
     (20, 90, 4.202, 7.734), (20, 85, 9.300, 16.00), (10, 95, 3.175, 6.493),
     (5, 95, 5.087, 10.845), (30, 95, 1.504, 2.880)],
)  # fmt: skip
def test_weeks_by_hand(celsius: float, percent: float, start: float, seen: float) -> None:
    """Both exponentials worked by hand, to 0.5 %."""
    humidity = percent / 100.0
    assert weeks_to_mould(celsius + ZERO, humidity) == pytest.approx(start, rel=5e-3)
    assert weeks_to_mould(celsius + ZERO, humidity, visible=True) == pytest.approx(seen, rel=5e-3)


@pytest.mark.published(
    source="Laboratory study of pine and spruce sapwood at 23 °C and 75 to 95 %",
    where="abstract: germination after 7 to 24 days; growth only above 75 %",
    read="source",
)
def test_laboratory_observation() -> None:
    """At 23 °C and 90 to 97 % the model starts within the days that were observed."""
    for humidity in (0.92, 0.95, 0.97):
        assert 7.0 < 7.0 * weeks_to_mould(23.0 + ZERO, humidity) < 24.0
    assert weeks_to_mould(23.0 + ZERO, 0.75) == math.inf


@given(st.floats(1.0, 45.0), st.floats(0.89, 0.99))
def test_damper_is_sooner(celsius: float, humidity: float) -> None:
    """More humidity never delays mould, and it is seen after it has started."""
    sooner = weeks_to_mould(celsius + ZERO, humidity + 0.01)
    later = weeks_to_mould(celsius + ZERO, humidity)
    assert sooner <= later
    assert later <= weeks_to_mould(celsius + ZERO, humidity, visible=True) or later == math.inf


def test_frost_grows_nothing() -> None:
    """At and below freezing no humidity is enough, and the model refuses the temperature."""
    assert critical_humidity(ZERO) == critical_humidity(260.0) == 1.0
    with pytest.raises(OutOfRangeError, match=r"^surface temperature is 270 K; .* 323\.15 K$"):
        weeks_to_mould(270.0, 0.9)
    with pytest.raises(OutOfRangeError, match=r"^relative humidity is 1\.1 \[0-1\]; .* \[0-1\]$"):
        weeks_to_mould(290.0, 1.1)
