"""Check heat carried by air, and the temperature split derived for a cooling coil."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.engine.equipment import COOLER_CAPACITY, curve
from rooftree.errors import OutOfRangeError
from rooftree.physics.air import humidity_ratio
from rooftree.readings.air_handler.heat import (
    enthalpy,
    flow_from_rise,
    humidity_from_wet_bulb,
    sensible_heat,
)
from rooftree.readings.air_handler.split import (
    RATED_FLOW,
    RATED_TEMPERATURE,
    RATED_WET_BULB,
    bypass_factor,
    capacity_factor,
    expected_split,
)

CFM, BTU_PER_HOUR = 4.719474e-4, 0.2930711


def fahrenheit(degrees: float) -> float:
    """Return kelvin_of."""
    return (degrees + 459.67) / 1.8


def test_sensible_heat_is_the_trade_formula() -> None:
    """1.08 times 400 cfm times 20 °F is 8 640 Btu/h; the trade's 1.08 is 1.085 rounded."""
    heat = sensible_heat(400.0 * CFM, 1.2041, 20.0 / 1.8)
    assert heat / BTU_PER_HOUR == pytest.approx(8640.0, rel=0.006)


@given(st.floats(1e3, 4e4), st.floats(0.9, 1.25), st.floats(5.0, 50.0), st.floats(0.0, 0.02))
def test_flow_from_rise_turns_sensible_heat_round(
    heat: float, density: float, rise: float, humidity: float
) -> None:
    """The flow that a heat warms by a rise carries that heat."""
    flow = flow_from_rise(heat, density, rise, humidity)
    assert sensible_heat(flow, density, rise, humidity) == pytest.approx(heat)


@pytest.mark.parametrize(("heat", "rise", "name"), [(0.0, 10.0, "heat"), (1e4, 0.0, "rise")])
def test_no_heat_or_no_rise_is_refused(heat: float, rise: float, name: str) -> None:
    """Nothing tells a flow where nothing is warmed."""
    with pytest.raises(OutOfRangeError, match=rf"^{name} is 0 [WK]; the method covers .*$"):
        flow_from_rise(heat, 1.2, rise)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals 2017, ch. 1", where="eq. 33", read="memory"
)
def test_humidity_from_both_bulbs_at_the_rating_point() -> None:
    """80 °F dry and 67 °F wet bulb carry 0.0112 kg/kg, 78 grains, to the table's last digit."""
    humidity = humidity_from_wet_bulb(fahrenheit(80.0), fahrenheit(67.0), 101325.0)
    assert humidity == pytest.approx(0.0112, abs=5e-5)


@given(st.floats(285.0, 305.0))
def test_equal_bulbs_are_saturated_air(temperature: float) -> None:
    """Where the wet bulb shows the dry bulb, air is saturated."""
    assert humidity_from_wet_bulb(temperature, temperature, 101325.0) == pytest.approx(
        humidity_ratio(temperature, 1.0), rel=1e-6
    )


def test_a_wet_bulb_above_the_dry_bulb_is_refused() -> None:
    """The wet bulb cannot be the warmer one."""
    with pytest.raises(
        OutOfRangeError, match=r"^wet_bulb is 296 K; the method covers 273\.15 to 295 K$"
    ):
        humidity_from_wet_bulb(295.0, 296.0, 101325.0)


def test_enthalpy_is_zero_at_its_origin() -> None:
    """Dry air of 0 °C has none."""
    assert enthalpy(273.15, 0.0) == 0.0


@pytest.mark.published(
    source="Cutler et al. 2013, NREL/TP-5500-56354, single-speed air conditioner",
    where="Table 12",
    read="quoted in secondary sources",
)
@pytest.mark.parametrize(
    ("wet_bulb", "outdoors", "capacity"),
    [
        (67.0, 95.0, 0.9939),
        (67.0, 82.0, 1.0595),
        (67.0, 105.0, 0.9399),
        (63.0, 95.0, 0.9416),
        (71.0, 95.0, 1.0769),
    ],
)
def test_capacity_follows_the_published_surface(
    wet_bulb: float, outdoors: float, capacity: float
) -> None:
    """The parabola and line are within 1 % of the surface over its own rating value."""
    ours = capacity_factor(fahrenheit(wet_bulb), fahrenheit(outdoors))
    assert ours == pytest.approx(capacity / 0.9939, rel=0.01)


@given(st.floats(62.0, 71.0), st.floats(80.0, 107.0))
def test_capacity_agrees_with_the_engine(wet_bulb: float, outdoors: float) -> None:
    """Between the published points it stays within 2 % of the engine's own surface."""
    inner, outer = fahrenheit(wet_bulb), fahrenheit(outdoors)
    engine = float(curve(COOLER_CAPACITY, inner, outer, 67.0, 95.0))
    assert capacity_factor(inner, outer) == pytest.approx(engine, rel=0.02)


def test_the_rating_point_gives_back_its_own_split() -> None:
    """At the rating point the split is three quarters of the capacity over the air's heat."""
    humidity = humidity_from_wet_bulb(RATED_TEMPERATURE, RATED_WET_BULB, 101325.0)
    split = expected_split(RATED_TEMPERATURE, humidity, RATED_FLOW)
    mass = RATED_FLOW * 1.2041
    assert split == pytest.approx(0.75 / (mass * (1006.0 + 1860.0 * humidity)), rel=0.003)


@pytest.mark.parametrize(("share", "power"), [(0.875, 1.0 / 0.875), (1.25, 0.8)])
def test_bypass_goes_with_flow(share: float, power: float) -> None:
    """More air leaves more of itself untouched, as BF1 ^ (m1 / m2)."""
    rated = bypass_factor(RATED_FLOW)
    assert bypass_factor(share * RATED_FLOW) == pytest.approx(rated**power)


@given(st.floats(0.010, 0.013), st.floats(0.7, 1.3), st.floats(296.0, 300.0))
def test_the_split_falls_with_humidity_and_flow(
    humidity: float, share: float, temperature: float
) -> None:
    """Where the coil is wet, damper air leaves less of a split; more air always does."""
    here = expected_split(temperature, humidity, share * RATED_FLOW)
    assert expected_split(temperature, humidity + 0.001, share * RATED_FLOW) < here
    assert expected_split(temperature, humidity, 1.1 * share * RATED_FLOW) < here


@pytest.mark.published(
    source="cooling temperature split in the field", where="16 to 22 °F", read="common practice"
)
@pytest.mark.parametrize(("dry", "wet"), [(75.0, 63.0), (76.0, 64.0), (80.0, 67.0)])
def test_ordinary_rooms_give_the_usual_split(dry: float, wet: float) -> None:
    """Return air of an ordinary room at 400 cfm a ton is cooled by 16 to 22 °F."""
    humidity = humidity_from_wet_bulb(fahrenheit(dry), fahrenheit(wet), 101325.0)
    assert 16.0 < 1.8 * expected_split(fahrenheit(dry), humidity, RATED_FLOW) < 22.0


@pytest.mark.parametrize("wet", [280.0, 302.0])
def test_air_outside_the_range_is_refused(wet: float) -> None:
    """No split is derived for air that coils are not made for."""
    with pytest.raises(
        OutOfRangeError, match=r"^wet_bulb is .* K; the method covers 283\.15 to 300\.15 K$"
    ):
        expected_split(wet + 1.0, humidity_ratio(wet, 1.0) - 1e-4, RATED_FLOW)
