"""The form of an instrument: one row for each quantity that it may measure."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rooftree.job.instruments import Measured
from rooftree.physics.instruments import Accuracy
from rooftree.web.cells import NOT_CHOSEN, Cell
from rooftree.web.entry import compact, flatten, nest, with_unit

if TYPE_CHECKING:
    from collections.abc import Mapping

USUAL_UNITS = {
    Measured.PRESSURE: "Pa",
    Measured.FLOW: "cfm",
    Measured.TEMPERATURE: "°C",
    Measured.HUMIDITY: "%",
    Measured.CONCENTRATION: "ppm",
    Measured.MOISTURE: "%",
    Measured.LENGTH: "mm",
    Measured.SPEED: "m/s",
}
"""Unit of a number typed alone, by what is measured."""

_TOGETHER = (
    NOT_CHOSEN,
    (Accuracy.SUM.value, "both added"),
    (Accuracy.LARGER.value, "the larger"),
)

_COLUMNS = ("absolute", "share", "accuracy", "resolution", "drift_per_year")

HEADS = ("Plus or minus", "and of the reading", "How they go together", "Smallest step",
         "Drift in a year")  # fmt: skip
"""Heads of the columns after the quantity."""


@dataclass(frozen=True, slots=True)
class InstrumentForm:
    """An instrument as typed.

    Attributes
    ----------
    fields : mapping from str to str
        What was typed, by path; ``measures[k]`` is the k-th of `Measured`.
    mistakes : mapping from str to str
        What is wrong, by path.
    """

    fields: Mapping[str, str]
    mistakes: Mapping[str, str] = field(default_factory=dict)

    def cell(self, path: str, words: str, hint: str = "") -> Cell:
        """Return a field that takes any words."""
        return Cell(path, words, self.fields.get(path, ""), self.mistakes.get(path, ""), hint)

    @property
    def rows(self) -> tuple[tuple[str, str, tuple[Cell, ...]], ...]:
        """Return quantity, its unit and the cells of each row."""
        return tuple(
            (str(quantity), USUAL_UNITS[quantity], tuple(self._row(k, quantity)))
            for k, quantity in enumerate(Measured)
        )

    def _row(self, k: int, quantity: Measured) -> list[Cell]:
        return [
            Cell(
                path := f"measures[{k}].{name}",
                f"{head}, {quantity}",
                self.fields.get(path, ""),
                self.mistakes.get(path, ""),
                options=_TOGETHER if name == "accuracy" else (),
            )
            for name, head in zip(_COLUMNS, HEADS, strict=True)
        ]

    @property
    def entry(self) -> dict[str, object]:
        """Return the entry for the job file: rows in which nothing was typed are left out."""
        typed = dict(self.fields)
        for k, quantity in enumerate(Measured):
            row = f"measures[{k}]."
            if any(text.strip() for path, text in typed.items() if path.startswith(row)):
                typed[f"{row}quantity"] = str(quantity)
        return nest(compact({path: self._with_unit(path, text) for path, text in typed.items()}))

    @property
    def places(self) -> dict[int, int]:
        """Return the row of the form for each row of the entry."""
        taken = [
            k
            for k, _ in enumerate(Measured)
            if any(
                text.strip()
                for path, text in self.fields.items()
                if path.startswith(f"measures[{k}].")
            )
        ]
        return dict(enumerate(taken))

    @staticmethod
    def _with_unit(path: str, text: str) -> str:
        name = path.rpartition(".")[2]
        if not path.startswith("measures["):
            return text
        if name == "share":
            return with_unit(text.strip(), "%")
        quantity = list(Measured)[int(path[len("measures[") : path.index("]")])]
        is_number = name in ("absolute", "resolution", "drift_per_year")
        return with_unit(text.strip(), USUAL_UNITS[quantity]) if is_number else text


def fields_of(entry: Mapping[str, object]) -> dict[str, str]:
    """Return an instrument of the job file as fields of the form."""
    flat = flatten(dict(entry))
    order = {str(quantity): k for k, quantity in enumerate(Measured)}
    measures = entry.get("measures", ())
    rows = measures if isinstance(measures, list | tuple) else ()
    moved = {f"measures[{old}].": f"measures[{order[one['quantity']]}]."
             for old, one in enumerate(rows)}  # fmt: skip
    fields: dict[str, str] = {}
    for path, text in flat.items():
        head = next((old for old in moved if path.startswith(old)), "")
        name = path.removeprefix(head)
        if not (head and name == "quantity"):
            fields[moved.get(head, "") + name] = text
    return fields
