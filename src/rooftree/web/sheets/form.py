"""The form of any kind of test: its fields, what was typed in them, what is wrong."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeAlias

from rooftree.records.document.field_tests.shapes import FieldShape, shapes_of
from rooftree.units import DIMENSIONLESS, Kind, allowed_units, shown_unit
from rooftree.web.cells import NOT_CHOSEN, YES_OR_NO, Cell
from rooftree.web.entry import Fields, compact, count, flatten, nest, steps, to_path, with_unit
from rooftree.web.sheets.layout import Field, Group, Rows
from rooftree.web.table_step import TABLE_FIELD

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from rooftree.job import Job
    from rooftree.units import DisplaySystem
    from rooftree.web.sheets.layout import Sheet

UNIT_FIELD, ROWS_FIELD, ADD_FIELD = "unit.", "rows.", "add"
"""Fields that steer the form and are no part of the entry."""

LONG_LIST, FIRST_ROWS, LAST_ROWS = 24, 6, 6
"""A list with more rows shows its first and its last ones; the rest where asked for."""

MOST_NAMES = 5
"""Names of fields put away that are told; the rest is counted."""

MOST_ROWS = 400
"""Rows that a form can show; longer series are loaded from a file or a stream."""

Choices: TypeAlias = tuple[tuple[str, str], ...]
"""Value and words of each choice."""

_FLAGS = {"yes": True, "no": False, "true": True, "false": False}
_ALWAYS = ("name", "note", "instrument", "also_with[0]")


@dataclass(frozen=True, slots=True)
class GroupPart:
    """A group with what was typed."""

    group: Group
    cells: tuple[Cell, ...]

    @property
    def is_used(self) -> bool:
        """Return whether something was typed in it or is wrong, so that it must not be shut."""
        return any(map(_is_used, self.cells))


@dataclass(frozen=True, slots=True)
class RowsPart:
    """A list with what was typed, row by row."""

    rows: Rows
    cells: tuple[tuple[Cell, ...], ...]

    @property
    def is_used(self) -> bool:
        """Return whether something was typed in it or is wrong, so that it must not be shut."""
        return any(_is_used(cell) for row in self.cells for cell in row)

    @property
    def put_away(self) -> tuple[bool, ...]:
        """Return for each column whether it is shown only where somebody asks for more."""
        return tuple(
            field.is_seldom and not any(_is_used(row[k]) for row in self.cells)
            for k, field in enumerate(self.rows.columns)
        )

    @property
    def more(self) -> str:
        """Return which columns are put away, the first few by name; empty where none is."""
        away = zip(self.rows.columns, self.put_away, strict=True)
        names = [field.words.removesuffix("?").lower() for field, is_away in away if is_away]
        if len(names) <= MOST_NAMES:
            return ", ".join(names)
        first = ", ".join(names[: MOST_NAMES - 1])
        return f"{first} and {len(names) - MOST_NAMES + 1} more"

    @property
    def middle(self) -> range:
        """Return which rows of a long list stay out of sight until somebody asks for all."""
        last = len(self.cells) - LAST_ROWS
        is_right = not any(cell.mistake for row in self.cells[FIRST_ROWS:last] for cell in row)
        is_long = len(self.cells) > LONG_LIST
        return range(FIRST_ROWS, last) if is_long and is_right else range(0)


@dataclass(frozen=True, slots=True)
class SheetForm:
    """One test as typed.

    Attributes
    ----------
    sheet : Sheet
        Its layout.
    fields : mapping from str to str
        What was typed, by path.
    rows : mapping from str to int
        How many rows each list shows, the empty ones included.
    units : mapping from str to str
        Unit of numbers typed alone, by kind of quantity.
    mistakes : mapping from str to str
        What is wrong, by path.
    named : mapping from str to tuple of (str, str)
        Things of the job that a field can name, by what they are.
    longer : str
        Name of the list that was just asked for one more row; empty for none.
    """

    sheet: Sheet
    fields: Mapping[str, str]
    rows: Mapping[str, int]
    units: Mapping[str, str]
    mistakes: Mapping[str, str]
    named: Mapping[str, Choices]
    longer: str = ""

    def cell(self, path: str, words: str, hint: str = "") -> Cell:
        """Return a field that takes any words."""
        return Cell(path, words, self.fields.get(path, ""), self._mistake(path), hint)

    @property
    def parts(self) -> tuple[GroupPart | RowsPart, ...]:
        """Return the parts of the form with what was typed."""
        return tuple(
            RowsPart(part, self._rows(part))
            if isinstance(part, Rows)
            else GroupPart(part, tuple(self._cell(field, field.name) for field in part.fields))
            for part in self.sheet.parts
        )

    @property
    def unit_choices(self) -> tuple[tuple[str, Choices, str], ...]:
        """Return kind, units and the chosen unit of everything measured here."""
        return tuple(
            (kind.value, tuple((unit, unit) for unit in units_of(kind)), self.units[kind.value])
            for kind in measured_kinds(self.sheet)
        )

    @property
    def hidden(self) -> tuple[tuple[str, str], ...]:
        """Return what belongs to the entry but has no field of its own."""
        shown = {cell.path for cell in self._cells} | set(_ALWAYS)
        return tuple((path, text) for path, text in self.fields.items() if path not in shown)

    @property
    def others(self) -> tuple[tuple[str, str], ...]:
        """Return the mistakes whose field the form does not show."""
        shown = {cell.path for cell in self._cells} | set(_ALWAYS)
        return tuple((path, says) for path, says in self.mistakes.items() if path not in shown)

    @property
    def has_readings(self) -> bool:
        """Return whether anything was typed."""
        return any(cell.text.strip() for cell in self._cells)

    def in_words(self, says: str) -> str:
        """Return a message in which each path of a field is replaced by the field's label."""
        for cell in sorted(self._cells, key=lambda cell: -len(cell.path)):
            says = says.replace(f"{cell.path}:", f"{cell.words}:")
        return says

    @property
    def entry(self) -> dict[str, object]:
        """Return the entry for the job file: as typed, units added to numbers typed alone."""
        typed = {path: self._with_unit(path, text) for path, text in self.fields.items()}
        named = compact(typed)
        # A quantity that says how it is known is an object in the file.
        flat = {f"{p}.value" if f"{p}.known" in named else p: t for p, t in named.items()}
        return answered(nest(flat), {p for p in flat if _shape(self.sheet, p).is_flag})

    def _with_unit(self, path: str, text: str) -> str:
        kind = _shape(self.sheet, path).kind
        return with_unit(text.strip(), "" if kind is None else self.units.get(kind.value, ""))

    @property
    def _cells(self) -> Iterator[Cell]:
        """Yield every cell in the order in which it is filled in."""
        for part in self.parts:
            if isinstance(part, GroupPart):
                yield from part.cells
            else:
                for row in part.cells:
                    yield from row

    def _rows(self, part: Rows) -> tuple[tuple[Cell, ...], ...]:
        rows = [self._row(part, k) for k in range(self.rows[part.name])]
        if part.name == self.longer:
            # Whoever asked for a row goes on typing in the first empty one.
            filled = [k for k, row in enumerate(rows) if any(cell.text.strip() for cell in row)]
            after = filled[-1] + 1 if filled else 0
            first, *others = rows[after]
            rows[after] = (replace(first, is_next=True), *others)
        return tuple(rows)

    def _row(self, part: Rows, k: int) -> tuple[Cell, ...]:
        return tuple(
            self._cell(field, to_path((part.name, k, *filter(None, [field.name]))), k)
            for field in part.columns
        )

    def _cell(self, field: Field, path: str, k: int | None = None) -> Cell:
        shape = _shape(self.sheet, path)
        return Cell(
            path,
            field.words if k is None else f"{field.words}, row {k + 1}",
            self.fields.get(path, ""),
            self._mistake(path),
            field.hint if k is None else "",
            self.named[field.among] if field.among else options_of(field, shape),
            shape.kind is not None,
            shape.is_signed,
        )

    def _mistake(self, path: str) -> str:
        return self.mistakes.get(path, "")


