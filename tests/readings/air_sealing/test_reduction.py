"""Check a log of air sealing against laws, and its advice against hand-made cases."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from readings.air_sealing.making import log, row
from rooftree.errors import OutOfRangeError
from rooftree.finding import Severity
from rooftree.readings.air_sealing import Advice, AirSealingLog, LeakPlace, reduce_air_sealing
from rooftree.readings.air_sealing.ahead import present_worth_factor
from rooftree.readings.air_sealing.held_flow import flow_at
from rooftree.units import told

flows = st.lists(st.floats(0.1, 5.0), min_size=2, max_size=6)


@given(flows)
def test_reductions_add_up(read: list[float]) -> None:
    """What the locations took away is what the house lost between first and last row."""
    done = reduce_air_sealing(log(read))
    assert done.reduction is not None
    parts = sum(each.reduction.value for each in done.locations)
    assert parts == pytest.approx(done.reduction.value, abs=1e-9)
    assert done.reduction.value == pytest.approx(read[0] - read[-1], abs=1e-9)


@given(st.floats(0.05, 3.0), st.floats(20.0, 90.0), st.floats(0.5, 0.9))
def test_another_pressure_reads_the_same(flow: float, pressure: float, exponent: float) -> None:
    """A row read at another pressure, on the house's own curve, gives no reduction."""
    other = flow_at(flow, 50.0, pressure, exponent)
    rows = (row(0, flow), row(1, other, house_pressure=-pressure))
    done = reduce_air_sealing(AirSealingLog(rows, exponent=exponent))
    assert done.reduction is not None
    assert done.reduction.value == pytest.approx(0.0, abs=1e-9)


def test_baseline_is_taken_off() -> None:
    """With a baseline of -2 Pa, -52 Pa on the gauge is the 50 Pa to be held."""
    plain, shifted = log(), log(baseline_pressure=-2.0)
    rows = tuple(replace(each, house_pressure=-52.0) for each in shifted.rows)
    one = reduce_air_sealing(plain)
    other = reduce_air_sealing(replace(shifted, rows=rows))
    assert one.reduction == other.reduction


@given(st.floats(0.1, 10.0))
def test_flow_unit_is_a_factor_only(factor: float) -> None:
    """All flows times a factor: reductions go with it, shares stay."""
    one, other = (reduce_air_sealing(log([f * x for x in (1.2, 1.0)])) for f in (1.0, factor))
    assert one.reduction is not None
    assert other.reduction is not None
    assert one.share is not None
    assert other.share is not None
    assert other.reduction.value == pytest.approx(factor * one.reduction.value)
    assert other.share.value == pytest.approx(one.share.value)


def test_calibration_does_not_hide_a_change() -> None:
    """A fan that is 10 % off still tells a change of 3 % from two good readings."""
    good = log((1.0, 0.97), repeatability=0.005, pressure_repeatability=0.2)
    assert reduce_air_sealing(replace(good, flow_uncertainty=0.10)).is_clear
    assert not reduce_air_sealing(log((1.0, 0.988))).is_clear


def test_costs_of_one_location() -> None:
    """Labor and material give cost, cost per flow, worth and payback."""
    done = reduce_air_sealing(
        log((1.2, 1.0)), value_per_flow=500.0, years=10.0, discount_rate=0.0
    ).locations[0]
    assert done.cost == pytest.approx(25.0 + 20.0)
    assert done.cost_per_flow == pytest.approx(45.0 / 0.2)
    assert done.rate == pytest.approx(0.2 / 1500.0)
    assert done.worth == pytest.approx(0.2 * 500.0 * 10.0)
    assert done.payback == pytest.approx(45.0 / 100.0)


def test_another_held_pressure_is_valued_at_50() -> None:
    """At 25 Pa held, the worth is that of the flow at 50 Pa."""
    rows = tuple(replace(each, house_pressure=-25.0) for each in log((1.2, 1.0)).rows)
    done = reduce_air_sealing(
        replace(log(held_pressure=25.0), rows=rows),
        value_per_flow=100.0,
        years=1.0,
        discount_rate=0.0,
    )
    assert done.worth == pytest.approx(0.2 * math.pow(2.0, 0.65) * 100.0)
    assert done.flow_50 is not None
    assert done.flow_50.value == pytest.approx(math.pow(2.0, 0.65))


MAP = (
    LeakPlace("chase", 0.15),
    LeakPlace("top plates", 0.15),
    LeakPlace("hatch", 0.10, sealable=0.8, work=900.0, material_cost=20.0),
    LeakPlace("sill", 0.02, sealable=0.5, work=7200.0),
)


def test_next_place_is_the_one_that_brings_most() -> None:
    """Of the places left, that with the best gain is next; what is sealed is not offered."""
    done = reduce_air_sealing(log(places=MAP), value_per_flow=500.0)
    assert done.next_location is not None
    assert done.next_location.place == "hatch"
    assert done.advice is Advice.GO_ON


def test_stop_where_it_does_not_pay() -> None:
    """Where leakage costs next to nothing, the advice is to stop, with the money in it."""
    done = reduce_air_sealing(log(places=MAP), value_per_flow=10.0)
    assert done.advice is Advice.STOP
    assert "and that is worth only $" in done.reason
    assert done.next_location is not None
    assert done.next_location.chance is not None
    assert done.next_location.chance < 0.5


