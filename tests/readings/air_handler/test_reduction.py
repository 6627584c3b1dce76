"""Check the whole reduction of an air handler: methods, laws, and every finding."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from covered.air_handler import (
    System,
    blank,
    draw_system,
    with_fan_curve,
    with_heat,
    with_registers,
    with_slot,
    with_statics,
    with_traverse,
)
from rooftree.physics.air import pressure_at_altitude
from rooftree.readings.air_handler import (
    AirHandlerTest,
    Component,
    ComponentDrop,
    DuctShape,
    FanCurvePoint,
    Operation,
    RegisterFlow,
    RegisterSide,
    TraversePoint,
    reduce_air_handler,
)
from rooftree.readings.air_handler.limits import CFM, TON, limit
from rooftree.units import Kind, parse

SURE = {
    "pressure_uncertainty": 1e-6,
    "probe_uncertainty": 1e-6,
    "mixing_uncertainty": 1e-6,
    "velocity_pressure_uncertainty": 1e-6,
    "temperature_uncertainty": 1e-6,
    "flow_uncertainty": 1e-6,
    "flow_repeatability": 1e-6,
    "fan_curve_uncertainty": 1e-6,
    "slot_uncertainty": 1e-6,
    "heat_input_uncertainty": 1e-6,
}


def codes(test: AirHandlerTest, **known: float) -> set[str]:
    """Return the codes of the findings, without the kind."""
    found = reduce_air_handler(test, **known).findings
    return {finding.code.removeprefix("air_handler/") for finding in found}


def exact(seed: int, operation: Operation = Operation.COOLING) -> tuple[System, AirHandlerTest]:
    """Return a system and its readings by all methods but the traverse, without error."""
    random = np.random.default_rng(seed)
    system = draw_system(random, operation)
    test = replace(blank(system, _Still(seed)), **SURE)
    steps = [with_statics, with_fan_curve, with_registers, with_slot]
    if operation is Operation.HEATING:
        steps.append(with_heat)
    for step in steps:
        test = step(test, system, _Still(seed))
    return system, test


class _Still:
    """A generator whose normal draws are all zero: instruments without error."""

    def __init__(self, seed: int) -> None:
        self._random = np.random.default_rng(seed)

    def normal(self, mean: object, _: float) -> object:
        return np.asarray(mean) + 0.0

    def standard_normal(self) -> float:
        return 0.0

    def __getattr__(self, name: str) -> object:
        return getattr(self._random, name)


@pytest.mark.parametrize("seed", range(5))
def test_exact_readings_give_back_the_flow_by_every_method(seed: int) -> None:
    """Readings of one known system, at altitude and while heating, give its flow four times."""
    system, test = exact(seed, Operation.HEATING)
    result = reduce_air_handler(
        test, supply_leakage=system.supply_leak, return_leakage=system.return_leak
    )
    assert len(result.flows) == 4
    for each in result.flows:
        assert each.flow.value == pytest.approx(system.flow, rel=0.004), each.method
    assert result.standard_flow is not None
    assert result.standard_flow.value == pytest.approx(
        system.flow * system.density(system.back) / 1.2041, rel=0.004
    )


def test_the_slot_is_taken_too() -> None:
    """A measuring plate in the filter's place gives back the flow with the filter."""
    system, test = exact(3)
    only = replace(test, fan_curve=(), registers=())
    result = reduce_air_handler(only)
    assert [flow.method for flow in result.flows] == ["measuring plate"]
    assert result.flow is not None
    assert result.flow.value == pytest.approx(system.flow, rel=1e-6)


def test_a_traverse_gives_the_flow_of_its_duct() -> None:
    """Speeds over a duct times its area are the flow, within what the rule's places leave."""
    random = np.random.default_rng(11)
    system = draw_system(random)
    test = with_traverse(blank(system, random), system, random)
    flow = reduce_air_handler(test).flow
    assert flow is not None
    assert flow.low < system.flow < flow.high


