"""House: the section drawing, and everything the house is made of."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.routing import Route

from rooftree.actions import papers, simulation
from rooftree.actions.year import weather_of
from rooftree.engine.conduction import interrupted_layers, resistance_between_faces
from rooftree.errors import HouseError
from rooftree.house import GROUND, OUTDOORS
from rooftree.papers.section.draw import NO_HEAD
from rooftree.papers.section.links import with_links
from rooftree.web.display import display_of
from rooftree.web.drawing import for_page, title_of
from rooftree.web.equipment import equipment_of, site_of, use_of
from rooftree.web.house.page import Forms, HousePage, SpaceYear, Trouble
from rooftree.web.house.trouble import part_in
from rooftree.web.rendering import render
from rooftree.web.requests import job_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request
    from starlette.responses import Response

    from rooftree.engine.results import YearResult
    from rooftree.house import House, Surface
    from rooftree.job import Job
    from rooftree.weather.year import WeatherYear

WHEN = {
    "coldest": "Coldest hour of the year",
    "hottest": "Hottest hour of the year",
    "year": "Mean of the year",
}
"""Moments at which the section can be drawn."""


def show_house(request: Request) -> Response:
    """Show the section at the chosen moment and the parts of the house."""
    job, display = job_of(request), display_of(request)
    house = simulation.case_of(job).house
    names, forms = names_of(house), Forms(request.app, job.name)
    when = request.query_params.get("when", "coldest")
    when = when if when in WHEN else "coldest"
    year, trouble = _year_of(job, forms)
    svg = "" if year is None else _section(request, job, year, when)
    page = HousePage(
        job=job,
        house=house,
        drawing=for_page(svg),
        drawing_title=title_of(svg) if svg else "House",
        conditions="" if year is None else _conditions(request, job, year, when),
        when=when,
        moments=WHEN,
        years={} if year is None else years_of(year),
        resistances={surface.id: resistance_of(surface) for surface in house.surfaces},
        names=names,
        equipment=equipment_of(house, names, display.system),
        shares=() if year is None else shares_of(year, names),
        site=site_of(house.site, display.system),
        use=use_of(house.use, names, display.system),
        forms=forms,
        trouble=trouble,
    )
    return render(request, page)


def _year_of(job: Job, forms: Forms) -> tuple[YearResult | None, Trouble | None]:
    """Return the year, or why there is none and at which part."""
    try:
        return simulation.simulate_job(job), None
    except HouseError as error:
        kind, part, title = part_in(str(error), job.house)
        return None, Trouble(str(error), title, forms(kind, part) if kind else "")


def _section(request: Request, job: Job, year: YearResult, when: str) -> str:
    """Return the drawing in which every part leads to its form."""
    forms, hour = Forms(request.app, job.name), hour_of(when, weather_of(job))
    system = display_of(request).system
    svg = papers.section_svg(job, year, hour=hour, system=system, dark=False, headed=False)
    return with_links(svg, simulation.case_of(job).house, NO_HEAD, forms.of_several)


def _conditions(request: Request, job: Job, year: YearResult, when: str) -> str:
    hour, system = hour_of(when, weather_of(job)), display_of(request).system
    return papers.section_conditions(job, year, hour=hour, system=system)


def hour_of(when: str, year: WeatherYear) -> int | None:
    """Return the hour of the year that a moment names; None for the mean."""
    if when == "coldest":
        return int(year.temperature.argmin())
    if when == "hottest":
        return int(year.temperature.argmax())
    return None


def names_of(house: House) -> dict[str, str]:
    """Return what to call each space, outdoors and the ground."""
    return {space.id: space.name for space in house.spaces} | {
        OUTDOORS: "outdoors",
        GROUND: "the ground",
    }


def years_of(year: YearResult) -> dict[str, SpaceYear]:
    """Return the year of each space by its id."""
    return {
        space: SpaceYear(
            float(year.mean_temperature[k]),
            float(year.minimum_temperature[k]),
            float(year.maximum_temperature[k]),
            float(year.mean_relative_humidity[k]),
            int(year.hours_above_80_percent[k]),
        )
        for k, space in enumerate(year.space_ids)
    }


def resistance_of(surface: Surface) -> float:
    """Return the resistance of a surface as it works, without films [m²·K/W]."""
    layers = interrupted_layers(surface.layers, surface.framing_fraction, surface.void_fraction)
    return resistance_between_faces(layers)


def shares_of(year: YearResult, names: Mapping[str, str]) -> tuple[tuple[str, float], ...]:
    """Return where the air that comes in came from, largest share first."""
    shares = [(names.get(source, source), share) for source, share in year.source_shares.items()]
    return tuple(sorted(shares, key=lambda pair: -pair[1]))


ROUTES = [Route("/jobs/{job}/house", show_house, name="house")]
