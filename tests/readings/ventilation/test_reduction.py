"""Check measured fans against the standard's chain, and that mistakes are noticed."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pvlib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.readings.ventilation import (
    FanPurpose,
    FanReading,
    FlowMethod,
    Running,
    VentilationResult,
    VentilationTest,
    reduce_ventilation,
)
from rooftree.readings.ventilation.editions import CFM, SQUARE_FOOT
from rooftree.readings.ventilation.slip import SLIP, judge_units
from rooftree.units import told
from rooftree.weather import parse_any

FOOT = 0.3048
HOUSE: dict[str, Any] = {
    "floor_area": 1800 * SQUARE_FOOT,
    "bedrooms": 3,
    "height": 2 * 8.2 * FOOT,
    "flow_50": 1600 * CFM * 1.32 / 2.0**0.4,
}
"""The house of the worked chain: two storeys, 60.40 cfm of infiltration at a factor of 0.55."""


def fan(purpose: FanPurpose, cfm: float, name: str = "fan", **more: Any) -> FanReading:
    """Return a fan with its flow in cubic feet a minute."""
    return FanReading(name, purpose, cfm * CFM, **more)


def whole(cfm: float, **more: Any) -> FanReading:
    """Return a whole-house exhaust fan that always runs."""
    return fan(FanPurpose.WHOLE_EXHAUST, cfm, running=Running.ALWAYS, **more)


def read_fans(*fans: FanReading, edition: str = "2019", **more: Any) -> VentilationTest:
    """Return a test of these fans with a printed factor of 0.55."""
    more.setdefault("weather_factor", 0.55)
    return VentilationTest(fans, edition, **more)


def codes(result: VentilationResult) -> set[str]:
    """Return the codes of the findings without the kind."""
    return {finding.code.removeprefix("ventilation/") for finding in result.findings}


@pytest.mark.published(
    source="ASHRAE 62.2 by edition: US DOE, Standard Work Specifications (2013); ASHRAE 62.2-2019",
    where="worked chain of 1800 ft², two storeys, 1600 cfm at 50 Pa, factor 0.55",
    read="quoted in secondary sources; the caps and the rule of 2010 are recalled",
)
def test_every_edition_of_the_chain() -> None:
    """35.8 by 2010, 23.6 by 2013 and 2016, 40.56 by 2019 and 2022 with exhaust only."""
    result = reduce_ventilation(read_fans(whole(50.0)), **HOUSE)
    fans = {need.edition: need.fan / CFM for need in result.editions}
    expected = {"2010": 35.8, "2013": 23.6, "2016": 23.6, "2019": 40.56, "2022": 40.56}
    assert fans == pytest.approx(expected, abs=0.05)
    assert result.need is not None
    assert result.need.edition == "2019"
    assert result.short_by == 0.0


def test_balanced_fans_need_less() -> None:
    """With both streams within a tenth the leaks count in full: 23.60 cfm."""
    balanced = fan(FanPurpose.WHOLE_BALANCED, 60.0, supply_flow=57 * CFM, running=Running.ALWAYS)
    result = reduce_ventilation(read_fans(balanced), **HOUSE)
    assert result.is_balanced
    assert result.need is not None
    assert result.need.fan / CFM == pytest.approx(23.60, abs=0.05)
    assert result.provided.value == pytest.approx(60 * CFM)
    assert "unbalanced" not in codes(result)


def test_separate_fans_balance_each_other() -> None:
    """A supply fan beside an exhaust fan of the same flow is a balanced system."""
    supply = fan(FanPurpose.WHOLE_SUPPLY, 48.0, "supply", running=Running.ALWAYS)
    both_ways = reduce_ventilation(read_fans(whole(50.0), supply), **HOUSE)
    assert both_ways.is_balanced
    assert both_ways.provided.value == pytest.approx(50 * CFM)
    assert not reduce_ventilation(read_fans(whole(50.0)), **HOUSE).is_balanced


def test_short_by_what_is_missing() -> None:
    """25 cfm of 40.56 leave 15.56 missing, surely, and the sentence says so."""
    result = reduce_ventilation(read_fans(whole(25.0)), **HOUSE)
    assert result.short_by is not None
    assert result.balance is not None
    assert result.chance_enough is not None
    assert result.short_by / CFM == pytest.approx(15.56, abs=0.05)
    assert result.balance.value == pytest.approx(-result.short_by)
    assert result.balance.low < result.balance.value < result.balance.high < 0.0
    assert result.chance_enough < 0.05
    assert told(result.says, None).startswith(
        "The whole-house fans give 25 cfm (11.8 L/s) on average"
    )
    assert result.says.endswith(" are missing.")


def test_close_call_is_said() -> None:
    """Where the readings cannot tell, the sentence gives the chance."""
    result = reduce_ventilation(read_fans(whole(41.0)), **HOUSE)
    assert result.chance_enough is not None
    assert 0.3 < result.chance_enough < 0.8
    assert "within what the readings leave unsure" in result.says


def test_local_exhaust_that_lacks_is_added() -> None:
    """No kitchen fan, baths of 20 and 30 cfm: 37.5 cfm more; a window takes 5 of them off."""
    kitchen = FanReading("kitchen", FanPurpose.KITCHEN_HOOD, method=FlowMethod.NO_FAN)
    baths = (fan(FanPurpose.BATH, 20.0, "hall bath"), fan(FanPurpose.BATH, 30.0, "main bath"))
    bare, lacking, airy = (
        reduce_ventilation(read_fans(*rooms), **HOUSE).need
        for rooms in (
            (),
            (kitchen, *baths),
            (kitchen, replace(baths[0], window_opens=True), baths[1]),
        )
    )
    assert bare is not None
    assert lacking is not None
    assert airy is not None
    assert (lacking.total - bare.total) / CFM == pytest.approx(37.5, abs=1e-6)
    assert (airy.total - bare.total) / CFM == pytest.approx(32.5, abs=1e-6)


def test_bath_fan_on_a_timer_counts_for_the_house() -> None:
    """80 cfm for half of each hour gives 40; every twelve hours it gives less, and says so."""
    timed = fan(FanPurpose.BATH, 80.0, running=Running.TIMED, run_share=0.5)
    assert reduce_ventilation(read_fans(timed), **HOUSE).exhaust / CFM == pytest.approx(40.0)
    rare = reduce_ventilation(read_fans(replace(timed, cycle=12 * 3600.0)), **HOUSE)
    assert 10.0 < rare.exhaust / CFM < 40.0
    assert "long-cycle" in codes(rare)


def test_on_demand_does_not_count_for_the_house() -> None:
    """A dryer and a bath fan on a switch do not ventilate the dwelling, but blow out air."""
    result = reduce_ventilation(
        read_fans(fan(FanPurpose.BATH, 60.0), fan(FanPurpose.DRYER, 100.0, "dryer")), **HOUSE
    )
    assert result.exhaust == 0.0
    assert result.all_exhaust.value / CFM == pytest.approx(160.0)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 16 eq. 51 and ch. 17 eq. 12 to 14",
    where="infiltration and unbalanced fans together; sub-additivity recalled",
    read="quoted in a reference pack that read the chapters",
)
def test_fans_and_leaks_together() -> None:
    """60 cfm unbalanced and 40 cfm of leaks are 72.11, 70.0 and 76.0 cfm."""
    house = {**HOUSE, "flow_50": HOUSE["flow_50"] * 40.0 / 60.40}
    together = reduce_ventilation(read_fans(whole(60.0)), **house).together
    assert together is not None
    assert together.quadrature / CFM == pytest.approx(72.11, abs=0.05)
    assert together.half_fan / CFM == pytest.approx(70.0, abs=0.05)
    assert together.sub_additive / CFM == pytest.approx(76.0, abs=0.05)


def test_what_all_fans_share_does_not_average_out() -> None:
    """Two equal fans by one meter: its gain stays, the placement shrinks by root two."""
    one = reduce_ventilation(read_fans(whole(50.0, name="a")))
    two = reduce_ventilation(read_fans(whole(50.0, name="a"), whole(50.0, name="b")))
    single = one.provided.standard / one.provided.value
    assert single == pytest.approx(math.hypot(0.05, 0.03))
    double = two.provided.standard / two.provided.value
    assert double == pytest.approx(math.hypot(0.05, 0.03 / math.sqrt(2.0)))


def test_turning_an_uneven_grille_helps() -> None:
    """Read twice, an uneven grille is better known, and the mean counts."""
    once = reduce_ventilation(read_fans(whole(50.0, is_even=False)))
    twice = reduce_ventilation(read_fans(whole(50.0, is_even=False, turned_flow=54 * CFM)))
    assert twice.provided.value / CFM == pytest.approx(52.0)
    assert twice.provided.standard < once.provided.standard
    assert "not-turned" in codes(once)
    assert codes(twice).isdisjoint({"not-turned", "turned-differs"})


def test_missing_house_leaves_the_flows() -> None:
    """Without floor area or bedrooms the flows stand, and a finding says what is missing."""
    result = reduce_ventilation(read_fans(whole(50.0)), bedrooms=3)
    assert result.need is None
    assert result.required is None
    assert result.editions == ()
    assert result.provided.value == pytest.approx(50 * CFM)
    (says,) = [f.says for f in result.findings if f.code == "ventilation/no-house"]
    assert says.startswith("What the dwelling needs is not known without its floor area")


def test_no_fan_test_means_no_credit() -> None:
    """Without the leakage nothing is credited; 84 cfm are asked for, as surely as it is ruled."""
    result = reduce_ventilation(read_fans(whole(50.0)), **{**HOUSE, "flow_50": None})
    assert result.infiltration is None
    assert result.required is not None
    assert result.required.value / CFM == pytest.approx(84.0, abs=0.05)
    assert result.required.standard == 0.0
    assert "no-credit" in codes(result)


def test_factor_is_computed_and_says_so() -> None:
    """Without the printed factor the hourly year gives one, labelled and less sure."""
    shipped = Path(pvlib.__file__).with_name("data") / "723170TYA.CSV"
    year = parse_any(shipped.read_text())
    computed = reduce_ventilation(read_fans(whole(50.0), weather_factor=None), year=year, **HOUSE)
    assert computed.weather_factor == pytest.approx(0.32, abs=0.01)
    assert "computed for an assumed house" in computed.factor_says
    assert "computed-factor" in codes(computed)
    printed = reduce_ventilation(read_fans(whole(50.0)), year=year, **HOUSE)
    assert printed.weather_factor == 0.55
    assert printed.factor_says.startswith("as printed by the standard")
    assert computed.infiltration is not None
    assert printed.infiltration is not None
    shares = [one.standard / one.value for one in (computed.infiltration, printed.infiltration)]
    assert shares[0] > 2.0 * shares[1]


def test_settings_stand_for_the_same_flow() -> None:
    """Half of each two hours takes twice the flow; a third of a day more than three times."""
    result = reduce_ventilation(read_fans(whole(20.0)), **HOUSE)
    always, half, third, daily = result.settings
    assert half.flow == pytest.approx(2.0 * always.flow)
    assert third.flow == pytest.approx(3.0 * always.flow)
    assert daily.flow > third.flow


@pytest.mark.parametrize(
    ("row", "code"),
    [
        (whole(-50.0), "negative-flow"),
        (whole(50.0, method=FlowMethod.RATED), "not-measured"),
        (whole(50.0, method=FlowMethod.NO_FAN), "no-fan"),
        (whole(50.0, goes_outdoors=False), "recirculates"),
        (
            fan(FanPurpose.WHOLE_EXHAUST, 50.0, running=Running.TIMED, run_share=1.5),
            "run-share",
        ),
    ],
)
def test_what_cannot_count_is_not_counted(row: FanReading, code: str) -> None:
    """A flow that is no measured flow to outdoors counts for nothing, and says why."""
    result = reduce_ventilation(read_fans(row), **HOUSE)
    assert result.provided.value == 0.0
    assert code in codes(result)


@pytest.mark.parametrize(
    ("row", "code"),
    [
        (whole(50.0, is_clean=False), "dirty-grille"),
        (whole(50.0, is_even=False), "not-turned"),
        (whole(50.0, turned_flow=90 * CFM), "turned-differs"),
        (whole(50.0, turned_flow=0.0), "turned-differs"),
        (whole(2000.0), "implausible-flow"),
        (whole(50.0, rated_flow=50 * CFM), "copied-rating"),
        (whole(50.0, rated_flow=120 * CFM), "below-rating"),
        (whole(100.0, rated_flow=50 * CFM), "above-rating"),
        (
            fan(FanPurpose.BATH, 50.0, power=60.0, running=Running.ALWAYS),
            "efficacy",
        ),
        (fan(FanPurpose.WHOLE_BALANCED, 60.0, running=Running.ALWAYS), "one-stream"),
        (
            fan(FanPurpose.WHOLE_BALANCED, 60.0, supply_flow=40 * CFM, running=Running.ALWAYS),
            "unbalanced",
        ),
    ],
)
def test_doubts_leave_the_flow(row: FanReading, code: str) -> None:
    """What casts doubt on a flow is said beside it, about that fan."""
    result = reduce_ventilation(read_fans(row), **HOUSE)
    assert result.provided.value > 0.0
    (finding,) = [f for f in result.findings if f.code == f"ventilation/{code}"]
    assert finding.about == row.name


def test_turned_reading_in_the_other_unit_is_named() -> None:
    """When both readings of a fan differ by 2.12 the unit is asked about."""
    result = reduce_ventilation(read_fans(whole(50.0, turned_flow=50 * CFM / SLIP)))
    (says,) = [f.says for f in result.findings if f.code == "ventilation/turned-differs"]
    assert "litres a second to cubic feet a minute: look at the unit" in says


def test_same_name_twice_is_told_once() -> None:
    """A fan entered twice is asked about once."""
    result = reduce_ventilation(read_fans(whole(50.0), whole(48.0)), **HOUSE)
    assert [f.code for f in result.findings].count("ventilation/same-name") == 1


@given(st.lists(st.floats(0.65, 0.95), min_size=3, max_size=6), st.sampled_from([1, -1]))
def test_mixed_up_units_are_noticed(shares: list[float], way: int) -> None:
    """Three fans or more that are all off by 2.12 give high odds, in the right direction."""
    factor = SLIP**way
    rows = [(share * 0.05 * factor, 0.05, FanPurpose.BATH) for share in shares]
    slip = judge_units(rows)
    assert slip.probability > 0.9
    assert slip.factor == pytest.approx(1.0 / factor)
    fine = judge_units([(share * 0.05, 0.05, FanPurpose.BATH) for share in shares])
    assert fine.probability < 0.05


def test_nothing_is_told_twice() -> None:
    """Each finding stands once, whichever part of the reduction noticed it."""
    result = reduce_ventilation(
        read_fans(whole(25.0), fan(FanPurpose.BATH, 20.0, "bath", is_clean=False)), **HOUSE
    )
    assert len(set(result.findings)) == len(result.findings)
    (says,) = [f.says for f in result.findings if f.code == "ventilation/dirty-grille"]
    assert says.startswith("The grille of the bath fan was dirty")


def test_no_fan_no_odds() -> None:
    """Without a flow nothing is suspected."""
    assert judge_units([]).probability == 0.0
    assert "no-flow" in codes(reduce_ventilation(VentilationTest()))


@given(st.floats(10.0, 120.0), st.floats(0.05, 2.0))
def test_more_fan_is_never_more_short(cfm: float, leakage: float) -> None:
    """A larger fan lacks less, and a leakier house needs no more."""
    house = {**HOUSE, "flow_50": leakage}
    one = reduce_ventilation(read_fans(whole(cfm)), **house)
    larger = reduce_ventilation(read_fans(whole(1.2 * cfm)), **house)
    leakier = reduce_ventilation(read_fans(whole(cfm)), **{**house, "flow_50": 1.2 * leakage})
    assert one.short_by is not None
    assert larger.short_by is not None
    assert leakier.short_by is not None
    assert larger.short_by <= one.short_by
    assert leakier.short_by <= one.short_by + 1e-12
    assert one.chance_enough is not None
    assert larger.chance_enough is not None
    assert larger.chance_enough >= one.chance_enough