def test_uniform_air_needs_one_point() -> None:
    """The smallest traverse: one speed in a duct of known size; whole numbers are taken."""
    test = AirHandlerTest(
        traverse=(TraversePoint(speed=4),),
        traverse_side=RegisterSide.RETURN,
        duct_width=1,
        duct_height=1,
    )
    flow = reduce_air_handler(test).flow
    assert flow is not None
    assert flow.value == pytest.approx(4.0)


def test_total_static_is_the_difference_of_both_sides() -> None:
    """Leaving less entering static, with the doubt of two readings."""
    result = reduce_air_handler(AirHandlerTest(entering_static=-70.0, leaving_static=55.0))
    assert result.total_static is not None
    assert result.total_static.value == pytest.approx(125.0)
    assert result.total_static.standard == pytest.approx((0.5**2 + 2.5**2) ** 0.5 * 2.0**0.5)


@given(st.integers(0, 40), st.floats(0.3, 3.0))
def test_flow_scales_with_the_table(seed: int, factor: float) -> None:
    """A fan table in another unit scales the flow and nothing else."""
    _, test = exact(seed)
    only = replace(test, registers=(), slot_flow=None)
    other = replace(only, fan_curve=tuple(replace(p, flow=factor * p.flow) for p in only.fan_curve))
    one, two = reduce_air_handler(only).flow, reduce_air_handler(other).flow
    assert one is not None
    assert two is not None
    assert two.value == pytest.approx(factor * one.value)


def test_thin_air_is_accounted_for() -> None:
    """At altitude the same static pressure enters the table at more, and the mass is less."""
    table = tuple(FanCurvePoint(p, 0.8 - 0.002 * p) for p in (50.0, 100.0, 150.0, 200.0))
    low = AirHandlerTest(entering_static=-60.0, leaving_static=50.0, fan_curve=table)
    high = replace(low, barometric_pressure=pressure_at_altitude(1600.0))
    sea, hill = reduce_air_handler(low), reduce_air_handler(high)
    assert sea.flow is not None
    assert hill.flow is not None
    assert hill.standard_flow is not None
    thinner = hill.density / sea.density
    assert thinner == pytest.approx(0.825, abs=0.01)
    assert hill.flow.value == pytest.approx(0.8 - 0.002 * 110.0 * 1.2041 / hill.density, rel=1e-6)
    assert hill.standard_flow.value == pytest.approx(hill.flow.value * hill.density / 1.2041)


def test_what_was_not_read_stays_unknown() -> None:
    """An empty test has no result and says which readings would give one."""
    result = reduce_air_handler(AirHandlerTest())
    assert result.flow is None
    assert result.total_static is None
    assert result.sensible is None
    assert [finding.code for finding in result.findings] == ["air_handler/no-flow"]
    assert result.says == "Neither the flow nor the static pressure could be told."


@pytest.mark.published(
    source="California Energy Commission, 2008 Reference Residential Appendices",
    where="RA3, p. RA3-20, Table RA3.3-1",
    read="source",
)
def test_limits_of_flow_and_fan_power() -> None:
    """350 and 300 cfm a ton, 0.58 and 0.80 W a cfm, exactly."""
    assert limit("design flow").value == pytest.approx(350.0 * CFM / TON)
    assert limit("least flow for a charge test").value == pytest.approx(300.0 * CFM / TON)
    assert limit("good fan power").value * CFM == pytest.approx(0.58)
    assert limit("default fan power").value * CFM == pytest.approx(0.80)
    assert not limit("design flow").recalled


@pytest.mark.published(
    source="California procedure for HVAC design and installation",
    where="installation tolerances",
    read="source",
)
def test_limits_of_registers() -> None:
    """Registers within 15 % of design, return within 5 % of supply."""
    assert limit("register off design").value == 0.15
    assert limit("supply against return").value == 0.05


