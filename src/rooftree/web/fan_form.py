"""The form of a fan test: which fields it has, what was typed in them, what is wrong."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rooftree.web.cells import YES_OR_NO, Cell
from rooftree.web.entry import Fields, compact, count, flatten, nest, steps, to_path, with_unit
from rooftree.web.table_step import TABLE_FIELD

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

UNITS = {
    "pressure": ("Pa", "in. w.c."),
    "flow": ("cfm", "L/s", "m³/h", "m³/s"),
    "temperature": ("°F", "°C"),
}
"""Units that the form offers for numbers typed alone, by column; the first is the default."""

_UNIT_OF = {
    "baseline_before": "pressure",
    "baseline_after": "pressure",
    "pressure": "pressure",
    "fan_pressure": "pressure",
    "flow": "flow",
    "room_pressure": "pressure",
    "indoor_temperature": "temperature",
    "outdoor_temperature": "temperature",
}
"""Column of each field whose unit may be left out."""

UNIT_FIELD, ROWS_FIELD, ADD_FIELD = "unit.", "rows.", "add"
"""Fields that steer the form and are no part of the entry."""

LISTS = {"baseline_before": 3, "baseline_after": 3, "stations": 8}
"""Lists of readings, with the rows that an empty form shows."""

_ALWAYS = ("name", "direction", "standard", "note", "instrument", "also_with[0]")
"""Fields that every form shows."""

CONDITIONS = (
    ("indoor_temperature", "Indoor temperature", "such as 68 °F"),
    ("outdoor_temperature", "Outdoor temperature", "such as 4 °C"),
    ("barometric_pressure", "Barometric pressure", "such as 29.9 inHg or 1013 hPa"),
    ("relative_humidity", "Relative humidity", "such as 50 %"),
    ("wind_speed", "Wind speed", "near the house, such as 6 mph"),
    ("height", "Height of the tested space", "above ground, such as 18 ft"),
    ("pressure_uncertainty", "Gauge, standard uncertainty", "such as 0.5 Pa"),
)
"""Fields for the whole test: name, words, hint."""


STATES = (
    ("interior_doors_open", "All inside doors open"),
    ("openings_closed", "Windows, outside doors, hatches and dampers shut"),
    ("air_handler_off", "Air handler off"),
    ("exhaust_fans_off", "Exhaust fans and dryer off"),
    ("embers", "Embers or open ash in a fireplace or stove"),
)
"""Questions about the house during the test, answered by yes or no: name, words."""

ROOM = ("room_pressure", "Largest pressure of a room", "against the fan's room, such as 1 Pa")
"""Spot check of the rooms at the highest station: name, words, hint."""

_SHOWN = {*_ALWAYS, ROOM[0], *(name for name, *_ in (*CONDITIONS, *STATES))}
_FLAGS = {"yes": True, "no": False}


@dataclass(frozen=True, slots=True)
class FanColumn:
    """One fan that runs during the test.

    Attributes
    ----------
    place : int
        Its place in the list of fans.
    name : str
        Its id in the job.
    configurations : tuple of str
        Configurations for which it has a calibration; empty when the gauge shows flow.
    """

    place: int
    name: str
    configurations: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FanForm:
    """A fan test as typed.

    Attributes
    ----------
    fields : mapping from str to str
        What was typed, by path.
    rows : mapping from str to int
        How many rows each list shows, the empty ones included.
    units : mapping from str to str
        Unit of numbers typed alone, by column.
    mistakes : mapping from str to str
        What is wrong, by path.
    """

    fields: Mapping[str, str]
    rows: Mapping[str, int]
    units: Mapping[str, str]
    mistakes: Mapping[str, str]

    def cell(self, path: str, words: str, hint: str = "") -> Cell:
        """Return the field at a path."""
        return Cell(path, words, self.fields.get(path, ""), self.mistakes.get(path, ""), hint)

    @property
    def conditions(self) -> tuple[Cell, ...]:
        """Return the fields for the whole test."""
        return tuple(self.cell(*one) for one in CONDITIONS)

    @property
    def states(self) -> tuple[Cell, ...]:
        """Return the questions about the house during the test."""
        asked = tuple(replace(self.cell(*one), options=YES_OR_NO) for one in STATES)
        return (*asked, replace(self.cell(*ROOM), is_number=True, is_signed=True))

    def baselines(self, name: str) -> tuple[Cell, ...]:
        """Return the readings with the fan sealed, before or after."""
        when = "before" if name.endswith("before") else "after"
        return tuple(
            self.cell(f"{name}[{k}]", f"Baseline {when}, reading {k + 1}")
            for k in range(self.rows[name])
        )

    @property
    def fans(self) -> tuple[FanColumn, ...]:
        """Return the fans, at least one."""
        return tuple(self._fan(place) for place in range(max(count(self.fields, "fans"), 1)))

    def _fan(self, place: int) -> FanColumn:
        path = f"fans[{place}]"
        bands = range(count(self.fields, f"{path}.bands"))
        names = [self.fields.get(f"{path}.bands[{k}].configuration", "") for k in bands]
        name = self.fields.get(f"{path}.id", f"fan {place + 1}")
        return FanColumn(place, name, tuple(dict.fromkeys(filter(None, names))))

    @property
    def stations(self) -> tuple[tuple[Cell, ...], ...]:
        """Return each row of the table of stations, field by field."""
        return tuple(tuple(self._station(k)) for k in range(self.rows["stations"]))

    def _station(self, k: int) -> Iterator[Cell]:
        yield self.cell(f"stations[{k}].pressure", f"Station {k + 1}, house pressure")
        for fan in self.fans:
            path, words = f"stations[{k}].fans[{fan.place}]", f"Station {k + 1}, {fan.name}"
            if fan.configurations:
                yield self.cell(f"{path}.fan_pressure", f"{words}, fan pressure")
                yield self.cell(f"{path}.configuration", f"{words}, configuration")
            yield self.cell(f"{path}.flow", f"{words}, flow shown")

    @property
    def hidden(self) -> tuple[tuple[str, str], ...]:
        """Return what belongs to the entry but has no field of its own."""
        return tuple(
            (path, text)
            for path, text in self.fields.items()
            if path not in _SHOWN and not path.startswith(tuple(LISTS))
        )

    @property
    def others(self) -> tuple[tuple[str, str], ...]:
        """Return the mistakes whose field the form does not show."""
        shown = {cell.path for row in self.stations for cell in row}
        shown |= {
            cell.path for name in LISTS if name != "stations" for cell in self.baselines(name)
        }
        shown |= _SHOWN
        return tuple((path, says) for path, says in self.mistakes.items() if path not in shown)

    @property
    def has_readings(self) -> bool:
        """Return whether anything was typed into a station."""
        return any(cell.text.strip() for row in self.stations for cell in row)

    def in_words(self, says: str) -> str:
        """Return a message in which each path of a field is replaced by the field's label."""
        cells = [cell for row in self.stations for cell in row]
        cells += [*self.conditions, *self.baselines("baseline_before")]
        cells += self.baselines("baseline_after")
        for cell in sorted(cells, key=lambda cell: -len(cell.path)):
            says = says.replace(cell.path, cell.words)
        return says

    @property
    def entry(self) -> dict[str, object]:
        """Return the entry for the job file: as typed, columns' units added."""
        typed = {path: self._with_unit(path, text) for path, text in self.fields.items()}
        named = compact(typed | self._fans_named(typed))
        # A quantity that says how it is known is an object in the file.
        entry = nest({f"{p}.value" if f"{p}.known" in named else p: t for p, t in named.items()})
        answers = {name: _FLAGS.get(str(entry[name])) for name, _ in STATES if name in entry}
        return entry | {name: answer for name, answer in answers.items() if answer is not None}

    def _with_unit(self, path: str, text: str) -> str:
        last = path.rpartition(".")[2].partition("[")[0]
        # The limits of a calibration band are "fan pressure" too, but always carry a unit.
        return with_unit(text.strip(), self.units.get(_UNIT_OF.get(last, ""), ""))

    def _fans_named(self, typed: Mapping[str, str]) -> Fields:
        """Return the id of the fan for each reading of which something was typed."""
        names = {fan.place: fan.name for fan in self.fans}
        return {
            f"{path}.fan": names[place]
            for k in range(self.rows["stations"])
            for place in names
            if any(
                typed.get(f"{(path := f'stations[{k}].fans[{place}]')}.{field}")
                for field in ("flow", "fan_pressure", "configuration")
            )
        }


