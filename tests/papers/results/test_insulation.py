"""Check insulation in words."""

from __future__ import annotations

from dataclasses import replace

from rooftree.papers.results import WORDS
from rooftree.readings.insulation import (
    DepthPoint,
    InsulationPatch,
    InsulationSurvey,
    Material,
    Position,
    reduce_insulation,
)
from rooftree.units import DisplaySystem

PATCH = InsulationPatch("north", 50.0, Material.LOOSE_CELLULOSE, void_share=0.02)
SURVEY = InsulationSurvey(
    "Attic floor",
    Position.ATTIC_FLOOR,
    (PATCH,),
    tuple(DepthPoint("", depth) for depth in (0.20, 0.24, 0.28)),
)
TWO = replace(
    SURVEY,
    patches=(PATCH, replace(PATCH, name="south")),
    depths=tuple(DepthPoint(name, 0.2) for name in ("north", "south")),
)
OWN = WORDS[InsulationSurvey]


def test_results_have_a_line_each() -> None:
    """What it works as is told with limits, and the three methods beside each other."""
    lines = {one.words: one for one in OWN.results(reduce_insulation(SURVEY), DisplaySystem.IP)}
    assert lines["Insulation works as"].value.startswith("R-")
    assert " to R-" in lines["Insulation works as"].limits
    assert lines["By ISO 6946"].value.startswith("R-")
    assert "Least known" in lines


def test_every_defect_has_a_row() -> None:
    """The table of costs names framing and voids; one patch needs no table of patches."""
    tables = OWN.tables(reduce_insulation(SURVEY), DisplaySystem.SI)
    assert [table.caption for table in tables] == ["What each defect costs, one after the other"]
    assert {"framing", "gaps and voids"} <= {row[0] for row in tables[0].rows}


def test_patches_have_a_table() -> None:
    """Two patches stand side by side, as many cells as columns."""
    table = OWN.tables(reduce_insulation(TWO), DisplaySystem.IP)[0]
    assert [row[0] for row in table.rows] == ["north", "south"]
    assert all(len(row) == len(table.columns) for row in table.rows)


def test_readings_name_patches_and_depths() -> None:
    """Each patch is told with its material, and its depths in one line."""
    lines = {one.words: one.value for one in OWN.readings(SURVEY, DisplaySystem.SI)}
    assert lines["north"] == "50 m², loose cellulose, 2 % voids"
    assert lines["north, depths"] == "200 mm, 240 mm, 280 mm"


def test_nothing_read_is_told_without_lines() -> None:
    """A survey without depths has no results and no tables."""
    empty = reduce_insulation(replace(SURVEY, depths=()))
    assert OWN.results(empty, DisplaySystem.IP) == ()
    assert OWN.tables(empty, DisplaySystem.IP) == ()


def test_cautions_name_asbestos() -> None:
    """The page and the paper carry the caution about vermiculite."""
    assert "asbestos" in OWN.cautions