@pytest.mark.published(
    source="practice of the trade, air flow of a cooling coil",
    where="350 to 450 cfm a ton",
    read="common practice",
)
@pytest.mark.parametrize(
    ("per_ton", "wanted"), [(340.0, True), (351.0, False), (449.0, False), (470.0, True)]
)
def test_flow_outside_the_usual_range_is_told(per_ton: float, wanted: bool) -> None:
    """Less than 350 or more than 450 cfm a ton is a finding."""
    test = AirHandlerTest(
        slot_flow=3.0 * per_ton * CFM * (1.2041 / 1.1929) ** 0.5,
        rated_capacity=3.0 * TON,
    )
    assert ("flow-per-capacity" in codes(test)) is wanted


@pytest.mark.published(
    source="static pressure rating and filter share of house systems",
    where="0.5 and 0.1 in. w.c.",
    read="memory",
)
def test_recalled_limits_say_so() -> None:
    """Half an inch of static pressure and a tenth for the filter are marked as recalled."""
    for name, inches in (("usual rated static", 0.5), ("filter budget", 0.1)):
        assert limit(name).recalled
        assert limit(name).source.startswith("recalled: ")
        assert limit(name).value == pytest.approx(parse(f"{inches} in. w.c.", Kind.PRESSURE), 1e-5)


def drops(*values: float, coil: float | None = None) -> tuple[ComponentDrop, ...]:
    """Return drops of return duct, filter and supply duct, and of a coil inside."""
    parts = (Component.RETURN, Component.FILTER, Component.SUPPLY)
    rows = tuple(ComponentDrop(part, value) for part, value in zip(parts, values, strict=True))
    return rows if coil is None else (*rows, ComponentDrop(Component.COIL, coil, inside=True))


STATIC = AirHandlerTest(entering_static=-70.0, leaving_static=55.0, rated_static=150.0)


def says(test: AirHandlerTest, code: str) -> str:
    """Return the sentence of one finding."""
    found = {finding.code: finding.says for finding in reduce_air_handler(test).findings}
    return found[f"air_handler/{code}"]


def test_drops_that_add_up_are_left_alone() -> None:
    """Drops within their doubt of the total raise nothing."""
    assert "drops" not in codes(replace(STATIC, drops=drops(33.0, 40.0, 54.0)))


def test_the_missing_filter_is_named() -> None:
    """Where what is missing is what the filter takes, the probe stands on its wrong side."""
    wrong = replace(STATIC, entering_static=-30.0, drops=drops(30.0, 40.0, 55.0))
    assert "wrong side of the filter" in says(wrong, "drops")


def test_a_probe_beyond_the_coil_inside_is_named() -> None:
    """Where the total is too large by what the coil inside takes, the probe stands beyond it."""
    wrong = replace(STATIC, leaving_static=115.0, drops=drops(30.0, 40.0, 55.0, coil=60.0))
    assert "coil inside the cabinet" in says(wrong, "drops")


def test_a_list_with_gaps_may_add_up_to_less() -> None:
    """Two drops of many may be less than the total, but never more."""
    some = (ComponentDrop(Component.FILTER, 40.0),)
    assert "drops" not in codes(replace(STATIC, drops=some))
    assert "drops" in codes(replace(STATIC, drops=(ComponentDrop(Component.FILTER, 160.0),)))


