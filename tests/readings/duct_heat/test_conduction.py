"""Check heat through the wall of ducts by hand-made numbers and laws."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.readings.duct_heat.conduction import (
    arriving_temperature,
    buried_layer,
    compressed_resistance,
    conductance_from,
    flat_resistance,
    outer_temperature,
    resistance_against_dew,
    round_layer,
)

FOOT, INCH, CFM, R, BTU = 0.3048, 0.0254, 0.471947e-3, 0.17611018, 0.29307107
HANDBOOK_RATE = 1.08 * BTU * 1.8
"""Capacity rate of one cfm of air in the handbook's inch-pound form [W/K]."""

temperatures = st.floats(250.0, 330.0)


def kelvin(fahrenheit: float) -> float:
    """Return °F in kelvin."""
    return (fahrenheit - 32.0) / 1.8 + 273.15


@pytest.mark.parametrize(
    ("entering", "around", "cfm", "label", "inches", "feet", "arriving"),
    [(55, 120, 100, 6.0, 8, 40, 62.88), (55, 120, 100, 4.2, 8, 40, 65.96),
     (120, 30, 200, 8.0, 10, 50, 113.43)],
)  # fmt: skip
def test_runs_by_hand(
    entering: float, around: float, cfm: float, label: float, inches: float, feet: float,
    arriving: float,
) -> None:  # fmt: skip
    """The handbook's exponential on the inner surface with the label, to 0.02 °F."""
    area = math.pi * inches * INCH * feet * FOOT
    found = arriving_temperature(
        kelvin(entering), kelvin(around), area / (label * R), HANDBOOK_RATE * cfm
    )
    assert 1.8 * (found - 273.15) + 32.0 == pytest.approx(arriving, abs=0.02)


@pytest.mark.parametrize(("label", "jacket"), [(4.2, 85.56), (6, 86.77), (8, 87.52), (13, 88.43)])
def test_jackets_by_hand(label: float, jacket: float) -> None:
    """55 °F air in 90 °F surroundings behind a plane film of 0.61, to 0.05 °F."""
    found = outer_temperature(kelvin(55), kelvin(90), label * R, 0.61 * R)
    assert 1.8 * (found - 273.15) + 32.0 == pytest.approx(jacket, abs=0.05)


def test_sweating_by_hand() -> None:
    """R-6 behind a film of 0.68 is at 86.4 °F; bare metal with 0.2 inside is at 62.9 °F."""
    for within, expected in ((6.0, 86.4), (0.2, 62.9)):
        found = outer_temperature(kelvin(55), kelvin(90), within * R, 0.68 * R)
        assert 1.8 * (found - 273.15) + 32.0 == pytest.approx(expected, abs=0.1)


@pytest.mark.parametrize(
    ("air", "around", "dew", "label"), [(55, 90, 75, 0.81), (55, 85, 82, 5.49), (55, 80, 79, 14.64)]
)
def test_least_resistance_by_hand(air: float, around: float, dew: float, label: float) -> None:
    """What keeps a plane face at the dew point, to 0.02."""
    found = resistance_against_dew(kelvin(air), kelvin(around), kelvin(dew), 0.61 * R)
    assert found / R == pytest.approx(label, abs=0.02)


def test_least_resistance_at_its_ends() -> None:
    """Dry air asks for none, saturated air for more than there is."""
    assert resistance_against_dew(286.0, 305.0, 280.0, 0.1) == 0.0
    assert resistance_against_dew(310.0, 305.0, 300.0, 0.1) == 0.0
    assert resistance_against_dew(286.0, 305.0, 305.0, 0.1) == math.inf


@given(temperatures, temperatures, st.floats(0.1, 100.0), st.floats(5.0, 200.0))
def test_arriving_lies_between(
    entering: float, around: float, conductance: float, rate: float
) -> None:
    """Air never passes the temperature round it."""
    low, high = sorted((entering, around))
    assert low - 1e-9 <= arriving_temperature(entering, around, conductance, rate) <= high + 1e-9


@given(st.floats(0.5, 100.0), st.floats(20.0, 200.0))
def test_conductance_there_and_back(conductance: float, rate: float) -> None:
    """The temperatures at both ends give the conductance back."""
    arriving = arriving_temperature(286.0, 325.0, conductance, rate)
    assert conductance_from(286.0, arriving, 325.0, rate) == pytest.approx(conductance, rel=1e-6)


@given(st.floats(0.05, 3.0), st.floats(0.05, 3.0))
def test_two_halves_make_a_run(first: float, second: float) -> None:
    """A run in two parts does what the whole does."""
    middle = arriving_temperature(286.0, 325.0, first, 10.0)
    end = arriving_temperature(middle, 325.0, second, 10.0)
    assert end == pytest.approx(arriving_temperature(286.0, 325.0, first + second, 10.0))


@given(st.floats(0.2, 4.0), st.floats(0.01, 0.15))
def test_blanket_there_and_back(perimeter: float, thickness: float) -> None:
    """The wrap round a duct tells its flat blanket again."""
    layer = round_layer(perimeter, thickness, 0.047)
    assert flat_resistance(perimeter, layer, 0.047) == pytest.approx(thickness / 0.047)


def test_large_ducts_are_flat() -> None:
    """On a very large duct the blanket does what it does lying flat."""
    assert 100.0 * round_layer(100.0, 0.05, 0.05) == pytest.approx(1.0, rel=2e-3)


def test_round_layer_in_the_form_of_the_handbook() -> None:
    """On the inner surface of an 8 in duct R = (D/2) ln(Do/D) / k."""
    inner, outer = 8.0 * INCH, 12.0 * INCH
    expected = 0.5 * inner * math.log(outer / inner) / 0.047
    found = math.pi * inner * round_layer(math.pi * inner, 2.0 * INCH, 0.047)
    assert found == pytest.approx(expected)


@pytest.mark.published(
    source="Journal of Light Construction, question on compressing fiberglass batts",
    where="x percent of thickness lost takes about x/2 percent of the label",
    read="quoted in a secondary source",
)
def test_rule_of_thumb_for_compression() -> None:
    """Half the thickness keeps three quarters; none lost keeps all."""
    assert compressed_resistance(1.0, 0.5) == pytest.approx(0.75)
    assert compressed_resistance(1.0, 1.0) == compressed_resistance(1.0, 1.4) == 1.0


@given(st.floats(0.1, 0.6), st.floats(0.01, 0.5))
def test_deeper_burial_insulates_more(diameter: float, depth: float) -> None:
    """More loose insulation over a duct is more resistance, none is none."""
    assert buried_layer(diameter, 1.1 * depth, 0.05) > buried_layer(diameter, depth, 0.05)
    assert buried_layer(diameter, 0.0, 0.05) == 0.0


def test_refusals_name_the_quantity() -> None:
    """No flow, and a register beyond its surroundings, are refused."""
    with pytest.raises(OutOfRangeError, match=r"^capacity rate is 0 W/K; .* 0 to inf W/K$"):
        arriving_temperature(286.0, 320.0, 1.0, 0.0)
    with pytest.raises(OutOfRangeError, match=r"^arriving temperature is 330 K; .* 286 to 320 K$"):
        conductance_from(286.0, 330.0, 320.0, 10.0)
