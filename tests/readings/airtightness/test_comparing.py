"""A fan test after the work against one before it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from readings.airtightness.making import CURVE, HOUSE, made_test, wiggle
from rooftree.physics.comparison import compare_results
from rooftree.readings.airtightness import (
    Direction,
    Fan,
    FanTest,
    LeakageCurve,
    compare_tests,
    reduce_both_directions,
    reduce_fan_test,
)

NOISE = wiggle(6, 0.005)


def sealed(share: float) -> FanTest:
    """Return a test of the house with a share of its leakage left."""
    return made_test(LeakageCurve(share * CURVE.coefficient, CURVE.exponent), factors=NOISE)


BEFORE = reduce_fan_test(sealed(1.0), HOUSE)


@given(st.floats(0.3, 0.85))
def test_sealing_a_house_is_a_real_change(share: float) -> None:
    """The change is that of the flows, and fifteen per cent stand out of the noise."""
    compared = compare_tests(BEFORE, reduce_fan_test(sealed(share), HOUSE))
    assert compared.change.difference == pytest.approx(
        (share - 1.0) * BEFORE.flow50.value, rel=1e-6
    )
    assert compared.change.is_significant


def test_the_same_fan_cancels() -> None:
    """With one fan in both tests a small change shows that two fans would hide."""
    after = sealed(0.96)
    other = replace(
        after,
        fans=(replace(after.fans[0], id="borrowed"),),
        stations=tuple(
            replace(s, fans=tuple(replace(f, fan="borrowed") for f in s.fans))
            for s in after.stations
        ),
    )
    same = compare_tests(BEFORE, reduce_fan_test(after, HOUSE)).change
    two = compare_tests(BEFORE, reduce_fan_test(other, HOUSE)).change
    assert same.is_significant
    assert not two.is_significant
    assert same.difference == pytest.approx(two.difference)


def test_a_test_against_itself_is_no_change() -> None:
    """Nothing changed, and nothing is called a change."""
    compared = compare_tests(BEFORE, BEFORE)
    assert compared.change.difference == 0.0
    assert compared.change.says == "There is no change."
    assert not compared.change.is_significant


def test_another_direction_is_told_and_makes_it_less_sure() -> None:
    """Testing out the other way adds a doubt and a term."""
    turned = reduce_fan_test(made_test(CURVE, direction=Direction.PRESSURIZE, factors=NOISE), HOUSE)
    compared = compare_tests(BEFORE, turned)
    (finding,) = compared.findings
    assert finding.code == "fan-test/set-up-differs"
    assert finding.about == "direction"
    again = compare_tests(BEFORE, reduce_fan_test(sealed(1.0), HOUSE))
    assert compared.change.standard > again.change.standard


def test_only_states_noted_in_both_are_held_against_each_other() -> None:
    """Open doors before and shut ones after are told; not noted is no difference."""

    def noted(state: bool | None) -> FanTest:
        return replace(sealed(1.0), interior_doors_open=state)

    before = reduce_fan_test(noted(True), HOUSE)
    for state, count in ((True, 0), (None, 0), (False, 1)):
        compared = compare_tests(before, reduce_fan_test(noted(state), HOUSE))
        assert len(compared.findings) == count


@pytest.mark.parametrize(("share", "count"), [(0.472, 1), (2.119, 1), (0.7, 0), (0.4, 0)])
def test_a_change_as_large_as_a_slip_of_unit_is_doubted(share: float, count: int) -> None:
    """Cfm and L/s differ by 2.119; sealing seldom does just that."""
    compared = compare_tests(BEFORE, reduce_fan_test(sealed(share), HOUSE))
    assert len(compared.findings) == count
    assert all(f.code == "fan-test/unit-slip" for f in compared.findings)


def test_means_of_both_directions_can_be_compared() -> None:
    """Two visits with both directions each are compared by their means."""

    def visit(share: float):  # type: ignore[no-untyped-def]
        curve = LeakageCurve(share * CURVE.coefficient, CURVE.exponent)
        tests = [made_test(curve, direction=d, factors=NOISE) for d in Direction]
        return reduce_both_directions([reduce_fan_test(t, HOUSE) for t in tests], HOUSE)

    before, after = visit(1.0), visit(0.7)
    compared = compare_tests(before, after)
    assert compared.findings == ()
    assert compared.change.is_significant
    assert compared.after.value == pytest.approx(after.flow50.value)
    alone = compare_results(compared.before, compared.after)
    assert compared.change.standard < alone.standard


def test_fans_count_by_their_names() -> None:
    """Two fans against one of them are not the same equipment."""
    two = replace(sealed(1.0), fans=(*sealed(1.0).fans, Fan("second")))
    same = compare_tests(BEFORE, reduce_fan_test(sealed(1.0), HOUSE)).change.standard
    assert compare_tests(BEFORE, reduce_fan_test(two, HOUSE)).change.standard > same
