"""Check the report as a file: its words, fonts and what a screen reader needs."""

from __future__ import annotations

import io
import re
from importlib.resources import files
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest
from pypdf import PdfReader

from job.jobs import TYPED, make_job
from papers.subjects import make_subject
from rooftree.errors import StoreError
from rooftree.papers.fonts_folder import FONTS
from rooftree.papers.report import render_report
from rooftree.papers.report.content import report_content
from rooftree.papers.report.front import CAUTIONS
from rooftree.papers.report.render import set_pages
from rooftree.units import DisplaySystem

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

IP, SI = DisplaySystem.IP, DisplaySystem.SI
LETTER, A4 = (612.0, 792.0), (595.28, 841.89)

pytestmark = pytest.mark.skipif(
    not any(FONTS.glob("*.ttf")), reason="the fonts are put there when the pages are built"
)


@pytest.fixture(scope="module")
def content() -> dict[str, Any]:
    """Return what the report of the small job says."""
    return report_content(make_subject(), IP)


@pytest.fixture(scope="module")
def report(content: dict[str, Any]) -> PdfReader:
    """Return that report as set, without a single warning of the typesetter."""
    pdf, warnings = set_pages(content)
    assert warnings == []
    return PdfReader(io.BytesIO(pdf))


@pytest.fixture(scope="module")
def text(report: PdfReader) -> str:
    """Return all words of the report."""
    return plain(" ".join(page.extract_text() for page in report.pages))


def plain(words: str) -> str:
    """Return words without breaks, hyphens at line ends, or curly quotes."""
    words = words.replace("\u00ad", "").replace("-\n", "-").replace("’", "'")
    return re.sub(r"\s+", "", words)


def test_complaints_stand_on_the_first_page(report: PdfReader) -> None:
    """The client's words come first, unchanged, signs of markup too."""
    first = plain(report.pages[0].extract_text())
    for complaint in make_job().complaints:
        assert plain(complaint.words) in first


def test_first_steps_stand_in_order_on_the_first_page(
    report: PdfReader, content: dict[str, Any]
) -> None:
    """Each of the first steps with its cost, one after the other."""
    first = plain(report.pages[0].extract_text())
    places = [first.index(plain(step["title"])) for step in content["steps"]]
    assert len(places) == 5
    assert places == sorted(places)
    assert all(plain(step["cost"]) in first for step in content["steps"])


def test_safety_box_stands_on_the_first_page(report: PdfReader, content: dict[str, Any]) -> None:
    """Every stop and every gate is on the page that everybody reads."""
    first = plain(report.pages[0].extract_text())
    assert content["safety"]
    for line in content["safety"]:
        assert plain(line["says"]) in first
    for caution in CAUTIONS[:2]:
        assert plain(caution) in first


def test_every_caution_is_in_the_report(text: str) -> None:
    """The usual cautions are all there."""
    for caution in CAUTIONS:
        assert plain(caution) in text


def test_every_finding_is_told_whole(text: str, content: dict[str, Any]) -> None:
    """What, why, what it does, what to do and how to know that it is done."""
    for finding in content["findings"]:
        for key in ("place", "says", "cause", "consequence", "remedy", "proof", "cleared"):
            assert plain(finding[key]) in text


def test_every_stage_is_told_with_its_checks(text: str, content: dict[str, Any]) -> None:
    """Stages, reasons and checks with their sources are all set."""
    for stage in content["stages"]:
        assert plain(f"Stage {stage['number']}: {stage['name']}") in text
        for step in stage["steps"]:
            assert plain(step["why"]) in text
        for check in stage["checks"]:
            assert plain(check["says"]) in text
            assert plain(check["source"]) in text
    assert plain("Safe to stop here.") in text
    assert plain("Not yet safe to stop here.") in text


def test_every_test_stands_in_the_annex(text: str, content: dict[str, Any]) -> None:
    """Name, method, results and doubts of each test."""
    for page in content["tests"]:
        assert plain(page["name"]) in text
        assert plain(page["method"]) in text
        for row in page["rows"]:
            assert plain(row["value"]) in text
        for finding in page["findings"]:
            assert plain(finding["says"]) in text


def test_every_typed_value_stands_in_the_annex(text: str) -> None:
    """As typed, and with how it is known."""
    for typed in TYPED:
        assert plain(typed.text) in text
        assert plain(typed.known.note) in text


def test_left_out_and_not_seen_are_told(text: str, content: dict[str, Any]) -> None:
    """What is missing from plan and visit is said."""
    for one in content["left_out"]:
        assert plain(one["title"]) in text
        assert plain(one["why"]) in text
    for one in content["not_seen"]:
        assert plain(one) in text


def test_declaration_is_there(text: str, content: dict[str, Any]) -> None:
    """Sources, instruments, conditions, limits and the question about interests."""
    for source in content["sources"]:
        assert plain(source) in text
    for instrument in content["instruments"]:
        assert plain(instrument["name"]) in text
    assert plain("overdue at the visit") in text
    assert plain(content["conditions"]) in text
    assert plain(content["not_certified"]) in text
    assert plain("Conflict of interest:") in text


def test_every_page_has_address_mark_and_number(report: PdfReader) -> None:
    """The foot tells where, that it is invented, and which page of how many."""
    count = len(report.pages)
    for number, page in enumerate(report.pages, start=1):
        foot = plain(page.extract_text())
        assert plain("3 Invented Road, Greensboro NC") in foot
        assert plain("Invented house, people and numbers") in foot
        assert f"page{number}of{count}" in foot


