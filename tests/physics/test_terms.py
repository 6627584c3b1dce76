"""Relative uncertainty from temperatures and lengths."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.propagation import propagate_positive
from rooftree.physics.terms import circle_term, rectangle_term, temperature_term

lengths = st.floats(0.05, 5.0)


@given(lengths, lengths, st.floats(1e-4, 1e-3))
def test_a_rectangle_agrees_with_stepping_its_sides(width: float, height: float, u: float) -> None:
    """The term is what first-order propagation of the product gives."""
    area = propagate_positive(lambda a, b: a * b, [width, height], [u, u])
    term = rectangle_term("grille", width, height, u)
    assert term.standard == pytest.approx(area.standard / area.value, rel=1e-3)


@given(lengths, st.floats(1e-4, 1e-3))
def test_a_circle_agrees_with_stepping_its_diameter(diameter: float, u: float) -> None:
    """One diameter counts twice, since it is squared."""
    area = propagate_positive(lambda d: 0.25 * math.pi * d * d, [diameter], [u])
    term = circle_term("duct", diameter, u)
    assert term.standard == pytest.approx(area.standard / area.value, rel=1e-3)


@given(st.floats(230.0, 330.0), st.floats(0.0, 3.0), st.floats(-1.0, 1.0))
def test_a_temperature_counts_by_its_exponent(t: float, u: float, exponent: float) -> None:
    """The sign of the exponent does not matter; whole kelvins are taken."""
    term = temperature_term("air", t, u, exponent)
    assert term.standard == pytest.approx(abs(exponent) * u / t)
    assert temperature_term("air", 300, 3, 1).standard == pytest.approx(0.01)


def test_impossible_sizes_are_refused() -> None:
    """Lengths and temperatures are above zero, uncertainties not below."""
    with pytest.raises(OutOfRangeError, match=r"^width is 0 m; the method covers 0 to inf m$"):
        rectangle_term("grille", 0.0, 1.0, 0.001)
    with pytest.raises(OutOfRangeError, match=r"^diameter is -1 m; "):
        circle_term("duct", -1.0, 0.001)
    with pytest.raises(OutOfRangeError, match=r"^temperature is 0 K; "):
        temperature_term("air", 0.0, 1.0, 0.5)
    with pytest.raises(OutOfRangeError, match=r"^temperature uncertainty is -1 K; "):
        temperature_term("air", 290.0, -1.0, 0.5)
