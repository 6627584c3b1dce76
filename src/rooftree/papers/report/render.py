"""Set the owner's report as an accessible PDF."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import typst

from rooftree.errors import StoreError
from rooftree.papers.fonts_folder import FONTS
from rooftree.papers.report.content import report_content

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.papers.report.subject import ReportSubject
    from rooftree.units import DisplaySystem

_TEMPLATE = Path(__file__).parent / "report.typ"


def render_report(subject: ReportSubject, *, system: DisplaySystem) -> bytes:
    """Return the owner's report as a PDF that a screen reader can follow (PDF/UA-1).

    Parameters
    ----------
    subject : ReportSubject
        What it is about.
    system : DisplaySystem
        Units that its reader likes; they also choose letter or A4 paper.

    Returns
    -------
    bytes
        The file.

    Raises
    ------
    StoreError
        If the fonts are not there: the pages were not built.
    """
    return set_pages(report_content(subject, system))[0]


def set_pages(content: Mapping[str, Any], fonts: Path = FONTS) -> tuple[bytes, list[str]]:
    """Return the PDF of a report's content, and what the typesetter warns of.

    Parameters
    ----------
    content : mapping
        Of :func:`~rooftree.papers.report.content.report_content`.
    fonts : Path
        Folder of the TrueType files.

    Returns
    -------
    tuple
        The file and the warnings; a missing font is only a warning to the typesetter.

    Raises
    ------
    StoreError
        If the fonts are not there.
    """
    if not any(fonts.glob("*.ttf")):
        message = f"the fonts of the papers are not in {fonts}; build the pages first: make demo"
        raise StoreError(message)
    pdf, warnings = typst.compile_with_warnings(
        str(_TEMPLATE),
        font_paths=[str(fonts)],
        ignore_system_fonts=True,
        sys_inputs={"content": json.dumps(content, ensure_ascii=False)},
        pdf_standards="ua-1",
    )
    return pdf, [str(warning) for warning in warnings]
