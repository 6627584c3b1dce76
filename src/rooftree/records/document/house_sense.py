"""What the parts of a house must say together, beyond ids and references.

Like the checks of references these read the plain file, so that their problems are told
beside those of the fields.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.house import SpaceKind
from rooftree.records.document.problems import Problem, path_of
from rooftree.records.document.references import at

if TYPE_CHECKING:
    from collections.abc import Iterator

_BESIDE = ("overhang_depth", "fin_depth")
"""What shades a window; how much depends on the size of each window."""

_OWNERS = {"heating": "house.heating", "water heater": "house.water_heater"}
"""What the flue of a leak can belong to, and where that stands."""


def house_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    """Yield what the parts of the house contradict each other in.

    Parameters
    ----------
    raw : dict
        Job file as plain lists and mappings.

    Yields
    ------
    Problem
    """
    yield from _living_problems(raw)
    yield from _thermostat_problems(raw)
    yield from _shade_problems(raw)
    yield from _flue_problems(raw)
    yield from _room_unit_problems(raw)


def _living_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    kinds = [kind for _, kind in at(raw, "house.spaces[].kind")]
    if kinds and SpaceKind.LIVING not in kinds:
        remedy = f'give the space that has the thermostat the kind "{SpaceKind.LIVING}"'
        yield Problem(path_of(("house", "spaces")), "has no living space", remedy)


def _thermostat_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    """Yield thermostats that do not hang in a living space."""
    kinds = _kinds(raw)
    found = [
        *at(raw, "house.use.thermostat"),
        *at(raw, "house.room_units[].space"),
    ]
    for along, space in found:
        if kinds.get(space, SpaceKind.LIVING) != SpaceKind.LIVING:
            living = sorted(one for one, kind in kinds.items() if kind == SpaceKind.LIVING)
            says = f'is "{space}", which is no living space'
            yield Problem(path_of(along), says, f"use one of: {', '.join(living) or 'none yet'}")


def _kinds(raw: dict[str, Any]) -> dict[str, str]:
    return {
        str(one.get("id")): str(one.get("kind"))
        for _, one in at(raw, "house.spaces[]")
        if isinstance(one, dict)
    }


def _shade_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    """Yield windows with an overhang or fins whose own size is not known."""
    for along, window in at(raw, "house.windows[]"):
        if not isinstance(window, dict) or not any(_is_some(window.get(name)) for name in _BESIDE):
            continue
        for size in ("width", "height"):
            if not _is_some(window.get(size)):
                says = "is not stated, while an overhang or fins shade the window"
                remedy = "state width and height of one window, more than 0, or take the shade away"
                yield Problem(path_of((*along, size)), says, remedy)


def _flue_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    """Yield flues of burners that the house does not have, and flues without height."""
    for along, leak in at(raw, "house.leaks[]"):
        if not isinstance(leak, dict) or not leak.get("fired_by"):
            continue
        owner = _OWNERS.get(str(leak["fired_by"]), "")
        if owner and not any(isinstance(one, dict) for _, one in at(raw, owner)):
            says = f'is "{leak["fired_by"]}", which the house does not have'
            yield Problem(path_of((*along, "fired_by")), says, f"add {owner}, or leave this out")
        if not _is_some(leak.get("chimney")):
            says = "is not stated for a flue that fires"
            remedy = "state the height of the column of hot gas, more than 0"
            yield Problem(path_of((*along, "chimney")), says, remedy)


def _room_unit_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    for along, unit in at(raw, "house.room_units[]"):
        if isinstance(unit, dict) and not unit.get("heating") and not unit.get("cooling"):
            yield Problem(path_of(along), "neither heats nor cools", "add its heating or cooling")


def _is_some(field: object) -> bool:
    """Return whether a quantity is stated and not zero."""
    text = field.get("value") if isinstance(field, dict) else field
    if text is None or isinstance(text, bool):
        return False
    digits = [sign for sign in str(text) if sign.isdigit()]
    return any(digit != "0" for digit in digits)
