"""Fan tests on a known curve and on a known network: flow, leakage area, exponent, change."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from covered.method import Method, Ranged
from fan_simulation import (
    Truth,
    Visit,
    draw_visit,
    other_way,
)
from rooftree.physics.propagation import Propagated
from rooftree.readings.airtightness import (
    compare_tests,
    leakage_area,
    reduce_both_directions,
    reduce_fan_test,
)
from rooftree.readings.airtightness.reduction import reference_factor

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.readings.airtightness import FanTestResult

    Outcome = tuple[float, Ranged]

DRAWS = "house, exponent 0.646 ± 0.057, wind, fan, gauge"


def _reference(visit: Visit, pressure: float) -> float:
    """Return the true flow at reference conditions."""
    truth = visit.truth
    factor = reference_factor(visit.test, visit.at_leaks, truth.exponent)
    return factor * truth.flow(pressure)


def _reduced(random: Generator) -> tuple[Visit, FanTestResult]:
    visit = draw_visit(random)
    return visit, reduce_fan_test(visit.test, visit.enclosure)


def flow50(random: Generator) -> Outcome:
    """Flow at 50 Pa of one test."""
    visit, result = _reduced(random)
    return _reference(visit, 50.0), result.flow50


def area4(random: Generator) -> Outcome:
    """Effective leakage area at 4 Pa of one test."""
    visit, result = _reduced(random)
    truth = leakage_area(_reference(visit, 4.0), 4.0)
    return truth, result.sizes.effective_leakage_area


def exponent(random: Generator) -> Outcome:
    """Exponent of one test."""
    visit, result = _reduced(random)
    assert result.exponent is not None  # noqa: S101
    return visit.truth.exponent, result.exponent


def both(random: Generator) -> Outcome:
    """Flow at 50 Pa, mean of both directions."""
    visit = draw_visit(random)
    other = other_way(visit, random)
    results = [reduce_fan_test(each.test, each.enclosure) for each in (visit, other)]
    truth = 0.5 * sum(_reference(each, 50.0) for each in (visit, other))
    return truth, reduce_both_directions(results, visit.enclosure).flow50


def one_point(random: Generator) -> Outcome:
    """Flow at 4 Pa from one station at 50 Pa."""
    visit = draw_visit(random)
    station = min(visit.test.stations, key=lambda s: abs(abs(s.pressure) - 50.0))
    test = replace(visit.test, stations=(station,))
    result = reduce_fan_test(test, visit.enclosure)
    return _reference(visit, 4.0), result.sizes.flow4


def reached_30(random: Generator) -> Outcome:
    """Flow at 50 Pa where the fan reached 35 Pa or so."""
    visit = draw_visit(random)
    stations = tuple(s for s in visit.test.stations if abs(s.pressure) < 40.0)
    result = reduce_fan_test(replace(visit.test, stations=stations), visit.enclosure)
    return _reference(visit, 50.0), result.flow50


def change(random: Generator) -> Outcome:
    """Change of the flow at 50 Pa by sealing up to 30 %."""
    before = draw_visit(random)
    left = random.uniform(0.7, 1.0)
    truth = before.truth
    holes, cracks = (
        replace(leaks, coefficient=left * leaks.coefficient)
        for leaks in (truth.holes, truth.cracks)
    )
    sealed = Truth(holes, cracks, truth.enclosure)
    after = other_way(replace(before, truth=sealed), random, turn=False)
    results = [reduce_fan_test(v.test, v.enclosure) for v in (before, after)]
    compared = compare_tests(results[0], results[1]).change
    changed = _reference(after, 50.0) - _reference(before, 50.0)
    return changed, Propagated(compared.difference, compared.standard, 0.0, 0.0)


METHODS = (
    Method("one direction: flow at 50 Pa", flow50, DRAWS),
    Method("one direction: effective leakage area at 4 Pa", area4, DRAWS),
    Method("one direction: exponent", exponent, DRAWS),
    Method("both directions: flow at 50 Pa", both, DRAWS),
    Method("one station: flow at 4 Pa", one_point, DRAWS),
    Method("40 Pa not reached: flow at 50 Pa", reached_30, DRAWS),
    Method("two tests: change of the flow at 50 Pa", change, f"{DRAWS}; up to 30 % sealed"),
)
