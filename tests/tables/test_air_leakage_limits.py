"""Check the table of code limits against the documents that it quotes."""

from __future__ import annotations

import pytest

from rooftree.tables.air_leakage_limits import (
    CFM_PER_SQUARE_FOOT,
    AirLeakageLimit,
    air_leakage_limits,
    codes_with_limits,
)


def main_limit(code: str, zone: int) -> AirLeakageLimit:
    """Return the one limit that must be met."""
    (limit,) = (limit for limit in air_leakage_limits(code, zone) if limit.role == "limit")
    return limit


def alternatives(code: str, zone: int) -> list[float]:
    """Return the limits per envelope area [cfm/ft²]."""
    found = (
        limit
        for limit in air_leakage_limits(code, zone)
        if limit.role == "alternative" and not limit.is_small_only
    )
    return [round(limit.limit / CFM_PER_SQUARE_FOOT, 6) for limit in found]


@pytest.mark.published(
    source="2009 IECC, as reprinted", where="402.4.2.1, less than 7 per hour", read="source"
)
@pytest.mark.parametrize("zone", range(1, 9))
def test_2009_asks_for_less_than_seven_anywhere(zone: int) -> None:
    """The 2009 limit is seven in every zone, and seven itself fails."""
    limit = main_limit("IECC 2009", zone)
    assert (limit.limit, limit.is_strict, limit.is_recalled) == (7.0, True, False)


@pytest.mark.published(
    source="2012, 2015, 2018 and 2021 IECC",
    where="R402.4.1.2 and R402.4.1.3, air changes at 50 Pa by climate zone",
    read="quoted in Newport Partners, Journal of Light Construction, Builder, Fine Homebuilding",
)
@pytest.mark.parametrize("code", ["IECC 2012", "IECC 2015", "IECC 2018", "IECC 2021"])
@pytest.mark.parametrize(("zone", "expected"), [(1, 5), (2, 5), (3, 3), (4, 3), (8, 3)])
def test_2012_to_2021_ask_for_five_or_three(code: str, zone: int, expected: float) -> None:
    """Five air changes in warm zones, three in the others, and the limit itself passes."""
    limit = main_limit(code, zone)
    assert (limit.limit, limit.is_strict, limit.is_recalled) == (expected, False, False)


@pytest.mark.published(
    source="2021 IECC",
    where="R402.4.1.2, 0.28 cfm/ft2 of enclosure",
    read="quoted in secondary sources",
)
def test_2021_caps_flow_per_enclosure_area() -> None:
    """The cap of 2021 on any path may be met as 0.28 cfm for each square foot."""
    caps = [limit for limit in air_leakage_limits("IECC 2021", 4) if limit.role == "cap"]
    assert caps[0].limit == pytest.approx(0.28 * CFM_PER_SQUARE_FOOT)
    assert not caps[0].is_recalled


@pytest.mark.published(
    source="2021 IECC", where="R402.4.1.2, small and attached dwellings; cap", read="memory"
)
def test_what_is_recalled_of_2021_is_marked() -> None:
    """The small-dwelling rule and the cap on every path wait to be read."""
    recalled = [limit for limit in air_leakage_limits("IECC 2021", 4) if limit.is_recalled]
    assert [limit.role for limit in recalled] == ["alternative", "cap"]
    assert recalled[0].is_small_only
    assert recalled[0].limit == pytest.approx(0.30 * CFM_PER_SQUARE_FOOT)
    assert recalled[1].limit == 5.0


@pytest.mark.published(
    source="2024 IECC", where="R402.5.1.3, prescriptive limits by zone", read="memory"
)
@pytest.mark.parametrize(
    ("zone", "changes", "per_area"), [(1, 4.0, 0.22), (4, 3.0, 0.19), (7, 2.5, 0.16)]
)
def test_2024_is_recalled(zone: int, changes: float, per_area: float) -> None:
    """Every value of the 2024 edition is marked as recalled."""
    assert main_limit("IECC 2024", zone).limit == changes
    assert alternatives("IECC 2024", zone) == [per_area]
    assert all(limit.is_recalled for limit in air_leakage_limits("IECC 2024", zone))


@pytest.mark.published(
    source="2025 New York energy code",
    where="[NY] R402.5.1.3",
    read="quoted in two secondary sources that agree",
)
@pytest.mark.parametrize(
    ("zone", "changes", "per_area"), [(4, 3.0, 0.19), (5, 3.0, 0.19), (6, 2.5, 0.16)]
)
def test_new_york(zone: int, changes: float, per_area: float) -> None:
    """The state code has a limit and an alternative for each of its zones."""
    assert main_limit("New York 2025", zone).limit == changes
    assert alternatives("New York 2025", zone) == [per_area]


@pytest.mark.published(
    source="2025 New York energy code",
    where="[NY] R402.5.1.3, buildings of 1500 ft2 of floor or less",
    read="quoted in two secondary sources that agree",
)
def test_new_york_small_buildings() -> None:
    """Small buildings have an alternative of their own."""
    (small,) = (limit for limit in air_leakage_limits("New York 2025", 5) if limit.is_small_only)
    assert small.limit == pytest.approx(0.27 * CFM_PER_SQUARE_FOOT)


@pytest.mark.published(
    source="Washington State Energy Code 2015, City of Anacortes test form",
    where="R402.4.1.2",
    read="source",
)
def test_washington_2015() -> None:
    """Five air changes in the state's zones."""
    assert main_limit("Washington 2015", 5).limit == 5.0


@pytest.mark.published(
    source="Washington 2021, Florida 2017 and Minnesota codes",
    where="WAC 51-11R-40240; R402.4.1.2; Minnesota Rules 1322",
    read="quoted in secondary sources",
)
@pytest.mark.parametrize(
    ("code", "zone", "expected"),
    [("Washington 2021", 4, 4.0), ("Florida 2017", 2, 7.0), ("Minnesota Rules 1322", 6, 3.0)],
)
def test_other_states(code: str, zone: int, expected: float) -> None:
    """State limits stand beside the model code."""
    assert main_limit(code, zone).limit == expected


def test_every_code_has_one_limit_in_each_of_its_zones() -> None:
    """No edition contradicts itself in any zone."""
    for code in codes_with_limits():
        for zone in range(9):
            roles = [limit.role for limit in air_leakage_limits(code, zone)]
            assert roles.count("limit") <= 1
            assert not roles or "limit" in roles


def test_zone_zero_begins_with_2021() -> None:
    """Earlier editions say nothing about zone 0, which did not exist."""
    assert air_leakage_limits("IECC 2018", 0) == ()
    assert main_limit("IECC 2021", 0).limit == 5.0


def test_recalled_rows_say_so_in_their_source() -> None:
    """Whoever prints a source prints that it is recalled."""
    for code in codes_with_limits():
        for zone in range(9):
            for limit in air_leakage_limits(code, zone):
                assert limit.source.startswith("recalled: ") == limit.is_recalled


def test_unknown_code_is_refused() -> None:
    """A code that the table lacks is refused with those it has."""
    with pytest.raises(
        LookupError, match=r"^no air leakage limits for 'IECC 1998'; .*IECC 2009.*$"
    ):
        air_leakage_limits("IECC 1998", 4)
