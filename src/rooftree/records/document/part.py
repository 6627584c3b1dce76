"""What every model of the job file has in common: how it becomes a core object."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import MISSING, fields
from datetime import date
from typing import TYPE_CHECKING, Annotated, Any, TypeAlias, TypeVar, get_args

from pydantic import AfterValidator, BaseModel, ConfigDict, StringConstraints

from rooftree.known import How, Known
from rooftree.records.document.fields import Quantity, refusal

if TYPE_CHECKING:
    from collections.abc import Iterator

Core = TypeVar("Core")

Id: TypeAlias = Annotated[str, StringConstraints(min_length=1, max_length=200)]
"""Name of a thing within its job; other parts refer to it."""


def _is_a_day(text: str) -> str:
    try:
        date.fromisoformat(text)
    except ValueError:
        raise refusal(f'is "{text}", not a date', "write it like 2026-01-31") from None
    return text


Date: TypeAlias = Annotated[str, AfterValidator(_is_a_day)]
"""ISO date."""


class Part(BaseModel):
    """One part of a job file."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False, frozen=True)

    @abstractmethod
    def to_core(self) -> object:
        """Return what the core computes with, in SI."""


class KnownDocument(Part):
    """How a value is known, for values that are not quantities."""

    how: How
    note: str = ""

    def to_core(self) -> Known:
        """Return how the value is known."""
        return Known(self.how, self.note)


KnownMap: TypeAlias = dict[str, KnownDocument]
"""How values are known that are not quantities, by the name of their field."""

NOTHING_STATED: KnownMap = {}
"""Default of every map of how values are known; never changed."""


def built(core: type[Core], part: Part, **given: Any) -> Core:
    """Return a core object with the fields of a part; what the file leaves out has its default.

    Parameters
    ----------
    core : type
        Dataclass of the core.
    part : Part
        Model of the file with fields of the same names.
    **given : object
        Fields that are not simply taken over.

    Returns
    -------
    object
        Of the type `core`.
    """
    values: dict[str, Any] = {}
    for field in fields(core):  # type: ignore[arg-type]
        name = field.name
        has_default = field.default is not MISSING or field.default_factory is not MISSING
        if name in given:
            values[name] = given[name]
        elif name == "known":
            values[name] = known_of(part)
        elif not (has_default and getattr(part, name, None) is None):
            values[name] = core_value(getattr(part, name))
    return core(**values)


def core_value(value: Any) -> Any:
    """Return a value of the file as the core takes it."""
    if isinstance(value, Quantity):
        return value.value
    if isinstance(value, Part):
        return value.to_core()
    if isinstance(value, tuple):
        return tuple(core_value(one) for one in value)
    if isinstance(value, dict):
        return {key: core_value(one) for key, one in value.items()}
    return value


def known_of(part: Part) -> dict[str, Known]:
    """Return how the values of a part are known, by the path within the part."""
    stated: KnownMap = getattr(part, "known", {})
    by_quantity = {path: one.known for path, one in quantities(part) if one.known is not None}
    return {name: one.to_core() for name, one in stated.items()} | by_quantity


def quantities(part: Part, prefix: str = "") -> Iterator[tuple[str, Quantity]]:
    """Yield every quantity that the file states within a part, with its path, in order."""
    for name in type(part).model_fields:
        if name in part.model_fields_set:
            yield from _quantities(getattr(part, name), f"{prefix}{name}")


def _quantities(value: object, path: str) -> Iterator[tuple[str, Quantity]]:
    if isinstance(value, Quantity):
        yield path, value
    elif isinstance(value, Part):
        yield from quantities(value, f"{path}.")
    elif isinstance(value, tuple) and len(value) == 1 and isinstance(value[0], Quantity):
        yield path, value[0]
    elif isinstance(value, tuple):
        for place, one in enumerate(value):
            yield from _quantities(one, f"{path}[{place}]")
    elif isinstance(value, dict):
        for key, one in value.items():
            yield from _quantities(one, f"{path}.{key}")


def first_within(shape: tuple[Any, ...], kinds: tuple[type, ...], base: type | None = None) -> Any:
    """Return the first marker, or the first model of a base, within an annotation; else None."""
    for one in shape:
        if base is not None and isinstance(one, type) and issubclass(one, base):
            return one
        if base is None and isinstance(one, kinds):
            return one
        if (found := first_within(get_args(one), kinds, base)) is not None:
            return found
    return None
