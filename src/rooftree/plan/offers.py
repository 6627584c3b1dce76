"""The measures on offer for one house, and the house that any set of them makes.

A set is a whole number whose bits stand for the measures in the order of work, so that
sets are joined, compared and remembered cheaply.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.errors import PlanError
from rooftree.plan.combustion import FluePull, beyond_prediction, flue_pulls
from rooftree.plan.leakage import flow_at_50
from rooftree.plan.measures import apply_measure, kind_of, ranked
from rooftree.plan.measures.air import (
    EXPECTED,
    LEFT,
    OUTCOME,
    TIGHTEST_OUTCOME,
    crack_share_left,
)
from rooftree.plan.ventilation import NOTICED, Ventilation, fan_size, ventilation_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from rooftree.house import House
    from rooftree.plan.model import Measure, PlanSettings

SEALING, VENTILATION = "air-sealing", "ventilation"


class Offers:
    """Measures on offer for a house; remembers every house it has made.

    Parameters
    ----------
    house : House
        The house as found.
    measures : iterable of Measure
        On offer.
    settings : PlanSettings
        What the plan is made for.
    weather_factor : float
        Weather and shielding factor of ASHRAE 62.2 [1/h].
    """

    def __init__(
        self,
        house: House,
        measures: Iterable[Measure],
        settings: PlanSettings,
        weather_factor: float,
    ) -> None:
        self.house = house
        self.measures = ranked(measures)
        self.settings = settings
        self._factor = weather_factor
        self._index = {measure.id: k for k, measure in enumerate(self.measures)}
        if len(self._index) < len(self.measures):
            twice = sorted(
                {m.id for m in self.measures if sum(o.id == m.id for o in self.measures) > 1}
            )
            raise PlanError(f"measures {', '.join(twice)} are listed twice: give each its own id")
        self._houses: dict[tuple[tuple[str, object], ...], House] = {}
        self._flows: dict[int, float] = {}
        self._shares: dict[tuple[str, str], float] = {}
        self._ventilations: dict[int, Ventilation] = {}
        self._leakages: dict[int, float] = {}
        self._pulls: dict[int, tuple[FluePull, ...]] = {}
        self._extra_pull: float | None = None
        self.leak_mask = self.touching("leaks")
        self.fan_mask = self.touching("fans")
        self.flue_mask = self.touching("leaks", "fans", "ducts", "heating", "water_heater")

    def touching(self, *parts: str) -> int:
        """Return the measures that change some part of the house."""
        return self.where(lambda measure: bool(kind_of(measure).touches.intersection(parts)))

    def of_kind(self, *kinds: str) -> int:
        """Return the measures of some kinds."""
        return self.where(lambda measure: measure.kind in kinds)

    def where(self, wanted: Callable[[Measure], bool]) -> int:
        """Return the measures of which something is true."""
        return sum(1 << k for k, measure in enumerate(self.measures) if wanted(measure))

    def bits(self, ids: Iterable[str]) -> int:
        """Return the set of some ids; PlanError names one that is not on offer."""
        chosen = 0
        for each in ids:
            if each not in self._index:
                raise PlanError(
                    f"measure {each!r} is not on offer; these are: {', '.join(self._index)}"
                )
            chosen |= 1 << self._index[each]
        return chosen

    def bit(self, measure: Measure) -> int:
        """Return the set that holds one measure."""
        return 1 << self._index[measure.id]

    def chosen(self, bits: int) -> tuple[Measure, ...]:
        """Return the measures of a set in the order of work."""
        return tuple(measure for k, measure in enumerate(self.measures) if bits >> k & 1)

    def ids(self, bits: int) -> frozenset[str]:
        """Return the ids of a set."""
        return frozenset(measure.id for measure in self.chosen(bits))

    def cost(self, bits: int) -> float:
        """Return the middle of the cost range of a set [$]."""
        return sum(measure.cost for measure in self.chosen(bits))

    def settled(self, bits: int, whole: int, outcome: str = EXPECTED) -> tuple[Measure, ...]:
        """Return a set as it is built: fan sized for the whole plan, sealing as it comes out."""
        return tuple(self._settle(measure, whole, outcome) for measure in self.chosen(bits))

    def _settle(self, measure: Measure, whole: int, outcome: str) -> Measure:
        if measure.kind == SEALING:
            left = self._crack_share(measure, outcome)
            return replace(measure, settings={**measure.settings, LEFT: left})
        if measure.kind == VENTILATION and "flow" not in measure.settings:
            flow = self.fan_flow(measure, whole)
            return replace(measure, settings={**measure.settings, "flow": flow})
        return measure

    def _crack_share(self, measure: Measure, outcome: str) -> float:
        """Return what sealing leaves of every crack, by its target for the house as found."""
        key = (measure.id, outcome)
        if key not in self._shares:
            settings = kind_of(measure).complete({**measure.settings, OUTCOME: outcome})
            self._shares[key] = crack_share_left(self.house, settings)
        return self._shares[key]

    def fan_flow(self, measure: Measure, whole: int) -> float:
        """Return the size of a whole-house fan for the tightest that a set may come to [m³/s]."""
        others = whole & (self.leak_mask | self.fan_mask) & ~self.of_kind(VENTILATION)
        key = others | self.bit(measure)
        if key not in self._flows:
            tightest = self.house_of(others, outcome=TIGHTEST_OUTCOME)
            style = str(kind_of(measure).complete(measure.settings)["style"])
            self._flows[key] = fan_size(tightest, self.settings, self._factor, style)
        return self._flows[key]

    def house_of(self, bits: int, *, whole: int | None = None, outcome: str = EXPECTED) -> House:
        """Return the house with a set done, as part of a whole plan (itself where None)."""
        measures = self.settled(bits, bits if whole is None else whole, outcome)
        key: tuple[tuple[str, object], ...] = ()
        house = self.house
        for measure in measures:
            mark = measure.settings.get(LEFT, measure.settings.get("flow"))
            key = (*key, (measure.id, mark))
            if key not in self._houses:
                self._houses[key] = apply_measure(house, measure)
            house = self._houses[key]
        return house

    def leakage(self, bits: int) -> float:
        """Return the flow at 50 Pa with a set done [m³/s]."""
        key = bits & self.leak_mask
        if key not in self._leakages:
            self._leakages[key] = flow_at_50(self.house_of(key))
        return self._leakages[key]

    def tightens(self, bits: int) -> bool:
        """Return whether a set makes the house tighter by more than a fan test would miss."""
        return self.leakage(bits) < (1.0 - NOTICED) * self.leakage(0)

    def ventilation(
        self, bits: int, *, whole: int | None = None, outcome: str = TIGHTEST_OUTCOME
    ) -> Ventilation:
        """Return the fresh air that the house needs and has with a set done."""
        scope = bits & (self.leak_mask | self.fan_mask)
        within = scope if whole is None else whole & (self.leak_mask | self.fan_mask)
        house = self.house_of(scope, whole=within, outcome=outcome)
        return ventilation_of(house, self.settings, self._factor)

    def pulls(self, bits: int, *, whole: int | None = None) -> tuple[FluePull, ...]:
        """Return the worst pull on each flue with a set done, sealing at its tightest."""
        if self._extra_pull is None:
            self._extra_pull = beyond_prediction(
                self.house, self.settings.measured_depressurization
            )
        scope = bits & self.flue_mask
        within = scope if whole is None else whole & self.flue_mask
        house = self.house_of(scope, whole=within, outcome=TIGHTEST_OUTCOME)
        return flue_pulls(house, extra=self._extra_pull)
