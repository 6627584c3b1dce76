"""Change the house of a job: try a change on the year first, then save it or leave it."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING, Any

from rooftree.actions.fitting import house_as_tested
from rooftree.actions.memory import Kept, fingerprint
from rooftree.actions.year import weather_of
from rooftree.bills import cost_of
from rooftree.engine import simulate
from rooftree.engine.design import design_loads
from rooftree.errors import DocumentError, NotEnoughDataError, RooftreeError
from rooftree.job.reduction import reduce_job
from rooftree.records.document.house_parts import (
    HOUSE_PARTS,
    Obstacle,
    obstacles,
    part_entry,
    with_part,
    without_part,
)

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.engine.design import DesignLoads
    from rooftree.engine.results import YearResult
    from rooftree.finding import Finding
    from rooftree.house import House
    from rooftree.job import Job
    from rooftree.records import Store

__all__ = [
    "HOUSE_PARTS",
    "HouseTrial",
    "Obstacle",
    "TriedYear",
    "forget_trials",
    "house_part",
    "removal_obstacles",
    "remove_part",
    "save_part",
    "try_house",
    "try_part",
    "try_removal",
]


@dataclass(frozen=True, slots=True)
class TriedYear:
    """A house through its year, whether or not it is the one that is saved.

    Attributes
    ----------
    described : House
        As it is written down.
    house : House
        With the tests put in.
    year : YearResult
        Hour by hour.
    loads : DesignLoads
        What the rooms need on the design days.
    cost : float or None
        Of what is bought in the year [$]; None where the tariff lacks a price.
    """

    described: House
    house: House
    year: YearResult
    loads: DesignLoads
    cost: float | None

    def replaced(self, kind: str, part: str = "") -> tuple[tuple[str, str], ...]:
        """Return what tests put in the place of what is written down of a part.

        Parameters
        ----------
        kind : str
            Kind of part, of `HOUSE_PARTS`.
        part : str
            Its id, or its place in the list; empty where a house has one at most.

        Returns
        -------
        tuple of (str, str)
            Each field with the note on how it is known.
        """
        one, other = (_part_of(house, kind, part) for house in (self.described, self.house))
        if one is None or other is None:
            return ()
        known = getattr(other, "known", {})
        return tuple(
            (field.name, known[field.name].note if field.name in known else "")
            for field in fields(one)
            if field.name != "known" and getattr(one, field.name) != getattr(other, field.name)
        )


@dataclass(frozen=True, slots=True)
class HouseTrial:
    """What a change of the house does to its year.

    Attributes
    ----------
    before, after : TriedYear or None
        The house as it is saved and as it would be; None where that cannot be simulated.
    problems : tuple of (str, str)
        What cannot be taken: the field, from the part on, with what to do.
    says : str
        Why there is no year after the change; empty where there is one.
    findings : tuple of Finding
        Tests that cannot be put into the changed house, and could before.
    """

    before: TriedYear | None
    after: TriedYear | None
    problems: tuple[tuple[str, str], ...] = ()
    says: str = ""
    findings: tuple[Finding, ...] = ()


_TRIED: Kept[tuple[TriedYear, tuple[Finding, ...]]] = Kept(4)


def house_part(store: Store, name: str, kind: str, part: str = "") -> dict[str, Any]:
    """Return one part of a job's house exactly as it was typed.

    Parameters
    ----------
    store : Store
        Where the job is kept.
    name : str
        Of the job.
    kind : str
        Kind of part, of `HOUSE_PARTS`.
    part : str
        Its id, or its place in the list; empty where a house has one at most.

    Returns
    -------
    dict
        As in the job file.

    Raises
    ------
    DocumentError
        If the house has no such part.
    """
    return part_entry(store.load(name), kind, part)


def try_part(
    store: Store, name: str, kind: str, part: str, entry: Mapping[str, object]
) -> HouseTrial:
    """Run the year with one part changed or added; nothing is saved.

    Parameters
    ----------
    store : Store
        Where the job is kept.
    name : str
        Of the job.
    kind : str
        Kind of part, of `HOUSE_PARTS`.
    part : str
        Its id, or its place in the list; empty for a new one.
    entry : mapping
        The part as in the job file, quantities as typed.

    Returns
    -------
    HouseTrial
        Fields that cannot be taken are its problems; there is no year then.
    """
    document = store.load(name)
    job = document.to_core()
    try:
        changed, _ = with_part(document, kind, part, entry)
    except DocumentError as error:
        return HouseTrial(_before(job), None, error.problems, str(error))
    return try_house(job, changed.to_core().house)


def try_removal(store: Store, name: str, kind: str, part: str = "") -> HouseTrial:
    """Run the year without one part; nothing is saved.

    Parameters
    ----------
    store : Store
        Where the job is kept.
    name : str
        Of the job.
    kind : str
        Kind of part, of `HOUSE_PARTS`.
    part : str
        Its id, or its place in the list; empty where a house has one at most.

    Returns
    -------
    HouseTrial
        Without a year after the change where something stands in the way.

    Raises
    ------
    DocumentError
        If the house has no such part.
    """
    document = store.load(name)
    part_entry(document, kind, part)
    job = document.to_core()
    try:
        changed = without_part(document, kind, part)
    except DocumentError as error:
        return HouseTrial(_before(job), None, error.problems, str(error))
    return try_house(job, changed.to_core().house)


def try_house(job: Job, house: House) -> HouseTrial:
    """Run a job's year with another house.

    Parameters
    ----------
    job : Job
        Whose tests, weather and prices are used.
    house : House
        Instead of the job's own.

    Returns
    -------
    HouseTrial
        The tests are put into either house, so that what the fan test found stays what
        it found.
    """
    try:
        before, doubts = _tried(job)
    except RooftreeError:
        before, doubts = None, ()
    try:
        after, new_doubts = _tried(replace(job, house=house))
    except RooftreeError as error:
        return HouseTrial(before, None, says=str(error))
    known = {finding.says for finding in doubts}
    return HouseTrial(
        before, after, findings=tuple(one for one in new_doubts if one.says not in known)
    )


def removal_obstacles(store: Store, name: str, kind: str, part: str = "") -> tuple[Obstacle, ...]:
    """Return what refers to a part, and what would no longer fit without it.

    Parameters
    ----------
    store : Store
        Where the job is kept.
    name : str
        Of the job.
    kind : str
        Kind of part, of `HOUSE_PARTS`.
    part : str
        Its id, or its place in the list; empty where a house has one at most.

    Returns
    -------
    tuple of Obstacle
        Empty where it can be taken out.

    Raises
    ------
    DocumentError
        If the house has no such part.
    """
    return obstacles(store.load(name), kind, part)


def save_part(
    store: Store, name: str, kind: str, part: str, entry: Mapping[str, object], who: str
) -> tuple[Job, str]:
    """Save one part of a job's house: a new revision of the job, with its line in the trail.

    Parameters
    ----------
    store : Store
        Where the job is kept.
    name : str
        Of the job.
    kind : str
        Kind of part, of `HOUSE_PARTS`.
    part : str
        Its id, or its place in the list; empty for a new one.
    entry : mapping
        The part as in the job file, quantities as typed.
    who : str
        For the trail.

    Returns
    -------
    tuple of Job and str
        The job, and the name of the part in it.

    Raises
    ------
    DocumentError
        If the entry cannot be taken; `problems` names each field.
    StoreError
        If somebody else has saved the job in the same moment.
    """
    revision = store.revision(name)
    document, kept_as = with_part(store.load(name), kind, part, entry)
    store.save(document, who, based_on=revision)
    return document.to_core(), kept_as


def remove_part(store: Store, name: str, kind: str, part: str, who: str) -> Job:
    """Take one part out of a job's house; earlier revisions of the job keep it.

    Parameters
    ----------
    store : Store
        Where the job is kept.
    name : str
        Of the job.
    kind : str
        Kind of part, of `HOUSE_PARTS`.
    part : str
        Its id, or its place in the list; empty where a house has one at most.
    who : str
        For the trail.

    Returns
    -------
    Job

    Raises
    ------
    DocumentError
        If there is no such part, or anything refers to it.
    StoreError
        If somebody else has saved the job in the same moment.
    """
    revision = store.revision(name)
    document = without_part(store.load(name), kind, part)
    store.save(document, who, based_on=revision)
    return document.to_core()


def forget_trials() -> None:
    """Forget every year that was tried: the weather under it was replaced."""
    _TRIED.clear()


def _part_of(house: House, kind: str, part: str) -> Any:
    """Return a part of a house; None where it has none of that name."""
    about = HOUSE_PARTS[kind]
    found = getattr(house, about.key)
    if not about.is_list:
        return found
    named = {getattr(one, "id", str(place)): one for place, one in enumerate(found)}
    return named.get(part)


def _before(job: Job) -> TriedYear | None:
    try:
        return _tried(job)[0]
    except RooftreeError:
        return None


def _tried(job: Job) -> tuple[TriedYear, tuple[Finding, ...]]:
    """Return the year of a job's house with its tests put in, and which of them do not fit."""
    key = fingerprint(job.house, job.tests, job.enclosure, job.visits, job.weather, job.tariff)
    return _TRIED.of(key, lambda: _run(job))


def _run(job: Job) -> tuple[TriedYear, tuple[Finding, ...]]:
    weather = weather_of(job)
    tested = house_as_tested(job, reduce_job(job))
    year = simulate(tested.house, weather, hourly=True)
    try:
        cost = cost_of(year, job.tariff)
    except NotEnoughDataError:
        cost = None
    tried = TriedYear(job.house, tested.house, year, design_loads(tested.house, weather), cost)
    return tried, tested.findings
