"""What the House page is made of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar
from urllib.parse import urlencode

from rooftree.web.house import HOUSE_SHEETS, slug_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from markupsafe import Markup
    from starlette.applications import Starlette

    from rooftree.house import House
    from rooftree.job import Job
    from rooftree.web.equipment import Part


def address_of(app: Starlette, job: str, kind: str, part: str = "") -> str:
    """Return the address of the form of one part; of a new one where it has no name."""
    query = f"?{urlencode({'id': part})}" if part else ""
    return f"{app.url_path_for('house_part', job=job, kind=slug_of(kind))}{query}"


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
    conditions : str
        The moment that is drawn, and the weather then; empty without a year.
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
    conditions: str
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