def test_mixed_units_of_drops_are_named() -> None:
    """Drops in inches of water beside a total in pascals are named as such."""
    mixed = replace(STATIC, drops=drops(30.0 / 249.0, 40.0 / 249.0, 55.0 / 249.0))
    assert "inches of water and pascals are mixed" in says(mixed, "drops")


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"entering_static": 70.0, "leaving_static": -55.0}, "static-sign"),
        ({"entering_static": 20.0}, "static-sign"),
        ({"total_static": -100.0}, "static-sign"),
        ({"total_static": 160.0}, "static-taps"),
        ({"static_swing": 40.0}, "static-swing"),
        ({"rated_static": 100.0}, "static-high"),
        ({"rated_static": None, "leaving_static": 90.0}, "static-high"),
        ({"entering_static": -0.28, "leaving_static": 0.22}, "static-units"),
        ({"entering_static": -17000.0}, "static-units"),
        ({"drops": (ComponentDrop(Component.FILTER, -20.0),)}, "drop-sign"),
        ({"drops": (ComponentDrop(Component.FILTER, 60.0),)}, "filter-drop"),
        ({"return_temperature": 348.0}, "temperature-units"),
        ({"supply_temperature": 250.0}, "temperature-units"),
        ({"return_temperature": 297.0, "return_wet_bulb": 299.0}, "wet-bulb"),
        ({"return_temperature": 297.0, "return_humidity": 45.0}, "wet-bulb"),
        ({"return_temperature": 297.0, "supply_temperature": 303.0}, "split-sign"),
        ({"return_temperature": 297.0, "supply_temperature": 270.0}, "split-impossible"),
        ({"fan_curve": (FanCurvePoint(50.0, 0.5),)}, "fan-curve"),
        (
            {"fan_curve": (FanCurvePoint(50.0, 0.5), FanCurvePoint(150.0, 0.6))},
            "fan-curve",
        ),
        (
            {"fan_curve": (FanCurvePoint(150.0, 0.5), FanCurvePoint(200.0, 0.4))},
            "outside-fan-curve",
        ),
        ({"traverse": (TraversePoint(20.0),)}, "traverse-size"),
        (
            {"traverse": (TraversePoint(-20.0),), "duct_width": 0.4, "duct_height": 0.4},
            "traverse-backwards",
        ),
        (
            {"traverse": (TraversePoint(0.5),), "duct_width": 0.4, "duct_height": 0.4},
            "traverse-too-slow",
        ),
        (
            {"traverse": (TraversePoint(),), "duct_shape": DuctShape.ROUND, "duct_diameter": 0.4},
            "traverse-empty",
        ),
        ({"slot_flow": 0.5, "usual_static": 60.0}, "slot"),
        ({"slot_flow": 0.5, "usual_static": 60.0, "slot_static": -1.0}, "slot"),
        ({"registers": (RegisterFlow("bath", RegisterSide.SUPPLY, -0.05),)}, "register-sign"),
        (
            {"registers": (RegisterFlow("bath", RegisterSide.SUPPLY, 0.05, 0.08),)},
            "register-design",
        ),
        ({"registers": (RegisterFlow("bath", RegisterSide.SUPPLY, 0.05),) * 2}, "register-twice"),
        ({"slot_flow": 0.5, "blower_power": 900.0}, "fan-power"),
        ({"slot_flow": 0.5, "blower_power": 60.0}, "fan-efficiency"),
    ],
)
def test_each_mistake_has_its_finding(change: dict[str, object], code: str) -> None:
    """What is wrong with one reading is told by name, and nothing raises."""
    assert code in codes(replace(STATIC, **change))


def test_a_fan_table_without_static_is_told() -> None:
    """A table alone has nothing to enter it with."""
    table = (FanCurvePoint(50.0, 0.5), FanCurvePoint(150.0, 0.4))
    assert "fan-curve-without-static" in codes(AirHandlerTest(fan_curve=table))


HEATING = AirHandlerTest(
    operation=Operation.HEATING,
    return_temperature=293.0,
    supply_temperature=323.0,
    heat_input=20e3,
    heat_efficiency=0.8,
)


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"rated_rise_low": 35.0}, "rise"),
        ({"rated_rise_high": 25.0}, "rise"),
        ({"supply_temperature": 352.0}, "split-impossible"),
        ({"supply_temperature": None}, "rise-without-temperatures"),
        ({"heat_efficiency": 80.0}, "heat-input"),
        ({"heat_input": -20e3}, "heat-input"),
        ({"slot_flow": 1.2}, "methods-disagree"),
    ],
)
def test_each_mistake_while_heating_has_its_finding(change: dict[str, object], code: str) -> None:
    """What is wrong with a rise or an input is told by name."""
    assert code in codes(replace(HEATING, **change))


def test_a_sound_furnace_raises_nothing() -> None:
    """Rise, input and nameplate that fit leave no finding."""
    sound = replace(HEATING, rated_rise_low=20.0, rated_rise_high=40.0)
    assert codes(sound) == set()


