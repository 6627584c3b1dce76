"""Ids of a job file: each unique, each reference to something that exists.

These checks read the plain file, not the model, so that they find their problems beside
those of the fields and a person sees all of them at once.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

from rooftree.house import GROUND, OUTDOORS
from rooftree.records.document.problems import Problem, path_of

if TYPE_CHECKING:
    from collections.abc import Iterator

Along = tuple[str | int, ...]

_UNIQUE = (
    ("visits",), ("complaints",), ("places",), ("observations",), ("photos",), ("instruments",),
    ("tests",), ("measures",),
)  # fmt: skip
_HOUSE_LISTS = ("spaces", "surfaces", "windows", "leaks", "ducts", "fans", "room_units")
_REFERENCES = (
    ("complaints[].place", "places"),
    ("places[].parent", "places"),
    ("places[].space", "house.spaces"),
    ("observations[].place", "places"),
    ("observations[].photos[]", "photos"),
    ("photos[].place", "places"),
    ("tests[].visit", "visits"),
    ("tests[].place", "places"),
    ("tests[].instrument", "instruments"),
    ("tests[].also_with[]", "instruments"),
    ("tests[].space", "house.spaces"),
    ("decisions[].measure", "measures"),
    ("house.surfaces[].inside", "house.spaces"),
    ("house.surfaces[].outside", "house.spaces outdoors ground"),
    ("house.windows[].space", "house.spaces"),
    ("house.leaks[].first", "house.spaces"),
    ("house.leaks[].second", "house.spaces outdoors"),
    ("house.ducts[].space", "house.spaces"),
    ("house.air_handler.space", "house.spaces"),
    ("house.heating.space", "house.spaces"),
    ("house.water_heater.space", "house.spaces"),
    ("house.fans[].space", "house.spaces"),
    ("house.dehumidifiers[].space", "house.spaces"),
    ("house.room_units[].space", "house.spaces"),
    ("house.room_units[].heating.space", "house.spaces"),
    ("house.use.thermostat", "house.spaces"),
)
"""Where a reference stands, and the lists of which it must name an id."""


def at(raw: object, path: str) -> Iterator[tuple[Along, Any]]:
    """Yield each value that a path such as ``"leaks[].first"`` leads to, with its place."""
    yield from _along(raw, path.replace("[]", ".[]").split("."), ())


def _along(here: object, steps: list[str], done: Along) -> Iterator[tuple[Along, Any]]:
    if not steps:
        yield done, here
    elif steps[0] == "[]":
        for place, one in enumerate(here if isinstance(here, list) else []):
            yield from _along(one, steps[1:], (*done, place))
    elif isinstance(here, dict) and steps[0] in here:
        yield from _along(here[steps[0]], steps[1:], (*done, steps[0]))


def id_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    """Yield ids that stand twice or are reserved.

    Parameters
    ----------
    raw : dict
        Job file as plain lists and mappings.

    Yields
    ------
    Problem
    """
    for (name,) in _UNIQUE:
        yield from _doubled(list(at(raw, f"{name}[].id")))
    in_house = [one for name in _HOUSE_LISTS for one in at(raw, f"house.{name}[].id")]
    yield from _doubled(in_house)
    for along, found in at(raw, "house.spaces[].id"):
        if found in (OUTDOORS, GROUND):
            remedy = "give the space another id: this one means the other side of a surface"
            yield Problem(path_of(along), f'is "{found}"', remedy)


def _doubled(found: list[tuple[Along, Any]]) -> Iterator[Problem]:
    ids = [(along, one) for along, one in found if isinstance(one, str)]
    count = Counter(one for _, one in ids)
    first: dict[str, str] = {}
    for along, one in ids:
        path = path_of(along)
        if count[one] > 1 and one in first:
            says = f'is "{one}", which {first[one]} has too'
            yield Problem(path, says, "give each its own id")
        first.setdefault(one, path)


def reference_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    """Yield references to things that the file does not have.

    Parameters
    ----------
    raw : dict
        Job file as plain lists and mappings.

    Yields
    ------
    Problem
    """
    for path, among in _REFERENCES:
        names = _named(raw, among)
        for along, found in at(raw, path):
            if isinstance(found, str) and found and found not in names:
                where = among.split(maxsplit=1)[0]
                yield Problem(path_of(along), f'is "{found}"', _known_names(where, names))


def _named(raw: dict[str, Any], among: str) -> set[str]:
    lists, *others = among.split()
    return {one for _, one in at(raw, f"{lists}[].id") if isinstance(one, str)} | set(others)


def _known_names(where: str, names: set[str]) -> str:
    if not names:
        return f"there is nothing in {where} yet: add it there, or leave this out"
    listed = sorted(names)
    more = ", ..." if len(listed) > 12 else ""
    return f"use an id of {where}: {', '.join(listed[:12])}{more}"


def air_path_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    """Yield spaces from which no chain of leaks leads outdoors.

    Parameters
    ----------
    raw : dict
        Job file as plain lists and mappings.

    Yields
    ------
    Problem
    """
    leaks = [one for _, one in at(raw, "house.leaks[]") if isinstance(one, dict)]
    reached, grows = {OUTDOORS}, True
    while grows:
        before = len(reached)
        for leak in leaks:
            ends = {str(leak.get("first")), str(leak.get("second"))}
            if ends & reached:
                reached |= ends
        grows = len(reached) > before
    for place, (along, found) in enumerate(at(raw, "house.spaces[].id")):
        if isinstance(found, str) and found not in reached:
            yield Problem(
                path_of(along[:-1] or ("house", "spaces", place)),
                f'is the space "{found}", from which no leak leads outdoors, directly or '
                "through other spaces",
                "add a leak between it and outdoors or a neighbouring space: every space has one",
            )


def leak_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    """Yield leaks that lead from a space into itself.

    Parameters
    ----------
    raw : dict
        Job file as plain lists and mappings.

    Yields
    ------
    Problem
    """
    for along, leak in at(raw, "house.leaks[]"):
        if isinstance(leak, dict) and leak.get("first") and leak.get("first") == leak.get("second"):
            says = f'is "{leak["second"]}" like "first": a leak needs two sides'
            yield Problem(path_of((*along, "second")), says, "name the other side")
