"""The cold room and the hot room: which they are, and why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.diagnosis.heat import Cause
from rooftree.diagnosis.words import capitalized, the
from rooftree.finding import Finding, Severity
from rooftree.house import GROUND, OUTDOORS
from rooftree.units import Kind, both, in_either

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np
    from numpy.typing import NDArray

    from rooftree.diagnosis.comfort import RoomComfort
    from rooftree.diagnosis.heat import HeatPart, HeatSplit
    from rooftree.diagnosis.simulated_year import SimulatedYear

    Floats = NDArray[np.float64]

WORTH_SAYING = 0.5
"""Mean difference to the room with the thermostat from which a room is off [K]; ours."""

NAMED = 3
"""Causes that a sentence names."""


@dataclass(frozen=True, slots=True)
class RoomCause:
    """One reason why a room differs from the room with the thermostat.

    Attributes
    ----------
    words : str
        What it is: ``"floor"``.
    beyond : tuple of str
        Names of what lies on its other side here.
    here, there : float
        Heat that it brings into a unit of floor area here, and in the room with the
        thermostat [W/m²]; negative where it takes heat out.
    """

    words: str
    beyond: tuple[str, ...]
    here: float
    there: float

    @property
    def difference(self) -> float:
        """Return how much more heat it brings in here [W/m²]."""
        return self.here - self.there


@dataclass(frozen=True, slots=True)
class OddRoom:
    """A room that is off while the house is heated, or cooled.

    Attributes
    ----------
    space, against : str
        Its id, and that of the space with the thermostat.
    season : str
        ``"heating"`` or ``"cooling"``.
    difference : float
        Mean of what it feels like less what the other room feels like while the equipment
        runs for heat, or cold [K].
    degree_hours, degree_hours_there : float
        Below the band while heating, or above it while cooling, here and there [K·h].
    causes : tuple of RoomCause
        What makes it so, the strongest first; what works the other way comes last.
    """

    space: str
    against: str
    season: str
    difference: float
    degree_hours: float
    degree_hours_there: float
    causes: tuple[RoomCause, ...]


@dataclass(frozen=True, slots=True)
class RoomsDiagnosis:
    """Rooms that are off.

    Attributes
    ----------
    cold, hot : OddRoom or None
        The coldest living space in hours of heating and the hottest in hours of cooling,
        against the one with the thermostat; None where none is.
    others : tuple of OddRoom
        All other living spaces that are off, either way.
    findings : tuple of Finding
        Sentences about the cold and the hot room.
    """

    cold: OddRoom | None
    hot: OddRoom | None
    others: tuple[OddRoom, ...]
    findings: tuple[Finding, ...]


def diagnose_rooms(
    year: SimulatedYear, splits: Sequence[HeatSplit], rooms: Sequence[RoomComfort]
) -> RoomsDiagnosis:
    """Find the cold and the hot room, and rank what makes them so.

    Parameters
    ----------
    year : SimulatedYear
        The year.
    splits : sequence of HeatSplit
        Heat of every space by cause.
    rooms : sequence of RoomComfort
        Comfort of the living spaces.

    Returns
    -------
    RoomsDiagnosis

    Notes
    -----
    A room is off by the mean of its operative temperature less that of the room with the
    thermostat, over the hours in which the house is heated (or cooled). Its causes are
    mean heat flows over those hours for each unit of floor area, compared between the two
    rooms: a cold room loses more through something, or gets less of something. Because a
    colder room loses less heat for the same surface, losses are told somewhat too small.
    Surfaces count by what they are to the room, whatever lies beyond; the flows of a room
    sum to what its air and furnishings store.
    """
    by_space = {room.space: room for room in rooms}
    split_of = {split.space: split for split in splits}
    base = year.house.spaces[year.thermostat].id
    if base not in by_space:
        return RoomsDiagnosis(None, None, (), ())
    odd: dict[str, list[OddRoom]] = {"heating": [], "cooling": []}
    for season, hours in (("heating", year.heats), ("cooling", year.cools)):
        if not hours.any():
            continue
        for room in rooms:
            if room.space == base:
                continue
            away = float((room.operative - by_space[base].operative)[hours].mean())
            wrong = -away if season == "heating" else away
            if wrong < WORTH_SAYING:
                continue
            cold = season == "heating"
            odd[season].append(
                OddRoom(
                    room.space,
                    base,
                    season,
                    away,
                    room.cold_degree_hours if cold else room.hot_degree_hours,
                    by_space[base].cold_degree_hours if cold else by_space[base].hot_degree_hours,
                    _causes(year, split_of[room.space], split_of[base], hours, -1 if cold else 1),
                )
            )
    cold_room = min(odd["heating"], key=lambda each: each.difference, default=None)
    hot_room = max(odd["cooling"], key=lambda each: each.difference, default=None)
    named = [each for each in (cold_room, hot_room) if each is not None]
    others = tuple(each for group in odd.values() for each in group if each not in named)
    findings = tuple(_judge(year, each) for each in named)
    return RoomsDiagnosis(cold_room, hot_room, others, findings)


def _causes(
    year: SimulatedYear, here: HeatSplit, there: HeatSplit, hours: NDArray[np.bool_], sign: int
) -> tuple[RoomCause, ...]:
    """Return the causes, those that work in the direction of `sign` first."""
    one, other = (_per_floor(year, split, hours) for split in (here, there))
    kinds = {surface.id: surface.kind for surface in year.house.surfaces}
    beyond: dict[str, dict[str, None]] = {}
    for part in here.parts:
        if part.beyond and part.cause is not Cause.SUN:
            seen = beyond.setdefault(_words(year, part, kinds), {})
            seen[_beyond(year, part.beyond)] = None
    causes = [
        RoomCause(words, tuple(beyond.get(words, ())), one.get(words, 0.0), other.get(words, 0.0))
        for words in dict.fromkeys((*one, *other))
    ]
    return tuple(sorted(causes, key=lambda cause: -sign * cause.difference))


def _per_floor(year: SimulatedYear, split: HeatSplit, hours: NDArray[np.bool_]) -> dict[str, float]:
    """Return mean heat by cause for each unit of floor area [W/m²]."""
    floor = year.house.space(split.space).floor_area
    kinds = {surface.id: surface.kind for surface in year.house.surfaces}
    mean = split.heat[hours].mean(axis=0) / floor
    flows: dict[str, float] = {}
    for part, heat in zip(split.parts, mean, strict=True):
        words = _words(year, part, kinds)
        flows[words] = flows.get(words, 0.0) + float(heat)
    return flows


_SURFACES = {"ceiling": "ceiling", "roof": "ceiling", "floor": "floor", "slab": "floor"}
_OTHERS = {
    Cause.GLASS: "glass",
    Cause.SUN: "sun through windows",
    Cause.FAN: "air from fans",
    Cause.EQUIPMENT: "its share of heating and cooling",
}


def _words(year: SimulatedYear, part: HeatPart, kinds: dict[str, str]) -> str:
    """Return what a part is when two rooms are compared: by what it does, not by its name."""
    between = part.beyond in {space.id for space in year.house.living_spaces}
    if part.cause is Cause.SURFACE:
        return (
            "walls and floors between rooms"
            if between
            else _SURFACES.get(kinds.get(part.id, ""), "walls and doors")
        )
    if part.cause in (Cause.LEAK, Cause.OPENING):
        return "air from other rooms" if between else "air from beyond the rooms"
    return _OTHERS.get(part.cause, part.cause.value)


def _beyond(year: SimulatedYear, beyond: str) -> str:
    if beyond in (OUTDOORS, GROUND):
        return OUTDOORS if beyond == OUTDOORS else "the ground"
    return year.house.space(beyond).name


def _judge(year: SimulatedYear, odd: OddRoom) -> Finding:
    name, base = year.house.space(odd.space).name, year.house.space(odd.against).name
    is_cold = odd.season == "heating"
    sign = -1.0 if is_cold else 1.0
    strong = [cause for cause in odd.causes if sign * cause.difference > 0.0][:NAMED]
    word, run = ("colder", "heated") if is_cold else ("hotter", "cooled")
    away = both(abs(odd.difference), Kind.TEMPERATURE_DIFFERENCE)
    says = (
        f"{capitalized(the(name))} is {away} {word} than {the(base)}, where the thermostat is, "
        f"while the house is {run}. For the same floor area as there, {_reasons(strong)}."
    )
    return Finding(
        f"diagnosis/{'cold' if is_cold else 'hot'}-room",
        Severity.NOTE,
        says,
        odd.difference,
        sign * WORTH_SAYING,
        "K",
        "simulated year; the limit is ours",
        odd.space,
    )


def _reasons(causes: Sequence[RoomCause]) -> str:
    """Return causes in words: ``"more heat goes out by floor (garage), 2.7 W/m²"``."""
    listed: dict[str, list[str]] = {}
    for cause in causes:
        named = f"{cause.words} ({', '.join(cause.beyond)})" if cause.beyond else cause.words
        listed.setdefault(_direction(cause), []).append(f"{named}, {_flux(abs(cause.difference))}")
    return "; ".join(
        f"{direction} by {', and by '.join(named)}" for direction, named in listed.items()
    )


def _direction(cause: RoomCause) -> str:
    if cause.difference < 0.0:
        return "less heat comes in" if cause.here >= 0.0 else "more heat goes out"
    return "more heat comes in" if cause.here > 0.0 else "less heat goes out"


def _flux(value: float) -> str:
    return in_either(f"{value / 3.154591:.2g} Btu/(h·ft²)", f"{value:.2g} W/m²")
