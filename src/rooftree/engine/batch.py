"""Houses laid side by side in lanes, and the state and books of their run."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np

from rooftree.engine.arrays import (
    HOURS,
    SUMS,
    USES,
    Air,
    Elements,
    Flows,
    Paths,
    Plant,
    Records,
    State,
    Totals,
    Weather,
    Work,
)
from rooftree.engine.lanes import WIDTH, addresses, kind_of, lanes_of
from rooftree.engine.network import make_flows

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from rooftree.engine.compile import Compiled

Group = TypeVar("Group", Air, Elements, Paths, Plant)

SETTLING = 30
"""Days of outdoor air that buffer spaces and layers remember when a run starts."""

_OF_MODES = ("fade", "feel_inside", "feel_outside", "push_inside", "push_outside", "store")


@dataclass(frozen=True, slots=True, eq=False)
class Batch:
    """Up to `WIDTH` houses of one shape in the same weather, as the hour loop reads them.

    Attributes
    ----------
    weather, elements, air, paths, plant : see :mod:`rooftree.engine.arrays`
        With lanes; lanes beyond the houses repeat the last one.
    houses : int
        Lanes that are houses.
    alike : bool
        Whether the elements are the same in all lanes; their arrays then have no lanes.
    """

    weather: Weather
    elements: Elements
    air: Air
    paths: Paths
    plant: Plant
    houses: int
    alike: bool

    def tables(self) -> list[NDArray[np.int64]]:
        """Return the tables of addresses of all groups, in the order of the hour loop."""
        elements = addresses(self.elements, alike=self.alike)
        others = (addresses(group) for group in (self.air, self.paths, self.plant))
        return [addresses(self.weather), elements, *others]


def shape_of(compiled: Compiled) -> tuple[object, ...]:
    """Return what must be equal for houses to lie side by side.

    Parameters
    ----------
    compiled : Compiled
        A house as arrays.

    Returns
    -------
    tuple
        Hashable.
    """
    parts: list[object] = [id(compiled.weather)]
    for group in (compiled.elements, compiled.air, compiled.paths, compiled.plant):
        for name in group._fields:
            value = getattr(group, name)
            if name in ("modes", "mode", "owner"):
                continue
            if isinstance(value, int):
                parts.append(value)
            elif kind_of(group, name) in ("Integers", "Floats"):
                parts.append(value.tobytes())
    return tuple(parts)


def lay_side_by_side(houses: Sequence[Compiled]) -> Batch:
    """Lay houses side by side.

    Parameters
    ----------
    houses : sequence of Compiled
        1 to `WIDTH` houses of one shape (`shape_of`).

    Returns
    -------
    Batch
    """
    lanes = [*houses, *[houses[-1]] * (WIDTH - len(houses))]
    first = houses[0].elements
    alike = all(_are_equal(each.elements, first) for each in houses[1:])
    every = [each.elements for each in lanes]
    return Batch(
        weather=houses[0].weather,
        elements=first if alike else _widened(_with_equal_modes(every)),
        air=_widened([each.air for each in lanes]),
        paths=_widened([each.paths for each in lanes]),
        plant=_widened([each.plant for each in lanes]),
        houses=len(houses),
        alike=alike,
    )


def _are_equal(one: Elements, other: Elements) -> bool:
    """Return whether two houses have the same surfaces and windows."""
    return one is other or all(
        a is b or np.array_equal(np.asarray(a), np.asarray(b))
        for a, b in zip(one, other, strict=True)
    )


def _widened(groups: list[Group]) -> Group:
    """Return a group whose numbers have a lane for each of several groups."""
    first = groups[0]
    fields = {}
    for name in first._fields:
        value = getattr(first, name)
        if kind_of(first, name) in ("Row", "Grid"):
            lanes = lanes_of(*value.shape)
            for k, group in enumerate(groups):
                lanes[..., k] = getattr(group, name)
            value = lanes
        fields[name] = value
    return type(first)(**fields)


def _with_equal_modes(groups: list[Elements]) -> list[Elements]:
    """Give every element as many modes as it has in the lane where it has most."""
    counts = np.array([np.diff(group.mode) for group in groups])
    most = counts.max(axis=0)
    if (counts == most).all():
        return groups
    starts = np.concatenate([[0], np.cumsum(most)]).astype(np.int64)
    owner = np.repeat(np.arange(most.size), most).astype(np.int64)
    return [_padded(group, starts, owner) for group in groups]


def _padded(group: Elements, starts: NDArray[np.int64], owner: NDArray[np.int64]) -> Elements:
    """Return the elements with modes at new places; the added ones do nothing."""
    rank = np.arange(group.owner.size) - group.mode[group.owner]
    place = starts[group.owner] + rank
    fields: dict[str, Any] = {}
    for name in _OF_MODES:
        values = np.zeros(owner.size)
        values[place] = getattr(group, name)
        fields[name] = values
    return group._replace(modes=owner.size, mode=starts, owner=owner, **fields)


def make_state(batch: Batch, days: NDArray[np.int64]) -> State:
    """Return the state from which a run starts: a steady one for the weeks before.

    Parameters
    ----------
    batch : Batch
        The houses.
    days : ndarray of int64, shape (WIDTH,)
        Day of the weather at which each lane starts [-]; the end stands before the beginning.

    Returns
    -------
    State
        Living spaces at 20 °C; buffer spaces halfway between that and outdoors, those on
        the ground halfway between this and the ground.
    """
    elements, air = batch.elements, batch.air
    outdoor, ground, humid = _weather_before(batch.weather, days)
    n, m = air.spaces, elements.count
    spaces = np.where(air.living[:, None] == 1, 293.15, 0.5 * (293.15 + outdoor)[None, :])
    on_ground = np.zeros(n, dtype=bool)
    on_ground[elements.space[elements.first_ground : elements.first_partition]] = True
    on_ground &= air.living == 0
    spaces[on_ground] = 0.5 * (spaces[on_ground] + ground)
    inside = spaces[elements.space]
    outside = np.tile(outdoor, (m, 1))
    outside[elements.first_ground : elements.first_partition] = ground
    between = slice(elements.first_partition, None)
    outside[between] = spaces[elements.other[between]]
    rows = [elements.push_inside, elements.push_outside, elements.fade]
    push_inside, push_outside, fade = (row[:, None] if batch.alike else row for row in rows)
    pushed = push_inside * inside[elements.owner]
    pushed += push_outside * outside[elements.owner]
    return State(
        air=_laid(spaces),
        radiant=_laid(spaces),
        humidity=_laid(np.tile(np.minimum(humid, 0.012), (n, 1))),
        face_inside=_laid(inside),
        face_outside=_laid(outside),
        modes=_laid(pushed / (1.0 - fade)),
        drying_heat=lanes_of(n),
        running=lanes_of(1),
        burning=lanes_of(1),
    )


def _laid(values: NDArray[np.float64]) -> NDArray[np.float64]:
    lanes = lanes_of(*values.shape[:-1])
    lanes[:] = values
    return lanes


def _weather_before(
    weather: Weather, days: NDArray[np.int64]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return mean air, ground and vapor of the weeks before each lane's first day."""
    every = weather.hours // HOURS
    daily = weather.table[: every * HOURS, [0, 2, 4]].reshape(every, HOURS, 3).mean(axis=1)
    back = (days[:, None] - 1 - np.arange(min(SETTLING, every))[None, :]) % every
    before = daily[back]
    return before[:, :, 0].mean(axis=1), before[:, 0, 1], before[:, :, 2].mean(axis=1)


