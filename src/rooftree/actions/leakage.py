"""What leakage means in the house of a job, kept while nothing that matters changes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.actions.memory import Kept, fingerprint
from rooftree.actions.year import weather_of
from rooftree.job.leakage_outlook import LeakageOutlook, leakage_outlook, without_logs

if TYPE_CHECKING:
    from rooftree.job import Job

_OUTLOOKS: Kept[LeakageOutlook] = Kept(4)


def outlook_of(job: Job) -> LeakageOutlook:
    """Return what leakage means in the house of a job.

    Parameters
    ----------
    job : Job
        Any.

    Returns
    -------
    LeakageOutlook
        Kept for the same house, tests, weather and prices; logs of air sealing do not
        count, so that a row more does not ask for another year.
    """
    bare = without_logs(job)
    key = fingerprint(
        bare.house, bare.tests, bare.enclosure, bare.visits, bare.weather, bare.tariff
    )
    return _OUTLOOKS.of(key, lambda: leakage_outlook(bare, lambda: weather_of(bare)))


def forget_outlooks() -> None:
    """Forget what was worked out: the weather under it was replaced."""
    _OUTLOOKS.clear()
