"""Check the need of fresh air after tightening, and the size of the fan."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from rooftree.finding import Severity
from rooftree.plan.measures import apply_measure
from rooftree.plan.model import PlanSettings
from rooftree.plan.ventilation import (
    fan_size,
    given_flow,
    is_balanced,
    judge_ventilation,
    ventilation_of,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.house import House
    from rooftree.plan.model import Measure

    MakeMeasure = Callable[..., Measure]

FACTOR = 0.25
SETTINGS = PlanSettings()


def test_a_tighter_house_needs_a_larger_fan(house: House, measure: MakeMeasure) -> None:
    """Sealing takes credit away and leaves the whole need as it is."""
    tight = apply_measure(house, measure("air-sealing", target_flow_50=0.5))
    before, after = (ventilation_of(each, SETTINGS, FACTOR) for each in (house, tight))
    assert after.total == before.total
    assert after.credit < before.credit
    assert after.required > before.required


def test_credit_and_fan_make_up_the_need(house: House) -> None:
    """What leaks do not bring, fans must."""
    need = ventilation_of(house, SETTINGS, FACTOR)
    assert need.credit + need.required == pytest.approx(need.total)


def test_a_calm_place_gives_next_to_no_credit(house: House) -> None:
    """Where hardly any wind or cold drives the leaks, fans bring everything."""
    need = ventilation_of(house, SETTINGS, 1e-6)
    assert need.required == pytest.approx(need.total)


def test_exhaust_that_is_missing_adds_to_the_need(house: House, measure: MakeMeasure) -> None:
    """A kitchen hood and a bath fan that meet their flows make the whole need smaller."""
    better = apply_measure(house, measure("local-exhaust"))
    lacking = (0.0472 - 0.0) + (0.0236 - 0.010)
    before, after = (ventilation_of(each, SETTINGS, FACTOR) for each in (house, better))
    assert before.total - after.total == pytest.approx(0.25 * lacking, rel=0.01)


def test_balanced_fans_may_be_smaller(house: House) -> None:
    """A balanced fan leaves the leaks' share whole, an exhaust fan takes its place in part."""
    exhaust, balanced = (fan_size(house, SETTINGS, 0.3, style) for style in ("exhaust", "balanced"))
    assert balanced < exhaust


def test_the_fan_that_is_sized_is_enough(house: House, measure: MakeMeasure) -> None:
    """A fan of the size asked for meets the need, and one litre less does not."""
    size = fan_size(house, SETTINGS, 0.3, "exhaust")
    with_it, with_less = (
        ventilation_of(apply_measure(house, measure("ventilation", flow=flow)), SETTINGS, 0.3)
        for flow in (size, size - 0.001)
    )
    assert with_it.is_enough
    assert not with_less.is_enough


def test_a_fan_that_is_there_counts(house: House, measure: MakeMeasure) -> None:
    """A house whose fans give enough needs no further fan."""
    ventilated = apply_measure(house, measure("ventilation", flow=0.06))
    assert given_flow(house) == 0.0
    assert given_flow(ventilated) == pytest.approx(0.06)
    assert fan_size(ventilated, SETTINGS, FACTOR, "exhaust") == 0.0


def test_only_balanced_fans_make_a_balanced_house(house: House, measure: MakeMeasure) -> None:
    """Exhaust makes it unbalanced; no fan is not balanced either."""
    assert not is_balanced(house)
    assert not is_balanced(apply_measure(house, measure("ventilation")))
    assert is_balanced(apply_measure(house, measure("ventilation", style="balanced")))


def test_a_short_stage_is_a_gate_with_its_numbers(house: House, measure: MakeMeasure) -> None:
    """The finding tells leakage, need and flow, and what to do."""
    tight = apply_measure(house, measure("air-sealing"))
    found, after = (ventilation_of(each, SETTINGS, FACTOR) for each in (house, tight))
    judged = judge_ventilation(found, after, SETTINGS, tightest=after)
    assert judged.code == "plan/ventilation-short"
    assert judged.severity is Severity.GATE
    assert judged.value == 0.0
    assert judged.limit == after.required
    assert "cfm" in judged.says
    assert judged.says.endswith("Add or enlarge whole-house ventilation in this stage.")
    assert judged.source == "ASHRAE 62.2-2019, 4.1"


def test_enough_air_is_a_note(house: House, measure: MakeMeasure) -> None:
    """With the fan in the same stage the finding says what to measure."""
    done = apply_measure(house, measure("ventilation", flow=0.06))
    found, after = (ventilation_of(each, SETTINGS, FACTOR) for each in (house, done))
    judged = judge_ventilation(found, after, SETTINGS, tightest=after)
    assert (judged.code, judged.severity) == ("plan/ventilation", Severity.NOTE)
