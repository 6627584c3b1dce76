"""Measures: each kind is a pure change of the house, listed in `KINDS` by its name.

A measure names a kind and its settings in SI. :func:`apply_measures` applies several in
the order of work (their rank), whatever the order in which they are listed, so that a
set of measures always makes the same house.
"""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from rooftree.errors import PlanError
from rooftree.plan.measures import air, ducts, enclosure, equipment, ground
from rooftree.plan.measures.kind import Kind, Setting, Settings
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from rooftree.house import House
    from rooftree.plan.model import Measure

__all__ = ["KINDS", "Kind", "Setting", "apply_measure", "apply_measures", "kind_of", "ranked"]


_DESCRIBED = (
    Kind("flue-repair", "Repair the flue", equipment.repair_flue, {}, frozenset()),
    Kind(
        "local-exhaust",
        "Exhaust from kitchen and bath to outdoors",
        air.exhaust_at_source,
        air.EXHAUST_SETTINGS,
        frozenset(["fans"]),
    ),
    Kind(
        "drainage",
        "Lead water away from the house",
        ground.drain,
        ground.DRAINAGE_SETTINGS,
        frozenset(["spaces"]),
    ),
    Kind(
        "crawlspace-closing",
        "Close the crawlspace",
        ground.close_crawlspace,
        ground.CRAWLSPACE_SETTINGS,
        frozenset(["leaks", "spaces", "surfaces"]),
    ),
    Kind(
        "dehumidifier",
        "Dehumidifier",
        ground.dehumidify,
        ground.DEHUMIDIFIER_SETTINGS,
        frozenset(["dehumidifiers"]),
    ),
    Kind(
        "bonus-floor-fix",
        "Insulate and air-block the floor over the garage",
        enclosure.fix_bonus_floor,
        enclosure.BONUS_FLOOR_SETTINGS,
        frozenset(["surfaces", "leaks"]),
    ),
    Kind(
        "knee-wall-fix",
        "Insulate and air-block the knee walls",
        enclosure.fix_knee_walls,
        enclosure.KNEE_WALL_SETTINGS,
        frozenset(["surfaces", "leaks"]),
    ),
    Kind(
        "wall-insulation",
        "Fill the outside walls with insulation",
        enclosure.insulate_walls,
        enclosure.WALL_SETTINGS,
        frozenset(["surfaces", "leaks"]),
    ),
    Kind("air-sealing", "Seal air leaks", air.seal_air, air.SEALING_SETTINGS, frozenset(["leaks"])),
    Kind(
        "ventilation",
        "Whole-house ventilation",
        air.ventilate,
        air.VENTILATION_SETTINGS,
        frozenset(["fans"]),
    ),
    Kind(
        "attic-insulation",
        "Insulate the attic floor",
        enclosure.insulate_attic,
        enclosure.ATTIC_SETTINGS,
        frozenset(["surfaces"]),
    ),
    Kind(
        "ducts-inside",
        "Bring the ducts inside",
        ducts.bring_ducts_inside,
        ducts.INSIDE_SETTINGS,
        frozenset(["ducts"]),
    ),
    Kind(
        "duct-sealing",
        "Seal the ducts",
        ducts.seal_ducts,
        ducts.SEALING_SETTINGS,
        frozenset(["ducts"]),
    ),
    Kind(
        "duct-insulation",
        "Insulate the ducts",
        ducts.insulate_ducts,
        ducts.INSULATION_SETTINGS,
        frozenset(["ducts"]),
    ),
    Kind(
        "windows",
        "New windows",
        enclosure.change_windows,
        enclosure.WINDOW_SETTINGS,
        frozenset(["windows"]),
    ),
    Kind(
        "furnace",
        "New furnace",
        equipment.renew_furnace,
        equipment.FURNACE_SETTINGS,
        frozenset(["heating", "air_handler", "leaks"]),
    ),
    Kind(
        "air-conditioner",
        "New air conditioner",
        equipment.renew_air_conditioner,
        equipment.AIR_CONDITIONER_SETTINGS,
        frozenset(["cooling", "air_handler"]),
    ),
    Kind(
        "heat-pump",
        "Heat pump",
        equipment.fit_heat_pump,
        equipment.HEAT_PUMP_SETTINGS,
        frozenset(["heating", "cooling", "air_handler", "leaks"]),
    ),
    Kind(
        "water-heater",
        "New water heater",
        equipment.renew_water_heater,
        equipment.WATER_HEATER_SETTINGS,
        frozenset(["water_heater", "leaks"]),
    ),
)


def _registry() -> Mapping[str, Kind]:
    rows = {row["kind"]: row for row in table_rows("rooftree.plan.rules", "kinds.csv")}
    return MappingProxyType(
        {
            kind.name: replace(
                kind,
                stage=int(rows[kind.name]["stage"]),
                rank=int(rows[kind.name]["rank"]),
                trade=rows[kind.name]["trade"],
                life=float(rows[kind.name]["life_years"]),
                life_source=rows[kind.name]["life_source"],
            )
            for kind in _DESCRIBED
        }
    )


KINDS: Mapping[str, Kind] = _registry()
"""Every kind of measure by its name."""


def kind_of(measure: Measure) -> Kind:
    """Return the kind of a measure.

    Parameters
    ----------
    measure : Measure
        Any measure.

    Returns
    -------
    Kind
        From `KINDS`.

    Raises
    ------
    PlanError
        If there is no such kind.
    """
    if measure.kind not in KINDS:
        raise PlanError(
            f"measure {measure.id!r} has the kind {measure.kind!r}; kinds are: {', '.join(KINDS)}"
        )
    return KINDS[measure.kind]


def ranked(measures: Iterable[Measure]) -> tuple[Measure, ...]:
    """Return measures in the order of work.

    Parameters
    ----------
    measures : iterable of Measure
        In any order.

    Returns
    -------
    tuple of Measure
        By the rank of their kinds, then by id.
    """
    return tuple(sorted(measures, key=lambda measure: (kind_of(measure).rank, measure.id)))


def apply_measure(house: House, measure: Measure) -> House:
    """Return the house with one measure done.

    Parameters
    ----------
    house : House
        The house before; it is not changed.
    measure : Measure
        What is done.

    Returns
    -------
    House
        The house after.

    Raises
    ------
    PlanError
        If the house lacks what the measure changes, or a setting does not fit.
    OutOfRangeError
        If a setting lies outside the range that its kind takes.
    """
    kind = kind_of(measure)
    settings: Settings = kind.complete(measure.settings)
    return kind.change(house, settings)


def apply_measures(house: House, measures: Iterable[Measure]) -> House:
    """Return the house with several measures done, in the order of work.

    Parameters
    ----------
    house : House
        The house before.
    measures : iterable of Measure
        In any order; the result is the same.

    Returns
    -------
    House
        The house after.
    """
    for measure in ranked(measures):
        house = apply_measure(house, measure)
    return house
