"""Air for burners in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, line
from rooftree.readings.combustion_air import CAUTIONS, CombustionAirTest, free_area
from rooftree.units import Kind, show

if TYPE_CHECKING:
    from rooftree.readings.combustion_air import CombustionAirResult, OpeningRule
    from rooftree.units import DisplaySystem


def _method(reading: CombustionAirTest, result: CombustionAirResult | None) -> str:
    by = "volume by the standard rule" if reading.air_changes is None else "known infiltration"
    edition = result.edition if result else reading.edition or "to be confirmed"
    return f"{by.capitalize()}, and openings: NFPA 54, 9.3 (UMC 701.4), edition: {edition}"


def _readings(reading: CombustionAirTest, system: DisplaySystem) -> tuple[Line, ...]:
    burners = (
        Line(
            one.appliance,
            f"{show(one.input_rate, Kind.POWER, system)}"
            f"{', fan assisted' if one.fan_assisted else ''}"
            f"{'' if one.takes_room_air else ', sealed'}",
        )
        for one in reading.burners
    )
    spaces = (
        Line(
            f"{one.name}, {one.joined}",
            f"{show(one.floor_area, Kind.AREA, system)} by {show(one.height, Kind.LENGTH, system)}",
        )
        for one in reading.spaces
    )
    openings = (
        Line(f"Opening {one.kind}, {one.place}", show(free_area(one), Kind.LEAKAGE_AREA, system))
        for one in reading.openings
    )
    return (*burners, *spaces, *openings)


def _results(result: CombustionAirResult, system: DisplaySystem) -> tuple[Line, ...]:
    if result.share is None:
        return ()
    share = result.share
    lines = [
        line("Volume that counts", result.volume, Kind.VOLUME, system),
        line("Volume that the burners ask for", result.needed, Kind.VOLUME, system),
        Line("One over the other", f"{share.value:.2f}", f"{share.low:.2f} to {share.high:.2f}"),
        line("Air that they draw while they run", result.burner_air, Kind.FLOW, system),
    ]
    if result.makeup is not None:
        words = "Makeup air by a rule of thumb (Minnesota)"
        lines.append(line(words, result.makeup, Kind.FLOW, system))
    return tuple(lines)


def _tables(result: CombustionAirResult, system: DisplaySystem) -> tuple[Table, ...]:
    if not result.rules:
        return ()
    rows = tuple(_rule(rule, system) for rule in result.rules)
    return (Table("Ways by openings", ("Way", "Asked", "Found", "Verdict"), rows),)


def _rule(rule: OpeningRule, system: DisplaySystem) -> tuple[str, ...]:
    known = " (recalled)" if rule.is_recalled else ""
    return (
        rule.way,
        show(rule.needed, Kind.LEAKAGE_AREA, system),
        show(rule.found, Kind.LEAKAGE_AREA, system),
        f"enough{known}" if rule.is_met else f"{rule.lacks}{known}",
    )


WORDS = TestWords(
    reading=CombustionAirTest,
    name="Combustion air",
    method=_method,
    readings=_readings,
    results=_results,
    tables=_tables,
    cautions=CAUTIONS,
)
