"""From the readings of tests to the numbers that the simulated network has to give back.

Every number has its standard uncertainty. What several numbers share, such as the
calibration of a fan or the baseline of a gauge, is an unknown of the test rather than a
part of each uncertainty: the difference of two flows of one fan does not carry it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rooftree.engine.duct_paths import DUCTS, Ducts
from rooftree.engine.field_tests import hole_into
from rooftree.engine.gauges import ROOM, Setting, inside_doors
from rooftree.engine.pressure_tests import SWITCHES
from rooftree.errors import OutOfRangeError
from rooftree.fit.observations import (
    GAUGE,
    NotUsed,
    Observation,
    Observed,
    Quantity,
    State,
    Term,
)
from rooftree.fit.unknowns import Role, Unknown, has_ducts
from rooftree.readings.airtightness.results import FanTestResult
from rooftree.readings.duct_leakage import DuctLeakageTest, reduce_duct_leakage
from rooftree.readings.duct_leakage_from_house import (
    DeltaQTest,
    DuctSubtractionTest,
    reduce_delta_q,
)
from rooftree.readings.room_pressures.readings import RoomPressureTest
from rooftree.readings.worst_case.readings import WorstCaseTest
from rooftree.readings.worst_case.switches import EXHAUSTS
from rooftree.readings.zone_pressures.readings import (
    AddedHoleTest,
    OpenedHatchTest,
    ZonePressureTest,
)
from rooftree.readings.zone_pressures.reduction import settled_pressures

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from rooftree.house import House
    from rooftree.physics.uncertainty import Estimate
    from rooftree.readings.airtightness.readings import Direction
    from rooftree.readings.worst_case.readings import ZoneState

REFERENCE_PRESSURE, LOW_PRESSURE = 50.0, 10.0
"""Between which the exponent of a fan test is held against the simulated one [Pa]."""

CALIBRATION = 0.025
"""Usual standard uncertainty of the calibration of a house fan [0-1], relative."""

HOUSE_FAN, DUCT_FAN = "(house fan)", "(duct fan)"
"""Keys of the calibrations."""

LEAST_FLOW, LEAST_EXPONENT = 0.01, 0.01
"""How well a flow and an exponent are known at best, calibration aside: the repeatability of a
fan on one day [0-1] [-]; ours."""

BOTH_WAYS = 0.03
"""How far the leakage of a house differs by direction, since leaks open and close [0-1];
ours: the network leaks alike both ways."""

DIRECT_EXPONENT = 0.65
"""By which the doubt of a pressure becomes one of the flow at it [-]."""

UNKNOWN_HATCH, HATCH = 1.5, 0.1
"""Spread of the logarithm of a hatch that nobody measured [-], and its guess [m²]."""

UNCORRECTED = 0.05
"""How far a flow as the gauge shows it is off that at reference conditions [0-1]: temperatures
and altitude, which only a fan test is corrected for; ours."""

SURELY = 3.0
"""Standard uncertainties beyond which a zone pressure is impossible rather than unsure [-]."""

BASELINE = 5.0
"""How far the baseline of a gauge may lie off the simulated one [Pa]: wind and stack are not
those of the model."""


@dataclass(frozen=True, slots=True)
class MeasuredCurve:
    """A leakage curve of the whole house at reference conditions.

    Attributes
    ----------
    flow_50 : float
        At 50 Pa [m³/s], > 0.
    exponent : float or None
        [-]; None where only one pressure was held.
    flow_uncertainty : float
        Standard uncertainty of the flow, calibration of the fan aside [0-1], relative.
    exponent_uncertainty : float
        Standard uncertainty of the exponent [-].
    calibration : float
        Standard uncertainty of the fan's calibration [0-1], relative.
    direction : Direction or None
        Which way the fan blew; None for the mean of both.
    """

    flow_50: float
    exponent: float | None = None
    flow_uncertainty: float = LEAST_FLOW
    exponent_uncertainty: float = LEAST_EXPONENT
    calibration: float = CALIBRATION
    direction: Direction | None = None


@dataclass(frozen=True, slots=True)
class Read:
    """One test as it goes into a fit.

    Attributes
    ----------
    name : str
        By which findings name it.
    reading : object
        Reduced fan test, curve, or the readings of any other test.
    """

    name: str
    reading: object


@dataclass(frozen=True, slots=True)
class _Around:
    """What every test needs to know beside its own readings."""

    house: House
    at_rest: Ducts
    fan_space: str | None
    both_ways: bool

    def setting(self) -> Setting:
        """Return the house set up for the fan in the door."""
        return Setting(inside_doors(self.house), ducts=self.at_rest, gauge=self.fan_space)

    def names(self, space: str) -> bool:
        """Return whether the house has a space of this id."""
        return any(one.id == space for one in self.house.spaces)


class _Useless(Exception):  # noqa: N818
    """A test that tells nothing of this house's network, with the reason."""

    def __init__(self, why: str, *, is_told: bool = True) -> None:
        super().__init__(why)
        self.why, self.is_told = why, is_told


