"""What the page of a test is made of: the form, and what it gives beside it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

if TYPE_CHECKING:
    from markupsafe import Markup

    from rooftree.finding import Finding
    from rooftree.job import Job
    from rooftree.papers.results import Line, Table
    from rooftree.web.charts import Drawing
    from rooftree.web.sheets.form import SheetForm
    from rooftree.web.sheets.layout import Sheet
    from rooftree.web.table_step import TableSource, TableStep


@dataclass(frozen=True, slots=True)
class ResultPart:
    """What the readings give so far.

    Attributes
    ----------
    says : str
        The result in plain words; empty where there is none.
    drawing : Drawing or None
        The result as a picture.
    lines : tuple of Line
        Results with limits.
    tables : tuple of Table
        Results that are lists.
    findings : tuple of Finding
        Doubts.
    has_result : bool
        Whether there is a result.
    missing : str
        What is still needed where there is none.
    """

    template: ClassVar[str] = "test_result.html"
    says: str
    drawing: Drawing | None
    lines: tuple[Line, ...]
    tables: tuple[Table, ...]
    findings: tuple[Finding, ...]
    has_result: bool
    missing: str

    @classmethod
    def without(cls, missing: str, findings: tuple[Finding, ...] = ()) -> ResultPart:
        """Return the part where there is no result, with what is still needed."""
        return cls("", None, (), (), findings, has_result=False, missing=missing)


@dataclass(frozen=True, slots=True)
class SheetFormPart:
    """The form, as typed.

    Attributes
    ----------
    job : Job
        The job.
    sheet : Sheet
        The layout.
    test : str
        Id of the test in the job; `NEW` for one that is not in it yet.
    form : SheetForm
        What was typed and what is wrong with it.
    is_unsaved : bool
        Whether what was typed is not in the job yet.
    step : TableStep, TableSource or None
        A table on its way into one of the lists.
    """

    template: ClassVar[str] = "test_form.html"
    job: Job
    sheet: Sheet
    test: str
    form: SheetForm
    is_unsaved: bool
    step: TableStep | TableSource | None = None


@dataclass(frozen=True, slots=True)
class TestPage:
    """The form with its result beside it.

    Attributes
    ----------
    job : Job
        The job.
    layout : Sheet
        Of this kind of test.
    entry : SheetFormPart
        The form.
    result : ResultPart
        What the readings give so far.
    title : str
        Name of the test.
    picture : Markup
        Where hoses and probes go, as SVG; empty for none.
    cautions : str
        What to mind; empty where nothing can hurt someone.
    """

    template: ClassVar[str] = "test.html"
    job: Job
    layout: Sheet
    entry: SheetFormPart
    result: ResultPart
    title: str
    picture: Markup
    cautions: str
    sheet: str = "readings"
