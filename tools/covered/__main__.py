"""Try the methods and write their page: ``PYTHONPATH=tools python -m covered [kind ...]``."""

from __future__ import annotations

import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import covered
from covered.method import LEAST, MOST, PROBABILITY, TRIALS, Coverage, Method, measure_coverage
from rates_page import members, table, write_sections

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "coverage.md"

HEAD = f"""
# Does the range hold the truth?

Each row is a method of reduction. In {TRIALS} trials a truth is drawn, with what the method has
to assume; the field test is simulated on it, with the noise of the instruments; the readings
are reduced; and the truth is looked for in the {PROBABILITY:.0%} range of the result. Wanted:
in the range in {LEAST:.0%} to {MOST:.0%} of the trials. *Half-width* is the median of half the
range over the truth; *declined* counts readings from which the method states no value.
Written by `PYTHONPATH=tools python -m covered`.
"""


def _row(coverage: Coverage) -> list[str]:
    return [
        coverage.method.name,
        coverage.method.draws,
        f"{coverage.inside:.1%}",
        f"{coverage.below:.1%}",
        f"{coverage.above:.1%}",
        f"{coverage.width:.1%}",
        str(coverage.declined),
        "yes" if coverage.is_good else "**no**",
    ]


def report_kind(kind: str) -> tuple[str, str, bool]:
    """Try every method of one kind of test: its name, its table, whether all is well."""
    listed: tuple[Method, ...] = members(covered, "METHODS", [kind])[kind]
    measured = [measure_coverage(method) for method in listed]
    heads = ["Method", "Drawn", "In range", "Below", "Above", "Half-width", "Declined", "As wanted"]
    return kind, table(heads, map(_row, measured)), all(coverage.is_good for coverage in measured)


def main(kinds: list[str]) -> int:
    """Run all kinds, or those named; return 1 if one is not as wanted."""
    found = members(covered, "METHODS", kinds)
    sections, all_good = {}, True
    with ProcessPoolExecutor() as pool:
        for kind, section, is_good in pool.map(report_kind, found):
            print(f"{kind}\n{section}\n", flush=True)
            sections[kind], all_good = section, all_good and is_good
    write_sections(PAGE, HEAD, sections, is_whole=not kinds)
    return 0 if all_good else 1


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
