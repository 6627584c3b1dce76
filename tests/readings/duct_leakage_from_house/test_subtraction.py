"""Check the difference of two house tests against ducts whose leakage is known."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.readings.duct_leakage_from_house import (
    DuctSubtractionTest,
    reduce_duct_subtraction,
)
from rooftree.units import DisplaySystem, told

CFM = 0.471947e-3


def made(leakage: float, apart: float = 42.0, whole: float = 50.0) -> DuctSubtractionTest:
    """Return readings of ducts that leak so much at 25 Pa [m³/s], exponent 0.6."""
    c = leakage / math.pow(25.0, 0.6)
    sealed = c * math.pow(whole - apart, 0.6)
    shell = 1500.0 * CFM
    return DuctSubtractionTest(whole, shell + c * math.pow(whole, 0.6), shell + sealed, apart)


def codes(test: DuctSubtractionTest) -> list[str]:
    """Return what was noticed, without the kind of test."""
    return [f.code.partition("/")[2] for f in reduce_duct_subtraction(test).findings]


@given(st.floats(0.05, 0.3), st.floats(15.0, 49.0), st.floats(40.0, 60.0))
def test_leakage_comes_back(leakage: float, share: float, whole: float) -> None:
    """Readings made from ducts give their leakage back at any pressure of the sealed ducts."""
    result = reduce_duct_subtraction(made(leakage, share / 50.0 * whole, whole))
    assert result.flow_25 is not None
    assert result.flow_25.value == pytest.approx(leakage, rel=1e-6)


def test_uncertainty_is_said_to_be_large() -> None:
    """A hundred cfm in a house of 1500 is told to a half, and the sentence says so."""
    result = reduce_duct_subtraction(made(100.0 * CFM))
    assert result.flow_25 is not None
    assert result.flow_25.standard > 0.15 * result.flow_25.value
    (finding,) = result.findings
    assert finding.code == "duct-subtraction/wide"
    assert "not to prove a repair" in finding.says


def test_share_of_the_air_handler() -> None:
    """The leakage is also told over the fan's flow where that is known."""
    result = reduce_duct_subtraction(replace(made(200.0 * CFM), air_handler_flow=1000.0 * CFM))
    assert result.share is not None
    assert result.share.value == pytest.approx(0.2, rel=1e-6)


def test_unread_duct_pressure_widens_the_limits() -> None:
    """Without the pressure of the sealed ducts the range grows and a finding says so."""
    read = reduce_duct_subtraction(made(300.0 * CFM, 40.0))
    unread = reduce_duct_subtraction(replace(made(300.0 * CFM, 40.0), duct_pressure=None))
    assert read.flow_25 is not None
    assert unread.flow_25 is not None
    assert unread.flow_25.standard > read.flow_25.standard
    assert "duct-subtraction/no-duct-pressure" in [f.code for f in unread.findings]


@pytest.mark.parametrize(
    ("test", "expected"),
    [
        (replace(made(0.1), house_pressure=0.2), ["units"]),
        (replace(made(0.1), house_pressure=10.0), ["house-pressure"]),
        (replace(made(0.1), house_pressure=120.0), ["house-pressure"]),
        (replace(made(0.1), flow_sealed=0.0), ["no-flow"]),
        (replace(made(0.1), duct_pressure=2.0), ["ducts-at-house"]),
        (replace(made(0.1), duct_pressure=55.0), ["wide", "beyond-house"]),
        (replace(made(0.1), air_handler_flow=0.05), ["wide", "very-large"]),
        (made(5.0 * CFM), ["within-scatter"]),
        (replace(made(0.1), flow_open=0.7, flow_sealed=0.8), ["exchanged"]),
    ],
)
def test_what_looks_wrong_is_a_finding(test: DuctSubtractionTest, expected: list[str]) -> None:
    """Each doubt has its code."""
    assert codes(test) == expected


def test_refusal_gives_no_value_and_its_reason() -> None:
    """Where the readings say nothing, the result is empty and says why."""
    result = reduce_duct_subtraction(replace(made(0.1), duct_pressure=2.0))
    assert result.flow_25 is None
    assert result.says == result.findings[0].says


def test_sentence_has_both_units_and_no_negative_leakage() -> None:
    """A range that reaches below zero is told from zero."""
    says = reduce_duct_subtraction(made(5.0 * CFM)).says
    assert told(says, DisplaySystem.IP).startswith("The ducts leak 0 to 46 cfm to outdoors")
    assert "L/s" in told(says, DisplaySystem.SI)


@pytest.mark.parametrize("whole", [15, 100])
def test_ends_of_the_house_pressure_are_taken(whole: int) -> None:
    """Exactly 15 and 100 Pa are reduced, typed as whole numbers."""
    test = made(0.2, 0.8 * whole, whole)
    assert reduce_duct_subtraction(test).flow_25 is not None
