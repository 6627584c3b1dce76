"""Check the tables of limits for burners against what is known of them."""

from __future__ import annotations

import pytest

from rooftree.tables.combustion_limits import (
    combustion_limit,
    combustion_limits,
    recalled_limits,
)
from rooftree.tables.depressurization import depressurization_limit, depressurization_limits


@pytest.mark.published(
    source="BPI Building Analyst standard, older editions",
    where="depressurization limits by kind of flue",
    read="memory",
)
@pytest.mark.parametrize(
    ("appliance", "draft", "shares", "limit"),
    [
        ("water heater", "natural draft", False, 2), ("water heater", "natural draft", True, 3),
        ("furnace", "natural draft", True, 3), ("boiler", "natural draft", False, 5),
        ("furnace", "fan assisted", True, 5), ("water heater", "fan assisted", False, 15),
        ("furnace", "sealed combustion", False, 50),
    ],
)  # fmt: skip
def test_depressurization_limits(appliance: str, draft: str, shares: bool, limit: float) -> None:
    """Each kind of flue has its limit, by whether another burner shares it."""
    found = depressurization_limit(appliance, draft, shares_flue=shares)
    assert found is not None
    assert found.value == limit


def test_strictest_limit_counts_where_sharing_is_not_known() -> None:
    """Not knowing whether a flue is shared never makes the limit milder."""
    known = [
        depressurization_limit("furnace", "natural draft", shares_flue=s) for s in (True, False)
    ]
    unknown = depressurization_limit("furnace", "natural draft")
    assert unknown is not None
    assert unknown.value == min(limit.value for limit in known if limit)


def test_recalled_limits_say_so() -> None:
    """What nobody has read carries the word in its source, and only that."""
    assert all(limit.source.startswith("recalled: ") for limit in depressurization_limits())
    for limit in combustion_limits():
        assert limit.source.startswith("recalled: ") == limit.recalled
        assert (
            limit.demands in ("caution", "fail") or not limit.recalled or "leave" in limit.demands
        )


@pytest.mark.published(
    source="National Fuel Gas Code, annex G; ANSI Z21.47-1998",
    where="central furnaces and boilers: 400 ppm air-free",
    read="quoted in secondary sources",
)
@pytest.mark.parametrize("protocol", ["older", "bpi-1200", "fuel-gas-code"])
def test_shut_off_holds_in_every_protocol(protocol: str) -> None:
    """400 ppm shuts a burner off whatever the protocol."""
    limit = combustion_limit("flue-co", "shut off", protocol=protocol, appliance="furnace")
    assert limit is not None
    assert limit.value == 400.0


def test_protocols_do_not_lend_each_other_limits() -> None:
    """The older minute does not bind the newer protocol, nor its two minutes the older one."""
    assert combustion_limit("spillage", "service", protocol="bpi-1200") is None
    assert [
        limit.value for limit in recalled_limits("spillage", protocol="bpi-1200", vent="warm")
    ] == [120.0]
    assert recalled_limits("spillage", protocol="older", vent="warm") == ()
