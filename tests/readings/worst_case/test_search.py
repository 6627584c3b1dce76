"""Check the guided search against houses that are known."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest

from rooftree.readings.worst_case import (
    Combination,
    Stage,
    WorstCaseTest,
    ZoneState,
    combination_of,
    next_state,
    reduce_worst_case,
)
from rooftree.readings.worst_case.switches import TURNS
from zone_network import ALL_EXHAUSTS, draw_house, draw_search

BASELINE = (-0.4, -0.5, -0.3)


def test_first_comes_the_baseline() -> None:
    """Nothing is tried before the baseline was read."""
    following = next_state(WorstCaseTest("closet"))
    assert following is not None
    assert following.stage is Stage.BASELINE
    assert following.combination == Combination()


def test_exhausts_come_one_after_another() -> None:
    """First the dryer, then the next fan with the dryer still on, as far as there are any."""
    test = WorstCaseTest("closet", baseline_before=BASELINE, has_range_hood=False)
    first = next_state(test)
    assert first is not None
    assert first.combination == Combination(frozenset({"dryer"}))
    second = next_state(replace(test, states=(first.combination.state(-1.0),)))
    assert second is not None
    assert second.combination == Combination(frozenset({"dryer", "bath_fans"}))
    assert second.words.startswith("dryer and bath fans on, interior doors open")


def test_a_house_without_exhaust_fans_is_searched_too() -> None:
    """Where nothing exhausts, the still house is read, then doors and air handler are tried."""
    test = WorstCaseTest(
        "closet",
        baseline_before=BASELINE,
        has_dryer=False,
        has_range_hood=False,
        has_bath_fans=False,
    )
    seen = []
    while (following := next_state(test)) is not None and len(seen) < 20:
        seen.append(following.combination)
        if following.stage is Stage.BASELINE_AFTER:
            test = replace(test, baseline_after=BASELINE)
        else:
            test = replace(test, states=(*test.states, following.combination.state(-1.0)))
    assert len(set(seen)) == 8
    assert seen[0] == Combination()
    assert following is None


def test_turns_start_from_the_deepest() -> None:
    """A door that pulls deeper stays closed while the next one is tried."""
    test = WorstCaseTest(
        "closet",
        (
            ZoneState(-2.0, dryer=True),
            ZoneState(-3.0, dryer=True, interior_doors_closed=True),
        ),
        BASELINE,
        has_range_hood=False,
        has_bath_fans=False,
    )
    following = next_state(test)
    assert following is not None
    assert following.combination.turns == {"interior_doors_closed", "zone_door_closed"}
    assert "From the deepest so far (-2.6 Pa), set zone door closed" in following.says


@pytest.mark.parametrize("seed", range(8))
def test_search_ends_with_every_combination(seed: int) -> None:
    """The search ends, having read each combination of doors and air handler."""
    rng = np.random.default_rng(seed)
    test = draw_search(rng, draw_house(rng))
    assert next_state(test) is None
    read = {combination_of(state) for state in test.states}
    for count in range(4):
        for turns in combinations(TURNS, count):
            assert Combination(ALL_EXHAUSTS, frozenset(turns)) in read
    assert len(test.states) <= 12


def test_search_without_noise_finds_the_worst_case() -> None:
    """On a house read without noise the deepest of all combinations is the one named."""
    rng = np.random.default_rng(5)
    house = draw_house(rng)
    test = WorstCaseTest("closet", has_other_exhaust=False)
    for _ in range(20):
        following = next_state(test)
        if following is None:
            break
        value = house.pressure(following.combination)
        if following.stage is Stage.BASELINE:
            test = replace(test, baseline_before=(value,))
        elif following.stage is Stage.BASELINE_AFTER:
            test = replace(test, baseline_after=(value,))
        else:
            test = replace(test, states=(*test.states, following.combination.state(value)))
    result = reduce_worst_case(test)
    deepest = min(
        house.net(Combination(ALL_EXHAUSTS, frozenset(turns)))
        for count in range(4)
        for turns in combinations(TURNS, count)
    )
    assert result.worst is not None
    assert result.worst.net.value == pytest.approx(deepest, abs=1e-6)
    assert result.following is None


def test_house_with_nothing_to_turn() -> None:
    """With one fan and no doors the search is that fan, read twice, and the baselines."""
    test = WorstCaseTest(
        "room", (ZoneState(-1.0, dryer=True), ZoneState(-1.1, dryer=True)), BASELINE, BASELINE,
        has_range_hood=False, has_bath_fans=False, has_air_handler=False,
        has_interior_doors=False, has_zone_door=False,
    )  # fmt: skip
    assert next_state(test) is None
    once = next_state(replace(test, states=test.states[:1]))
    assert once is not None
    assert once.stage is Stage.REPEAT
