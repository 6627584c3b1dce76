"""Check the order of work: rules, gates, and that each stage is safe to stop after."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rooftree.plan.combustion import is_pulled_too_far
from rooftree.plan.feasible import (
    cannot_be_built,
    constraints_of,
    feasible_sets,
    implied_gates,
    is_open,
    never_allowed,
)
from rooftree.plan.measures import KINDS, kind_of
from rooftree.plan.model import PlanSettings
from rooftree.plan.offers import Offers
from rooftree.plan.order import applying_rules, done_by, openers, place_measures, sequence
from rooftree.plan.rules import order_rules
from rooftree.survey import Gate, gate_rules

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.house import House
    from rooftree.plan.model import Measure

    MakeMeasure = Callable[..., Measure]

GATES = ("natural-draft-in-living-zone", "garage-air", "bulk-water", "bath-fan-into-attic")


def gate(code: str) -> Gate:
    """Return a gate that stands."""
    rule = gate_rules()[code]
    return Gate(rule, rule.severity, ("seen",))


@pytest.fixture(scope="session", name="offers")
def every_offer(house: House, measure: MakeMeasure) -> Offers:
    """Return one measure of each kind, the fan to be sized by the plan."""
    measures = [measure(kind) for kind in KINDS if kind != "ventilation"]
    fan = replace(measure("ventilation"), settings={})
    return Offers(house, [*measures, fan], PlanSettings(weather_factor=0.25), 0.25)


@pytest.fixture(scope="session", name="gates")
def standing(house: House) -> tuple[Gate, ...]:
    """Return the gates of a house like the demo's."""
    return implied_gates(house, [gate(code) for code in GATES])


@pytest.fixture(scope="session", name="sets")
def all_sets(offers: Offers, gates: tuple[Gate, ...]) -> tuple[int, ...]:
    """Return every feasible set of the offers behind those gates."""
    constraints = constraints_of(offers, gates)
    out = never_allowed(offers, constraints, cannot_be_built(offers))
    allowed = offers.where(lambda measure: measure.id not in out)
    return feasible_sets(offers, constraints, allowed, 50_000)


@given(pick=st.integers(0, 10**9))
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_every_stage_of_every_package_is_safe_to_stop_after(
    pick: int, offers: Offers, gates: tuple[Gate, ...], sets: tuple[int, ...]
) -> None:
    """After each stage gates are open, air is enough, and no flue is pulled too far."""
    bits = sets[pick % len(sets)]
    placing = place_measures(offers, bits, gates)
    for stage in set(placing.stage.values()):
        done = done_by(offers, bits, placing, stage)
        blocked = {
            measure.id
            for each in gates
            for measure in offers.chosen(done & offers.of_kind(*each.blocks))
            if not is_open(offers, each, done)
        }
        assert not blocked
        if bits & offers.of_kind("ventilation"):
            assert offers.ventilation(done, whole=bits).is_enough
        assert not offers.tightens(done) or offers.ventilation(done, whole=bits).is_enough
        assert not is_pulled_too_far(offers.pulls(0), offers.pulls(done, whole=bits))


@given(pick=st.integers(0, 10**9))
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_the_order_obeys_every_rule_that_must_hold(
    pick: int, offers: Offers, gates: tuple[Gate, ...], sets: tuple[int, ...]
) -> None:
    """Each measure is there once, after what must come before it and what opens its gate."""
    bits = sets[pick % len(sets)]
    ordered = sequence(offers, bits, place_measures(offers, bits, gates), gates)
    assert sorted(m.id for m in ordered) == sorted(offers.ids(bits))
    place = {measure.kind: k for k, measure in enumerate(ordered)}
    for rule in applying_rules(offers, bits):
        if rule.must:
            assert place[rule.first] < place[rule.then], rule
    for each in gates:
        for blocked in each.blocks & set(place):
            for opener in openers(offers, bits, each):
                assert place[opener.kind] < place[blocked], (each.code, blocked)


def test_stages_only_come_earlier_than_their_kind(
    offers: Offers, gates: tuple[Gate, ...], sets: tuple[int, ...]
) -> None:
    """Nothing is put off beyond the stage of its kind."""
    placing = place_measures(offers, sets[-1], gates)
    for measure in offers.chosen(sets[-1]):
        assert placing.stage[measure.id] <= kind_of(measure).stage


def test_a_stop_is_dealt_with_in_the_first_stage(house: House, measure: MakeMeasure) -> None:
    """Smoke in the rooms: the new heater comes before everything else, with the reason."""
    offers = Offers(house, [measure("water-heater"), measure("drainage")], PlanSettings(), 0.25)
    placing = place_measures(offers, 0b11, (gate("spillage"),))
    assert placing.stage == {"drainage": 2, "water-heater": 1}
    assert placing.reasons["water-heater"] == [
        f"{gate_rules()['spillage'].title}: smoke comes back into the rooms today."
    ]


def test_without_hazards_each_kind_keeps_its_stage(house: House, measure: MakeMeasure) -> None:
    """A heater that harms nobody is renewed with the rest of the equipment."""
    offers = Offers(
        house, [measure("water-heater"), measure("attic-insulation")], PlanSettings(), 0.25
    )
    placing = place_measures(offers, 0b11, ())
    assert placing.stage == {"attic-insulation": 3, "water-heater": 6}
    assert placing.reasons == {"attic-insulation": [], "water-heater": []}


def test_the_fan_comes_with_the_work_that_tightens(house: House, measure: MakeMeasure) -> None:
    """Closing the crawlspace makes the house tighter, so the fan is in that stage."""
    fan = replace(measure("ventilation"), settings={})
    offers = Offers(
        house,
        [measure("crawlspace-closing"), measure("furnace"), fan, measure("windows")],
        PlanSettings(),
        0.05,
    )
    bits = offers.bits(["crawlspace-closing", "furnace", "ventilation", "windows"])
    placing = place_measures(offers, bits, implied_gates(house, ()))
    assert placing.stage["crawlspace-closing"] == placing.stage["furnace"] == 2
    assert offers.tightens(offers.bits(["crawlspace-closing", "furnace"]))
    assert placing.stage["ventilation"] == 2
    assert placing.stage["windows"] == 5


def test_weak_exhaust_is_mended_with_the_fan_that_counts_on_it(
    house: House, measure: MakeMeasure
) -> None:
    """The fan is sized for a house with its bath and kitchen fans, so they are not later."""
    fan = replace(measure("ventilation"), settings={})
    offers = Offers(
        house, [fan, measure("local-exhaust"), measure("water-heater")], PlanSettings(), 0.1
    )
    placing = place_measures(offers, 0b111, ())
    assert placing.stage["local-exhaust"] <= placing.stage["ventilation"]
    alone, both = (
        offers.fan_flow(fan, offers.bits(ids))
        for ids in (["ventilation"], ["ventilation", "local-exhaust"])
    )
    assert both < alone


def test_rules_with_a_condition_hold_only_there(house: House, measure: MakeMeasure) -> None:
    """Ducts in the attic must be sealed before insulation; elsewhere they need not."""
    measures = [measure("duct-sealing"), measure("attic-insulation")]
    moved = replace(house, ducts=(replace(house.ducts[0], space="attic"),))
    rule = ("duct-sealing", "attic-insulation")
    for each, expected in ((house, False), (moved, True)):
        offers = Offers(each, measures, PlanSettings(), 0.25)
        assert (rule in {(r.first, r.then) for r in applying_rules(offers, 0b11)}) is expected
    assert any(rule.where for rule in order_rules())
