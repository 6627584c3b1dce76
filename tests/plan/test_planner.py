"""Check the plan as a whole: what it holds, what it says, and that its figures agree."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from rooftree.bills import cost_of
from rooftree.errors import OutOfRangeError
from rooftree.finding import Severity
from rooftree.house import EndUse, Fuel
from rooftree.plan import (
    KINDS,
    PlanCancelledError,
    PlanSettings,
    apply_measures,
    compare_measures,
    make_plan,
)
from rooftree.plan.leakage import flow_at_50
from rooftree.plan.measures.enclosure import COVER
from rooftree.plan.offers import Offers
from rooftree.survey import Gate, gate_rules

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from rooftree.bills import Tariff
    from rooftree.engine.results import YearResult
    from rooftree.house import House
    from rooftree.plan import Measure, Plan
    from rooftree.weather.year import WeatherYear

    MakeMeasure = Callable[..., Measure]

SETTINGS = PlanSettings(weather_factor=0.25)
KINDS_ON_OFFER = (
    "drainage", "crawlspace-closing", "dehumidifier", "water-heater", "local-exhaust",
    "bonus-floor-fix", "air-sealing", "attic-insulation", "duct-sealing", "furnace", "heat-pump",
)  # fmt: skip


def gate(code: str) -> Gate:
    """Return a gate that stands."""
    rule = gate_rules()[code]
    return Gate(rule, rule.severity, ("seen",))


@pytest.fixture(scope="session", name="measures")
def on_offer(measure: MakeMeasure) -> tuple[Measure, ...]:
    """Return a dozen measures, the fan to be sized by the plan."""
    fan = replace(measure("ventilation", 600.0), settings={})
    return (*(measure(kind, 1500.0) for kind in KINDS_ON_OFFER), fan)


@pytest.fixture(name="plan")
def whole_plan(
    house: House, measures: tuple[Measure, ...], tariff: Tariff, linear: Any, weather: WeatherYear
) -> Plan:
    """Return the plan of the small house behind two gates."""
    gates = [gate("natural-draft-in-living-zone"), gate("bulk-water")]
    return make_plan(house, measures, gates, weather, tariff, settings=SETTINGS,
                     simulate_many=linear)  # fmt: skip


def test_every_measure_is_in_the_plan_or_says_why_not(
    plan: Plan, measures: tuple[Measure, ...]
) -> None:
    """Nothing that was offered is forgotten."""
    inside = {step.measure.id for step in plan.steps}
    outside = {measure.id: reason for measure, reason in plan.blocked}
    assert inside | set(outside) == {measure.id for measure in measures}
    assert not inside & set(outside)
    assert all(reason.endswith(".") for reason in outside.values())


def test_steps_add_up_to_the_whole(plan: Plan) -> None:
    """What each step saves in its place adds up to what the plan saves."""
    assert sum(step.in_place.money_saved for step in plan.steps) == pytest.approx(
        plan.whole.money_saved
    )
    for fuel, saved in plan.whole.energy_saved.items():
        steps = sum(step.in_place.energy_saved.get(fuel, 0.0) for step in plan.steps)
        assert steps == pytest.approx(saved)


def test_the_last_stage_is_the_chosen_package(plan: Plan, house: House) -> None:
    """The house after the last stage is the house with all steps done."""
    assert plan.stages[-1].house == apply_measures(house, [s.measure for s in plan.steps])


def test_the_plan_is_the_best_of_its_packages(plan: Plan) -> None:
    """Among packages with the same duties done, none is worth more."""
    chosen = frozenset(step.measure.id for step in plan.steps)
    best = next(package for package in plan.packages if package.measures == chosen)
    duties = {"drainage", "ventilation"}
    assert duties <= chosen
    assert best.net_saving == max(p.net_saving for p in plan.packages if duties <= p.measures)
    assert plan.worth is not None
    assert plan.worth.net_saving == pytest.approx(best.net_saving)


def test_each_step_says_why_with_facts_of_this_house(plan: Plan) -> None:
    """Reasons are sentences, and name what was found."""
    for step in plan.steps:
        assert step.why_here.endswith("."), step
        assert len(step.why_here) < 500
        assert any(mark.isdigit() for mark in step.why_here), step.why_here


def test_each_stage_is_checked(plan: Plan) -> None:
    """Air is judged after each stage, and tests that the work asks for are named."""
    for stage in plan.stages:
        codes = [check.code for check in stage.checks]
        assert "plan/ventilation" in codes
        assert not any(code.startswith("plan/depressurization-over") for code in codes)
    assert any(check.code == "plan/retest" for check in plan.stages[0].checks)


def test_gates_are_findings_of_the_plan(plan: Plan) -> None:
    """The gates that stand are told, with the one that the house sets itself."""
    codes = [finding.code for finding in plan.findings]
    assert {"gate/natural-draft-in-living-zone", "gate/bulk-water", "gate/crawl-burner"} <= set(
        codes
    )


def test_air_sealing_gives_the_plan_a_range(plan: Plan) -> None:
    """The plan saves less or more as sealing comes out, and the expected lies between."""
    assert plan.whole_low is not None
    assert plan.whole_high is not None
    assert "air-sealing" in {step.measure.kind for step in plan.steps}
    low, high = plan.whole_low.money_saved, plan.whole_high.money_saved
    assert low < plan.whole.money_saved < high


def test_the_sealing_step_names_the_leakage_that_it_comes_to(plan: Plan) -> None:
    """Targets of the step are fan tests of the house at that point, in their order."""
    (step,) = (step for step in plan.steps if step.measure.kind == "air-sealing")
    low, target, high = (
        float(step.measure.settings[f"{end}target_flow_50"]) for end in ("low_", "", "high_")
    )
    assert low < target < high
    stage = next(stage for stage in plan.stages if step in stage.steps)
    if stage.steps[-1] is step:
        assert flow_at_50(stage.house) == pytest.approx(target)


def test_sealing_is_the_same_work_in_every_package(
    house: House, measures: tuple[Measure, ...]
) -> None:
    """A closed crawlspace leaves the cracks of the walls to be sealed all the same."""
    offers = Offers(house, measures, SETTINGS, 0.25)
    alone, closed = (
        offers.house_of(offers.bits(ids))
        for ids in (["air-sealing"], ["air-sealing", "crawlspace-closing"])
    )
    assert [leak for leak in alone.leaks if leak.id == "wall-cracks"] == [
        leak for leak in closed.leaks if leak.id == "wall-cracks"
    ]
    assert flow_at_50(closed) < flow_at_50(alone) == pytest.approx(0.75, rel=1e-4)


def test_the_fan_has_one_size_in_all_stages(plan: Plan) -> None:
    """A fan is bought once, for the tightest that the whole plan may come to."""
    flows = {
        fan.flow
        for stage in plan.stages
        for fan in stage.house.fans
        if fan.purpose == "whole house"
    }
    assert len(flows) == 1


def test_stage_costs_are_those_of_their_steps(plan: Plan) -> None:
    """Ranges add up."""
    total = sum(stage.cost_low for stage in plan.stages)
    assert total == pytest.approx(sum(step.measure.cost_low for step in plan.steps))


def test_a_budget_is_kept(
    house: House, measures: tuple[Measure, ...], tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """A smaller budget gives a cheaper plan, and says what would exceed it."""
    settings = replace(SETTINGS, budget=4000.0)
    plan = make_plan(house, measures, [], weather, tariff, settings=settings,
                     simulate_many=linear)  # fmt: skip
    assert sum(step.measure.cost for step in plan.steps) <= 4000.0
    assert any("more than the budget" in reason for _, reason in plan.blocked)


def test_a_budget_below_what_must_be_done_is_told(
    house: House, measures: tuple[Measure, ...], tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """Safety is planned all the same, alone, with a gate that names the shortfall."""
    settings = replace(SETTINGS, budget=100.0)
    plan = make_plan(house, measures, [gate("bulk-water")], weather, tariff,
                     settings=settings, simulate_many=linear)  # fmt: skip
    assert {step.measure.id for step in plan.steps} == {"drainage", "ventilation"}
    short = next(f for f in plan.findings if f.code == "plan/budget-short")
    assert short.severity is Severity.GATE
    assert short.value == pytest.approx(2000.0)


def test_the_owner_has_a_say(
    house: House, measures: tuple[Measure, ...], tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """What was accepted is in where it can be, and what was declined is out."""
    settings = replace(
        SETTINGS, wanted=frozenset({"dehumidifier"}), declined=frozenset({"duct-sealing"})
    )
    plan = make_plan(house, measures, [], weather, tariff, settings=settings,
                     simulate_many=linear)  # fmt: skip
    assert "dehumidifier" in {step.measure.id for step in plan.steps}
    assert ("duct-sealing", "The owner has declined it.") in {(m.id, r) for m, r in plan.blocked}


def test_a_damp_crawlspace_is_dried_within_the_budget(
    house: House, measures: tuple[Measure, ...], tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """Damper than outdoors: it is closed though that does not pay, unless money is short."""
    dry = replace(
        weather, dew_point=weather.dew_point - 5.0, humidity_ratio=0.7 * weather.humidity_ratio
    )
    plans = {
        budget: make_plan(house, measures, [], dry, tariff,
                          settings=replace(SETTINGS, budget=budget), simulate_many=linear)
        for budget in (None, 1200.0)
    }  # fmt: skip
    after = plans[None].stages[-1].year.hours_above_80_percent[4]
    assert after <= 0.5 * plans[None].before.hours_above_80_percent[4]
    told = [f.says for f in plans[1200.0].findings if f.code == "plan/not-within-budget"]
    assert any("Damp air in the crawlspace" in says for says in told)


def test_what_would_undo_a_wish_says_so(
    house: House, measure: MakeMeasure, tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """Windows bring a cold room to its thermostat; a furnace that is too small undoes that."""
    windows, furnace = measure("windows"), measure("furnace", 1.0)
    needs, then = (
        year.peak_heating for year in linear([house, apply_measures(house, [windows])], None)
    )
    assert house.heating is not None
    cold = replace(house, heating=replace(house.heating, capacity=needs - 2100.0))
    assert then < needs - 1100.0
    small = replace(furnace, settings={"capacity": then - 1500.0})
    plan = make_plan(cold, [windows, small], [], weather, tariff, settings=SETTINGS,
                     simulate_many=linear)  # fmt: skip
    assert [step.measure.id for step in plan.steps] == ["windows"]
    assert [reason for _, reason in plan.blocked] == [
        "With it, and nothing else, the plan would no longer see to: Rooms off their thermostat."
    ]


def test_what_a_gate_holds_back_says_so(
    house: House, measure: MakeMeasure, tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """Old wiring: the walls are not filled, and the plan tells why and what to do."""
    plan = make_plan(house, [measure("wall-insulation"), measure("windows", 1.0)],
                     [gate("knob-and-tube")], weather, tariff, settings=SETTINGS,
                     simulate_many=linear)  # fmt: skip
    assert [step.measure.id for step in plan.steps] == ["windows"]
    ((blocked, reason),) = plan.blocked
    assert blocked.id == "wall-insulation"
    assert gate_rules()["knob-and-tube"].remedy in reason


def test_without_measures_there_is_an_empty_plan(
    house: House, tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """The smallest plan is the house as found."""
    plan = make_plan(house, [], [], weather, tariff, settings=SETTINGS, simulate_many=linear)
    assert plan.stages == ()
    assert plan.whole.money_saved == 0.0
    assert len(plan.packages) == 1
    assert plan.worth is None


def test_each_house_is_simulated_once(
    house: House, measures: tuple[Measure, ...], tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """Steps, stages and ends of the range reuse what the packages already ran."""
    seen: list[tuple[int, int]] = []
    plan = make_plan(house, measures, [], weather, tariff, settings=SETTINGS,
                     simulate_many=linear,
                     progress=lambda done, total: seen.append((done, total)))  # fmt: skip
    assert linear.count <= len(plan.packages) + 2 * len(plan.steps) + 3
    assert seen[-1] == (linear.count, linear.count)
    assert [done for done, _ in seen] == sorted(done for done, _ in seen)


def test_a_plan_can_be_stopped(
    house: House, measures: tuple[Measure, ...], tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """Once told to stop it simulates no further and says that it was stopped."""
    with pytest.raises(
        PlanCancelledError, match=r"^the plan was stopped; start it again to have one$"
    ):
        make_plan(house, measures, [], weather, tariff, settings=SETTINGS,
                  simulate_many=linear, cancelled=lambda: linear.count >= 5)  # fmt: skip
    assert linear.count == 5


def test_an_unknown_edition_is_refused(
    house: House, measures: tuple[Measure, ...], tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """The message names the edition and the years that there are."""
    settings = replace(SETTINGS, ventilation_edition="1989")
    with pytest.raises(OutOfRangeError, match=r"^edition of 62\.2 is 1989 .* 2010 to 2022 .*$"):
        make_plan(house, measures, [], weather, tariff, settings=settings,
                  simulate_many=linear)  # fmt: skip


@pytest.fixture(name="one_load")
def simulate_one_load(linear: Any) -> Callable[..., tuple[YearResult, ...]]:
    """Return a simulator of one load, off which measures take 20, 15 and 10 percent."""

    def load_of(house: House) -> float:
        covered = any(layer.name == COVER for s in house.surfaces for layer in s.layers)
        load = 100e9 * (0.80 if house.windows[0].u_value < 2.0 else 1.0)
        return load * (0.85 if covered else 1.0) * (0.9 if house.ducts[0].resistance > 1.0 else 1.0)

    def simulate(houses: Sequence[House], year: object, **_: object) -> tuple[YearResult, ...]:
        made = []
        for house, result in zip(houses, linear(houses, year), strict=True):
            assert house.heating is not None
            months = np.full(12, load_of(house) / house.heating.efficiency / 12.0)
            made.append(replace(result, energy={(Fuel.GAS, EndUse.HEATING): months}))
        return tuple(made)

    return simulate


def test_savings_on_one_load_multiply(
    house: House, measure: MakeMeasure, tariff: Tariff, one_load: Any, weather: WeatherYear
) -> None:
    """Twenty, fifteen and ten percent of one load are 38.8 percent together, never 45."""
    settings = replace(SETTINGS, wanted=frozenset({"windows", "attic-insulation", "wrap"}))
    wrap = replace(measure("duct-insulation"), id="wrap")
    measures = [measure("windows"), measure("attic-insulation"), wrap]
    plan = make_plan(house, measures, [], weather, tariff, settings=settings,
                     simulate_many=one_load)  # fmt: skip
    bought = plan.before.bought()
    assert plan.alone_sum is not None
    assert plan.whole.energy_saved["natural gas"] / bought == pytest.approx(0.388)
    assert plan.alone_sum.energy_saved["natural gas"] / bought == pytest.approx(0.45)
    (told,) = [finding for finding in plan.findings if finding.code == "plan/interaction"]
    assert "a saving counts only on what the steps before it have left" in told.says


def test_equipment_after_the_shell_saves_on_the_smaller_load(
    house: House, measure: MakeMeasure, tariff: Tariff, one_load: Any, weather: WeatherYear
) -> None:
    """A furnace of 0.95 for 0.78 saves 1 - 0.78/0.95 of what windows leave."""
    settings = replace(SETTINGS, wanted=frozenset({"windows", "furnace"}))
    plan = make_plan(house, [measure("furnace"), measure("windows")], [], weather, tariff,
                     settings=settings, simulate_many=one_load)  # fmt: skip
    assert [step.measure.id for step in plan.steps] == ["windows", "furnace"]
    left = 0.8 * plan.before.bought()
    saved = plan.steps[1].in_place.energy_saved["natural gas"]
    assert saved == pytest.approx((1.0 - 0.78 / 0.95) * left)
    assert plan.steps[1].lost_to_others > 0.0


def test_a_comparison_leaves_out_what_may_not_be_built(
    house: House, measures: tuple[Measure, ...], tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """Sealing without a fan does not count, and says why; the rest does."""
    chosen = {"air-sealing", "duct-sealing"}
    seen = compare_measures(house, measures, chosen, [], weather, tariff, settings=SETTINGS,
                            simulate_many=linear)  # fmt: skip
    assert [measure.id for measure, _ in seen.blocked] == ["air-sealing"]
    assert seen.effect.money_saved == pytest.approx(
        cost_of(seen.before, tariff) - cost_of(seen.after, tariff)
    )
    assert seen.house == apply_measures(house, [m for m in measures if m.id == "duct-sealing"])
    assert (seen.cost_low, seen.cost_high) == (1200.0, 1800.0)
    assert seen.checks


def test_a_comparison_with_its_remedies_counts_all(
    house: House, measures: tuple[Measure, ...], tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """With fan and heater switched on too, sealing counts."""
    chosen = {"air-sealing", "ventilation", "water-heater"}
    seen = compare_measures(house, measures, chosen, [], weather, tariff, settings=SETTINGS,
                            simulate_many=linear)  # fmt: skip
    assert seen.blocked == ()


def test_of_two_that_exclude_each_other_one_counts(
    house: House, measures: tuple[Measure, ...], tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """Both heatings switched on: the later one is out, with the reason."""
    seen = compare_measures(house, measures, {"furnace", "heat-pump"}, [], weather, tariff,
                            settings=SETTINGS, simulate_many=linear)  # fmt: skip
    assert [(m.id, reason) for m, reason in seen.blocked] == [
        ("heat-pump", "Each replaces the heating.")
    ]


def test_a_known_year_is_not_run_again(
    house: House, measures: tuple[Measure, ...], tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """A page that knows the house as found runs one house for each switch."""
    (found,) = linear([house], None)
    seen = compare_measures(house, measures, {"duct-sealing"}, [], weather, tariff,
                            settings=SETTINGS, before=found, simulate_many=linear)  # fmt: skip
    assert seen.before is found
    assert linear.count == 2


def test_all_kinds_at_once_make_a_plan(
    house: House, measure: MakeMeasure, tariff: Tariff, linear: Any, weather: WeatherYear
) -> None:
    """One measure of each kind, all gates of the demo: a plan comes out."""
    fan = replace(measure("ventilation"), settings={})
    measures = [*(measure(kind, 900.0) for kind in KINDS if kind != "ventilation"), fan]
    gates = [gate(code) for code in ("natural-draft-in-living-zone", "garage-air", "bulk-water",
                                     "wet-crawlspace", "bath-fan-into-attic")]  # fmt: skip
    plan = make_plan(house, measures, gates, weather, tariff, settings=SETTINGS,
                     simulate_many=linear)  # fmt: skip
    assert len(plan.packages) >= 2_000
    assert len(plan.stages) >= 3
