"""Mistakes made with duct leakage from house tests, and whether the reductions notice them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from covered.duct_leakage_from_house import (
    CFM,
    DeltaQTest,
    DuctSubtractionTest,
    draw_ducted,
    draw_sealed,
    read_ducted,
    read_sealed,
)
from mistakes.mistake import Mistake
from rooftree.readings.duct_leakage_from_house import reduce_delta_q, reduce_duct_subtraction

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.finding import Finding

INCH_OF_WATER = 249.089


def clean_running(random: Generator) -> DeltaQTest:
    """Read a house with leaking ducts, air handler off and on."""
    house = draw_ducted(random)
    test = read_ducted(house, random)
    # Duct pressures that stand for the leaks: this page is not about that doubt.
    return replace(
        test, supply_pressure=house.supply_pressure, return_pressure=house.return_pressure
    )


def leaky_running(random: Generator) -> DeltaQTest:
    """Read such a house with leaks that matter, 100 cfm or more on both sides together."""
    while True:
        house = draw_ducted(random)
        if house.supply + house.return_ > 150.0 * CFM:
            test = read_ducted(house, random)
            return replace(
                test, supply_pressure=house.supply_pressure, return_pressure=house.return_pressure
            )


def _running(test: DeltaQTest) -> tuple[Finding, ...]:
    return reduce_delta_q(test).findings


def _exchanged(test: DeltaQTest, _: Generator) -> DeltaQTest:
    return replace(
        test, flows=tuple(replace(row, air_handler=not row.air_handler) for row in test.flows)
    )


def _window(test: DeltaQTest, random: Generator) -> DeltaQTest:
    """Open a window from one reading on."""
    start = int(random.integers(3, len(test.flows) - 3))
    more = 0.6 * float(random.uniform(0.05, 0.15)) * (2.0 / 1.2041) ** 0.5
    flows = tuple(
        replace(
            row,
            flow=row.flow
            + (1.0 if row.house_pressure > 0 else -1.0) * more * abs(row.house_pressure) ** 0.5,
        )
        if number >= start
        else row
        for number, row in enumerate(test.flows)
    )
    return replace(test, flows=flows)


def _one_side(test: DeltaQTest, _: Generator) -> DeltaQTest:
    both = tuple(row for row in test.flows if row.house_pressure < 0.0)
    return replace(test, flows=both)


def _static_in_inches(test: DeltaQTest, _: Generator) -> DeltaQTest:
    return replace(
        test,
        supply_pressure=round(test.supply_pressure / INCH_OF_WATER, 3),
        return_pressure=round(test.return_pressure / INCH_OF_WATER, 3),
    )


def clean_subtraction(random: Generator) -> DuctSubtractionTest:
    """Hold a house at one pressure with registers open and sealed."""
    test = read_sealed(draw_sealed(random), random)
    return replace(test, air_handler_flow=1000.0 * CFM)


def _subtraction(test: DuctSubtractionTest) -> tuple[Finding, ...]:
    return reduce_duct_subtraction(test).findings


def _register_open(test: DuctSubtractionTest, random: Generator) -> DuctSubtractionTest:
    return replace(
        test,
        duct_pressure=float(abs(random.normal(1.0, 0.7))),
        flow_sealed=test.flow_open * (1.0 + 0.01 * float(random.standard_normal())),
    )


MISTAKES = (
    Mistake(
        None,
        "air handler off and on exchanged in the notes",
        ("delta-q/on-off-exchanged", "delta-q/negative"),
        leaky_running,
        _exchanged,
        _running,
        factor_of_two=True,
    ),
    Mistake(
        4,
        "a window opened between two readings, air handler off and on",
        ("delta-q/misfit", "delta-q/negative", "delta-q/very-large"),
        clean_running,
        _window,
        _running,
        factor_of_two=True,
    ),
    Mistake(
        None,
        "air handler read with the house below outdoors only",
        ("delta-q/one-direction",),
        clean_running,
        _one_side,
        _running,
    ),
    Mistake(
        29,
        "duct pressures typed in inches of water",
        ("delta-q/units",),
        clean_running,
        _static_in_inches,
        _running,
        factor_of_two=True,
    ),
    Mistake(
        18,
        "difference of two tests: a register open in the sealed one",
        ("duct-subtraction/ducts-at-house",),
        clean_subtraction,
        _register_open,
        _subtraction,
        factor_of_two=True,
    ),
    Mistake(
        None,
        "difference of two tests: open and sealed exchanged",
        ("duct-subtraction/exchanged", "duct-subtraction/within-scatter"),
        lambda random: _large(random),
        lambda test, _: replace(test, flow_open=test.flow_sealed, flow_sealed=test.flow_open),
        _subtraction,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "difference of two tests: house pressure typed in inches of water",
        ("duct-subtraction/units",),
        clean_subtraction,
        lambda test, _: replace(test, house_pressure=0.201),
        _subtraction,
        factor_of_two=True,
    ),
)


def _large(random: Generator) -> DuctSubtractionTest:
    """Draw a test whose difference is clear of the fan's scatter."""
    while True:
        test = clean_subtraction(random)
        scatter = test.repeatability * (test.flow_open**2 + test.flow_sealed**2) ** 0.5
        if test.flow_open - test.flow_sealed > 4.0 * scatter:
            return test
