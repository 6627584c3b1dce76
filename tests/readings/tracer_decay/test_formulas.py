"""Check the laws of a tracer in one zone against hand calculations and each other."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.readings.tracer_decay import (
    Activity,
    generation_rates,
    steady_flow,
    two_point_air_changes,
)
from rooftree.readings.tracer_decay.formulas import HOUR

FOOT = 0.3048


@pytest.mark.published(source="ASTM E741", where="two-point decay", read="memory")
def test_two_points_by_hand() -> None:
    """1800 to 900 ppm in two hours above 420 is 0.5280 an hour, to 1e-4."""
    rate = two_point_air_changes(1800, 900, 420, 2 * 3600)
    assert rate == pytest.approx(0.5280, abs=1e-4)


def test_flow_of_two_points_by_hand() -> None:
    """0.5280 an hour in 16,000 ft³ is 140.8 cfm, to 0.1."""
    rate = two_point_air_changes(1800.0, 900.0, 420.0, 7200.0)
    assert rate * 16_000.0 / 60.0 == pytest.approx(140.8, abs=0.1)


@pytest.mark.published(
    source="ASHRAE Standard 62.1, appendix", where="0.31 L/min per person at 1.2 met", read="memory"
)
@pytest.mark.parametrize(("litres", "rise"), [(7.5, 689.0), (10.0, 517.0)])
def test_steady_rise_per_person(litres: float, rise: float) -> None:
    """7.5 and 10 L/s a person hold the air 689 and 517 ppm above outdoors, to 1 ppm."""
    source = generation_rates()[Activity.SEATED].rate
    assert source / (litres / 1000.0) * 1e6 == pytest.approx(rise, abs=1.0)
    assert 1000.0 * steady_flow(source, 420.0 + rise, 420.0) == pytest.approx(litres, rel=2e-3)


@pytest.mark.published(
    source="S. Batterman, IJERPH 14(2):145, 2017",
    where="section 2.1: V dC/dt = Q (C_out - C) + E, steady state C - C_out = E / Q",
    read="source",
)
@given(st.floats(0.005, 0.2), st.floats(1e-6, 1e-4), st.floats(50.0, 2000.0), st.floats(60.0, 3e4))
def test_flow_follows_the_mass_balance(
    flow: float, source: float, volume: float, time: float
) -> None:
    """At any moment of the way to the steady state the flow comes back from the balance."""
    steady = source / flow * 1e6
    away = math.exp(-flow / volume * time)
    excess = steady * (1.0 - 0.8 * away)
    rise = 0.8 * steady * flow / volume * away
    found = steady_flow(source, 420.0 + excess, 420.0, volume * rise * 1e-6)
    assert found == pytest.approx(flow, rel=1e-6)


def test_everyone_gives_off_more_on_their_feet() -> None:
    """Rates rise with activity, each with its source and that it is recalled."""
    rates = generation_rates()
    asleep, seated, light = (rates[activity] for activity in Activity)
    assert asleep.rate < seated.rate < light.rate
    assert all(rate.source.startswith("recalled: ") for rate in rates.values())


@given(st.floats(0.05, 10.0), st.floats(0.1, 20.0), st.floats(0.0, 500.0))
def test_two_points_give_back_the_rate(rate: float, hours: float, background: float) -> None:
    """Readings made from a decay give its rate back."""
    last = 5000.0 * math.exp(-rate * hours)
    if last < 1e-3:
        return
    found = two_point_air_changes(5000 + background, last + background, background, hours * HOUR)
    assert found == pytest.approx(rate, rel=1e-6)


@pytest.mark.parametrize("last", [420.0, 400.0])
def test_reading_at_the_background_is_refused(last: float) -> None:
    """A reading that is not above outdoors has no logarithm."""
    with pytest.raises(
        OutOfRangeError, match=r"^last is \d+ ppm; the method covers 420 to inf ppm$"
    ):
        two_point_air_changes(1800.0, last, 420.0, 3600.0)


def test_no_time_is_refused() -> None:
    """Between the readings time must pass."""
    with pytest.raises(OutOfRangeError, match=r"^duration is 0 s; the method covers 0 to inf s$"):
        two_point_air_changes(1800.0, 900.0, 420.0, 0.0)


def test_steady_at_the_background_is_refused() -> None:
    """People in the house hold it above outdoors."""
    with pytest.raises(
        OutOfRangeError, match=r"^concentration is 420 ppm; the method covers 420 to inf ppm$"
    ):
        steady_flow(1e-5, 420.0, 420.0)
