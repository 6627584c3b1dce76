"""Check the air network against closed solutions, a published network and general solvers."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from bench.network_scipy import path_flows, solve_with_scipy
from hypothesis import given
from hypothesis import strategies as st

from engine.houses import make_house, make_leak, make_space
from engine.on_numbers import on_numbers
from rooftree.engine.network import (
    BALANCED,
    GRAVITY,
    SMOOTHING,
    Balance,
    Network,
    require_paths_outdoors,
    solve_once,
)
from rooftree.engine.power import cube_root, exp2, power
from rooftree.errors import HouseError, OutOfRangeError

if TYPE_CHECKING:
    from numpy.typing import NDArray

CFM = 0.471947e-3
"""One cubic foot a minute [m³/s], as the hand calculations below take it."""

AIR = 1.2041
GAS = 101_325.0 / 287.055


PER_PATH = ("first", "second", "level", "coefficient", "exponent", "wind_pressure")

POWER = on_numbers(power, 2)


def density(celsius: float) -> float:
    """Return the density of dry air at sea level [kg/m³]."""
    return GAS / (celsius + 273.15)


def at(level: float, gravity: float = 9.81) -> float:
    """Return the level at which standard gravity gives the weight that the source has."""
    return level * gravity / GRAVITY


# --- the power function


@given(st.floats(-290.0, 290.0), st.floats(-1.0, 1.0))
def test_power_over_its_whole_range(decade: float, exponent: float) -> None:
    """The polynomials hold the library's power to 1e-11 wherever they may be used."""
    found = POWER(10.0**decade, exponent)[0]
    assert found == pytest.approx(math.pow(10.0**decade, exponent), rel=1e-11)


def test_power_where_leaks_live() -> None:
    """For every pressure and exponent of the leakage law the error is below 3e-12."""
    exponent, decade = np.meshgrid(np.linspace(-0.25, 0.0, 51), np.linspace(-12.0, 12.0, 4001))
    base = 10.0 ** decade.ravel()
    out = POWER(base, exponent.ravel())
    expected = [math.pow(u, a) for u, a in zip(base, exponent.ravel(), strict=True)]
    assert np.abs(out / expected - 1.0).max() < 3e-12


@pytest.mark.parametrize("base", [0.5, 1.0, 2.0, 2.0**0.5, 0.5**0.5, 4.0, 1e-290, 1e290])
def test_power_at_the_seams(base: float) -> None:
    """Nothing happens where one interval of the mantissa meets the next."""
    near = np.array([np.nextafter(base, 0.0), base, np.nextafter(base, np.inf)])
    assert POWER(near, 0.65) == pytest.approx(near**0.65, rel=1e-11)


def test_cube_roots_and_powers_of_two() -> None:
    """Cube roots hold the library's to 6e-10, powers of two to 2e-12."""
    size = 10.0 ** np.linspace(-20.0, 20.0, 4001)
    assert on_numbers(cube_root, 1)(size) == pytest.approx(np.cbrt(size), rel=6e-10)
    assert on_numbers(cube_root, 1)(0.0)[0] == 0.0
    x = np.linspace(-900.0, 900.0, 4001)
    assert on_numbers(exp2, 1)(x) == pytest.approx(np.exp2(x), rel=2e-12)


# --- a published network


