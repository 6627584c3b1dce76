"""Papers and drawings of a job."""

from __future__ import annotations

import io
from datetime import date
from typing import TYPE_CHECKING
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

from rooftree.actions.papers import make_report, section_svg
from rooftree.actions.planning import plan_job
from rooftree.actions.simulation import simulate_job
from rooftree.units import DisplaySystem

if TYPE_CHECKING:
    from rooftree.job import Job
    from rooftree.plan.model import Plan

MADE = date(2026, 1, 21)


@pytest.fixture(scope="module")
def plan(job: Job) -> Plan:
    """Return the plan of the demo with few measures."""
    return plan_job(job)


@pytest.mark.parametrize(("system", "unit"), [(DisplaySystem.IP, "cfm"), (DisplaySystem.SI, "L/s")])
def test_a_report_tells_the_plan_in_the_units_asked_for(
    job: Job, plan: Plan, system: DisplaySystem, unit: str
) -> None:
    """Every step of the plan stands in the report, flows in the reader's unit."""
    pages = PdfReader(io.BytesIO(make_report(job, plan, system=system, made=MADE))).pages
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    for step in plan.steps:
        assert step.measure.title in text
    assert unit in text
    assert "21 January 2026" in text


@pytest.mark.parametrize("hour", [None, 0, 8759])
@pytest.mark.parametrize("dark", [False, True])
def test_a_section_is_whole_svg_with_a_title(job: Job, hour: int | None, dark: bool) -> None:
    """The drawing of any hour or of the year can be read by any program."""
    drawn = section_svg(job, simulate_job(job), hour=hour, system=DisplaySystem.SI, dark=dark)
    root = ElementTree.fromstring(drawn)  # noqa: S314 our own drawing
    assert root.tag.endswith("svg")
    assert "invented house" in drawn
