"""Check the comparison of a house with a building code."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from readings.airtightness.making import HOUSE, made_test
from rooftree.errors import OutOfRangeError
from rooftree.readings.airtightness import (
    FanTestResult,
    LeakageCurve,
    compare_with_code,
    reduce_both_directions,
    reduce_fan_test,
)
from rooftree.tables.air_leakage_limits import codes_with_limits


def house_of(air_changes: float) -> FanTestResult:
    """Return a reduced test of a house with so many air changes at 50 Pa."""
    flow50 = air_changes * HOUSE.volume / 3600.0
    return reduce_fan_test(made_test(LeakageCurve(flow50 / 50.0**0.65, 0.65)), HOUSE)


@pytest.mark.parametrize(
    ("air_changes", "code", "zone", "is_met"),
    [
        (2.9, "IECC 2018", "4A", True),
        (3.1, "IECC 2018", "4A", False),
        (4.9, "IECC 2018", "2A", True),
        (5.1, "IECC 2018", 2, False),
        (6.9, "IECC 2009", 5, True),
        (7.1, "IECC 2009", 5, False),
        (2.9, "IECC 2021", "3C", True),
        (3.6, "IECC 2021", "3C", False),
    ],
)
def test_limit_decides(air_changes: float, code: str, zone: str | int, is_met: bool) -> None:
    """Below the limit of edition and zone the code is met, above it not."""
    assert compare_with_code(house_of(air_changes), code, zone).is_met is is_met


@given(st.floats(0.5, 20.0), st.integers(0, 8))
def test_a_recalled_limit_never_decides(air_changes: float, zone: int) -> None:
    """An edition that nobody has read gives no verdict, whatever the house."""
    comparison = compare_with_code(house_of(air_changes), "IECC 2024", zone)
    assert comparison.is_met is None
    assert comparison.says.endswith("a limit that is recalled and not yet read: look it up.")


@given(st.floats(0.5, 20.0), st.sampled_from(codes_with_limits()), st.integers(0, 8))
def test_a_verdict_always_rests_on_a_limit_that_was_read(
    air_changes: float, code: str, zone: int
) -> None:
    """Met means that a limit read is met; not met means that one read is exceeded."""
    comparison = compare_with_code(house_of(air_changes), code, zone)
    read = [c for c in comparison.comparisons if c.is_decisive and c.limit.role != "cap"]
    if comparison.is_met is True:
        assert any(c.is_met for c in read)
    if comparison.is_met is False:
        assert read
        assert not any(c.is_met for c in read)


@given(st.sampled_from(codes_with_limits()), st.integers(0, 8), st.floats(0.5, 15.0))
def test_a_tighter_house_never_does_worse(code: str, zone: int, air_changes: float) -> None:
    """Sealing more never turns a pass into a failure."""
    if compare_with_code(house_of(air_changes), code, zone).is_met:
        assert compare_with_code(house_of(0.9 * air_changes), code, zone).is_met


def test_close_to_the_limit_is_not_clear() -> None:
    """Inside the doubt of the measurement the sentence says so."""
    near, far = (compare_with_code(house_of(a), "IECC 2018", 4) for a in (2.96, 2.0))
    assert not near.comparisons[0].is_clear
    assert near.says == (
        "2.96 air changes per hour at 50 Pa is within the 3 that IECC 2018 asks for in climate "
        "zone 4, but too near to it to be sure."
    )
    assert far.comparisons[0].is_clear
    assert far.says == (
        "2.0 air changes per hour at 50 Pa is within the 3 that IECC 2018 asks for in climate "
        "zone 4."
    )


def test_limit_per_envelope_area_may_be_met_instead() -> None:
    """Where the code offers it, flow per envelope area decides as well as air changes."""
    comparison = compare_with_code(house_of(3.03), "New York 2025", 5)
    assert [c.is_met for c in comparison.comparisons] == [False, True]
    assert comparison.is_met is True
    assert comparison.says == (
        "3.03 air changes per hour at 50 Pa is above the 3 that New York 2025 asks for in climate "
        "zone 5, but the limit per envelope area is met."
    )


def test_small_dwellings_have_their_own_alternative() -> None:
    """What is meant for small or attached dwellings helps no other house."""
    house = house_of(3.6)
    assert compare_with_code(house, "New York 2025", 5).is_met is False
    assert compare_with_code(house, "New York 2025", 5, is_small=True).is_met is True
    recalled = compare_with_code(house, "IECC 2021", 5, is_small=True)
    assert recalled.is_met is None
    assert recalled.says.endswith(
        "but within an alternative that is recalled and not yet read: look it up."
    )


def test_seven_itself_fails_2009() -> None:
    """The 2009 code asks for less than seven."""
    result = house_of(7.0)
    exact = result.sizes.air_changes50.value
    (comparison,) = compare_with_code(result, "IECC 2009", 4).comparisons
    assert comparison.is_met == (exact < 7.0)
    assert comparison.limit.is_strict


def test_mean_of_both_directions_can_be_compared() -> None:
    """The mean result is taken like a single one."""
    mean = reduce_both_directions([house_of(2.0)], HOUSE)
    assert compare_with_code(mean, "IECC 2021", "4A").is_met is True


def test_an_edition_without_the_zone_says_so() -> None:
    """No verdict where the edition has no such zone."""
    comparison = compare_with_code(house_of(2.0), "IECC 2018", 0)
    assert comparison.is_met is None
    assert comparison.says == "IECC 2018 says nothing about climate zone 0."


@pytest.mark.parametrize("zone", ["9", "4D", "", "-1", 9, "four"])
def test_no_such_zone_is_refused(zone: str | int) -> None:
    """A zone is a number from 0 to 8, with a letter or without."""
    with pytest.raises(OutOfRangeError, match=r"^climate zone is .* covers 0 to 8 $"):
        compare_with_code(house_of(2.0), "IECC 2018", zone)


def test_unknown_code_is_refused() -> None:
    """A code that the table lacks is refused with those it has."""
    with pytest.raises(
        LookupError, match=r"^no air leakage limits for 'Code 1'; choose one of .*$"
    ):
        compare_with_code(house_of(2.0), "Code 1", 4)
