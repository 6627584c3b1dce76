"""Simulated years of many houses, each house once."""

from __future__ import annotations

from hashlib import blake2b
from typing import TYPE_CHECKING, Protocol

from rooftree.bills import cost_by_fuel, emissions_of, energy_by_fuel
from rooftree.errors import PlanError
from rooftree.plan.model import Effect

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from rooftree.bills import Tariff
    from rooftree.engine.results import YearResult
    from rooftree.house import House
    from rooftree.weather.year import WeatherYear

    Progress = Callable[[int, int], None]
    Cancelled = Callable[[], bool]


class PlanCancelledError(PlanError):
    """Somebody stopped the plan before it was made."""


class SimulateMany(Protocol):
    """What runs many houses through one year: :func:`rooftree.engine.simulate_many`."""

    def __call__(
        self,
        houses: Sequence[House],
        year: WeatherYear,
        *,
        workers: int | None = ...,
        progress: Progress | None = ...,
        cancelled: Cancelled | None = ...,
    ) -> Sequence[YearResult]:
        """Return the years in the order of the houses."""


class Years:
    """Simulated years of one weather; a house that was simulated once is not again.

    Parameters
    ----------
    year : WeatherYear
        The weather.
    simulate_many : SimulateMany
        What simulates.
    workers : int or None
        Processes at work; as many as fit where None.
    progress : callable or None
        Told how many houses of how many are done.
    cancelled : callable or None
        Asked whether to stop.
    """

    def __init__(
        self,
        year: WeatherYear,
        simulate_many: SimulateMany,
        *,
        workers: int | None = None,
        progress: Progress | None = None,
        cancelled: Cancelled | None = None,
    ) -> None:
        self._year = year
        self._simulate_many = simulate_many
        self._workers = workers
        self._progress = progress
        self._cancelled = cancelled
        self._known: dict[bytes, YearResult] = {}

    @property
    def simulated(self) -> int:
        """Return how many different houses were simulated."""
        return len(self._known)

    def learn(self, houses: Iterable[House]) -> tuple[bytes, ...]:
        """Simulate those houses that are new; return the key of each of all."""
        keys, new = [], {}
        for house in houses:
            key = digest(house)
            keys.append(key)
            if key not in self._known:
                new[key] = house
        if new:
            self._stop_if_cancelled()
            results = self._simulate_many(
                tuple(new.values()),
                self._year,
                workers=self._workers,
                progress=self._told(len(new)),
                cancelled=self._cancelled,
            )
            self._stop_if_cancelled()
            self._known.update(zip(new, results, strict=True))
        return tuple(keys)

    def _told(self, coming: int) -> Progress | None:
        """Return what tells the progress of one batch as part of all."""
        tell, before = self._progress, len(self._known)
        if tell is None:
            return None
        return lambda done, _: tell(before + done, before + coming)

    def of(self, house: House) -> YearResult:
        """Return the year of one house."""
        return self.at(self.learn((house,))[0])

    def at(self, key: bytes) -> YearResult:
        """Return the year of a house by the key that `learn` gave."""
        return self._known[key]

    def _stop_if_cancelled(self) -> None:
        if self._cancelled is not None and self._cancelled():
            raise PlanCancelledError("the plan was stopped; start it again to have one")


def digest(house: House) -> bytes:
    """Return a short key that equal houses share and different ones do not.

    Parameters
    ----------
    house : House
        Any house.

    Returns
    -------
    bytes
        16 bytes.
    """
    return blake2b(repr(house).encode(), digest_size=16).digest()


def effect_of(before: YearResult, after: YearResult, tariff: Tariff) -> Effect:
    """Return what one year changes against another.

    Parameters
    ----------
    before, after : YearResult
        The two years.
    tariff : Tariff
        Prices and emissions.

    Returns
    -------
    Effect
        Savings; negative where more is bought.
    """
    was, now = energy_by_fuel(before), energy_by_fuel(after)
    saved = {fuel: was.get(fuel, 0.0) - now.get(fuel, 0.0) for fuel in (*was, *now)}
    money = sum(cost_by_fuel(before, tariff).values()) - sum(cost_by_fuel(after, tariff).values())
    return Effect(saved, money, emissions_of(before, tariff) - emissions_of(after, tariff))


def money_saved_by_fuel(before: YearResult, after: YearResult, tariff: Tariff) -> dict[str, float]:
    """Return what one year saves against another, fuel by fuel.

    Parameters
    ----------
    before, after : YearResult
        The two years.
    tariff : Tariff
        Prices.

    Returns
    -------
    dict from str to float
        Savings with standing charges [$/year].
    """
    was, now = cost_by_fuel(before, tariff), cost_by_fuel(after, tariff)
    return {fuel: was.get(fuel, 0.0) - now.get(fuel, 0.0) for fuel in (*was, *now)}
