"""Readings at an air handler in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.results.words import Line, Table, TestWords, limited_line, line, listed
from rooftree.readings.air_handler import AirHandlerTest, RegisterSide
from rooftree.units import DisplaySystem, Kind, show, show_range

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.air_handler import AirHandlerResult

TON, CFM = 3516.853, 4.719474e-4


def per_capacity(value: float, system: DisplaySystem) -> str:
    """Return a flow for each cooling capacity as people read it.

    Parameters
    ----------
    value : float
        [m³/(s·W)].
    system : DisplaySystem
        In which to show it.

    Returns
    -------
    str
    """
    if system is DisplaySystem.IP:
        return f"{value * TON / CFM:.0f} cfm/ton"
    return f"{value * 1e6:.0f} L/s for each kW"


def per_flow(value: float, system: DisplaySystem) -> str:
    """Return a fan's power for each flow as people read it.

    Parameters
    ----------
    value : float
        [W·s/m³].
    system : DisplaySystem
        In which to show it.

    Returns
    -------
    str
    """
    if system is DisplaySystem.IP:
        return f"{value * CFM:.2f} W/cfm"
    return f"{value / 1000.0:.2f} W for each L/s"


def _method(_: AirHandlerTest, result: AirHandlerResult | None) -> str:
    by = "; ".join(flow.method for flow in result.flows) if result else ""
    mean = ", mean weighted by the inverse variance (JCGM 100:2008)" if ";" in by else ""
    return f"Static pressures at the equipment; flow by {by}{mean}" if by else "Static pressures"


def _readings(reading: AirHandlerTest, system: DisplaySystem) -> tuple[Line, ...]:
    lines = [Line("Operation", reading.operation.value)]
    for words, value, kind in (
        ("Static before the equipment", reading.entering_static, Kind.STATIC_PRESSURE),
        ("Static after the equipment", reading.leaving_static, Kind.STATIC_PRESSURE),
        ("Total static, read at once", reading.total_static, Kind.STATIC_PRESSURE),
        ("Highest static on the nameplate", reading.rated_static, Kind.STATIC_PRESSURE),
        ("Return air", reading.return_temperature, Kind.TEMPERATURE),
        ("Return air, wet bulb", reading.return_wet_bulb, Kind.TEMPERATURE),
        ("Return air, relative humidity", reading.return_humidity, Kind.FRACTION),
        ("Supply air", reading.supply_temperature, Kind.TEMPERATURE),
        ("Supply air, wet bulb", reading.supply_wet_bulb, Kind.TEMPERATURE),
        ("Supply air, relative humidity", reading.supply_humidity, Kind.FRACTION),
        ("Outdoors", reading.outdoor_temperature, Kind.TEMPERATURE),
        ("Heat put in", reading.heat_input, Kind.POWER),
        ("Power of the fan", reading.blower_power, Kind.ELECTRIC_POWER),
        ("Nominal cooling capacity", reading.rated_capacity, Kind.COOLING_CAPACITY),
        ("Flow of the plate in the filter's place", reading.slot_flow, Kind.FLOW),
    ):
        if value is not None:
            lines.append(line(words, value, kind, system))
    for side in RegisterSide:
        flows = [row.flow for row in reading.registers if row.side is side]
        if flows:
            words = "Supply registers" if side is RegisterSide.SUPPLY else "Return grilles"
            lines.append(Line(words, listed(flows, Kind.FLOW, system)))
    if reading.traverse:
        lines.append(Line("Traverse", f"{len(reading.traverse)} points"))
    return tuple(lines)


def _results(result: AirHandlerResult, system: DisplaySystem) -> tuple[Line, ...]:
    values = (
        ("Total external static pressure", result.total_static, Kind.STATIC_PRESSURE),
        ("Drops outside the cabinet, sum", result.drops, Kind.STATIC_PRESSURE),
        ("Air flow", result.flow, Kind.FLOW),
        ("The same in standard air", result.standard_flow, Kind.FLOW),
        ("Supply registers, sum", result.supply_registers, Kind.FLOW),
        ("Return grilles, sum", result.return_registers, Kind.FLOW),
        ("Temperature split", result.split, Kind.TEMPERATURE_DIFFERENCE),
        (
            "Split of a sound machine in this air",
            result.expected_split,
            Kind.TEMPERATURE_DIFFERENCE,
        ),
        ("Sensible capacity delivered", result.sensible, Kind.POWER),
        ("Total capacity delivered", result.total, Kind.POWER),
        ("Fan efficiency outside the cabinet", result.fan_efficiency, Kind.FRACTION),
    )
    lines = [limited_line(words, of, kind, system) for words, of, kind in values if of]
    if result.flow_per_capacity:
        lines.append(_ranged("Flow for each ton", result.flow_per_capacity, system))
    if result.fan_power:
        power = result.fan_power
        limits = _between(per_flow(power.low, system), per_flow(power.high, system))
        lines.append(Line("Fan power", per_flow(power.value, system), limits))
    return tuple(lines)


def _ranged(words: str, of: Propagated, system: DisplaySystem) -> Line:
    limits = _between(per_capacity(of.low, system), per_capacity(of.high, system))
    named = words if system is DisplaySystem.IP else "Flow for each capacity"
    return Line(named, per_capacity(of.value, system), limits)


def _between(low: str, high: str) -> str:
    """Return a range in which the unit stands once."""
    return f"{low.partition(' ')[0]} to {high}"


def _tables(result: AirHandlerResult, system: DisplaySystem) -> tuple[Table, ...]:
    if len(result.flows) < 2:
        return ()
    rows = tuple(
        (
            each.method[0].upper() + each.method[1:],
            show(each.flow.value, Kind.FLOW, system),
            show_range(each.flow.low, each.flow.high, Kind.FLOW, system),
        )
        for each in result.flows
    )
    return (Table("Flow by each method", ("Method", "Flow", "95 % range"), rows),)


WORDS = TestWords(
    reading=AirHandlerTest,
    name="Air handler",
    method=_method,
    readings=_readings,
    results=_results,
    tables=_tables,
    cautions=(
        "Live electrical parts, moving fans and hot surfaces are behind these panels. Switch off "
        "before you open one; refrigerant and burner are for licensed technicians."
    ),
)
