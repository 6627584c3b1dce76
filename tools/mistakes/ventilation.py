"""Mistakes with the flows of fans."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from mistakes.mistake import Mistake
from rooftree.readings.ventilation import (
    FanPurpose,
    FanReading,
    FlowMethod,
    Running,
    VentilationTest,
    reduce_ventilation,
)
from rooftree.readings.ventilation.editions import CFM

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.random import Generator

    from rooftree.finding import Finding

SLIP = 1e-3 / CFM
HOUSE = {"floor_area": 170.0, "bedrooms": 3, "height": 2.5, "flow_50": 0.6}

RATED = {
    FanPurpose.BATH: (50.0, 80.0, 110.0),
    FanPurpose.KITCHEN_HOOD: (160.0, 190.0, 300.0),
    FanPurpose.WHOLE_EXHAUST: (80.0, 110.0),
}


def _fan(rng: Generator, name: str, purpose: FanPurpose, *, labelled: bool) -> FanReading:
    """Return a fan in order, with what duct and flap take and the scatter of the hood."""
    rated = float(rng.choice(RATED[purpose])) * CFM
    # Where a fan curve that falls in a line from 1.2 times the label meets the duct.
    duct = 3.1 * math.exp(rng.normal(0.0, 0.6))
    moved = rated * (-5.0 + math.sqrt(25.0 + 24.0 * duct)) / (2.0 * duct)
    read = moved * math.exp(rng.normal(0.0, 0.05))
    return FanReading(
        name,
        purpose,
        round(read / CFM, 1) * CFM,
        rated_flow=rated if labelled else None,
        running=Running.ALWAYS if purpose is FanPurpose.WHOLE_EXHAUST else Running.ON_DEMAND,
    )


def _clean(rng: Generator, *, labelled: bool = True) -> VentilationTest:
    fans = [
        _fan(rng, "hall bath", FanPurpose.BATH, labelled=labelled),
        _fan(rng, "main bath", FanPurpose.BATH, labelled=labelled),
        _fan(rng, "kitchen", FanPurpose.KITCHEN_HOOD, labelled=labelled),
        _fan(rng, "whole-house fan", FanPurpose.WHOLE_EXHAUST, labelled=labelled),
    ]
    dryer = math.exp(rng.normal(math.log(110.0), 0.25))
    fans.append(FanReading("dryer", FanPurpose.DRYER, round(dryer) * CFM))
    return VentilationTest(tuple(fans), weather_factor=0.5)


def _clean_without_labels(rng: Generator) -> VentilationTest:
    return _clean(rng, labelled=False)


def _clean_turned(rng: Generator) -> VentilationTest:
    test = _clean(rng)
    turned = tuple(
        replace(fan, turned_flow=fan.flow * math.exp(rng.normal(0.0, 0.03 * math.sqrt(2.0))))
        for fan in test.fans
    )
    return replace(test, fans=turned)


def _clean_balanced(rng: Generator) -> VentilationTest:
    flow = rng.uniform(40.0, 120.0) * CFM
    fan = FanReading(
        "heat recovery", FanPurpose.WHOLE_BALANCED, flow * math.exp(rng.normal(0.0, 0.02)),
        supply_flow=flow * math.exp(rng.normal(0.0, 0.02)), running=Running.ALWAYS,
    )  # fmt: skip
    test = _clean(rng)
    return replace(test, fans=(*test.fans[:3], fan))


def _one(
    change: Callable[[FanReading, Generator], FanReading],
) -> Callable[[VentilationTest, Generator], VentilationTest]:
    """Return a mistake at one fan that is chosen at random, the dryer left out."""

    def spoil(test: VentilationTest, rng: Generator) -> VentilationTest:
        chosen = int(rng.integers(0, min(len(test.fans), 4)))
        fans = list(test.fans)
        fans[chosen] = change(fans[chosen], rng)
        return replace(test, fans=tuple(fans))

    return spoil


def _times(factor: float) -> Callable[[VentilationTest, Generator], VentilationTest]:
    def spoil(test: VentilationTest, _: Generator) -> VentilationTest:
        return replace(test, fans=tuple(replace(fan, flow=factor * fan.flow) for fan in test.fans))

    return spoil


def _uneven(fan: FanReading, rng: Generator) -> FanReading:
    return replace(fan, is_even=False, flow=fan.flow * math.exp(rng.normal(0.0, 0.15)))


def _dirty(fan: FanReading, rng: Generator) -> FanReading:
    return replace(fan, is_clean=False, flow=fan.flow * rng.uniform(0.5, 0.9))


def _leaking_hood(fan: FanReading, rng: Generator) -> FanReading:
    turned = fan.turned_flow or fan.flow
    return replace(fan, turned_flow=turned * rng.uniform(0.55, 0.75))


def _turned_in_litres(fan: FanReading, _: Generator) -> FanReading:
    return replace(fan, turned_flow=(fan.turned_flow or fan.flow) / SLIP)


def _one_in_cfm(fan: FanReading, _: Generator) -> FanReading:
    return replace(fan, flow=fan.flow * SLIP)


def _one_in_litres(fan: FanReading, _: Generator) -> FanReading:
    return replace(fan, flow=fan.flow / SLIP)


def _from_the_label(fan: FanReading, _: Generator) -> FanReading:
    return replace(fan, flow=fan.rated_flow or fan.flow)


def _rated(fan: FanReading, _: Generator) -> FanReading:
    return replace(fan, flow=fan.rated_flow or fan.flow, method=FlowMethod.RATED)


def _reversed(fan: FanReading, _: Generator) -> FanReading:
    return replace(fan, flow=-fan.flow)


def _into_the_attic(fan: FanReading, _: Generator) -> FanReading:
    return replace(fan, goes_outdoors=False)


def _twice(test: VentilationTest, rng: Generator) -> VentilationTest:
    again = test.fans[int(rng.integers(0, 4))]
    return replace(
        test, fans=(*test.fans, replace(again, flow=again.flow * math.exp(rng.normal(0.0, 0.04))))
    )


def _dirty_filter(test: VentilationTest, rng: Generator) -> VentilationTest:
    *others, fan = test.fans
    low = (fan.supply_flow or fan.flow) * rng.uniform(0.5, 0.8)
    return replace(test, fans=(*others, replace(fan, supply_flow=low)))


def _findings(test: VentilationTest) -> tuple[Finding, ...]:
    return reduce_ventilation(test, **HOUSE).findings  # type: ignore[arg-type]


def _mistake(
    number: int | None,
    name: str,
    codes: tuple[str, ...],
    spoil: Callable[[VentilationTest, Generator], VentilationTest],
    *,
    clean: Callable[[Generator], VentilationTest] = _clean,
    factor_of_two: bool = False,
) -> Mistake:
    full = tuple(f"ventilation/{code}" for code in codes)
    return Mistake(number, name, full, clean, spoil, _findings, factor_of_two)


MISTAKES = (
    _mistake(21, "uneven grille read once", ("not-turned",), _one(_uneven)),
    _mistake(21, "dirty grille", ("dirty-grille",), _one(_dirty)),
    _mistake(
        21, "hood leaks at its edge", ("turned-differs",), _one(_leaking_hood), clean=_clean_turned
    ),
    _mistake(
        29, "all flows: L/s typed as cfm, labels known", ("units",), _times(1.0 / SLIP),
        factor_of_two=True,
    ),
    _mistake(
        29, "all flows: cfm typed as L/s, labels known", ("units",), _times(SLIP),
        factor_of_two=True,
    ),
    _mistake(
        29, "all flows: L/s typed as cfm, no labels", ("units",), _times(1.0 / SLIP),
        clean=_clean_without_labels, factor_of_two=True,
    ),
    _mistake(
        29, "all flows: cfm typed as L/s, no labels", ("units",), _times(SLIP),
        clean=_clean_without_labels, factor_of_two=True,
    ),
    _mistake(
        29, "one flow: cfm typed as L/s", ("units", "above-rating"), _one(_one_in_cfm),
        factor_of_two=True,
    ),
    _mistake(
        29, "one flow: L/s typed as cfm", ("units", "below-rating"), _one(_one_in_litres),
        factor_of_two=True,
    ),
    _mistake(
        29, "turned reading in the other unit", ("turned-differs",), _one(_turned_in_litres),
        clean=_clean_turned, factor_of_two=True,
    ),
    _mistake(None, "label copied as a reading", ("copied-rating",), _one(_from_the_label)),
    _mistake(None, "label instead of a reading", ("not-measured",), _one(_rated)),
    _mistake(None, "hood the wrong way round", ("negative-flow",), _one(_reversed)),
    _mistake(None, "fan blows into the attic", ("recirculates",), _one(_into_the_attic)),
    _mistake(None, "one fan entered twice", ("same-name",), _twice),
    _mistake(
        None, "balanced fan with a dirty filter", ("unbalanced",), _dirty_filter,
        clean=_clean_balanced,
    ),
)  # fmt: skip
"""Mistakes with fans; the numbers are those of the thirty-two that are common in the field."""
