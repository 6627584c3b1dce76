"""The search for the worst case of an appliance zone in words."""

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
from rooftree.readings.worst_case import CAUTIONS, WorstCaseTest
from rooftree.units import Kind, show, show_range

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.worst_case import WorstCaseResult
    from rooftree.units import DisplaySystem


def _readings(reading: WorstCaseTest, system: DisplaySystem) -> tuple[Line, ...]:
    return (
        Line("Zone", reading.zone),
        Line("Burner", f"{reading.appliance}, {reading.draft}"),
        Line("Fireplaces and stoves", str(reading.hearth)),
        Line("Baseline before", listed(reading.baseline_before, Kind.PRESSURE, system)),
        Line("Baseline after", listed(reading.baseline_after, Kind.PRESSURE, system)),
        Line("Readings of combinations", f"{len(reading.states)}"),
    )


def _results(result: WorstCaseResult, system: DisplaySystem) -> tuple[Line, ...]:
    lines = []
    if result.worst is not None:
        lines += [
            limited_line("Deepest, baseline taken off", result.worst.net, Kind.PRESSURE, system),
            Line("In this combination", result.worst.words),
            line("Chance that it is the deepest", result.chance, Kind.FRACTION, system),
            line("Wind in one reading", result.wind, Kind.PRESSURE, system),
        ]
    if result.by_door is not None:
        lines.append(line("Doors change it by", result.by_door, Kind.PRESSURE, system))
    if result.by_air_handler is not None:
        lines.append(
            line("The air handler changes it by", result.by_air_handler, Kind.PRESSURE, system)
        )
    if result.following is not None:
        lines.append(Line("Read next", result.following.words))
    return tuple(lines)


def _tables(result: WorstCaseResult, system: DisplaySystem) -> tuple[Table, ...]:
    if not result.states:
        return ()
    rows = tuple(
        (
            each.words,
            show(each.net.value, Kind.PRESSURE, system),
            _predicted(predicted, system),
            f"{each.readings}",
        )
        for each, predicted in zip(result.states, result.predictions, strict=True)
    )
    columns = ("Fans and doors", "Read, baseline off", "By the balance of air", "Readings")
    return (Table("Every combination read", columns, rows),)


def _predicted(predicted: Propagated | None, system: DisplaySystem) -> str:
    if predicted is None:
        return "not known"
    return show_range(predicted.low, predicted.high, Kind.PRESSURE, system)


WORDS = TestWords(
    reading=WorstCaseTest,
    name="Worst case of a zone",
    method=always(
        "Every combination of doors and air handler with all exhaust on, baseline before and after "
        "(BPI, Combustion Safety Test Procedure for Vented Appliances), beside the balance of air"
    ),
    readings=_readings,
    results=_results,
    tables=_tables,
    cautions=CAUTIONS,
)
