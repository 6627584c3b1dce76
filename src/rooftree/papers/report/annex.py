"""The annex: every test with its method, edition, readings, results and doubts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.papers.report.words import capitalised, day_words
from rooftree.readings.airtightness import AirtightnessResult, FanTest, FanTestResult
from rooftree.readings.combustion import CombustionResult, CombustionTest
from rooftree.readings.duct_leakage import DuctLeakageResult, DuctLeakageTest
from rooftree.readings.zone_pressures import ZonePressureResult, ZonePressureTest
from rooftree.units import DisplaySystem, Kind, show, show_range

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rooftree.finding import Finding
    from rooftree.job import Job
    from rooftree.job.reduction import ReducedTest, Reductions
    from rooftree.physics.uncertainty import Estimate
    from rooftree.plan.model import Plan

Row = dict[str, str]

METHODS = {
    ZonePressureTest: "Two leaks in series: mass balance and power law, one pressure read",
    DuctLeakageTest: "Duct pressurization, flow brought to 25 Pa by the power law "
    "(ASTM E1554, recalled)",
    CombustionTest: "Worst-case pressure, spillage, draft and carbon monoxide, in the order of "
    "BPI, Combustion Safety Test Procedure for Vented Appliances",
}
"""Method of each kind of test besides the fan test, which names its standard itself."""

_OURSELVES = "the simulated year"
"""Begins the source of what rests on the simulation itself."""

_DIRECTION = {"depressurize": "air pulled out of the house", "pressurize": "air pushed into it"}
_INSTRUMENT_SHARE = 0.0005
"""Uncertainty that is not worth a word [0-1], relative."""


def test_pages(reductions: Reductions, system: DisplaySystem) -> list[dict[str, Any]]:
    """Return every test with method, readings, results and doubts.

    Parameters
    ----------
    reductions : Reductions
        Of one job.
    system : DisplaySystem
        Units to show.

    Returns
    -------
    list of dict
        With name, method, about, rows, stations and findings.
    """
    return pages_of(None, reductions, system)


def pages_of(
    job: Job | None, reductions: Reductions, system: DisplaySystem
) -> list[dict[str, Any]]:
    """Return every test, also with when, where and with what it was made.

    Parameters
    ----------
    job : Job or None
        The record: its visits, places and instruments have names.
    reductions : Reductions
        Of the same job.
    system : DisplaySystem
        Units to show.

    Returns
    -------
    list of dict
        With name, method, about, rows, stations and findings.
    """
    pages = [_page(job, reduced, system) for reduced in reductions.tests]
    mean = reductions.airtightness
    if mean is not None and len(mean.results) > 1:
        pages.append(
            {
                "name": "Fan tests of the house as found, mean of all",
                "method": "Flows averaged at each pressure, first within a direction, then over "
                "both; curve through 4 and 50 Pa",
                "about": "",
                "rows": airtightness_rows(mean, system),
                "stations": [],
                "findings": doubts(mean.findings),
            }
        )
    return pages


def _page(job: Job | None, reduced: ReducedTest, system: DisplaySystem) -> dict[str, Any]:
    return {
        "name": reduced.test.name,
        "method": _method(reduced),
        "about": _about(job, reduced) if job else "",
        "rows": _rows(reduced, system),
        "stations": _stations(reduced, system),
        "findings": doubts(reduced.findings),
    }


def doubts(findings: Iterable[Finding]) -> list[Row]:
    """Return findings as rows.

    Parameters
    ----------
    findings : iterable of Finding
        Of one test.

    Returns
    -------
    list of dict
        With severity, says and source.
    """
    return [
        {"severity": f.severity.value, "says": f.says, "source": capitalised(f.source)}
        for f in findings
    ]


def sources_of(reductions: Reductions, plan: Plan) -> list[str]:
    """Return every document that a finding or a check of this report rests on.

    Parameters
    ----------
    reductions : Reductions
        Of the job.
    plan : Plan
        Of the job.

    Returns
    -------
    list of str
        Each once, in order of the alphabet.
    """
    checks = [check for stage in plan.stages for check in stage.checks]
    standards = [
        reduced.test.reading.standard.value
        for reduced in reductions.tests
        if isinstance(reduced.test.reading, FanTest)
    ]
    sources = [f.source for f in (*reductions.findings, *plan.findings, *checks)]
    return sorted(
        {
            capitalised(source)
            for source in (*standards, *sources)
            if source and not source.startswith(_OURSELVES)
        }
    )


def _about(job: Job, reduced: ReducedTest) -> str:
    """Return when, where and with what a test was made."""
    test = reduced.test
    days = {visit.id: f"{day_words(visit.date)}, {visit.assessor}" for visit in job.visits}
    places = {place.id: place.name for place in job.places}
    instruments = {one.id: one.name for one in job.instruments}
    parts = (
        days.get(test.visit, ""),
        places.get(test.place, ""),
        instruments.get(test.instrument, ""),
        test.note,
    )
    return "; ".join(part for part in parts if part)


def _method(reduced: ReducedTest) -> str:
    reading = reduced.test.reading
    if not isinstance(reading, FanTest):
        return METHODS[type(reading)]
    method = f"{reading.standard.value}, {_DIRECTION[reading.direction.value]}"
    if isinstance(reduced.result, FanTestResult):
        method += f", {len(reading.stations)} stations, {reduced.result.fit.method.value} fit"
    return method


def _rows(reduced: ReducedTest, system: DisplaySystem) -> list[Row]:
    reading, result = reduced.test.reading, reduced.result
    if isinstance(reading, FanTest):
        rows = _fan_conditions(reading, system)
        if isinstance(result, FanTestResult):
            rows += [*_curve_rows(result), *airtightness_rows(result, system)]
        return rows
    if isinstance(reading, ZonePressureTest):
        return [*_zone_rows(reading, system), *_tells(result)]
    if isinstance(reading, DuctLeakageTest):
        return [*_duct_rows(reading, system), *_duct_results(result, system)]
    return [*_combustion_rows(reading, system), *_tells(result)]


def _tells(result: object) -> list[Row]:
    if isinstance(result, (ZonePressureResult, CombustionResult)):
        return [_row("It tells", result.says)]
    return []


def _zone_rows(reading: ZonePressureTest, system: DisplaySystem) -> list[Row]:
    return [
        _row("House against outdoors", show(reading.house_pressure, Kind.PRESSURE, system)),
        _row("House against the zone", show(reading.zone_pressure, Kind.PRESSURE, system)),
    ]


def _duct_rows(reading: DuctLeakageTest, system: DisplaySystem) -> list[Row]:
    return [
        _row("Leakage", "to outdoors" if reading.to_outdoors else "total"),
        _row("Pressure in the ducts", show(reading.duct_pressure, Kind.PRESSURE, system)),
        _row("Flow of the duct fan", show(reading.flow, Kind.FLOW, system)),
        _row("Flow of the air handler", show(reading.air_handler_flow, Kind.FLOW, system)),
    ]


def _duct_results(result: object, system: DisplaySystem) -> list[Row]:
    if not isinstance(result, DuctLeakageResult) or result.flow_25 is None:
        return []
    flow = result.flow_25
    rows = [
        _row(
            "Leakage at 25 Pa",
            f"{show(flow.value, Kind.FLOW, system)} "
            f"({show_range(flow.low, flow.high, Kind.FLOW, system)})",
        )
    ]
    if result.share is not None:
        share = result.share
        rows.append(
            _row(
                "Share of what the fan moves",
                f"{100 * share.value:.0f} % ({100 * share.low:.0f} to {100 * share.high:.0f} %)",
            )
        )
    return rows


def _combustion_rows(reading: CombustionTest, system: DisplaySystem) -> list[Row]:
    spillage = (
        "did not stop within the test"
        if reading.spillage_seconds is None
        else f"stopped after {reading.spillage_seconds:.0f} s"
    )
    rows = [
        _row("Burner", f"{reading.appliance}, {reading.draft}"),
        _row("Carbon monoxide in the room", f"{reading.ambient_co:.0f} ppm"),
        _row("Gas leak", "found" if reading.gas_leak else "none found"),
        _row("Pressure with all off", show(reading.baseline_pressure, Kind.PRESSURE, system)),
        _row("Pressure, worst case", show(reading.worst_pressure, Kind.PRESSURE, system)),
        _row("The worst case", reading.worst_case),
        _row("Spillage", spillage),
    ]
    if reading.flue_co is not None:
        rows.append(_row("Carbon monoxide in the flue", f"{reading.flue_co:.0f} ppm as read"))
    if reading.draft_pressure is not None:
        rows.append(_row("Draft of the flue", show(reading.draft_pressure, Kind.PRESSURE, system)))
    rows.append(
        _row("Outdoors", show(reading.outdoor_temperature, Kind.TEMPERATURE, system)),
    )
    return rows


def _fan_conditions(reading: FanTest, system: DisplaySystem) -> list[Row]:
    warmth = [
        show(value, Kind.TEMPERATURE, system)
        for value in (reading.indoor_temperature, reading.outdoor_temperature)
    ]
    wind = (
        "not read" if reading.wind_speed is None else show(reading.wind_speed, Kind.SPEED, system)
    )
    air = show(reading.barometric_pressure, Kind.PRESSURE, system)
    return [
        _row("Indoors, outdoors", f"{warmth[0]}, {warmth[1]}"),
        _row("Wind, barometer", f"{wind}, {air}"),
        _row("Baseline before", _listed(reading.baseline_before, system)),
        _row("Baseline after", _listed(reading.baseline_after, system)),
    ]


def _listed(pressures: tuple[float, ...], system: DisplaySystem) -> str:
    return ", ".join(show(one, Kind.PRESSURE, system) for one in pressures) or "not read"


def _curve_rows(result: FanTestResult) -> list[Row]:
    exponent = result.fit.exponent_limits
    terms = ", ".join(
        f"{term.name} {100.0 * term.standard:.1f} %"
        for term in result.uncertainties
        if term.standard > _INSTRUMENT_SHARE
    )
    return [
        _row("Exponent", f"{exponent.value:.2f} ({exponent.low:.2f} to {exponent.high:.2f})"),
        _row("Uncertain by", terms),
    ]


def airtightness_rows(
    result: FanTestResult | AirtightnessResult, system: DisplaySystem
) -> list[Row]:
    """Return the results of a fan test with their 95 % limits.

    Parameters
    ----------
    result : FanTestResult or AirtightnessResult
        One direction or the mean of both.
    system : DisplaySystem
        Units to show.

    Returns
    -------
    list of dict
        With name and value.
    """
    sizes = result.sizes
    return [
        _limits("Flow at 50 Pa", sizes.flow50, Kind.FLOW, system),
        _row(
            "Air changes at 50 Pa",
            f"{sizes.air_changes50.value:.1f} an hour "
            f"({sizes.air_changes50.low:.1f} to {sizes.air_changes50.high:.1f})",
        ),
        _limits("By envelope area", sizes.permeability50, Kind.PERMEABILITY, system),
        _limits(
            "Leakage area, 4 Pa (ELA)",
            sizes.effective_leakage_area,
            Kind.LEAKAGE_AREA,
            system,
        ),
        _limits(
            "Leakage area, 10 Pa (EqLA)",
            sizes.equivalent_leakage_area,
            Kind.LEAKAGE_AREA,
            system,
        ),
    ]


def _stations(reduced: ReducedTest, system: DisplaySystem) -> list[Row]:
    """Return the stations of a fan test, as read and reduced."""
    if not isinstance(reduced.result, FanTestResult):
        return []
    return [
        {
            "pressure": f"{station.pressure:.1f}".replace("-", "−"),
            "induced": f"{station.induced_pressure:.1f}",
            "flow": show(station.fan_flow, Kind.FLOW, system),
            "off": _off(station.residual) if station.is_used else station.left_out.value,
        }
        for station in reduced.result.stations
    ]


def _off(residual: float | None) -> str:
    return "" if residual is None else f"{100.0 * residual:+.1f} %".replace("-", "−")


def _limits(name: str, estimate: Estimate, kind: Kind, system: DisplaySystem) -> Row:
    value = show(estimate.value, kind, system)
    return _row(name, f"{value} ({show_range(estimate.low, estimate.high, kind, system)})")


def _row(name: str, value: str) -> Row:
    return {"name": name, "value": value}
