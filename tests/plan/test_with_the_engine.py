"""Check the plan with the real engine and a real year of weather."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pvlib
import pytest

from rooftree.bills import cost_of
from rooftree.engine import simulate
from rooftree.plan import PlanSettings, compare_measures, make_plan
from rooftree.survey import Gate, gate_rules
from rooftree.weather import parse_tmy3

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.bills import Tariff
    from rooftree.house import House
    from rooftree.plan import Measure, Plan
    from rooftree.weather.year import WeatherYear

    MakeMeasure = Callable[..., Measure]

GREENSBORO = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
WANTED = frozenset({"air-sealing", "attic-insulation", "water-heater", "duct-sealing"})


@pytest.fixture(scope="module", name="year")
def greensboro() -> WeatherYear:
    """Return the typical year that comes with pvlib."""
    return parse_tmy3(GREENSBORO.read_text(encoding="utf-8"))


@pytest.fixture(scope="module", name="measures")
def on_offer(measure: MakeMeasure) -> tuple[Measure, ...]:
    """Return five measures, the fan to be sized by the plan."""
    return (
        *(measure(kind) for kind in sorted(WANTED)),
        replace(measure("ventilation"), settings={}),
    )


@pytest.fixture(scope="module", name="plan")
def simulated_plan(
    house: House, measures: tuple[Measure, ...], tariff: Tariff, year: WeatherYear
) -> Plan:
    """Return the plan of the small house in Greensboro, behind a gate for its flue."""
    rule = gate_rules()["natural-draft-in-living-zone"]
    gates = [Gate(rule, rule.severity, ("seen",))]
    return make_plan(house, measures, gates, year, tariff, settings=PlanSettings(wanted=WANTED))


def test_all_that_is_wanted_is_in_the_plan(plan: Plan) -> None:
    """Sealing comes with the fan that it needs."""
    assert {step.measure.kind for step in plan.steps} == WANTED | {"ventilation"}


def test_stages_are_years_of_their_houses(
    plan: Plan, house: House, tariff: Tariff, year: WeatherYear
) -> None:
    """A stage's year is what the engine says of its house, and the whole the difference.

    Many houses and one are run from different starts, which is told to differ by 4e-4.
    """
    for stage in plan.stages:
        again = simulate(stage.house, year)
        assert cost_of(again, tariff) == pytest.approx(cost_of(stage.year, tariff), rel=4e-4)
    before = cost_of(simulate(house, year), tariff)
    saved = before - cost_of(plan.stages[-1].year, tariff)
    assert plan.whole.money_saved == pytest.approx(saved, abs=4e-4 * before)


def test_insulation_and_sealed_ducts_save_energy(plan: Plan) -> None:
    """What any practitioner knows: both save gas, in their place in the plan too."""
    for step in plan.steps:
        if step.measure.kind in ("attic-insulation", "duct-sealing"):
            assert step.in_place.energy_saved["natural gas"] > 0.0


def test_ventilation_costs_energy(plan: Plan) -> None:
    """Fresh air must be heated: the fan saves nothing."""
    (fan,) = (step for step in plan.steps if step.measure.kind == "ventilation")
    assert fan.in_place.money_saved < 0.0


def test_the_weather_factor_is_said_to_be_computed(plan: Plan) -> None:
    """Nobody takes it for the standard's own value."""
    (told,) = (finding for finding in plan.findings if finding.code == "plan/weather-factor")
    assert told.value == pytest.approx(0.32, abs=0.02)
    assert "computed for an assumed house" in told.says


def test_the_page_compares_what_the_plan_holds(
    plan: Plan, house: House, measures: tuple[Measure, ...], tariff: Tariff, year: WeatherYear
) -> None:
    """The switches of the live page give the same figures as the plan.

    Many houses and one are run from different starts, so that a bill differs by 4e-4.
    """
    seen = compare_measures(
        house, measures, {m.id for m in measures}, [], year, tariff, before=plan.before
    )
    assert seen.blocked == ()
    assert seen.effect.money_saved == pytest.approx(
        plan.whole.money_saved, abs=4e-4 * cost_of(plan.before, tariff)
    )
