"""Check what a gas leak demands, and what is missing from its record."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.finding import Severity
from rooftree.readings.gas_leaks import (
    EXPLOSIVE,
    Answer,
    FoundBy,
    Gas,
    GasLeak,
    GasLeakTest,
    reduce_gas_leaks,
)

TIGHT = GasLeakTest(all_reached=Answer.YES, connectors=Answer.NO, tubing_bonded=Answer.YES)
LEAK = GasLeak("union at the meter", confirmed=True, reported_to="utility, job 12")


def codes(test: GasLeakTest) -> list[str]:
    """Return the codes of the findings without their first part."""
    return [finding.code.removeprefix("gas-leaks/") for finding in reduce_gas_leaks(test).findings]


def test_tight_lines() -> None:
    """A finished walk without leaks says so and demands nothing."""
    result = reduce_gas_leaks(TIGHT)
    assert (result.findings, result.open_leaks) == ((), 0)
    assert result.says == "No leak was found on the joints that can be reached."


@pytest.mark.published(
    source="Minnesota and Tennessee weatherization field guides",
    where="8.2.2: repair all leaks",
    read="source",
)
def test_open_leak_stops_everything() -> None:
    """Any leak is a stop until it is repaired and tested again."""
    result = reduce_gas_leaks(replace(TIGHT, leaks=(LEAK,)))
    assert result.findings[0].severity is Severity.STOP
    assert (result.open_leaks, codes(replace(TIGHT, leaks=(LEAK,)))) == (1, ["leak"])
    half = replace(LEAK, repaired=True)
    assert codes(replace(TIGHT, leaks=(half,))) == ["leak", "not-tested-again"]
    done = replace(half, tested_again=True)
    assert codes(replace(TIGHT, leaks=(done,))) == []
    assert reduce_gas_leaks(replace(TIGHT, leaks=(done,))).says.endswith(
        "one was found and repaired."
    )


def test_leak_that_nobody_was_told_of() -> None:
    """The record asks whom to tell, and how sure the leak is."""
    test = replace(TIGHT, leaks=(GasLeak("valve", FoundBy.SMELL),))
    leak, told = reduce_gas_leaks(test).findings
    assert "likely" in leak.says
    assert "Confirm it with bubbles" in leak.says
    assert told.code == "gas-leaks/not-reported"


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 28, table 2",
    where="lower limits: methane 5.0 %, propane 2.1 %",
    read="source",
)
@pytest.mark.parametrize(("gas", "share"), [(Gas.NATURAL_GAS, 0.005), (Gas.PROPANE, 0.0021)])
def test_tenth_of_the_lower_limit(gas: Gas, share: float) -> None:
    """A tenth of it is 0.50 % of methane and 0.21 % of propane in air."""
    assert reduce_gas_leaks(replace(TIGHT, gas=gas)).leave_at == pytest.approx(share)
    low, high = EXPLOSIVE[gas]
    assert low < high


@pytest.mark.parametrize(
    ("changes", "found"),
    [
        ({"ambient_gas": 0.02}, ["gas-in-air"]),
        ({"smell_on_entry": True}, ["gas-in-air"]),
        ({"all_reached": Answer.NOT_SAID}, ["not-all-reached"]),
        ({"connectors": Answer.YES}, ["connector"]),
        ({"tubing_bonded": Answer.NO}, ["not-bonded"]),
    ],
)
def test_what_else_is_told(changes: dict[str, object], found: list[str]) -> None:
    """Gas in the air, an unfinished walk, connectors and bonding have their findings."""
    assert codes(replace(TIGHT, **changes)) == found  # type: ignore[arg-type]


def test_recalled_tenth_adds_a_sentence_only() -> None:
    """Gas in the air stops by itself; the recalled share adds to it, as propane's low places do."""
    mild = reduce_gas_leaks(replace(TIGHT, ambient_gas=0.05)).findings[0]
    strong = reduce_gas_leaks(replace(TIGHT, ambient_gas=0.10, gas=Gas.PROPANE)).findings[0]
    assert mild.severity is strong.severity is Severity.STOP
    assert "recalled" not in mild.says
    assert "beyond the tenth at which everybody leaves (recalled" in strong.says
    assert "look low" in strong.says


@given(
    st.lists(
        st.builds(
            GasLeak,
            st.sampled_from(["valve", "union", "connector"]),
            st.sampled_from(FoundBy),
            st.booleans(),
            st.sampled_from(["", "utility"]),
            st.booleans(),
            st.booleans(),
        ),
        max_size=5,
    )
)
def test_one_open_leak_among_any_is_a_stop(leaks: list[GasLeak]) -> None:
    """Whatever else was found, one leak that is not repaired and tested again stops the work."""
    is_open = [not (leak.repaired and leak.tested_again) for leak in leaks]
    result = reduce_gas_leaks(replace(TIGHT, leaks=tuple(leaks)))
    stops = [finding for finding in result.findings if finding.severity is Severity.STOP]
    assert bool(stops) is any(is_open)
    assert result.open_leaks == sum(is_open)
    backwards = reduce_gas_leaks(replace(TIGHT, leaks=tuple(leaks[::-1])))
    assert backwards.open_leaks == result.open_leaks