@pytest.mark.published(
    source="C. Ghiaus, dm4bem book (INSA Lyon), tutorial A03 Air flow and ventilation",
    where="house with four wall openings and a chimney, no wind",
    read="source",
)
def test_four_openings_and_a_chimney() -> None:
    """The indoor pressure is -4.45 Pa and 0.019, 0.019 and 0.038 kg/s flow, as printed.

    The source puts its zero of height at the openings, 0.5 m above ground.
    """
    hole, chimney = 10.0 / 3600.0, 50.0 / 3600.0
    balance = solve_once(
        [1.191, 1.315],
        [0, 0, 0, 0, 0],
        [1, 1, 1, 1, 1],
        [0.0, 0.0, 0.0, 0.0, at(8.0, 9.8)],
        [hole, hole, hole, hole, chimney],
        [0.64, 0.64, 0.64, 0.64, 0.5],
    )
    assert balance.pressure[0] == pytest.approx(-4.45, abs=0.005)
    north, south, up = balance.flow[:2].sum(), balance.flow[2:4].sum(), balance.flow[4]
    assert [-north, -south, up] == pytest.approx([0.019, 0.019, 0.038], abs=0.0005)
    assert [-north, -south, up] == pytest.approx([0.018991, 0.018991, 0.037982], abs=1e-6)


# --- closed solutions


def orifice(area: float, rho: float) -> float:
    """Return the coefficient of a sharp-edged opening, discharge 0.6 [m³/(s·Pa^0.5)]."""
    return 0.6 * area * math.sqrt(2.0 / rho)


@pytest.mark.parametrize(
    ("low", "high", "neutral", "mass"),
    [
        (0.02, 0.02, 2.8940, 0.0305214),
        (0.02, 0.01, 1.1336, 0.0191021),
        (0.01, 0.02, 4.7307, 0.0195112),
    ],
)
def test_two_openings(low: float, high: float, neutral: float, mass: float) -> None:
    """The neutral level and the flow through two openings 6 m apart, 20 and 0 °C.

    ``h = H / (1 + (A1/A2)² To... )`` follows from equal mass flows through two orifices.
    """
    inside, outside = density(20.0), density(0.0)
    balance = solve_once(
        [inside, outside],
        [0, 0],
        [1, 1],
        [0.0, at(6.0)],
        [orifice(low, outside), orifice(high, inside)],
        [0.5, 0.5],
    )
    per_metre = (outside - inside) * 9.81
    assert -balance.pressure[0] / per_metre == pytest.approx(neutral, abs=1e-4)
    assert -balance.flow[0] == pytest.approx(mass, rel=1e-4)
    assert balance.flow[1] == pytest.approx(mass, rel=1e-4)


def test_pressures_at_two_equal_openings() -> None:
    """The pressures and volume flows at both openings of the first of those cases."""
    inside, outside = density(20.0), density(0.0)
    sizes = [orifice(0.02, outside), orifice(0.02, inside)]
    balance = solve_once([inside, outside], [0, 0], [1, 1], [0.0, at(6.0)], sizes, [0.5, 0.5])
    assert -balance.pressure[0] == pytest.approx(2.5030, abs=1e-4)
    upper = balance.pressure[0] + (outside - inside) * 9.81 * 6.0
    assert upper == pytest.approx(2.6863, abs=1e-4)
    assert -balance.flow[0] / outside == pytest.approx(0.0236186, rel=1e-4)
    assert balance.flow[1] / inside == pytest.approx(0.0253479, rel=1e-4)


@pytest.mark.parametrize(
    ("one", "other", "series", "across"),
    [(50.0, 100.0, 41.2532, 37.1954), (100.0, 100.0, 63.7280, 25.0)],
)
def test_leaks_in_series(one: float, other: float, series: float, across: float) -> None:
    """Two leaks with a space between act like ``(C1^(-1/n) + C2^(-1/n))^-n``."""
    flow = series * 50.0**0.65 * CFM
    balance = solve_once(
        [AIR] * 3, [0, 1], [1, 2], [0.0, 0.0], [one * CFM, other * CFM], [0.65, 0.65],
        supply=[-AIR * flow, 0.0],
    )  # fmt: skip
    assert balance.pressure[0] == pytest.approx(-50.0, rel=1e-4)
    assert balance.pressure[1] - balance.pressure[0] == pytest.approx(across, rel=1e-4)


