"""Check that what goes wrong on a visit is told with its field or its finding, and a remedy."""

from __future__ import annotations

import copy
import json
import re
from typing import TYPE_CHECKING, Any

import pytest

from demo_job import demo_text, small_demo
from rooftree.errors import DocumentError
from rooftree.job.kinds import reduce_reading
from rooftree.job.reduction import circumstances_of
from rooftree.records.document import check_document, read_document, read_test

if TYPE_CHECKING:
    from collections.abc import Callable

NUMBER = re.compile(r"-?[\d.,]+ ?(Pa|cfm|ppm|°F|in|ft²|min)")

JOB = read_document(demo_text()).to_core()
ENTRIES: dict[str, dict[str, Any]] = {}
for written in json.loads(demo_text())["tests"]:
    ENTRIES.setdefault(written["kind"], written)


def findings_of(entry: dict[str, Any]) -> list[Any]:
    """Return what is noticed of a test."""
    result = reduce_reading(read_test(entry), circumstances_of(JOB, None))
    return list(result.findings)


def first(name: str, count: int = 1) -> Callable[[dict[str, Any]], object]:
    """Return what leaves only the first rows of a list."""
    return lambda entry: entry.update({name: entry[name][:count]})


def every(name: str, **same: str) -> Callable[[dict[str, Any]], object]:
    """Return what gives every row of a list the same reading."""
    return lambda entry: [row.update(same) for row in entry[name]]


def row(name: str, at: int, **changed: str) -> Callable[[dict[str, Any]], object]:
    """Return what changes one row of a list."""
    return lambda entry: entry[name][at].update(changed)


def fields(**changed: Any) -> Callable[[dict[str, Any]], object]:
    """Return what changes fields of the test."""
    return lambda entry: entry.update(changed)


@pytest.mark.parametrize(
    ("kind", "spoil", "code"),
    [
        ("fan test", fields(baseline_before=[], baseline_after=[]), "fan-test/baseline-missing"),
        ("fan test", first("stations"), "fan-test/one-point"),
        ("fan test", every("stations", pressure="-50 Pa"), "fan-test/one-point"),
        ("zone pressure", fields(zone_pressure="0 Pa"), "zone-pressure/near-house"),
        ("zone pressure", fields(zone_pressure="-50 Pa"), "zone-pressure/near-outdoors"),
        ("opened hatch", fields(flow_after="1,000 cfm", flow_before="1,000 cfm"),
         "zone-pressure/flow-rise"),
        ("duct leakage", fields(duct_pressure="0 Pa"), "duct-leakage/pressure-range"),
        ("duct pans", fields(pans=[]), "duct-pans/no-readings"),
        ("air handler", fields(drops=[], total_static=None), "air_handler/no-flow"),
        ("room pressures", fields(pressures=[]), "room_pressures/no-readings"),
        ("ventilation", fields(fans=[]), "ventilation/no-flow"),
        ("ventilation", row("fans", 0, flow="-5 cfm"), "ventilation/negative-flow"),
        ("tracer decay", first("lines"), "tracer-decay/too-few"),
        ("tracer decay", row("lines", 3, time="-40 min"), "tracer-decay/time-back"),
        ("tracer decay", every("lines", concentration="900 ppm"), "tracer-decay/constant"),
        ("room air", row("air", 2, carbon_monoxide="2000 ppm"), "ambient-co/above-range"),
        ("worst case", fields(baseline_before=[], baseline_after=[]), "worst-case/no-baseline"),
        ("worst case", first("states"), "worst-case/one-combination"),
        ("combustion", fields(flue_co="4,000 ppm"), "combustion/above-range"),
        ("moisture", row("places", 0, relative_humidity="120 %"), "moisture/beyond-saturated"),
        ("insulation", fields(depths=[]), "insulation/no-depth"),
        ("air sealing", row("rows", 2, time="1 min"), "air_sealing/time"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_noticed(
    kind: str, spoil: Callable[[dict[str, Any]], object], code: str
) -> None:
    """Missing baselines, one reading, equal ones, readings above the range, time going back."""
    entry = copy.deepcopy(ENTRIES[kind])
    spoil(entry)
    found = [finding for finding in findings_of(entry) if finding.code == code]
    assert found, code
    assert all(len(finding.says) > 40 for finding in found)


@pytest.mark.parametrize(
    ("kind", "spoil", "path"),
    [
        ("duct leakage", fields(flow="-3 cfm"), "flow"),
        ("opened hatch", fields(flow_after="-3 cfm"), "flow_after"),
        ("air sealing", row("rows", 2, fan_flow="-3 cfm"), "rows[2].fan_flow"),
        ("room air", row("air", 2, seconds="-60 min"), "air[2].seconds"),
    ],
)
def test_what_cannot_be_is_refused_in_its_field(
    kind: str, spoil: Callable[[dict[str, Any]], object], path: str
) -> None:
    """A flow or a time below zero is refused by its path, with what it must be."""
    entry = copy.deepcopy(ENTRIES[kind])
    spoil(entry)
    with pytest.raises(DocumentError, match=rf"{re.escape(path)} is .*; it must be at least 0"):
        read_test(entry)


def numbers(thing: Any, path: str = "") -> list[str]:
    """Return the paths of everything in an entry that is written as a number with a unit."""
    if isinstance(thing, dict):
        return [one for key in thing for one in numbers(thing[key], f"{path}.{key}")]
    if isinstance(thing, list):
        return [one for i, each in enumerate(thing) for one in numbers(each, f"{path}[{i}]")]
    is_one = isinstance(thing, str) and re.fullmatch(
        r"-?[\d.,]+ ?(Pa|cfm|ppm|°F|in|ft²|min)", thing
    )
    return [path.removeprefix(".")] if is_one else []


@pytest.mark.parametrize("kind", sorted(kind for kind in ENTRIES if numbers(ENTRIES[kind])))
def test_words_are_refused_where_a_number_belongs(kind: str) -> None:
    """Text in place of any number is refused by its path, with how to write it."""
    for path in numbers(ENTRIES[kind])[:12]:
        entry = copy.deepcopy(ENTRIES[kind])
        *way, last = [int(s) if s.isdigit() else s for s in re.findall(r"\w+", path)]
        where: Any = entry
        for step in way:
            where = where[step]
        where[last] = "about fifty"
        says = rf'{re.escape(path)} "about fifty" is not a number with a unit; write it like'
        with pytest.raises(DocumentError, match=says):
            read_test(entry)


def test_instrument_that_nobody_entered() -> None:
    """A test read with an instrument that the job does not have names the field."""
    job = small_demo()
    job["tests"][0]["instrument"] = "somebody else's gauge"
    (problem,) = [one for one in check_document(json.dumps(job)) if "instrument" in one.path]
    assert problem.path == "tests[0].instrument"
    assert problem.remedy
