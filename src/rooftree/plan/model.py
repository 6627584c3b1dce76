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
class Worth:
    """What an investment is worth over a horizon.

    Attributes
    ----------
    savings : float
        Present value of the savings [$].
    investment : float
        Present value of what is paid for them [$].
    net_saving : float
        The first less the second [$].
    savings_to_investment : float or None
        Their ratio [-]; None where nothing is invested.
    rate_of_return : float or None
        Adjusted internal rate of return [1/year]; None where nothing is invested or
        saved.
    simple_payback : float or None
        First cost over the first year's saving [years]; None where it never pays.
    discounted_payback : float or None
        Years until discounted savings cover the investment [years]; None where they do
        not within the horizon.
    """

    savings: float
    investment: float
    net_saving: float
    savings_to_investment: float | None
    rate_of_return: float | None
    simple_payback: float | None
    discounted_payback: float | None


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

    @property
    def lost_to_others(self) -> float:
        """Return what it saves less in its place than alone [$/year]."""
        return self.alone.money_saved - self.in_place.money_saved


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
    whole_low, whole_high : Effect or None
        The same plan with its uncertain measures, such as air sealing, coming out least
        and most effective.
    worth : Worth or None
        What the plan is worth over the horizon.
    alone_sum : Effect or None
        Sum of what each step saves alone: more or less than `whole`, for steps interact.
    """

    before: YearResult
    stages: tuple[Stage, ...]
    whole: Effect
    blocked: tuple[tuple[Measure, str], ...]
    packages: tuple[PackageResult, ...]
    findings: tuple[Finding, ...] = field(default=())
    whole_low: Effect | None = None
    whole_high: Effect | None = None
    worth: Worth | None = None
    alone_sum: Effect | None = None

    @property
    def steps(self) -> tuple[Step, ...]:
        """Return the steps of all stages in order."""
        return tuple(step for stage in self.stages for step in stage.steps)


@dataclass(frozen=True, slots=True)
class PlanSettings:
    """What a plan is made for.

    Attributes
    ----------
    budget : float or None
        Most that the plan may cost, by the middle of the ranges [$]; None for no limit.
    horizon : int
        Years over which savings count [years].
    discount_rate : float
        What a dollar loses in a year [1/year].
    escalation : float or mapping from str to float
        Growth of energy prices beyond that of money [1/year]; of all fuels, or by the
        fuel's name.
    objective : {"net saving", "money saved", "emissions saved"}
        What the package is chosen for, within the budget and after what must be done.
    ventilation_edition : str
        Year of ASHRAE 62.2 by which the house must be ventilated.
    weather_factor : float or None
        Weather and shielding factor of ASHRAE 62.2 at this place [1/h]; computed from
        the year of weather where None.
    wanted, declined : frozenset of str
        Ids of measures that the owner has accepted or declined.
    measured_depressurization : float or None
        Worst case found at the appliance, house below outdoors, baseline taken off
        [Pa], >= 0; what it exceeds the prediction by is added to those for living spaces.
    most_packages : int
        More feasible packages than this are refused rather than simulated.
    """

    budget: float | None = None
    horizon: int = 25
    discount_rate: float = 0.03
    escalation: float | Mapping[str, float] = 0.005
    objective: str = "net saving"
    ventilation_edition: str = "2019"
    weather_factor: float | None = None
    wanted: frozenset[str] = frozenset()
    declined: frozenset[str] = frozenset()
    measured_depressurization: float | None = None
    most_packages: int = 50_000


@dataclass(frozen=True, slots=True)
class Comparison:
    """The house as found beside the house with chosen measures.

    Attributes
    ----------
    before, after : YearResult
        Both through the same year.
    effect : Effect
        What changes.
    cost_low, cost_high : float
        Of the measures that count [$].
    blocked : tuple of (Measure, str)
        Chosen measures that do not count, and why.
    checks : tuple of Finding
        Ventilation, combustion and moisture of the house after.
    house : House
        The house after.
    """

    before: YearResult
    after: YearResult
    effect: Effect
    cost_low: float
    cost_high: float
    blocked: tuple[tuple[Measure, str], ...]
    checks: tuple[Finding, ...]
    house: House