def test_leaks_side_by_side() -> None:
    """Two leaks that join the same spaces at the same level act like their sum."""
    two = solve_once([AIR] * 2, [0, 0], [1, 1], [1.0, 1.0], [0.01, 0.03], [0.65] * 2, supply=[0.2])
    one = solve_once([AIR] * 2, [0], [1], [1.0], [0.04], [0.65], supply=[0.2])
    assert two.pressure[0] == pytest.approx(one.pressure[0], rel=1e-9)
    assert two.flow.sum() == pytest.approx(one.flow[0], rel=1e-9)


@pytest.mark.parametrize(
    ("flow_50", "exhaust", "pressure"),
    [(2000.0, 150.0, 0.930), (1000.0, 300.0, 7.844), (1500.0, 350.0, 5.329), (800.0, 600.0, 32.12)],
)
def test_exhaust_fan_without_weather(flow_50: float, exhaust: float, pressure: float) -> None:
    """An exhaust fan draws the house to ``50 (Q / Q50)^(1/n)``, n = 0.65."""
    size = flow_50 * CFM / 50.0**0.65
    balance = solve_once([AIR] * 2, [0], [1], [2.0], [size], [0.65], supply=[-exhaust * CFM * AIR])
    assert -balance.pressure[0] == pytest.approx(pressure, rel=1e-3)


@pytest.mark.parametrize(
    ("height", "inside", "outside", "pressure"),
    [(5.0, 20.0, 0.0, 4.324), (5.0, 20.0, -20.0, 9.332), (8.0, 21.0, -10.0, 11.094)],
)
def test_stack_pressure(height: float, inside: float, outside: float, pressure: float) -> None:
    """A space open at the bottom shows the whole stack at its top."""
    balance = solve_once(
        [density(inside), density(outside)],
        [0, 0],
        [1, 1],
        [0.0, at(height)],
        [1.0, 1e-9],
        [0.5, 0.5],
    )
    top = balance.pressure[0] + (density(outside) - density(inside)) * 9.81 * height
    assert top == pytest.approx(pressure, abs=0.002)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals, 2021", where="chapter 16, eq. 24", read="source"
)
def test_stack_about_the_neutral_level() -> None:
    """The pressure is ``(rho_o - rho_i) g (H - H_neutral)`` at every height."""
    inside, outside = density(21.0), density(-5.0)
    sizes = [orifice(0.02, outside), orifice(0.02, inside)]
    balance = solve_once([inside, outside], [0, 0], [1, 1], [0.0, 5.0], sizes, [0.5, 0.5])
    per_metre = (outside - inside) * GRAVITY
    neutral = -balance.pressure[0] / per_metre
    assert 0.0 < neutral < 2.5
    assert per_metre * (5.0 - neutral) == pytest.approx(balance.pressure[0] + 5.0 * per_metre)
    assert per_metre == pytest.approx(outside * (21.0 + 5.0) / (21.0 + 273.15) * GRAVITY)


def test_wind_on_two_sides() -> None:
    """With equal leaks front and back the space takes the mean of the two pressures."""
    balance = solve_once(
        [AIR] * 2, [0, 0], [1, 1], [1.0, 1.0], [0.01, 0.01], [0.65] * 2, wind_pressure=[4.0, -2.0]
    )
    assert balance.pressure[0] == pytest.approx(1.0, abs=1e-6)
    assert balance.flow == pytest.approx([-0.01 * AIR * 3.0**0.65, 0.01 * AIR * 3.0**0.65], 1e-5)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals, 2021", where="chapter 16, eq. 29 to 31", read="source"
)
def test_stack_and_wind_add_at_every_leak() -> None:
    """The inward pressure is ``s² Cp P_U - H P_T - dp_I``: wind, stack and the common shift.

    The handbook counts the stack of a warm house as outward above the level where the
    common shift is read, here the ground.
    """
    inside, outside, speed, shelter = density(20.0), density(-10.0), 6.0, 0.7
    height, coefficient = np.array([0.5, 0.5, 4.0, 4.0]), np.array([0.6, -0.3, 0.6, -0.65])
    wind = shelter**2 * coefficient * 0.5 * outside * speed**2
    size = np.array([0.01, 0.02, 0.015, 0.01])
    balance = solve_once(
        [inside, outside], [0] * 4, [1] * 4, height, size, [0.6] * 4, wind_pressure=wind
    )
    stack = GRAVITY * outside * (20.0 + 10.0) / (20.0 + 273.15) * height
    inward = wind - stack - balance.pressure[0]
    source = np.where(inward > 0.0, outside, inside)
    expected = -np.sign(inward) * source * size * np.abs(inward) ** 0.6
    assert balance.flow == pytest.approx(expected, rel=1e-3)
    assert balance.flow.sum() == pytest.approx(0.0, abs=1e-12)


