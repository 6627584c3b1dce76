"""What the rooms of a job's house need on the design days, as found and after each stage."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.actions.memory import Kept, fingerprint
from rooftree.actions.simulation import case_key, case_of
from rooftree.actions.year import weather_of
from rooftree.engine.design import design_loads
from rooftree.engine.sizing import size_equipment

if TYPE_CHECKING:
    from rooftree.engine.design import DesignLoads
    from rooftree.engine.sizing import Sizing
    from rooftree.house import House
    from rooftree.job import Job
    from rooftree.plan.model import Plan

AS_FOUND = "As found"


@dataclass(frozen=True, slots=True)
class DesignState:
    """The house at one time of the work.

    Attributes
    ----------
    name : str
        ``"As found"``, or the name of the stage after which it stands so.
    loads : DesignLoads
        What its rooms need.
    sizing : Sizing
        Its machines beside that.
    """

    name: str
    loads: DesignLoads
    sizing: Sizing


@dataclass(frozen=True, slots=True)
class Design:
    """The design loads of a job.

    Attributes
    ----------
    weather : str
        Year from which the design days are taken.
    states : tuple of DesignState
        As found, and after each stage where a plan was given.
    """

    weather: str
    states: tuple[DesignState, ...]


_STATES: Kept[DesignState] = Kept(32)


def design_of(
    job: Job,
    plan: Plan | None = None,
    *,
    heating_temperature: float | None = None,
    cooling_temperature: float | None = None,
) -> Design:
    """Return what the rooms of a job's house need on the design days, and its machines' sizes.

    Parameters
    ----------
    job : Job
        Any; its tests are put into the house.
    plan : Plan or None
        Of the job as it stands; then the house after each of its stages, too.
    heating_temperature, cooling_temperature : float or None
        Outdoors on the two days, where a code sets them [K]; None for those of the year.

    Returns
    -------
    Design

    Raises
    ------
    HouseError
        If the house cannot be simulated as it is described.
    OutOfRangeError
        If a temperature is none of this earth.
    """
    named = [(AS_FOUND, case_of(job).house)]
    named += [(f"After: {stage.name}", stage.house) for stage in (plan.stages if plan else ())]
    asked = (heating_temperature, cooling_temperature)
    return Design(
        weather=job.weather,
        states=tuple(_state(job, name, house, asked) for name, house in named),
    )


def _state(
    job: Job, name: str, house: House, asked: tuple[float | None, float | None]
) -> DesignState:
    key = fingerprint(case_key(job), job.weather, name, house, asked)
    return _STATES.of(key, lambda: _computed(job, name, house, asked))


def _computed(
    job: Job, name: str, house: House, asked: tuple[float | None, float | None]
) -> DesignState:
    loads = design_loads(
        house, weather_of(job), heating_temperature=asked[0], cooling_temperature=asked[1]
    )
    return DesignState(name, loads, size_equipment(house, loads, weather_of(job)))