COOLING = AirHandlerTest(
    return_temperature=297.0,
    return_wet_bulb=290.0,
    supply_temperature=286.5,
    slot_flow=0.57,
    rated_capacity=3.0 * TON,
    outdoor_temperature=305.0,
)


@pytest.mark.parametrize(
    ("change", "wanted"),
    [
        ({}, set()),
        ({"supply_temperature": 291.5}, {"split"}),
        ({"supply_temperature": 281.0}, {"split"}),
        ({"slot_flow": 0.27}, {"flow-units"}),
        ({"slot_flow": 1.60}, {"flow-units", "heat-balance"}),
        ({"supply_wet_bulb": 286.4, "supply_temperature": 286.5}, set()),
    ],
)
def test_cooling_is_held_against_what_the_air_allows(
    change: dict[str, object], wanted: set[str]
) -> None:
    """A split far from what a sound machine makes, and heat beyond its capacity, are told."""
    assert codes(replace(COOLING, **change)) == wanted


def test_a_coil_cannot_add_water() -> None:
    """Supply air damper than return air is told."""
    wrong = replace(COOLING, return_wet_bulb=None, return_humidity=0.3, supply_humidity=0.95)
    assert "supply-humidity" in codes(wrong)


def test_total_capacity_is_sensible_and_water() -> None:
    """With both bulbs of both sides the water taken out is counted too."""
    result = reduce_air_handler(replace(COOLING, supply_humidity=0.93))
    assert result.sensible is not None
    assert result.total is not None
    assert 1.05 < result.total.value / result.sensible.value < 1.6


def test_every_finding_says_what_to_do() -> None:
    """Each sentence ends, and is long enough to hold a remedy."""
    for test in (replace(STATIC, total_static=200.0), replace(HEATING, heat_input=60e3)):
        for finding in reduce_air_handler(test).findings:
            assert finding.says.endswith(".")
            assert len(finding.says) > 60
            assert finding.source


@given(st.data())
def test_no_reading_breaks_the_reduction(data: st.DataObject) -> None:
    """Whatever is typed, a result comes back in finite numbers, with findings in words."""
    number = st.sampled_from([-300.0, -1.0, 0.0, 1e-6, 0.5, 20.0, 295.0, 3e4, 1e6])
    test = AirHandlerTest(
        operation=data.draw(st.sampled_from(Operation)),
        entering_static=data.draw(st.none() | number),
        leaving_static=data.draw(st.none() | number),
        total_static=data.draw(st.none() | number),
        drops=tuple(
            ComponentDrop(part, data.draw(number))
            for part in data.draw(st.sets(st.sampled_from(Component), max_size=3))
        ),
        fan_curve=tuple(
            FanCurvePoint(data.draw(number), data.draw(number))
            for _ in range(data.draw(st.integers(0, 3)))
        ),
        traverse=tuple(
            TraversePoint(data.draw(st.none() | number), data.draw(st.none() | number))
            for _ in range(data.draw(st.integers(0, 2)))
        ),
        duct_width=data.draw(st.none() | number),
        duct_height=data.draw(st.none() | number),
        registers=tuple(
            RegisterFlow("hall", side, data.draw(number))
            for side in data.draw(st.lists(st.sampled_from(RegisterSide), max_size=2))
        ),
        slot_flow=data.draw(st.none() | number),
        return_temperature=data.draw(st.none() | number),
        supply_temperature=data.draw(st.none() | number),
        return_humidity=data.draw(st.none() | number),
        heat_input=data.draw(st.none() | number),
        blower_power=data.draw(st.none() | number),
        rated_capacity=data.draw(st.none() | number),
    )
    result = reduce_air_handler(test)
    for value in (result.flow, result.total_static, result.sensible, result.fan_efficiency):
        assert value is None or np.isfinite([value.value, value.standard]).all()
    assert all(finding.says.endswith(".") for finding in result.findings)
