"""Check what a simulated year says about itself."""

from __future__ import annotations

import numpy as np
import pytest

from rooftree.engine.judge import (
    LARGEST_HEAT_ERROR,
    LARGEST_IMBALANCE,
    MOST_UNMET_HOURS,
    judge_year,
)
from rooftree.engine.results import YearResult


def year(
    *, air: float = 0.0, heat: float = 0.0, unmet_heating: int = 0, unmet_cooling: int = 0
) -> YearResult:
    """Return a year without a house, of which only the balances matter."""
    none = np.zeros(0)
    return YearResult(
        space_ids=(),
        leak_ids=(),
        element_ids=(),
        energy={},
        heating_load=0.0,
        cooling_load=0.0,
        peak_heating=0.0,
        peak_cooling=0.0,
        unmet_heating_hours=unmet_heating,
        unmet_cooling_hours=unmet_cooling,
        mean_infiltration=0.0,
        source_shares={},
        entering=np.zeros((0, 1)),
        mean_temperature=none,
        minimum_temperature=none,
        maximum_temperature=none,
        mean_relative_humidity=none,
        hours_above_80_percent=np.zeros(0, dtype=np.int64),
        heat_balance_error=heat,
        mass_residual=air,
    )


def test_a_year_at_its_limits_says_nothing() -> None:
    """Each limit itself is still allowed."""
    at_limits = year(
        air=LARGEST_IMBALANCE,
        heat=LARGEST_HEAT_ERROR,
        unmet_heating=MOST_UNMET_HOURS,
        unmet_cooling=MOST_UNMET_HOURS,
    )
    assert judge_year(at_limits) == ()


@pytest.mark.parametrize(
    ("beyond", "code", "value"),
    [
        (year(air=2e-4), "year/air-balance", 2e-4),
        (year(heat=0.01), "year/heat-balance", 0.01),
        (year(unmet_heating=301), "year/unmet-heating", 301.0),
        (year(unmet_cooling=524), "year/unmet-cooling", 524.0),
    ],
)
def test_beyond_a_limit_is_noted(beyond: YearResult, code: str, value: float) -> None:
    """One finding, with its value, its limit and where the limit is from."""
    (found,) = judge_year(beyond)
    assert (found.code, found.value) == (code, value)
    assert found.limit is not None
    assert value > found.limit
    assert found.source
