"""The tools that measure how often mistakes are noticed and ranges hold the truth."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import covered
import mistakes
from covered.method import Method, measure_coverage
from mistakes.mistake import Mistake, measure_rates
from rates_page import members, table, write_sections
from rooftree.finding import Finding, Severity
from rooftree.physics.propagation import Propagated

if TYPE_CHECKING:
    from numpy.random import Generator

TOOLS = Path(__file__).parents[2] / "tools"


def judged(value: float) -> tuple[Finding, ...]:
    """Return a finding for a value above one."""
    return (Finding("thing/high", Severity.NOTE, "Too high."),) if value > 1.0 else ()


def test_rates_count_spoilt_and_clean_tests() -> None:
    """A mistake that always shows is always caught; the false alarms are those of clean tests."""
    mistake = Mistake(
        None,
        "ten times",
        ("thing/high",),
        lambda random: float(random.uniform(0.5, 1.5)),
        lambda value, _: 10.0 * value,
        judged,
    )
    rates = measure_rates(mistake, 400)
    assert rates.caught == 1.0
    assert rates.false_alarms == pytest.approx(0.5, abs=0.1)
    assert not rates.is_good
    assert measure_rates(mistake, 400).false_alarms == rates.false_alarms


def test_other_findings_do_not_count() -> None:
    """Only the findings named of a mistake count as noticing it."""
    mistake = Mistake(None, "other", ("thing/low",), lambda _: 5.0, lambda value, _: value, judged)
    assert measure_rates(mistake, 5).caught == 0.0


def noisy(spread: float) -> Method:
    """Return a method whose readings scatter by `spread` and that states a spread of one."""

    def trial(random: Generator) -> tuple[float, Propagated] | None:
        read = random.normal(10.0, spread)
        return (
            (10.0, Propagated(read, 1.0, read - 2.0, read + 2.0)) if random.random() > 0.1 else None
        )

    return Method("noise", trial)


def test_an_honest_range_holds_the_truth_nine_times_in_ten() -> None:
    """Right uncertainty passes; one that is half of the true scatter does not."""
    honest, bold = measure_coverage(noisy(1.0)), measure_coverage(noisy(2.0))
    assert honest.is_good
    assert honest.declined == pytest.approx(200, abs=60)
    assert honest.width == pytest.approx(0.1645, rel=0.02)
    assert bold.inside < 0.7
    assert not bold.is_good


def test_members_are_found_by_kind() -> None:
    """Lists are found in sibling modules, and a kind that is not there is told."""
    assert all(isinstance(m, Mistake) for m in members(mistakes, "MISTAKES")["airtightness"])
    assert all(isinstance(m, Method) for m in members(covered, "METHODS")["airtightness"])
    with pytest.raises(SystemExit, match=r"^no such kind: nothing; there is "):
        members(covered, "METHODS", ["nothing"])


def test_sections_of_kinds_not_run_are_kept(tmp_path: Path) -> None:
    """A page made in part replaces what was made, and keeps the rest."""
    page = tmp_path / "page.md"
    write_sections(page, "# Rates", {"b": table(["x"], [["1"]]), "a": "old"}, is_whole=True)
    write_sections(page, "# Rates", {"a": "new"}, is_whole=False)
    assert page.read_text() == "# Rates\n\n## a\n\nnew\n\n## b\n\n| x |\n| --- |\n| 1 |\n"
    write_sections(page, "# Rates", {"a": "only"}, is_whole=True)
    assert page.read_text() == "# Rates\n\n## a\n\nonly\n"


def test_no_tool_hides_the_library_that_the_compiler_looks_for() -> None:
    """With `tools` on the path, `coverage` still means the library, or nothing."""
    assert not (TOOLS / "coverage").is_dir()
    found = importlib.util.find_spec("coverage")
    assert found is None or TOOLS not in Path(found.origin or "").parents
