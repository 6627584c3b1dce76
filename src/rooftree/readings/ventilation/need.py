"""Whole-dwelling ventilation by ASHRAE 62.2, edition by edition, term by term."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.readings.ventilation.editions import Credit, Form, edition_of
from rooftree.readings.ventilation.infiltration import (
    infiltration_from_area,
    infiltration_from_flow,
)
from rooftree.readings.ventilation.intermittent import average_flow
from rooftree.readings.ventilation.judge import (
    judge_fans,
    judge_need,
    judge_rooms,
)
from rooftree.readings.ventilation.local_exhaust import SOURCE as LOCAL_SOURCE
from rooftree.readings.ventilation.local_exhaust import added_flow

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.finding import Finding
    from rooftree.readings.ventilation.editions import Edition
    from rooftree.readings.ventilation.readings import ExhaustReading, WholeHouseFan


@dataclass(frozen=True, slots=True)
class Term:
    """One term of the need.

    Attributes
    ----------
    name : str
        What it is.
    flow : float
        Its size, as it enters the sum [m³/s]; negative where it is taken off.
    says : str
        How it came about.
    source : str
        Document; begins with ``"recalled: "`` where it was not read.
    """

    name: str
    flow: float
    says: str
    source: str


@dataclass(frozen=True, slots=True)
class VentilationNeed:
    """What ventilation a dwelling needs and has.

    Attributes
    ----------
    edition : str
        Year of the standard.
    total : float
        Rate that the dwelling needs, missing local exhaust included [m³/s].
    infiltration : float or None
        Effective annual infiltration [m³/s]; None without a fan test or a factor.
    counted_share : float
        Share of the infiltration that counts beside an unbalanced fan [0-1].
    credit : float
        What infiltration takes off [m³/s].
    fan : float
        Flow that whole-house fans must give, mean over time [m³/s]; 0 where none is needed.
    given : float
        What they give [m³/s].
    missing : float
        What they lack [m³/s], >= 0.
    terms : tuple of Term
        Every term that makes up `fan`, in order.
    findings : tuple of Finding
        Shortfalls, doubts and what is only recalled.
    """

    edition: str
    total: float
    infiltration: float | None
    counted_share: float
    credit: float
    fan: float
    given: float
    missing: float
    terms: tuple[Term, ...]
    findings: tuple[Finding, ...]


def required_fan_flow(
    edition: str,
    *,
    floor_area: float,
    bedrooms: int,
    people: int | None = None,
    height: float = 2.5,
    flow_50: float | None = None,
    leakage_area: float | None = None,
    weather_factor: float | None = None,
    balanced: bool = False,
    exterior_share: float = 1.0,
    is_new: bool = False,
    rooms: Sequence[ExhaustReading] = (),
    fans: Sequence[WholeHouseFan] = (),
    form: Form = Form.IP,
) -> VentilationNeed:
    """Return the whole-house fan flow that a dwelling needs by one edition of ASHRAE 62.2.

    Parameters
    ----------
    edition : str
        ``"2010"``, ``"2013"``, ``"2016"``, ``"2019"`` or ``"2022"``.
    floor_area : float
        Of the dwelling [m²], > 0.
    bedrooms : int
        Number; at least 1 is counted.
    people : int or None
        Where more live there than bedrooms plus one.
    height : float
        From the lowest floor above grade to the highest ceiling [m].
    flow_50 : float or None
        Leakage at 50 Pa [m³/s].
    leakage_area : float or None
        Effective leakage area at 4 Pa, instead of `flow_50` [m²].
    weather_factor : float or None
        Weather-and-shielding factor [1/h]; without it nothing is credited.
    balanced : bool
        Whether the whole-house fans bring in what they take out.
    exterior_share : float
        Share of the envelope that faces outdoors and not a neighbour [0-1].
    is_new : bool
        New dwellings get less credit, and no way round missing local exhaust.
    rooms : sequence of ExhaustReading
        Kitchens and baths with what their fans move.
    fans : sequence of WholeHouseFan
        Whole-house fans that are there.
    form : Form
        Which of the printed constants to use; those in cfm and ft² ask for 1.5 % more.

    Returns
    -------
    VentilationNeed

    Raises
    ------
    OutOfRangeError
        If the edition is not in the table, or a size is not positive.

    Notes
    -----
    - Rate: ``0.03 A + 7.5 (N + 1)`` cfm from 2013, ``0.01 A + 7.5 (N + 1)`` before, which
      already counts on 2 cfm of infiltration for each 100 ft².
    - Credit: 2010, half of what exceeds that infiltration, existing dwellings only
      (recalled); 2013, all of it; 2016, times the exterior share; 2019 and 2022, times
      ``phi``, 1 for balanced fans and infiltration over the total rate for others. In
      2013 and 2016 a new dwelling gets two thirds of the rate at most (recalled).
    - Missing local exhaust adds a quarter of itself to the rate (appendix A, recalled);
      ``phi`` is then taken with the larger rate, which credits a little less.
    - No fan is asked for below 15 cfm from 2019.

    References
    ----------
    .. [622] ASHRAE Standard 62.2; each term names its source.

    Examples
    --------
    >>> need = required_fan_flow(
    ...     "2019", floor_area=150.0, bedrooms=3, height=5.0, flow_50=0.520833,
    ...     weather_factor=0.60, form=Form.SI,
    ... )
    >>> round(1000.0 * need.fan, 2)
    23.9
    """
    _require_sizes(floor_area, exterior_share)
    rule = edition_of(edition)
    rate = _rate_terms(rule, floor_area, bedrooms, people, form)
    local = 0.0 if is_new else added_flow(rooms)
    total = sum(term.flow for term in rate) + local
    leaks = _infiltration(floor_area, height, flow_50, leakage_area, weather_factor, form)
    share = _counted_share(rule, leaks, total, balanced=balanced)
    credit = _credit(rule, leaks, total, floor_area, exterior_share, share, is_new=is_new)
    fan = max(total - credit, 0.0)
    fan = 0.0 if fan < rule.small_fan else fan
    given = sum(average_flow(one, floor_area) for one in fans)
    terms = rate + _local_terms(local) + _credit_terms(rule, credit, share)
    findings = (
        judge_fans(fans, floor_area)
        + judge_rooms(rooms, is_new=is_new)
        + judge_need(rule, fan, given, known_leakage=leaks is not None)
    )
    missing = max(fan - given, 0.0)
    return VentilationNeed(
        rule.year, total, leaks, share, credit, fan, given, missing, terms, findings
    )


def _require_sizes(floor_area: float, exterior_share: float) -> None:
    if not 0.0 < floor_area < float("inf"):
        raise OutOfRangeError("floor_area", floor_area, 0.0, float("inf"), "m²")
    if not 0.0 <= exterior_share <= 1.0:
        raise OutOfRangeError("exterior_share", exterior_share, 0.0, 1.0, "-")


def _rate_terms(
    rule: Edition, floor_area: float, bedrooms: int, people: int | None, form: Form
) -> tuple[Term, ...]:
    persons = max(bedrooms, 1) + 1
    living = max(persons, people or 0)
    by_area = rule.area_rate[form] * floor_area
    by_person = rule.person_rate[form] * persons
    terms = [
        Term("floor area", by_area, f"constants in {form.value}", rule.source),
        Term("people", by_person, f"{persons} people by bedrooms", rule.source),
    ]
    if living > persons:
        extra = rule.person_rate[form] * (living - persons)
        source = "recalled: ASHRAE 62.2, 4.1.1"
        terms.append(
            Term("more people", extra, f"{living - persons} more than the bedrooms", source)
        )
    return tuple(terms)


def _infiltration(
    floor_area: float,
    height: float,
    flow_50: float | None,
    leakage_area: float | None,
    weather_factor: float | None,
    form: Form,
) -> float | None:
    if weather_factor is None:
        return None
    if flow_50 is not None:
        return infiltration_from_flow(flow_50, height, weather_factor, form)
    if leakage_area is not None:
        return infiltration_from_area(leakage_area, floor_area, height, weather_factor, form)
    return None


def _counted_share(rule: Edition, leaks: float | None, total: float, *, balanced: bool) -> float:
    if rule.credit is not Credit.SUB_ADDITIVE or balanced or leaks is None:
        return 1.0
    return min(leaks / total, 1.0)


def _credit(
    rule: Edition,
    leaks: float | None,
    total: float,
    floor_area: float,
    exterior_share: float,
    share: float,
    *,
    is_new: bool,
) -> float:
    if leaks is None:
        return 0.0
    if rule.credit is Credit.HALF_EXCESS:
        excess = max(leaks - rule.assumed_rate * floor_area, 0.0)
        credit = 0.0 if is_new else 0.5 * excess
    elif rule.credit is Credit.FULL:
        credit = leaks
    else:
        credit = share * leaks * exterior_share
    cap = rule.new_dwelling_cap if is_new else 1.0
    return min(credit, cap * total)


def _local_terms(local: float) -> tuple[Term, ...]:
    if local == 0.0:
        return ()
    return (Term("missing local exhaust", local, "a quarter of what is missing", LOCAL_SOURCE),)


def _credit_terms(rule: Edition, credit: float, share: float) -> tuple[Term, ...]:
    if credit == 0.0:
        return ()
    says = f"credited: {rule.credit.value}"
    if rule.credit is Credit.SUB_ADDITIVE:
        says += f", {100.0 * share:.0f} % of it counts"
    return (Term("infiltration", -credit, says, rule.source),)
