"""Check pressure pans: normalizing, ranking, what they mean, and what is refused."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.readings.duct_pans import (
    DuctPanTest,
    DuctSide,
    PanReading,
    Standing,
    reduce_duct_pans,
)

if TYPE_CHECKING:
    from random import Random


def pans(*pressures: float, house: float = -50.0) -> DuctPanTest:
    """Return a test with one register for each pressure."""
    rows = tuple(PanReading(f"r{i}", p) for i, p in enumerate(pressures))
    return DuctPanTest(house, rows)


def codes(test: DuctPanTest) -> set[str]:
    """Return the codes of the findings."""
    return {finding.code for finding in reduce_duct_pans(test).findings}


@pytest.mark.published(
    source="LBNL, dictionary of building data",
    where='entry "pressure pan": near 0 Pa not connected, from 5 Pa connected to outdoors',
    read="source",
)
@pytest.mark.parametrize(
    ("pressure", "standing"), [(0.0, Standing.TIGHT), (4.9, Standing.SOME), (5.0, Standing.LEAKS)]
)
def test_near_zero_is_inside_and_five_is_connected(pressure: float, standing: Standing) -> None:
    """A run at 0 Pa does not leak to outdoors; from 5 Pa on it does."""
    (pan,) = reduce_duct_pans(pans(pressure)).pans
    assert pan.standing is standing


@pytest.mark.published(
    source="State weatherization field guides",
    where="after sealing 1 Pa or less at each register, house at 50 Pa",
    read="memory",
)
def test_one_pascal_is_the_target() -> None:
    """1.0 Pa is tight, a little more is not."""
    assert [p.standing for p in reduce_duct_pans(pans(1.1, 1.0)).pans] == [
        Standing.SOME,
        Standing.TIGHT,
    ]


def test_house_pressure_means_open_to_outdoors() -> None:
    """A reading like the house's is a run that came off."""
    (pan,) = reduce_duct_pans(pans(50.0)).pans
    assert pan.standing is Standing.OPEN
    assert "duct-pans/open" in codes(pans(50.0))


def test_ratio_of_holes() -> None:
    """5 Pa of 50 with the exponent 0.6 is 0.267 as much hole outside as inside, by hand."""
    (pan,) = reduce_duct_pans(pans(5.0)).pans
    assert pan.ratio is not None
    assert pan.ratio.value == pytest.approx(0.267, abs=1e-3)
    assert pan.ratio.low < 0.267 < pan.ratio.high


@given(st.floats(0.5, 49.0), st.floats(0.3, 1.9))
def test_share_of_the_house_pressure_counts(pressure: float, factor: float) -> None:
    """House and pan pressure lowered alike give the same pressure at 50 Pa."""
    (one,) = reduce_duct_pans(pans(round(pressure, 1))).pans
    (other,) = reduce_duct_pans(pans(round(pressure, 1) * factor, house=-50.0 * factor)).pans
    assert other.normalized.value == pytest.approx(one.normalized.value, abs=1e-9)


def test_space_of_the_ducts_takes_the_place_of_outdoors() -> None:
    """Where the attic stands at half the house pressure, half the reading says the same."""
    half = replace(pans(5.0), space_pressure=-25.0)
    assert reduce_duct_pans(half).pans[0].normalized.value == pytest.approx(10.0)


def test_ranking_ties_what_cannot_be_told_apart() -> None:
    """20 Pa is first; 6.0 and 6.2 Pa share the second place."""
    found = reduce_duct_pans(pans(6.0, 20.0, 6.2, 0.5)).pans
    assert [pan.reading.name for pan in found] == ["r1", "r2", "r0", "r3"]
    assert [pan.rank for pan in found] == [1, 2, 2, 4]


def test_sentence_names_the_worst() -> None:
    """The result names the registers to start at, or says that there is none."""
    assert reduce_duct_pans(pans(6.0, 20.0, 0.2)).says == (
        "2 of 3 runs leak to outdoors; start at r1, r0, and pan again after each repair."
    )
    assert reduce_duct_pans(pans(6.0)).says.startswith("1 of 1 runs leaks")
    assert reduce_duct_pans(pans(2.0)).says == (
        "No run leaks much to outdoors; a little does at r0."
    )
    assert reduce_duct_pans(pans(0.2)).says.startswith("No run shows leakage")


