"""Reduce the readings of an air handler: static pressure, flow, split, heat."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.finding import Finding
from rooftree.physics.air import REFERENCE_DENSITY
from rooftree.physics.propagation import COVERAGE, Propagated, propagate, propagate_positive
from rooftree.readings.air_handler.air import plenum_air, plenum_humidity
from rooftree.readings.air_handler.combine import Combined, combine
from rooftree.readings.air_handler.flows import (
    flow_by_fan_curve,
    flow_by_rise,
    flow_by_slot,
    flow_by_traverse,
)
from rooftree.readings.air_handler.heat import enthalpy, sensible_heat
from rooftree.readings.air_handler.judge_flow import (
    judge_fan_power,
    judge_flow_per_capacity,
    judge_methods,
    judge_registers,
)
from rooftree.readings.air_handler.judge_heat import (
    judge_heat,
    judge_split,
    judge_temperatures,
)
from rooftree.readings.air_handler.judge_statics import judge_statics
from rooftree.readings.air_handler.limits import CFM, TON
from rooftree.readings.air_handler.note import static_of
from rooftree.readings.air_handler.readings import Operation, RegisterSide
from rooftree.readings.air_handler.registers import flow_by_registers, side_sum
from rooftree.readings.air_handler.results import AirHandlerResult, MethodFlow
from rooftree.readings.air_handler.split import (
    RATED_FLOW,
    SENSIBLE_SHARE,
    SENSIBLE_SHARE_UNCERTAINTY,
    expected_split,
)
from rooftree.readings.air_handler.statics import sum_of_drops, total_static
from rooftree.units import Kind, both, both_range, in_either

if TYPE_CHECKING:
    from rooftree.readings.air_handler.air import PlenumAir
    from rooftree.readings.air_handler.readings import AirHandlerTest

ASSUMED_FLOW_UNCERTAINTY = 0.07
"""Standard uncertainty of 400 cfm a ton where no flow was measured [0-1], relative: the usual
range of 350 to 450."""

ASSUMED_OUTDOORS, ASSUMED_OUTDOORS_UNCERTAINTY = 303.15, 3.0
"""Outdoor temperature where none was read, and its standard uncertainty [K]; ours."""

CAPACITY_UNCERTAINTY = 0.05
"""Standard uncertainty of a sound machine's capacity about its nominal value [0-1]; ours."""


def reduce_air_handler(
    test: AirHandlerTest,
    *,
    supply_leakage: float | None = None,
    return_leakage: float | None = None,
    rated_capacity: float | None = None,
) -> AirHandlerResult:
    """Reduce the readings of one air handler.

    Parameters
    ----------
    test : AirHandlerTest
        Readings; whatever was left out stays None in the result.
    supply_leakage, return_leakage : float or None
        Of the ducts in operation, by a duct test [m³/s].
    rated_capacity : float or None
        Nominal cooling capacity known otherwise, used where the readings have none [W].

    Returns
    -------
    AirHandlerResult

    Notes
    -----
    Each method's flow is brought to the density of the return air; the mean is weighted by
    the inverse of the variance and tested by chi-square.

    Examples
    --------
    >>> from rooftree.readings.air_handler.readings import AirHandlerTest
    >>> test = AirHandlerTest(entering_static=-70.0, leaving_static=55.0, rated_static=125.0)
    >>> round(reduce_air_handler(test).total_static.value)
    125
    """
    air = plenum_air(test)
    static, drops = total_static(test), sum_of_drops(test)
    found: list[Finding] = [*judge_statics(test, static, drops), *judge_temperatures(test)]
    flows: list[MethodFlow] = []
    for outcome in (
        flow_by_fan_curve(test, static, air),
        flow_by_traverse(test, air),
        flow_by_registers(test, air, supply_leakage, return_leakage),
        flow_by_slot(test, air),
        flow_by_rise(test, air),
    ):
        if isinstance(outcome, Finding):
            found.append(outcome)
        elif outcome is not None:
            flows.append(outcome)
    combined = combine([each.flow for each in flows]) if flows else None
    found += judge_methods(flows, combined)
    flow = combined.mean if combined else None
    standard = _times(flow, air.return_density / REFERENCE_DENSITY)
    capacity = test.rated_capacity or rated_capacity
    per_capacity = _times(standard, 1.0 / capacity) if capacity and capacity > 0.0 else None
    found += judge_flow_per_capacity(per_capacity)
    supply, back = side_sum(test, RegisterSide.SUPPLY), side_sum(test, RegisterSide.RETURN)
    found += judge_registers(test, _times(supply, air.supply_density / air.return_density), back)
    split = _split(test)
    expected = _expected_split(test, air, per_capacity)
    found += judge_split(test, split, expected)
    heat = _sensible(test, air, flow, split)
    total = _total(test, air, flow)
    found += judge_heat(test, heat, total)
    power = _over(test.blower_power, standard)
    efficiency = _fan_efficiency(test, flow, static)
    found += judge_fan_power(power, efficiency)
    return AirHandlerResult(
        total_static=static,
        drops=drops,
        density=air.return_density,
        flows=tuple(flows),
        flow=flow,
        standard_flow=standard,
        chance=combined.chance if combined else None,
        supply_registers=supply,
        return_registers=back,
        flow_per_capacity=per_capacity,
        split=split,
        expected_split=expected,
        sensible=heat,
        total=total,
        fan_power=power,
        fan_efficiency=efficiency,
        says=_in_words(static, flow, combined, per_capacity, heat),
        findings=tuple(found),
    )


def _times(value: Propagated | None, factor: float) -> Propagated | None:
    if value is None:
        return None
    return Propagated(
        value.value * factor,
        value.standard * factor,
        value.low * factor,
        value.high * factor,
        is_by_factor=value.is_by_factor,
    )