def make_work(batch: Batch) -> Work:
    """Return the scratch arrays of the hour loop.

    Parameters
    ----------
    batch : Batch
        The houses.

    Returns
    -------
    Work
    """
    n, m, c = batch.air.spaces, batch.elements.count, batch.plant.thermostats
    uses = USES + batch.plant.room_units
    of_elements = {name for name in Work._fields if name.startswith(("past_i", "past_o", "by"))}
    of_elements |= {name for name in Work._fields if name.startswith("beyond")}
    of_thermostats = {
        "heat", "hot_full", "hot_input", "cold_full", "cold_input", "sensible", "condensate",
        "may_cool",
    }  # fmt: skip
    special = {
        "now": (batch.weather.count,), "matrix": (2 * n, 2 * n), "right": (2 * n,),
        "system": (n, n), "inflow": (n, n + 1), "shares": (c, n), "respond": (c, n),
        "windows": (1,), "exchange": (1,), "bought": (uses,), "day": (uses,),
    }  # fmt: skip
    shapes: dict[str, tuple[int, ...]] = dict.fromkeys(Work._fields, (n,))
    shapes |= dict.fromkeys(of_elements, (m,)) | dict.fromkeys(of_thermostats, (c,))
    shapes |= special
    fields = {name: lanes_of(*shape) for name, shape in shapes.items()}
    fields["now_numbers"] = fields["now"].reshape(-1)
    return Work(**fields)


def make_totals(batch: Batch) -> Totals:
    """Return empty totals.

    Parameters
    ----------
    batch : Batch
        The houses.

    Returns
    -------
    Totals
    """
    n, uses = batch.air.spaces, USES + batch.plant.room_units
    temperature = lanes_of(3, n)
    temperature[1] = np.inf
    return Totals(
        uses=uses,
        counted=lanes_of(1),
        sums=lanes_of(SUMS),
        bought=lanes_of(12, uses),
        temperature=temperature,
        humidity=lanes_of(2, n),
        sources=lanes_of(n + 1),
        entering=lanes_of(n, n + 1),
    )


def make_records(batch: Batch, rows: int) -> Records:
    """Return room for hourly results.

    Parameters
    ----------
    batch : Batch
        The houses.
    rows : int
        Hours to be kept; 0 if none are wanted.

    Returns
    -------
    Records
    """
    n, m, uses = batch.air.spaces, batch.elements.count, USES + batch.plant.room_units
    widths = dict.fromkeys(Records._fields, n)
    widths |= {"flow": batch.paths.count, "entering": n * (n + 1), "bought": uses}
    widths |= dict.fromkeys(
        ("face_inside", "face_outside", "conducted_inside", "conducted_outside"), m
    )
    fields: dict[str, Any] = {"wanted": int(rows > 0)}
    for name in Records._fields[1:]:
        single = kind_of(Records, name) == "Row"
        fields[name] = lanes_of(rows) if single else lanes_of(rows, widths[name])
    return Records(**fields)


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """A batch on its way through the weather, with the tables that keep its arrays alive."""

    batch: Batch
    days: NDArray[np.int64]
    state: State
    flows: Flows
    work: Work
    totals: Totals
    tables: tuple[NDArray[np.int64], ...]


def start_run(batch: Batch, days: NDArray[np.int64]) -> Run:
    """Return a batch about to start.

    Parameters
    ----------
    batch : Batch
        The houses.
    days : ndarray of int64, shape (WIDTH,)
        Day from which each lane starts [-].

    Returns
    -------
    Run
    """
    flows = make_flows(batch.air.spaces, batch.paths.count)
    flows.coefficient[:] = batch.air.coefficient
    changing = (make_state(batch, days), flows, make_work(batch), make_totals(batch))
    tables = (*batch.tables(), *(addresses(group) for group in changing))
    return Run(batch, days.astype(np.int64).copy(), *changing, tables)
