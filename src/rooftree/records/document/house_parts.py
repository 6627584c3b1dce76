"""Take one part out of the house of a job file, put one in, or leave one out.

A part is one space, surface, window and so on, or one of the things of which a house has
one at most. It is named by its kind and its id; dehumidifiers, which have no id, by their
place in the list.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from rooftree.errors import DocumentError
from rooftree.records.document import house as h
from rooftree.records.document.check import check_raw, refuse_problems
from rooftree.records.document.job import JobDocument
from rooftree.records.document.problems import Problem, problems_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from rooftree.records.document.part import Part


@dataclass(frozen=True, slots=True)
class HousePart:
    """One kind of part of a house.

    Attributes
    ----------
    key : str
        Where parts of the kind stand in the house of the job file.
    model : type of Part
        What the file takes of one.
    is_list : bool
        Whether a house may have several.
    is_needed : bool
        Whether every house has one.
    """

    key: str
    model: type[Part]
    is_list: bool = False
    is_needed: bool = False


HOUSE_PARTS: Mapping[str, HousePart] = {
    "site": HousePart("site", h.SiteDocument, is_needed=True),
    "space": HousePart("spaces", h.SpaceDocument, is_list=True),
    "surface": HousePart("surfaces", h.SurfaceDocument, is_list=True),
    "window": HousePart("windows", h.WindowDocument, is_list=True),
    "leak": HousePart("leaks", h.LeakDocument, is_list=True),
    "duct": HousePart("ducts", h.DuctDocument, is_list=True),
    "air handler": HousePart("air_handler", h.AirHandlerDocument),
    "heating": HousePart("heating", h.HeatingDocument),
    "cooling": HousePart("cooling", h.CoolingDocument),
    "room unit": HousePart("room_units", h.RoomUnitDocument, is_list=True),
    "water heater": HousePart("water_heater", h.WaterHeaterDocument),
    "fan": HousePart("fans", h.FanDocument, is_list=True),
    "dehumidifier": HousePart("dehumidifiers", h.DehumidifierDocument, is_list=True),
    "use": HousePart("use", h.UseDocument, is_needed=True),
}
"""Every kind of part, in the order in which one describes a house."""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Why a part cannot be taken out.

    Attributes
    ----------
    kind, part : str
        Kind and name of the part of the house that must change first; empty where it is
        none of them.
    title : str
        What to call it.
    says : str
        What is wrong, and what to do.
    """

    kind: str
    part: str
    title: str
    says: str


def part_entry(document: JobDocument, kind: str, part: str = "") -> dict[str, Any]:
    """Return one part of the house as it stands in the file.

    Parameters
    ----------
    document : JobDocument
        The job.
    kind : str
        Of `HOUSE_PARTS`.
    part : str
        Id of the part, or its place in the list; empty where a house has one at most.

    Returns
    -------
    dict

    Raises
    ------
    DocumentError
        If there is no such part.
    """
    house = document.plain()["house"]
    place = _place(house, kind, part)
    about = HOUSE_PARTS[kind]
    if place is None or (not about.is_list and not house.get(about.key)):
        raise DocumentError(f'the house of "{document.name}" has no {kind} "{part}"'.rstrip(' "'))
    return dict(house[about.key][place] if about.is_list else house[about.key])


def with_part(
    document: JobDocument, kind: str, part: str, entry: Mapping[str, Any]
) -> tuple[JobDocument, str]:
    """Return a job with one part of its house changed, or with one more.

    Parameters
    ----------
    document : JobDocument
        The job; it is not changed.
    kind : str
        Of `HOUSE_PARTS`.
    part : str
        Id of the part, or its place in the list; empty for a new one, and where a house
        has one at most.
    entry : mapping
        The part as in the job file; a new one without an id gets one from its name.

    Returns
    -------
    tuple of JobDocument and str
        The job, and the name of the part in it.

    Raises
    ------
    DocumentError
        If there is any problem that blocks: of the part, with paths that begin at it, or
        of anything else that no longer fits, with whole paths.
    """
    whole, path, name = _put(document.plain(), kind, part, dict(entry))
    refuse_problems(tuple(_from_part(problem, path) for problem in check_raw(whole)))
    return JobDocument.model_validate(whole), name


def part_problems(kind: str, entry: Mapping[str, Any]) -> tuple[Problem, ...]:
    """Return what is wrong with the fields of a part by themselves.

    Parameters
    ----------
    kind : str
        Of `HOUSE_PARTS`.
    entry : mapping
        The part as in the job file.

    Returns
    -------
    tuple of Problem
        With paths that begin at the part.
    """
    raw = dict(entry)
    try:
        HOUSE_PARTS[kind].model.model_validate(raw)
    except ValidationError as error:
        return tuple(problems_of(error, raw))
    return ()


def without_part(document: JobDocument, kind: str, part: str = "") -> JobDocument:
    """Return a job without one part of its house.

    Parameters
    ----------
    document : JobDocument
        The job; it is not changed.
    kind : str
        Of `HOUSE_PARTS`.
    part : str
        Id of the part, or its place in the list; empty where a house has one at most.

    Returns
    -------
    JobDocument

    Raises
    ------
    DocumentError
        If there is no such part, every house needs one, or anything refers to it.
    """
    whole = _taken_out(document, kind, part)
    refuse_problems(check_raw(whole))
    return JobDocument.model_validate(whole)


