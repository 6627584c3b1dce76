"""Check single openings, openings in series, fans on a house, and the stack."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.openings import (
    allowed_exhaust,
    exhaust_pressure,
    opening_area,
    opening_flow,
    series_coefficient,
    stack_pressure,
)

INCH, CFM = 0.0254, 0.471947e-3


@pytest.mark.parametrize(("discharge", "factor"), [(0.60, 1.0571), (0.611, 1.0765), (1.0, 1.7618)])
def test_opening_in_the_trades_units(discharge: float, factor: float) -> None:
    """One square inch at 1 Pa passes about 1.06 cfm."""
    flow = opening_flow(INCH**2, 1.0, discharge=discharge) / CFM
    assert flow == pytest.approx(factor, rel=2e-4)


@given(st.floats(1e-4, 1.0), st.floats(0.1, 100.0))
def test_area_undoes_flow(area: float, pressure: float) -> None:
    """The area found from a flow gives that flow."""
    assert opening_area(opening_flow(area, pressure), pressure) == pytest.approx(area)


@pytest.mark.parametrize(("first", "second", "both"), [(50, 100, 41.2532), (100, 100, 63.7280)])
def test_series_by_hand(first: float, second: float, both: float) -> None:
    """Two leaks in series, worked by hand."""
    assert series_coefficient(first, second, 0.65) == pytest.approx(both, abs=1e-4)


def test_series_pressures_add_up() -> None:
    """50 Pa across 50 and 100 in series: 524.551 flows, 37.1954 Pa of it across the first."""
    flow = series_coefficient(50, 100, 0.65) * math.pow(50.0, 0.65)
    assert flow == pytest.approx(524.551, abs=1e-3)
    assert math.pow(flow / 50.0, 1 / 0.65) == pytest.approx(37.1954, abs=1e-4)


@given(st.floats(1e-3, 1e3), st.floats(1e-3, 1e3), st.floats(0.5, 1.0))
def test_series_is_tighter_than_either(first: float, second: float, exponent: float) -> None:
    """A second barrier never lets more air through."""
    both = series_coefficient(first, second, exponent)
    assert both < min(first, second)
    assert both == pytest.approx(series_coefficient(second, first, exponent))


@pytest.mark.parametrize(
    ("fan", "house", "pressure"),
    [
        (150, 2000, 0.930), (300, 1000, 7.844), (350, 1500, 5.329), (600, 800, 32.12),
        (150, 3000, 0.497), (300, 1500, 4.20), (200, 800, 5.93), (450, 1500, 7.844),
    ],
)  # fmt: skip
def test_exhaust_pulls_the_house_down(fan: float, house: float, pressure: float) -> None:
    """Pressures from fan flow and leakage at 50 Pa, worked by hand, any unit of flow."""
    assert exhaust_pressure(fan, house) == pytest.approx(pressure, abs=5e-3)


@pytest.mark.parametrize(("pressure", "flow"), [(2, 185.1), (3, 240.9), (5, 335.8)])
def test_allowed_exhaust_by_hand(pressure: float, flow: float) -> None:
    """What a house of 1500 at 50 Pa may exhaust down to each pressure."""
    assert allowed_exhaust(pressure, 1500.0) == pytest.approx(flow, abs=0.2)


@given(st.floats(0.0, 20.0), st.floats(0.1, 5.0), st.floats(0.5, 1.0))
def test_allowed_exhaust_undoes_pressure(pressure: float, house: float, exponent: float) -> None:
    """The allowed exhaust pulls the house just to the allowed pressure."""
    flow = allowed_exhaust(pressure, house, exponent=exponent)
    assert exhaust_pressure(flow, house, exponent=exponent) == pytest.approx(pressure, abs=1e-9)


@pytest.mark.parametrize(
    ("height", "inside", "outside", "pressure"),
    [(5, 293.15, 273.15, 4.324), (5, 293.15, 253.15, 9.332), (8, 294.15, 263.15, 11.094)],
)
def test_stack_by_hand(height: float, inside: float, outside: float, pressure: float) -> None:
    """Pressure of a warm column, worked by hand."""
    assert stack_pressure(height, inside, outside) == pytest.approx(pressure, abs=1e-3)


def test_draft_of_a_warm_flue() -> None:
    """6 m of flue gas at 150 °C in freezing air draws 27 Pa before losses."""
    assert stack_pressure(6.0, 423.0, 273.0) == pytest.approx(27.0, abs=0.05)


def test_stack_turns_round_in_summer() -> None:
    """Air cooler than outdoors sinks: the sign of the pressure turns."""
    assert stack_pressure(5.0, 297.0, 308.0) < 0.0


def test_rule_of_thumb_of_the_stack() -> None:
    """About 0.040 Pa for each metre and kelvin near 20 °C."""
    assert stack_pressure(1.0, 293.65, 292.65) == pytest.approx(0.040, abs=5e-4)


@pytest.mark.parametrize("pressure", [0.0, -1.0])
def test_area_needs_a_pressure(pressure: float) -> None:
    """Without pressure a flow says nothing about the hole."""
    with pytest.raises(OutOfRangeError, match=rf"^pressure is {pressure:g} Pa; the method covers"):
        opening_area(0.1, pressure)
