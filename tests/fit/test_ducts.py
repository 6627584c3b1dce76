"""Check how much the ducts of a house leak."""

from __future__ import annotations

from dataclasses import replace

import pytest

from demo_house import true_house
from fit.random_houses import described_house
from rooftree.fit import duct_leakage
from rooftree.fit.unknowns import UNGUESSED, runs_outside, with_guessed_ducts

HOUSE = true_house()
assert HOUSE.air_handler is not None


def test_leaks_outside_the_living_spaces_count() -> None:
    """Both sides together, in operation; what leaks into the living spaces does not count."""
    assert duct_leakage(HOUSE) == pytest.approx(0.23 * HOUSE.air_handler.flow)  # type: ignore[union-attr]
    assert duct_leakage(described_house()) == pytest.approx(0.21 * 0.5)
    assert duct_leakage(replace(HOUSE, air_handler=None)) == 0.0


def test_nothing_guessed_is_shared_by_surface() -> None:
    """Runs whose leakage nobody guessed share a tenth of the flow by their surface."""
    bare = replace(HOUSE, ducts=tuple(replace(run, leakage=0.0) for run in HOUSE.ducts))
    runs = {run.id: run for run in with_guessed_ducts(bare).ducts}
    ratio = runs["supply-crawl"].leakage / runs["supply-garage"].leakage
    assert ratio == pytest.approx(30.0 / 5.0)
    assert sum(run.leakage for run in runs.values()) == pytest.approx(UNGUESSED)
    assert with_guessed_ducts(HOUSE) is HOUSE


def test_runs_outside() -> None:
    """A run in a living space is not outside."""
    assert [run.id for run in runs_outside(described_house())] == ["supply", "branch", "return"]
