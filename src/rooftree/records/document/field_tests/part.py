"""What every field test says in the job file beside its readings."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, ClassVar

from rooftree.job import Test
from rooftree.job.instruments import USES, sureness_of
from rooftree.physics.air import STANDARD_PRESSURE, pressure_at_altitude
from rooftree.records.document.part import Id, Part, built, quantities

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rooftree.job import Instrument, Visit
    from rooftree.job.instruments import Measured, Sureness, Use

_BAROMETER = "barometric_pressure"


@dataclass(frozen=True, slots=True)
class Around:
    """What the rest of a job tells a test that did not say it itself.

    Attributes
    ----------
    barometric_pressure : float
        Of the place [Pa].
    sureness : mapping from Measured to Sureness
        Of the instruments that were used.
    """

    barometric_pressure: float = STANDARD_PRESSURE
    sureness: Mapping[Measured, Sureness] = field(default_factory=dict)

    @classmethod
    def of(
        cls,
        elevation: float,
        visits: Sequence[Visit],
        instruments: Sequence[Instrument],
        entry: Mapping[str, Any],
    ) -> Around:
        """Return what a job tells one of its tests.

        Parameters
        ----------
        elevation : float
            Of the place [m].
        visits : sequence of Visit
            Of the job.
        instruments : sequence of Instrument
            Of the job.
        entry : mapping
            The test: its `visit`, its `instrument` and what it was `also_with` count.
        """
        day = next((one.date for one in visits if one.id == entry.get("visit")), "")
        used = (entry.get("instrument", ""), *entry.get("also_with", ()))
        return cls(pressure_at_altitude(elevation), sureness_of(instruments, used, day))


NOTHING_KNOWN = Around()
"""Standard pressure, and no record of an instrument."""


class FieldTestPart(Part):
    """One test: its raw readings, as the instruments showed them.

    A kind of test adds its `kind`, its fields, and the class of its `readings`.
    """

    readings: ClassVar[type[Any]]
    id: Id
    name: str
    visit: str
    place: str = ""
    instrument: str = ""
    also_with: tuple[Id, ...] = ()
    note: str = ""

    def reading(self, around: Around = NOTHING_KNOWN) -> object:
        """Return the readings in SI.

        What was left out is told by the job around it, or has the default of the core.

        Parameters
        ----------
        around : Around
            What the rest of the job tells.
        """
        fields = self.readings.__dataclass_fields__
        given = self._uncertainties(around.sureness)
        if _BAROMETER in fields and getattr(self, _BAROMETER, None) is None:
            given[_BAROMETER] = around.barometric_pressure
        return built(self.readings, self, **given)

    def to_core(self, around: Around = NOTHING_KNOWN) -> Test:
        """Return the test in SI."""
        return Test(
            self.id,
            self.name,
            self.visit,
            self.reading(around),
            self.place,
            self.instrument,
            self.note,
            self.also_with,
        )

    def _uncertainties(self, sureness: Mapping[Measured, Sureness]) -> dict[str, float]:
        """Return what the instruments tell of uncertainties that were not stated."""
        told = {
            USES[quantity].field: one.standard(
                self._read(USES[quantity]), is_relative=USES[quantity].is_relative
            )
            for quantity, one in sureness.items()
            if quantity in USES and self._is_open(USES[quantity].field)
        }
        return {name: value for name, value in told.items() if value is not None}

    def _is_open(self, name: str) -> bool:
        """Return whether the core has this uncertainty and nobody stated it."""
        return name in self.readings.__dataclass_fields__ and getattr(self, name, None) is None

    def _read(self, use: Use) -> list[float]:
        """Return every reading of a quantity."""
        return [
            one.value
            for path, one in quantities(self)
            if one.kind in use.kinds and use.named in path and not path.endswith("uncertainty")
        ]
