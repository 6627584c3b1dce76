"""Print design loads and the machines beside them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.cli.show import display_system, print_table, print_wrapped
from rooftree.engine.design import loads_by_kind, parts_of_house
from rooftree.units import Kind, show, show_range

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.actions.loads import Design, DesignState
    from rooftree.engine.design import DesignLoads, LoadPart
    from rooftree.engine.sizing import MachineSize
    from rooftree.job import Job
    from rooftree.units import DisplaySystem

LARGEST = 10
"""Parts of a load that are listed by name."""


def print_loads(job: Job, design: Design, *, metric: bool) -> None:
    """Print the loads by room and by cause, and the machines, for each state of the house."""
    system = display_system(metric=metric)
    names = {space.id: space.name for space in job.house.spaces}
    print(f"{job.name}: design loads, days of {design.weather}")
    for state in design.states:
        print(f"\n{state.name}")
        _print_days(state.loads, system)
        _print_rooms(state.loads, names, system)
        _print_kinds(state.loads, system)
        for use, parts in (
            ("heating", state.loads.heating_parts),
            ("cooling", state.loads.cooling_parts),
        ):
            _print_parts(use, parts, names, system)
        _print_machines(state, system)
        for finding in state.sizing.findings:
            source = f" [{finding.source}]" if finding.source else ""
            print_wrapped(f"{finding.severity}: {finding.says}{source}", system=system)
    if len(design.states) > 1:
        _print_sequence(design, system)


def _power(watts: float, system: DisplaySystem) -> str:
    return show(watts, Kind.POWER, system)


def _print_days(loads: DesignLoads, system: DisplaySystem) -> None:
    def degrees(kelvin: float) -> str:
        return show(kelvin, Kind.TEMPERATURE, system)

    print_wrapped(
        f"Cold day: {degrees(loads.heating_temperature)} outdoors, rooms at "
        f"{degrees(loads.heating_indoors)}, no sun, nobody in. Hot day: up to "
        f"{degrees(loads.cooling_temperature)} outdoors, rooms at "
        f"{degrees(loads.cooling_indoors)} and 50 % relative humidity, worst hour from "
        f"{loads.cooling_hour}:00 standard time. Losses of ducts apart."
    )


def _print_rooms(loads: DesignLoads, names: Mapping[str, str], system: DisplaySystem) -> None:
    rows = [
        [names.get(space, space), *(_power(by_space[space], system) for by_space in (
            loads.heating_by_space, loads.cooling_by_space, loads.latent_by_space))]
        for space in loads.heating_by_space
    ]  # fmt: skip
    whole = (loads.heating, loads.cooling, loads.cooling_latent)
    rows.append(["all together", *(_power(watts, system) for watts in whole)])
    columns = ["room", "heating", "cooling", "moisture"]
    print_table("Rooms (each room's cooling in its own worst hour)", columns, rows)


def _print_kinds(loads: DesignLoads, system: DisplaySystem) -> None:
    heating, cooling = loads_by_kind(loads.heating_parts), loads_by_kind(loads.cooling_parts)
    rows = [
        [kind.value, _power(heating.get(kind, (0.0, 0.0))[0], system),
         *(_power(watts, system) for watts in cooling.get(kind, (0.0, 0.0)))]
        for kind in dict.fromkeys((*heating, *cooling))
    ]  # fmt: skip
    print_table("What it comes from", ["", "heating", "cooling", "moisture"], rows)


def _print_parts(
    use: str, parts: tuple[LoadPart, ...], names: Mapping[str, str], system: DisplaySystem
) -> None:
    rows = [
        [_called(part, names), _power(part.sensible, system), *_moisture(part, system)]
        for part in parts_of_house(parts)[:LARGEST]
    ]
    is_moist = any(cell for _, _, cell in rows)
    columns = ["", "heat", "moisture"] if is_moist else ["", "heat"]
    print_table(f"Largest parts of {use}", columns, [row[: len(columns)] for row in rows])


def _moisture(part: LoadPart, system: DisplaySystem) -> list[str]:
    return [_power(part.latent, system) if part.latent else ""]


def _called(part: LoadPart, names: Mapping[str, str]) -> str:
    beyond = names.get(part.beyond, part.beyond)
    if part.name:
        return f"{part.name}, {part.kind.value}"
    return f"{part.kind.value} from {beyond}" if beyond else part.kind.value


def _print_machines(state: DesignState, system: DisplaySystem) -> None:
    rows = [_machine_row(machine, system) for machine in state.sizing.machines]
    if not rows:
        print_wrapped("No central machine whose size is known.")
        return
    columns = ["", "plate", "gives heat", "moisture", "rooms get", "load here", "fits"]
    print_table("Machines at the design hour, losses of ducts counted", columns, rows)


def _machine_row(machine: MachineSize, system: DisplaySystem) -> list[str]:
    fits = machine.range
    return [
        f"{machine.kind}, {machine.use}",
        _power(machine.rated, system),
        _power(machine.sensible + machine.backup, system),
        _power(machine.latent, system) if machine.latent else "",
        _power(machine.delivered, system),
        _power(machine.total_load, system),
        show_range(fits.least, fits.most, Kind.POWER, system) if fits else "",
    ]


def _print_sequence(design: Design, system: DisplaySystem) -> None:
    rows = [
        [
            state.name,
            *(
                _power(watts, system)
                for watts in (
                    state.loads.heating, state.loads.cooling, state.loads.cooling_latent,
                )
            ),
        ]
        for state in design.states
    ]  # fmt: skip
    print()
    print_table("Loads of all rooms, stage by stage", ["", "heating", "cooling", "moisture"], rows)