def obstacles(document: JobDocument, kind: str, part: str = "") -> tuple[Obstacle, ...]:
    """Return why a part cannot be taken out of the house.

    Parameters
    ----------
    document : JobDocument
        The job.
    kind : str
        Of `HOUSE_PARTS`.
    part : str
        Id of the part, or its place in the list; empty where a house has one at most.

    Returns
    -------
    tuple of Obstacle
        What refers to it and what would no longer fit; empty where nothing does.

    Raises
    ------
    DocumentError
        If there is no such part.
    """
    if HOUSE_PARTS[kind].is_needed:
        return (Obstacle("", "", kind, "every house has one: change it instead"),)
    whole = _taken_out(document, kind, part)
    found: dict[tuple[str, str, str], Obstacle] = {}
    for problem in check_raw(whole):
        if problem.blocks:
            one = _obstacle(whole, _about_name(problem, part))
            found.setdefault((one.kind, one.part, one.title), one)
    return tuple(found.values())


def _taken_out(document: JobDocument, kind: str, part: str) -> dict[str, Any]:
    part_entry(document, kind, part)
    whole = document.plain()
    house, about = dict(whole["house"]), HOUSE_PARTS[kind]
    if about.is_needed:
        raise DocumentError(f"every house has a {kind}: change it instead of taking it out")
    if about.is_list:
        place = _place(house, kind, part)
        house[about.key] = [one for k, one in enumerate(house[about.key]) if k != place]
    else:
        del house[about.key]
    return whole | {"house": house}


def _put(
    whole: dict[str, Any], kind: str, part: str, entry: dict[str, Any]
) -> tuple[dict[str, Any], str, str]:
    """Return the file with a part put in, the path of the part and its name."""
    house, about = dict(whole["house"]), HOUSE_PARTS[kind]
    path = f"house.{about.key}"
    if not about.is_list:
        house[about.key] = entry
        return whole | {"house": house}, path, ""
    members = list(house.get(about.key, []))
    place = _place(house, kind, part) if part else len(members)
    if place is None:
        raise DocumentError(f'the house has no {kind} "{part}"')
    if "id" in about.model.model_fields:
        entry = {"id": part or _new_id(house, str(entry.get("name", "")) or kind)} | entry
    members[place : place + 1] = [entry]
    house[about.key] = members
    return whole | {"house": house}, f"{path}[{place}]", str(entry.get("id", place))


def _place(house: Mapping[str, Any], kind: str, part: str) -> int | None:
    """Return where a part stands in its list; 0 where a house has one at most, else None."""
    about = HOUSE_PARTS[kind]
    if not about.is_list:
        return 0
    members = house.get(about.key, [])
    names = [str(one.get("id", place)) for place, one in enumerate(members)]
    return names.index(part) if part in names else None


def _new_id(house: Mapping[str, Any], name: str) -> str:
    """Return an id that nothing of the house has, made of a name."""
    taken = {"outdoors", "ground"} | {
        str(one.get("id"))
        for about in HOUSE_PARTS.values()
        if about.is_list
        for one in house.get(about.key, [])
    }
    plain = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-")[:60] or "part"
    tries = (plain, *(f"{plain}-{number}" for number in range(2, len(taken) + 3)))
    return next(one for one in tries if one not in taken)


def _from_part(problem: Problem, path: str) -> Problem:
    """Return a problem whose path begins at the part, where it is one of the part."""
    rest = problem.path.removeprefix(path)
    if rest == problem.path or rest[:1] not in ("", ".", "["):
        return problem
    return replace(problem, path=rest.removeprefix("."))


def _about_name(problem: Problem, part: str) -> Problem:
    """Return a problem that says plainly where the name of a part still stands."""
    if not part or problem.says != f'is "{part}"':
        return problem
    field = problem.path.rpartition(".")[2].replace("_", " ")
    says = f"names it as its {field}"
    return replace(problem, says=says, remedy="name another there, or take that out first")


def _obstacle(whole: dict[str, Any], problem: Problem) -> Obstacle:
    """Return what a problem of the file without the part is about."""
    for kind, part, title, path in _parts(whole["house"]):
        if _from_part(problem, path) != problem:
            return Obstacle(kind, part, title, f"{problem.says}; {problem.remedy}")
    found = re.match(r"(\w+)\[(\d+)\]", problem.path)
    title = problem.path
    if found is not None and found[1] != "house":
        one = whole[found[1]][int(found[2])]
        title = f"{found[1].removesuffix('s')} “{one.get('name', one.get('id', found[2]))}”"
    return Obstacle("", "", title or "the house", f"{problem.says}; {problem.remedy}")


def _parts(house: Mapping[str, Any]) -> Iterator[tuple[str, str, str, str]]:
    """Yield kind, name, title and path of every part of a house."""
    for kind, about in HOUSE_PARTS.items():
        if not about.is_list:
            yield kind, "", kind, f"house.{about.key}"
            continue
        for place, one in enumerate(house.get(about.key, [])):
            part = str(one.get("id", place))
            yield kind, part, f"{kind} “{one.get('name', part)}”", f"house.{about.key}[{place}]"
