"""What the pages behind the parts of a house are made of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from rooftree.web.house.change import replaced_by_tests, sentence_of, tables_of

if TYPE_CHECKING:
    from rooftree.actions.house import HouseTrial, Obstacle
    from rooftree.bills.tariff import Tariff
    from rooftree.finding import Finding
    from rooftree.job import Job
    from rooftree.units import DisplaySystem
    from rooftree.web.house.change import Table
    from rooftree.web.house.form import HouseForm
    from rooftree.web.sheets.layout import Sheet


@dataclass(frozen=True, slots=True)
class TrialPart:
    """What a change does to the year.

    Attributes
    ----------
    says : str
        The result in one sentence; empty where there is no year after the change.
    tables : tuple of Table
        Before, after, difference.
    findings : tuple of Finding
        Tests that cannot be put into the changed house.
    missing : tuple of str
        Why there is no year; empty where there is one.
    is_change : bool
        Whether anything was changed.
    replaced : str
        What tests put in the place of what is written down here; empty for nothing.
    """

    template: ClassVar[str] = "house_trial.html"
    says: str
    tables: tuple[Table, ...]
    findings: tuple[Finding, ...]
    missing: tuple[str, ...]
    is_change: bool
    replaced: str = ""

    @classmethod
    def of(
        cls, trial: HouseTrial, tariff: Tariff, system: DisplaySystem, sheet: Sheet, part: str
    ) -> TrialPart:
        """Return what a trial of one part tells."""
        if trial.after is None:
            says = f"The house cannot be simulated so: {trial.says}."
            return cls("", (), trial.findings, (says,), is_change=True)
        return cls(
            says=sentence_of(trial),
            tables=tables_of(trial, tariff, system),
            findings=trial.findings,
            missing=(),
            is_change=trial.before is not trial.after,
            replaced=replaced_by_tests(trial.after, sheet, part),
        )


@dataclass(frozen=True, slots=True)
class HouseFormPart:
    """The form of one part, as typed.

    Attributes
    ----------
    job : Job
        The job.
    layout : Sheet
        Of this kind of part.
    own : str
        Address of the part, without the question mark.
    query : str
        What names the part in the address, from the question mark on.
    form : HouseForm
        What was typed and what is wrong with it.
    is_new : bool
        Whether the house has no such part yet.
    is_unsaved : bool
        Whether what was typed is not in the job yet.
    may_go : bool
        Whether such a part can be taken out at all.
    """

    template: ClassVar[str] = "house_part_form.html"
    job: Job
    layout: Sheet
    own: str
    query: str
    form: HouseForm
    is_new: bool
    is_unsaved: bool
    may_go: bool


@dataclass(frozen=True, slots=True)
class HousePartPage:
    """The form of one part with what a change of it does beside it.

    Attributes
    ----------
    job : Job
        The job.
    layout : Sheet
        Of this kind of part.
    entry : HouseFormPart
        The form.
    result : TrialPart
        What it changes.
    title : str
        Name of the part.
    """

    template: ClassVar[str] = "house_part.html"
    job: Job
    layout: Sheet
    entry: HouseFormPart
    result: TrialPart
    title: str
    sheet: str = "house"


@dataclass(frozen=True, slots=True)
class RemovalPage:
    """Whether to take a part out: what stands in the way, or what it would change.

    Attributes
    ----------
    job : Job
        The job.
    layout : Sheet
        Of this kind of part.
    name : str
        Name of the part.
    own, query : str
        Address of the part, as in `HouseFormPart`.
    obstacles : tuple of (str, Obstacle)
        What refers to it, each with the address of its form; empty where it has none.
    result : TrialPart or None
        What it changes; None while something stands in the way.
    title : str
        Of the page.
    """

    template: ClassVar[str] = "house_part_removal.html"
    job: Job
    layout: Sheet
    name: str
    own: str
    query: str
    obstacles: tuple[tuple[str, Obstacle], ...]
    result: TrialPart | None
    title: str
    sheet: str = "house"
