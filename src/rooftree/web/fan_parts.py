"""What the page of a fan test is made of: the form, and its fit beside it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar

from rooftree.readings.airtightness import Standard
from rooftree.web.entry import steps
from rooftree.web.fan_form import UNITS, FanForm

if TYPE_CHECKING:
    from collections.abc import Mapping

    from markupsafe import Markup

    from rooftree.finding import Finding
    from rooftree.job import Job
    from rooftree.papers.results.words import Line
    from rooftree.readings.airtightness import FanTestResult
    from rooftree.web.charts import Drawing
    from rooftree.web.table_step import TableSource, TableStep


SETUP = (
    "No embers, no ash, no burner on: flues cold, thermostat and water heater off, noted as found.",
    "Windows and outside doors shut, doors inside open, air handler and exhaust fans off.",
    "Reference hose outdoors, out of the wind and of the fan's stream.",
    "Baselines with the fan sealed before and after; wait at each station until it is steady.",
    "Choose the fan's configuration on the gauge as it is on the fan; photograph it.",
)
"""What to see to before a fan test; common practice."""


@dataclass(frozen=True, slots=True)
class FitPart:
    """What the readings give so far.

    Attributes
    ----------
    result : FanTestResult or None
        The reduced test; None while there is not enough to reduce.
    drawing : Drawing or None
        Its fit.
    hole : str
        All leaks together as something that anybody has seen.
    sizes, curve : tuple of Line
        Results with limits.
    findings : tuple of Finding
        Doubts.
    missing : str
        What is still needed where there is no result.
    """

    template: ClassVar[str] = "fan_test_fit.html"
    result: FanTestResult | None
    drawing: Drawing | None
    hole: str
    sizes: tuple[Line, ...]
    curve: tuple[Line, ...]
    findings: tuple[Finding, ...]
    missing: str


@dataclass(frozen=True, slots=True)
class FormPart:
    """The form, as typed.

    Attributes
    ----------
    job : Job
        The job.
    test : str
        Id of the test in the job; `NEW` for one that is not in it yet.
    form : FanForm
        What was typed and what is wrong with it.
    is_unsaved : bool
        Whether what was typed is not in the job yet.
    step : TableStep, TableSource or None
        A table on its way into one of the lists.
    standards : tuple of (str, str)
        Value and words of each reduction that can be followed.
    units : mapping from str to tuple of str
        Units for numbers typed alone, by column.
    """

    template: ClassVar[str] = "fan_test_form.html"
    job: Job
    test: str
    form: FanForm
    is_unsaved: bool
    step: TableStep | TableSource | None = None
    standards: tuple[tuple[str, str], ...] = tuple((one.value, one.value) for one in Standard)
    units: Mapping[str, tuple[str, ...]] = field(default_factory=lambda: UNITS)

    def configurations(self, path: str) -> tuple[tuple[str, str], ...]:
        """Return what the fan at the path of a configuration can be set to, or nothing."""
        place = steps(path)[3]
        names = next(fan.configurations for fan in self.form.fans if fan.place == place)
        return (("", "—"), *((name, name) for name in names))

    @staticmethod
    def pairs(texts: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
        """Return each text as a choice whose value is its own words."""
        return tuple((text, text) for text in texts)


@dataclass(frozen=True, slots=True)
class FanTestPage:
    """The form with its fit beside it.

    Attributes
    ----------
    job : Job
        The job.
    entry : FormPart
        The form.
    fit : FitPart
        What the readings give so far.
    title : str
        Name of the test.
    picture : Markup
        Where the fan stands and the hoses go, as SVG.
    setup : tuple of str
        What to see to before the first reading.
    """

    template: ClassVar[str] = "fan_test.html"
    job: Job
    entry: FormPart
    fit: FitPart
    title: str
    picture: Markup
    setup: tuple[str, ...] = SETUP
    sheet: str = "readings"
