"""The form of one part of a house: its fields, what was typed, how each value is known."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, cast

from rooftree.house import GROUND, OUTDOORS, SpaceKind
from rooftree.known import How
from rooftree.records.document.field_tests.shapes import FieldShape, shapes_of_part
from rooftree.records.document.house_parts import HOUSE_PARTS
from rooftree.units import Kind
from rooftree.web.cells import NOT_CHOSEN, Cell
from rooftree.web.entry import (
    Fields,
    compact,
    count,
    flatten,
    keep_numbers,
    nest,
    steps,
    to_path,
)
from rooftree.web.house.days import FROM, VALUE, day_of, periods_of
from rooftree.web.house.values import shown_text, unit_of, with_usual_unit
from rooftree.web.sheets.form import Choices, answered, options_of
from rooftree.web.sheets.layout import Field, Group, Rows

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from rooftree.house import House
    from rooftree.units import DisplaySystem
    from rooftree.web.sheets.layout import Sheet

ROWS_FIELD, ADD_FIELD, UP_FIELD, OUT_FIELD = "rows.", "add", "up", "out"
"""Fields that steer the form and are no part of the entry."""

KNOWN: Choices = (
    ("", "not said"),
    *((str(how), str(how)) for how in How),
)
"""How a value is known; what is not said counts as assumed."""

MOST_ROWS = 60

_NAME = re.compile(r"^\w+$")


@dataclass(frozen=True, slots=True)
class Fact:
    """One field with how its value is known.

    Attributes
    ----------
    cell : Cell
        The field.
    unit : str
        Of a number typed alone; empty for none.
    how, note : Cell or None
        How it is known, and by what; None where that is not asked.
    """

    cell: Cell
    unit: str = ""
    how: Cell | None = None
    note: Cell | None = None

    @property
    def is_used(self) -> bool:
        """Return whether something was typed or is wrong."""
        return bool(self.cell.text.strip() or self.cell.mistake)


@dataclass(frozen=True, slots=True)
class FactsPart:
    """Fields that belong together."""

    group: Group
    facts: tuple[Fact, ...]

    @property
    def is_used(self) -> bool:
        """Return whether something was typed in it or is wrong, so that it must not be shut."""
        return any(fact.is_used for fact in self.facts)


@dataclass(frozen=True, slots=True)
class ListPart:
    """A list with what was typed, row by row, and how it is known as a whole."""

    rows: Rows
    cells: tuple[tuple[Cell, ...], ...]
    units: tuple[str, ...]
    known: Fact | None
    mistake: str = ""

    @property
    def is_used(self) -> bool:
        """Return whether something was typed in it or is wrong, so that it must not be shut."""
        return bool(self.mistake) or any(c.text.strip() or c.mistake for r in self.cells for c in r)

    @property
    def has_order(self) -> bool:
        """Return whether the order of the rows means something that a person may change."""
        return self.rows.name == "layers"


@dataclass(frozen=True, slots=True)
class HouseForm:
    """One part of a house as typed.

    Attributes
    ----------
    sheet : Sheet
        Its layout.
    fields : mapping from str to str
        What was typed, by path, empty fields left out.
    rows : mapping from str to int
        How many rows each list shows, the empty ones included.
    before : mapping
        The part as it stands in the job file; empty for a new one.
    named : mapping from str to tuple of (str, str)
        Things of the house that a field can name, by what they are.
    system : DisplaySystem
        In whose units quantities are shown and numbers alone are meant.
    stood : mapping from (str, str) to str
        Texts of the file by the names of the field and what it shows of them.
    mistakes : mapping from str to str
        What is wrong, by the path of the field that shows it.
    longer : str
        Name of the list that was just asked for one more row; empty for none.
    """

    sheet: Sheet
    fields: Fields
    rows: Mapping[str, int]
    before: Mapping[str, Any]
    named: Mapping[str, Choices]
    system: DisplaySystem
    stood: Mapping[tuple[str, str], str]
    mistakes: Mapping[str, str] = field(default_factory=dict)
    longer: str = ""

    @property
    def parts(self) -> tuple[FactsPart | ListPart, ...]:
        """Return the parts of the form with what was typed."""
        return tuple(
            self._list(part)
            if isinstance(part, Rows)
            else FactsPart(part, tuple(self._fact(one) for one in part.fields))
            for part in self.sheet.parts
        )

    @property
    def hidden(self) -> tuple[tuple[str, str], ...]:
        """Return what belongs to the part but has no field of its own."""
        shown = set(self._shown)
        return tuple((path, text) for path, text in self.fields.items() if path not in shown)

    @property
    def others(self) -> tuple[tuple[str, str], ...]:
        """Return the mistakes whose field the form does not show."""
        shown = {*self._shown, *(part.name for part in self.sheet.lists)}
        return tuple((path, says) for path, says in self.mistakes.items() if path not in shown)

    @property
    def has_anything(self) -> bool:
        """Return whether anything was typed."""
        return bool(self.fields)

    @property
    def own_mistakes(self) -> dict[str, str]:
        """Return what is wrong before the record is asked: hours of a day."""
        return self._days()[1]

    def marked(self, refused: Mapping[str, str]) -> HouseForm:
        """Return the form with what the record does not take marked at its fields."""
        _, own, origins = self._days()
        found = {self._located(path, origins): says for path, says in refused.items()}
        return replace(self, mistakes={**found, **own})

    @property
    def words(self) -> dict[str, str]:
        """Return the label of each field by its path."""
        return {cell.path: cell.words for cell in self._cells}

    @property
    def entry(self) -> dict[str, Any]:
        """Return the part for the job file: as typed, units added to numbers typed alone."""
        fields = _with_how(_without_orphans(self.fields))
        flat = {
            f"{path}.value" if f"{path}.known" in fields else path: self._kept(path, text)
            for path, text in fields.items()
        }
        made = nest(flat)
        made = answered(made, {path for path in flat if self._shape(path).is_flag})
        made |= self._days()[0]
        self._keep_known(made)
        if self.sheet.kind == "leak":
            made.setdefault("azimuth", None)
        kept = cast("dict[str, Any]", keep_numbers(made, self.before))
        return _with_known_days(kept, _day_names(self.sheet))

    def moved_up(self, name: str, place: int) -> HouseForm:
        """Return the form with a row one place further up."""
        if not 0 < place < count(self.fields, name):
            return self
        here, there = f"{name}[{place}]", f"{name}[{place - 1}]"
        return replace(self, fields=_in_order({
            _swapped(path, here, there): text for path, text in self.fields.items()
        }))  # fmt: skip

    def without_row(self, name: str, place: int) -> HouseForm:
        """Return the form without one row."""
        gone = f"{name}[{place}]"
        left = {p: t for p, t in self.fields.items() if not _is_within(p, gone)}
        rows = {**self.rows, name: max(self.rows[name] - 1, 1)}
        return replace(self, fields=compact(left), rows=rows)

    def _days(self) -> tuple[dict[str, Any], dict[str, str], dict[str, list[int]]]:
        """Return the days as in the file, what is wrong in them, and the row of each hour."""
        days: dict[str, Any] = {}
        mistakes: dict[str, str] = {}
        origins: dict[str, list[int]] = {}
        for name in _day_names(self.sheet):
            rows = [
                {
                    FROM: self.fields.get(f"{name}[{k}].{FROM}", ""),
                    VALUE: self._kept(
                        f"{name}[{k}].{VALUE}", self.fields.get(f"{name}[{k}].{VALUE}", "")
                    ),
                }
                for k in range(count(self.fields, name))
            ]
            if not rows:
                continue
            days[name], wrong, origins[name] = day_of(rows)
            mistakes |= {f"{name}{path}": says for path, says in wrong.items()}
            stood = self.before.get(name)
            if stood is not None and periods_of(stood) == rows:
                days[name] = stood["value"] if isinstance(stood, dict) else stood
        return days, mistakes, origins

    def _located(self, path: str, origins: Mapping[str, list[int]]) -> str:
        """Return the path of the field that shows what a path of the file is about."""
        along = steps(path)
        match along:
            case (str(name), int(hour), *_) if name in origins and f"{path}" not in self._shown:
                return f"{name}[{origins[name][hour]}].{VALUE}" if origins[name] else name
            case (str(name),) if name in origins and len(set(origins[name])) == 1:
                return f"{name}[{origins[name][0]}].{VALUE}"
            case ("layers", int(place)):
                return f"layers[{place}].resistance"
        return path.removesuffix(".value")

    def _kept(self, path: str, text: str) -> str:
        """Return what the file keeps: what stood there if it was not changed, else as typed."""
        kind = self._shape(path).kind
        if kind is None:
            return text
        stood = self.stood.get((_names(path), text))
        return with_usual_unit(text, kind, self.system) if stood is None else stood

    def _keep_known(self, made: dict[str, Any]) -> None:
        """Take over how values are known where this form does not ask."""
        for prefix, holder in (("", made), *((f"{k}.", v) for k, v in made.items())):
            before = self.before if not prefix else self.before.get(prefix[:-1])
            stated = before.get("known") if isinstance(before, dict) else None
            if not isinstance(holder, dict) or not isinstance(stated, dict) or prefix == "known.":
                continue
            asked = {p for p in self._shown if p.endswith(".how")}
            for name, how in stated.items():
                if f"{prefix}known.{name}.how" not in asked:
                    holder.setdefault("known", {})[name] = how

    def _fact(self, one: Field) -> Fact:
        shape, path = self._shape(one.name), one.name
        cell = self._cell(one, path)
        unit = _label_unit(shape.kind, self.system)
        if one.name.rpartition(".")[2] == "name" or one.among:
            return Fact(cell, unit)
        how, note = _known_paths(path, is_quantity=shape.kind is not None)
        return self._known(cell, unit, how, note)

    def _known(self, cell: Cell, unit: str, how: str, note: str) -> Fact:
        return Fact(
            cell,
            unit,
            Cell(how, f"How it is known: {cell.words}", self.fields.get(how, ""),
                 self.mistakes.get(how, ""), options=KNOWN),
            Cell(note, f"By what or why not: {cell.words}", self.fields.get(note, ""),
                 self.mistakes.get(note, "")),
        )  # fmt: skip

    def _list(self, part: Rows) -> ListPart:
        rows = [self._row(part, k) for k in range(self.rows[part.name])]
        if part.name == self.longer:
            first, *others = rows[count(self.fields, part.name)]
            rows[count(self.fields, part.name)] = (replace(first, is_next=True), *others)
        units = tuple(
            _label_unit(self._shape(_column(part, one)).kind, self.system) for one in part.columns
        )
        how, note = _known_paths(part.name, is_quantity=False)
        label = Cell(part.name, part.legend.partition(",")[0], "")
        known = self._known(label, "", how, note)
        return ListPart(part, tuple(rows), units, known, self.mistakes.get(part.name, ""))

    def _row(self, part: Rows, k: int) -> tuple[Cell, ...]:
        return tuple(
            replace(
                self._cell(one, to_path((*steps(part.name), k, *filter(None, [one.name])))),
                words=f"{one.words}, row {k + 1}",
                hint="",
            )
            for one in part.columns
        )

    def _cell(self, one: Field, path: str) -> Cell:
        shape = self._shape(path)
        return Cell(
            path,
            one.words,
            self.fields.get(path, ""),
            self.mistakes.get(path, ""),
            one.hint,
            self.named[one.among] if one.among else options_of(one, shape),
            shape.kind is not None,
            shape.is_signed,
        )

    @property
    def _cells(self) -> Iterator[Cell]:
        for part in self.parts:
            if isinstance(part, FactsPart):
                yield from (fact.cell for fact in part.facts)
            else:
                yield from (cell for row in part.cells for cell in row)

    @property
    def _shown(self) -> Iterator[str]:
        """Yield the path of every field that the form shows."""
        for part in self.sheet.parts:
            if isinstance(part, Rows):
                yield from _known_paths(part.name, is_quantity=False)
                for k in range(self.rows[part.name]):
                    for one in part.columns:
                        yield to_path((*steps(part.name), k, *filter(None, [one.name])))
                continue
            for one in part.fields:
                yield one.name
                if not one.among and one.name.rpartition(".")[2] != "name":
                    is_quantity = self._shape(one.name).kind is not None
                    yield from _known_paths(one.name, is_quantity=is_quantity)

    def _shape(self, path: str) -> FieldShape:
        return _shapes(self.sheet).get(_names(path), FieldShape())


def form_of(
    sheet: Sheet,
    sent: Mapping[str, str],
    before: Mapping[str, Any],
    house: House,
    system: DisplaySystem,
) -> HouseForm:
    """Return the form that was sent, one row longer where a row was asked for.

    Parameters
    ----------
    sheet : Sheet
        Its layout.
    sent : mapping from str to str
        Fields by path, and those that steer the form.
    before : mapping
        The part as it stands in the job file; empty for a new one.
    house : House
        Of which it is a part.
    system : DisplaySystem
        In whose units numbers alone are meant.

    Returns
    -------
    HouseForm
    """
    steering = (ROWS_FIELD, ADD_FIELD, UP_FIELD, OUT_FIELD)
    fields = compact(
        {p: t for p, t in sent.items() if not p.startswith(steering) or p in _shapes(sheet)}
    )
    added = sent.get(ADD_FIELD, "")
    rows = {
        part.name: min(
            max(count(fields, part.name) + (part.name == added), part.fewest)
            if part.columns[0].name == FROM
            else count(fields, part.name) + 1,
            MOST_ROWS,
        )
        for part in sheet.lists
    }
    stood = {
        (_names(path), shown): text for path, text, shown in _shown_texts(sheet, before, system)
    }
    form = HouseForm(sheet, fields, rows, before, things_of(house), system, stood, longer=added)
    for steer, act in ((UP_FIELD, HouseForm.moved_up), (OUT_FIELD, HouseForm.without_row)):
        name, _, place = sent.get(steer, "").rpartition(" ")
        if name in rows and place.isdecimal():
            form = act(form, name, int(place))
    return form


def fields_of(sheet: Sheet, entry: Mapping[str, Any], system: DisplaySystem) -> Fields:
    """Return a part of the job file as fields of its form, in the reader's units.

    Parameters
    ----------
    sheet : Sheet
        Its layout.
    entry : mapping
        As in the job file.
    system : DisplaySystem
        In whose units quantities are shown.

    Returns
    -------
    dict from str to str
    """
    return {path: shown for path, _, shown in _shown_texts(sheet, entry, system)}


def _shown_texts(
    sheet: Sheet, entry: Mapping[str, Any], system: DisplaySystem
) -> Iterator[tuple[str, str, str]]:
    """Yield path, text of the file and text in the form of everything a part states."""
    words = {"True": "yes", "False": "no"}
    for path, text in _texts(entry, _day_names(sheet)).items():
        kind = _shapes(sheet).get(_names(path), FieldShape()).kind
        shown = words.get(text, text) if kind is None else shown_text(text, kind, system)
        yield path, text, shown


def _day_names(sheet: Sheet) -> tuple[str, ...]:
    return tuple(part.name for part in sheet.lists if part.columns[0].name == FROM)


def things_of(house: House) -> dict[str, Choices]:
    """Return what fields can name of a house."""
    spaces = tuple((one.id, one.name) for one in house.spaces)
    living = tuple((one.id, one.name) for one in house.spaces if one.kind is SpaceKind.LIVING)
    outdoors, ground = (OUTDOORS, "outdoors"), (GROUND, "the ground")
    return {
        "spaces": (NOT_CHOSEN, *spaces),
        "living_spaces": (NOT_CHOSEN, *living),
        "surface_sides": (NOT_CHOSEN, outdoors, ground, *spaces),
        "leak_sides": (NOT_CHOSEN, outdoors, *spaces),
    }


def _label_unit(kind: Kind | None, system: DisplaySystem) -> str:
    """Return the unit beside a label; degrees of an angle need none."""
    return "" if kind in (None, Kind.ANGLE, Kind.AZIMUTH) else unit_of(kind, system)


def _shapes(sheet: Sheet) -> dict[str, FieldShape]:
    return shapes_of_part(HOUSE_PARTS[sheet.kind].model)


def _texts(entry: Mapping[str, Any], days: tuple[str, ...]) -> Fields:
    """Return every text of a part by the path of its field, days as periods."""
    plain: dict[str, Any] = {}
    known: dict[str, Any] = {}
    for name, value in entry.items():
        if name == "known":
            known |= {one: how for one, how in value.items() if _NAME.match(one)}
        elif name in days:
            plain[name] = periods_of(value)
            if isinstance(value, dict) and "known" in value:
                known[name] = {"how": value["known"], "note": value.get("note", "")}
        else:
            plain[name] = value
    flat = flatten(plain | ({"known": known} if known else {}))
    return {path.removesuffix(".value") if not _is_of_day(path, days) else path: text
            for path, text in flat.items()}  # fmt: skip


def _is_of_day(path: str, days: tuple[str, ...]) -> bool:
    return path.partition("[")[0] in days


def _names(path: str) -> str:
    """Return the names along a path, without places and without the value of a day."""
    names = ".".join(step for step in steps(path) if isinstance(step, str))
    return names.removesuffix(f".{VALUE}")


def _column(part: Rows, one: Field) -> str:
    return f"{part.name}.{one.name}".rstrip(".")


def _known_paths(path: str, *, is_quantity: bool) -> tuple[str, str]:
    """Return where a part of the file says how a value is known, and its note."""
    if is_quantity:
        return f"{path}.known", f"{path}.note"
    prefix, dot, name = path.rpartition(".")
    return f"{prefix}{dot}known.{name}.how", f"{prefix}{dot}known.{name}.note"


def _without_orphans(fields: Fields) -> Fields:
    """Return the fields without how a value is known that is not there."""
    kept: Fields = {}
    for path, text in fields.items():
        base, _, last = path.rpartition(".")
        of_map = re.match(r"^(?:(.*)\.)?known\.(\w+)\.(how|note)$", path)
        if of_map:
            prefix = f"{of_map[1]}." if of_map[1] else ""
            base = f"{prefix}{of_map[2]}"
            is_there = any(_is_within(other, base) for other in fields)
        else:
            is_there = last not in ("known", "note") or base in fields
        if is_there:
            kept[path] = text
    return kept


def _with_how(fields: Fields) -> Fields:
    """Return the fields in which every note stands beside how the value is known."""
    added: Fields = {}
    for path in fields:
        base, _, last = path.rpartition(".")
        how = f"{base}.how" if re.search(r"(^|\.)known\.\w+$", base) else f"{base}.known"
        if last == "note" and how not in fields:
            added[how] = str(How.ASSUMED)
    return {**fields, **added}


def _with_known_days(entry: dict[str, Any], days: tuple[str, ...]) -> dict[str, Any]:
    """Return a part in which one value for all hours says beside it how it is known."""
    known = dict(entry.get("known", {}))
    for name in days:
        if name in known and isinstance(entry.get(name), str):
            how = known.pop(name)
            note = {"note": how["note"]} if how.get("note") else {}
            entry[name] = {"value": entry[name], "known": how["how"]} | note
    entry.pop("known", None)
    return entry | ({"known": known} if known else {})


def _is_within(path: str, prefix: str) -> bool:
    return path == prefix or path.startswith((f"{prefix}.", f"{prefix}["))


def _swapped(path: str, one: str, other: str) -> str:
    if _is_within(path, one):
        return other + path.removeprefix(one)
    return one + path.removeprefix(other) if _is_within(path, other) else path


def _in_order(fields: Fields) -> Fields:
    return dict(sorted(fields.items(), key=lambda item: [str(step) for step in steps(item[0])]))
