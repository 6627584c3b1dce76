"""Check what a log of air sealing is doubted for, and that a good one is not."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from readings.air_sealing.making import log
from rooftree.readings.air_sealing import AirSealingLog, LeakPlace, reduce_air_sealing
from rooftree.units import told

if TYPE_CHECKING:
    from collections.abc import Sequence

KNOWN: dict[str, Any] = {
    "value_per_flow": 500.0,
    "ventilation_flow_50": 0.1,
    "combustion_flow_50": 0.1,
}


def codes(of: AirSealingLog, **more: Any) -> set[str]:
    """Return the codes of its findings, without their kind."""
    found = reduce_air_sealing(of, **(KNOWN | more)).findings
    return {each.code.removeprefix("air_sealing/") for each in found}


def sentence(of: AirSealingLog, code: str, **more: Any) -> str:
    """Return what one finding says."""
    found = reduce_air_sealing(of, **(KNOWN | more)).findings
    return next(each.says for each in found if each.code == f"air_sealing/{code}")


def changed(
    number: int, flows: Sequence[float] = (1.20, 1.05, 0.97), **fields: Any
) -> AirSealingLog:
    """Return a log with one row changed."""
    plain = log(flows)
    rows = list(plain.rows)
    rows[number] = replace(rows[number], **fields)
    return replace(plain, rows=tuple(rows))


def test_a_good_log_raises_nothing() -> None:
    """A log with clear steps, held pressure and everything known raises nothing."""
    assert codes(log()) == set()


@pytest.mark.parametrize(
    ("of", "code"),
    [
        (log((1.20, 1.05, 1.15)), "rise"),
        (log((1.20, 1.05, 0.45)), "units"),
        (log((1.20, 0.54, 0.97)), "units"),
        (log((1.20, 1.05, 0.70)), "jump"),
        (log((1.20, 1.05, 1.80)), "units"),
        (log((1.20, 1.05, 3.30)), "jump"),
        (log((1.20, 1.05, 1.04)), "not-clear"),
        (log(holes_closed=False), "holes"),
        (changed(1, house_pressure=-42.0), "not-held"),
        (changed(1, house_pressure=50.0), "signs"),
        (changed(2, time=600.0), "time"),
        (changed(0, location="chase"), "no-start"),
        (changed(1, fan_flow=-1.0), "unusable"),
        (changed(1, house_pressure=0.0), "unusable"),
    ],
)
def test_logs_are_doubted(of: AirSealingLog, code: str) -> None:
    """Each slip has its finding."""
    assert code in codes(of)


def test_changed_configuration_is_named() -> None:
    """A step of a quarter just where the fan was changed is put down to that."""
    plain = log((1.20, 0.90, 0.85))
    names = ("large", "small", "small")
    rows = tuple(
        replace(each, configuration=name) for each, name in zip(plain.rows, names, strict=True)
    )
    assert "configuration" in codes(replace(plain, rows=rows))
    assert "configuration" not in codes(plain)


def test_a_slip_there_and_back_is_told_once() -> None:
    """One row in another unit is one finding, at that row, and almost certain."""
    slipped = log((1.20, 0.54, 0.97))
    found = [f for f in reduce_air_sealing(slipped, **KNOWN).findings if "units" in f.code]
    assert [f.about for f in found] == ["chase"]
    assert "almost certain" in found[0].says
    assert found[0].says.startswith(
        "Row 2 has 0.45 times the flow of the row before, which is the ratio of cfm and L/s."
    )


def test_a_large_leak_is_no_slip() -> None:
    """A location that takes away a fifth is a good find and raises nothing."""
    assert codes(log((1.20, 0.96, 0.90))) == set()


def test_hole_left_from_another_test() -> None:
    """A first row well above the fan test tells of something left open, one below of set-up."""
    assert "hole-left" in codes(log(), earlier_flow_50=1.05)
    assert "set-up" in codes(log(), earlier_flow_50=1.40)
    assert codes(log(), earlier_flow_50=1.21) == set()


def test_rise_says_where_and_how_sure() -> None:
    """A rise is placed between two rows, with its size."""
    assert told(sentence(log((1.20, 1.05, 1.25)), "rise"), None) == (
        "The flow rose by 19 % (420 cfm (200 L/s)) between rows 2 and 3. A hatch, window or door "
        "that opened, or something knocked loose, is almost certain. Find it before you seal on."
    )


def test_map_and_log_must_name_the_same_places() -> None:
    """A location that the map does not have is named; with its place it is not."""
    places = (LeakPlace("attic", 0.5), LeakPlace("top plates", 0.3))
    plain = log(places=places)
    assert "unknown-place" in codes(plain)
    rows = tuple(
        replace(each, place="attic") if each.location == "chase" else each for each in plain.rows
    )
    assert "unknown-place" not in codes(replace(plain, rows=rows))


def test_shares_beyond_the_house() -> None:
    """Shares of 130 % are doubted and scaled."""
    places = (LeakPlace("chase", 0.8), LeakPlace("top plates", 0.5))
    assert "shares" in codes(log(places=places))
