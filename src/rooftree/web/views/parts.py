"""The page of parts: every element that the pages are made of, for developers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

import numpy as np
from starlette.routing import BaseRoute, Route

from rooftree.finding import Finding, Severity
from rooftree.house import Fuel
from rooftree.units import Kind
from rooftree.web.cells import Cell
from rooftree.web.charts import Drawing, monthly_chart
from rooftree.web.display import display_of
from rooftree.web.energy import FuelYear
from rooftree.web.rendering import render

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response

EXAMPLES = (
    Finding("example/stop", Severity.STOP, "Do not go on before this is solved.", source="example"),
    Finding("example/gate", Severity.GATE, "Solve this before the measures that it holds back."),
    Finding("example/note", Severity.NOTE, "Worth knowing; it holds nothing back."),
)


@dataclass(frozen=True, slots=True)
class PartsPage:
    """One of each part.

    Attributes
    ----------
    findings : tuple of Finding
        One of each severity.
    cells : tuple of Cell
        A field with a hint, and one with a mistake.
    drawing : Drawing
        A chart of an invented year.
    """

    template: ClassVar[str] = "parts_page.html"
    findings: tuple[Finding, ...]
    cells: tuple[Cell, ...]
    drawing: Drawing
    title: str = "Parts"


def show_parts(request: Request) -> Response:
    """Show one of each part."""
    before = 2e9 * (1.0 + np.cos(np.arange(12) * np.pi / 6.0))
    year = FuelYear(Fuel.GAS, Kind.FUEL, before, 0.7 * before)
    cells = (
        Cell("good", "A field", "−52.3 Pa", hint="such as −50 Pa"),
        Cell("bad", "A field with a mistake", "52 apples", "write a pressure, such as −50 Pa"),
    )
    page = PartsPage(EXAMPLES, cells, monthly_chart(year, display_of(request).system))
    return render(request, page)


ROUTES: list[BaseRoute] = [Route("/ui", show_parts, name="parts")]
