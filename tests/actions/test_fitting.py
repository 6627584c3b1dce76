"""Leaks are fitted again only where the air of the house has changed."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.actions.fitting import house_as_tested
from rooftree.job.reduction import reduce_job
from rooftree.job.tested_house import house_with_tests

if TYPE_CHECKING:
    from rooftree.job import Job


def test_kept_leaks_are_those_of_a_fresh_fit(job: Job) -> None:
    """Without its windows, half its walls and every machine the house leaks as before."""
    reductions = reduce_job(job)
    house_as_tested(job, reductions)
    bare = replace(
        job.house,
        surfaces=job.house.surfaces[::2],
        windows=(),
        heating=None,
        cooling=None,
        water_heater=None,
        dehumidifiers=(),
        room_units=(),
    )
    changed = replace(job, house=bare)
    assert house_as_tested(changed, reductions) == house_with_tests(changed, reductions)


def test_another_leak_is_fitted_anew(job: Job) -> None:
    """A leak, a space or the air handler that is another asks for a fit of its own."""
    reductions = reduce_job(job)
    house = job.house
    assert house.air_handler is not None
    for changed in (
        replace(house, leaks=house.leaks[1:]),
        replace(house, spaces=(replace(house.spaces[0], volume=99.0), *house.spaces[1:])),
        replace(house, air_handler=replace(house.air_handler, power=1.0), fans=house.fans[1:]),
    ):
        other = replace(job, house=changed)
        assert house_as_tested(other, reductions) == house_with_tests(other, reductions)