def observe(
    house: House, tests: Sequence[Read], *, at_rest: Ducts, fan_space: str | None = None
) -> Observed:
    """Return the numbers of some tests, ready to be simulated.

    Parameters
    ----------
    house : House
        As described.
    tests : sequence of Read
        In any order.
    at_rest : Ducts
        How the ducts take part in tests of the whole house while the air handler stands
        still.
    fan_space : str or None
        Id of the living space with the fan; None for the largest.

    Returns
    -------
    Observed

    Raises
    ------
    OutOfRangeError
        If a measured flow is not above zero.
    """
    directions = {_direction(test.reading) for test in tests} - {None}
    around = _Around(house, at_rest, fan_space, len(directions) > 1)
    observations: list[Observation] = []
    unknowns: dict[str, Unknown] = {}
    not_used: list[NotUsed] = []
    for test in tests:
        observe_one = OBSERVERS.get(type(test.reading))
        if observe_one is None:
            why = "it measures nothing of the air network"
            not_used.append(NotUsed(test.name, why, is_told=False))
            continue
        try:
            made = list(observe_one(test.name, test.reading, around))
        except _Useless as reason:
            not_used.append(NotUsed(test.name, reason.why, reason.is_told))
            continue
        for each in made:
            if isinstance(each, Unknown):
                unknowns.setdefault(each.key, each)
            else:
                observations.append(each)
    return Observed(tuple(observations), tuple(unknowns.values()), tuple(not_used))


def _direction(reading: object) -> Direction | None:
    if isinstance(reading, FanTestResult):
        return reading.test.direction
    return reading.direction if isinstance(reading, MeasuredCurve) else None


_Made = Observation | Unknown


def _fan_test(name: str, result: FanTestResult, around: _Around) -> Iterator[_Made]:
    calibration = max((fan.flow_uncertainty for fan in result.test.fans), default=CALIBRATION)
    flow = result.sizes.flow50
    whole = _relative(flow)
    exponent = result.exponent
    curve = MeasuredCurve(
        flow.value,
        exponent.value if exponent else None,
        math.sqrt(max(whole**2 - calibration**2, 0.0)),
        (exponent.high - exponent.low) / 4.0 if exponent else LEAST_EXPONENT,
        calibration,
        result.test.direction,
    )
    return _curve(name, curve, around)


def _relative(estimate: Estimate) -> float:
    """Return the relative standard uncertainty behind 95 % limits."""
    return math.log(estimate.high / estimate.low) / 4.0 if estimate.low > 0.0 else 1.0


def _curve(name: str, curve: MeasuredCurve, around: _Around) -> Iterator[_Made]:
    if not 0.0 < curve.flow_50 < math.inf:
        raise OutOfRangeError("measured flow at 50 Pa", curve.flow_50, 0.0, math.inf, "m³/s")
    setting = around.setting()
    high, low = (
        State(setting, ((GAUGE, -pressure),)) for pressure in (REFERENCE_PRESSURE, LOW_PRESSURE)
    )
    yield Unknown(
        HOUSE_FAN, "calibration of the house fan", Role.TEST, frozenset(), curve.calibration
    )
    by_way = BOTH_WAYS if around.both_ways else 0.0
    yield Observation(
        name,
        "flow at 50 Pa",
        (Term(1.0, high, Quantity.LOG_FLOW),),
        math.log(curve.flow_50),
        math.hypot(max(curve.flow_uncertainty, LEAST_FLOW), by_way),
        "-",
        ((HOUSE_FAN, 1.0),),
    )
    if curve.exponent is None:
        return
    span = math.log(REFERENCE_PRESSURE / LOW_PRESSURE)
    yield Observation(
        name,
        "exponent of the curve",
        (
            Term(1.0 / span, high, Quantity.LOG_FLOW),
            Term(-1.0 / span, low, Quantity.LOG_FLOW),
        ),
        curve.exponent,
        max(curve.exponent_uncertainty, LEAST_EXPONENT),
        "-",
    )


