"""Put fitted sizes and exponents into the house, and say how each is now known."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.fit.trial import HIGHEST_EXPONENT, LOWEST_EXPONENT, MOST_LOST, PIVOT
from rooftree.fit.unknowns import Role
from rooftree.known import How, Known

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.fit.network import FittedUnknown
    from rooftree.house import DuctRun, House, Leak

TOLD = 0.75
"""Share of the variance before any reading that the readings must have taken away for a size
to count as measured [0-1]: the spread is halved."""

STILL_MEASURED = 0.5
"""Spread of the logarithm above which a size does not count as measured [-]: a factor of 1.6
either way."""


def put_into_house(house: House, fitted: Sequence[FittedUnknown]) -> House:
    """Return the house with its leaks and duct leaks as fitted.

    Parameters
    ----------
    house : House
        As described.
    fitted : sequence of FittedUnknown
        Sizes and exponents.

    Returns
    -------
    House
    """
    size: dict[str, FittedUnknown] = {}
    shift: dict[str, FittedUnknown] = {}
    for one in fitted:
        of = size if one.unknown.role is Role.SIZE else shift
        of.update(dict.fromkeys(one.unknown.members, one))
    leaks = tuple(
        _leak(leak, size[leak.id], shift.get(leak.id)) if leak.id in size else leak
        for leak in house.leaks
    )
    ducts = tuple(_run(run, size[run.id]) if run.id in size else run for run in house.ducts)
    return replace(house, leaks=leaks, ducts=_limited(ducts))


def _leak(leak: Leak, size: FittedUnknown, shift: FittedUnknown | None) -> Leak:
    free = leak.exponent + (shift.value if shift else 0.0)
    exponent = min(max(free, LOWEST_EXPONENT), HIGHEST_EXPONENT)
    pivot = math.pow(PIVOT, leak.exponent - exponent)
    coefficient = leak.coefficient * math.exp(size.value) * pivot
    known = {**leak.known, "coefficient": _known(size, leak.known.get("coefficient"))}
    return replace(leak, coefficient=coefficient, exponent=exponent, known=known)


def _run(run: DuctRun, size: FittedUnknown) -> DuctRun:
    known = {**run.known, "leakage": _known(size, run.known.get("leakage"))}
    return replace(run, leakage=run.leakage * math.exp(size.value), known=known)


def _limited(ducts: tuple[DuctRun, ...]) -> tuple[DuctRun, ...]:
    """Return the runs with no side that leaks more than nearly all of the flow."""
    total = {
        side: sum(run.leakage for run in ducts if run.side == side) for side in ("supply", "return")
    }
    return tuple(
        replace(run, leakage=run.leakage * MOST_LOST / total[run.side])
        if total[run.side] > MOST_LOST
        else run
        for run in ducts
    )


def _known(size: FittedUnknown, before: Known | None) -> Known:
    """Return how a size is known: measured where the readings told most of it."""
    spread = f"{100.0 * math.expm1(size.spread):.0f} %"
    if size.told >= TOLD and size.spread < STILL_MEASURED:
        return Known(How.MEASURED, f"fitted to the tests together, good to {spread}")
    how = before.how if before else How.ASSUMED
    return Known(how, f"fitted as far as the tests tell; still unsure by {spread}")
