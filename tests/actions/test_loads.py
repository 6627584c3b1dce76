"""Design loads of a job: of the house as its tests found it, and after each stage."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from rooftree.actions.loads import AS_FOUND, design_of
from rooftree.actions.planning import plan_job
from rooftree.actions.simulation import case_of
from rooftree.actions.year import weather_of
from rooftree.engine.design import design_loads

if TYPE_CHECKING:
    from rooftree.job import Job


def test_loads_are_those_of_the_tested_house(job: Job) -> None:
    """The house with its tests put in, on the days of the job's year."""
    design = design_of(job)
    assert [state.name for state in design.states] == [AS_FOUND]
    loads = design_loads(case_of(job).house, weather_of(job))
    assert design.states[0].loads == loads
    assert {machine.use for machine in design.states[0].sizing.machines} == {"heating", "cooling"}


def test_loads_are_computed_once(job: Job) -> None:
    """The same question is answered from memory; another day is another answer."""
    found = design_of(job).states[0]
    assert design_of(replace(job, client="Somebody else")).states[0] is found
    colder = design_of(job, heating_temperature=255.0).states[0]
    assert colder.loads.heating > found.loads.heating
    assert colder.loads.cooling == pytest.approx(found.loads.cooling)


def test_each_stage_has_its_loads(job: Job) -> None:
    """After the last stage the rooms need less heat than as found."""
    plan = plan_job(job)
    design = design_of(job, plan)
    assert [state.name for state in design.states[1:]] == [
        f"After: {stage.name}" for stage in plan.stages
    ]
    assert design.states[-1].loads.heating < design.states[0].loads.heating
