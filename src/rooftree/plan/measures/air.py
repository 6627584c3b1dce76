"""Measures on air: seal the enclosure, ventilate the house, exhaust at the source."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from scipy.optimize import brentq

from rooftree.errors import PlanError
from rooftree.house import Fan
from rooftree.plan.leakage import flow_at_50
from rooftree.plan.measures.kind import Setting, Settings, number, optional_number, word
from rooftree.plan.measures.parts import boundary_cracks, demand, largest_living, scaled
from rooftree.units.kinds import Kind as Quantity

if TYPE_CHECKING:
    from rooftree.house import House

WHOLE_HOUSE_FAN = "whole-house-ventilation"
"""Id of the fan that the measure adds or replaces."""

TIGHTEST = 0.02
"""Least share of a crack that sealing leaves [-]; judgement."""

FAN_POWER = {"exhaust": 757.0, "supply": 757.0, "balanced": 1766.0}
"""Electric power per flow where the measure does not say [W/(m³/s)]: 2.8 cfm/W in line and
1.2 cfm/W with recovery; recalled: IECC R403.6.1, 2015 and 2021."""

OUTCOME = "outcome"
"""Name of the setting that picks an end of the range that sealing may come to."""

LEFT = "crack_share_left"
"""Name of the setting that says directly what sealing leaves of every crack."""

EXPECTED, TIGHTEST_OUTCOME, LEAKIEST_OUTCOME = "expected", "tightest", "leakiest"

SPREAD = 0.25
"""How much more or less of the planned reduction crews reach, where no range is given [-];
judgement."""

BATH_FLOW, KITCHEN_FLOW = 0.0236, 0.0472
"""Exhaust on demand, 50 and 100 cfm [m³/s]; "Standard Work Specifications for home energy
upgrades", local exhaust, after ASHRAE 62.2."""

_BATH_HOURS = (*[0.0] * 6, 0.5, 0.5, *[0.0] * 12, 0.3, 0.3, 0.0, 0.0)
_KITCHEN_HOURS = (*[0.0] * 7, 0.3, *[0.0] * 9, 0.7, 0.5, *[0.0] * 5)


def _flow(says: str, default: float | None = None) -> Setting:
    return Setting(Quantity.FLOW, f"{says} [m³/s]", default, low=0.0, high=10.0)


SEALING_SETTINGS = {
    "target_flow_50": _flow("leakage at 50 Pa to reach"),
    "low_target_flow_50": _flow("tightest that may come of it"),
    "high_target_flow_50": _flow("least tight that may come of it"),
    "reduction": Setting(
        Quantity.FRACTION,
        "share of the leakage to take off, where no target is given [0-1]",
        0.3,
        low=0.0,
        high=0.9,
    ),
    LEFT: Setting(
        Quantity.FRACTION,
        "share of every crack that is left, instead of a target; plans set it, so that sealing "
        "means the same work whatever else is done [0-1]",
        low=TIGHTEST,
        high=1.0,
    ),
    OUTCOME: Setting(
        None,
        "which of its ends the work comes to; ranges of a plan are computed with it",
        EXPECTED,
        choices=(EXPECTED, TIGHTEST_OUTCOME, LEAKIEST_OUTCOME),
    ),
}
VENTILATION_SETTINGS = {
    "style": Setting(
        None,
        "exhaust, supply or balanced with recovery",
        "exhaust",
        choices=("exhaust", "supply", "balanced"),
    ),
    "flow": _flow("continuous flow; sized by the plan where left out"),
    "recovery": Setting(
        Quantity.FRACTION, "sensible effectiveness; balanced only [0-1]", 0.0, low=0.0, high=0.95
    ),
    "power": Setting(
        Quantity.POWER, "electric power; usual for the style [W]", low=0.0, high=1000.0
    ),
    "space": Setting(None, "id of the living space; the largest where left out", ""),
}
EXHAUST_SETTINGS = {
    "bath_flow": _flow("of each bath fan on demand; 0 for none", BATH_FLOW),
    "kitchen_flow": _flow("of the kitchen hood on demand; 0 for none", KITCHEN_FLOW),
}


