"""Mistakes in the search for the worst case, on networks of three spaces."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from mistakes.mistake import Mistake
from rooftree.readings.worst_case import (
    Answer,
    Combination,
    Hearth,
    WorstCaseTest,
    reduce_worst_case,
)
from zone_network import (
    ALL_EXHAUSTS,
    TrueHouse,
    draw_house,
    draw_search,
    leakage_read,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.random import Generator

    from rooftree.finding import Finding


@dataclass(frozen=True)
class Visit:
    """A search with the house it was made in and the fan test of that house."""

    house: TrueHouse
    flow_50: float
    exponent: float
    test: WorstCaseTest


def clean(rng: Generator) -> Visit:
    """Search with care, in a light wind."""
    house = draw_house(rng)
    flow_50, exponent = leakage_read(rng, house)
    return Visit(house, flow_50, exponent, draw_search(rng, house))


def reduce(visit: Visit) -> tuple[Finding, ...]:
    """Return the findings of a search."""
    return reduce_worst_case(visit.test, flow_50=visit.flow_50, exponent=visit.exponent).findings


def with_changes(**changes: object) -> Callable[[Visit, Generator], Visit]:
    """Return a mistake that changes fields."""
    return lambda visit, _: replace(visit, test=replace(visit.test, **changes))


def _scaled(visit: Visit, factor: float) -> Visit:
    test = visit.test
    return replace(
        visit,
        test=replace(
            test,
            states=tuple(replace(state, pressure=state.pressure * factor) for state in test.states),
            baseline_before=tuple(factor * value for value in test.baseline_before),
            baseline_after=tuple(factor * value for value in test.baseline_after),
        ),
    )


def swapped(visit: Visit, _: Generator) -> Visit:
    """Read with the hoses swapped."""
    return _scaled(visit, -1.0)


def inches(visit: Visit, _: Generator) -> Visit:
    """Type inches of water for pascals."""
    return _scaled(visit, 1.0 / 249.09)


def one_combination(visit: Visit, _: Generator) -> Visit:
    """Read one combination only."""
    state = next(
        state for state in visit.test.states if state.dryer and state.range_hood and state.bath_fans
    )
    return replace(visit, test=replace(visit.test, states=(state,)))


def no_air_handler(visit: Visit, _: Generator) -> Visit:
    """Never turn the air handler on."""
    states = tuple(state for state in visit.test.states if not state.air_handler)
    return replace(visit, test=replace(visit.test, states=states))


def dead_fan(visit: Visit, rng: Generator) -> Visit:
    """Log the strongest fan as running while it does not."""
    dead = frozenset({_strongest(visit.house)})
    return replace(visit, test=draw_search(rng, visit.house, dead=dead))


def _strongest(house: TrueHouse) -> str:
    return max(ALL_EXHAUSTS, key=lambda name: float(getattr(house, name)))


def clean_with_strong_fan(rng: Generator) -> Visit:
    """Search in a house whose strongest fan makes half of the pull, a pascal or more."""
    while True:
        visit = clean(rng)
        on = Combination(ALL_EXHAUSTS)
        dead = frozenset({_strongest(visit.house)})
        with_fan, without = visit.house.net(on), visit.house.net(on, dead=dead)
        if without - with_fan >= max(1.0, -0.5 * with_fan):
            return visit


def drift(visit: Visit, rng: Generator) -> Visit:
    """Let the baseline move by two to four pascals after the search."""
    moved = float(rng.uniform(2.0, 4.0) * rng.choice((-1.0, 1.0)))
    after = tuple(value + moved for value in visit.test.baseline_after)
    return replace(visit, test=replace(visit.test, baseline_after=after))


def opened(visit: Visit, rng: Generator) -> Visit:
    """Open a window before the worst case is read once more."""
    test = visit.test
    worst = min(test.states[:-1], key=lambda state: state.pressure)
    again = replace(worst, pressure=worst.pressure * float(rng.uniform(0.0, 0.3)))
    return replace(visit, test=replace(test, states=(*test.states[:-1], again)))


MISTAKES = (
    Mistake(7, "fans started with embers in the stove", ("worst-case/embers",), clean,
            with_changes(hearth=Hearth.EMBERS), reduce),
    Mistake(7, "nobody looked into the fireplace", ("worst-case/hearth-not-looked",), clean,
            with_changes(hearth=Hearth.NOT_LOOKED), reduce),
    Mistake(1, "baseline of the zone forgotten", ("worst-case/no-baseline",), clean,
            with_changes(baseline_before=(), baseline_after=()), reduce),
    Mistake(1, "baseline of the zone read before only", ("worst-case/baseline-once",), clean,
            with_changes(baseline_after=()), reduce),
    Mistake(1, "baseline drifts by 2 to 4 Pa", ("worst-case/baseline-drift",), clean,
            drift, reduce),
    Mistake(3, "hoses swapped in the search", ("worst-case/sign",), clean, swapped, reduce,
            factor_of_two=True),
    Mistake(29, "inches of water typed for pascals in the search", ("worst-case/unit",), clean,
            inches, reduce, factor_of_two=True),
    Mistake(24, "one combination of fans and doors only", ("worst-case/one-combination",), clean,
            one_combination, reduce),
    Mistake(24, "air handler never tried", ("worst-case/search-incomplete",), clean,
            no_air_handler, reduce),
    Mistake(6, "fan that makes half of the pull logged as running while off",
            ("worst-case/fan-no-effect", "worst-case/prediction"), clean_with_strong_fan,
            dead_fan, reduce, factor_of_two=True),
    Mistake(4, "window open while the worst case is read again", ("worst-case/repeat-differs",),
            clean, opened, reduce),
    Mistake(4, "house never closed up", ("worst-case/not-closed-up",), clean,
            with_changes(closed_up=Answer.NO), reduce),
    Mistake(32, "doors and hatch left open", ("worst-case/not-restored",), clean,
            with_changes(doors_restored=Answer.NO), reduce),
)  # fmt: skip