def _is_used(cell: Cell) -> bool:
    return bool(cell.text.strip() or cell.mistake)


def measured_kinds(sheet: Sheet) -> tuple[Kind, ...]:
    """Return the kinds of quantity on a sheet that need a unit, each once."""
    paths = [field.name for part in sheet.parts if isinstance(part, Group) for field in part.fields]
    paths += [
        f"{part.name}.{field.name}".rstrip(".") for part in sheet.lists for field in part.columns
    ]
    shapes = shapes_of(sheet.kind)
    kinds = dict.fromkeys(shapes[path].kind for path in paths)
    return tuple(kind for kind in kinds if kind is not None and units_of(kind))


def form_of(
    sheet: Sheet,
    sent: Mapping[str, str],
    job: Job,
    system: DisplaySystem,
) -> SheetForm:
    """Return the form that was sent, one row longer where a row was asked for.

    Parameters
    ----------
    sheet : Sheet
        Its layout.
    sent : mapping from str to str
        Fields by path, and those that steer the form.
    job : Job
        To which the test belongs.
    system : DisplaySystem
        Whose units are meant where none was chosen.

    Returns
    -------
    SheetForm
    """
    fields = {
        path: text
        for path, text in sent.items()
        if path != ADD_FIELD and not path.startswith((UNIT_FIELD, ROWS_FIELD, TABLE_FIELD))
    }
    units = {
        kind.value: _chosen_unit(kind, sent.get(f"{UNIT_FIELD}{kind.value}", ""), system)
        for kind in measured_kinds(sheet)
    }
    rows = _row_counts(sheet, sent, fields)
    return SheetForm(sheet, fields, rows, units, {}, _things(job), sent.get(ADD_FIELD, ""))


