"""Check whole-dwelling ventilation against the standard's chain, edition by edition."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.readings.ventilation import (
    ExhaustReading,
    Form,
    RoomKind,
    WholeHouseFan,
    editions,
    required_fan_flow,
)
from rooftree.readings.ventilation.editions import CFM, SQUARE_FOOT
from rooftree.readings.ventilation.infiltration import (
    height_factor,
    infiltration_from_area,
    infiltration_from_flow,
)

FOOT = 0.3048
MECHANICAL_CODE = "Uniform Mechanical Code, appendix E (reproduces ASHRAE 62.2)"
SPECIFICATIONS = "US DOE, Standard Work Specifications, infiltration credit"


@pytest.mark.published(
    source=MECHANICAL_CODE, where="Table E 605.1.3 (62.2 Table 4.1a)", read="source"
)
@pytest.mark.parametrize(
    ("square_feet", "bedrooms", "cfm"),
    [(500, 1, 30), (1000, 3, 60), (2000, 3, 90), (2500, 2, 98), (4000, 5, 165), (5000, 5, 195)],
)
def test_total_rate_gives_the_table(square_feet: float, bedrooms: int, cfm: float) -> None:
    """The table takes the upper edge of each band and rounds halves up."""
    need = required_fan_flow("2013", floor_area=square_feet * SQUARE_FOOT, bedrooms=bedrooms)
    assert int(need.total / CFM + 0.5 + 1e-9) == cfm


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 17",
    where="eq. 11 (from 62.2-2016) and the Atlanta house, 43 L/s",
    read="source",
)
@pytest.mark.parametrize(("area", "flow"), [(167.2, 39.1), (195.3, 43.0)])
def test_total_rate_in_si(area: float, flow: float) -> None:
    """The constants in L/s and m² are rounded: printed to the litre, and 0.1."""
    need = required_fan_flow("2016", floor_area=area, bedrooms=3, form=Form.SI)
    assert 1000.0 * need.total == pytest.approx(flow, abs=0.5 if flow == 43.0 else 0.1)


@pytest.mark.published(
    source="building-trade glossary entry on ASHRAE 62.2",
    where="62.2-2003 to 2010: 0.01 A + 7.5 (N + 1)",
    read="quoted in that entry",
)
def test_rate_before_2013() -> None:
    """1800 ft² and three bedrooms need 48 cfm."""
    need = required_fan_flow("2010", floor_area=1800 * SQUARE_FOOT, bedrooms=3)
    assert need.fan / CFM == pytest.approx(48.0, abs=0.05)


@pytest.mark.published(source=SPECIFICATIONS, where="equation and Table A-1", read="source")
@pytest.mark.parametrize(
    ("storeys", "factor"), [(1.0, 1.00), (1.5, 1.18), (2.0, 1.32), (3.0, 1.55)]
)
def test_height_factor_gives_the_table(storeys: float, factor: float) -> None:
    """Printed to two figures: 0.005."""
    assert height_factor(storeys * 8.2 * FOOT) == pytest.approx(factor, abs=0.0051)


@pytest.mark.published(source=SPECIFICATIONS, where="equation and Table A-1", read="source")
def test_infiltration_of_the_chain() -> None:
    """1600 cfm at 50 Pa, factor 0.55, two storeys: 60.40 cfm with the table's 1.32."""
    flow = infiltration_from_flow(1600 * CFM, 2 * 8.2 * FOOT, 0.55) / CFM
    assert flow * 1.32 / 2.0**0.4 == pytest.approx(60.40, abs=0.05)


@pytest.mark.published(source=MECHANICAL_CODE, where="eq. 605.1.3.2, 7.3 or 1.44", read="source")
def test_both_forms_of_normalized_leakage_agree() -> None:
    """The constants 7.3 and 1.44 differ by 0.2 % as rounded; 0.052 is 0.0523 cut short."""
    leakage = (4.0 / 50.0) ** 0.65 / (2.0 * 4.0 / 1.2041) ** 0.5 * 1600 * CFM
    routes = [infiltration_from_area(leakage, 167.2, 2.5, 0.55, form) for form in Form]
    assert round(100.0 * abs(routes[0] / routes[1] - 1.0), 1) == 0.2
    assert routes[0] / (1600 * CFM * 0.55) == pytest.approx(0.0523, abs=5e-5)
    assert infiltration_from_flow(1600 * CFM, 2.5, 0.55) == pytest.approx(routes[0], rel=6e-3)


def chain(edition: str, *, balanced: bool = False, is_new: bool = False) -> float:
    """Return the fan of 1800 ft², three bedrooms, two storeys, 60.4 cfm of infiltration [cfm]."""
    need = required_fan_flow(
        edition,
        floor_area=1800 * SQUARE_FOOT,
        bedrooms=3,
        height=2 * 8.2 * FOOT,
        flow_50=1600 * CFM * 1.32 / 2.0**0.4,
        weather_factor=0.55,
        balanced=balanced,
        is_new=is_new,
    )
    return need.fan / CFM


