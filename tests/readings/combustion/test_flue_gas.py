"""Check air-free carbon monoxide and the least draft."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.openings import stack_pressure
from rooftree.readings.combustion.flue_gas import (
    ULTIMATE_CARBON_DIOXIDE,
    air_free_by_carbon_dioxide,
    air_free_carbon_monoxide,
    excess_air,
    excess_air_by_gas,
    least_draft,
    ultimate_carbon_dioxide,
)


@pytest.mark.published(
    source="field convention of 20.9 % oxygen", where="CO air-free = CO 20.9/(20.9 - O2)",
    read="memory",
)  # fmt: skip
@pytest.mark.parametrize(
    ("measured", "oxygen", "air_free"),
    [(100, 0.09, 175.6), (50, 0.12, 117.4), (30, 0.16, 128.0), (75, 0.14, 227.2)],
)
def test_air_free_carbon_monoxide(measured: float, oxygen: float, air_free: float) -> None:
    """The excess air is taken out, to 0.1 ppm."""
    assert air_free_carbon_monoxide(measured, oxygen) == pytest.approx(air_free, abs=0.1)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 28",
    where="oxygen of air 20.95 % in combustion formulas",
    read="source",
)
@given(st.floats(0.0, 0.12))
def test_field_convention_agrees_with_the_handbook(oxygen: float) -> None:
    """20.9 instead of 20.95 % changes less than 0.6 % up to 12 % oxygen."""
    handbook = 100.0 * 0.2095 / (0.2095 - oxygen)
    assert air_free_carbon_monoxide(100.0, oxygen) == pytest.approx(handbook, rel=0.006)


@given(st.floats(1.0, 1000.0), st.floats(0.0, 0.189))
def test_thinner_gas_means_more_carbon_monoxide(measured: float, oxygen: float) -> None:
    """More oxygen in the sample never lowers the air-free value, and it never lies below it."""
    there = air_free_carbon_monoxide(measured, oxygen)
    assert measured * (1.0 - 1e-12) <= there <= air_free_carbon_monoxide(measured, oxygen + 0.01)


@pytest.mark.parametrize("oxygen", [-0.01, 0.201, 0.209, float("nan")])
def test_sample_of_air_is_refused(oxygen: float) -> None:
    """From a sample that is nearly all air nothing can be told."""
    with pytest.raises(OutOfRangeError, match=r"^oxygen is .* covers 0 to 0\.2 \(share of the"):
        air_free_carbon_monoxide(100.0, oxygen)


@pytest.mark.published(
    source="BPI Building Analyst standard, older edition",
    where="least draft by outdoor temperature",
    read="memory",
)
@pytest.mark.parametrize(
    ("fahrenheit", "draft"),
    [(-20, -2.5), (10, -2.5), (30, -2.0), (50, -1.5), (70, -1.0), (90, -0.5), (110, -0.5)],
)
def test_least_draft(fahrenheit: float, draft: float) -> None:
    """Less draft is asked for in warm weather, with a floor at each end."""
    assert least_draft((fahrenheit - 32.0) / 1.8 + 273.15) == pytest.approx(draft)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 28",
    where="table 15: CO2 at 0, 20, 40, 60 % excess air, read by eq. 10",
    read="source",
)
@pytest.mark.parametrize(
    ("fuel", "shares"),
    [("natural gas", (0.121, 0.099, 0.084, 0.073))],
)
def test_excess_air_from_carbon_dioxide(fuel: str, shares: tuple[float, ...]) -> None:
    """Equation 10 gives the excess air of the table within 1.1 % of the air needed."""
    for share, excess in zip(shares, (0.0, 0.2, 0.4, 0.6), strict=True):
        assert excess_air(share, ULTIMATE_CARBON_DIOXIDE[fuel]) == pytest.approx(excess, abs=0.011)


@pytest.mark.parametrize(("share", "excess"), [(0.099, 0.200), (0.084, 0.396), (0.073, 0.592)])
def test_excess_air_by_equation_10(share: float, excess: float) -> None:
    """Worked out by hand with 0.9 of flue gas over air."""
    assert excess_air(share, 0.121) == pytest.approx(excess, abs=5e-4)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 28",
    where="eq. 12: CO2 8.4 %, O2 6.4 % is natural gas of 12.1 %",
    read="source",
)
def test_ultimate_carbon_dioxide() -> None:
    """Both gases together name the fuel, to 0.02 %."""
    assert ultimate_carbon_dioxide(0.084, 0.064) == pytest.approx(0.1209, abs=2e-4)


@pytest.mark.parametrize(
    ("oxygen", "dioxide"), [(0.04, 0.0979), (0.06, 0.0863), (0.08, 0.0748), (0.09, 0.0690)]
)
def test_carbon_dioxide_of_natural_gas(oxygen: float, dioxide: float) -> None:
    """Equation 12 turned round, to 0.02 %."""
    assert ultimate_carbon_dioxide(dioxide, oxygen) == pytest.approx(0.121, abs=4e-4)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 28, table 15",
    where="ultimate CO2: natural gas 12.1, propane 13.9, No. 1-2 oil 15.0 %",
    read="source",
)
@pytest.mark.parametrize(
    ("fuel", "share"), [("natural gas", 0.121), ("propane", 0.139), ("oil", 0.150)]
)
def test_air_free_by_carbon_dioxide(fuel: str, share: float) -> None:
    """A sample without excess air stays as it is; at half the carbon dioxide it doubles."""
    assert air_free_by_carbon_dioxide(100, share, fuel) == pytest.approx(100.0)
    assert air_free_by_carbon_dioxide(100, 0.5 * share, fuel) == pytest.approx(200.0)


@given(st.floats(1.0, 500.0), st.floats(0.0, 0.19))
def test_both_gases_give_the_same_air_free_value(measured: float, oxygen: float) -> None:
    """With carbon dioxide made by equation 12, both ways agree within 4 % up to 19 % oxygen."""
    dioxide = 0.121 * (1.0 - oxygen / 0.2095)
    by_dioxide = air_free_by_carbon_dioxide(measured, dioxide, "natural gas")
    assert by_dioxide == pytest.approx(air_free_carbon_monoxide(measured, oxygen), rel=0.04)


@given(st.floats(0.0, 3.0))
def test_full_analysis_gives_back_its_excess_air(excess: float) -> None:
    """Dry gas of carbon burnt with that much spare air gives it back by equation 11."""
    oxygen_needed = 1.0
    spare = excess * oxygen_needed
    nitrogen = oxygen_needed * (1.0 + excess) / 0.264
    whole = oxygen_needed + spare + nitrogen
    got = excess_air_by_gas(spare / whole, 0.0, nitrogen / whole)
    assert got == pytest.approx(excess, abs=1e-9)


@pytest.mark.parametrize("dioxide", [0.004, 0.122, float("nan")])
def test_impossible_carbon_dioxide_is_refused(dioxide: float) -> None:
    """Nearly pure air, or more than the fuel can make, is refused with the range."""
    with pytest.raises(OutOfRangeError, match=r"^carbon_dioxide is .* covers 0\.005 to 0\.121 \("):
        air_free_by_carbon_dioxide(100.0, dioxide, "natural gas")


@pytest.mark.published(
    source="stack draft, 6 m of flue at 150 C against 0 C", where="27.0 Pa before losses",
    read="memory",
)  # fmt: skip
def test_draft_of_a_hot_flue() -> None:
    """The heat in the flue makes 27 Pa, to half a tenth."""
    assert stack_pressure(6.0, 423.15, 273.15) == pytest.approx(27.0, abs=0.1)


@pytest.mark.published(
    source="NORA, Advanced Efficiency",
    where="p. 43: least draft of oil burners -2.5 to -5 Pa (-0.01 to -0.02 in. w.c.)",
    read="source",
)
def test_oil_side_draft_is_the_cold_weather_draft() -> None:
    """What oil practice asks for at the least is what older gas practice asks in deep cold."""
    assert least_draft(255.0) == -2.5