def fields_of(entry: Mapping[str, object]) -> Fields:
    """Return an entry of the job file as fields of the form; the inverse of `FanForm.entry`.

    Readings of fans are put at the place of their fan, whatever their order in the file;
    of a quantity that says how it is known, the quantity gets the field.
    """
    flat = flatten(dict(entry))
    places = {
        flat[f"fans[{k}].id"]: k for k in range(count(flat, "fans")) if f"fans[{k}].id" in flat
    }
    moved = {_at_its_fan(path, flat, places): text for path, text in flat.items()}
    words = {str(answer): word for word, answer in _FLAGS.items()}
    moved |= {name: words.get(moved[name], moved[name]) for name, _ in STATES if name in moved}
    return {path.removesuffix(".value"): text for path, text in moved.items() if path}


_KEPT = ("fans[", "place", "instrument", "also_with", "standard", "height", "pressure_uncertainty")
"""What a new test takes over from the one before it: the same fan in the same house."""

_OTHER_WAY = {"depressurize": "pressurize", "pressurize": "depressurize"}


def new_fields(like: Mapping[str, str], visit: str, test_id: str) -> Fields:
    """Return the fields of a new test, set up like an earlier one and blown the other way."""
    kept = {path: text for path, text in like.items() if path.startswith(_KEPT)}
    direction = _OTHER_WAY.get(like.get("direction", ""), "depressurize")
    named = {"name": f"Fan test, {direction}", "direction": direction}
    return (
        {"fans[0].id": "fan"} | kept | named | {"id": test_id, "kind": "fan test", "visit": visit}
    )