@pytest.mark.published(
    source=SPECIFICATIONS, where="existing home by 62.2-2013: credit in full", read="source"
)
def test_existing_home_of_2013() -> None:
    """84 less 60.40 leaves 23.60 cfm."""
    assert chain("2013") == pytest.approx(23.60, abs=0.05)


@pytest.mark.published(
    source="ASHRAE 62.2-2019", where="eq. 4-2 and 4-3",
    read="quoted in secondary sources, from a preview of the standard",
)  # fmt: skip
def test_fans_of_2019() -> None:
    """Exhaust only needs 40.56 cfm, balanced fans 23.60."""
    assert chain("2019") == pytest.approx(40.56, abs=0.05)
    assert chain("2019", balanced=True) == pytest.approx(23.60, abs=0.05)


@pytest.mark.published(
    source="ASHRAE 62.2-2010, 4.1.3; 62.2-2013 and 2016", where="half-excess credit; 2/3 cap",
    read="memory",
)  # fmt: skip
def test_recalled_rules_of_the_chain() -> None:
    """35.80 cfm by 2010 with its credit, 28.0 for a new dwelling of 2013 or 2016, 2022 as 2019."""
    assert chain("2010") == pytest.approx(35.80, abs=0.05)
    assert chain("2013", is_new=True) == pytest.approx(28.0, abs=0.05)
    assert chain("2016", is_new=True) == pytest.approx(28.0, abs=0.05)
    assert chain("2022") == chain("2019")
    assert editions()["2022"].recalled


def test_chain_in_si_by_hand() -> None:
    """150 m², 5 air changes in 375 m³, 5 m, factor 0.60: every term to 1e-3 L/s."""
    unbalanced, balanced = (
        required_fan_flow(
            "2019", floor_area=150, bedrooms=3, height=5, flow_50=5 * 375 / 3600,
            weather_factor=0.60, balanced=fans, form=Form.SI,
        )
        for fans in (False, True)
    )  # fmt: skip
    assert unbalanced.infiltration is not None
    assert 1000 * unbalanced.total == pytest.approx(36.5, abs=1e-3)
    assert 1000 * unbalanced.infiltration == pytest.approx(21.4420, abs=1e-3)
    assert unbalanced.counted_share == pytest.approx(0.587452, abs=1e-5)
    assert 1000 * unbalanced.fan == pytest.approx(23.9038, abs=1e-3)
    assert 1000 * balanced.fan == pytest.approx(15.0580, abs=1e-3)


def test_chain_in_the_trades_units_by_hand() -> None:
    """2000 ft², 1500 cfm at 50 Pa, 17 ft, factor 0.60: every term to 1e-3 cfm."""
    unbalanced, balanced = (
        required_fan_flow(
            "2019", floor_area=2000 * SQUARE_FOOT, bedrooms=3, height=17 * FOOT,
            flow_50=1500 * CFM, weather_factor=0.60, balanced=fans,
        )
        for fans in (False, True)
    )  # fmt: skip
    assert unbalanced.infiltration is not None
    assert unbalanced.total / CFM == pytest.approx(90.0, abs=1e-3)
    assert unbalanced.infiltration / CFM == pytest.approx(62.6469, abs=1e-3)
    assert unbalanced.counted_share == pytest.approx(0.696077, abs=1e-5)
    assert unbalanced.fan / CFM == pytest.approx(46.3929, abs=1e-3)
    assert balanced.fan / CFM == pytest.approx(27.3531, abs=1e-3)


def test_small_fan_is_not_asked_for() -> None:
    """From 2019 a need below 15 cfm asks for no fan; before, it does."""

    def need(edition: str) -> float:
        return required_fan_flow(
            edition, floor_area=100.0, bedrooms=1, height=2.5, flow_50=0.9,
            weather_factor=0.4, balanced=True,
        ).fan  # fmt: skip

    assert 0.0 < need("2013") < 15 * CFM
    assert need("2019") == 0.0


def test_missing_local_exhaust_is_added() -> None:
    """No kitchen fan, baths of 20 and 30 cfm: 37.5 cfm more; a window takes 5 of them off."""

    def total(window: bool) -> float:
        rooms = [
            ExhaustReading("kitchen", RoomKind.KITCHEN_HOOD, 0.0),
            ExhaustReading("hall bath", RoomKind.BATH, 20 * CFM, window_opens=window),
            ExhaustReading("bath", RoomKind.BATH, 30 * CFM),
        ]
        return required_fan_flow("2013", floor_area=150.0, bedrooms=3, rooms=rooms).total / CFM

    bare = required_fan_flow("2013", floor_area=150.0, bedrooms=3).total / CFM
    assert total(window=False) - bare == pytest.approx(37.5, abs=1e-6)
    assert total(window=True) - bare == pytest.approx(32.5, abs=1e-6)


def test_new_dwelling_has_no_way_round_local_exhaust() -> None:
    """In a new dwelling the whole-house rate stays, and the finding asks for a fan."""
    rooms = [ExhaustReading("bath", RoomKind.BATH, 0.0)]
    need = required_fan_flow("2013", floor_area=150.0, bedrooms=3, rooms=rooms, is_new=True)
    assert need.total == required_fan_flow("2013", floor_area=150.0, bedrooms=3).total
    (lack,) = [f for f in need.findings if f.code == "ventilation/local-exhaust"]
    assert lack.says.endswith("A new dwelling has no way round it: fit a fan.")


