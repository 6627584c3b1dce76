"""From a page's context to HTML.

Each page is a frozen dataclass that names its template and documents what the
template may use; it is called `page` there. A template also knows `display` (units
and light), `path` (the address of a page by its name), `here` (the address asked for),
`is_part` (whether the page's script asked for a part only) and the filters below. A
name that does not exist is an error, never an empty string.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, ClassVar, Protocol
from urllib.parse import quote

from jinja2 import Environment, PackageLoader, StrictUndefined, pass_context
from markupsafe import Markup
from starlette.responses import HTMLResponse

from rooftree.plan.words import dollars
from rooftree.units import Kind, show, told
from rooftree.web.display import display_of

if TYPE_CHECKING:
    from jinja2.runtime import Context
    from starlette.requests import Request

    from rooftree.plan.model import Step

NOT_KNOWN = "not known"


class Page(Protocol):
    """What a template is given; each implementation documents its attributes."""

    template: ClassVar[str]


def render(request: Request, page: Page, *, status: int = 200) -> HTMLResponse:
    """Return the page as its template lays it out."""
    display = display_of(request)

    def path(name: str, **parameters: str) -> str:
        quoted = {key: quote(value, safe="") for key, value in parameters.items()}
        return str(request.app.url_path_for(name, **quoted))

    query = f"?{request.url.query}" if request.url.query else ""
    text = (
        environment()
        .get_template(page.template)
        .render(
            page=page,
            display=display,
            path=path,
            here=request.url.path + query,
            is_part=wants_fragment(request),
        )
    )
    return HTMLResponse(text, status)


@cache
def environment() -> Environment:
    """Return the one Jinja environment, which escapes everything and forgives nothing."""
    made = Environment(
        loader=PackageLoader("rooftree.web"),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=in_chosen_units,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters |= {"shown": shown, "money": money, "share": share, "compass": compass}
    made.filters |= {"step_effect": step_effect, "about_money": about_money}
    made.globals |= {"money_range": money_range}
    return made


@pass_context
def in_chosen_units(context: Context, value: object) -> object:
    """Return what a template shows, sentences with quantities in the reader's units."""
    if not isinstance(value, str) or isinstance(value, Markup):
        return value
    return told(value, context["display"].system)


@pass_context
def shown(context: Context, value: float | None, kind: str, digits: int | None = None) -> str:
    """Return an SI value in the units that the reader chose."""
    if value is None:
        return NOT_KNOWN
    return show(value, Kind(kind), context["display"].system, digits=digits)


def money(value: float | None) -> str:
    """Return a sum [$] to the dollar, with a true minus sign."""
    if value is None:
        return NOT_KNOWN
    whole = round(value)
    return f"{'−' if whole < 0 else ''}${abs(whole):,}"


def about_money(value: float | None) -> str:
    """Return a sum [$] as sure as a simulation is: to ten dollars, or to one below a hundred."""
    return NOT_KNOWN if value is None else dollars(value).replace("-", "−")


def money_range(low: float, high: float) -> str:
    """Return a range of sums [$], or one sum where both ends agree."""
    return money(low) if round(low) == round(high) else f"{money(low)} to {money(high)}"


def change(saved: float) -> str:
    """Return what a saving [$/year] means in words; a negative one costs.

    Examples
    --------
    >>> change(117.2), change(-23.0), change(0.3)
    ('saves $117 a year', 'costs $23 a year more', 'changes the bills by nothing')
    """
    if round(saved) == 0:
        return "changes the bills by nothing"
    return f"saves {money(saved)} a year" if saved > 0.0 else f"costs {money(-saved)} a year more"


def step_effect(step: Step) -> str:
    """Return what a step does at its place in the order, and what it would do alone."""
    here, alone = change(step.in_place.money_saved), change(step.alone.money_saved)
    if here == alone:
        return f"{here.capitalize()}, at this place as alone."
    return f"{here.capitalize()} at this place in the order; alone it {alone}."


def share(value: float, digits: int = 0) -> str:
    """Return a fraction as a percentage."""
    return f"{value:.{digits}%}".replace("%", " %").replace("-", "−")


def compass(azimuth: float) -> str:
    """Return the nearest of eight directions for an azimuth [°].

    Examples
    --------
    >>> compass(181.0), compass(350.0)
    ('south', 'north')
    """
    names = ("north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest")
    return names[round(azimuth / 45.0) % 8]


def wants_fragment(request: Request) -> bool:
    """Return whether the page's own script asks for a part of the page only."""
    return request.headers.get("hx-request") == "true"
