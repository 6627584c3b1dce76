"""Check simulated duct tests: reduced by their methods, they give the true leakage back."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.houses import make_house, make_leak, make_space
from rooftree.engine.duct_paths import Ducts, idle_duct_leaks
from rooftree.engine.duct_tests import (
    Register,
    simulate_delta_q,
    simulate_duct_leakage,
    simulate_duct_pans,
    simulate_duct_subtraction,
)
from rooftree.engine.field_tests import fan_test_flow
from rooftree.errors import HouseError, OutOfRangeError
from rooftree.house import AirHandler, DuctRun, House, LeakKind
from rooftree.readings.duct_leakage import reduce_duct_leakage
from rooftree.readings.duct_leakage_from_house import reduce_delta_q, reduce_duct_subtraction
from rooftree.readings.duct_pans import reduce_duct_pans

FLOW = 0.5
"""Of the air handler [m³/s]."""


def duct_house(
    supply: float = 0.10, back: float = 0.06, inside: float = 0.0, vents: float = 3.0
) -> House:
    """Return a house with ducts in a crawlspace; `vents` is how open that is."""
    return make_house(
        make_space("house"),
        make_space("crawl", kind="crawlspace", floor_level=0.0, height=0.6),
        leaks=(
            make_leak("cracks", "house", coefficient=0.05),
            make_leak("floor", "house", "crawl", coefficient=0.01, level=0.5),
            make_leak("vents", "crawl", coefficient=vents, exponent=0.5, kind=LeakKind.VENT),
        ),
        ducts=(
            DuctRun("supply", "supply", "supply", "crawl", 20.0, 0.7, supply),
            DuctRun("return", "return", "return", "crawl", 10.0, 0.7, back),
            DuctRun("boots", "boots", "supply", "house", 2.0, 0.7, inside),
        ),
        air_handler=AirHandler("crawl", FLOW, 400.0),
    )


leaks = st.floats(0.02, 0.12)
"""Shares of the flow; beyond, open registers no longer keep the ducts at house pressure."""


@given(leaks, leaks, leaks)
@settings(max_examples=8)
def test_duct_fan_gives_the_leakage_back(supply: float, back: float, inside: float) -> None:
    """Total and leakage to outdoors at 25 Pa, under a crawlspace that is open to outdoors."""
    house = duct_house(supply, back, inside)
    whole = reduce_duct_leakage(simulate_duct_leakage(house, to_outdoors=False))
    out = reduce_duct_leakage(simulate_duct_leakage(house, to_outdoors=True))
    assert whole.flow_25 is not None
    assert out.flow_25 is not None
    assert whole.flow_25.value == pytest.approx((supply + back + inside) * FLOW, rel=0.01)
    assert out.flow_25.value == pytest.approx((supply + back) * FLOW, rel=0.01)


def test_another_pressure_gives_the_same_leakage() -> None:
    """A duct fan that only reaches 15 Pa finds the same leakage at 25 Pa."""
    house = duct_house()
    read = [
        reduce_duct_leakage(simulate_duct_leakage(house, to_outdoors=True, pressure=pressure))
        for pressure in (15.0, 25.0)
    ]
    flows = [one.flow_25.value for one in read if one.flow_25]
    assert flows[0] == pytest.approx(flows[1], rel=5e-3)


def test_a_tight_crawlspace_takes_less_than_outdoors() -> None:
    """Pressed up by the house, it takes less; its own pressure corrects most of that."""
    test = simulate_duct_leakage(duct_house(vents=0.05), to_outdoors=True)
    assert test.space_pressure is not None
    assert test.space_pressure > 3.0
    assert test.flow < 0.9 * 0.16 * FLOW
    result = reduce_duct_leakage(test)
    assert result.flow_25 is not None
    assert result.flow_25.value == pytest.approx(0.16 * FLOW, rel=0.02)


@given(leaks, leaks)
@settings(max_examples=8)
def test_subtraction_gives_the_leakage_back(supply: float, inside: float) -> None:
    """Fan tests with registers open and sealed, with the pressure of the sealed ducts."""
    house = duct_house(supply, 0.06, inside)
    test = simulate_duct_subtraction(house)
    found = reduce_duct_subtraction(test)
    assert found.flow_25 is not None
    assert found.flow_25.value == pytest.approx((supply + 0.06) * FLOW, rel=0.04)
    assert test.duct_pressure is not None
    assert -50.0 < test.duct_pressure < 0.0


def test_open_registers_keep_the_ducts_at_house_pressure() -> None:
    """The fan test with registers open counts the whole duct leak; sealed, only a part."""
    house = duct_house(inside=0.05)
    out, open_, sealed = (fan_test_flow(house, 50.0, ducts=ducts).flow for ducts in Ducts)
    leak = 0.16 * FLOW * 2.0**0.6
    assert open_ - out == pytest.approx(leak, rel=0.03)
    assert out < sealed < open_


def test_idle_ducts_as_leaks_of_the_house() -> None:
    """As plain leaks of the house they add what the open ducts add."""
    house = duct_house()
    with_leaks = replace(house, leaks=(*house.leaks, *idle_duct_leaks(house)))
    by_ducts = fan_test_flow(house, 50.0, ducts=Ducts.OPEN).flow
    assert fan_test_flow(with_leaks, 50.0).flow == pytest.approx(by_ducts, rel=0.01)
    assert idle_duct_leaks(replace(house, air_handler=None)) == ()


@given(leaks, leaks)
@settings(max_examples=6)
def test_air_handler_off_and_on_gives_both_sides_back(supply: float, back: float) -> None:
    """The change of the fan's flow tells supply and return leakage in operation.

    Within 2.5 % of the air handler's flow, as published of the method (Walker et al., LBNL,
    2002): it takes the ducts to keep their pressure against the house, which they do not quite.
    """
    test = simulate_delta_q(duct_house(supply, back))
    assert test.supply_pressure == pytest.approx(25.0, rel=0.1)
    assert test.return_pressure == pytest.approx(25.0, rel=0.1)
    found = reduce_delta_q(test)
    assert found.supply is not None
    assert found.return_ is not None
    assert found.supply.value == pytest.approx(supply * FLOW, abs=0.025 * FLOW)
    assert found.return_.value == pytest.approx(back * FLOW, abs=0.025 * FLOW)


def test_the_pan_finds_the_leaking_branch() -> None:
    """A branch with a large leak stands far from the house, a tight one at its pressure."""
    house = duct_house()
    registers = (
        Register("bath", "supply", 0.02),
        Register("bedroom", "supply", 0.70),
        Register("hall", "return", 0.20),
    )
    test = simulate_duct_pans(house, registers)
    found = reduce_duct_pans(test)
    assert [pan.reading.name for pan in found.pans] == ["bedroom", "hall", "bath"]
    assert test.registers == 3
    hole = 0.7 * 0.10 * FLOW
    pressure = -test.pans[1].pressure
    through_leak = hole * ((50.0 - pressure) / 25.0) ** 0.6
    assert through_leak == pytest.approx(0.05 * math.sqrt(pressure / 25.0), rel=0.02)


def test_pans_of_a_tight_system_read_nothing() -> None:
    """Without a leak in the branch the pan shows nothing."""
    house = duct_house(0.001, 0.001)
    test = simulate_duct_pans(house, (Register("bath", "supply", 0.0),))
    assert test.pans[0].pressure == pytest.approx(0.0, abs=0.1)


def test_signs_of_pressurization() -> None:
    """Held above outdoors, the house gives the same leakage by subtraction."""
    down, up = (simulate_duct_subtraction(duct_house(), sign * 50.0) for sign in (-1.0, 1.0))
    assert up.flow_open == pytest.approx(down.flow_open, rel=1e-6)
    assert up.duct_pressure == pytest.approx(-(down.duct_pressure or 0.0), rel=1e-6)


def test_a_house_without_ducts_is_refused() -> None:
    """Each duct test says what to enter."""
    bare = replace(duct_house(), ducts=())
    message = r"^the house has no air handler with a flow and no duct runs, .* the duct runs$"
    for test in (simulate_duct_subtraction, simulate_delta_q):
        with pytest.raises(HouseError, match=message):
            test(bare)
    with pytest.raises(HouseError, match=message):
        simulate_duct_leakage(bare, to_outdoors=True)


def test_numbers_out_of_range_are_refused() -> None:
    """Pressures, shares and names outside what a test has are refused by name."""
    house = duct_house()
    with pytest.raises(OutOfRangeError, match=r"^duct pressure is 0 Pa; the method covers 0 to "):
        simulate_duct_leakage(house, to_outdoors=True, pressure=0)
    with pytest.raises(OutOfRangeError, match=r"^house pressure is 101 Pa; "):
        simulate_duct_subtraction(house, 101.0)
    with pytest.raises(OutOfRangeError, match=r"^house pressure is 0 Pa; "):
        simulate_delta_q(house, (10.0, 0.0))
    with pytest.raises(OutOfRangeError, match=r"^share of bath is 1\.5 -; "):
        simulate_duct_pans(house, (Register("bath", "supply", 1.5),))
    with pytest.raises(HouseError, match=r"^register bath names the duct run attic, which the "):
        simulate_duct_pans(house, (Register("bath", "attic", 0.5),))
