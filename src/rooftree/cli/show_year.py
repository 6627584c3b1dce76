"""Print a simulated year: energy and money by use, loads, air and spaces, what to doubt."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.cli.show import display_system, print_wrapped
from rooftree.diagnosis import grouped
from rooftree.house import Fuel
from rooftree.plan.words import dollars
from rooftree.units import Kind, show

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.actions.simulation import SimulatedYear
    from rooftree.job import Job
    from rooftree.units import DisplaySystem

_FEW = 0.005
"""Share below which a source or a cause is not listed [0-1]."""

_MOST_CAUSES = 16
"""Causes of heating and cooling that are listed."""


def print_year(job: Job, simulated: SimulatedYear, *, metric: bool) -> None:
    """Print what a simulated year tells.

    Parameters
    ----------
    job : Job
        Whose house it is.
    simulated : SimulatedYear
        The year.
    metric : bool
        Whether to show SI units.
    """
    system = display_system(metric=metric)
    print(f"{job.name}: typical year of {job.weather}, house fitted to its tests")
    _print_energy(simulated, system)
    _print_causes(job, simulated)
    _print_loads(job, simulated, system)
    _print_air(job, simulated, system)
    _print_spaces(simulated, system)
    _print_balance(simulated)


def _head(words: str) -> None:
    print(f"\n{words}")


def _line(amount: str, words: str) -> None:
    print(f"  {amount:>14}  {words}")


def _print_energy(simulated: SimulatedYear, system: DisplaySystem) -> None:
    year = simulated.year
    _head("Energy and money")
    for (fuel, use), months in sorted(year.energy.items()):
        kind = Kind.ELECTRICITY if fuel is Fuel.ELECTRICITY else Kind.FUEL
        cost = sum(simulated.cost_by_use.get((fuel, use), ()))
        amount = show(float(months.sum()), kind, system)
        _line(amount, f"{fuel.value}, {use.value}: {dollars(cost)}")
    _line(dollars(simulated.standing_charge), "standing charges")
    _line(dollars(simulated.cost), "energy bills, at the prices of the job")
    _line(
        show(simulated.emissions, Kind.MASS, system),
        "carbon dioxide, from the chimney and from power plants",
    )


def _print_causes(job: Job, simulated: SimulatedYear) -> None:
    causes = simulated.causes.causes
    _head("What heating and cooling are for (shares, not savings)")
    for use in ("heating", "cooling"):
        shares = [(f"{s:.0%}", words) for words, s in grouped(simulated.causes, use) if s >= _FEW]
        if shares:
            print_wrapped(f"{use.capitalize()}: " + ", ".join(f"{s} {w}" for s, w in shares))
    names = {space.id: space.name for space in job.house.spaces}
    for cause in causes[:_MOST_CAUSES]:
        beyond = names.get(cause.beyond, cause.beyond)
        where = f" ({cause.cause}{', ' if beyond else ''}{beyond})" if cause.id else ""
        shares_of = ", ".join(
            f"{share:.0%} of {use}"
            for share, use in ((cause.heating_share, "heating"), (cause.cooling_share, "cooling"))
            if share >= _FEW
        )
        _line(dollars(cause.cost or 0.0), f"{cause.name}{where}: {shares_of}")
    if len(causes) > _MOST_CAUSES:
        print(f"  and {len(causes) - _MOST_CAUSES} smaller causes; --json has all")


def _print_loads(job: Job, simulated: SimulatedYear, system: DisplaySystem) -> None:
    year, loads = simulated.year, simulated.loads
    names = {space.id: f"the {space.name}" for space in job.house.spaces}
    _head("Loads")
    for words, watts, by_space, outdoors in (
        ("heating", loads.heating, loads.heating_by_space, loads.heating_temperature),
        ("cooling", loads.cooling, loads.cooling_by_space, loads.cooling_temperature),
    ):
        at = show(outdoors, Kind.TEMPERATURE, system)
        _line(show(watts, Kind.POWER, system), f"rooms need for {words} at {at} outdoors")
        for space, own in by_space.items():
            _line(show(own, Kind.POWER, system), f"of it {names[space]}")
    for words, watts, hours in (
        ("heating", year.peak_heating, year.unmet_heating_hours),
        ("cooling", year.peak_cooling, year.unmet_cooling_hours),
    ):
        _line(show(watts, Kind.POWER, system), f"most {words} delivered in an hour")
        _line(f"{hours:,} h", f"{words} falls short although it runs without a pause")


def _print_air(job: Job, simulated: SimulatedYear, system: DisplaySystem) -> None:
    year = simulated.year
    _head("Air")
    names = {space.id: f"the {space.name}" for space in job.house.spaces}
    _line(show(year.mean_infiltration, Kind.FLOW, system), "air leaking in, mean")
    for source, share in _largest_first(year.source_shares):
        _line(f"{share:.0%}", f"of it from {names.get(source, source)}")
    for space in job.house.living_spaces:
        print(f"  Air that enters {names[space.id]}")
        for source, share in _largest_first(year.share_of_air(space.id)):
            _line(f"{share:.0%}", f"from {names.get(source, source)}")


def _largest_first(shares: Mapping[str, float]) -> list[tuple[str, float]]:
    listed = [(source, share) for source, share in shares.items() if share >= _FEW]
    return sorted(listed, key=lambda pair: -pair[1])


def _print_spaces(simulated: SimulatedYear, system: DisplaySystem) -> None:
    year = simulated.year
    _head("Spaces")
    for k, space in enumerate(year.space_ids):
        low, mean, high = (
            show(float(t[k]), Kind.TEMPERATURE, system)
            for t in (year.minimum_temperature, year.mean_temperature, year.maximum_temperature)
        )
        damp = int(year.hours_above_80_percent[k])
        print(
            f"  {space:<14}  {low} to {high}, mean {mean}; "
            f"humidity {float(year.mean_relative_humidity[k]):.0%}, {damp:,} h above 80 %"
        )


def _print_balance(simulated: SimulatedYear) -> None:
    year = simulated.year
    _head("Balances")
    print(
        f"  Heat unaccounted for: {year.heat_balance_error:.1e} of all heat; "
        f"air: {year.mass_residual:.1e} kg/s"
    )
    for one in simulated.findings:
        print_wrapped(f"{one.severity}: {one.says} [{one.source}]")
