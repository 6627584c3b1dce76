"""Print what a household usually uses."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from rooftree.cli.show import display_system, print_table, print_wrapped
from rooftree.units import Kind, show

if TYPE_CHECKING:
    from rooftree.actions.use import UsualUse
    from rooftree.house import Use
    from rooftree.job import Job
    from rooftree.units import DisplaySystem

_YEAR = 365.0 * 86400.0


def print_use(job: Job, usual: UsualUse, *, metric: bool) -> None:
    """Print the parts with their sources, and their sum beside what the job says."""
    system = display_system(metric=metric)
    print(f"{job.name}: what a household of this size usually uses in a year")
    rows = [
        [
            item.name,
            show(item.electricity, Kind.ELECTRICITY, system) if item.electricity else "",
            show(item.gas, Kind.FUEL, system) if item.gas else "",
            show(item.sensible, Kind.POWER, system) if item.sensible else "",
            show(item.vapor, Kind.VAPOR_FLOW, system) if item.vapor else "",
        ]
        for item in usual.items
        if item.electricity or item.gas or item.sensible or item.vapor
    ]
    print_table("Parts", ["", "electricity", "gas", "heat inside", "vapor inside"], rows)
    rows = [
        [words, *(_amount(use, name, kind, system) for use in (usual.usual, usual.told))]
        for words, name, kind in (
            ("electricity", "electricity", Kind.ELECTRICITY),
            ("gas for cooking and drying", "cooking_gas", Kind.FUEL),
            ("heat in hot water", "hot_water_heat", Kind.FUEL),
            ("heat inside, mean", "sensible_gain", Kind.POWER),
            ("vapor inside", "vapor_gain", Kind.VAPOR_FLOW),
        )
    ]
    print_table("All together", ["", "usual", "in this job"], rows)
    for source, names in _by_source(usual).items():
        print_wrapped(f"{', '.join(names)}: {source}")
    print_wrapped(
        "Means over many homes; one household may use half or twice as much. Replace what was "
        "seen, and let the bills decide."
    )


def _by_source(usual: UsualUse) -> dict[str, list[str]]:
    """Return the names of the parts by how they are known."""
    found: dict[str, list[str]] = {}
    for item in usual.items:
        found.setdefault(f"{item.known.how}, {item.known.note}", []).append(item.name)
    return found


def _amount(use: Use, name: str, kind: Kind, system: DisplaySystem) -> str:
    mean = float(np.mean(getattr(use, name)))
    is_energy = kind in (Kind.ELECTRICITY, Kind.FUEL)
    return show(mean * _YEAR if is_energy else mean, kind, system)
