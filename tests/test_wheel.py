"""Check that an installed wheel has all it needs, so that its user needs no Node."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def members(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """Return the names of the files in the wheel."""
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", folder],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (wheel,) = folder.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())


@pytest.mark.parametrize(
    "name",
    [
        "rooftree/demo/ranch.json",
        "rooftree/survey/gates.csv",
        "rooftree/papers/report/report.typ",
        "rooftree/papers/fonts/SourceSans3-Regular.ttf",
        "rooftree/papers/fonts/SourceSans3-Semibold.ttf",
        "rooftree/records/migrations/versions/0001_first.py",
        "rooftree/py.typed",
    ],
)
def test_wheel_holds(members: set[str], name: str) -> None:
    """Data, template, typeface and migrations are in the wheel."""
    assert name in members


def test_wheel_holds_the_built_pages(members: set[str]) -> None:
    """Style sheet and scripts are there as built."""
    built = [name for name in members if name.startswith("rooftree/web/static/built/")]
    assert any(name.endswith(".css") for name in built)
    assert any(name.endswith(".js") for name in built)


def test_wheel_holds_nothing_of_the_makers(members: set[str]) -> None:
    """Tests, tools and front-end sources stay out."""
    assert all(name.startswith(("rooftree/", "rooftree-")) for name in members)