# --- buffer spaces between house and outdoors

HOLE_60 = 1.057 * 60.0
"""Hole of 60 in² with discharge coefficient 0.60 [cfm/Pa^0.5], as the hand calculation took it."""


def zone(between: float, beyond: float, hole: tuple[int, int] | None = None) -> tuple[float, float]:
    """Return house-to-zone pressure and fan flow with the house held 50 Pa below outdoors."""
    first, second = [0, 1], [1, 2]
    sizes, exponents = [between * CFM / 50.0**0.65, beyond * CFM / 50.0**0.65], [0.65, 0.65]
    if hole is not None:
        first, second = [*first, hole[0]], [*second, hole[1]]
        sizes, exponents = [*sizes, HOLE_60 * CFM], [*exponents, 0.5]
    low, high = 0.0, 5.0
    for _ in range(60):
        fan = 0.5 * (low + high)
        balance = solve_once(
            [AIR] * 3, first, second, [0.0] * len(first), sizes, exponents, supply=[-fan, 0.0]
        )
        low, high = (fan, high) if balance.pressure[0] > -50.0 else (low, fan)
    return float(balance.pressure[1] - balance.pressure[0]), fan / AIR / CFM


def test_pressure_of_a_zone() -> None:
    """400 cfm of leaks into a zone and 1,200 out of it put the zone at 42.212 Pa."""
    pressure, flow = zone(400.0, 1200.0)
    assert pressure == pytest.approx(42.212, abs=0.001)
    assert flow == pytest.approx(358.3, abs=0.1)


@pytest.mark.parametrize(
    ("hole", "pressure", "through", "more"),
    [((0, 1), 30.808, 352.0, 285.7), ((1, 2), 45.661, 132.1, 18.8)],
)
def test_zone_with_a_hole_added(
    hole: tuple[int, int], pressure: float, through: float, more: float
) -> None:
    """60 square inches to the house, or to outdoors, move the zone as worked out by hand."""
    found, flow = zone(400.0, 1200.0, hole)
    assert found == pytest.approx(pressure, abs=0.001)
    assert flow - zone(400.0, 1200.0)[1] == pytest.approx(more, abs=0.1)
    across = found if hole == (0, 1) else 50.0 - found
    assert HOLE_60 * math.sqrt(across) == pytest.approx(through, abs=0.2)


# --- laws, over random networks


@st.composite
def networks(draw: st.DrawFn, most: int = 14) -> dict[str, NDArray[np.float64]]:
    """Draw a network in which every space reaches outdoors, perhaps through others."""
    random = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    spaces = draw(st.integers(1, most))
    paths = draw(st.integers(spaces, 80))
    first = np.concatenate([np.arange(spaces), random.integers(0, spaces, paths - spaces)])
    second = (first + random.integers(1, spaces + 1, paths)) % (spaces + 1)
    for i in range(spaces):  # a chain to outdoors first, so that nothing is cut off
        second[i] = random.choice([spaces, i - 1]) if i else spaces
    return {
        "density": 353.0 / random.uniform(250.0, 325.0, spaces + 1),
        "first": first,
        "second": second,
        "level": random.uniform(-1.0, 9.0, paths),
        "coefficient": 10.0 ** random.uniform(-5.0, 0.0, paths),
        "exponent": random.uniform(0.5, 1.0, paths),
        "wind_pressure": random.uniform(-15.0, 15.0, paths) * random.integers(0, 2),
        "supply": random.uniform(-0.3, 0.3, spaces) * random.integers(0, 2, spaces),
    }


