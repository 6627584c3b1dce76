"""Check the balance of air of house and zone."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.engine.network import solve_once
from rooftree.physics.openings import SHARP_EDGE, opening_flow
from rooftree.readings.worst_case import Envelope, zone_pressure
from rooftree.readings.worst_case.balance import opening_pressure, stack_of_house

CFM = 0.3048**3 / 60.0

envelopes = st.builds(
    Envelope, st.floats(0.01, 0.3), st.floats(0.5, 1.0), st.floats(0.01, 0.5),
    st.just(0.0) | st.floats(0.0, 4.0),
)  # fmt: skip
flows = st.floats(0.0, 0.5)


@pytest.mark.parametrize(
    ("net", "flow_50", "pressure"),
    [(150, 3000, 0.50), (300, 1500, 4.20), (300, 1000, 7.84), (200, 800, 5.93), (450, 1500, 7.84)],
)
def test_depth_of_a_house_without_weather(net: float, flow_50: float, pressure: float) -> None:
    """Flow over coefficient to the power 1/n, in any unit of flow, to 0.02 Pa."""
    envelope = Envelope(flow_50 * CFM / 50.0**0.65, 0.65)
    assert envelope.depth(net * CFM) == pytest.approx(pressure, abs=0.02)


@pytest.mark.parametrize(("pressure", "allowed"), [(2, 185.1), (3, 240.9), (5, 335.8)])
def test_exhaust_that_a_depth_allows(pressure: float, allowed: float) -> None:
    """The leakage curve itself, for 1500 cfm at 50 Pa, to 0.2 cfm."""
    envelope = Envelope(1500.0 / 50.0**0.65, 0.65)
    assert envelope.inflow(pressure) == pytest.approx(allowed, abs=0.2)


@given(envelopes, st.floats(-0.5, 0.5))
def test_depth_is_the_inverse_of_inflow(envelope: Envelope, flow: float) -> None:
    """What leaks in at the depth found is the flow asked for, and the other sign mirrors it."""
    depth = envelope.depth(flow)
    assert envelope.inflow(depth) == pytest.approx(flow, abs=1e-7)
    assert envelope.depth(-flow) == pytest.approx(-depth, abs=1e-6)


@given(envelopes, flows, flows, st.floats(0.005, 0.2))
def test_more_exhaust_raises_no_pressure(
    envelope: Envelope, flow: float, more: float, door: float
) -> None:
    """Drawing more from house or zone never lifts the zone: why every fan runs."""
    least = zone_pressure(envelope, flow, 0.0, door)
    assert zone_pressure(envelope, flow + more, 0.0, door) <= least + 1e-4
    assert zone_pressure(envelope, flow, more, door) <= least + 1e-4


@given(envelopes, flows)
def test_wide_door_makes_one_space(envelope: Envelope, flow: float) -> None:
    """A door of a hundred square metres is no door.

    At the pressures of a house; at a thousand pascals even its own drop is 0.02 Pa.
    """
    wide = zone_pressure(envelope, flow, 0.0, 100.0)
    assert wide == pytest.approx(zone_pressure(envelope, flow), abs=0.01, rel=3e-5)


@given(st.floats(0.02, 0.2), st.floats(0.5, 0.9), st.floats(0.02, 0.4), flows, st.floats(0.0, 0.1),
       st.floats(0.01, 0.1))  # fmt: skip
def test_two_spaces_agree_with_the_network(
    coefficient: float, exponent: float, share: float, house: float, zone: float, door: float
) -> None:
    """As the solver of the year has it, to 0.02 Pa: that one smooths the law near zero."""
    per_area = SHARP_EDGE * math.sqrt(2.0 / 1.2041)
    balance = solve_once(
        [1.2041] * 3, [0, 1, 0], [2, 2, 1], [0.0] * 3,
        [(1.0 - share) * coefficient, share * coefficient, door * per_area],
        [exponent, exponent, 0.5], supply=[-house * 1.2041, -zone * 1.2041],
    )  # fmt: skip
    got = zone_pressure(Envelope(coefficient, exponent, share), house, zone, door)
    assert got == pytest.approx(float(balance.pressure[1]), rel=2e-3, abs=0.02)


@given(st.floats(0.0, 0.5), st.floats(0.001, 1.0))
def test_opening_pressure_is_the_inverse_of_its_flow(flow: float, area: float) -> None:
    """The pressure found passes the flow asked for."""
    assert opening_flow(area, opening_pressure(flow, area)) == pytest.approx(flow, abs=1e-9)


def test_stack_needs_all_three() -> None:
    """Without a temperature or a height there is no stack; else 0.29 of the height counts."""
    assert stack_of_house(None, 293.15, 273.15) == 0.0
    assert stack_of_house(5.0, 293.15, None) == 0.0
    assert stack_of_house(5.0, 293.15, 273.15) == pytest.approx(4.324 / (2 * 3**0.5), abs=1e-3)
