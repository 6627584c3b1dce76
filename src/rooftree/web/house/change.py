"""What a change of the house does to its year, as tables of before, after and difference."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.house import OUTDOORS, EndUse, Fuel
from rooftree.units import DisplaySystem, Kind, show
from rooftree.web.energy import kind_of
from rooftree.web.rendering import money, share
from rooftree.web.sheets.layout import Group

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from rooftree.actions.house import HouseTrial, TriedYear
    from rooftree.bills.tariff import Tariff
    from rooftree.web.sheets.layout import Sheet

NONE = "—"
"""Stands where there is nothing to compare with, and where nothing changes."""


@dataclass(frozen=True, slots=True)
class Pair:
    """One quantity before and after.

    Attributes
    ----------
    before, after, difference : str
        As shown; `NONE` where there is none.
    """

    before: str
    after: str
    difference: str

    @property
    def is_changed(self) -> bool:
        """Return whether the difference can be seen."""
        return self.difference != NONE


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its name, and one pair for each column of the table."""

    words: str
    pairs: tuple[Pair, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of pairs.

    Attributes
    ----------
    caption : str
        What it shows.
    columns : tuple of str
        Heads: one for the names, one for each pair.
    rows : tuple of Row
        In the order in which they are read.
    """

    caption: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]


def sentence_of(trial: HouseTrial) -> str:
    """Return in one sentence what a change does to a year's cost."""
    before, after = trial.before, trial.after
    if after is None:
        return trial.says
    if before is None:
        return "The house can be simulated with this change; as it is saved it cannot."
    if before is after:
        return _cost_now(after)
    if before.cost is None or after.cost is None:
        return "The tariff of the job lacks a price, so that the year cannot be told in money."
    saved = round(before.cost) - round(after.cost)
    if not saved:
        return f"A year costs the same with this change: {money(after.cost)}."
    more_or_less = "less" if saved > 0 else "more"
    return (
        f"With this change a year costs {money(abs(saved))} {more_or_less}: {money(after.cost)} "
        f"instead of {money(before.cost)}."
    )


def _cost_now(now: TriedYear) -> str:
    if now.cost is None:
        return "The house as it is saved; the tariff of the job lacks a price."
    return f"The house as it is saved: a year costs {money(now.cost)}."


def replaced_by_tests(tried: TriedYear, sheet: Sheet, part: str) -> str:
    """Return in words what tests put in the place of what is written down of a part.

    Parameters
    ----------
    tried : TriedYear
        The house and its year.
    sheet : Sheet
        Form of the part, for the words of its fields.
    part : str
        Name of the part in its house.

    Returns
    -------
    str
        Empty where nothing is replaced.
    """
    words = {one.name: one.words for group in sheet.parts if isinstance(group, Group)
             for one in group.fields}  # fmt: skip
    words |= {rows.name: rows.legend.partition(",")[0] for rows in sheet.lists}
    by_note: dict[str, list[str]] = {}
    for name, note in tried.replaced(sheet.kind, part):
        by_note.setdefault(note, []).append(words.get(name, name).lower())
    if not by_note:
        return ""
    found = [", ".join(names) + (f" ({note})" if note else "") for note, names in by_note.items()]
    return (
        f"A test of the job stands here in place of what is written down: {'; '.join(found)}. "
        "What is typed there is kept, and counts only without the test."
    )


def tables_of(trial: HouseTrial, tariff: Tariff, system: DisplaySystem) -> tuple[Table, ...]:
    """Return the tables of a trial; none where there is no year after the change.

    Parameters
    ----------
    trial : HouseTrial
        Before and after.
    tariff : Tariff
        Prices of the job.
    system : DisplaySystem
        In which units.

    Returns
    -------
    tuple of Table
        Energy and money, rooms, peaks, and where the air comes from.
    """
    if trial.after is None:
        return ()
    before, after = trial.before, trial.after
    return (
        Table(
            "Bought in a year",
            ("For", "Energy", "Money"),
            tuple(_energy(before, after, tariff, system)),
        ),
        Table(
            "Rooms and spaces",
            ("Space", "Coldest hour", "Hottest hour", "Hours above 80 %"),
            tuple(_rooms(before, after, system)),
        ),
        Table("Needs", ("", "Size"), tuple(_peaks(before, after, system))),
        Table(
            "Where the air comes from",
            ("Through", "Share of the air through leaks"),
            tuple(_shares(before, after)),
        ),
    )


def _energy(
    before: TriedYear | None, after: TriedYear, tariff: Tariff, system: DisplaySystem
) -> Iterator[Row]:
    bought = dict.fromkeys((*(before.year.energy if before else ()), *after.year.energy))
    order = [(fuel, use) for use in EndUse for fuel in Fuel if (fuel, use) in bought]
    for fuel, use in order:
        old = None if before is None else before.year.bought(fuel, use)
        new = after.year.bought(fuel, use)
        if not new and not old:
            continue
        yield Row(
            f"{use}, {fuel}",
            (_pair(old, new, kind_of(fuel), system), _paid(old, new, tariff.price.get(fuel))),
        )
    yield Row(
        "All, with standing charges", (_all_energy(before, after, system), _costs(before, after))
    )


def _paid(before: float | None, after: float, price: float | None) -> Pair:
    if price is None:
        return Pair(NONE, "no price", NONE)
    return _money_pair(None if before is None else before * price, after * price)


def _costs(before: TriedYear | None, after: TriedYear) -> Pair:
    if after.cost is None:
        return Pair(NONE, "no price", NONE)
    return _money_pair(None if before is None else before.cost, after.cost)


def _all_energy(before: TriedYear | None, after: TriedYear, system: DisplaySystem) -> Pair:
    old = None if before is None else before.year.bought()
    return _pair(old, after.year.bought(), Kind.ENERGY, system)


def _rooms(before: TriedYear | None, after: TriedYear, system: DisplaySystem) -> Iterator[Row]:
    names = {} if before is None else {one.id: one.name for one in before.house.spaces}
    names |= {one.id: one.name for one in after.house.spaces}
    for space, name in names.items():
        old, new = _air_of(before, space), _air_of(after, space)
        warmth = [
            _either(old and old[k], new and new[k], Kind.TEMPERATURE, system) for k in range(2)
        ]
        yield Row(name, (*warmth, _hours(old and int(old[2]), new and int(new[2]))))


def _air_of(tried: TriedYear | None, space: str) -> tuple[float, float, float] | None:
    """Return coldest and hottest hour of a space [K] and its damp hours."""
    if tried is None or space not in tried.year.space_ids:
        return None
    year, k = tried.year, tried.year.space_ids.index(space)
    return (
        float(year.minimum_temperature[k]),
        float(year.maximum_temperature[k]),
        float(year.hours_above_80_percent[k]),
    )


def _peaks(before: TriedYear | None, after: TriedYear, system: DisplaySystem) -> Iterator[Row]:
    for words, kind, size_of in _SIZES:
        old, new = None if before is None else size_of(before), size_of(after)
        yield Row(words, (_pair(old, new, kind, system),))
    for words, hours_of in _OFF:
        hours = None if before is None else hours_of(before)
        yield Row(f"Hours off the thermostat, {words}", (_hours(hours, hours_of(after)),))


_SIZES: tuple[tuple[str, Kind, Callable[[TriedYear], float]], ...] = (
    ("Heat on the cold design day", Kind.POWER, lambda one: one.loads.heating),
    ("Cooling on the hot design day", Kind.POWER, lambda one: one.loads.cooling),
    ("Most heat delivered in an hour", Kind.POWER, lambda one: one.year.peak_heating),
    ("Most cooling delivered in an hour", Kind.POWER, lambda one: one.year.peak_cooling),
    ("Air that comes in through leaks", Kind.FLOW, lambda one: one.year.mean_infiltration),
)
"""Sizes that a change may move, what they measure and where they stand."""

_OFF: tuple[tuple[str, Callable[[TriedYear], int]], ...] = (
    ("heating", lambda one: one.year.unmet_heating_hours),
    ("cooling", lambda one: one.year.unmet_cooling_hours),
)


def _shares(before: TriedYear | None, after: TriedYear) -> Iterator[Row]:
    old: Mapping[str, float] = {} if before is None else before.year.source_shares
    new = after.year.source_shares
    names = {one.id: one.name for tried in (before, after) if tried for one in tried.house.spaces}
    for source in sorted({*old, *new}, key=lambda one: -new.get(one, 0.0)):
        name = "outdoors, directly" if source == OUTDOORS else names.get(source, source)
        first, last = old.get(source, 0.0), new.get(source, 0.0)
        points = round(100.0 * last) - round(100.0 * first)
        size = f"{abs(points)} point{'' if abs(points) == 1 else 's'}"
        difference = _signed(size, points) if points and before else NONE
        yield Row(name, (Pair(share(first) if before else NONE, share(last), difference),))


def _pair(before: float | None, after: float, kind: Kind, system: DisplaySystem) -> Pair:
    return _either(before, after, kind, system)


def _either(before: float | None, after: float | None, kind: Kind, system: DisplaySystem) -> Pair:
    """Return a pair of which either may be missing."""
    shown = [NONE if one is None else show(one, kind, system) for one in (before, after)]
    if before is None or after is None:
        return Pair(shown[0], shown[1], NONE)
    step = Kind.TEMPERATURE_DIFFERENCE if kind is Kind.TEMPERATURE else kind
    size = show(abs(after - before), step, system)
    is_seen = any(sign in "123456789" for sign in size.partition(" ")[0])
    is_seen = is_seen and shown[0] != shown[1]
    return Pair(shown[0], shown[1], _signed(size, after - before) if is_seen else NONE)


def _money_pair(before: float | None, after: float) -> Pair:
    if before is None:
        return Pair(NONE, money(after), NONE)
    step = round(after) - round(before)
    return Pair(money(before), money(after), _signed(money(abs(step)), step) if step else NONE)


def _hours(before: int | None, after: int | None) -> Pair:
    shown = [NONE if one is None else f"{one:,} h" for one in (before, after)]
    if before is None or after is None or before == after:
        return Pair(shown[0], shown[1], NONE)
    return Pair(shown[0], shown[1], _signed(f"{abs(after - before):,} h", after - before))


def _signed(text: str, sign: float) -> str:
    return f"{'+' if sign > 0 else '−'}{text}"
