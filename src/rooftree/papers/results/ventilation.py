"""Measured fan flows in words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, limited_line, line
from rooftree.readings.ventilation import FlowMethod, Running, VentilationTest
from rooftree.units import Kind, show, show_range

if TYPE_CHECKING:
    from rooftree.readings.ventilation import (
        FanFlow,
        FanReading,
        FanSetting,
        VentilationNeed,
        VentilationResult,
    )
    from rooftree.units import DisplaySystem

HOUR = 3600.0


def _method(reading: VentilationTest, result: VentilationResult | None) -> str:
    factor = result.factor_says if result is not None else ""
    weather = f" Weather-and-shielding factor {factor}." if factor else ""
    return (
        f"ASHRAE 62.2-{reading.edition}, with the credit for leaks of that edition; local exhaust "
        f"of existing dwellings by its appendix A.{weather}"
    )


def _fan_line(fan: FanReading, system: DisplaySystem) -> Line:
    if fan.method is FlowMethod.NO_FAN:
        return Line(fan.name, "no fan")
    flow = show(fan.flow, Kind.FLOW, system)
    turned = f", again {show(fan.turned_flow, Kind.FLOW, system)}" if fan.turned_flow else ""
    supply = f", in {show(fan.supply_flow, Kind.FLOW, system)}" if fan.supply_flow else ""
    return Line(fan.name, f"{flow}{turned}{supply}, {fan.running}, by {fan.method}")


def _readings(reading: VentilationTest, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [_fan_line(fan, system) for fan in reading.fans]
    if reading.weather_factor is not None:
        lines.append(Line("Weather-and-shielding factor", f"{reading.weather_factor:.2f}"))
    return tuple(lines)


def _results(result: VentilationResult, system: DisplaySystem) -> tuple[Line, ...]:
    lines = []
    if result.need is not None:
        total = f"Air the house needs by 62.2-{result.need.edition}"
        lines.append(line(total, result.need.total, Kind.FLOW, system))
    if result.infiltration is not None:
        lines.append(limited_line("Air that leaks in", result.infiltration, Kind.FLOW, system))
    if result.need is not None:
        lines.append(line("Credited of that", result.need.credit, Kind.FLOW, system))
    if result.required is not None:
        lines.append(limited_line("Whole-house fans must give", result.required, Kind.FLOW, system))
    lines.append(limited_line("They give on average", result.provided, Kind.FLOW, system))
    if result.short_by is not None:
        lines.append(line("Short by", result.short_by, Kind.FLOW, system))
    if result.chance_enough is not None:
        lines.append(Line("Chance that it is enough", f"{100.0 * result.chance_enough:.0f} %"))
    if result.together is not None:
        flows = (
            result.together.quadrature, result.together.half_fan, result.together.sub_additive
        )  # fmt: skip
        lines.append(
            Line(
                "Fans and leaks together, three rules",
                show_range(min(flows), max(flows), Kind.FLOW, system),
            )
        )
    lines.append(limited_line("Blown out with every fan on", result.all_exhaust, Kind.FLOW, system))
    if result.code_flow is not None:
        lines.append(
            line("International Residential Code asks for", result.code_flow, Kind.FLOW, system)
        )
    return tuple(lines)


def _tables(result: VentilationResult, system: DisplaySystem) -> tuple[Table, ...]:
    tables = []
    if result.fans:
        tables.append(
            Table(
                "Each fan",
                ("Fan", "Flow", "Range", "Counts for the house", "Lacks for its room"),
                tuple(_fan(fan, system) for fan in result.fans),
            )
        )
    if result.editions:
        tables.append(
            Table(
                "By each edition of ASHRAE 62.2",
                ("Edition", "Whole rate", "Credited", "Fans must give", "Short by"),
                tuple(_edition(need, system) for need in result.editions),
            )
        )
    if result.settings:
        tables.append(
            Table(
                "One fan for the required flow",
                ("Runs", "Flow while it runs"),
                tuple(_setting(one, system) for one in result.settings),
            )
        )
    return tuple(tables)


def _fan(fan: FanFlow, system: DisplaySystem) -> tuple[str, ...]:
    flow = fan.exhaust or fan.supply
    counted = max(fan.mean_exhaust, fan.mean_supply)
    lacks = fan.deficit.missing if fan.deficit is not None else None
    return (
        fan.reading.name,
        show(flow.value, Kind.FLOW, system) if flow else "not counted",
        show_range(flow.low, flow.high, Kind.FLOW, system) if flow else "",
        show(counted, Kind.FLOW, system)
        if counted or fan.reading.running is not Running.ON_DEMAND
        else "no",
        "" if lacks is None else show(lacks, Kind.FLOW, system) if lacks else "nothing",
    )


def _edition(need: VentilationNeed, system: DisplaySystem) -> tuple[str, ...]:
    flows = (need.total, need.credit, need.fan, need.missing)
    return (need.edition, *(show(flow, Kind.FLOW, system) for flow in flows))


def _setting(one: FanSetting, system: DisplaySystem) -> tuple[str, str]:
    if one.run_share == 1.0:
        words = "all the time"
    else:
        hours = one.run_share * one.cycle
        words = f"{hours:g} h of every {one.cycle:g} h"
    flow = show(one.flow, Kind.FLOW, system) if math.isfinite(one.flow) else "no flow is enough"
    return words, flow


WORDS = TestWords(
    reading=VentilationTest,
    name="Fan flows and ventilation",
    method=_method,
    readings=_readings,
    results=_results,
    tables=_tables,
    cautions=(
        "More exhaust can pull flue gas out of a burner: carbon monoxide can kill. Test the "
        "burners with every fan on after any change; local codes decide."
    ),
)
"""How fan flows are told."""
