"""Why a step stands where it stands, with facts of this very house."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.house import OUTDOORS, SpaceKind
from rooftree.plan.measures.equipment import room_air_burners
from rooftree.plan.measures.parts import insulation_resistance, joins, living_ids, spaces_of
from rooftree.plan.order import applying_rules, openers
from rooftree.plan.rules import openings
from rooftree.plan.words import listed
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from rooftree.engine.results import YearResult
    from rooftree.house import House, Surface
    from rooftree.plan.model import Measure
    from rooftree.plan.offers import Offers
    from rooftree.plan.order import Placing
    from rooftree.survey import Gate


@dataclass(frozen=True, slots=True)
class Scene:
    """One step with the house around it.

    Attributes
    ----------
    measure : Measure
        What is done.
    offers : Offers
        What is on offer, with the house as found.
    whole, before, after : int
        The whole package, and what is done before and after this step.
    found, year : YearResult
        The house as found and right before this step, through the year.
    """

    measure: Measure
    offers: Offers
    whole: int
    before: int
    after: int
    found: YearResult
    year: YearResult

    @property
    def house(self) -> House:
        """Return the house right before this step."""
        return self.offers.house_of(self.before, whole=self.whole)


def why_here(scene: Scene, placing: Placing, gates: tuple[Gate, ...]) -> str:
    """Return why a step stands where it stands.

    Parameters
    ----------
    scene : Scene
        The step.
    placing : Placing
        Why measures were pulled forward.
    gates : tuple of Gate
        All that stand.

    Returns
    -------
    str
        One to three plain sentences: reasons first, then a fact of this house.
    """
    reasons = placing.reasons[scene.measure.id][:1] or _reasons(scene, gates)[:2]
    fact = _FACTS.get(scene.measure.kind, _nothing)(scene)
    return " ".join([*dict.fromkeys(reasons), fact]).strip()


def _reasons(scene: Scene, gates: tuple[Gate, ...]) -> list[str]:
    kind = scene.measure.kind
    opened = [
        f"{gate.rule.title}: {_lower(openings()[gate.code].reason)}"
        for gate in gates
        if _matters(scene, gate) and scene.measure in openers(scene.offers, scene.whole, gate)
    ]
    rules = sorted(applying_rules(scene.offers, scene.whole), key=lambda rule: not rule.must)
    ruled = [rule.reason for rule in rules if kind in (rule.first, rule.then)]
    return opened[:1] + ruled[:1]


def _matters(scene: Scene, gate: Gate) -> bool:
    """Return whether a gate harms now, or holds back something that is in the package."""
    opening = openings().get(gate.code)
    if opening is None:
        return False
    return opening.harms_now or bool(scene.whole & scene.offers.of_kind(*gate.blocks))


def _lower(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]


def _nothing(_: Scene) -> str:
    return ""


def _damp_hours(scene: Scene) -> str:
    low = spaces_of(scene.house, SpaceKind.CRAWLSPACE, SpaceKind.BASEMENT)
    return " ".join(
        f"The air of the {space.name} is above 80 % relative humidity for "
        f"{int(scene.year.hours_above_80_percent[scene.year.space_ids.index(space.id)]):,} "
        "hours of the year."
        for space in low[:1]
    )


def _local_exhaust(scene: Scene) -> str:
    now = []
    for purpose, name in (("bath", "the bath fan"), ("kitchen", "the kitchen hood")):
        flows = [fan.flow for fan in scene.house.fans if fan.purpose == purpose]
        moves = f"{name} moves {both(min(flows), Kind.FLOW)}" if flows else f"{name} is missing"
        now.append(moves)
    return f"Now {listed(now)}."


def _burners(scene: Scene) -> str:
    parts = [
        f"the {burner} takes its air from the {scene.house.space(space).name} ({draft.value})"
        for burner, space, draft in room_air_burners(scene.house)
    ]
    return f"Now {listed(parts)}." if parts else ""


def _water_heater(scene: Scene) -> str:
    offers = scene.offers
    without = scene.whole & ~offers.bit(scene.measure)
    now, then = (
        [pull for pull in offers.pulls(done, whole=scene.whole) if pull.burner == "water heater"]
        for done in (scene.before, without)
    )
    if not now or not then:
        return ""
    return (
        f"With every exhaust fan on, the air around the old one is pulled {now[0].pull:.1f} Pa "
        f"below outdoors, and would be pulled {then[0].pull:.1f} Pa once the rest of the plan is "
        f"done; the screening limit is {now[0].limit:g} Pa."
    )


def _leakage(scene: Scene) -> str:
    now, then = scene.offers.leakage(scene.before), scene.offers.leakage(scene.after)
    return (
        f"Leakage at 50 Pa falls from {both(now, Kind.FLOW)} to {both(then, Kind.FLOW)}, "
        f"by {1.0 - then / now:.0%}."
    )


def _ventilation(scene: Scene) -> str:
    whole = scene.offers.ventilation(scene.whole)
    return (
        f"The house needs {both(whole.total, Kind.FLOW)} of outdoor air; as tight as the plan may "
        f"make it, leaks bring {both(whole.credit, Kind.FLOW)} of that, and fans must bring "
        f"{both(whole.required, Kind.FLOW)} (ASHRAE 62.2-"
        f"{scene.offers.settings.ventilation_edition})."
    )


def _surfaces(what: str, wanted: Callable[[House, Surface], bool]) -> Callable[[Scene], str]:
    """Return a fact about the insulation of some surfaces."""

    def fact(scene: Scene) -> str:
        there = [surface for surface in scene.house.surfaces if wanted(scene.house, surface)]
        area = sum(surface.area for surface in there)
        if not area:
            return ""
        resistance = sum(insulation_resistance(s) * s.area for s in there) / area
        void = sum(surface.void_fraction * surface.area for surface in there) / area
        gaps = f", and on {void:.0%} of it the insulation is missing or does nothing"
        return (
            f"The {what} ({both(area, Kind.AREA)}) has "
            f"{both(resistance, Kind.THERMAL_RESISTANCE)} of insulation"
            f"{gaps if void >= 0.01 else ''}."
        )

    return fact


def _towards(*kinds: SpaceKind) -> Callable[[House, Surface], bool]:
    return lambda house, surface: joins(
        surface, living_ids(house), [space.id for space in spaces_of(house, *kinds)]
    )


def _floor_over_garage(house: House, surface: Surface) -> bool:
    return surface.kind in ("floor", "ceiling") and _towards(SpaceKind.GARAGE)(house, surface)


def _outside_wall(house: House, surface: Surface) -> bool:
    return surface.kind == "wall" and joins(surface, living_ids(house), [OUTDOORS])


def _duct_leaks(scene: Scene) -> str:
    living = living_ids(scene.house)
    parts = []
    for side in ("supply", "return"):
        lost = sum(r.leakage for r in scene.house.ducts if r.side == side and r.space not in living)
        parts.append(f"{lost:.0%} on the {side} side")
    return f"Outside the living spaces the ducts leak {listed(parts)} of what the fan moves."


def _duct_wrap(scene: Scene) -> str:
    living = living_ids(scene.house)
    runs = [run for run in scene.house.ducts if run.space not in living]
    if not runs:
        return ""
    area = both(sum(run.area for run in runs), Kind.AREA)
    least = both(min(run.resistance for run in runs), Kind.THERMAL_RESISTANCE)
    return f"{area} of ducts run outside the living spaces, with as little as {least}."


def _windows(scene: Scene) -> str:
    living = living_ids(scene.house)
    panes = [window for window in scene.house.windows if window.space in living]
    area = sum(window.area for window in panes)
    u_value = sum(window.u_value * window.area for window in panes) / area
    return (
        f"{both(area, Kind.AREA)} of windows have a mean U-value of {both(u_value, Kind.U_VALUE)}."
    )


def _loads(scene: Scene) -> str:
    wanted = {"furnace": ("heating",), "air-conditioner": ("cooling",)}
    parts = [
        f"the {what} that the house asks for in a year by {1.0 - now / was:.0%}"
        for what, was, now in (
            ("heating", scene.found.heating_load, scene.year.heating_load),
            ("cooling", scene.found.cooling_load, scene.year.cooling_load),
        )
        if what in wanted.get(scene.measure.kind, ("heating", "cooling")) and now < 0.98 * was
    ]
    if not parts:
        return "Nothing before it cuts the load, so it replaces like by like."
    return (
        f"The steps before it cut {listed(parts)}: choose its size by a load calculation for the "
        "house as it is then."
    )


_FACTS: Mapping[str, Callable[[Scene], str]] = {
    "drainage": _damp_hours,
    "crawlspace-closing": _damp_hours,
    "dehumidifier": _damp_hours,
    "local-exhaust": _local_exhaust,
    "flue-repair": _burners,
    "water-heater": _water_heater,
    "air-sealing": _leakage,
    "ventilation": _ventilation,
    "attic-insulation": _surfaces("attic floor", _towards(SpaceKind.ATTIC)),
    "bonus-floor-fix": _surfaces("floor over the garage", _floor_over_garage),
    "knee-wall-fix": _surfaces("knee walls", _towards(SpaceKind.KNEE_WALL_ATTIC)),
    "wall-insulation": _surfaces("outside walls", _outside_wall),
    "duct-sealing": _duct_leaks,
    "ducts-inside": _duct_wrap,
    "duct-insulation": _duct_wrap,
    "windows": _windows,
    "furnace": _loads,
    "air-conditioner": _loads,
    "heat-pump": _loads,
}
