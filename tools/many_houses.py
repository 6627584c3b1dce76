"""Run many random houses through a year and show how well heat, air and vapor balance.

python tools/many_houses.py 10000
python tools/many_houses.py 200 --days 30 --first 5000
"""

from __future__ import annotations

import argparse
import math
import sys
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from engine.random_houses import numbered_house  # noqa: E402
from engine.weather_years import first_days  # noqa: E402
from rooftree.engine import simulate  # noqa: E402
from rooftree.errors import RooftreeError  # noqa: E402
from rooftree.house.sound import require_sound  # noqa: E402
from rooftree.weather import parse_tmy3  # noqa: E402

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.weather import WeatherYear

MOST_HEAT, MOST_AIR, MOST_VAPOR = 1e-6, 1e-6, 1e-6
"""What may be left over: of heat that passed [-], of air in any hour [kg/s], of vapor [-]."""

SHOWN = 5
"""Houses that are listed as the worst of each kind."""


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


def run_house(number: int, days: int) -> Outcome:
    """Run one house and return what is left over."""
    nothing = math.nan
    house = numbered_house(number)
    try:
        require_sound(house)
        year = simulate(house, weather(days))
    except (RooftreeError, ArithmeticError) as refused:
        return Outcome(number, nothing, nothing, nothing, nothing, nothing, str(refused))
    return Outcome(
        number,
        year.heat_balance_error,
        year.mass_residual,
        abs(year.vapor_balance_error),
        float(year.minimum_temperature.min()),
        float(year.maximum_temperature.max()),
    )


def _run(task: tuple[int, int]) -> Outcome:
    return run_house(*task)


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
    parser.add_argument("--workers", type=int, default=None, help="processes; default all cores")
    asked = parser.parse_args(arguments)
    tasks = [(asked.first + k, asked.days) for k in range(asked.houses)]
    if asked.workers == 1:
        outcomes = [_run(task) for task in tasks]
    else:
        run_house(asked.first, 1)  # the hour loop is compiled once, before all cores need it
        with ProcessPoolExecutor(asked.workers) as pool:
            outcomes = list(pool.map(_run, tasks, chunksize=8))
    print(report(outcomes, asked.days))
    return 0 if all(outcome.is_good for outcome in outcomes) else 1


if __name__ == "__main__":
    raise SystemExit(main())
