"""All pressures of a house together: which place, against what, in which state."""

from __future__ import annotations

from dataclasses import dataclass
from functools import singledispatch
from statistics import fmean
from typing import TYPE_CHECKING

from rooftree.readings.airtightness import FanTest
from rooftree.readings.combustion import CombustionTest
from rooftree.readings.room_pressures import PressureReading, RoomPressureTest
from rooftree.readings.worst_case import WorstCaseTest, ZoneState
from rooftree.readings.zone_pressures import ZonePressureTest

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

HOUSE, OUTDOORS = "house", "outdoors"

ALL_OFF = "everything off"
"""State in which baselines are read."""

_SWITCHES = {
    "dryer": "dryer",
    "range_hood": "range hood",
    "bath_fans": "bath fans",
    "other_exhaust": "other exhaust",
    "air_handler": "air handler",
}


@dataclass(frozen=True, slots=True)
class PlacePressure:
    """One pressure, as read.

    Attributes
    ----------
    place, against : str
        Names of the place and of its reference.
    state : str
        What ran and which doors were shut, in words.
    value : float
        Place with reference to `against` [Pa].
    """

    place: str
    against: str
    state: str
    value: float


@dataclass(frozen=True, slots=True)
class PressureMap:
    """Pressures of a house by state and place.

    Attributes
    ----------
    places : tuple of (str, str)
        Place and its reference, in the order in which they were read.
    states : tuple of str
        In the order in which they were read, everything off first.
    values : mapping from (str, (str, str)) to float
        Mean of what was read in a state at a place [Pa]; what was not read has no entry.
    """

    places: tuple[tuple[str, str], ...]
    states: tuple[str, ...]
    values: Mapping[tuple[str, tuple[str, str]], float]


def map_pressures(readings: Iterable[object], names: Mapping[str, str]) -> PressureMap:
    """Collect every pressure that was read in a house.

    Parameters
    ----------
    readings : iterable of object
        Raw readings of tests of any kind, of one state of the house.
    names : mapping from str to str
        Name of each space by its id.

    Returns
    -------
    PressureMap
        A pressure read several times in one state is the mean of them.
    """
    read: dict[tuple[str, tuple[str, str]], list[float]] = {}
    for reading in readings:
        for one in pressures_in(reading):
            place = names.get(one.place, one.place), names.get(one.against, one.against)
            read.setdefault((one.state, place), []).append(one.value)
    states = dict.fromkeys(state for state, _ in read)
    ordered = sorted(states, key=lambda state: state != ALL_OFF)
    places = tuple(dict.fromkeys(place for _, place in read))
    return PressureMap(places, tuple(ordered), {key: fmean(all_) for key, all_ in read.items()})


@singledispatch
def pressures_in(reading: object) -> Iterator[PlacePressure]:
    """Yield the pressures among the readings of one test; most kinds have none.

    Parameters
    ----------
    reading : object
        Raw readings of any kind.

    Yields
    ------
    PlacePressure
    """
    del reading
    yield from ()


@pressures_in.register(FanTest)
def _(reading: FanTest) -> Iterator[PlacePressure]:
    for one in (*reading.baseline_before, *reading.baseline_after):
        yield PlacePressure(HOUSE, OUTDOORS, ALL_OFF, one)


@pressures_in.register(ZonePressureTest)
def _(reading: ZonePressureTest) -> Iterator[PlacePressure]:
    state = f"test fan holds the house at {round(reading.house_pressure)} Pa".replace("-", "−")
    yield PlacePressure(HOUSE, OUTDOORS, state, reading.house_pressure)
    # Read as house against the zone; the zone's own pressure has the other sign.
    yield PlacePressure(reading.space, HOUSE, state, -reading.zone_pressure)


@pressures_in.register(CombustionTest)
def _(reading: CombustionTest) -> Iterator[PlacePressure]:
    place = f"room of the {reading.appliance}"
    yield PlacePressure(place, OUTDOORS, ALL_OFF, reading.baseline_pressure)
    yield PlacePressure(place, OUTDOORS, reading.worst_case or "worst case", reading.worst_pressure)


@pressures_in.register(RoomPressureTest)
def _(reading: RoomPressureTest) -> Iterator[PlacePressure]:
    for one in reading.pressures:
        against = OUTDOORS if one.is_against_outdoors else HOUSE
        yield PlacePressure(one.room or HOUSE, against, _room_state(one), one.pressure)


@pressures_in.register(WorstCaseTest)
def _(reading: WorstCaseTest) -> Iterator[PlacePressure]:
    for baseline in (*reading.baseline_before, *reading.baseline_after):
        yield PlacePressure(reading.zone, OUTDOORS, ALL_OFF, baseline)
    for one in reading.states:
        yield PlacePressure(reading.zone, OUTDOORS, _zone_state(one), one.pressure)


def _room_state(one: PressureReading) -> str:
    running = [*(["air handler"] if one.air_handler else []), *sorted(one.running)]
    doors = "doors shut" if one.doors_closed else "doors open"
    return f"{' and '.join(running)} on, {doors}" if running else f"{ALL_OFF}, {doors}"


def _zone_state(one: ZoneState) -> str:
    running = [words for name, words in _SWITCHES.items() if getattr(one, name)]
    shut = [
        words
        for name, words in (
            ("interior_doors_closed", "rooms shut"),
            ("zone_door_closed", "zone shut"),
        )
        if getattr(one, name)
    ]
    if not running and not shut:
        return ALL_OFF
    return ", ".join([f"{' and '.join(running) or 'nothing'} on", *shut])
