"""What a table or a stream can fill in the form of a test."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.records.document.field_tests.shapes import FieldShape, shapes_of
from rooftree.records.tabular import Column
from rooftree.web.cells import YES_OR_NO
from rooftree.web.sheets.form import MOST_ROWS, units_of
from rooftree.web.sheets.layout import Group
from rooftree.web.table_step import WantedList

if TYPE_CHECKING:
    from rooftree.web.sheets.form import SheetForm
    from rooftree.web.sheets.layout import Field

MOST_FIELDS = 1_800
"""Fields of a list that a form can send with everything else."""


def wanted_lists(form: SheetForm) -> tuple[WantedList, ...]:
    """Return the lists of a form that a table can fill.

    Parameters
    ----------
    form : SheetForm
        As typed: its units are meant for numbers without any.

    Returns
    -------
    tuple of WantedList
    """
    return tuple(
        WantedList(
            part.name,
            part.legend,
            tuple(
                _column(form, f"{part.name}.{one.name}".rstrip("."), one) for one in part.columns
            ),
            min(MOST_ROWS, MOST_FIELDS // len(part.columns)),
        )
        for part in form.sheet.lists
    )


def wanted_fields(form: SheetForm) -> tuple[Column, ...]:
    """Return the single fields of a form that hold a quantity."""
    fields = [one for part in form.sheet.parts if isinstance(part, Group) for one in part.fields]
    columns = (_column(form, field.name, field) for field in fields)
    return tuple(column for column in columns if column.units)


def _column(form: SheetForm, path: str, field: Field) -> Column:
    shape = shapes_of(form.sheet.kind).get(path, FieldShape())
    return Column(
        name=field.name,
        words=field.words,
        units=_units(form, shape),
        kind=shape.kind,
        choices=_choices(form, field, shape),
        is_needed=shape.is_required,
    )


def _units(form: SheetForm, shape: FieldShape) -> tuple[str, ...]:
    if shape.kind is None:
        return ()
    chosen = form.units.get(shape.kind.value, "")
    return tuple(dict.fromkeys(filter(None, (chosen, *units_of(shape.kind)))))


def _choices(form: SheetForm, field: Field, shape: FieldShape) -> tuple[tuple[str, str], ...]:
    if field.among:
        return form.named[field.among]
    if shape.is_flag:
        return YES_OR_NO
    words = dict(field.choices)
    return tuple((one, words.get(one, one)) for one in shape.choices)
