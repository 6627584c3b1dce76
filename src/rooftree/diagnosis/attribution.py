"""What the bought energy is for: heat, cold and money shared out among their causes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.diagnosis.heat import Cause
from rooftree.diagnosis.simulated_year import HOUR
from rooftree.engine.ducts import supply_shares
from rooftree.engine.moist import HEAT_OF_AIR, HEAT_OF_EVAPORATION
from rooftree.finding import Finding, Severity
from rooftree.house import EndUse, Fuel
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from rooftree.diagnosis.heat import HeatSplit
    from rooftree.diagnosis.simulated_year import SimulatedYear

    Floats = NDArray[np.float64]

DUCTS, DAMPNESS = "ducts", "moisture"
"""Names of the two causes that are not part of the heat of the rooms: what ducts lose on the
way, and the water that the cooling coil takes out."""

WORTH_SAYING = 0.05
"""Share from which a cause is named in a sentence [0-1]; ours."""


@dataclass(frozen=True, slots=True)
class EnergyCause:
    """One cause of the energy bought for heating and cooling.

    Attributes
    ----------
    cause : str
        Of which kind: a `Cause`, ``"ducts"`` or ``"moisture"``.
    id, name : str
        Of the surface, window, leak or fan; empty id where there is none.
    beyond : str
        Id of what lies on its other side; empty where nothing does.
    heating_share, cooling_share : float
        Share in what is bought for heating and for cooling over the year [0-1].
    energy : mapping from Fuel to float
        What is bought because of it in the year [J].
    cost : float or None
        What that costs [$/year]; None without prices.
    heating_months, cooling_months : mapping from Fuel to tuple of float
        What of it is bought in each month for heating, and for cooling [J].
    """

    cause: str
    id: str
    name: str
    beyond: str
    heating_share: float
    cooling_share: float
    energy: Mapping[Fuel, float]
    cost: float | None
    heating_months: Mapping[Fuel, tuple[float, ...]]
    cooling_months: Mapping[Fuel, tuple[float, ...]]


@dataclass(frozen=True, slots=True, eq=False)
class Attribution:
    """The energy of heating and cooling by cause.

    Attributes
    ----------
    causes : tuple of EnergyCause
        The dearest first, or without prices the one with most energy.
    heating, cooling : mapping from Fuel to float
        What is shared out: bought for heating and for cooling in the year, each with its
        part of what the air handler draws [J].
    from_equipment_heat, from_equipment_cold : float
        Heat and cold that left the equipment in the year, moisture included [J].
    """

    causes: tuple[EnergyCause, ...]
    heating: Mapping[Fuel, float]
    cooling: Mapping[Fuel, float]
    from_equipment_heat: float
    from_equipment_cold: float


def attribute_energy(
    year: SimulatedYear, whole: HeatSplit, prices: Mapping[Fuel, float] | None = None
) -> Attribution:
    """Share out the energy bought for heating and cooling among what causes it.

    Parameters
    ----------
    year : SimulatedYear
        The year.
    whole : HeatSplit
        Of the living spaces together.
    prices : mapping from Fuel to float or None
        Price of each fuel [$/J]; fuels that are not named cost nothing.

    Returns
    -------
    Attribution

    Notes
    -----
    Shares are a convention, here this one. In each month only the hours count in which a
    living space is heated. What ducts lose is the heat that leaves the equipment less the
    heat that reaches the living spaces; its share is that of the equipment's heat. The rest
    is shared among all parts that took heat out of the living spaces over those hours, in
    proportion to what each took. Sun, people and all else that brought heat in, and heat
    stored, so spare every loss alike. Cooling is the same with the signs turned, and with
    the moisture that the coil takes out as a cause of its own, by its heat of evaporation.
    Bought energy of the month is multiplied by the shares of the month; what the air
    handler draws goes to heating and cooling by the hours that it ran for each.

    A share is not a saving: a loss that is stopped changes temperatures, run times and the
    other losses. For savings the house is simulated again.
    """
    hot, cold = _by_part(year, whole, heats=True), _by_part(year, whole, heats=False)
    labels = [(part.cause.value, part.id, part.name, part.beyond) for part in whole.parts]
    labels += [(DUCTS, "", "what ducts lose on the way", ""),
               (DAMPNESS, "", "moisture taken out of the air", "")]  # fmt: skip
    bought_hot, bought_cold = _bought(year)
    causes = []
    for k, (cause, name_id, name, beyond) in enumerate(labels):
        heat, cool = _energy(hot.shares[:, k], bought_hot), _energy(cold.shares[:, k], bought_cold)
        energy = {fuel: heat.get(fuel, 0.0) + cool.get(fuel, 0.0) for fuel in {*heat, *cool}}
        if not any(energy.values()):
            continue
        cost = None
        if prices is not None:
            cost = sum(amount * prices.get(fuel, 0.0) for fuel, amount in energy.items())
        causes.append(
            EnergyCause(
                cause,
                name_id,
                name,
                beyond,
                _share(heat, bought_hot),
                _share(cool, bought_cold),
                dict(sorted(energy.items())),
                cost,
                _by_month(hot.shares[:, k], bought_hot),
                _by_month(cold.shares[:, k], bought_cold),
            )
        )
    causes.sort(key=lambda each: (-(each.cost or 0.0), -sum(each.energy.values())))
    return Attribution(
        tuple(causes),
        {fuel: float(months.sum()) for fuel, months in bought_hot.items()},
        {fuel: float(months.sum()) for fuel, months in bought_cold.items()},
        hot.made,
        cold.made,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Shares:
    """Shares of the parts, of ducts and of moisture by month, and what was made in the year."""

    shares: Floats
    made: float


def _by_part(year: SimulatedYear, whole: HeatSplit, *, heats: bool) -> _Shares:
    runs, sign = (year.heats, -1.0) if heats else (year.cools, 1.0)
    equipment = [part.cause is Cause.EQUIPMENT for part in whole.parts]
    moved = sign * year.by_month(np.where(runs[:, None], whole.heat, 0.0)) * HOUR
    moved[:, equipment] = 0.0
    taken = np.maximum(moved, 0.0)
    delivered, made = (_monthly(year, runs, each) for each in _made(year, heats=heats))
    moisture = np.zeros(12)
    if not heats:
        moisture = _monthly(year, runs, year.hourly.condensate * HEAT_OF_EVAPORATION)
    total = np.maximum(made, delivered) + moisture
    lost = np.maximum(made - delivered, 0.0)
    with np.errstate(invalid="ignore", divide="ignore"):
        ducts = np.where(total > 0.0, lost / total, 0.0)
        damp = np.where(total > 0.0, moisture / total, 0.0)
        rest = np.where(total > 0.0, 1.0 - ducts - damp, 0.0) / taken.sum(axis=1)
    shares = np.where(taken > 0.0, taken * rest[:, None], 0.0)
    return _Shares(np.column_stack([shares, ducts, damp]), float(total.sum()))


def _monthly(year: SimulatedYear, runs: NDArray[np.bool_], power: Floats) -> Floats:
    return np.asarray(year.by_month(np.where(runs, power, 0.0)) * HOUR)


def _made(year: SimulatedYear, *, heats: bool) -> tuple[Floats, Floats]:
    """Return what reaches the living spaces, and what left the equipment, hour by hour [W].

    Through ducts, more leaves than what all spaces together get: air that leaks into the
    return from a colder space has to be warmed to the rooms', and air that leaks out of
    the supply was warmed from the rooms' state and not from that of the space it leaks into.
    """
    hourly, house = year.hourly, year.house
    sign = 1.0 if heats else -1.0
    net = sign * (hourly.heating - hourly.cooling)
    delivered = net[:, year.is_living].sum(axis=1)
    flow = year.duct_flow()
    if not house.ducts or flow == 0.0:
        return delivered, net.sum(axis=1)
    supply, back = supply_shares(house)
    n = supply.size
    lost, drawn = np.zeros(n), np.zeros(n)
    for run in house.ducts:
        into = lost if run.side == "supply" else drawn
        into[year.result.space_ids.index(run.space)] += run.leakage
    reaching = supply * (1.0 - lost.sum()) + lost
    taken = back * (1.0 - drawn.sum()) + drawn
    warmed = hourly.temperature @ (reaching - taken)
    running = sign * flow * HEAT_OF_AIR * hourly.runtime * warmed
    return delivered, net.sum(axis=1) + running


def _bought(year: SimulatedYear) -> tuple[dict[Fuel, Floats], dict[Fuel, Floats]]:
    """Return what is bought for heating and cooling by fuel and month [J]."""
    hot: dict[Fuel, Floats] = {}
    cold: dict[Fuel, Floats] = {}
    run = year.hourly.runtime
    hot_run = year.by_month(np.where(year.heats, run, 0.0))
    cold_run = year.by_month(np.where(year.cools, run, 0.0))
    all_run = hot_run + cold_run
    hot_part = np.where(all_run > 0.0, hot_run / np.maximum(all_run, 1e-9), 0.5)
    for (fuel, use), months in year.result.energy.items():
        if use is EndUse.HEATING:
            hot[fuel] = hot.get(fuel, np.zeros(12)) + months
        elif use is EndUse.COOLING:
            cold[fuel] = cold.get(fuel, np.zeros(12)) + months
        elif use is EndUse.AIR_MOVING:
            hot[fuel] = hot.get(fuel, np.zeros(12)) + hot_part * months
            cold[fuel] = cold.get(fuel, np.zeros(12)) + (1.0 - hot_part) * months
    return hot, cold


def _energy(shares: Floats, bought: Mapping[Fuel, Floats]) -> dict[Fuel, float]:
    return {fuel: float(shares @ months) for fuel, months in bought.items()}


def _by_month(shares: Floats, bought: Mapping[Fuel, Floats]) -> dict[Fuel, tuple[float, ...]]:
    return {fuel: tuple(map(float, shares * months)) for fuel, months in bought.items()}


def _share(energy: Mapping[Fuel, float], bought: Mapping[Fuel, Floats]) -> float:
    total = sum(float(months.sum()) for months in bought.values())
    return sum(energy.values()) / total if total > 0.0 else 0.0


def judge_attribution(attribution: Attribution) -> tuple[Finding, ...]:
    """Say what most of the heating and the cooling is for.

    Parameters
    ----------
    attribution : Attribution
        As shared out.

    Returns
    -------
    tuple of Finding
        One for heating and one for cooling, where there is any.
    """
    findings = []
    for use, bought in (("heating", attribution.heating), ("cooling", attribution.cooling)):
        total = sum(bought.values())
        if total <= 0.0:
            continue
        groups = grouped(attribution, use)
        named = [(name, share) for name, share in groups if share >= WORTH_SAYING]
        listed = ", ".join(f"{100.0 * share:.0f} % {name}" for name, share in named[:6])
        says = (
            f"Of the {both(total, Kind.ENERGY)} that {use} takes in the year, causes have these "
            f"shares: {listed}. Largest alone: {_largest(attribution, use)}. A share is not a "
            "saving; simulate the measure for that."
        )
        source = "shares by what each took while the equipment ran; a convention of ours"
        findings.append(
            Finding(f"diagnosis/{use}-causes", Severity.NOTE, says, total, None, "J", source)
        )
    return tuple(findings)


def _largest(attribution: Attribution, use: str) -> str:
    """Return the three largest causes by name: ``"ceiling 21 %, ducts 20 %"``."""
    shares = [(_share_in(each, use), each.name) for each in attribution.causes]
    largest = sorted(shares, key=lambda pair: -pair[0])[:3]
    return ", ".join(f"{name} {100.0 * share:.0f} %" for share, name in largest)


def _share_in(cause: EnergyCause, use: str) -> float:
    return cause.heating_share if use == "heating" else cause.cooling_share


def grouped(attribution: Attribution, use: str) -> tuple[tuple[str, float], ...]:
    """Return shares of causes of one kind together, largest first.

    Parameters
    ----------
    attribution : Attribution
        As shared out.
    use : str
        ``"heating"`` or ``"cooling"``.

    Returns
    -------
    tuple of (str, float)
        Words for the causes, and their share [0-1].
    """
    shares: dict[str, float] = {}
    for each in attribution.causes:
        share = _share_in(each, use)
        words = _GROUPS.get(each.cause, each.cause)
        shares[words] = shares.get(words, 0.0) + share
    return tuple(sorted(shares.items(), key=lambda pair: -pair[1]))


_GROUPS = {
    Cause.SURFACE.value: "surfaces",
    Cause.GLASS.value: "glass",
    Cause.SUN.value: "sun through windows",
    Cause.LEAK.value: "air through leaks",
    Cause.OPENING.value: "air through open doors and windows",
    Cause.FAN.value: "air from fans",
    Cause.PEOPLE.value: "people, lights and appliances",
    Cause.WATER_HEATER.value: "the water heater",
    Cause.DEHUMIDIFIER.value: "dehumidifiers",
    Cause.BETWEEN.value: "heat stored between the rooms",
    DUCTS: "ducts",
    DAMPNESS: "moisture",
}
