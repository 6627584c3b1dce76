"""The page of validation names the checks that there are, and what they came to."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from engine.validation.checks import LEDGER, Check, confirm, near
from engine.validation.page import SUITES, check_row

if TYPE_CHECKING:
    from collections.abc import Iterator

    from engine.validation.checks import Suite

PAGE = Path(__file__).parents[3] / "docs" / "reference" / "validation.md"
AGAIN = "run: make docs"


def rows_of(title: str) -> list[list[str]]:
    """Return the cells of the rows of one section."""
    text = PAGE.read_text(encoding="utf-8")
    section = text.partition(f"\n## {title}\n")[2].partition("\n## ")[0]
    table = [line for line in section.splitlines() if line.startswith("| ")][2:]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in table]


@pytest.mark.parametrize("suite", SUITES, ids=lambda suite: suite.title)
def test_page_names_the_checks(suite: Suite) -> None:
    """Each section has the checks of its suite with their ranges and verdicts, in order."""
    kept = [[*row[:3], *row[4:]] for row in rows_of(suite.title)]
    expected = [
        [check.case, check.quantity, check.unit, check.shown(check.low), check.shown(check.high),
         "**outside**" if check.reason else "inside"]
        for check in suite.checks
    ]  # fmt: skip
    assert kept == expected, AGAIN


@pytest.mark.parametrize("suite", SUITES, ids=lambda suite: suite.title)
def test_page_is_current(suite: Suite) -> None:
    """What the checks of this run came to is what the page says, to half a percent."""
    ran = [check for check in suite.checks if check in LEDGER]
    if not ran:
        pytest.skip("no check of this suite ran")
    kept = {(row[0], row[1]): float(row[3]) for row in rows_of(suite.title)}
    for check in ran:
        digit = 2.0 * 10.0**-check.digits
        now = round(LEDGER[check], check.digits)
        assert kept[check.case, check.quantity] == pytest.approx(now, rel=5e-3, abs=digit), AGAIN


def test_no_check_stands_twice() -> None:
    """Within a suite, case and quantity name one check."""
    for suite in SUITES:
        names = [str(check) for check in suite.checks]
        assert len(names) == len(set(names))


@pytest.fixture
def checks() -> Iterator[tuple[Check, Check]]:
    """Return two checks, one that says why it is outside, and forget them afterwards."""
    made = near("made", "a", "W", 1.0, 0.1), near("made", "b", "W", 1.0, 0.1, 3, "made so")
    yield made
    for check in made:
        LEDGER.pop(check, None)


def test_outside_without_reason_fails(checks: tuple[Check, Check]) -> None:
    """A result outside its range is an error unless it was listed."""
    confirm(checks[0], 1.1)
    with pytest.raises(AssertionError, match=r"^made a is outside: 1\.101 W, range 0\.9 to 1\.1"):
        confirm(checks[0], 1.101)


def test_reason_that_has_become_untrue_fails(checks: tuple[Check, Check]) -> None:
    """A listed result that lies inside is an error, so that the list stays true."""
    confirm(checks[1], 1.2)
    assert check_row(checks[1], 1.2).endswith("| **outside** |")
    with pytest.raises(AssertionError, match=r"^made b is now inside: 1\.000 W"):
        confirm(checks[1], 1.0)