def fields_of(entry: Mapping[str, object]) -> Fields:
    """Return an entry of the job file as fields of a form; the inverse of `SheetForm.entry`."""
    flat = flatten(dict(entry))
    words = {"True": "yes", "False": "no"}
    return {path.removesuffix(".value"): words.get(text, text) for path, text in flat.items()}


def _chosen_unit(kind: Kind, sent: str, system: DisplaySystem) -> str:
    units = units_of(kind)
    if sent in units:
        return sent
    usual = shown_unit(kind, system).name
    return usual if usual in units else units[0]


def units_of(kind: Kind) -> tuple[str, ...]:
    """Return the units that a form offers for numbers typed alone; empty for pure numbers."""
    if kind in DIMENSIONLESS and kind is not Kind.FRACTION:
        return ()
    return tuple(unit for unit in allowed_units(kind) if not unit.endswith("-number"))


def _row_counts(sheet: Sheet, sent: Mapping[str, str], fields: Fields) -> dict[str, int]:
    """Return how many rows each list shows: as before, at least one empty, one more if asked."""
    typed = {path: text for path, text in fields.items() if text.strip()}
    return {
        part.name: min(
            max(
                count(typed, part.name) + 1,
                _number(sent.get(f"{ROWS_FIELD}{part.name}", ""), part.fewest),
            )
            + (sent.get(ADD_FIELD) == part.name),
            MOST_ROWS,
        )
        for part in sheet.lists
    }


def _number(text: str, otherwise: int) -> int:
    return int(text) if text.isdecimal() and len(text) < 4 else otherwise


def _shape(sheet: Sheet, path: str) -> FieldShape:
    names = ".".join(step for step in steps(path) if isinstance(step, str))
    return shapes_of(sheet.kind).get(names.removesuffix(".value"), FieldShape())


def options_of(field: Field, shape: FieldShape) -> Choices:
    """Return the choices of a field that takes certain words only; empty for any other."""
    if shape.is_flag:
        return YES_OR_NO
    if not shape.choices:
        return ()
    words = dict(field.choices)
    return (NOT_CHOSEN, *((one, words.get(one, one)) for one in shape.choices))


def _things(job: Job) -> dict[str, Choices]:
    """Return what fields can name of a job."""
    return {"spaces": (NOT_CHOSEN, *((one.id, one.name) for one in job.house.spaces))}


def answered(entry: dict[str, object], flags: set[str]) -> dict[str, object]:
    """Return the entry with yes and no as the job file writes them."""
    for path in flags:
        *way, last = steps(path)
        here: object = entry
        for step in way:
            here = here[step]  # type: ignore[index]
        here[last] = _FLAGS.get(str(here[last]).casefold(), here[last])  # type: ignore[index]
    return entry