def _zone(name: str, test: ZonePressureTest, around: _Around) -> Iterator[_Made]:
    _require_zone(test.space, around)
    between, whole = settled_pressures(test)
    state = State(around.setting(), ((GAUGE, math.copysign(whole, test.house_pressure)),))
    _require_within(test, between, whole)
    yield _between(name, test.space, state, between, test.zone_pressure, _zone_doubt(test))


def _zone_doubt(test: ZonePressureTest) -> float:
    """Return the uncertainty of a zone pressure: its own, and that of the house as its share."""
    share = abs(test.zone_pressure / test.house_pressure)
    return test.pressure_uncertainty * math.hypot(1.0, share)


def _between(
    name: str, space: str, state: State, value: float, signed_like: float, doubt: float
) -> Observation:
    return Observation(
        name,
        f"pressure between house and {space}",
        (Term(1.0, state, Quantity.PRESSURE, GAUGE, space),),
        math.copysign(value, signed_like),
        doubt,
        "Pa",
    )


def _require_zone(space: str, around: _Around) -> None:
    if not around.names(space):
        message = f"it is of {space}, which is not a space of the house; use the id of one"
        raise _Useless(message)


def _require_within(test: ZonePressureTest, between: float, whole: float) -> None:
    margin = SURELY * _zone_doubt(test)
    turned = math.copysign(between, test.zone_pressure * test.house_pressure)
    if not -margin < turned < whole + margin:
        raise _Useless(IMPOSSIBLE)


IMPOSSIBLE = (
    "the pressure between house and zone is not between zero and the pressure of the house, "
    "which no sizes of leaks can make; check the hoses and the signs"
)


def _added_hole(name: str, test: AddedHoleTest, around: _Around) -> Iterator[_Made]:
    yield from _zone(name, test.before, around) if not test.area_before else ()
    _require_zone(test.space, around)
    key = f"(hole of {name})"
    yield Unknown(
        key, f"size of the hole of {name}", Role.TEST, frozenset({key}), test.area_uncertainty
    )
    doubt = _zone_doubt(test.before)
    if test.area_before:
        state = _with_hole(around, test, key, test.area_before, test.house_pressure)
        value = abs(test.zone_pressure)
        yield _between(name, test.space, state, value, test.house_pressure, doubt)
    after = test.house_pressure_after or test.house_pressure
    state = _with_hole(around, test, key, test.area, after)
    yield _between(name, test.space, state, abs(test.pressure_after), after, doubt)


def _with_hole(
    around: _Around,
    test: AddedHoleTest | OpenedHatchTest,
    key: str,
    area: float,
    house_pressure: float,
) -> State:
    setting = around.setting()
    hole = hole_into(around.house, test.space, test.boundary, area, test.discharge)
    opened = (*setting.opened, replace(hole, name=key))
    return State(replace(setting, opened=opened), ((GAUGE, house_pressure),))


def _hatch(name: str, test: OpenedHatchTest, around: _Around) -> Iterator[_Made]:
    yield from _zone(name, test.before, around)
    key = f"(hatch of {name})"
    spread = test.area_uncertainty if test.area else UNKNOWN_HATCH
    yield Unknown(key, f"size of the hatch of {name}", Role.TEST, frozenset({key}), spread)
    after = test.house_pressure_after or test.house_pressure
    opened = _with_hole(around, test, key, test.area or HATCH, after)
    shut = State(around.setting(), ((GAUGE, test.house_pressure),))
    doubt = _zone_doubt(test.before)
    yield _between(name, test.space, opened, abs(test.pressure_after), after, doubt)
    if test.flow_before > 0.0 and test.flow_after > 0.0:
        yield from _whole(name, test.flow_before, test.house_pressure, around)
        yield _ratio(name, "gain of the fan's flow", opened, shut,
                     test.flow_after / test.flow_before, test.repeatability)  # fmt: skip


def _ratio(
    name: str, what: str, over: State, under: State, value: float, repeatability: float
) -> Observation:
    """Return the ratio of two flows of one fan, in which its calibration cancels."""
    terms = (Term(1.0, over, Quantity.LOG_FLOW), Term(-1.0, under, Quantity.LOG_FLOW))
    doubt = math.sqrt(2.0) * max(repeatability, 1e-3)
    return Observation(name, what, terms, math.log(value), doubt, "-")


