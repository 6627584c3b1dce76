"""The pressure map: every pressure of the house, by place and by what ran."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from starlette.routing import Route

from rooftree.actions.readings import pressure_map
from rooftree.web.rendering import render
from rooftree.web.requests import job_of

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response

    from rooftree.job import Job
    from rooftree.job.pressure_map import PressureMap

_STEPS = (1.0, 3.0, 10.0)
"""Pressures from which a cell has a deeper tint [Pa]: about a gauge's noise, the usual
limit of a closed room, and what no fan of the house makes."""


@dataclass(frozen=True, slots=True)
class MapCell:
    """One pressure on the map.

    Attributes
    ----------
    shown : str
        The pressure in pascals; empty where it was not read.
    tint : int
        How strong it is, -3 to 3.
    """

    shown: str
    tint: int


@dataclass(frozen=True, slots=True)
class PressuresPage:
    """Every pressure that was read.

    Attributes
    ----------
    job : Job
        The job.
    heads : tuple of (str, str)
        Each place and what it was read against.
    rows : tuple of (str, tuple of MapCell)
        Each state with the pressures in it.
    """

    template: ClassVar[str] = "pressures.html"
    job: Job
    heads: tuple[tuple[str, str], ...]
    rows: tuple[tuple[str, tuple[MapCell, ...]], ...]
    title: str = "Pressures of the house"
    sheet: str = "readings"


def show_pressures(request: Request) -> Response:
    """Show every pressure by place and state."""
    job = job_of(request)
    mapped = pressure_map(job)
    return render(request, PressuresPage(job, mapped.places, _rows(mapped)))


def _rows(mapped: PressureMap) -> tuple[tuple[str, tuple[MapCell, ...]], ...]:
    return tuple(
        (
            state,
            tuple(_cell(mapped.values.get((state, place))) for place in mapped.places),
        )
        for state in mapped.states
    )


def _cell(pressure: float | None) -> MapCell:
    if pressure is None:
        return MapCell("", 0)
    strength = sum(abs(pressure) >= step for step in _STEPS)
    return MapCell(f"{pressure:+.1f}".replace("-", "−"), strength if pressure > 0.0 else -strength)


ROUTES = [Route("/jobs/{job}/readings/pressures", show_pressures, name="pressures")]
