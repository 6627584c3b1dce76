"""Check the fan table as a curve: through its points, never outside them, never past its ends."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from rooftree.errors import NotEnoughDataError, OutOfRangeError
from rooftree.readings.air_handler import FanCurvePoint
from rooftree.readings.air_handler.fan_curve import (
    falls_throughout,
    follow_fan_curve,
    interpolate_fan_curve,
)


@st.composite
def tables(draw: st.DrawFn) -> list[FanCurvePoint]:
    """Draw a falling table of two to eight lines."""
    steps = draw(st.lists(st.floats(5.0, 80.0), min_size=2, max_size=8))
    falls = draw(st.lists(st.floats(0.0, 0.2), min_size=len(steps), max_size=len(steps)))
    static = np.cumsum(steps)
    flow = 2.0 - np.cumsum(falls)
    return [FanCurvePoint(float(p), float(q)) for p, q in zip(static, flow, strict=True)]


@given(tables(), st.floats(0.0, 1.0))
def test_it_is_the_shape_preserving_spline(table: list[FanCurvePoint], share: float) -> None:
    """It gives what a general library's shape-preserving cubic gives."""
    x, y = [point.static for point in table], [point.flow for point in table]
    static = min(x[0] + share * (x[-1] - x[0]), x[-1])
    assert interpolate_fan_curve(table, static) == pytest.approx(
        float(PchipInterpolator(x, y)(static)), rel=1e-9
    )


@given(tables())
def test_it_falls_wherever_the_table_falls(table: list[FanCurvePoint]) -> None:
    """More pressure never gives more flow."""
    span = np.linspace(table[0].static, table[-1].static, 40)
    flows = [interpolate_fan_curve(table, float(min(p, table[-1].static))) for p in span]
    assert all(after <= before + 1e-12 for before, after in pairwise(flows))


@given(tables())
def test_the_order_of_lines_does_not_matter(table: list[FanCurvePoint]) -> None:
    """A table copied from bottom to top is the same table."""
    middle = 0.5 * (table[0].static + table[-1].static)
    assert interpolate_fan_curve(table[::-1], middle) == interpolate_fan_curve(table, middle)


def test_two_lines_are_a_straight_line() -> None:
    """The smallest table interpolates on the chord; whole numbers are taken."""
    table = [FanCurvePoint(0, 1), FanCurvePoint(100, 0)]
    assert interpolate_fan_curve(table, 25) == pytest.approx(0.75)


def test_ends_of_the_table_are_allowed() -> None:
    """The first and the last line are part of the table."""
    table = [FanCurvePoint(50.0, 0.6), FanCurvePoint(100.0, 0.5), FanCurvePoint(150.0, 0.3)]
    assert interpolate_fan_curve(table, 50.0) == 0.6
    assert interpolate_fan_curve(table, 150.0) == pytest.approx(0.3)


@pytest.mark.parametrize("static", [49.0, 151.0])
def test_outside_the_table_is_refused(static: float) -> None:
    """No flow is made up where the maker gives none."""
    table = [FanCurvePoint(50.0, 0.6), FanCurvePoint(150.0, 0.3)]
    with pytest.raises(
        OutOfRangeError, match=rf"^static is {static:g} Pa; the method covers 50 to 150 Pa$"
    ):
        interpolate_fan_curve(table, static)


@pytest.mark.parametrize(
    "table",
    [[], [FanCurvePoint(50.0, 0.6)], [FanCurvePoint(50.0, 0.6), FanCurvePoint(50.0, 0.5)]],
)
def test_too_few_lines_are_refused(table: list[FanCurvePoint]) -> None:
    """One static pressure makes no curve, nor do two flows at one."""
    with pytest.raises(
        NotEnoughDataError,
        match=r"^a fan curve needs two or more lines, one flow for each static pressure$",
    ):
        interpolate_fan_curve(table, 50.0)


def test_past_the_end_it_goes_on_straight_for_doubt_only() -> None:
    """The doubt of a reading at the end steps along the last slope."""
    table = [FanCurvePoint(0.0, 1.0), FanCurvePoint(100.0, 0.5)]
    assert follow_fan_curve(table, 110.0) == pytest.approx(0.45)
    assert follow_fan_curve(table, -10.0) == pytest.approx(1.05)


def test_a_rising_table_is_noticed() -> None:
    """A table in which flow rises with pressure does not fall throughout."""
    assert not falls_throughout([FanCurvePoint(50.0, 0.5), FanCurvePoint(100.0, 0.6)])
    assert falls_throughout([FanCurvePoint(100.0, 0.5), FanCurvePoint(50.0, 0.5)])
