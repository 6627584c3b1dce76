"""House: the section drawing, and everything the house is made of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from starlette.routing import Route

from rooftree.actions import papers, simulation
from rooftree.actions.year import weather_of
from rooftree.engine.conduction import interrupted_layers, resistance_between_faces
from rooftree.errors import HouseError
from rooftree.house import GROUND, OUTDOORS
from rooftree.papers.section.draw import HEAD
from rooftree.papers.section.links import with_links
from rooftree.web.display import display_of
from rooftree.web.drawing import for_page, title_of
from rooftree.web.equipment import Part, equipment_of, site_of, use_of
from rooftree.web.house import HOUSE_SHEETS
from rooftree.web.house.trouble import part_in
from rooftree.web.rendering import render
from rooftree.web.requests import job_of
from rooftree.web.views.house_part import address_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from markupsafe import Markup
    from starlette.applications import Starlette
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


@dataclass(frozen=True, slots=True)
class SpaceYear:
    """How one space fares through the year.

    Attributes
    ----------
    mean, lowest, highest : float
        Air temperature [K].
    mean_humidity : float
        Relative humidity [0-1].
    damp_hours : int
        Hours above 80 % relative humidity.
    """

    mean: float
    lowest: float
    highest: float
    mean_humidity: float
    damp_hours: int


@dataclass(frozen=True, slots=True)
class Trouble:
    """Why a house cannot be simulated.

    Attributes
    ----------
    says : str
        What is wrong, and what to do.
    title, link : str
        The part that it is about and the address of its form; empty where it names none.
    """

    says: str
    title: str
    link: str


@dataclass(frozen=True, slots=True)
class Forms:
    """Addresses of the forms behind the parts of a house."""

    app: Starlette
    job: str

    def __call__(self, kind: str, part: str = "") -> str:
        """Return the address of a part, or of a new one where it has no name."""
        return address_of(self.app, self.job, kind, part)

    def of_several(self, kind: str, parts: tuple[str, ...]) -> str:
        """Return the address of one part, or of its line in the list where there are more."""
        if len(parts) <= 1:
            return self(kind, *parts)
        return f"#{kind}-{parts[0]}"

    def missing(self, house: House) -> tuple[tuple[str, str], ...]:
        """Return what may be added to the equipment: its name and address."""
        alone = ("heating", "cooling", "air handler", "water heater")
        more = ("room unit", "fan", "dehumidifier")
        kinds = [one for one in alone if getattr(house, one.replace(" ", "_")) is None]
        return tuple((HOUSE_SHEETS[one].name, self(one)) for one in (*kinds, *more))


@dataclass(frozen=True, slots=True)
class HousePage:
    """The house as found.

    Attributes
    ----------
    job : Job
        The job.
    house : House
        The house, its cracks fitted to the fan test.
    drawing : Markup
        Section drawing as SVG.
    drawing_title : str
        What it shows.
    when : str
        Moment that is drawn: a key of `moments`.
    moments : mapping from str to str
        Moments that can be drawn, with their names.
    years : mapping from str to SpaceYear
        The year of each space by its id.
    resistances : mapping from str to float
        Resistance of each surface by its id, framing and voids included, without
        films [m²·K/W].
    names : mapping from str to str
        What to call each space, outdoors and the ground.
    equipment : tuple of Part
        What heats, cools, moves and dries.
    shares : tuple of (str, float)
        Name of each source of the air that comes in, and its share [0-1].
    site, use : Part
        Where it stands, and who lives in it.
    forms : Forms
        Addresses of the forms behind the parts.
    trouble : Trouble or None
        Why there is no drawing and no year.
    """

    template: ClassVar[str] = "house.html"
    job: Job
    house: House
    drawing: Markup
    drawing_title: str
    when: str
    moments: Mapping[str, str]
    years: Mapping[str, SpaceYear]
    resistances: Mapping[str, float]
    names: Mapping[str, str]
    equipment: tuple[Part, ...]
    shares: tuple[tuple[str, float], ...]
    site: Part
    use: Part
    forms: Forms
    trouble: Trouble | None = None
    title: str = "House"
    sheet: str = "house"


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
    svg = papers.section_svg(job, year, hour=hour, system=system, dark=False)
    return with_links(svg, simulation.case_of(job).house, HEAD, forms.of_several)


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
