"""What a household usually uses, beside what a job says of its own."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.actions.year import weather_of
from rooftree.house.use import household_of, reference_items, replace_seen, use_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.house import Use
    from rooftree.house.use import Seen, UseItem
    from rooftree.job import Job


@dataclass(frozen=True, slots=True)
class UsualUse:
    """The usual use of a household of this size.

    Attributes
    ----------
    items : tuple of UseItem
        Its parts.
    usual : Use
        What they come to.
    told : Use
        What the job says.
    """

    items: tuple[UseItem, ...]
    usual: Use
    told: Use


def usual_use_of(job: Job, seen: Mapping[str, Seen] | None = None) -> UsualUse:
    """Return what a household of a job's size usually uses.

    Parameters
    ----------
    job : Job
        Any.
    seen : mapping from str to Seen, or None
        What was seen of single parts, by their ids.

    Returns
    -------
    UsualUse

    Raises
    ------
    OutOfRangeError
        If the house is out of the range of the equations, or a part was seen that is not there.
    """
    household = household_of(job.house)
    items = replace_seen(reference_items(household), seen or {})
    return UsualUse(items, use_of(household, items, weather_of(job)), job.house.use)