def test_without_a_value_it_is_yours_to_decide() -> None:
    """Without the value of leakage there are costs and no advice to stop or go on."""
    done = reduce_air_sealing(log(places=MAP))
    assert done.advice is Advice.YOURS
    assert done.worth is None
    assert "air_sealing/not-judged" in {finding.code for finding in done.findings}


def test_all_places_sealed() -> None:
    """When every place of the map was worked on, there is nothing next."""
    places = tuple(LeakPlace(name, 0.3) for name in ("chase", "top plates"))
    done = reduce_air_sealing(log(places=places), value_per_flow=500.0)
    assert done.advice is Advice.NOTHING_LEFT


def test_combustion_comes_before_money() -> None:
    """Near the limit of the flue the advice is to measure first, whatever sealing is worth."""
    done = reduce_air_sealing(log(places=MAP), value_per_flow=5000.0, combustion_flow_50=0.95)
    assert done.advice is Advice.MEASURE_FIRST
    gate = next(f for f in done.findings if f.code == "air_sealing/combustion-limit")
    assert gate.severity is Severity.GATE
    assert "Carbon monoxide kills" in gate.says


def test_next_location_may_pass_the_limit() -> None:
    """A limit that only the next location may pass is told before it is sealed."""
    done = reduce_air_sealing(log(places=MAP), value_per_flow=5000.0, combustion_flow_50=0.80)
    assert "air_sealing/combustion-ahead" in {finding.code for finding in done.findings}
    assert done.advice is Advice.MEASURE_FIRST


def test_ventilation_does_not_stop_sealing() -> None:
    """Below the need for fresh air sealing goes on, with a fan, and there is a gate."""
    done = reduce_air_sealing(log(places=MAP), value_per_flow=5000.0, ventilation_flow_50=1.0)
    assert done.advice is Advice.GO_ON
    assert done.reason.endswith("Size a ventilation fan for what is left.")
    gate = next(f for f in done.findings if f.code == "air_sealing/ventilation-limit")
    assert gate.severity is Severity.GATE


def test_limits_far_below_say_nothing() -> None:
    """Limits far below what is left raise nothing and have their margin."""
    done = reduce_air_sealing(log(), ventilation_flow_50=0.2, combustion_flow_50=0.1)
    assert [limit.margin for limit in done.limits] == pytest.approx([0.77, 0.87])
    assert not any(finding.severity is Severity.GATE for finding in done.findings)


def test_one_row_is_a_start() -> None:
    """A single row gives the flow before sealing and no reduction."""
    done = reduce_air_sealing(log((1.2,)))
    assert done.start is not None
    assert done.start.value == pytest.approx(1.2)
    assert done.reduction is None
    assert done.says.startswith("The fan was read once, before sealing.")


def test_no_usable_row_gives_nothing() -> None:
    """Without a flow there is no value, a sentence and findings."""
    done = reduce_air_sealing(log((0.0, -1.0)))
    assert done.flow is None
    assert sum(f.code == "air_sealing/unusable" for f in done.findings) == 2


def test_whole_numbers_are_taken() -> None:
    """Flows typed without a decimal point reduce like any others."""
    done = reduce_air_sealing(log((2, 1)))
    assert done.reduction is not None
    assert done.reduction.value == pytest.approx(1.0)


def test_the_sentence() -> None:
    """The sentence says what went, which share, and what is next."""
    done = reduce_air_sealing(log((1.20, 0.96), places=MAP[:3]), value_per_flow=500.0)
    assert told(done.says, None) == (
        "Sealing took away 510 cfm (240 L/s), 20 % of the leakage. Go on. Hatch should take away "
        "200 cfm (94 L/s) at 50 Pa for about $35, and that is worth $560."
    )


def test_present_worth() -> None:
    """A dollar a year for 20 years at 3 % is worth 14.88 dollars; without interest 20."""
    assert present_worth_factor(20.0, 0.03) == pytest.approx(14.877, abs=0.001)
    assert present_worth_factor(20.0, 0.0) == 20.0
    assert present_worth_factor(0.0, 0.03) == 0.0


@pytest.mark.parametrize(
    ("years", "rate", "message"),
    [
        (-1.0, 0.03, r"^years is -1 years; the method covers 0 to inf years$"),
        (1.0, -1.0, r"^discount rate is -1 1/year; the method covers -1 to inf 1/year$"),
    ],
)
def test_impossible_horizon_is_refused(years: float, rate: float, message: str) -> None:
    """Neither a time before now nor interest that takes everything can be used."""
    with pytest.raises(OutOfRangeError, match=message):
        present_worth_factor(years, rate)


@pytest.mark.parametrize("exponent", [0.49, 1.01])
def test_exponent_out_of_range_is_refused(exponent: float) -> None:
    """No leak has an exponent below 0.5 or above 1."""
    with pytest.raises(
        OutOfRangeError, match=r"^exponent is [\d.]+ -; the method covers 0\.5 to 1 -$"
    ):
        reduce_air_sealing(log(exponent=exponent))


def test_held_pressure_of_zero_is_refused() -> None:
    """The house must be held at some pressure."""
    with pytest.raises(
        OutOfRangeError, match=r"^held pressure is 0 Pa; the method covers 0 to 500 Pa$"
    ):
        reduce_air_sealing(log(held_pressure=0))
