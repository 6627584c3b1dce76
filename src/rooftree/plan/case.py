"""What a plan is made from: offers, gates, constraints, years and prices of one house."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.plan.checks import damp_hours
from rooftree.plan.feasible import constraints_of, implied_gates
from rooftree.plan.offers import Offers
from rooftree.plan.years import effect_of
from rooftree.readings.ventilation import weather_shielding_factor

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rooftree.bills import Tariff
    from rooftree.house import House
    from rooftree.plan.feasible import Constraint
    from rooftree.plan.model import Effect, Measure, PlanSettings
    from rooftree.plan.years import Years
    from rooftree.survey import Gate
    from rooftree.weather.year import WeatherYear


@dataclass(frozen=True, slots=True)
class Case:
    """What a plan is made from.

    Attributes
    ----------
    offers : Offers
        Measures on offer, with the house as found.
    gates : tuple of Gate
        All that stand, those included that the house sets by itself.
    constraints : tuple of Constraint
        What every package obeys.
    years : Years
        Simulated years.
    tariff : Tariff
        Prices and emissions.
    outdoors : int
        Hours of the year in which the outdoor air is damp.
    weather_factor : float
        Weather and shielding factor of ASHRAE 62.2 [1/h].
    weather_says : str
        How the factor was computed; empty where it was given.
    """

    offers: Offers
    gates: tuple[Gate, ...]
    constraints: tuple[Constraint, ...]
    years: Years
    tariff: Tariff
    outdoors: int
    weather_factor: float
    weather_says: str

    def effect(self, before: House, after: House) -> Effect:
        """Return what changes from one house to another."""
        return effect_of(self.years.of(before), self.years.of(after), self.tariff)


def open_case(
    house: House,
    measures: Iterable[Measure],
    gates: Iterable[Gate],
    year: WeatherYear,
    tariff: Tariff,
    settings: PlanSettings,
    years: Years,
) -> Case:
    """Return what a plan for a house is made from.

    Parameters
    ----------
    house : House
        The house as found.
    measures : iterable of Measure
        On offer.
    gates : iterable of Gate
        From observations and tests.
    year : WeatherYear
        The weather.
    tariff : Tariff
        Prices and emissions.
    settings : PlanSettings
        What the plan is made for.
    years : Years
        What simulates.

    Returns
    -------
    Case
    """
    given = settings.weather_factor
    computed = weather_shielding_factor(year) if given is None else None
    factor, says = (computed.value, computed.says) if computed else (float(given or 0.0), "")
    offers = Offers(house, measures, settings, factor)
    standing = implied_gates(house, gates)
    constraints = constraints_of(offers, standing)
    return Case(offers, standing, constraints, years, tariff, damp_hours(year), factor, says)
