"""Check how fans and leaks add up."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.superposition import half_fan_flow, quadrature_flow, sub_additive_flow

flows = st.just(0.0) | st.floats(1e-6, 1.0)


@pytest.mark.parametrize(
    ("infiltration", "fan", "half", "root"),
    [(50, 40, 70.0, 64.031), (50, 120, 120.0, 130.0), (30, 30, 45.0, 42.426), (40, 60, 70, 72.11)],
)
def test_laws_by_hand(infiltration: float, fan: float, half: float, root: float) -> None:
    """Each law worked by hand; whole numbers are taken."""
    assert half_fan_flow(infiltration, fan) == pytest.approx(half, abs=1e-3)
    assert quadrature_flow(infiltration, fan) == pytest.approx(root, abs=2e-3)


def test_sub_additivity_by_hand() -> None:
    """40 of infiltration and 60 of fan give 76."""
    assert sub_additive_flow(40, 60) == pytest.approx(76.0)


@given(flows, flows)
def test_together_between_the_greater_and_the_sum(infiltration: float, fan: float) -> None:
    """By every law a fan adds air, and never more than it moves."""
    for law in (half_fan_flow, quadrature_flow, sub_additive_flow):
        both = law(infiltration, fan)
        assert max(infiltration, fan) * 0.75 <= both <= infiltration + fan + 1e-12
        assert both >= fan - 1e-12


@given(flows, flows, flows)
def test_balanced_air_simply_adds(infiltration: float, fan: float, balanced: float) -> None:
    """Balanced ventilation leaves the pressure of the house alone."""
    for law in (half_fan_flow, quadrature_flow):
        assert law(infiltration, fan, balanced) == pytest.approx(law(infiltration, fan) + balanced)


def test_nothing_moves_nothing() -> None:
    """Without fan and weather there is no outdoor air."""
    assert sub_additive_flow(0.0, 0.0) == quadrature_flow(0.0, 0.0) == half_fan_flow(0, 0) == 0.0


def test_negative_flow_is_refused() -> None:
    """A flow has no sign here."""
    with pytest.raises(
        OutOfRangeError, match=r"^unbalanced is -1 m³/s; the method covers 0 to inf m³/s$"
    ):
        quadrature_flow(1.0, -1.0)