def seal_air(house: House, settings: Settings) -> House:
    """Return the house with its cracks sealed alike until the leakage meets a target.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``target_flow_50``, ``low_target_flow_50``, ``high_target_flow_50`` [m³/s],
        ``reduction``, ``crack_share_left`` [0-1], ``outcome``.

    Returns
    -------
    House
        The house after; the same where it already meets the target.

    Raises
    ------
    PlanError
        If openings that sealing does not close, such as a flue, leak more than the target.

    Notes
    -----
    The leakage is that of a fan test simulated on the house, openings to buffer spaces
    in series with their vents. Every crack between a living space and something else is
    scaled by the same factor. A plan finds that factor on the house as found and keeps
    it, so that sealing is the same work, and the same money, in every package.
    """
    left = crack_share_left(house, settings)
    return house if left == 1.0 else scaled(house, boundary_cracks(house), left)


def crack_share_left(house: House, settings: Settings) -> float:
    """Return the share of every crack that sealing leaves.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        As for :func:`seal_air`.

    Returns
    -------
    float
        [0-1]; 1 where the house meets the target already.

    Raises
    ------
    PlanError
        If openings that sealing does not close, such as a flue, leak more than the target.
    """
    cracks = boundary_cracks(house)
    demand("air-sealing", cracks, "a crack between a living space and something else")
    given = optional_number(settings, LEFT)
    if given is not None:
        return given
    now = flow_at_50(house)
    target = _target(now, settings)
    if now <= target:
        return 1.0

    def excess(factor: float) -> float:
        return flow_at_50(scaled(house, cracks, factor)) - target

    if excess(TIGHTEST) > 0.0:
        least = excess(TIGHTEST) + target
        raise PlanError(
            f"air-sealing.target_flow_50 is {target:.4f} m³/s; openings that sealing does not "
            f"close leave at least {least:.4f} m³/s: raise the target or close them"
        )
    return float(brentq(excess, TIGHTEST, 1.0, xtol=1e-7))


def _target(now: float, settings: Settings) -> float:
    target = optional_number(settings, "target_flow_50")
    if target is None:
        target = now * (1.0 - number(settings, "reduction"))
    spread = SPREAD * max(now - target, 0.0)
    low = optional_number(settings, "low_target_flow_50")
    high = optional_number(settings, "high_target_flow_50")
    return {
        EXPECTED: target,
        TIGHTEST_OUTCOME: target - spread if low is None else low,
        LEAKIEST_OUTCOME: target + spread if high is None else high,
    }[word(settings, OUTCOME)]


def ventilate(house: House, settings: Settings) -> House:
    """Return the house with a fan that ventilates it all day.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``style``, ``flow`` [m³/s], ``recovery`` [0-1], ``power`` [W], ``space``.

    Returns
    -------
    House
        The house after.

    Raises
    ------
    PlanError
        If no flow was given and none was sized.
    """
    flow = optional_number(settings, "flow")
    if flow is None:
        raise PlanError("ventilation needs its setting 'flow', or a plan that sizes it")
    space = word(settings, "space") or largest_living(house).id
    if space not in {room.id for room in house.living_spaces}:
        raise PlanError(f"ventilation.space is {space!r}; it takes a living space of the house")
    style = word(settings, "style")
    power = optional_number(settings, "power")
    fan = Fan(
        WHOLE_HOUSE_FAN,
        f"whole-house ventilation, {style}",
        style,
        space,
        flow,
        (1.0,) * 24,
        FAN_POWER[style] * flow if power is None else power,
        number(settings, "recovery") if style == "balanced" else 0.0,
        "whole house",
    )
    others = tuple(other for other in house.fans if other.id != WHOLE_HOUSE_FAN)
    return replace(house, fans=(*others, fan))


def exhaust_at_source(house: House, settings: Settings) -> House:
    """Return the house with bath and kitchen fans of at least some flow.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``bath_flow``, ``kitchen_flow`` [m³/s]; 0 leaves that room as it is.

    Returns
    -------
    House
        The house after; fans already there are raised, missing ones are added.
    """
    fans = house.fans
    for purpose, name, hours in (
        ("bath", "bath fan", _BATH_HOURS),
        ("kitchen", "kitchen hood", _KITCHEN_HOURS),
    ):
        flow = number(settings, f"{purpose}_flow")
        if flow == 0.0:
            continue
        power = FAN_POWER["exhaust"] * flow
        if any(fan.purpose == purpose for fan in fans):
            fans = tuple(
                replace(fan, flow=flow, power=power)
                if fan.purpose == purpose and fan.flow < flow
                else fan
                for fan in fans
            )
        else:
            space = largest_living(house).id
            new = Fan(
                f"{purpose}-exhaust", name, "exhaust", space, flow, hours, power, 0.0, purpose
            )
            fans = (*fans, new)
    return replace(house, fans=fans)
