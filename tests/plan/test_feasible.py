"""Check which sets may be built: against brute force, and against each rule."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import PlanError
from rooftree.finding import Severity
from rooftree.plan.feasible import (
    Constraint,
    cannot_be_built,
    constraints_of,
    feasible_sets,
    implied_gates,
    is_open,
    never_allowed,
    subsets,
)
from rooftree.plan.measures import KINDS
from rooftree.plan.model import PlanSettings
from rooftree.plan.offers import Offers
from rooftree.survey import Gate, gate_rules

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.house import House
    from rooftree.plan.model import Measure

    MakeMeasure = Callable[..., Measure]

SETTINGS = PlanSettings(weather_factor=0.25)


def offer(house: House, *measures: Measure) -> Offers:
    """Return measures on offer where the weather factor is known."""
    return Offers(house, measures, SETTINGS, 0.25)


def unsized(measure: MakeMeasure, **settings: str) -> Measure:
    """Return a whole-house fan whose size is left to the plan."""
    return replace(measure("ventilation"), settings=settings)


def gate(code: str) -> Gate:
    """Return a gate that stands."""
    rule = gate_rules()[code]
    return Gate(rule, rule.severity, ("seen",))


def packages(offers: Offers, *gates: Gate) -> set[frozenset[str]]:
    """Return the feasible sets by id."""
    constraints = constraints_of(offers, implied_gates(offers.house, gates))
    out = never_allowed(offers, constraints, cannot_be_built(offers))
    allowed = offers.where(lambda measure: measure.id not in out)
    return {offers.ids(bits) for bits in feasible_sets(offers, constraints, allowed, 50_000)}


def reasons(offers: Offers, *gates: Gate) -> dict[str, str]:
    """Return what is out, with the reason."""
    constraints = constraints_of(offers, implied_gates(offers.house, gates))
    return never_allowed(offers, constraints, cannot_be_built(offers))


@given(
    rows=st.lists(
        st.tuples(st.integers(0, 127), st.integers(0, 127), st.booleans()), min_size=0, max_size=8
    )
)
def test_growing_sets_finds_what_trying_all_finds(
    rows: list[tuple[int, int, bool]], house: House, measure: MakeMeasure
) -> None:
    """Any exclusions and needs: the sets are those that brute force leaves."""
    kinds = ["drainage", "dehumidifier", "windows", "furnace", "flue-repair",
             "local-exhaust", "attic-insulation"]  # fmt: skip
    offers = offer(house, *(measure(kind) for kind in kinds))

    def needs(a: int, b: int) -> Callable[[int], bool]:
        return lambda bits: not bits & a or bool(bits & b)

    def excludes(a: int, b: int) -> Callable[[int], bool]:
        return lambda bits: not (bits & a and bits & b)

    constraints = tuple(
        Constraint(a | b, (needs if need else excludes)(a, b), 0, 0, "") for a, b, need in rows
    )
    brute = [bits for bits in range(128) if all(c.holds(bits) for c in constraints)]
    assert list(feasible_sets(offers, constraints, 127, 128)) == brute


def test_subsets_are_all_there_once() -> None:
    """A set of three has eight subsets."""
    assert sorted(subsets(0b1011)) == [0, 1, 2, 3, 8, 9, 10, 11]
    assert list(subsets(0)) == [0]


def test_too_many_packages_are_refused(house: House, measure: MakeMeasure) -> None:
    """The message says how many measures make how many packages, and what to do."""
    offers = offer(house, measure("drainage"), measure("windows"), measure("flue-repair"))
    with pytest.raises(
        PlanError,
        match=r"^the 3 measures make more than 7 packages: put some aside, or merge those that "
        r"are always done together$",
    ):
        feasible_sets(offers, (), 7, 7)


def test_what_excludes_each_other_is_in_no_package(house: House, measure: MakeMeasure) -> None:
    """One heating, one cooling, and ducts are brought inside or mended where they are."""
    kinds = ["furnace", "heat-pump", "air-conditioner", "duct-sealing", "ducts-inside"]
    found = packages(offer(house, *(measure(kind) for kind in kinds)))
    assert frozenset({"furnace", "air-conditioner", "duct-sealing"}) in found
    for pair in ({"furnace", "heat-pump"}, {"air-conditioner", "heat-pump"},
                 {"duct-sealing", "ducts-inside"}):  # fmt: skip
        assert not any(pair <= package for package in found)


def test_two_offers_of_a_kind_are_alternatives(house: House, measure: MakeMeasure) -> None:
    """Windows from two makers are never bought both."""
    other = replace(measure("windows"), id="dear-windows")
    assert packages(offer(house, measure("windows"), other)) == {
        frozenset(), frozenset({"windows"}), frozenset({"dear-windows"}),
    }  # fmt: skip


def test_one_id_twice_is_refused(house: House, measure: MakeMeasure) -> None:
    """Ids tell measures apart."""
    with pytest.raises(
        PlanError, match=r"^measures windows are listed twice: give each its own id$"
    ):
        offer(house, measure("windows"), measure("windows"))


def test_an_unknown_id_is_refused(house: House, measure: MakeMeasure) -> None:
    """The message lists what is on offer."""
    with pytest.raises(PlanError, match=r"^measure 'roof' is not on offer; these are: windows$"):
        offer(house, measure("windows")).bits(["roof"])


def test_tightening_goes_with_ventilation(house: House, measure: MakeMeasure) -> None:
    """No package seals the house below its need of air without a fan that makes up for it."""
    found = packages(offer(house, measure("air-sealing", target_flow_50=0.5),
                           unsized(measure), measure("water-heater")))  # fmt: skip
    sealed = [package for package in found if "air-sealing" in package]
    assert sealed
    assert all("ventilation" in package for package in sealed)


def test_sealing_a_house_that_stays_leaky_needs_no_fan(house: House, measure: MakeMeasure) -> None:
    """Where the leaks alone are still enough, sealing may go alone."""
    offers = Offers(
        house,
        [measure("air-sealing", target_flow_50=1.0, low_target_flow_50=0.95)],
        SETTINGS,
        1.5,
    )
    assert frozenset({"air-sealing"}) in packages(offers)


def test_sealing_without_any_fan_on_offer_is_out_with_a_reason(
    house: House, measure: MakeMeasure
) -> None:
    """The reason is the missing ventilation."""
    out = reasons(offer(house, measure("air-sealing", target_flow_50=0.5)))
    assert "whole-house ventilation" in out["air-sealing"]


def test_a_fan_that_is_too_small_does_not_help(house: House, measure: MakeMeasure) -> None:
    """A fan of a given size must be large enough for the tightest that sealing may come to."""
    sealing = measure("air-sealing", target_flow_50=0.5)
    small = offer(house, sealing, measure("ventilation", flow=0.005), measure("water-heater"))
    assert not any("air-sealing" in package for package in packages(small))


def test_pull_on_the_flue_blocks_sealing_until_the_burner_is_replaced(
    house: House, measure: MakeMeasure
) -> None:
    """A natural-draft heater and strong exhaust: sealing needs the new heater with it."""
    sealing = measure("air-sealing", target_flow_50=0.4)
    found = packages(
        offer(house, sealing, unsized(measure, style="balanced"), measure("local-exhaust"),
              measure("water-heater"))
    )  # fmt: skip
    both = [p for p in found if {"air-sealing", "local-exhaust"} <= p]
    assert both
    assert all("water-heater" in package for package in both)


def test_a_gate_that_nothing_solves_takes_its_measures_out(
    house: House, measure: MakeMeasure
) -> None:
    """Live old wiring blocks wall insulation, and the reason is the gate's."""
    out = reasons(
        offer(house, measure("wall-insulation"), measure("windows")), gate("knob-and-tube")
    )
    assert set(out) == {"wall-insulation"}
    assert out["wall-insulation"].startswith(gate_rules()["knob-and-tube"].title)


