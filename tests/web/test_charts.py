"""Check that charts say in words, numbers and drawing the same thing."""

from __future__ import annotations

import json

import numpy as np
import pytest

from rooftree.house import Fuel
from rooftree.units import DisplaySystem, Kind
from rooftree.web.charts import monthly_chart
from rooftree.web.energy import MONTHS, FuelYear, kind_of
from rooftree.web.fan_chart import log_ticks

KWH = 3.6e6


def fuel_year(before: float, after: float, largest: int = 0) -> FuelYear:
    """Return a year of electricity with these sums [kWh], most of the change in one month."""
    one, other = np.full(12, before / 12.0), np.full(12, after / 12.0)
    if before != after:
        other[:] = one
        other[largest] += after - before
    return FuelYear(Fuel.ELECTRICITY, Kind.ELECTRICITY, one * KWH, other * KWH)


@pytest.mark.parametrize(
    ("before", "after", "title"),
    [
        (1200.0, 900.0, "Electricity falls by 25 % over the year, most in March."),
        (1200.0, 1500.0, "Electricity rises by 25 % over the year, most in March."),
        (1200.0, 1200.0, "Electricity stays as it is."),
    ],
)
def test_title_states_what_the_months_show(before: float, after: float, title: str) -> None:
    """The title says which way, how far and when, and it is repeated for who cannot see."""
    drawing = monthly_chart(fuel_year(before, after, largest=2), DisplaySystem.IP)
    assert drawing.title == title
    assert drawing.alternative.startswith(title)


def test_table_has_the_numbers_of_the_drawing() -> None:
    """Each month of the drawing stands in the table, in the same unit."""
    drawing = monthly_chart(fuel_year(1200.0, 900.0), DisplaySystem.SI)
    values = drawing.spec["data"]["values"]
    assert [row[0] for row in drawing.rows] == list(MONTHS)
    assert [float(row[1]) for row in drawing.rows] == [round(v["before"]) for v in values]
    assert "kWh" in drawing.columns[1]
    assert sum(v["before"] for v in values) == pytest.approx(1200.0)


def test_description_is_plain_json() -> None:
    """The page's script gets nothing but text, numbers and lists."""
    drawing = monthly_chart(fuel_year(1200.0, 900.0), DisplaySystem.IP)
    assert json.loads(json.dumps(drawing.spec)) == json.loads(json.dumps(dict(drawing.spec)))


def test_fuel_that_is_not_bought_before_has_no_share() -> None:
    """A fuel that only appears with the measures is not divided by zero."""
    year = FuelYear(Fuel.ELECTRICITY, Kind.ELECTRICITY, np.zeros(12), np.full(12, KWH))
    assert year.saved_fraction == 0.0
    assert year.saved == pytest.approx(-12 * KWH)


def test_only_electricity_is_shown_as_electricity() -> None:
    """Fuels are shown by heat content, electricity by the kilowatt-hour."""
    assert kind_of(Fuel.ELECTRICITY) is Kind.ELECTRICITY
    assert {kind_of(fuel) for fuel in Fuel if fuel is not Fuel.ELECTRICITY} == {Kind.FUEL}


@pytest.mark.parametrize(("low", "high"), [(0.9, 1.1), (95.0, 3200.0), (17.0, 23.0)])
def test_ticks_lie_on_the_axis(low: float, high: float) -> None:
    """Every tick of a logarithmic axis lies between its ends."""
    assert all(low <= tick <= high for tick in log_ticks(low, high))
