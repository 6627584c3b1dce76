"""The owner's report: one PDF from the same record as everything else."""

from rooftree.papers.report.render import render_report
from rooftree.papers.report.subject import ReportSubject

__all__ = ["ReportSubject", "render_report"]