def test_a_gate_opens_for_the_measure_that_solves_it(house: House, measure: MakeMeasure) -> None:
    """The crawlspace may be closed once the water is led away and no burner needs its air."""
    found = packages(
        offer(house, measure("drainage"), measure("crawlspace-closing"), measure("furnace"),
              unsized(measure), measure("water-heater")),
        gate("bulk-water"),
    )  # fmt: skip
    closed = [package for package in found if "crawlspace-closing" in package]
    assert closed
    assert all({"drainage", "furnace"} <= package for package in closed)


def test_what_needs_something_that_is_out_is_out(house: House, measure: MakeMeasure) -> None:
    """The drain cannot be dug: the crawlspace stays open too."""
    offers = offer(house, measure("drainage"), measure("crawlspace-closing"), measure("furnace"))
    constraints = constraints_of(offers, implied_gates(house, [gate("bulk-water")]))
    out = never_allowed(offers, constraints, {"drainage": "no access"})
    assert set(out) == {"drainage", "crawlspace-closing"}


def test_only_a_burner_that_is_really_gone_opens_its_gate(
    house: House, measure: MakeMeasure
) -> None:
    """Another natural-draft heater is no proof; a sealed or electric one is."""
    again = measure("water-heater", kind="tank", draft="natural draft")
    for new, opened in ((again, False), (measure("water-heater"), True)):
        offers = offer(house, new)
        assert is_open(offers, gate("natural-draft-in-living-zone"), 1) is opened
        assert not is_open(offers, gate("natural-draft-in-living-zone"), 0)


def test_a_sound_flue_ends_spillage(house: House, measure: MakeMeasure) -> None:
    """Repairing the flue is proof by itself."""
    assert is_open(offer(house, measure("flue-repair")), gate("spillage"), 1)


def test_the_house_sets_gates_of_its_own(house: House) -> None:
    """A furnace that breathes crawlspace air holds back closing it, seen or not."""
    codes = {each.code for each in implied_gates(house, ())}
    assert codes == {"crawl-burner"}
    given = implied_gates(house, [Gate(gate_rules()["crawl-burner"], Severity.STOP, ("o",))])
    assert [each.severity for each in given] == [Severity.STOP]


def test_what_the_house_cannot_take_says_why(house: House, measure: MakeMeasure) -> None:
    """A target below what the flue leaks is out, with the message of the measure."""
    out = cannot_be_built(offer(house, measure("air-sealing", target_flow_50=0.01)))
    assert out["air-sealing"].startswith("air-sealing.target_flow_50 is 0.0100 m³/s")


def test_thousands_of_packages_come_of_eighteen_measures(
    house: House, measure: MakeMeasure
) -> None:
    """A full list of offers gives thousands of packages, not millions."""
    kinds = sorted(set(KINDS) - {"flue-repair"})
    assert 2_000 <= len(packages(offer(house, *(measure(kind) for kind in kinds)))) <= 50_000
