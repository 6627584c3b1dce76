"""Fresh air after tightening: what the house needs, what its fans give, how large a fan.

The leakage is that of a fan test on the house as a plan leaves it; the fan is sized for
the tightest that sealing may come to.

Sources
-------
[622] ASHRAE Standard 62.2, the edition being a setting of the plan.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.plan.leakage import flow_at_50
from rooftree.readings.ventilation import ExhaustReading, RoomKind, required_fan_flow
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from rooftree.house import House
    from rooftree.plan.model import PlanSettings

SIZES = 0.001
"""Fans are sized up to the next litre a second [m³/s]."""

NOTICED = 0.05
"""Leakage has changed when it changed by more than repeated fan tests do [-]; judgement."""


@dataclass(frozen=True, slots=True)
class Ventilation:
    """Fresh air of one house.

    Attributes
    ----------
    total : float
        Rate that the house needs, leaks included [m³/s].
    credit : float
        Part of it that the leaks bring [m³/s].
    required : float
        Fan flow that is needed [m³/s].
    given : float
        Fan flow that is there, mean over the day [m³/s].
    leakage : float
        Flow at 50 Pa that the credit rests on [m³/s].
    """

    total: float
    credit: float
    required: float
    given: float
    leakage: float

    @property
    def is_enough(self) -> bool:
        """Return whether the fans give what is needed, to a tenth of a litre a second."""
        return self.given >= self.required - 1e-4


def is_balanced(house: House) -> bool:
    """Tell whether the house is ventilated by balanced fans only.

    Parameters
    ----------
    house : House
        Any house.

    Returns
    -------
    bool
        False where there is no whole-house fan.
    """
    kinds = {fan.kind for fan in house.fans if fan.purpose == "whole house"}
    return kinds == {"balanced"}


def given_flow(house: House) -> float:
    """Return what the whole-house fans move, mean over the day.

    Parameters
    ----------
    house : House
        Any house.

    Returns
    -------
    float
        Flow [m³/s].
    """
    return sum(
        fan.flow * sum(fan.hours) / len(fan.hours)
        for fan in house.fans
        if fan.purpose == "whole house"
    )


def ventilation_of(
    house: House, settings: PlanSettings, weather_factor: float, *, balanced: bool | None = None
) -> Ventilation:
    """Return what fresh air a house needs and what its fans give.

    Parameters
    ----------
    house : House
        Any house.
    settings : PlanSettings
        Edition of the standard.
    weather_factor : float
        Weather and shielding factor [1/h].
    balanced : bool or None
        Whether the fans are balanced; as in the house where None.

    Returns
    -------
    Ventilation

    Notes
    -----
    The way for existing dwellings: what bath and kitchen fans lack adds a quarter of
    itself to the whole rate. The record of a house knows no windows that would make up
    for some of that, so none is counted.
    """
    leakage = flow_at_50(house)
    tops = [space.floor_level + space.height for space in house.living_spaces]
    need = required_fan_flow(
        settings.ventilation_edition,
        floor_area=house.floor_area,
        bedrooms=house.use.bedrooms,
        people=house.use.people,
        height=max(tops) - min(space.floor_level for space in house.living_spaces),
        flow_50=leakage,
        weather_factor=weather_factor,
        balanced=is_balanced(house) if balanced is None else balanced,
        rooms=_rooms(house),
    )
    return Ventilation(need.total, need.credit, need.fan, given_flow(house), leakage)


def _rooms(house: House) -> list[ExhaustReading]:
    """Return the bath and kitchen fans as readings; a missing one counts as no flow."""
    readings = []
    for purpose, kind in (("bath", RoomKind.BATH), ("kitchen", RoomKind.KITCHEN_HOOD)):
        flows = {fan.name: fan.flow for fan in house.fans if fan.purpose == purpose}
        readings += [
            ExhaustReading(name, kind, flow) for name, flow in (flows or {purpose: 0.0}).items()
        ]
    return readings


def fan_size(house: House, settings: PlanSettings, weather_factor: float, style: str) -> float:
    """Return the size of a whole-house fan that a house needs.

    Parameters
    ----------
    house : House
        The house at its tightest; its own whole-house fans count.
    settings : PlanSettings
        Edition of the standard.
    weather_factor : float
        Weather and shielding factor [1/h].
    style : str
        ``"exhaust"``, ``"supply"`` or ``"balanced"``.

    Returns
    -------
    float
        Flow of the new fan, rounded up to a litre a second [m³/s].
    """
    need = ventilation_of(house, settings, weather_factor, balanced=style == "balanced")
    missing = max(need.required - need.given, 0.0)
    return math.ceil(missing / SIZES - 1e-9) * SIZES


def judge_ventilation(
    before: Ventilation, after: Ventilation, settings: PlanSettings, *, tightest: Ventilation
) -> Finding:
    """Return whether a stage leaves the house with enough fresh air.

    Parameters
    ----------
    before, after : Ventilation
        Of the house as found and after the stage.
    settings : PlanSettings
        Edition of the standard.
    tightest : Ventilation
        After the stage, should sealing come out tighter than expected.

    Returns
    -------
    Finding
        A note where it is enough, a gate where it is not.
    """
    source = f"ASHRAE 62.2-{settings.ventilation_edition}, 4.1"
    leak = f"Leakage {_change(before.leakage, after.leakage)} at 50 Pa."
    need = (
        f"The house then needs {both(tightest.required, Kind.FLOW)} from whole-house fans at the "
        f"tightest that the work may come to, {both(after.required, Kind.FLOW)} as expected; "
        f"they give {both(after.given, Kind.FLOW)}."
    )
    enough = after.is_enough and tightest.is_enough
    remedy = (
        "Measure the fan and the leakage when the work is done, and set the fan to them."
        if enough
        else "Add or enlarge whole-house ventilation in this stage."
    )
    return Finding(
        "plan/ventilation" if enough else "plan/ventilation-short",
        Severity.NOTE if enough else Severity.GATE,
        f"{leak} {need} {remedy}",
        after.given,
        tightest.required,
        "m³/s",
        source,
    )


def _change(before: float, after: float) -> str:
    if abs(after - before) <= 0.005 * before:
        return f"stays at {both(after, Kind.FLOW)}"
    way = "falls" if after < before else "rises"
    return f"{way} from {both(before, Kind.FLOW)} to {both(after, Kind.FLOW)}"
