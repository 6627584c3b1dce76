"""What every field test says in the job file beside its readings."""

from __future__ import annotations

from typing import Any, ClassVar

from rooftree.job import Test
from rooftree.physics.air import STANDARD_PRESSURE
from rooftree.records.document.part import Id, Part, built


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
    note: str = ""

    def reading(self, barometric_pressure: float = STANDARD_PRESSURE) -> object:
        """Return the readings in SI; what was left out has the default of the core.

        Parameters
        ----------
        barometric_pressure : float
            Of the place, for tests that need it and were not told [Pa].
        """
        given = (
            {"barometric_pressure": barometric_pressure}
            if "barometric_pressure" in self.readings.__dataclass_fields__
            and getattr(self, "barometric_pressure", None) is None
            else {}
        )
        return built(self.readings, self, **given)

    def to_core(self, barometric_pressure: float = STANDARD_PRESSURE) -> Test:
        """Return the test in SI."""
        reading = self.reading(barometric_pressure)
        return Test(self.id, self.name, self.visit, reading, self.place, self.instrument, self.note)
