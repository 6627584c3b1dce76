"""What a person reads while fans and doors are tried for the worst case of a zone."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from rooftree.known import Answer


class Hearth(StrEnum):
    """What lies in fireplaces and wood stoves before a fan may pull on them."""

    NONE = "no fireplace or stove"
    CLEAN = "cold and clean"
    ASH = "cold ash"
    EMBERS = "embers or fire"
    NOT_LOOKED = "not looked at"


@dataclass(frozen=True, slots=True)
class ZoneState:
    """One combination of fans and doors, with what the gauge showed.

    Attributes
    ----------
    pressure : float
        Zone with reference to outdoors, as shown [Pa].
    dryer, range_hood, bath_fans, other_exhaust : bool
        Whether they ran; all bath fans together.
    air_handler : bool
        Whether the blower of the ducts ran.
    interior_doors_closed : bool
        Whether the doors of the rooms were closed.
    zone_door_closed : bool
        Whether the door between the zone and the house was closed.
    gust : float or None
        Half of the swing that the gauge showed meanwhile [Pa], >= 0.
    """

    pressure: float
    dryer: bool = False
    range_hood: bool = False
    bath_fans: bool = False
    other_exhaust: bool = False
    air_handler: bool = False
    interior_doors_closed: bool = False
    zone_door_closed: bool = False
    gust: float | None = None


@dataclass(frozen=True, slots=True)
class WorstCaseTest:
    """The search for the deepest pressure of one appliance zone.

    Attributes
    ----------
    zone : str
        Id or name of the space with the burner.
    states : tuple of ZoneState
        Combinations tried, in the order read; a combination may come twice.
    baseline_before, baseline_after : tuple of float
        Zone with reference to outdoors with every fan off and doors open [Pa].
    has_dryer, has_range_hood, has_bath_fans, has_other_exhaust, has_air_handler : bool
        What there is to be tried.
    has_interior_doors, has_zone_door : bool
        Whether there are doors to be tried.
    appliance, draft : str
        The burner that is pulled on most easily, as in ``CombustionTest``.
    shares_flue : Answer
        Whether another burner uses the same flue.
    hearth : Hearth
        What lies in fireplaces and stoves.
    closed_up : Answer
        Whether outside doors, windows and the damper of the fireplace are closed.
    dryer_flow, range_hood_flow, bath_fans_flow, other_exhaust_flow : float or None
        As measured, drawn from the house [m³/s], >= 0.
    air_handler_pull : float or None
        What the leaks of ducts draw out of the house while the air handler runs, supply
        less return to outdoors [m³/s]; negative where they blow it up.
    zone_return_leak : float or None
        What leaking returns draw out of the zone itself [m³/s], >= 0.
    door_gap : float or None
        Free area between zone and house with the zone's door closed [m²], > 0.
    zone_share : float
        Share of the house's leakage in the zone's own outer walls [0-1].
    height : float or None
        Of the heated house above its lowest leaks [m].
    indoor_temperature, outdoor_temperature : float or None
        During the search [K].
    fans_restored, doors_restored : Answer
        As left: fans and air handler, doors and hatches.
    pressure_uncertainty : float
        Standard uncertainty of one reading without wind [Pa].
    flow_uncertainty : float
        Standard uncertainty of each fan's flow, relative [0-1].
    """

    zone: str
    states: tuple[ZoneState, ...] = ()
    baseline_before: tuple[float, ...] = ()
    baseline_after: tuple[float, ...] = ()
    has_dryer: bool = True
    has_range_hood: bool = True
    has_bath_fans: bool = True
    has_other_exhaust: bool = False
    has_air_handler: bool = True
    has_interior_doors: bool = True
    has_zone_door: bool = True
    appliance: str = "water heater"
    draft: str = "natural draft"
    shares_flue: Answer = Answer.NOT_SAID
    hearth: Hearth = Hearth.NOT_LOOKED
    closed_up: Answer = Answer.NOT_SAID
    dryer_flow: float | None = None
    range_hood_flow: float | None = None
    bath_fans_flow: float | None = None
    other_exhaust_flow: float | None = None
    air_handler_pull: float | None = None
    zone_return_leak: float | None = None
    door_gap: float | None = None
    zone_share: float = 0.05
    height: float | None = None
    indoor_temperature: float | None = None
    outdoor_temperature: float | None = None
    fans_restored: Answer = Answer.NOT_SAID
    doors_restored: Answer = Answer.NOT_SAID
    pressure_uncertainty: float = 0.3
    flow_uncertainty: float = 0.10
