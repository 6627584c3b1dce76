"""The record of gas leaks in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, TestWords, always, line
from rooftree.readings.gas_leaks import CAUTIONS, GasLeakTest
from rooftree.units import Kind

if TYPE_CHECKING:
    from rooftree.readings.gas_leaks import GasLeak, GasLeakResult
    from rooftree.units import DisplaySystem


def _readings(reading: GasLeakTest, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [
        Line("Gas", str(reading.gas)),
        Line("Every joint passed", str(reading.all_reached)),
        *(Line(leak.place, _leak(leak)) for leak in reading.leaks),
    ]
    if reading.ambient_gas is not None:
        words = "In the air, of the lower explosive limit"
        lines.append(line(words, reading.ambient_gas, Kind.FRACTION, system))
    return tuple(lines)


def _leak(leak: GasLeak) -> str:
    told = f"told to {leak.reported_to}" if leak.reported_to else "told to nobody"
    state = "not repaired"
    if leak.repaired:
        state = "repaired and found tight" if leak.tested_again else "repaired, not tested again"
    return f"found by {leak.found_by}, {told}, {state}"


def _results(result: GasLeakResult, system: DisplaySystem) -> tuple[Line, ...]:
    return (
        Line("Leaks open", f"{result.open_leaks}"),
        line("Everybody leaves at this share of the air", result.leave_at, Kind.FRACTION, system),
    )


WORDS = TestWords(
    reading=GasLeakTest,
    name="Gas leaks",
    method=always("Every joint by detector, confirmed by bubbles (weatherization field guides)"),
    readings=_readings,
    results=_results,
    cautions=CAUTIONS,
)
