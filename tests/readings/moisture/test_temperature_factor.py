"""Check surface criteria against published requirements and the method's arithmetic."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.air import saturation_pressure
from rooftree.readings.moisture.temperature_factor import (
    DRIPPING,
    humidity_class,
    least_factor,
    least_surface,
    loss_ratio,
    saturated_at,
    standard_saturation,
    temperature_factor,
    transmittance_for,
)

ZERO = 273.15


@pytest.mark.parametrize(
    ("celsius", "pascal"),
    [(-10, 259.3), (-5, 401.2), (0, 610.5), (5, 871.9), (10, 1227.3), (15, 1704.4), (20, 2337.0),
     (25, 3165.9)],
)  # fmt: skip
def test_saturation_of_the_standard(celsius: float, pascal: float) -> None:
    """The short formula, computed by hand to 0.1 Pa."""
    assert standard_saturation(celsius + ZERO) == pytest.approx(pascal, abs=0.1)


@given(st.floats(253.15, 313.15))
def test_short_formula_is_near_the_long_one(temperature: float) -> None:
    """Between -20 and 40 °C both curves of saturation agree within 0.6 %."""
    long = saturation_pressure(temperature)
    assert standard_saturation(temperature) == pytest.approx(long, rel=6e-3)


@given(st.floats(230.0, 330.0))
def test_saturation_there_and_back(temperature: float) -> None:
    """The inverse gives the temperature back, over ice and over water."""
    assert saturated_at(standard_saturation(temperature)) == pytest.approx(temperature, abs=1e-6)


@pytest.mark.published(
    source="DIN 4108-2",
    where="f ≥ 0.70 and 12.6 °C at 20 °C, 50 % inside and -5 °C outdoors",
    read="quoted in technical notes on DIN 4108-2",
)
def test_requirement_of_the_german_standard() -> None:
    """Its own conditions give 12.62 °C and 0.705, which it rounds."""
    vapor = 0.5 * standard_saturation(293.15)
    assert least_surface(vapor) - ZERO == pytest.approx(12.62, abs=0.01)
    assert least_factor(293.15, vapor, 268.15) == pytest.approx(0.705, abs=0.001)
    assert least_surface(vapor, DRIPPING) - ZERO == pytest.approx(9.27, abs=0.03)
    assert least_factor(293.15, vapor, 268.15, DRIPPING) == pytest.approx(0.571, abs=0.01)


@pytest.mark.parametrize(
    ("inside", "humidity", "outdoors", "factor"),
    [(20, 0.50, 0, 0.631), (20, 0.50, -10, 0.754), (20, 0.60, 0, 0.772), (21, 0.40, -20, 0.736),
     (22, 0.35, -15, 0.652)],
)  # fmt: skip
def test_least_factors_by_hand(
    inside: float, humidity: float, outdoors: float, factor: float
) -> None:
    """Worked by hand from the method, to 0.002."""
    vapor = humidity * standard_saturation(inside + ZERO)
    assert least_factor(inside + ZERO, vapor, outdoors + ZERO) == pytest.approx(factor, abs=0.002)


MONTHS = (
    (0.2, 0.628), (-1.8, 0.661), (2.7, 0.573), (8.3, 0.372), (13.0, -0.048), (16.8, -1.327),
    (18.2, -3.215), (18.4, -3.553), (13.5, -0.138), (7.0, 0.432), (2.2, 0.586), (-0.1, 0.634),
)  # fmt: skip


@pytest.mark.published(
    source="ISO 13788, month by month, for a house in Poznan",
    where="monthly table: 20 °C and 50 % inside, criterion 0.8",
    read="quoted in a calculation note for an example house",
)
@pytest.mark.parametrize(("outdoors", "factor"), MONTHS)
def test_a_year_of_least_factors(outdoors: float, factor: float) -> None:
    """The note prints outdoor temperatures to 0.1 K: its factors lie within that rounding.

    In winter that is 0.001; near 20 °C outdoors half a tenth moves the factor by 0.1.
    """
    vapor = 0.5 * standard_saturation(293.15)
    assert vapor == pytest.approx(1168.5, abs=0.6)
    assert vapor / 0.8 == pytest.approx(1461.0, abs=1.0)
    colder, warmer = (least_factor(293.15, vapor, outdoors + t + ZERO) for t in (-0.05, 0.05))
    assert warmer - 0.001 <= factor <= colder + 0.001


@pytest.mark.published(
    source="ISO 13788, humidity class 3, for a house in Poznan",
    where="December: -0.1 °C, vapor pressure 561 Pa outdoors, 810 Pa more inside, times 1.10",
    read="quoted in a calculation note for an example house",
)
def test_humidity_class_month() -> None:
    """The critical month of the note has a factor of 0.800, to 0.002."""
    inside = 561.0 + 1.10 * 810.0
    assert inside == pytest.approx(1452.0, abs=1.0)
    assert least_surface(inside) - ZERO == pytest.approx(15.98, abs=0.01)
    assert least_factor(293.15, inside, ZERO - 0.1) == pytest.approx(0.800, abs=0.002)


def test_humidity_class_at_two_degrees() -> None:
    """Worked by hand: 2 °C at 85 %, class 3: 1490.5 Pa, 16.39 °C, 0.799."""
    outdoors = 0.85 * standard_saturation(275.15)
    assert outdoors == pytest.approx(599.5, abs=0.5)
    inside = outdoors + 1.10 * 810.0
    assert inside == pytest.approx(1490.5, abs=0.5)
    assert least_surface(inside) - ZERO == pytest.approx(16.39, abs=0.01)
    assert least_factor(293.15, inside, 275.15) == pytest.approx(0.799, abs=0.002)


@pytest.mark.published(
    source="ISO 13788, 4.4.1: f = 1 - U Rsi with Rsi 0.25 m²·K/W",
    where="U 0.17, 0.13, 0.23 (rounded) for f 0.959, 0.967, 0.941",
    read="quoted in a calculation note for an example house",
)
@pytest.mark.parametrize(("factor", "u_value"), [(0.959, 0.17), (0.967, 0.13), (0.941, 0.23)])
def test_factor_of_plane_parts(factor: float, u_value: float) -> None:
    """The factor gives the U-value back within the rounding of both, 0.008."""
    assert transmittance_for(factor) == pytest.approx(u_value, abs=0.008)


@pytest.mark.published(
    source="Thermography practice note, thermal index",
    where="20 °C inside, 10 °C outdoors, index 0.75: 17.5 °C",
    read="quoted in a UK thermography practice note",
)
def test_thermal_index_of_practice() -> None:
    """The index is the temperature factor by another name, exact."""
    assert temperature_factor(17.5 + ZERO, 20.0 + ZERO, 10.0 + ZERO) == pytest.approx(0.75)


@given(st.floats(-15.0, 8.0), st.floats(0.1, 0.95))
def test_drier_air_needs_less(outdoors: float, humidity: float) -> None:
    """Less vapor inside never asks for a better face."""
    vapor = humidity * standard_saturation(293.15)
    more = least_factor(293.15, 1.05 * vapor, outdoors + ZERO)
    assert least_factor(293.15, vapor, outdoors + ZERO) < more


def test_loss_ratio_is_one_for_equal_faces() -> None:
    """A face as warm as the good one loses as much."""
    assert loss_ratio(293.0, 290.0, 290.0) == 1.0


@pytest.mark.parametrize(
    ("excess", "outdoors", "number"),
    [(100, 270, 1), (270, 270, 1), (271, 270, 2), (700, 270, 3), (1000, 270, 4), (1200, 270, 5),
     (300, 283.15, 3)],
)  # fmt: skip
def test_classes_by_excess(excess: float, outdoors: float, number: int) -> None:
    """Steps of 270 Pa in frost, half as high at 10 °C."""
    assert humidity_class(excess, outdoors) == number


def test_no_class_on_a_mild_day() -> None:
    """Above 15 °C the classes are too narrow for any reading."""
    assert humidity_class(500.0, 290.0) is None


def test_refusals_name_the_quantity() -> None:
    """Airs too alike, vapor that is none and a good face at air temperature are refused."""
    with pytest.raises(OutOfRangeError, match=r"^difference inside to outdoors is 0\.2 K; .* K$"):
        temperature_factor(293.0, 293.2, 293.0)
    with pytest.raises(OutOfRangeError, match=r"^vapor pressure is 0 Pa; .* 0 to inf Pa$"):
        saturated_at(0.0)
    with pytest.raises(OutOfRangeError, match=r"^temperature is 100 K; .* 200 to 373\.15 K$"):
        standard_saturation(100.0)
    with pytest.raises(OutOfRangeError, match=r"^air above the good face is 0 K; .* K$"):
        loss_ratio(293.0, 290.0, 293.0)
