"""Check the residential test house of NREL/TP-472-7332 against its acceptance ranges.

Typical years of Colorado Springs and Las Vegas from the folder of public typical years; skipped
where they are absent.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import pytest

from conftest import WEATHER
from engine.validation.checks import Check, confirm
from engine.validation.residential_house import CASES
from engine.validation.residential_ranges import COOLING_CHECKS, HEATING_CHECKS, READ, SOURCE
from rooftree.engine import simulate
from rooftree.weather import parse_epw

if TYPE_CHECKING:
    from rooftree.engine import YearResult
    from rooftree.weather import WeatherYear

YEARS = {"AC": WEATHER / "ColoradTMY-v5.0.epw", "AL": WEATHER / "LasvegaTMY-v5.0.epw"}
MILLION_BTU = 1055.056e6

pytestmark = pytest.mark.skipif(
    not all(path.exists() for path in YEARS.values()), reason="needs the typical years of 1981"
)


@cache
def weather(suffix: str) -> WeatherYear:
    """Return a typical year, read once."""
    return parse_epw(YEARS[suffix].read_text())


@cache
def run(case: str) -> YearResult:
    """Return a case in its climate, run once."""
    return simulate(CASES[case[:-2]], weather(case[-2:]))


def load(case: str, heating: bool) -> float:
    """Return the load of a case, or the change between two [million Btu]."""
    one, _, base = case.partition("-")
    loads = [
        run(each).heating_load if heating else run(each).cooling_load
        for each in (one, base)
        if each
    ]
    return (loads[0] - sum(loads[1:])) / MILLION_BTU


@pytest.mark.published(source=SOURCE, where="tables of cases L100AC to L302XC", read=READ)
@pytest.mark.parametrize("check", HEATING_CHECKS, ids=str)
def test_heating_is_acceptable(check: Check) -> None:
    """In Colorado Springs heat, and how changes of the house change it, are acceptable."""
    confirm(check, load(check.case, heating=True))


@pytest.mark.published(source=SOURCE, where="tables of cases L100AL to L170AL", read=READ)
@pytest.mark.parametrize("check", COOLING_CHECKS, ids=str)
def test_cooling_is_acceptable(check: Check) -> None:
    """In Las Vegas cold, and how changes of the house change it, are acceptable."""
    confirm(check, load(check.case, heating=False))


@pytest.mark.published(source=SOURCE, where="net opaque wall, attic slope", read=READ)
def test_areas_are_those_of_the_report() -> None:
    """The house has 1034 ft² of opaque wall of which 257 ft² are framed, and 270 ft² of windows."""
    square_foot = 0.3048**2
    walls = [s for s in CASES["L100"].surfaces if s.inside == "living" and s.kind == "wall"
             and s.outside == "outdoors"]  # fmt: skip
    framed = sum(s.area for s in walls if s.id.endswith("framing"))
    assert sum(s.area for s in walls) / square_foot == pytest.approx(1034.0, abs=0.5)
    assert framed / square_foot == pytest.approx(257.0, abs=2.0)
    assert sum(w.area for w in CASES["L100"].windows) / square_foot == pytest.approx(270.0)


@pytest.mark.published(source=SOURCE, where="daily gains", read=READ)
def test_gains_are_those_of_the_report() -> None:
    """The hours add up to 56 110 Btu of sensible gains a day."""
    day = sum(CASES["L100"].use.sensible_gain) * 3600.0 / 1055.056
    assert day == pytest.approx(56110.0, abs=5.0)


@pytest.mark.parametrize("case", ["L100AC", "L302AC", "L150AL"])
def test_heat_balance_closes(case: str) -> None:
    """No more than a millionth of the heat of the year is unaccounted for."""
    assert run(case).heat_balance_error < 1e-6
