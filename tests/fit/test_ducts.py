"""Check that a duct test's leakage lands in the ducts, all of it and nowhere else."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demo_house import true_house
from rooftree.errors import HouseError, OutOfRangeError
from rooftree.fit.ducts import duct_leakage, fit_duct_leakage

HOUSE = true_house()
assert HOUSE.air_handler is not None
FLOW = HOUSE.air_handler.flow


@given(st.floats(0.0, FLOW))
def test_all_leakage_is_put_in_the_ducts(leakage: float) -> None:
    """The ducts of the fitted house lose exactly what the test found."""
    assert duct_leakage(fit_duct_leakage(HOUSE, leakage)) == pytest.approx(leakage)


def test_each_side_takes_half() -> None:
    """Without a test of each side, supply and return leak alike."""
    fitted = fit_duct_leakage(HOUSE, 0.1)
    supply = sum(run.leakage for run in fitted.ducts if run.side == "supply")
    assert supply * FLOW == pytest.approx(0.05)


def test_nothing_guessed_is_shared_by_surface() -> None:
    """Runs whose leakage nobody guessed share it by their surface."""
    bare = replace(HOUSE, ducts=tuple(replace(run, leakage=0.0) for run in HOUSE.ducts))
    runs = {run.id: run for run in fit_duct_leakage(bare, 0.1).ducts}
    ratio = runs["supply-crawl"].leakage / runs["supply-garage"].leakage
    assert ratio == pytest.approx(30.0 / 5.0)


def test_a_house_without_ducts_is_refused() -> None:
    """A duct test on a house without ducts says what to enter."""
    with pytest.raises(HouseError, match=r"^the house has no air handler .* the duct runs$"):
        fit_duct_leakage(replace(HOUSE, ducts=()), 0.1)


@pytest.mark.parametrize("leakage", [-0.01, FLOW * 1.01])
def test_impossible_leakage_is_refused(leakage: float) -> None:
    """Ducts can lose neither less than nothing nor more than the air handler moves."""
    with pytest.raises(OutOfRangeError, match=r"^duct leakage to outdoors is .* m³/s$"):
        fit_duct_leakage(HOUSE, leakage)
