"""Measures on ducts: seal them, wrap them, or bring them inside."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.errors import PlanError
from rooftree.plan.measures.enclosure import R_VALUE
from rooftree.plan.measures.kind import Setting, Settings, number, word
from rooftree.plan.measures.parts import demand, largest_living, living_ids
from rooftree.units.kinds import Kind as Quantity

if TYPE_CHECKING:
    from rooftree.house import DuctRun, House

SEALING_SETTINGS = {
    "target_leakage": Setting(
        Quantity.FRACTION,
        "leakage of the supply side, and of the return side, outside the living spaces once "
        "sealed, of the air handler's flow [0-1]",
        0.05,
        low=0.0,
        high=0.5,
    )
}
INSULATION_SETTINGS = {
    "resistance": Setting(
        Quantity.THERMAL_RESISTANCE, "of wrap and films [m²·K/W]", 8.0 * R_VALUE, low=0.2, high=6.0
    )
}
INSIDE_SETTINGS = {
    "space": Setting(None, "id of the living space that takes them; the largest where left out", "")
}


def _outside(house: House, kind: str) -> tuple[DuctRun, ...]:
    living = living_ids(house)
    runs = tuple(run for run in house.ducts if run.space not in living)
    demand(kind, runs, "a duct outside the living spaces")
    return runs


def seal_ducts(house: House, settings: Settings) -> House:
    """Return the house with its ducts sealed to a target on each side.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``target_leakage`` [0-1].

    Returns
    -------
    House
        The house after; a side that already meets the target stays as it is.
    """
    runs = _outside(house, "duct-sealing")
    target = number(settings, "target_leakage")
    total = {
        side: sum(run.leakage for run in runs if run.side == side) for side in ("supply", "return")
    }
    factor = {side: min(1.0, target / now) if now > 0.0 else 1.0 for side, now in total.items()}
    ids = {run.id for run in runs}
    return replace(
        house,
        ducts=tuple(
            replace(run, leakage=run.leakage * factor[run.side]) if run.id in ids else run
            for run in house.ducts
        ),
    )


def insulate_ducts(house: House, settings: Settings) -> House:
    """Return the house with the ducts outside its living spaces wrapped.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``resistance`` [m²·K/W].

    Returns
    -------
    House
        The house after.
    """
    ids = {run.id for run in _outside(house, "duct-insulation")}
    resistance = number(settings, "resistance")
    return replace(
        house,
        ducts=tuple(
            replace(run, resistance=max(run.resistance, resistance)) if run.id in ids else run
            for run in house.ducts
        ),
    )


def bring_ducts_inside(house: House, settings: Settings) -> House:
    """Return the house with its ducts moved into a living space, where nothing is lost.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``space``.

    Returns
    -------
    House
        The house after.
    """
    runs = _outside(house, "ducts-inside")
    space = word(settings, "space") or largest_living(house).id
    if space not in living_ids(house):
        raise PlanError(f"ducts-inside.space is {space!r}; it takes a living space of the house")
    ids = {run.id for run in runs}
    return replace(
        house,
        ducts=tuple(replace(run, space=space) if run.id in ids else run for run in house.ducts),
    )