def _product(value: float, *factors: Propagated) -> Propagated | None:
    """Return a product or quotient of factors; None where its doubt is larger than itself.

    Their relative uncertainties add in quadrature.
    """
    relative = math.hypot(*(factor.standard / factor.value for factor in factors))
    if relative > 1.0:
        return None
    spread = math.exp(COVERAGE * relative)
    return Propagated(value, value * relative, value / spread, value * spread, is_by_factor=True)


def _over(power: float | None, flow: Propagated | None) -> Propagated | None:
    if flow is None or power is None or power <= 0.0:
        return None
    return _product(power / flow.value, flow)


def _fan_efficiency(
    test: AirHandlerTest, flow: Propagated | None, static: Propagated | None
) -> Propagated | None:
    power = test.blower_power
    if flow is None or static is None or power is None or power <= 0.0:
        return None
    return _product(flow.value * static.value / power, flow, static)


def _split(test: AirHandlerTest) -> Propagated | None:
    if test.return_temperature is None or test.supply_temperature is None:
        return None
    sign = -1.0 if test.operation is Operation.HEATING else 1.0
    return propagate(
        lambda back, out: sign * (back - out),
        [test.return_temperature, test.supply_temperature],
        [test.plenum_uncertainty] * 2,
    )


def _expected_split(
    test: AirHandlerTest, air: PlenumAir, per_capacity: Propagated | None
) -> Propagated | None:
    """Return the split of a sound machine; None unless it cools air of known humidity."""
    back = test.return_temperature
    if test.operation is not Operation.COOLING or back is None or not air.knows_humidity:
        return None
    usual = Propagated(RATED_FLOW, ASSUMED_FLOW_UNCERTAINTY * RATED_FLOW, 0.0, 0.0)
    moved = per_capacity or usual
    if not 0.5 <= moved.value / RATED_FLOW <= 1.6:
        return None
    outdoors = test.outdoor_temperature or ASSUMED_OUTDOORS
    warm = test.plenum_uncertainty if test.outdoor_temperature else ASSUMED_OUTDOORS_UNCERTAINTY
    wet = _humidity_uncertainty(test, air)

    def formula(*inputs: float) -> float:
        dry, humidity, ratio, outside, share, capacity = inputs
        return expected_split(
            dry,
            humidity,
            ratio,
            outdoors=outside,
            pressure=air.barometer,
            sensible_share=share,
            capacity=capacity,
        )

    try:
        return propagate_positive(
            formula,
            [back, air.humidity, moved.value, outdoors, SENSIBLE_SHARE, 1.0],
            [
                test.plenum_uncertainty,
                wet,
                moved.standard,
                warm,
                SENSIBLE_SHARE_UNCERTAINTY,
                CAPACITY_UNCERTAINTY,
            ],
        )
    except ValueError:
        return None


def _humidity_uncertainty(test: AirHandlerTest, air: PlenumAir) -> float:
    """Return the standard uncertainty of the return air's humidity ratio [kg/kg]."""
    if test.return_wet_bulb is not None:
        per_kelvin = 7.5e-4  # about W''(T) and the psychrometer's slope at room conditions
        return per_kelvin * test.plenum_uncertainty
    share = max(test.return_humidity or 0.5, 0.05)
    return air.humidity * test.humidity_uncertainty / share


def _sensible(
    test: AirHandlerTest,
    air: PlenumAir,
    flow: Propagated | None,
    split: Propagated | None,
) -> Propagated | None:
    if flow is None or split is None or split.value <= 0.0 or test.operation is Operation.FAN_ONLY:
        return None
    dry = air.return_density / (1.0 + air.humidity)
    heat = sensible_heat(flow.value, dry, split.value, air.humidity)
    return _product(heat, flow, split)


def _total(test: AirHandlerTest, air: PlenumAir, flow: Propagated | None) -> Propagated | None:
    back, out = test.return_temperature, test.supply_temperature
    before = plenum_humidity(test, RegisterSide.RETURN)
    after = plenum_humidity(test, RegisterSide.SUPPLY)
    if test.operation is not Operation.COOLING or flow is None or back is None or out is None:
        return None
    if before is None or after is None:
        return None
    dry = air.return_density / (1.0 + air.humidity)
    doubt = _humidity_uncertainty(test, air)
    return propagate(
        lambda moved, t1, t2, w1, w2: moved * dry * (enthalpy(t1, w1) - enthalpy(t2, w2)),
        [flow.value, back, out, before, after],
        [flow.standard, *[test.plenum_uncertainty] * 2, doubt, doubt],
    )


def _in_words(
    static: Propagated | None,
    flow: Propagated | None,
    combined: Combined | None,
    per_capacity: Propagated | None,
    heat: Propagated | None,
) -> str:
    parts = []
    if flow is not None:
        doubtful = ", though the methods disagree" if combined and not combined.agree else ""
        parts.append(
            f"The air handler moves {both_range(flow.low, flow.high, Kind.FLOW)}{doubtful}"
        )
        if per_capacity is not None:
            ratio = per_capacity.value
            parts[-1] += ", " + in_either(
                f"{ratio * TON / CFM:.0f} cfm for each ton", f"{1e6 * ratio:.0f} L/s for each kW"
            )
    if static is not None:
        against = f"against {static_of(static.value)}"
        parts = [f"{parts[0]}, {against}"] if parts else [f"The fan works {against}"]
    text = f"{parts[0]}." if parts else "Neither the flow nor the static pressure could be told."
    if heat is not None:
        text += f" By its temperature the air carries {both(heat.value, Kind.POWER)} away."
    return text