def _at_its_fan(path: str, flat: Mapping[str, str], places: Mapping[str, int]) -> str:
    """Return the path with the fan's own place; empty for the id that the place says."""
    along = steps(path)
    match along:
        case ("stations", int(k), "fans", int(j), *rest):
            place = places.get(flat.get(f"stations[{k}].fans[{j}].fan", ""), j)
            return "" if rest == ["fan"] else to_path(("stations", k, "fans", place, *rest))
    return path


def form_of(sent: Mapping[str, str], mistakes: Mapping[str, str] | None = None) -> FanForm:
    """Return the form that was sent, one row longer where a row was asked for."""
    steering = (UNIT_FIELD, ROWS_FIELD, TABLE_FIELD)
    fields = {
        path: text
        for path, text in sent.items()
        if path != ADD_FIELD and not path.startswith(steering)
    }
    units = {column: sent.get(f"{UNIT_FIELD}{column}", of[0]) for column, of in UNITS.items()}
    known = {column: unit if unit in UNITS[column] else "" for column, unit in units.items()}
    return FanForm(fields, _rows(sent, fields), known, dict(mistakes or {}))


def _rows(sent: Mapping[str, str], fields: Mapping[str, str]) -> dict[str, int]:
    """Return how many rows each list shows: as before, at least one empty, one more if asked."""
    return {
        name: max(
            count({path: text for path, text in fields.items() if text.strip()}, name) + 1,
            _number(sent.get(f"{ROWS_FIELD}{name}", ""), fewest),
        )
        + (sent.get(ADD_FIELD) == name)
        for name, fewest in LISTS.items()
    }


def _number(text: str, otherwise: int) -> int:
    return min(int(text), 60) if text.isdecimal() and len(text) < 4 else otherwise
