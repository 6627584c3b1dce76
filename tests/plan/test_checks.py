"""Check what is said of moisture and comfort after a stage."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from rooftree.finding import Severity
from rooftree.plan.checks import damp_hours, judge_comfort, judge_moisture
from rooftree.plan.model import PlanSettings
from rooftree.plan.offers import Offers
from rooftree.plan.words import dollars, listed
from rooftree.weather.year import HOURS

if TYPE_CHECKING:
    from rooftree.engine.results import YearResult
    from rooftree.house import House
    from rooftree.weather.year import WeatherYear

MAIN, CRAWL = 0, 4
"""Places of the main floor and the crawlspace among the spaces."""


@pytest.fixture(name="found")
def year_as_found(house: House, linear: Any) -> YearResult:
    """Return a year in which no space is damp."""
    (year,) = linear([house], None)
    return replace(year, hours_above_80_percent=np.zeros(6, dtype=np.int64))


def with_damp(year: YearResult, place: int, hours: int) -> YearResult:
    """Return a year in which one space is damp for some hours."""
    damp = np.zeros(6, dtype=np.int64)
    damp[place] = hours
    return replace(year, hours_above_80_percent=damp)


@pytest.mark.parametrize(
    ("place", "was", "hours", "severity"),
    [
        (CRAWL, 2000, 1500, Severity.NOTE),
        (CRAWL, 1000, 2500, Severity.NOTE),
        (CRAWL, 1000, 3500, Severity.GATE),
        (MAIN, 400, 600, Severity.GATE),
        (MAIN, 600, 610, Severity.NOTE),
    ],
)
def test_damper_than_before_and_than_outdoors_is_a_gate(
    place: int, was: int, hours: int, severity: Severity, house: House, found: YearResult
) -> None:
    """A crawlspace may follow outdoor air of 3,000 damp hours; a room may not get damper."""
    offers = Offers(house, [], PlanSettings(), 0.25)
    before, after = with_damp(found, place, was), with_damp(found, place, hours)
    (finding,) = judge_moisture(offers, before, after, 3000)
    assert finding.severity is severity
    assert (finding.value, finding.limit) == (hours, was)
    assert f"{hours:,} hours of the year" in finding.says


def test_dry_spaces_are_not_mentioned(house: House, found: YearResult) -> None:
    """Below 500 hours nothing is said."""
    offers = Offers(house, [], PlanSettings(), 0.25)
    assert judge_moisture(offers, found, with_damp(found, CRAWL, 499), 3000) == ()


def test_comfort_is_told_for_heating_and_cooling(found: YearResult) -> None:
    """Hours off the thermostat are told where they were or are many."""
    cold = replace(found, unmet_heating_hours=100, unmet_cooling_hours=0)
    warm = replace(found, unmet_heating_hours=0, unmet_cooling_hours=30)
    assert [f.code for f in judge_comfort(cold, warm)] == [
        "plan/comfort-heating",
        "plan/comfort-cooling",
    ]
    calm = replace(found, unmet_heating_hours=0, unmet_cooling_hours=23)
    assert judge_comfort(calm, calm) == ()


def test_damp_hours_of_a_year(weather: WeatherYear) -> None:
    """Dew at 7 °C in air of 10 °C is 82 %, damp all year; in air of 12 °C it is 72 %, never."""
    dry = replace(weather, temperature=np.full(HOURS, 285.15))
    assert damp_hours(weather) == HOURS
    assert damp_hours(dry) == 0


def test_words_of_sentences() -> None:
    """Amounts are rounded as an estimate deserves, and lists read as sentences do."""
    assert (dollars(1236.0), dollars(-1236.0), dollars(87.4)) == ("$1,240", "-$1,240", "$87")
    assert (listed([]), listed(["a"]), listed(["a", "b", "c"])) == ("", "a", "a, b and c")
