"""Check zones whose two boundaries have different exponents, and openings of every kind."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from rooftree.errors import OutOfRangeError
from rooftree.physics.openings import opening_flow
from rooftree.readings.zone_pressures import (
    AddedHoleTest,
    Boundary,
    OpenedHatchTest,
    ZonePressureTest,
    reduce_added_hole,
    reduce_opened_hatch,
    reduce_zone_pressure,
)
from rooftree.readings.zone_pressures.division import divide_pressure, leakage_ratio, path_share
from rooftree.readings.zone_pressures.holes import leaks_with_opened_hatch

exponents = st.floats(0.5, 1.0)
HOUSE, OUTDOORS = 0.2, 0.5  # m³/s at 50 Pa
N, M = 0.68, 0.52


def stands(house: float, outdoors: float, whole: float = 50.0, to_house: float = 0.0) -> float:
    """Return the zone pressure by another solver, with a hole to the house open."""

    def surplus(p: float) -> float:
        into = house * (p / 50.0) ** N + opening_flow(to_house, p)
        return into - outdoors * ((whole - p) / 50.0) ** M

    return float(brentq(surplus, 0.0, whole, xtol=1e-12))


@given(st.floats(0.01, 100.0), st.floats(15.0, 100.0), exponents, exponents)
def test_division_balances_the_zone(ratio: float, whole: float, n: float, m: float) -> None:
    """The pressure found passes as much through one leak as through the other."""
    p = float(divide_pressure(ratio, whole, n, m))
    assert 0.0 < p < whole
    assert leakage_ratio(p, whole, n, m) == pytest.approx(ratio, rel=1e-8)


@given(st.lists(st.floats(0.01, 100.0), min_size=1, max_size=5))
def test_division_takes_many_at_once(ratios: list[float]) -> None:
    """An array gives what its members give alone."""
    together = divide_pressure(ratios, 50.0, N, M)
    alone = [float(divide_pressure(ratio, 50.0, N, M)) for ratio in ratios]
    assert np.allclose(together, alone, rtol=1e-12)


def test_division_agrees_with_another_solver() -> None:
    """Newton's method and bracketing find one pressure."""
    assert float(divide_pressure(OUTDOORS / HOUSE, 50.0, N, M)) == pytest.approx(
        stands(HOUSE, OUTDOORS), abs=1e-9
    )


def test_ratio_without_a_leak_is_refused() -> None:
    """A zone without a leak to outdoors has no pressure between the two."""
    with pytest.raises(OutOfRangeError, match=r"^ratio is 0 -; the method covers 0 to inf -$"):
        divide_pressure(0.0, 50.0, 0.65, 0.65)


@given(st.floats(5.0, 45.0), exponents, exponents)
def test_path_at_another_house_pressure(pressure: float, n: float, m: float) -> None:
    """The share of the path at 50 Pa is the same whatever pressure the house was held at."""
    ratio = leakage_ratio(pressure, 50.0, n, m)
    low = float(divide_pressure(ratio, 30.0, n, m))
    assert path_share(low, 30.0, n, m) == pytest.approx(path_share(pressure, 50.0, n, m), rel=1e-6)


def test_equal_exponents_are_independent() -> None:
    """One number for both exponents still leaves each its own doubt: the middle is not sharp."""
    sharp = ZonePressureTest("attic", -50.0, -25.0, pressure_uncertainty=1e-6)
    ratio = reduce_zone_pressure(sharp).ratio
    assert ratio is not None
    assert ratio.value == pytest.approx(1.0)
    assert ratio.standard == pytest.approx(0.057 * 2**0.5 * 0.6931, rel=0.05)


def test_added_hole_with_two_exponents() -> None:
    """Readings of a zone with two exponents give both leaks back."""
    before, after = stands(HOUSE, OUTDOORS), stands(HOUSE, OUTDOORS, to_house=0.04)
    test = AddedHoleTest(
        "zone", -50.0, -before, Boundary.HOUSE, 0.04, -after, exponent=N, outdoor_exponent=M,
        closed=True,
    )  # fmt: skip
    result = reduce_added_hole(test)
    assert result.house_50 is not None
    assert result.outdoors_50 is not None
    assert result.house_50.value == pytest.approx(HOUSE, rel=1e-6)
    assert result.outdoors_50.value == pytest.approx(OUTDOORS, rel=1e-6)


