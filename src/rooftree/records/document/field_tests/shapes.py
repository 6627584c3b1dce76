"""What each field of a test takes, so that forms and tables can be laid out from it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import cache
from typing import TYPE_CHECKING, Any, Literal, get_args, get_origin

from rooftree.records.document.field_tests import KINDS
from rooftree.records.document.fields import DayField, QuantityField
from rooftree.records.document.part import Part, first_within

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pydantic.fields import FieldInfo

    from rooftree.units import Kind


@dataclass(frozen=True, slots=True)
class FieldShape:
    """What one field takes.

    Attributes
    ----------
    kind : Kind or None
        What it measures; None for words.
    choices : tuple of str
        The only words that it takes; empty where it takes any.
    is_flag : bool
        Whether it is answered by yes or no.
    is_signed : bool
        Whether its number may be below zero.
    is_required : bool
        Whether it must be stated.
    """

    kind: Kind | None = None
    choices: tuple[str, ...] = ()
    is_flag: bool = False
    is_signed: bool = False
    is_required: bool = False


@cache
def shapes_of(kind: str) -> dict[str, FieldShape]:
    """Return what each field of a kind of test takes.

    Parameters
    ----------
    kind : str
        As the file names it, such as ``"zone pressure"``.

    Returns
    -------
    dict from str to FieldShape
        By name; a field of a row by ``"rows.name"``, a list of plain values by its own
        name.

    Examples
    --------
    >>> shapes_of("zone pressure")["house_pressure"].kind.value
    'pressure'
    """
    return shapes_of_part(KINDS[kind])


@cache
def shapes_of_part(model: type[Part]) -> dict[str, FieldShape]:
    """Return what each field of a part of the job file takes.

    Parameters
    ----------
    model : type of Part
        Model of the part.

    Returns
    -------
    dict from str to FieldShape
        As `shapes_of` gives for a test; the hours of a day by the name of the day.
    """
    return dict(_shapes(model, ""))


def _shapes(model: type[Part], prefix: str) -> Iterator[tuple[str, FieldShape]]:
    for name, field in model.model_fields.items():
        inner = first_within((field.annotation,), (), Part)
        if inner is not None:
            yield from _shapes(inner, f"{prefix}{name}.")
        else:
            yield f"{prefix}{name}", _shape(field)


def _shape(field: FieldInfo) -> FieldShape:
    about = (field.annotation, *field.metadata)
    found: QuantityField | DayField | None = first_within(about, (QuantityField, DayField))
    if found is not None:
        quantity = found.hour if isinstance(found, DayField) else found
        return FieldShape(
            quantity.kind,
            is_signed=quantity.least is None and quantity.above is None,
            is_required=field.is_required(),
        )
    return FieldShape(
        choices=_choices(about),
        is_flag=_has_bool(about),
        is_required=field.is_required(),
    )


def _choices(about: tuple[Any, ...]) -> tuple[str, ...]:
    for one in about:
        if get_origin(one) is Literal:
            return tuple(str(word) for word in get_args(one))
        if isinstance(one, type) and issubclass(one, Enum):
            return tuple(str(member.value) for member in one)
        if found := _choices(get_args(one)):
            return found
    return ()


def _has_bool(about: tuple[Any, ...]) -> bool:
    return any(one is bool or _has_bool(get_args(one)) for one in about)