def _whole(name: str, flow: float, pressure: float, around: _Around) -> Iterator[_Made]:
    """Yield the flow of the fan in a test that was made for something else."""
    yield Unknown(HOUSE_FAN, "calibration of the house fan", Role.TEST, frozenset(), CALIBRATION)
    state = State(around.setting(), ((GAUGE, pressure),))
    yield Observation(
        name,
        f"flow of the fan at {abs(pressure):.0f} Pa",
        (Term(1.0, state, Quantity.LOG_FLOW),),
        math.log(flow),
        UNCORRECTED,
        "-",
        ((HOUSE_FAN, 1.0),),
    )


def _require_ducts(around: _Around) -> None:
    if not has_ducts(around.house):
        message = (
            "the house has no air handler with duct runs, so that there is nowhere to put it; "
            "enter the air handler and the duct runs"
        )
        raise _Useless(message)


def _duct_leakage(name: str, test: DuctLeakageTest, around: _Around) -> Iterator[_Made]:
    _require_ducts(around)
    result = reduce_duct_leakage(test)
    if result.flow_25 is None or not result.flow_25.value > 0.0:
        message = "its readings do not give a flow at 25 Pa"
        raise _Useless(message)
    pressure = REFERENCE_DUCT_PRESSURE
    apart = (test.duct_house_pressure or 0.0) * pressure / abs(test.readings[0].duct_pressure)
    held: tuple[tuple[str, float], ...] = ((DUCTS, pressure),)
    opened = inside_doors(around.house)
    held = (*held, (GAUGE, pressure - abs(apart) if test.to_outdoors else 0.0))
    state = State(Setting(opened, ducts=Ducts.SEALED, gauge=around.fan_space), held)
    yield Unknown(
        DUCT_FAN, "calibration of the duct fan", Role.TEST, frozenset(), test.flow_uncertainty
    )
    relative = result.flow_25.standard / result.flow_25.value
    own = math.sqrt(max(relative**2 - test.flow_uncertainty**2, 0.0))
    yield Observation(
        name,
        "flow to outdoors at 25 Pa" if test.to_outdoors else "flow at 25 Pa",
        (Term(1.0, state, Quantity.LOG_FLOW, DUCTS),),
        math.log(result.flow_25.value / result.correction),
        max(own, LEAST_FLOW),
        "-",
        ((DUCT_FAN, 1.0),),
    )


REFERENCE_DUCT_PRESSURE = 25.0


def _subtraction(name: str, test: DuctSubtractionTest, around: _Around) -> Iterator[_Made]:
    _require_ducts(around)
    if not (test.flow_open > 0.0 and test.flow_sealed > 0.0 and test.house_pressure):
        message = "one of its two flows is missing"
        raise _Useless(message)
    opened, sealed = (
        State(replace(around.setting(), ducts=ducts), ((GAUGE, test.house_pressure),))
        for ducts in (Ducts.OPEN, Ducts.SEALED)
    )
    yield from _whole(name, test.flow_open, test.house_pressure, around)
    value = test.flow_open / test.flow_sealed
    yield _ratio(name, "flow with registers open over sealed", opened, sealed, value,
                 test.repeatability)  # fmt: skip
    if test.duct_pressure is not None:
        yield Observation(
            name,
            "pressure between house and sealed ducts",
            (Term(1.0, sealed, Quantity.PRESSURE, GAUGE, DUCTS),),
            math.copysign(test.duct_pressure, test.house_pressure),
            test.pressure_uncertainty,
            "Pa",
        )


def _delta_q(name: str, test: DeltaQTest, around: _Around) -> Iterator[_Made]:
    _require_ducts(around)
    result = reduce_delta_q(test)
    if not result.points:
        message = "its readings give no difference between the air handler off and on"
        raise _Useless(message)
    for point in result.points:
        held = ((GAUGE, point.pressure),)
        on, off = (
            State(replace(around.setting(), ducts=Ducts.OPEN, air_handler=runs), held)
            for runs in (True, False)
        )
        enclosure = next(
            abs(one.flow) for one in test.flows if one.air_handler
            and math.isclose(one.house_pressure - test.baseline, point.pressure, abs_tol=1e-6)
        )  # fmt: skip
        slope = enclosure * DIRECT_EXPONENT / max(abs(point.pressure), 1.0)
        doubt = math.hypot(test.repeatability * enclosure, test.pressure_uncertainty * slope)
        yield Observation(
            name,
            f"change of the fan's flow at {point.pressure:.0f} Pa",
            (Term(1.0, on, Quantity.FLOW), Term(-1.0, off, Quantity.FLOW)),
            point.change,
            math.sqrt(2.0) * doubt,
            "m³/s",
        )


