"""Mistakes in the record of gas leaks."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from mistakes.mistake import Mistake
from rooftree.readings.gas_leaks import (
    Answer,
    FoundBy,
    Gas,
    GasLeak,
    GasLeakTest,
    reduce_gas_leaks,
)

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.finding import Finding


def clean(rng: Generator) -> GasLeakTest:
    """Walk a line to its end; each leak was told, repaired and found tight."""
    leaks = tuple(
        GasLeak(f"joint {i}", list(FoundBy)[int(rng.integers(4))], confirmed=True,
                reported_to="utility", repaired=True, tested_again=True)
        for i in range(int(rng.integers(1, 4)))
    )  # fmt: skip
    gas = list(Gas)[int(rng.integers(2))]
    return GasLeakTest(gas, leaks, float(rng.integers(5, 40)), Answer.YES, 0.0,
                       connectors=Answer.NO, tubing_bonded=Answer.YES)  # fmt: skip


def reduce(test: GasLeakTest) -> tuple[Finding, ...]:
    """Return the findings of a record."""
    return reduce_gas_leaks(test).findings


def _last(test: GasLeakTest, **changes: object) -> GasLeakTest:
    return replace(test, leaks=(*test.leaks[:-1], replace(test.leaks[-1], **changes)))


MISTAKES = (
    Mistake(None, "repaired leak not tested again", ("gas-leaks/not-tested-again",), clean,
            lambda test, _: _last(test, tested_again=False), reduce),
    Mistake(None, "leak told to nobody", ("gas-leaks/not-reported",), clean,
            lambda test, _: _last(test, repaired=False, tested_again=False, reported_to=""),
            reduce),
    Mistake(None, "line not walked to its end", ("gas-leaks/not-all-reached",), clean,
            lambda test, _: replace(test, all_reached=Answer.NO), reduce),
    Mistake(None, "gas in the air and the work goes on", ("gas-leaks/gas-in-air",), clean,
            lambda test, rng: replace(test, ambient_gas=float(rng.uniform(0.01, 0.2))), reduce),
)  # fmt: skip