def test_a_real_house_carries_no_mark() -> None:
    """Only a demonstration says that it is invented."""
    pdf, _ = set_pages(report_content(make_subject(make_job(invented=False)), IP))
    reader = PdfReader(io.BytesIO(pdf))
    assert "Inventedhouse" not in plain(reader.pages[0].extract_text())


def _fonts(item: Any) -> Iterator[str]:
    """Yield the names of all fonts that an object draws with, pictures in it too."""
    resources = _entries(item, "/Resources")
    for font in _entries(resources, "/Font").values():
        yield font.get_object()["/BaseFont"]
    for inner in _entries(resources, "/XObject").values():
        yield from _fonts(inner.get_object())


def _entries(item: Any, key: str) -> Any:
    return item[key].get_object() if key in item else {}


def test_only_our_own_font_is_embedded(report: PdfReader) -> None:
    """The same face in text, drawing and chart; nothing of the machine it was made on."""
    names = {name for page in report.pages for name in _fonts(page)}
    assert names
    assert all("SourceSans3" in name for name in names), names


def test_report_is_an_accessible_file(report: PdfReader, content: dict[str, Any]) -> None:
    """PDF/UA-1: marked, titled, in a language, and it says that it is."""
    catalog: Any = report.trailer["/Root"]
    assert catalog["/MarkInfo"]["/Marked"]
    assert catalog["/Lang"].startswith("en")
    assert catalog["/ViewerPreferences"]["/DisplayDocTitle"]
    assert "/StructTreeRoot" in catalog
    metadata = catalog["/Metadata"].get_object().get_data().decode()
    assert re.search(r"pdfuaid:part[>=\"']+1", metadata)
    assert report.metadata is not None
    assert report.metadata.title == f"{content['title']}: 3 Invented Road, Greensboro NC"
    assert report.metadata.author == "D. Arden"


def _elements(item: Any) -> Iterator[Any]:
    """Yield every element of the structure tree."""
    kids = item.get("/K", [])
    for kid in kids if isinstance(kids, list) else [kids]:
        element = kid.get_object() if hasattr(kid, "get_object") else kid
        if hasattr(element, "get") and "/S" in element:
            yield element
            yield from _elements(element)


def test_pictures_have_their_text_and_headings_are_in_order(
    report: PdfReader, content: dict[str, Any]
) -> None:
    """Drawing and chart are told in words; no level of heading is skipped."""
    tree: Any = report.trailer["/Root"]["/StructTreeRoot"]
    elements = list(_elements(tree))
    texts = [str(e["/Alt"]) for e in elements if e["/S"] == "/Figure"]
    assert content["section"]["alt"] in texts
    assert content["chart"]["alt"] in texts
    levels = [int(str(e["/S"])[2:]) for e in elements if re.fullmatch(r"/H\d", str(e["/S"]))]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


@pytest.mark.parametrize(("system", "size"), [(IP, LETTER), (SI, A4)])
def test_paper_is_that_of_the_readers_country(
    system: DisplaySystem, size: tuple[float, float]
) -> None:
    """Letter where people read inches, A4 elsewhere."""
    reader = PdfReader(io.BytesIO(render_report(make_subject(), system=system)))
    for page in reader.pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
            size, abs=0.1
        )


def test_same_record_makes_the_same_words() -> None:
    """Nothing of the report depends on when or where it is made."""
    one, other = (
        [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]
        for pdf in (render_report(make_subject(), system=IP) for _ in range(2))
    )
    assert one == other


def test_core_of_the_report_is_short(report: PdfReader) -> None:
    """The annex begins after at most five pages."""
    begins = next(
        number
        for number, page in enumerate(report.pages)
        if plain("Annex: where the figures come from") in plain(page.extract_text())
    )
    assert begins <= 5


def test_empty_plan_is_set_too() -> None:
    """A report without steps, tests, visits or record has no gap that breaks it."""
    subject = make_subject(make_job(tests=(), visits=(), typed=(), observations=(), complaints=()))
    plan = subject.plan
    bare = make_subject(
        subject.job,
        plan=type(plan)(before=plan.before, stages=(), whole=plan.whole, blocked=(), packages=()),
    )
    pdf, warnings = set_pages(report_content(bare, IP))
    assert warnings == []
    words = plain(PdfReader(io.BytesIO(pdf)).pages[0].extract_text())
    assert plain("Nothing that was seen or measured at the visit calls for a stop.") in words


def test_missing_fonts_are_refused_with_the_remedy(content: dict[str, Any], tmp_path: Path) -> None:
    """A report in another face would not be ours; the message says what to do."""
    with pytest.raises(
        StoreError,
        match=r"^the fonts of the papers are not in .*; build the pages first: make demo$",
    ):
        set_pages(content, tmp_path)


def test_a_font_that_is_not_there_is_noticed(content: dict[str, Any], tmp_path: Path) -> None:
    """A wrong font is only a warning to the typesetter, so warnings must be looked at."""
    (tmp_path / "Broken.ttf").write_bytes(b"no font")
    _, warnings = set_pages(content, tmp_path)
    assert any("unknown font family" in warning for warning in warnings)


def test_template_is_part_of_the_package() -> None:
    """An installed package finds the template as a resource."""
    assert files("rooftree.papers.report").joinpath("report.typ").is_file()
