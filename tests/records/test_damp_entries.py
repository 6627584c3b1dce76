"""Moisture readings and duct runs survive being written in the job file."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from demo_tests import duct_heat, moisture
from rooftree.records.document import read_test
from rooftree.records.document import test_entry as entry_of
from rooftree.units import DisplaySystem

if TYPE_CHECKING:
    from types import ModuleType


def near(one: Any, other: Any) -> bool:
    """Return whether two readings are the same within what a file keeps of a number."""
    if dataclasses.is_dataclass(one):
        names = [field.name for field in dataclasses.fields(one)]
        return all(near(getattr(one, name), getattr(other, name)) for name in names)
    if isinstance(one, tuple):
        return len(one) == len(other) and all(map(near, one, other))
    if isinstance(one, float):
        return one == pytest.approx(other, rel=2e-5, abs=1e-6)
    return bool(one == other)


@pytest.mark.parametrize("module", [moisture, duct_heat])
@pytest.mark.parametrize("system", list(DisplaySystem))
def test_the_entry_gives_the_reading_back(module: ModuleType, system: DisplaySystem) -> None:
    """Written in either system of units and read again, every row and choice is the same."""
    test = next(module.tests(None, np.random.default_rng(5)))
    back = read_test(entry_of(test, system))
    assert near(test.reading, back)