def test_second_reading_is_averaged() -> None:
    """Two readings of one register count with their mean and less doubt."""
    once = pans(6.0)
    twice = DuctPanTest(-50.0, (PanReading("r0", 6.0, again=6.4),))
    assert reduce_duct_pans(twice).pans[0].normalized.value == pytest.approx(6.2)
    one, two = (reduce_duct_pans(test).pans[0].normalized.standard for test in (once, twice))
    assert two == pytest.approx(one / math.sqrt(2.0), rel=0.05)


def test_supply_and_return_of_opposite_sign_mean_a_running_fan() -> None:
    """Readings that change sign with the side are the blower's."""
    rows = (PanReading("bath", -8.0), PanReading("hall", 9.0, DuctSide.RETURN))
    result = reduce_duct_pans(DuctPanTest(-50.0, rows))
    assert [f.code for f in result.findings] == ["duct-pans/air-handler-running"]
    assert result.pans == ()


def test_one_lost_sign_is_told() -> None:
    """One register with the other sign is pointed out by name."""
    (finding,) = reduce_duct_pans(pans(-8.0, -6.0, 7.0)).findings
    assert finding.code == "duct-pans/sign"
    assert finding.says.startswith("r2 read")


@pytest.mark.parametrize(
    ("test", "code"),
    [
        (pans(), "no-readings"),
        (pans(5.0, house=-10.0), "house-pressure"),
        (pans(5.0, house=-0.2), "units"),
        (pans(5.0, house=-500.0), "units"),
        (pans(0.02, 0.034, 0.112), "units"),
        (pans(60.0, 3.0), "beyond-house"),
        (pans(0.1, 0.0, -0.1), "all-zero"),
        (pans(20.0, 21.0, 20.5, 22.0), "all-alike"),
        (replace(pans(5.0), registers=3), "registers-missing"),
        (replace(pans(5.0), air_handler_off=False), "air-handler-running"),
        (replace(pans(5.0), space_pressure=-8.0), "space-inside"),
        (DuctPanTest(-50.0, (PanReading("a", 1.0), PanReading("a", 2.0))), "twice"),
        (DuctPanTest(-50.0, (PanReading("a", 8.0, again=3.0),)), "not-repeating"),
    ],
)
def test_what_looks_wrong_is_a_finding(test: DuctPanTest, code: str) -> None:
    """Each doubt has its code and says what to do."""
    assert f"duct-pans/{code}" in codes(test)


def test_clean_readings_raise_no_doubt() -> None:
    """Six tight registers of a house at 50 Pa leave nothing to say."""
    assert codes(pans(0.8, 0.3, 0.9, 0.7)) == set()


@pytest.mark.parametrize("house", [-15, 100])
def test_ends_of_the_house_pressure_are_taken(house: int) -> None:
    """Exactly 15 and 100 Pa are compared, typed as whole numbers."""
    assert reduce_duct_pans(pans(1, house=house)).pans


@given(st.lists(st.floats(0.0, 45.0), min_size=2, max_size=12), st.randoms(use_true_random=False))
def test_ranking_follows_the_readings_in_any_order(pressures: list[float], random: Random) -> None:
    """A higher pan pressure never ranks below a lower one, in whatever order they were read."""
    test = pans(*pressures)
    if not reduce_duct_pans(test).pans:
        return
    found = reduce_duct_pans(test).pans
    assert [pan.normalized.value for pan in found] == sorted(
        (pan.normalized.value for pan in found), reverse=True
    )
    assert [pan.rank for pan in found] == sorted(pan.rank for pan in found)
    mixed = list(test.pans)
    random.shuffle(mixed)
    again = reduce_duct_pans(replace(test, pans=tuple(mixed))).pans
    assert {pan.reading.name: pan.rank for pan in again} == {
        pan.reading.name: pan.rank for pan in found
    }
