"""Check the hours of a year as columns: all are there, named, and agree with the year."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING

import numpy as np
import pytest

from rooftree.actions import hours
from rooftree.actions.hours import hourly_columns
from rooftree.actions.simulation import simulate_job
from rooftree.actions.year import weather_of

if TYPE_CHECKING:
    from typing import Any

    from numpy.typing import NDArray

    from rooftree.job import Job


@pytest.fixture
def columns(job: Job) -> dict[str, NDArray[Any]]:
    """Return the columns of the demo's year."""
    return hourly_columns(simulate_job(job), weather_of(job))


def test_all_columns_have_a_row_for_each_hour(columns: dict[str, NDArray[Any]]) -> None:
    """None is shorter, and time goes on hour by hour."""
    assert {column.shape for column in columns.values()} == {(8760,)}
    assert set(np.diff(columns["hour_begins"]).astype(int)) == {3600}


def test_names_end_in_a_unit(columns: dict[str, NDArray[Any]]) -> None:
    """What carries no unit is a share from 0 to 1, or the time."""
    units = ("_degC", "_kg_per_kg", "_Pa", "_m_per_s", "_deg", "_W", "_W_per_m2", "_kg_per_s",
             "_m3_per_s")  # fmt: skip
    bare = {name.partition(".")[2] for name in columns if not name.endswith(units)}
    assert bare == {"", "relative_humidity", "air_handler_runtime"}


def test_shares_are_shares(columns: dict[str, NDArray[Any]]) -> None:
    """Run time never leaves 0 to 1; air never holds more than a trace above saturation."""
    assert columns["house.air_handler_runtime"].min() >= 0.0
    assert columns["house.air_handler_runtime"].max() <= 1.0
    for name, column in columns.items():
        if name.endswith(".relative_humidity"):
            assert column.min() > 0.0
            assert column.max() < 1.1


def test_columns_agree_with_the_year(job: Job, columns: dict[str, NDArray[Any]]) -> None:
    """Means, extremes and shares of air follow from the columns."""
    year = simulate_job(job)
    for k, space in enumerate(year.space_ids):
        air = columns[f"{space}.air_degC"] + 273.15
        assert air.mean() == pytest.approx(year.mean_temperature[k], abs=1e-6)
        assert air.max() == pytest.approx(year.maximum_temperature[k], abs=1e-6)
    entered = {
        origin: columns[f"living.air_from_{origin}_kg_per_s"].sum()
        for origin in year.share_of_air("living")
    }
    total = sum(entered.values())
    for origin, share in year.share_of_air("living").items():
        assert entered[origin] / total == pytest.approx(share, abs=1e-9)


def test_every_field_of_the_year_is_told(job: Job) -> None:
    """No hourly value of the engine is left out of the file."""
    hourly = simulate_job(job).hourly
    assert hourly is not None
    told = {
        field
        for table in (hours._OF_HOUSE, hours._OF_SPACES, hours._OF_ELEMENTS)
        for _, field in table
    }
    assert told | {"leak_flow", "entering", "bought"} == {field.name for field in fields(hourly)}
