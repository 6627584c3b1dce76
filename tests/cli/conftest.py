"""Shared by the tests of the commands: a job file with few measures, and a way to run commands."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import pytest

from demo_job import small_demo
from rooftree.cli import main

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path


@dataclass(frozen=True)
class Ran:
    """What a command did: its exit code and what it printed."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """Return standard output read as JSON."""
        return json.loads(self.out)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the folder of the database that commands use; it is not made yet."""
    made = tmp_path / "database"
    monkeypatch.setenv("ROOFTREE_FOLDER", str(made))
    monkeypatch.setenv("COLUMNS", "100")
    return made


@pytest.fixture
def run(folder: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., Ran]:
    """Return what runs a command as the shell would, in this process."""
    assert folder.name == "database"

    def ran(*words: object) -> Ran:
        capsys.readouterr()
        try:
            main([str(word) for word in words])
            code = 0
        except SystemExit as ended:
            code = int(ended.code or 0)
        out, err = capsys.readouterr()
        return Ran(code, out, err)

    return ran


@pytest.fixture
def raw() -> dict[str, Any]:
    """Return the demo with few measures as plain lists and mappings, to be damaged at will."""
    return small_demo()


@pytest.fixture
def write(tmp_path: Path) -> Callable[..., Path]:
    """Return what writes a job file."""

    def written(job: dict[str, Any] | str, name: str = "job.json") -> Path:
        path = tmp_path / name
        path.write_text(job if isinstance(job, str) else json.dumps(job), encoding="utf-8")
        return path

    return written


@pytest.fixture
def job_file(write: Callable[..., Path], raw: dict[str, Any]) -> Path:
    """Return a job file with few measures."""
    return write(raw)