def test_house_not_held_is_allowed_for_and_told() -> None:
    """With the house at 44 Pa after the hole was opened the leaks still come back."""
    before = stands(HOUSE, OUTDOORS)
    after = stands(HOUSE, OUTDOORS, whole=44.0, to_house=0.04)
    test = AddedHoleTest(
        "zone", -50.0, -before, Boundary.HOUSE, 0.04, -after, house_pressure_after=-44.0,
        exponent=N, outdoor_exponent=M, closed=True,
    )  # fmt: skip
    result = reduce_added_hole(test)
    assert result.house_50 is not None
    assert result.house_50.value == pytest.approx(HOUSE, rel=1e-6)
    assert [f.code for f in result.findings] == ["zone-pressure/not-held"]


def test_door_wide_open_to_the_house() -> None:
    """With a door open the zone stands at house pressure and all of its outer leak is gained."""
    before = stands(HOUSE, OUTDOORS)
    gained = OUTDOORS - OUTDOORS * ((50.0 - before) / 50.0) ** M
    house, outdoors = leaks_with_opened_hatch(before, 0.0, gained, 50.0, N, outdoor_exponent=M)
    assert house * 50.0**N == pytest.approx(HOUSE, rel=1e-9)
    assert outdoors * 50.0**M == pytest.approx(OUTDOORS, rel=1e-9)
    test = OpenedHatchTest(
        "basement", -50.0, -before, -0.1, 1.0, 1.0 + gained, exponent=N, outdoor_exponent=M,
        closed=True,
    )  # fmt: skip
    result = reduce_opened_hatch(test)
    assert result.outdoors_50 is not None
    assert result.outdoors_50.value == pytest.approx(OUTDOORS, rel=0.02)


def test_garage_door_open_to_outdoors() -> None:
    """With the garage door open the house side alone resists: the fan's gain gives its leak."""
    before = stands(HOUSE, OUTDOORS)
    gained = HOUSE * (1.0 - (before / 50.0) ** N)
    test = OpenedHatchTest(
        "garage", -50.0, -before, -50.0, 1.0, 1.0 + gained, exponent=N, outdoor_exponent=M,
        boundary=Boundary.OUTDOORS, closed=True, repeatability=0.001,
    )  # fmt: skip
    result = reduce_opened_hatch(test)
    assert result.house_50 is not None
    assert result.house_50.value == pytest.approx(HOUSE, rel=1e-3)
    assert result.says.startswith("With the house at 50 Pa ")


def test_hatch_area_that_disagrees_is_told() -> None:
    """A hatch that passes three times what its area lets through was not alone."""
    before, after = stands(HOUSE, OUTDOORS), stands(HOUSE, OUTDOORS, to_house=0.06)
    outer = OUTDOORS * (((50.0 - after) / 50.0) ** M - ((50.0 - before) / 50.0) ** M)
    test = OpenedHatchTest(
        "zone", -50.0, -before, -after, 1.0, 1.0 + outer, exponent=N, outdoor_exponent=M,
        closed=True, area=0.06,
    )  # fmt: skip
    assert reduce_opened_hatch(test).findings == ()
    wrong = reduce_opened_hatch(replace(test, area=0.02)).findings
    assert [f.code for f in wrong] == ["zone-pressure/hole-disagrees"]


def test_closing_is_proved_by_the_pressure() -> None:
    """A zone that does not read as before after closing is still open, whatever was ticked."""
    before, after = stands(HOUSE, OUTDOORS), stands(HOUSE, OUTDOORS, to_house=0.04)
    test = AddedHoleTest(
        "zone", -50.0, -before, Boundary.HOUSE, 0.04, -after, closed=True, pressure_closed=-before
    )
    assert reduce_added_hole(test).findings == ()
    still = reduce_added_hole(replace(test, pressure_closed=-after)).findings
    assert [f.code for f in still] == ["zone-pressure/not-restored"]
    assert "Almost certain" in still[0].says
