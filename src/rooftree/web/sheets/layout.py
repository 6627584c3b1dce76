"""What the page of one kind of test is made of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.units import DisplaySystem
    from rooftree.web.charts import Drawing

GROUPS = (
    "House and zones",
    "Ducts and air handler",
    "Ventilation",
    "Burners",
    "Moisture and insulation",
    "Work",
)
"""Under which pages list the kinds of test, in the order of a visit."""


@dataclass(frozen=True, slots=True)
class Field:
    """One field to fill in.

    Attributes
    ----------
    name : str
        As in the job file; empty for the one column of a list of plain readings.
    words : str
        Its label.
    hint : str
        How it may be written.
    choices : tuple of (str, str)
        Words for each choice of the file, where they need any but their own.
    among : str
        What of the job it names: ``"spaces"``, or empty.
    is_seldom : bool
        Whether a list shows it only where somebody asks for more, or wrote something in it.
    """

    name: str
    words: str
    hint: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    among: str = ""
    is_seldom: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Fields that belong together.

    Attributes
    ----------
    legend : str
        What they are about.
    fields : tuple of Field
        In the order in which they are read.
    says : str
        What to mind; empty where nothing.
    is_folded : bool
        Whether the group is shut until somebody opens it or wrote something in it.
    """

    legend: str
    fields: tuple[Field, ...]
    says: str = ""
    is_folded: bool = False


@dataclass(frozen=True, slots=True)
class Rows:
    """A list of readings, one row for each.

    Attributes
    ----------
    name : str
        As in the job file.
    legend : str
        What the list holds.
    columns : tuple of Field
        Fields of a row.
    each : str
        What one row is called, such as ``"Register"``.
    fewest : int
        Rows that an empty form shows.
    says : str
        What to mind; empty where nothing.
    is_seldom : bool
        Whether the list is shut until somebody opens it or wrote something in it.
    """

    name: str
    legend: str
    columns: tuple[Field, ...]
    each: str
    fewest: int = 3
    says: str = ""
    is_seldom: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """The page of one kind of test.

    Attributes
    ----------
    kind : str
        As the job file names it.
    name : str
        As people call it.
    group : str
        Of `GROUPS`: where pages list it.
    says : str
        What it is for and what one needs, in one or two sentences.
    parts : tuple of Group or Rows
        The form, from top to bottom.
    setup : tuple of str
        What to check before the first reading, in order.
    picture : str
        Name of the picture of where hoses and probes go; empty for none.
    draw : callable or None
        Gives the drawing of a result, from the readings, the result and the units.
    nothing_yet : str
        What is told while nothing was typed.
    """

    kind: str
    name: str
    group: str
    says: str
    parts: tuple[Group | Rows, ...]
    setup: tuple[str, ...] = ()
    picture: str = ""
    draw: Callable[[Any, Any, DisplaySystem], Drawing | None] | None = None
    nothing_yet: str = "Results appear here as soon as there is enough to compute them."

    @property
    def slug(self) -> str:
        """Return the name of the kind in addresses."""
        return self.kind.replace(" ", "-")

    @property
    def lists(self) -> tuple[Rows, ...]:
        """Return the lists of readings."""
        return tuple(part for part in self.parts if isinstance(part, Rows))