def test_more_people_than_bedrooms_count() -> None:
    """Six people in three bedrooms add two shares of 7.5 cfm; three people take none off."""
    bare, full, few = (
        required_fan_flow("2019", floor_area=150.0, bedrooms=3, people=people).total
        for people in (None, 6, 3)
    )
    assert (full - bare) / CFM == pytest.approx(15.0)
    assert few == bare


def test_fans_that_are_there_are_counted() -> None:
    """60 cfm half of each two hours gives 30; a fan that starts every other day gives none."""
    fans = [
        WholeHouseFan("bath fan on a timer", 60 * CFM, 0.5, 2.0),
        WholeHouseFan("weekend fan", 100 * CFM, 0.5, 48.0),
    ]
    need = required_fan_flow("2013", floor_area=150.0, bedrooms=3, fans=fans)
    assert need.given == pytest.approx(30 * CFM)
    assert need.missing == pytest.approx(need.fan - 30 * CFM)
    assert "ventilation/long-cycle" in [finding.code for finding in need.findings]


def test_enough_fan_is_no_finding() -> None:
    """With fan and credit in place nothing is left to say."""
    need = required_fan_flow(
        "2019", floor_area=150.0, bedrooms=3, flow_50=0.5, weather_factor=0.5,
        fans=[WholeHouseFan("supply fan", 0.05)],
    )  # fmt: skip
    assert need.findings == ()
    assert need.missing == 0.0


def test_without_factor_nothing_is_credited() -> None:
    """No weather-and-shielding factor means no credit, and a finding says why."""
    need = required_fan_flow("2019", floor_area=150.0, bedrooms=3, flow_50=0.5)
    assert need.infiltration is None
    assert need.credit == 0.0
    assert "ventilation/no-credit" in [finding.code for finding in need.findings]


@given(
    st.sampled_from(sorted(editions())), st.floats(50.0, 500.0), st.integers(0, 6),
    st.floats(0.05, 3.0), st.booleans(), st.booleans(), st.floats(0.0, 1.0),
)  # fmt: skip
def test_tighter_never_needs_less_fan(
    edition: str,
    area: float,
    bedrooms: int,
    leakage: float,
    balanced: bool,
    is_new: bool,
    exterior: float,
) -> None:
    """A leakier house never needs the larger fan, and the terms add up to the fan."""
    tight, leaky = (
        required_fan_flow(
            edition, floor_area=area, bedrooms=bedrooms, flow_50=flow, weather_factor=0.5,
            balanced=balanced, is_new=is_new, exterior_share=exterior,
        )
        for flow in (leakage, 1.2 * leakage)
    )  # fmt: skip
    assert leaky.fan <= tight.fan + 1e-12
    added = sum(term.flow for term in tight.terms)
    if tight.fan > 0.0:
        assert added == pytest.approx(tight.fan)
    else:
        assert added < 15.01 * CFM


@pytest.mark.parametrize("edition", ["2011", "newest"])
def test_unknown_edition_is_refused(edition: str) -> None:
    """Only the editions of the table are known."""
    with pytest.raises(
        OutOfRangeError,
        match=r"^edition of 62\.2 is \d+ \(year in the table\); the method covers 2010 to 2022 ",
    ):
        required_fan_flow(edition, floor_area=150.0, bedrooms=3)


@pytest.mark.parametrize("area", [0.0, -1.0, float("nan")])
def test_area_must_be_positive(area: float) -> None:
    """A dwelling has a floor."""
    with pytest.raises(
        OutOfRangeError, match=r"^floor_area is .* m²; the method covers 0 to inf m²$"
    ):
        required_fan_flow("2019", floor_area=area, bedrooms=3)


def test_credit_of_half_the_rate_by_hand() -> None:
    """90 cfm with 45 of infiltration: 67.5 cfm of exhaust, or 45 of balanced fans."""
    share = 0.052 * 0.5
    exhaust, balanced = (
        required_fan_flow(
            "2019", floor_area=2000 * SQUARE_FOOT, bedrooms=3, height=8.2 * FOOT,
            flow_50=45 * CFM / share, weather_factor=0.5, balanced=fans,
        ).fan / CFM
        for fans in (False, True)
    )  # fmt: skip
    assert exhaust == pytest.approx(67.5, abs=0.05)
    assert balanced == pytest.approx(45.0, abs=0.05)


def test_credit_by_normalized_leakage_by_hand() -> None:
    """The long way, two storeys: 60.70 cfm, 0.5 % above 0.052 cut short."""
    area = (4.0 / 50.0) ** 0.65 / (2.0 * 4.0 / 1.204) ** 0.5 * 1600 * CFM
    flow = infiltration_from_area(area, 100.0, 2 * 8.2 * FOOT, 0.55, Form.IP) / CFM
    assert flow == pytest.approx(60.70, abs=0.01)
