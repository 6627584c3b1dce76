"""The instruments of a job: how well each measures, and until when that is known."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.errors import StoreError
from rooftree.records.document import with_instrument

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.job import Job
    from rooftree.records import Store


def instrument_entry(store: Store, name: str, instrument: str) -> Mapping[str, object] | None:
    """Return one instrument exactly as it was typed.

    Parameters
    ----------
    store : Store
        Where the job is kept.
    name : str
        Of the job.
    instrument : str
        Id of the instrument.

    Returns
    -------
    mapping or None
        As in the job file; None where the job has no such instrument.
    """
    members = store.load(name).plain().get("instruments", [])
    return next((one for one in members if one["id"] == instrument), None)


def save_instrument(store: Store, name: str, entry: Mapping[str, object], who: str) -> Job:
    """Save an instrument in a job: a new one, or a new revision of one that is there.

    Parameters
    ----------
    store : Store
        Where the job is kept.
    name : str
        Of the job.
    entry : mapping
        One instrument as in the job file, quantities as typed.
    who : str
        For the trail.

    Returns
    -------
    Job

    Raises
    ------
    DocumentError
        If the entry cannot be taken; `problems` names each field.
    """
    document = with_instrument(store.load(name), entry)
    store.save(document, who)
    return document.to_core()


def instruments_elsewhere(store: Store, name: str) -> dict[str, Mapping[str, object]]:
    """Return the instruments of other jobs that this one does not have, newest record first.

    Parameters
    ----------
    store : Store
        Where jobs are kept.
    name : str
        Of the job.

    Returns
    -------
    dict from str to mapping
        By id, as in the job file. A job that cannot be read has none.
    """
    found: dict[str, Mapping[str, object]] = {}
    own = {one["id"] for one in store.load(name).plain().get("instruments", [])}
    for other in store.names():
        try:
            members = store.load(other).plain().get("instruments", [])
        except StoreError:
            continue
        for one in members:
            known = found.get(one["id"])
            newer = known is None or str(one.get("due", "")) > str(known.get("due", ""))
            if one["id"] not in own and newer:
                found[one["id"]] = one
    return found
