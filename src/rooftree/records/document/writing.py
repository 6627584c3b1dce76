"""Write objects of the core as parts of a job file, every quantity with its unit."""

from __future__ import annotations

from dataclasses import MISSING, fields, replace
from enum import Enum
from typing import TYPE_CHECKING, Any

from rooftree.records.document.field_tests import MODELS
from rooftree.records.document.fields import DayField, QuantityField
from rooftree.records.document.house import HouseDocument, LayerDocument
from rooftree.records.document.instruments import CAPABILITIES, InstrumentDocument
from rooftree.records.document.job import FORMAT, VERSION, JobDocument
from rooftree.records.document.money import MeasureDocument, settings_of
from rooftree.records.document.part import Part, first_within
from rooftree.records.document.visit import PhotoDocument
from rooftree.units import DisplaySystem, Kind, quantity, quantity_in

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.house import House
    from rooftree.job import Instrument, Job, Test
    from rooftree.known import Known
    from rooftree.plan.model import Measure

_YEAR = 365.0 * 86400.0


def house_document(house: House, system: DisplaySystem) -> HouseDocument:
    """Return a house as it stands in a job file.

    Parameters
    ----------
    house : House
        As found.
    system : DisplaySystem
        Whose units are written.

    Returns
    -------
    HouseDocument
        Its `to_core()` gives the house back, numbers to 5 parts in a million.
    """
    return HouseDocument.model_validate(written(HouseDocument, house, system))


def job_document(job: Job, system: DisplaySystem) -> JobDocument:
    """Return a job as its file.

    Parameters
    ----------
    job : Job
        The job; what was typed is not taken over, every quantity is written anew.
    system : DisplaySystem
        Whose units are written.

    Returns
    -------
    JobDocument
    """
    plain = {"format": FORMAT, "version": VERSION} | written(JobDocument, job, system)
    plain["tests"] = [test_entry(test, system) for test in job.tests]
    plain["instruments"] = [instrument_entry(one, system) for one in job.instruments]
    plain["measures"] = [measure_entry(measure, system) for measure in job.measures]
    files = job.photo_files or {}
    plain["photos"] = [
        written(PhotoDocument, photo, system)
        | ({"file": files[photo.id]} if photo.id in files else {})
        for photo in job.photos
    ]
    return JobDocument.model_validate(plain)


def test_entry(test: Test, system: DisplaySystem) -> dict[str, Any]:
    """Return a test as it stands in a job file.

    Parameters
    ----------
    test : Test
        With its readings.
    system : DisplaySystem
        Whose units are written.

    Returns
    -------
    dict
        One member of `tests`.
    """
    model = next(one for one in MODELS if one.readings is type(test.reading))
    head = {
        name: getattr(test, name)
        for name in ("id", "name", "visit", "place", "instrument", "also_with", "note")
        if getattr(test, name) or name in ("id", "name", "visit")
    }
    kind = model.model_fields["kind"].default
    return head | {"kind": kind} | written(model, test.reading, system)


def instrument_entry(instrument: Instrument, system: DisplaySystem) -> dict[str, Any]:
    """Return an instrument as it stands in a job file.

    Parameters
    ----------
    instrument : Instrument
        With what its record says.
    system : DisplaySystem
        Whose units are written.

    Returns
    -------
    dict
        One member of `instruments`.
    """
    entry = written(InstrumentDocument, replace(instrument, measures=()), system)
    measures = [
        {"quantity": one.quantity.value} | written(CAPABILITIES[one.quantity], one.terms, system)
        for one in instrument.measures
    ]
    return entry | ({"measures": measures} if measures else {})


def measure_entry(measure: Measure, system: DisplaySystem) -> dict[str, Any]:
    """Return a measure as it stands in a job file.

    Parameters
    ----------
    measure : Measure
        Its settings in SI.
    system : DisplaySystem
        Whose units are written.

    Returns
    -------
    dict
        One member of `measures`.
    """
    entry = written(MeasureDocument, measure, system)
    entry["life"] = quantity(measure.life * _YEAR, Kind.DURATION, "year")
    taken = settings_of(measure.kind) or {}
    entry["settings"] = {
        name: quantity_in(value, Kind(unit), system)
        if isinstance(value, float | int) and name in taken and (unit := taken[name].unit)
        else value
        for name, value in measure.settings.items()
    }
    return entry


def written(model: type[Part], thing: Any, system: DisplaySystem) -> dict[str, Any]:
    """Return an object of the core as its part of a job file.

    Parameters
    ----------
    model : type of Part
        Model of that part.
    thing : dataclass
        Object of the core with the model's fields.
    system : DisplaySystem
        Whose units are written.

    Returns
    -------
    dict
        Fields that have the default of the core are left out.
    """
    defaults = {field.name: field.default for field in fields(thing)}
    known: Mapping[str, Known] = getattr(thing, "known", {})
    entry: dict[str, Any] = {}
    for name, field in model.model_fields.items():
        if not hasattr(thing, name):
            continue
        value = getattr(thing, name)
        is_stated = name in known or defaults.get(name, MISSING) != value
        if name == "known" or (value is None and not field.is_required()) or not is_stated:
            continue
        entry[name] = _value(value, (field.annotation, *field.metadata), system)
    _state_known(entry, known)
    if model is LayerDocument:
        del entry["conductivity" if thing.role == "insulation" else "resistance"]
    return entry


def _state_known(entry: dict[str, Any], known: Mapping[str, Known]) -> None:
    """Say in a part how its values are known: beside a quantity, else in its own map."""
    apart: dict[str, Any] = {}
    for name, how in known.items():
        note = {"note": how.note} if how.note else {}
        value = entry.get(name)
        if isinstance(value, _Written):
            entry[name] = {"value": value.typed, "known": str(how.how)} | note
        else:
            apart[name] = {"how": str(how.how)} | note
    if apart:
        entry["known"] = apart
    for name, value in entry.items():
        if isinstance(value, _Written):
            entry[name] = value.typed


class _Written:
    """A quantity on its way into the file."""

    def __init__(self, typed: str | int | float) -> None:
        self.typed = typed


def _value(value: Any, shape: tuple[Any, ...], system: DisplaySystem) -> Any:
    """Return a value for the file; `shape` is what the model says of it."""
    if value is None:
        return None
    if (marker := first_within(shape, (QuantityField, DayField))) is not None:
        return _quantities(value, marker, system)
    model = first_within(shape, (type,), Part)
    if model is not None and isinstance(value, tuple):
        return [written(model, one, system) for one in value]
    if model is not None:
        return written(model, value, system)
    if isinstance(value, tuple):
        return list(value)
    return value.value if isinstance(value, Enum) else value


def _quantities(value: Any, marker: QuantityField | DayField, system: DisplaySystem) -> Any:
    if isinstance(marker, DayField):
        hours = [_typed(hour, marker.hour.kind, system) for hour in value]
        return _Written(hours[0]) if len(set(hours)) == 1 else hours
    if isinstance(value, tuple):
        return [_typed(one, marker.kind, system) for one in value]
    if hasattr(value, "items"):
        return {str(key): _typed(one, marker.kind, system) for key, one in value.items()}
    return _Written(_typed(value, marker.kind, system))


def _typed(value: float, kind: Kind, system: DisplaySystem) -> str | int | float:
    if kind is Kind.COUNT:
        return int(value)
    if kind is Kind.RATIO:
        return float(f"{value:.6g}")
    return quantity_in(value, kind, system)