def _rooms(name: str, test: RoomPressureTest, around: _Around) -> Iterator[_Made]:
    """Yield the pressures of the main space.

    Those with doors closed only where all rooms are spaces of the house: what a closed
    bedroom keeps is missing in the main space.
    """
    house = around.house
    doors = inside_doors(house)
    rows = [row for row in test.pressures if not row.room]
    fans = {
        key.casefold(): fan.id
        for fan in house.fans
        if fan.kind == "exhaust"
        for key in (fan.id, fan.name)
    }
    spaces = {key.casefold() for one in house.spaces for key in (one.id, one.name)}
    rooms = {row.room for row in test.pressures if row.room} | {room.name for room in test.rooms}
    has_doors = bool(doors) and all(room.casefold() in spaces for room in rooms)
    usable = [
        row
        for row in rows
        if all(one.casefold() in fans for one in row.running)
        and (has_doors or not row.doors_closed)
        and (has_ducts(house) or not row.air_handler)
    ]
    states = [
        (
            row.pressure,
            replace(
                around.setting(),
                opened=() if row.doors_closed else doors,
                running=tuple(sorted(fans[one.casefold()] for one in row.running)),
                air_handler=row.air_handler,
                indoor_temperature=test.indoor_temperature or ROOM,
                outdoor_temperature=test.outdoor_temperature or ROOM,
            ),
        )
        for row in usable
    ]
    yield from _free(name, "pressure of the house", states, test.reading_uncertainty)


def _worst_case(name: str, test: WorstCaseTest, around: _Around) -> Iterator[_Made]:
    house = around.house
    zone = next((one for one in house.spaces if test.zone in (one.id, one.name)), None)
    if zone is None:
        message = f"{test.zone} is not a space of the house"
        raise _Useless(message, is_told=False)
    fans = {
        switch: tuple(
            fan.id
            for fan in house.fans
            if fan.kind == "exhaust" and SWITCHES.get(fan.purpose, "other_exhaust") == switch
        )
        for switch in EXHAUSTS
    }
    still = replace(
        around.setting(),
        gauge=zone.id,
        indoor_temperature=test.indoor_temperature or ROOM,
        outdoor_temperature=test.outdoor_temperature or ROOM,
    )

    def setting(state: ZoneState) -> Setting | None:
        on = [switch for switch in EXHAUSTS if getattr(state, switch)]
        if not all(fans[switch] for switch in on) or (state.air_handler and not has_ducts(house)):
            return None
        opened = () if state.interior_doors_closed or state.zone_door_closed else still.opened
        running = tuple(fan for switch in on for fan in fans[switch])
        return replace(still, opened=opened, running=running, air_handler=state.air_handler)

    states = [(value, still) for value in (*test.baseline_before, *test.baseline_after)]
    states += [(one.pressure, made) for one in test.states if (made := setting(one)) is not None]
    yield from _free(name, f"pressure of {zone.name}", states, test.pressure_uncertainty)


def _free(
    name: str, what: str, states: Sequence[tuple[float, Setting]], doubt: float
) -> Iterator[_Made]:
    """Yield pressures that nothing holds, against a baseline that is not known."""
    if len({setting for _, setting in states}) < 2:
        message = "it was not read in two states that the house can be put into"
        raise _Useless(message, is_told=False)
    key = f"(baseline of {name})"
    yield Unknown(key, f"baseline of {name}", Role.TEST, frozenset(), BASELINE)
    for value, setting in states:
        yield Observation(
            name,
            what,
            (Term(1.0, State(setting), Quantity.PRESSURE),),
            value,
            doubt,
            "Pa",
            ((key, 1.0),),
        )


OBSERVERS: Mapping[type, Callable[..., Iterator[_Made]]] = {
    FanTestResult: _fan_test,
    MeasuredCurve: _curve,
    ZonePressureTest: _zone,
    AddedHoleTest: _added_hole,
    OpenedHatchTest: _hatch,
    DuctLeakageTest: _duct_leakage,
    DuctSubtractionTest: _subtraction,
    DeltaQTest: _delta_q,
    RoomPressureTest: _rooms,
    WorstCaseTest: _worst_case,
}
"""What turns each kind of test into numbers to meet."""
