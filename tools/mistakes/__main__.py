"""Run the mistakes and write their page: ``PYTHONPATH=tools python -m mistakes [kind ...]``."""

from __future__ import annotations

import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import mistakes
from mistakes.mistake import LEAST_CAUGHT, MOST_FALSE, TESTS, Mistake, Rates, measure_rates
from rates_page import members, table, write_sections

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "mistakes.md"

HEAD = f"""
# Mistakes in the field, and which are noticed

Each row is a mistake made on purpose in {TESTS} generated tests, with the noise of real ones,
and given to the reduction as a person would have typed it. *Caught* is the share in which one
of the findings named was raised; *false alarms* is the share of the same tests, without the
mistake, in which one was raised all the same. Wanted: at least {LEAST_CAUGHT:.0%} of mistakes
that change the result by a factor of two or more (marked ×2), and at most {MOST_FALSE:.0%} false
alarms. *No.* numbers the thirty-two mistakes that are common in the field. What is marked "nothing
to compare with" no reading of the test can show: [how sure a result
is](../explanation/uncertainty.md) says what to note instead.
Written by `PYTHONPATH=tools python -m mistakes`.
"""


def _row(rates: Rates) -> list[str]:
    mistake = rates.mistake
    return [
        str(mistake.number) if mistake.number else "",
        mistake.name + (" (×2)" if mistake.factor_of_two else ""),
        ", ".join(f"`{code}`" for code in mistake.codes),
        f"{rates.caught:.1%}",
        f"{rates.false_alarms:.1%}",
        "yes" if rates.is_good else "**no**",
    ]


def report_kind(kind: str) -> tuple[str, str, bool]:
    """Measure every mistake of one kind of test: its name, its table, whether all is well."""
    listed: tuple[Mistake, ...] = members(mistakes, "MISTAKES", [kind])[kind]
    rates = [measure_rates(mistake) for mistake in listed]
    heads = ["No.", "Mistake", "Findings", "Caught", "False alarms", "As wanted"]
    return kind, table(heads, map(_row, rates)), all(rate.is_good for rate in rates)


def main(kinds: list[str]) -> int:
    """Run all kinds, or those named; return 1 if a rate is not as wanted."""
    found = members(mistakes, "MISTAKES", kinds)
    sections, all_good = {}, True
    with ProcessPoolExecutor() as pool:
        for kind, section, is_good in pool.map(report_kind, found):
            print(f"{kind}\n{section}\n", flush=True)
            sections[kind], all_good = section, all_good and is_good
    write_sections(PAGE, HEAD, sections, is_whole=not kinds)
    return 0 if all_good else 1


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
