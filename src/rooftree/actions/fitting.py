"""Put what tests found into the house of a job, and fit its leaks only when that can differ."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.actions.memory import Kept, fingerprint
from rooftree.fit.network import fit_network
from rooftree.job.tested_house import TestedHouse, house_with_tests

if TYPE_CHECKING:
    from rooftree.fit.measured import Read
    from rooftree.fit.network import FittedNetwork
    from rooftree.house import House
    from rooftree.job import Job
    from rooftree.job.reduction import Reductions

_FITS: Kept[FittedNetwork] = Kept(8)


def house_as_tested(job: Job, reductions: Reductions) -> TestedHouse:
    """Return the house of a job with what its tests found put in.

    Parameters
    ----------
    job : Job
        Whose house it is.
    reductions : Reductions
        Of the same job.

    Returns
    -------
    TestedHouse
        As :func:`~rooftree.job.tested_house.house_with_tests`; a change of a wall, a window
        or a machine does not fit the leaks again.
    """
    return house_with_tests(job, reductions, _fitted)


def _fitted(house: House, reads: tuple[Read, ...]) -> FittedNetwork:
    """Return the fit of the leaks, kept by what it follows from: the air of a house alone."""
    air = (house.site, house.spaces, house.leaks, house.ducts, house.air_handler, house.fans)
    fitted = _FITS.of(fingerprint(air, reads), lambda: fit_network(house, reads))
    with_leaks = replace(house, leaks=fitted.house.leaks, ducts=fitted.house.ducts)
    return replace(fitted, house=with_leaks)