def solve(network: dict[str, NDArray[np.float64]]) -> Balance:
    """Solve a drawn network."""
    return solve_once(**network)  # type: ignore[arg-type]


@given(networks())
def test_air_balances_in_every_space(network: dict[str, NDArray[np.float64]]) -> None:
    """What enters each space leaves it, to rounding in the flows and 1e-6 kg/s by the law."""
    balance = solve(network)
    spaces = balance.pressure.size
    for flows, limit in ((balance.flow, 1e-11), (path_flows(balance.pressure, network), BALANCED)):
        net = np.append(network["supply"], 0.0)
        np.add.at(net, network["first"], -flows)
        np.add.at(net, network["second"], flows)
        assert np.abs(net[:spaces]).max() <= limit


@given(networks(most=8))
def test_agreement_with_a_general_solver(network: dict[str, NDArray[np.float64]]) -> None:
    """A general root finder on the same equations finds the same pressures and flows."""
    balance = solve(network)
    pressure, flow = solve_with_scipy(**network)
    assert balance.flow == pytest.approx(flow, abs=2e-6, rel=1e-6)
    assert path_flows(balance.pressure, network) == pytest.approx(flow, abs=2e-6, rel=1e-6)
    assert pressure.shape == balance.pressure.shape


@given(networks())
def test_turning_a_path_round_turns_its_flow(network: dict[str, NDArray[np.float64]]) -> None:
    """Which side of a path is called first does not matter."""
    there = solve(network)
    back = solve({**network, "first": network["second"], "second": network["first"]})
    assert back.flow == pytest.approx(-there.flow, abs=2e-6)


@given(networks())
def test_reversed_forcing_reverses_every_flow(network: dict[str, NDArray[np.float64]]) -> None:
    """With one density throughout, opposite wind and fans give opposite pressures."""
    network["density"][:] = AIR
    there = solve(network)
    turned = {key: -network[key] for key in ("wind_pressure", "supply")}
    back = solve({**network, **turned})
    assert back.flow == pytest.approx(-there.flow, abs=1e-9)
    assert back.pressure == pytest.approx(
        -there.pressure, abs=1e-9 + 1e-9 * np.abs(there.pressure).max()
    )


@given(networks())
def test_order_of_paths_does_not_matter(network: dict[str, NDArray[np.float64]]) -> None:
    """Paths may come in any order."""
    order = np.random.default_rng(0).permutation(network["first"].size)
    there = solve(network)
    mixed = solve({**network, **{key: network[key][order] for key in PER_PATH}})
    assert mixed.flow == pytest.approx(there.flow[order], abs=2e-6)


@given(networks())
def test_the_solution_is_carried_from_hour_to_hour(
    network: dict[str, NDArray[np.float64]],
) -> None:
    """Starting from the last hour gives the same flows as starting from rest."""
    fixed = {key: network[key] for key in PER_PATH if key != "wind_pressure"}
    carried = Network(network["supply"].size, **fixed)
    for share in (1.0, 0.8, 0.0, -0.5):
        hour = {**network, "wind_pressure": share * network["wind_pressure"]}
        hour["density"] = np.roll(network["density"], 1) if share == 0.8 else network["density"]
        balance = carried.solve(hour["density"], hour["wind_pressure"], hour["supply"])
        assert balance.imbalance <= BALANCED
        assert balance.flow == pytest.approx(solve(hour).flow, abs=2e-6, rel=1e-6)


