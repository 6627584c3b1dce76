"""Design loads of a house as in the handbook's example, beside the handbook's own."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from engine.comparisons.atlanta import (
    AREA,
    EXPOSED,
    GLASS,
    PRINTED_HEATING,
    SLAB_EDGE,
    WALL_U,
    WINDOW_U,
    atlanta,
    modelled,
    rows,
    why,
)
from engine.comparisons.atlanta_page import render_page

PAGE = Path(__file__).parents[3] / "docs" / "reference" / "design-loads.md"
NUMBER = re.compile(r"-?\d+\.\d+|-?\d+")

atlanta_house = pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals 2021, ch. 17",
    where="house in Atlanta: areas, loads of enclosure, air, people and ducts",
    read="source",
)


@atlanta_house
def test_the_house_has_what_was_read() -> None:
    """Exposed area, and the printed heating sum with the recalled U-values and the glass left."""
    house = atlanta()
    shell = [s for s in house.surfaces if s.inside == "rooms" and s.outside != "ground"]
    glass = sum(window.area for window in house.windows)
    assert sum(surface.area for surface in shell) + glass == pytest.approx(EXPOSED)
    assert house.floor_area == pytest.approx(AREA)
    walls = sum(s.area for s in shell if s.kind == "wall")
    slab = next(s for s in house.surfaces if s.kind == "slab")
    lost = 0.18 * AREA + WALL_U * walls + WINDOW_U * glass + SLAB_EDGE * slab.perimeter
    assert 23.5 * lost == pytest.approx(PRINTED_HEATING)
    assert 0.03 < GLASS / AREA < 0.2


@atlanta_house
def test_what_is_the_same_in_both_agrees() -> None:
    """Balanced ventilation and people are inputs: within a tenth, and exactly."""
    found = {row.name: row for row in rows()}
    air = found["ventilation"]
    assert air.heating_model == pytest.approx(air.heating, rel=0.05)
    assert air.cooling_model == pytest.approx(air.cooling, rel=0.10)
    people = found["people and appliances"]
    assert people.cooling_model == pytest.approx(people.cooling)


@atlanta_house
def test_walls_and_ceiling_conduct_alike_in_the_cold() -> None:
    """Their part of the heating load is U-value x area x difference, within a tenth."""
    loads, _ = modelled()
    house = atlanta()
    for kind, u_value in (("wall", WALL_U), ("ceiling", 0.18)):
        ids = {s.id for s in house.surfaces if s.kind == kind and s.inside == "rooms"}
        area = sum(s.area for s in house.surfaces if s.id in ids)
        part = sum(part.sensible for part in loads.heating_parts if part.id in ids)
        assert part == pytest.approx(u_value * area * 23.5, rel=0.10)


def test_the_differences_are_those_that_the_page_names() -> None:
    """Slab in winter, attic in summer, wind at the leaks, and ducts in that attic."""
    found, reasons = {row.name: row for row in rows()}, why()
    shell = found["enclosure"]
    slab = reasons.slab - reasons.slab_model
    assert slab > 0.6 * (shell.heating - shell.heating_model)
    ceiling = reasons.ceiling_model - reasons.ceiling
    assert ceiling > shell.cooling_model - shell.cooling
    assert reasons.infiltration < reasons.infiltration_open < 0.036
    assert reasons.attic_hot - 306.15 == pytest.approx(27.5, abs=17.5)
    as_assumed, smaller, leaks_alone = reasons.ducts.values()
    assert as_assumed[0] > smaller[0] > 0.13 > leaks_alone[0]
    assert as_assumed[1] > smaller[1] > 0.27 > leaks_alone[1]


def test_page_is_current() -> None:
    """Text is the same; numbers are, to one unit of their last digit. Else: make it again."""
    now, kept = render_page(), PAGE.read_text(encoding="utf-8")
    assert NUMBER.sub("#", now) == NUMBER.sub("#", kept), "run: python tools/design_loads_page.py"
    for new, old in zip(NUMBER.findall(now), NUMBER.findall(kept), strict=True):
        digits = len(old.partition(".")[2])
        assert float(new) == pytest.approx(float(old), abs=1.01 * 10.0**-digits)
