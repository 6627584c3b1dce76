"""Readings and results of each kind of test, as rows of name and value."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.readings.airtightness import AirtightnessResult, FanTest, FanTestResult
from rooftree.readings.combustion import CombustionResult, CombustionTest
from rooftree.readings.duct_leakage import DuctLeakageResult, DuctLeakageTest
from rooftree.readings.zone_pressures import ZonePressureResult, ZonePressureTest
from rooftree.units import DisplaySystem, Kind, show, show_range

if TYPE_CHECKING:
    from rooftree.job.reduction import ReducedTest
    from rooftree.physics.uncertainty import Estimate

Row = dict[str, str]

_WORTH_A_WORD = 0.0005
"""Uncertainty that is told [0-1], relative."""


def rows_of(reduced: ReducedTest, system: DisplaySystem) -> list[Row]:
    """Return readings and results of one test.

    Parameters
    ----------
    reduced : ReducedTest
        Of any kind.
    system : DisplaySystem
        Units to show.

    Returns
    -------
    list of dict
        With name and value; readings alone where there is no result.
    """
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
        if term.standard > _WORTH_A_WORD
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


def _limits(name: str, estimate: Estimate, kind: Kind, system: DisplaySystem) -> Row:
    value = show(estimate.value, kind, system)
    return _row(name, f"{value} ({show_range(estimate.low, estimate.high, kind, system)})")


def _row(name: str, value: str) -> Row:
    return {"name": name, "value": value}