def test_smooth_law_against_the_sharp_one() -> None:
    """The share by which the smooth law falls short is ``(1 - n)/2 (eps/x)²``."""
    for x in (0.1, 1.0, 50.0):
        flow = AIR * 0.01 * x**0.5
        balance = solve_once([AIR] * 2, [0], [1], [0.0], [0.01], [0.5], supply=[flow])
        short = 0.25 * (SMOOTHING / x) ** 2
        law = AIR * 0.01 * balance.pressure[0] ** 0.5
        assert law / flow - 1.0 == pytest.approx(short, rel=0.05, abs=1e-12)


def test_nothing_drives_nothing_flows() -> None:
    """Without forcing the network rests."""
    balance = solve_once([1.2, 1.2], [0], [1], [3.0], [0.01], [0.65])
    assert balance.pressure.tolist() == [0.0]
    assert balance.flow.tolist() == [0.0]


def test_a_path_without_size_carries_nothing() -> None:
    """A coefficient of zero is a closed opening."""
    balance = solve_once([1.2] * 2, [0, 0], [1, 1], [0, 3], [0.01, 0.0], [0.65, 0.5], supply=[0.1])
    assert balance.flow == pytest.approx([0.1, 0.0])


# --- what cannot be solved


@pytest.mark.parametrize("exponent", [0.499, 1.001, math.nan])
def test_exponent_out_of_range(exponent: float) -> None:
    """A leak between an orifice and laminar flow is all that the law covers."""
    with pytest.raises(OutOfRangeError, match=r"^exponent is .* -; the method covers 0\.5 to 1 -$"):
        solve_once([1.2, 1.2], [0], [1], [0.0], [0.01], [exponent])


@pytest.mark.parametrize("exponent", [0.5, 1])
def test_ends_of_the_range_of_exponents(exponent: float) -> None:
    """An orifice and a laminar crack are both taken."""
    balance = solve_once([1.2, 1.2], [0], [1], [0], [1], [exponent], supply=[1.2])
    assert balance.pressure[0] == pytest.approx(1.0, rel=1e-4)


def test_arrays_with_a_space_cut_off() -> None:
    """Two spaces joined only to each other are refused."""
    with pytest.raises(
        HouseError,
        match=r"^space 1 has no path for air to outdoors, not even through other spaces$",
    ):
        solve_once([1.2] * 4, [0, 1], [3, 2], [0.0, 0.0], [0.01, 0.01], [0.65, 0.65])


def test_house_with_a_space_cut_off() -> None:
    """The message names each space that no air can reach, and the remedy."""
    house = make_house(
        make_space("house"),
        make_space("attic", kind="attic"),
        make_space("garage", kind="garage"),
        leaks=(make_leak("cracks", "house"), make_leak("hatch", "house", "attic", coefficient=0.0)),
    )
    with pytest.raises(
        HouseError,
        match=r"^no air can get from outdoors to The attic, The garage, not even through other "
        r"spaces; add a leak with a coefficient above zero to each$",
    ):
        require_paths_outdoors(house)


def test_house_joined_through_another_space() -> None:
    """A space that breathes only through another one is fine."""
    house = make_house(
        make_space("house"),
        make_space("attic", kind="attic"),
        leaks=(make_leak("cracks", "house"), make_leak("hatch", "house", "attic")),
    )
    require_paths_outdoors(house)


def test_leak_to_nowhere() -> None:
    """A leak must join spaces that the house has."""
    house = make_house(make_space("house"), leaks=(make_leak("odd", "house", "shed"),))
    with pytest.raises(
        HouseError,
        match=r"^leak odd joins shed, which is neither a space of the house nor outdoors; use "
        r"the id of a space$",
    ):
        require_paths_outdoors(house)


def test_leak_to_itself() -> None:
    """A leak must join two different spaces."""
    house = make_house(make_space("house"), leaks=(make_leak("odd", "house", "house"),))
    with pytest.raises(
        HouseError,
        match=r"^leak odd joins house to itself; name the space on its other side$",
    ):
        require_paths_outdoors(house)
