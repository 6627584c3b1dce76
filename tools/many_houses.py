"""Run many random houses through a year and show how well heat, air and vapor balance.

python tools/many_houses.py 10000
python tools/many_houses.py 200 --days 30 --first 5000
"""

from __future__ import annotations

import argparse
import math
import sys
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from engine.random_houses import numbered_house  # noqa: E402
from engine.weather_years import first_days  # noqa: E402
from rooftree.engine import simulate_many  # noqa: E402
from rooftree.engine.simulation import FEW  # noqa: E402
from rooftree.errors import RooftreeError  # noqa: E402
from rooftree.house.sound import require_sound  # noqa: E402
from rooftree.weather import parse_tmy3  # noqa: E402

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.engine import YearResult
    from rooftree.house import House
    from rooftree.weather import WeatherYear

MOST_HEAT, MOST_AIR, MOST_VAPOR = 1e-6, 1e-6, 1e-6
"""What may be left over: of heat that passed [-], of air in any hour [kg/s], of vapor [-]."""

SHOWN = 5
"""Houses that are listed as the worst of each kind."""

TOGETHER = FEW - 2
"""Houses handed over together: too few to share the lanes, for which no two have one shape, so
that each one's year is run in parts. If one is refused, each of them is run by itself."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What is left over in one house.

    Attributes
    ----------
    number : int
        Of the house.
    heat, air, vapor : float
        Left over, see `MOST_HEAT` and its companions; not a number if the run failed.
    coldest, hottest : float
        Of any space in any hour [K].
    error : str
        Why it was refused; empty if it was not.
    """

    number: int
    heat: float
    air: float
    vapor: float
    coldest: float
    hottest: float
    error: str = ""

    @property
    def is_good(self) -> bool:
        """Return whether everything balances."""
        return self.heat <= MOST_HEAT and self.air <= MOST_AIR and self.vapor <= MOST_VAPOR


@cache
def weather(days: int) -> WeatherYear:
    """Return the typical year that comes with pvlib, or its first days."""
    year = parse_tmy3((files("pvlib") / "data" / "723170TYA.CSV").read_text())
    return first_days(year, days) if days < 365 else year


def run_houses(numbers: Sequence[int], days: int, workers: int | None = None) -> list[Outcome]:
    """Run some houses and return what is left over in each, refused ones too."""
    refused, sound = {}, {}
    for number in numbers:
        house = numbered_house(number)
        try:
            require_sound(house)
        except RooftreeError as error:
            refused[number] = _refused(number, error)
        else:
            sound[number] = house
    run = _run_sound(sound, days, workers)
    return [refused.get(number) or run[number] for number in numbers]


def _run_sound(houses: dict[int, House], days: int, workers: int | None) -> dict[int, Outcome]:
    """Run sound houses together, or one by one where that fails.

    Each time in a copy of the weather, since a year keeps what was computed for every
    direction that a house ever faced, and random houses face all.
    """
    year = replace(weather(days))
    try:
        years = simulate_many(tuple(houses.values()), year, workers=workers)
    except (RooftreeError, ArithmeticError) as error:
        if len(houses) == 1:
            return {number: _refused(number, error) for number in houses}
        alone = [_run_sound({number: house}, days, 1) for number, house in houses.items()]
        return {number: outcome for each in alone for number, outcome in each.items()}
    return {number: _outcome(number, year) for number, year in zip(houses, years, strict=True)}


def _outcome(number: int, year: YearResult) -> Outcome:
    return Outcome(
        number,
        year.heat_balance_error,
        year.mass_residual,
        abs(year.vapor_balance_error),
        float(year.minimum_temperature.min()),
        float(year.maximum_temperature.max()),
    )


def _refused(number: int, error: Exception) -> Outcome:
    return Outcome(number, *(math.nan,) * 5, str(error))


def _worst(outcomes: Sequence[Outcome], name: str) -> list[Outcome]:
    def badness(outcome: Outcome) -> float:
        value: Any = getattr(outcome, name)
        return math.inf if math.isnan(value) else value

    return sorted(outcomes, key=badness, reverse=True)[:SHOWN]


def report(outcomes: Sequence[Outcome], days: int) -> str:
    """Return what many houses came to, as text."""
    bad = [outcome for outcome in outcomes if not outcome.is_good]
    refused = [outcome for outcome in outcomes if outcome.error]
    lines = [
        (
            f"{len(outcomes)} random houses, {days} days each: {len(outcomes) - len(bad)} balance, "
            f"{len(bad)} do not, {len(refused)} of them were refused"
        )
    ]
    for name, unit in (("heat", "-"), ("air", "kg/s"), ("vapor", "-"), ("hottest", "K")):
        worst = ", ".join(
            f"{getattr(each, name):.3g} (house {each.number})" for each in _worst(outcomes, name)
        )
        lines.append(f"worst {name} [{unit}]: {worst}")
    coldest = min(outcomes, key=lambda each: each.coldest)
    lines.append(f"coldest [K]: {coldest.coldest:.1f} (house {coldest.number})")
    lines += [f"house {each.number} refused: {each.error}" for each in refused[:SHOWN]]
    return "\n".join(lines)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the houses that the command line asks for; return 1 if one does not balance."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("houses", type=int, help="how many")
    parser.add_argument("--days", type=int, default=365, help="of weather; default a year")
    parser.add_argument("--first", type=int, default=0, help="number of the first house")
    parser.add_argument(
        "--workers", type=int, default=None, help="threads; default one for each core"
    )
    asked = parser.parse_args(arguments)
    last = asked.first + asked.houses
    outcomes: list[Outcome] = []
    for first in range(asked.first, last, TOGETHER):
        numbers = range(first, min(first + TOGETHER, last))
        outcomes += run_houses(numbers, asked.days, asked.workers)
    print(report(outcomes, asked.days))
    return 0 if all(outcome.is_good for outcome in outcomes) else 1


if __name__ == "__main__":
    raise SystemExit(main())
