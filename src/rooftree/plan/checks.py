"""What holds after a stage: fresh air, flues, moisture, comfort, and what to test again."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from rooftree.finding import Finding, Severity
from rooftree.house import SpaceKind
from rooftree.physics.air import saturation_pressure
from rooftree.plan.combustion import CAUTION, judge_flues
from rooftree.plan.measures.air import EXPECTED
from rooftree.plan.ventilation import judge_ventilation
from rooftree.survey import retests_after

if TYPE_CHECKING:
    from rooftree.engine.results import YearResult
    from rooftree.house import Space
    from rooftree.plan.offers import Offers
    from rooftree.weather.year import WeatherYear

DAMP_AIR = 0.8
"""Relative humidity above which air counts as damp [-]."""

DAMP_HOURS = 500
"""Hours a year of air above 80 % relative humidity from which a space is reported [h];
judgement."""

MORE_DAMP = 1.05
"""Dampness rises when these hours grow by more than this factor [-]; judgement."""

OFF_HOURS = 24
"""Hours a year off the thermostat from which comfort is reported [h]; judgement."""

HUMIDITY_SOURCE = (
    "80 % relative humidity: the screen of ANSI/ASHRAE Standard 160 for mould, there for surfaces "
    "over 30 days (recalled); here hours of air"
)

_TESTS = {
    "fan-test": "the fan test",
    "duct-leakage": "the duct leakage test",
    "combustion": "the combustion test in the worst case",
    "ventilation": "the measured flow of every fan",
}


def check_stage(
    offers: Offers,
    done: int,
    whole: int,
    kinds: frozenset[str],
    found: YearResult,
    now: YearResult,
    outdoors: int,
) -> tuple[Finding, ...]:
    """Return what holds after a stage and what to test before leaving.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    done : int
        Measures done by then.
    whole : int
        The whole package, which sizes the fan.
    kinds : frozenset of str
        Kinds of measure in the stage.
    found, now : YearResult
        The house as found and after the stage, through the year.
    outdoors : int
        Hours of the year in which the outdoor air is damp, of :func:`damp_hours`.

    Returns
    -------
    tuple of Finding
        Fresh air first, then flues, moisture, comfort, tests.
    """
    air = judge_ventilation(
        offers.ventilation(0, outcome=EXPECTED),
        offers.ventilation(done, whole=whole, outcome=EXPECTED),
        offers.settings,
        tightest=offers.ventilation(done, whole=whole),
    )
    return (
        air,
        *judge_flues(offers.pulls(0), offers.pulls(done, whole=whole)),
        *judge_moisture(offers, found, now, outdoors),
        *judge_comfort(found, now),
        *_retests(kinds),
    )


def damp_hours(year: WeatherYear) -> int:
    """Return the hours of a year in which the outdoor air is above 80 % relative humidity.

    Parameters
    ----------
    year : WeatherYear
        The weather.

    Returns
    -------
    int
        Of 8760.
    """
    dew, dry = (
        np.array([saturation_pressure(float(kelvin)) for kelvin in temperatures])
        for temperatures in (year.dew_point, year.temperature)
    )
    return int(np.count_nonzero(dew > DAMP_AIR * dry))


def judge_moisture(
    offers: Offers, found: YearResult, now: YearResult, outdoors: int
) -> tuple[Finding, ...]:
    """Return how long the air of each space is damp, where that is long.

    Parameters
    ----------
    offers : Offers
        With the house as found, for the names and kinds of its spaces.
    found, now : YearResult
        The house as found and after a stage.
    outdoors : int
        Hours of the year in which the outdoor air is damp.

    Returns
    -------
    tuple of Finding
        One for each space that is damp or was. A gate where the air of a living space
        gets damper, or that of another space damper than outdoors; a space that a
        better insulated house no longer warms follows the outdoor air, which is a note.
    """
    made = []
    for index, space_id in enumerate(now.space_ids):
        was, hours = (int(year.hours_above_80_percent[index]) for year in (found, now))
        if max(was, hours) >= DAMP_HOURS:
            space = offers.house.space(space_id)
            lives = space.kind is SpaceKind.LIVING
            made.append(_damp(space, was, hours, 0 if lives else outdoors))
    return tuple(made)


def _damp(space: Space, was: int, hours: int, bearable: int) -> Finding:
    rises = hours > MORE_DAMP * was
    wrong = rises and hours > bearable
    if wrong:
        remedy = (
            " Find where the moisture comes from before this stage is called done; drain, cover "
            "the ground, exhaust or dehumidify."
        )
    elif rises:
        remedy = (
            " It gets colder there, for less heat is lost into it; that is no damper than the "
            f"outdoor air ({bearable:,} hours). Look for wet wood at the next visit."
        )
    else:
        remedy = ""
    return Finding(
        "plan/moisture-rises" if wrong else "plan/moisture",
        Severity.GATE if wrong else Severity.NOTE,
        f"The air of the {space.name} is above 80 % relative humidity for {hours:,} hours of the "
        f"year, {_as_found(was, hours)}.{remedy}",
        float(hours),
        float(was),
        "h",
        HUMIDITY_SOURCE,
        space.id,
    )


def judge_comfort(found: YearResult, now: YearResult) -> tuple[Finding, ...]:
    """Return how long the equipment falls short of the thermostat, where that matters.

    Parameters
    ----------
    found, now : YearResult
        The house as found and after a stage.

    Returns
    -------
    tuple of Finding
        For heating and for cooling.
    """
    made = []
    for what, was, hours in (
        ("heating", found.unmet_heating_hours, now.unmet_heating_hours),
        ("cooling", found.unmet_cooling_hours, now.unmet_cooling_hours),
    ):
        if max(was, hours) >= OFF_HOURS:
            says = (
                f"The {what} runs without a pause and still misses the thermostat in some room for "
                f"{hours:,} hours of the year, {_as_found(was, hours)}."
            )
            about = "the simulated year"
            made.append(
                Finding(f"plan/comfort-{what}", Severity.NOTE, says, hours, was, "h", about)
            )
    return tuple(made)


def _as_found(was: int, now: int) -> str:
    return "as when it was found" if was == now else f"{was:,} as found"


def _retests(kinds: frozenset[str]) -> tuple[Finding, ...]:
    tests = retests_after(kinds)
    if not tests:
        return ()
    caution = f" {CAUTION}" if "combustion" in tests else ""
    listed = ", ".join(_TESTS[test] for test in tests)
    return (
        Finding(
            "plan/retest",
            Severity.NOTE,
            f"Before this stage is called done, repeat: {listed}.{caution}",
            source="state weatherization standards: test after each day of such work",
        ),
    )
