"""The section in words: the text that stands for the drawing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.house import OUTDOORS
from rooftree.papers.section.arrows import SMALLEST_FLOW
from rooftree.papers.section.degrees import to_the_degree
from rooftree.units import DisplaySystem, Kind, show

if TYPE_CHECKING:
    from rooftree.house import House
    from rooftree.papers.section.pressures import SectionPressures
    from rooftree.papers.section.state import SectionState


def describe_section(
    house: House,
    state: SectionState,
    system: DisplaySystem,
    pressures: SectionPressures | None = None,
) -> str:
    """Return the text that stands for the drawing.

    Parameters
    ----------
    house : House
        What is drawn.
    state : SectionState
        What holds in it.
    system : DisplaySystem
        Units to show.
    pressures : SectionPressures or None
        Measured ones.

    Returns
    -------
    str
        Spaces, flows and pressures in sentences.
    """
    rooms = "; ".join(
        f"{space.name} {to_the_degree(state.temperature[space.id], system)}, "
        f"{100.0 * state.relative_humidity[space.id]:.0f} % humidity"
        for space in house.spaces
    )
    sentences = [f"{state.when.rstrip('.')}.", f"{rooms}.", _flows(house, state, system)]
    return " ".join([*sentences, *_pressures(house, pressures, system)])


def _flows(house: House, state: SectionState, system: DisplaySystem) -> str:
    """Return every flow into, out of and between the living spaces."""
    living = {space.id for space in house.living_spaces}
    names = {space.id: space.name for space in house.spaces} | {OUTDOORS: "outdoors"}
    flows = "; ".join(
        f"{show(amount, Kind.FLOW, system, digits=2)} from {names[source]} to {names[target]}"
        for (source, target), amount in sorted(state.flow.items(), key=lambda item: -item[1])
        if amount > SMALLEST_FLOW and not living.isdisjoint((source, target))
    )
    return f"Air: {flows}." if flows else "Hardly any air moves."


def _pressures(
    house: House, pressures: SectionPressures | None, system: DisplaySystem
) -> list[str]:
    if pressures is None:
        return []
    zones = [
        f"With the test fan at 50 Pa the {house.space(key).name} was "
        f"{show(value, Kind.PRESSURE, system, digits=2)} from the house."
        for key, value in pressures.zones.items()
    ]
    burners = [
        f"In the worst case the {name} stood at {show(value, Kind.PRESSURE, system, digits=2)}."
        for name, value in pressures.appliances.items()
    ]
    return zones + burners
