"""Split a job file into its records, and put records together to a job file.

Each member of a list is a record of its own, the house is one, and what is left is the
head, which also keeps the order of the lists. So the trail says which reading changed,
and two people who work at different parts of a job write different records.
"""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import Any

HEAD, HOUSE = "head", "house"
_ORDER = "order"
_NAMED_BY = {"decisions": ("measure",), "bills": ("fuel", "start")}
"""Fields that name the members of a list which have no id."""


@dataclass(frozen=True, slots=True)
class Record:
    """One thing of a job.

    Attributes
    ----------
    id : str
        UUID; the same thing of the same job has the same one everywhere.
    kind : str
        ``"head"``, ``"house"``, or the name of the list it stands in.
    name : str
        Its own id in the job file.
    body : object
        As in the job file.
    """

    id: str
    kind: str
    name: str
    body: Any


def split(document: dict[str, Any]) -> dict[str, Record]:
    """Return the records of a job file by their UUIDs.

    Parameters
    ----------
    document : dict
        A whole job file with its id.

    Returns
    -------
    dict
    """
    job = str(document["id"])
    order: dict[str, list[str]] = {}
    head: dict[str, Any] = {}
    records = []
    for key, value in document.items():
        if key == HOUSE:
            records.append(_record(job, HOUSE, HOUSE, value))
        elif (names := _names(key, value)) is not None:
            order[key] = names
            records += [_record(job, key, *one) for one in zip(names, value, strict=True)]
        else:
            head[key] = value
    records.append(_record(job, HEAD, HEAD, head | {_ORDER: order}))
    return {record.id: record for record in records}


def join(records: list[Record]) -> dict[str, Any]:
    """Return the job file that records make up.

    Parameters
    ----------
    records : list of Record
        The newest of each, removed ones left out.

    Returns
    -------
    dict
    """
    by_place = {(record.kind, record.name): record.body for record in records}
    head = dict(by_place[HEAD, HEAD])
    for key, names in head.pop(_ORDER).items():
        head[key] = [by_place[key, name] for name in names]
    head[HOUSE] = by_place[HOUSE, HOUSE]
    return head


def _names(key: str, value: object) -> list[str] | None:
    """Return the names of a list's members; None where it is no list of things with names."""
    if not isinstance(value, list) or not all(isinstance(member, dict) for member in value):
        return None
    fields = _NAMED_BY.get(key, ("id",))
    names = [" ".join(str(member.get(field, "")) for field in fields) for member in value]
    return names if all(names) and len(set(names)) == len(names) else None


def _record(job: str, kind: str, name: str, body: object) -> Record:
    return Record(str(uuid.uuid5(uuid.UUID(job), f"{kind}/{name}")), kind, name, body)
