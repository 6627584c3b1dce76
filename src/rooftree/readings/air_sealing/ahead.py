"""What going on with air sealing would bring, what stands in its way, and whether to."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.physics.propagation import COVERAGE, Propagated
from rooftree.readings.air_sealing.leak_map import ELSEWHERE
from rooftree.readings.air_sealing.results import Advice, LimitAhead, NextLocation
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.readings.air_sealing.leak_map import PlaceLeft
    from rooftree.readings.air_sealing.readings import AirSealingLog
    from rooftree.readings.air_sealing.results import LocationResult

LIKE_THE_LAST = 2
"""Locations whose mean stands for the next one where there is no leak map [-]; ours."""

SHRINKING = 0.7
"""What the next location brings over the last ones where there is no leak map [-]: the
largest leaks are sealed first; ours."""


@dataclass(frozen=True, slots=True)
class Value:
    """What leakage costs the owner of this house.

    Attributes
    ----------
    per_flow : float or None
        Saved in a year for each unit of leakage at 50 Pa [$·s/(year·m³)]; None where not
        known.
    years : float
        For which savings count [years].
    discount_rate : float
        By which a saving is worth less each year that it comes later [1/year].
    """

    per_flow: float | None
    years: float
    discount_rate: float

    @property
    def worth_per_flow(self) -> float | None:
        """What a unit of leakage at 50 Pa is worth today [$·s/m³]."""
        if self.per_flow is None:
            return None
        return self.per_flow * present_worth_factor(self.years, self.discount_rate)


def present_worth_factor(years: float, discount_rate: float) -> float:
    """Return what a dollar saved each year is worth today.

    Parameters
    ----------
    years : float
        For which it is saved [years], >= 0.
    discount_rate : float
        [1/year], above -1.

    Returns
    -------
    float
        Factor [years].

    Raises
    ------
    OutOfRangeError
        If the time is negative or the rate not above -1.

    Notes
    -----
    ``(1 - (1 + d)^-N) / d``, savings at the end of each year (NIST Handbook 135, recalled).

    References
    ----------
    NIST Handbook 135, uniform present value (recalled).

    Examples
    --------
    >>> round(present_worth_factor(15.0, 0.03), 2)
    11.94
    """
    if not years >= 0.0:
        raise OutOfRangeError("years", years, 0.0, math.inf, "years")
    if not discount_rate > -1.0:
        raise OutOfRangeError("discount rate", discount_rate, -1.0, math.inf, "1/year")
    if abs(discount_rate) < 1e-9:
        return years
    return (1.0 - math.pow(1.0 + discount_rate, -years)) / discount_rate


def expect_next(
    log: AirSealingLog,
    left: Sequence[PlaceLeft],
    locations: Sequence[LocationResult],
    value: Value,
    to_50: float,
) -> NextLocation | None:
    """Return the location that is expected to bring most, or one like the last ones.

    Parameters
    ----------
    log : AirSealingLog
        As written.
    left : sequence of PlaceLeft
        The leak map now; empty where there is none.
    locations : sequence of LocationResult
        Sealed so far.
    value : Value
        Of leakage.
    to_50 : float
        Flow at 50 Pa over flow at the held pressure [-].

    Returns
    -------
    NextLocation or None
        None where every place of the map was sealed, or nothing has been sealed yet and
        there is no map.
    """
    if left:
        return _best_place(log, left, locations, value)
    recent = [each for each in locations if each.work > 0.0 or each.cost > 0.0][-LIKE_THE_LAST:]
    if not recent:
        return None
    brought = sum(each.reduction.value for each in recent) / len(recent)
    spread = math.hypot(*(each.reduction.standard for each in recent)) / len(recent)
    flow = max(SHRINKING * brought, 0.0) * to_50
    # Half of what is expected either way: the next location is another one.
    doubt = math.hypot(SHRINKING * spread * to_50, 0.5 * flow)
    reduction = Propagated(flow, doubt, flow - COVERAGE * doubt, flow + COVERAGE * doubt)
    return _valued("", reduction, sum(each.cost for each in recent) / len(recent), value)


def _best_place(
    log: AirSealingLog,
    left: Sequence[PlaceLeft],
    locations: Sequence[LocationResult],
    value: Value,
) -> NextLocation | None:
    known = {each.place: each for each in log.places}
    works = [each.work for each in locations if each.work > 0.0]
    usual = sum(works) / len(works) if works else 0.0
    offers = []
    for each in left:
        if each.place == ELSEWHERE or not each.sealable.value > 0.0:
            continue
        place = known[each.place]
        work = usual if place.work is None else place.work
        ahead = 1.0 - each.done
        cost = ahead * (work * log.labor_rate + place.material_cost)
        offers.append(_valued(each.place, each.sealable, cost, value))
    return max(offers, key=_gain, default=None)


def _gain(offer: NextLocation) -> float:
    if offer.worth is not None:
        return offer.worth.value - offer.cost
    return offer.reduction.value / max(offer.cost, 1.0)


def _valued(place: str, reduction: Propagated, cost: float, value: Value) -> NextLocation:
    each = value.worth_per_flow
    if each is None:
        return NextLocation(place, reduction, cost, None, None)
    worth = Propagated(
        each * reduction.value,
        each * reduction.standard,
        each * reduction.low,
        each * reduction.high,
    )
    away = (worth.value - cost) / worth.standard if worth.standard else math.inf
    chance = 0.5 * math.erfc(-away / math.sqrt(2.0))
    return NextLocation(place, reduction, cost, worth, chance)


def limits_ahead(
    flow_50: Propagated,
    following: NextLocation | None,
    ventilation_flow_50: float | None,
    combustion_flow_50: float | None,
) -> tuple[LimitAhead, ...]:
    """Return the limits that are known, and how near they are.

    Parameters
    ----------
    flow_50 : Propagated
        Leakage at 50 Pa now [m³/s].
    following : NextLocation or None
        What the next location is expected to bring.
    ventilation_flow_50 : float or None
        Leakage below which infiltration no longer meets the need for fresh air [m³/s].
    combustion_flow_50 : float or None
        Leakage below which the fans of the house may pull an appliance's zone too low
        [m³/s].

    Returns
    -------
    tuple of LimitAhead
    """
    more = following.reduction.high if following is not None else 0.0
    found = []
    for name, limit in (("ventilation", ventilation_flow_50), ("combustion", combustion_flow_50)):
        if limit is None:
            continue
        # For combustion even the chance of being beyond counts.
        now = flow_50.low if name == "combustion" else flow_50.value
        found.append(
            LimitAhead(
                name,
                limit,
                flow_50.value - limit,
                is_passed=now < limit,
                is_next=now - max(more, 0.0) < limit <= now,
            )
        )
    return tuple(found)


def advise(
    following: NextLocation | None, limits: Sequence[LimitAhead], *, has_map: bool
) -> tuple[Advice, str]:
    """Return whether to go on, and why.

    Parameters
    ----------
    following : NextLocation or None
        What the next location is expected to bring.
    limits : sequence of LimitAhead
        Known limits.
    has_map : bool
        Whether there is a leak map.

    Returns
    -------
    tuple of (Advice, str)
        The advice and its reason in one sentence.
    """
    flame = next((each for each in limits if each.name == "combustion"), None)
    if flame is not None and (flame.is_passed or flame.is_next):
        when = "The house is" if flame.is_passed else "The next location may leave the house"
        return Advice.MEASURE_FIRST, (
            f"{when} tight enough for its fans to pull on a flue: measure the worst case of the"
            " appliance's zone before anything else is sealed."
        )
    if following is None:
        if has_map:
            return Advice.NOTHING_LEFT, (
                "Every place of the leak map has been sealed; look for others, or stop."
            )
        return Advice.YOURS, "Nothing was sealed from which the next location could be judged."
    brings = (
        f"{_opening(following.place or 'a location like the last ones')} should take away"
        f" {both(following.reduction.value, Kind.FLOW, digits=2)} at 50 Pa"
    )
    if following.cost > 0.0:
        brings += f" for about {both(following.cost, Kind.MONEY)}"
    if following.worth is None:
        return Advice.YOURS, f"{brings}; what leakage costs here was not worked out."
    worth = both(max(following.worth.value, 0.0), Kind.MONEY)
    if following.worth.value < following.cost:
        return Advice.STOP, f"{brings}, and that is worth only {worth}."
    air = next((each for each in limits if each.name == "ventilation"), None)
    fan = (
        " Size a ventilation fan for what is left."
        if air is not None and (air.is_passed or air.is_next)
        else ""
    )
    return Advice.GO_ON, f"{brings}, and that is worth {worth}.{fan}"


def _opening(words: str) -> str:
    """Return words as a sentence begins with them."""
    return f"{words[:1].upper()}{words[1:]}"
