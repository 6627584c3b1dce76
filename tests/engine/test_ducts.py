"""Check ducts against the delivery effectiveness of the trade's method and against conservation."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.ranch import CRAWL, GARAGE, ranch
from rooftree.engine.ducts import duct_balance, supply_shares
from rooftree.engine.moist import HEAT_OF_AIR
from rooftree.errors import HouseError
from rooftree.house import DuctRun

SQUARE_FOOT, R_UNIT, KELVIN = 0.09290304, 0.1761102, 1.0 / 1.8
STREAM = 1.08 * 1200.0 * 0.5275279  # heat of 1200 cfm per kelvin [W/K]


def ducted(supply_leak: float, return_leak: float, supply_r: float = 6.0) -> tuple[DuctRun, ...]:
    """Return ducts of 486 and 90 square feet in the crawlspace."""
    return (
        DuctRun("s", "s", "supply", CRAWL, 486.0 * SQUARE_FOOT, supply_r * R_UNIT, supply_leak),
        DuctRun("r", "r", "return", CRAWL, 90.0 * SQUARE_FOOT, supply_r * R_UNIT, return_leak),
    )


def delivered_share(ducts: tuple[DuctRun, ...]) -> float:
    """Return delivery effectiveness at 68 °F inside, 32 °F at the ducts, 50 °F rise."""
    house = replace(ranch(), ducts=ducts)
    balance = duct_balance(house, STREAM / HEAT_OF_AIR)
    warmth = np.array([36.0 * KELVIN if s.kind == "living" else 0.0 for s in house.spaces])
    capacity = STREAM * 50.0 * KELVIN
    reaching = balance.heat_shares * capacity + STREAM * (balance.heat @ warmth)
    living = [s.kind == "living" for s in house.spaces]
    return float(reaching[living].sum()) / capacity


@pytest.mark.parametrize(
    ("ducts", "effectiveness"),
    [
        (ducted(0.10, 0.05), 0.76912),
        (ducted(0.03, 0.03, 8.0), 0.86802),
    ],
)
def test_delivery_effectiveness(ducts: tuple[DuctRun, ...], effectiveness: float) -> None:
    """A chain of return conduction, leak, coil, supply conduction, leak, worked by hand."""
    assert delivered_share(ducts) == pytest.approx(effectiveness, abs=1e-4)


@given(
    st.floats(0.0, 0.4), st.floats(0.0, 0.4), st.floats(0.1, 3.0), st.floats(0.0, 60.0),
    st.lists(st.floats(250.0, 330.0), min_size=6, max_size=6),
)  # fmt: skip
def test_ducts_neither_make_nor_lose_heat(
    supply_leak: float, return_leak: float, resistance: float, area: float, warmth: list[float]
) -> None:
    """What spaces gain is what the air that they exchange brings; shares sum to one."""
    ducts = (
        DuctRun("a", "a", "supply", CRAWL, area, resistance, supply_leak),
        DuctRun("b", "b", "supply", GARAGE, 5.0, resistance, 0.05),
        DuctRun("c", "c", "return", CRAWL, area, resistance, return_leak),
    )
    balance = duct_balance(replace(ranch(), ducts=ducts), 0.6)
    temperature = np.array(warmth)
    gained = float((balance.heat @ temperature).sum() + balance.net_supply @ temperature)
    assert gained == pytest.approx(0.0, abs=1e-9)
    assert float(balance.net_supply.sum()) == pytest.approx(0.0, abs=1e-12)
    for shares in (balance.heat_shares, balance.latent_shares, balance.return_mix):
        assert float(shares.sum()) == pytest.approx(1.0)
        assert np.all(shares >= 0.0)
    assert np.allclose(balance.heat.sum(axis=1), 0.0, atol=1e-12)
    assert np.allclose(balance.vapor.sum(axis=1), 0.0, atol=1e-12)


def test_tight_insulated_ducts_lose_nothing() -> None:
    """Without leaks and without conduction all the heat reaches the living spaces."""
    assert delivered_share(()) == pytest.approx(1.0)


def test_ducts_that_lose_everything_are_refused() -> None:
    """Leaks of all of the flow are refused with the share named."""
    house = replace(ranch(), ducts=(DuctRun("s", "s", "supply", CRAWL, 1.0, 1.0, 1.0),))
    with pytest.raises(
        HouseError,
        match=r"^the supply ducts leak 100% of the air handler's flow; "
        r"the parts must sum to less than all of it$",
    ):
        duct_balance(house, 0.6)


def test_shares_by_floor_area_unless_given() -> None:
    """Rooms that say nothing share what the others leave, by floor area."""
    house = ranch()
    supply, back = supply_shares(house)
    assert supply.tolist() == pytest.approx([0.5, 0.3125, 0.1875, 0.0, 0.0, 0.0])
    assert np.array_equal(supply, back)
    bonus = replace(house.spaces[2], supply_share=0.1, return_share=0.0)
    house = replace(house, spaces=(*house.spaces[:2], bonus, *house.spaces[3:]))
    supply, back = supply_shares(house)
    assert supply[:3].tolist() == pytest.approx([0.9 * 8 / 13, 0.9 * 5 / 13, 0.1])
    assert back[:3].tolist() == pytest.approx([8 / 13, 5 / 13, 0.0])
