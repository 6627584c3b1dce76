"""What a plan is made of."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.engine.results import YearResult
    from rooftree.finding import Finding
    from rooftree.house import House


@dataclass(frozen=True, slots=True)
class Measure:
    """One improvement that is offered for this house.

    Attributes
    ----------
    id : str
        Unique in the job.
    kind : str
        Which change it makes: a key of ``rooftree.plan.measures.KINDS``.
    title : str
        In the owner's words.
    settings : mapping from str to float or str
        What the change needs, SI: ``{"target_flow_50": 0.52}``.
    cost_low, cost_high : float
        Range of what it costs [$].
    cost_basis : str
        Quoted, price book or estimate, with date.
    life : float
        Years until it must be done again [years].
    trade : str
        Who does it.
    anyway_cost : float
        Part of the cost that is due in any case, such as a furnace at its end [$].
    """

    id: str
    kind: str
    title: str
    settings: Mapping[str, float | str]
    cost_low: float
    cost_high: float
    cost_basis: str
    life: float
    trade: str
    anyway_cost: float = 0.0

    @property
    def cost(self) -> float:
        """Return the middle of the cost range [$]."""
        return 0.5 * (self.cost_low + self.cost_high)


@dataclass(frozen=True, slots=True)
class Effect:
    """What something changes in a year, against what it is compared with.

    Attributes
    ----------
    energy_saved : mapping from str to float
        By the fuel's name [J/year]; negative where more is bought.
    money_saved : float
        [$/year].
    emissions_saved : float
        CO2-equivalent [kg/year].
    """

    energy_saved: Mapping[str, float]
    money_saved: float
    emissions_saved: float


@dataclass(frozen=True, slots=True)
class Step:
    """One measure at its place in a plan.

    Attributes
    ----------
    alone : Effect
        Done alone in the house as found.
    in_place : Effect
        Done after all steps before it.
    why_here : str
        Reason for its place in the order, one or two plain sentences.
    """

    measure: Measure
    alone: Effect
    in_place: Effect
    why_here: str


@dataclass(frozen=True, slots=True)
class Stage:
    """Work done at one time, after which it is safe to stop.

    Attributes
    ----------
    name : str
        Such as ``"Make it safe"``.
    steps : tuple of Step
        In order.
    house : House
        The house after this stage.
    year : YearResult
        That house through the year.
    checks : tuple of Finding
        Ventilation, combustion, moisture after this stage: what holds and what to test.
    cost_low, cost_high : float
        Of the stage [$].
    """

    name: str
    steps: tuple[Step, ...]
    house: House
    year: YearResult
    checks: tuple[Finding, ...]

    @property
    def cost_low(self) -> float:
        """Return the low end of the stage's cost [$]."""
        return sum(step.measure.cost_low for step in self.steps)

    @property
    def cost_high(self) -> float:
        """Return the high end of the stage's cost [$]."""
        return sum(step.measure.cost_high for step in self.steps)


@dataclass(frozen=True, slots=True)
class PackageResult:
    """One feasible set of measures, simulated.

    Attributes
    ----------
    measures : frozenset of str
        Ids.
    cost : float
        Middle of the range, of all measures [$].
    money_saved, emissions_saved : float
        Against the house as found [$/year], [kg/year].
    net_saving : float
        Present value of savings less cost over the horizon [$].
    unmet_hours : int
        Hours off the thermostat, heating and cooling.
    """

    measures: frozenset[str]
    cost: float
    money_saved: float
    emissions_saved: float
    net_saving: float
    unmet_hours: int


@dataclass(frozen=True, slots=True)
class Plan:
    """The staged plan, with what it was chosen from.

    Attributes
    ----------
    before : YearResult
        The house as found through the year.
    stages : tuple of Stage
        In order.
    whole : Effect
        All stages together against the house as found.
    blocked : tuple of (Measure, str)
        Measures left out, and why.
    packages : tuple of PackageResult
        Every feasible package that was simulated.
    findings : tuple of Finding
        Gates and stops that shaped the plan.
    """

    before: YearResult
    stages: tuple[Stage, ...]
    whole: Effect
    blocked: tuple[tuple[Measure, str], ...]
    packages: tuple[PackageResult, ...]
    findings: tuple[Finding, ...] = field(default=())

    @property
    def steps(self) -> tuple[Step, ...]:
        """Return the steps of all stages in order."""
        return tuple(step for stage in self.stages for step in stage.steps)
