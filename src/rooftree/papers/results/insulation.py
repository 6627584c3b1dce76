"""Insulation as found in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import (
    Line,
    Table,
    TestWords,
    always,
    limited_line,
    line,
    listed,
)
from rooftree.readings.insulation import InsulationSurvey
from rooftree.units import Kind, show, show_range

if TYPE_CHECKING:
    from rooftree.readings.insulation import InsulationPatch, InsulationResult, PatchResult
    from rooftree.units import DisplaySystem

CAUTIONS = (
    "Vermiculite may hold asbestos: leave it alone until a laboratory has looked at it. In an "
    "attic mind heat, wires, nails and where you step; only licensed trades work on wiring."
)


def _readings(reading: InsulationSurvey, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [Line("Where", reading.where), Line("Position", str(reading.position))]
    for patch in reading.patches:
        name = patch.name or "Insulation"
        depths = [
            point.depth
            for point in reading.depths
            if point.patch == patch.name or (len(reading.patches) == 1 and not point.patch)
        ]
        lines.append(Line(name, _what(patch, system)))
        lines.append(Line(f"{name}, depths", listed(depths, Kind.THICKNESS, system)))
    return tuple(lines)


def _what(patch: InsulationPatch, system: DisplaySystem) -> str:
    parts = [show(patch.area, Kind.AREA, system), str(patch.material)]
    if patch.label_resistance is not None:
        parts.append(f"labeled {show(patch.label_resistance, Kind.THERMAL_RESISTANCE, system)}")
    if patch.void_share is not None:
        parts.append(f"{show(patch.void_share, Kind.FRACTION, system)} voids")
    else:
        parts.append(str(patch.grade))
    return ", ".join(parts)


def _results(result: InsulationResult, system: DisplaySystem) -> tuple[Line, ...]:
    if result.resistance is None or result.total is None or result.transmittance is None:
        return ()
    lines = [
        limited_line("Insulation works as", result.resistance, Kind.THERMAL_RESISTANCE, system),
        line("Were it whole and even", result.intended, Kind.THERMAL_RESISTANCE, system),
        limited_line("From air to air", result.total, Kind.THERMAL_RESISTANCE, system),
        limited_line("Transmittance", result.transmittance, Kind.U_VALUE, system),
        Line("Least known", result.least_known),
    ]
    ways = result.by_method
    if ways is not None:
        iso = ways.iso_6946
        lines += [
            line("By parallel paths", ways.parallel, Kind.THERMAL_RESISTANCE, system),
            line("By isothermal planes", ways.planes, Kind.THERMAL_RESISTANCE, system),
            Line(
                "By ISO 6946",
                "does not apply" if iso is None else show(iso, Kind.THERMAL_RESISTANCE, system),
            ),
        ]
    return tuple(lines)


def _tables(result: InsulationResult, system: DisplaySystem) -> tuple[Table, ...]:
    tables = []
    if len(result.patches) > 1:
        tables.append(
            Table(
                "Patch by patch",
                ("Patch", "Depths", "Mean depth", "Whole", "Works as"),
                tuple(_patch_row(patch, system) for patch in result.patches),
            )
        )
    if result.costs:
        tables.append(
            Table(
                "What each defect costs, one after the other",
                ("Defect", "Lost", "Share of the heat"),
                tuple(
                    (
                        cost.name,
                        show(cost.resistance, Kind.THERMAL_RESISTANCE, system),
                        show(cost.share, Kind.FRACTION, system),
                    )
                    for cost in result.costs
                ),
            )
        )
    return tuple(tables)


def _patch_row(patch: PatchResult, system: DisplaySystem) -> tuple[str, ...]:
    low, high = patch.resistance.low, patch.resistance.high
    return (
        patch.name,
        str(patch.points),
        show(patch.mean_depth, Kind.THICKNESS, system),
        show(patch.intended, Kind.THERMAL_RESISTANCE, system),
        show_range(max(low, 0.0), max(high, 0.0), Kind.THERMAL_RESISTANCE, system, digits=2),
    )


WORDS = TestWords(
    reading=InsulationSurvey,
    name="Insulation",
    method=always(
        "Depths as columns side by side; framing between parallel paths and isothermal planes "
        "(ASHRAE Handbook - Fundamentals 2021, ch. 27; ISO 6946, recalled)"
    ),
    readings=_readings,
    results=_results,
    tables=_tables,
    cautions=CAUTIONS,
)
