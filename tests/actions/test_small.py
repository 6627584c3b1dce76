"""The small parts under the actions: plain values, memory, the place of the database."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from rooftree.actions.memory import Kept, fingerprint
from rooftree.actions.place import VARIABLE, data_folder
from rooftree.actions.plain import plain
from rooftree.house import EndUse, Fuel


@dataclass(frozen=True, slots=True)
class Sample:
    """Something an action might return."""

    energy: dict[Any, Any] = field(default_factory=dict)
    house: str = "left out"
    ids: frozenset[str] = frozenset()
    limits: tuple[float, ...] = ()


def test_results_become_plain_values() -> None:
    """Pairs of enums, arrays, sets and tuples come out as JSON has them."""
    sample = Sample(
        energy={(Fuel.GAS, EndUse.HEATING): np.array([1.0, 2.0])},
        ids=frozenset({"b", "a"}),
        limits=(math.inf, -math.inf, 0.5),
    )
    assert plain(sample) == {
        "energy": {"natural gas/heating": [1.0, 2.0]},
        "ids": ["a", "b"],
        "limits": [None, None, 0.5],
    }


def test_plain_values_are_json() -> None:
    """Whatever comes out can be written strictly."""
    values = plain([np.float64(1.5), np.int64(2), {"a": np.array([math.inf])}, None, True])
    assert json.loads(json.dumps(values, allow_nan=False)) == [1.5, 2, {"a": [None]}, None, True]


def test_what_was_not_computed_is_not_hidden() -> None:
    """NaN is never quietly turned into something else: nothing of ours returns it."""
    assert math.isnan(plain(math.nan))


def test_memory_computes_once() -> None:
    """A value is computed when it is first asked for and kept."""
    kept: Kept[int] = Kept(2)
    made: list[int] = []

    def compute() -> int:
        made.append(1)
        return 7

    assert kept.of("a", compute) == kept.of("a", compute) == 7
    assert made == [1]


def test_memory_forgets_what_was_not_used_longest() -> None:
    """Of more values than fit, those used last stay."""
    kept: Kept[int] = Kept(2)
    kept.put("a", 1)
    kept.put("b", 2)
    assert kept.peek("a") == 1
    kept.put("c", 3)
    assert kept.peek("b") is None
    assert kept.peek("a") == 1
    kept.clear()
    assert kept.peek("a") is None


def test_fingerprints_tell_values_apart() -> None:
    """Equal parts have equal fingerprints; another part, or another order, does not."""
    assert fingerprint("a", 1) == fingerprint("a", 1)
    assert len({fingerprint("a", 1), fingerprint("a", 2), fingerprint(1, "a")}) == 3


def test_the_folder_that_a_person_names_wins(monkeypatch: pytest.MonkeyPatch) -> None:
    """First what was typed, then the environment, then the usual place."""
    monkeypatch.setenv(VARIABLE, "/from/environment")
    assert data_folder(Path("/typed")) == Path("/typed")
    assert data_folder() == Path("/from/environment")


@pytest.mark.parametrize(
    ("platform", "end"),
    [
        ("linux", Path("data") / "rooftree"),
        ("darwin", Path("Library") / "Application Support" / "rooftree"),
        ("win32", Path("local") / "rooftree"),
    ],
)
def test_the_usual_place_is_that_of_the_system(
    monkeypatch: pytest.MonkeyPatch, platform: str, end: Path
) -> None:
    """Each system has its own folder for the data of programs."""
    monkeypatch.delenv(VARIABLE, raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", "/home/data")
    monkeypatch.setenv("LOCALAPPDATA", "/home/local")
    monkeypatch.setattr("sys.platform", platform)
    assert str(data_folder()).endswith(str(end))
