"""Check openings and the shift of a house's pressure against laws and the air network."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.readings.room_pressures.house_shift import flow_shift, shift_flow
from rooftree.readings.room_pressures.opening import door_flow, relief_area

CFM, SQUARE_INCH = 4.719474e-4, 0.0254**2


@pytest.mark.published(
    source="trade form of flow through a transfer opening",
    where="cfm = 1.07 in² (Pa)^½; 0.54 in² for each cfm at 3 Pa",
    read="memory",
)
def test_the_trade_form_is_a_sharp_edge() -> None:
    """The coefficient 1.07 is a discharge of 0.607; 0.60 gives 1.5 % less flow."""
    assert door_flow(SQUARE_INCH, 1.0) / CFM == pytest.approx(1.07, rel=0.015)
    assert relief_area(CFM, 0.0, 3.0) / SQUARE_INCH == pytest.approx(0.54, rel=0.015)


@given(st.floats(0.001, 0.1), st.floats(-40.0, 40.0))
def test_air_goes_the_way_of_the_pressure(area: float, pressure: float) -> None:
    """Turning the pressure round turns the flow round."""
    assert door_flow(area, -pressure) == pytest.approx(-door_flow(area, pressure))


@given(st.floats(0.01, 0.2), st.floats(0.5, 5.0))
def test_the_relief_holds_the_allowed_pressure(flow: float, allowed: float) -> None:
    """Through what is there and what is added the flow passes at the allowed pressure."""
    there = 0.3 * relief_area(flow, 0.0, allowed)
    added = relief_area(flow, there, allowed)
    assert door_flow(there + added, allowed) == pytest.approx(flow)


def test_no_pressure_is_allowed_is_refused() -> None:
    """Only an infinite opening keeps a room at zero."""
    with pytest.raises(OutOfRangeError, match=r"^pressure is 0 Pa; the method covers .* Pa$"):
        relief_area(0.05, 0.0, 0.0)


changes = st.floats(-20.0, 20.0)
houses = (st.floats(0.1, 3.0), st.floats(0.5, 1.0))


@given(changes, *houses, st.floats(0.0, 10.0))
def test_flow_and_shift_turn_each_other_round(
    change: float, flow_50: float, exponent: float, spread: float
) -> None:
    """The flow that makes a shift makes that shift."""
    flow = shift_flow(change, flow_50, exponent, spread=spread)
    assert flow_shift(flow, flow_50, exponent, spread=spread) == pytest.approx(change, abs=1e-6)


@given(st.floats(0.1, 20.0), *houses)
def test_without_a_stack_it_is_the_leakage_curve(
    change: float, flow_50: float, exponent: float
) -> None:
    """No spread is the power law; 50 Pa is its own flow."""
    assert shift_flow(change, flow_50, exponent) == pytest.approx(
        flow_50 * (change / 50.0) ** exponent
    )
    assert shift_flow(50, flow_50, exponent) == pytest.approx(flow_50)


@given(st.floats(0.01, 20.0), *houses, st.floats(0.0, 10.0))
def test_a_stack_makes_a_house_stiffer_never_softer(
    change: float, flow_50: float, exponent: float, spread: float
) -> None:
    """Leaks that already carry stack pressure pass less more air for the same shift."""
    assert shift_flow(change, flow_50, exponent, spread=spread) <= shift_flow(
        change, flow_50, exponent
    ) * (1.0 + 1e-9)


@given(st.floats(0.01, 20.0), st.floats(0.1, 3.0), st.floats(0.0, 10.0))
def test_laminar_leaks_do_not_feel_the_stack(change: float, flow_50: float, spread: float) -> None:
    """With an exponent of one everything adds up."""
    assert shift_flow(change, flow_50, 1.0, spread=spread) == pytest.approx(flow_50 * change / 50.0)


@pytest.mark.parametrize(
    ("flow_50", "exponent", "spread", "name"),
    [(0.0, 0.65, 0.0, "flow_50"), (1.0, 0.4, 0.0, "exponent"), (1.0, 0.65, -1.0, "spread")],
)
def test_impossible_houses_are_refused(
    flow_50: float, exponent: float, spread: float, name: str
) -> None:
    """A house without leaks, a wrong exponent or a negative spread is named."""
    with pytest.raises(OutOfRangeError, match=rf"^{name} is .*; the method covers .* to .*$"):
        shift_flow(1.0, flow_50, exponent, spread=spread)
