"""Mistakes made with pressure pans, and whether the reduction notices them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from covered.duct_pans import GAUGE, draw_run, shown_pressure
from mistakes.mistake import Mistake
from rooftree.readings.duct_pans import DuctPanTest, DuctSide, PanReading, reduce_duct_pans

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.finding import Finding

INCH_OF_WATER = 249.089


def clean_pans(random: Generator) -> DuctPanTest:
    """Read six registers twice, as the gauge shows them."""
    pans = []
    for number in range(6):
        _, paths = draw_run(random)
        true = shown_pressure(paths, -50.0)
        read, again = (round(-abs(true + random.normal(0.0, GAUGE)), 1) for _ in range(2))
        side = DuctSide.RETURN if number >= 4 else DuctSide.SUPPLY
        pans.append(PanReading(f"register {number + 1}", read, side, again=again))
    return DuctPanTest(-50.0, tuple(pans), registers=6)


def _findings(test: DuctPanTest) -> tuple[Finding, ...]:
    return reduce_duct_pans(test).findings


def _one(test: DuctPanTest, random: Generator, **changes: float) -> DuctPanTest:
    at = int(random.integers(len(test.pans)))
    pans = list(test.pans)
    pans[at] = replace(pans[at], **changes)  # type: ignore[arg-type]
    return replace(test, pans=tuple(pans))


def _pan_off(test: DuctPanTest, random: Generator) -> DuctPanTest:
    """Let the pan leak at the leakiest register the second time."""
    worst = max(test.pans, key=lambda pan: abs(pan.pressure))
    leaking = round(random.uniform(0.2, 0.6) * worst.pressure, 1)
    pans = tuple(replace(pan, again=leaking) if pan is worst else pan for pan in test.pans)
    return replace(test, pans=pans)


def _running(test: DuctPanTest, random: Generator) -> DuctPanTest:
    pans = tuple(
        replace(
            pan,
            pressure=round(float(random.uniform(4.0, 20.0)), 1)
            * (-1.0 if pan.side is DuctSide.SUPPLY else 1.0),
            again=None,
        )
        for pan in test.pans
    )
    return replace(test, pans=pans)


def _in_inches(test: DuctPanTest, _: Generator) -> DuctPanTest:
    pans = tuple(
        replace(pan, pressure=round(pan.pressure / INCH_OF_WATER, 3), again=None)
        for pan in test.pans
    )
    return replace(test, pans=pans)


MISTAKES = (
    Mistake(
        None,
        "air handler running while the pan is read",
        ("duct-pans/air-handler-running",),
        clean_pans,
        _running,
        _findings,
        factor_of_two=True,
    ),
    Mistake(
        3,
        "hoses of the pan swapped for one register",
        ("duct-pans/sign",),
        clean_pans,
        lambda test, _: replace(
            test,
            pans=tuple(
                replace(pan, pressure=-pan.pressure)
                if pan is max(test.pans, key=lambda each: abs(each.pressure))
                else pan
                for pan in test.pans
            ),
        ),
        _findings,
    ),
    Mistake(
        14,
        "pan not tight on the register the second time",
        ("duct-pans/not-repeating",),
        clean_pans,
        _pan_off,
        _findings,
    ),
    Mistake(
        18,
        "a register left out",
        ("duct-pans/registers-missing",),
        clean_pans,
        lambda test, _: replace(test, pans=test.pans[:-1]),
        _findings,
    ),
    Mistake(
        29,
        "pan pressures typed in inches of water",
        ("duct-pans/units",),
        clean_pans,
        _in_inches,
        _findings,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "house pressure typed in inches of water",
        ("duct-pans/units",),
        clean_pans,
        lambda test, _: replace(test, house_pressure=-0.201),
        _findings,
        factor_of_two=True,
    ),
    Mistake(
        None,
        "a digit too many at one register",
        ("duct-pans/beyond-house",),
        clean_pans,
        lambda test, random: _one(
            test, random, pressure=-round(float(random.uniform(60.0, 400.0)), 1)
        ),
        _findings,
        factor_of_two=True,
    ),
)
