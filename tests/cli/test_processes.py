"""Commands as programs of their own: help, interruption, and the pages they serve."""

from __future__ import annotations

import json
import signal
import socket
import subprocess
import sys
from contextlib import contextmanager
from http.client import HTTPConnection
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

import pytest

from demo_job import demo_text
from rooftree.cli.app import APP
from rooftree.web.app import bound_socket

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

COMMANDS = (
    "check", "reduce", "simulate", "loads", "use", "plan", "report", "serve", "export", "import",
    "weather", "demo",
)  # fmt: skip

HEAVY = ("numpy", "scipy", "numba", "pandas", "pydantic", "sqlalchemy", "altair", "starlette")
"""Take a second or more to import together; help needs none of them."""


@contextmanager
def started(*words: object) -> Iterator[subprocess.Popen[str]]:
    """Start a command and make sure that it ends."""
    process = subprocess.Popen(
        [sys.executable, "-m", "rooftree.cli", *map(str, words)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        # The test runner may ignore Ctrl+C, as shells do for what runs in the background.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    )
    with process:
        try:
            yield process
        finally:
            if process.poll() is None:
                process.kill()


def line_of(stream: object) -> str:
    """Return the next line of a stream of a process."""
    assert hasattr(stream, "readline")
    return str(stream.readline())


def test_help_lists_every_command() -> None:
    """Help names each command with what it does."""
    with started("--help") as process:
        out, err = process.communicate()
    assert process.returncode == 0
    assert err == ""
    for command in COMMANDS:
        assert f" {command} " in out


def test_each_command_takes_json() -> None:
    """Every command can print JSON for programs."""
    names = [name for name in APP if not name.startswith("-")]
    assert sorted(names) == sorted(COMMANDS)
    for command in COMMANDS:
        collection = APP[command].assemble_argument_collection()
        assert any("--json" in argument.names for argument in collection), command


def test_help_loads_nothing_heavy() -> None:
    """Help is quick because a command loads what it needs only when it runs."""
    script = f"import sys, rooftree.cli; print([n for n in {HEAVY} if n in sys.modules])"
    ran = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert ran.stdout == "[]\n"


def test_ctrl_c_stops_a_report_and_leaves_no_file(tmp_path: Path) -> None:
    """Interrupted while packages are simulated, a report ends with 130 and one sentence."""
    job, report = tmp_path / "job.json", tmp_path / "papers" / "report.pdf"
    job.write_text(demo_text(), encoding="utf-8")
    with started("report", job, "-o", report) as process:
        assert line_of(process.stderr) == "Fitting the house to its tests ...\n"
        assert line_of(process.stderr).startswith("Simulating packages: ")
        process.send_signal(signal.SIGINT)
        out, err = process.communicate()
    assert process.returncode == 130
    assert err.endswith("rooftree: stopped; nothing half-written stays\n")
    assert "Traceback" not in err
    assert out == ""
    assert not report.parent.exists()


@pytest.mark.parametrize("as_json", [False, True])
def test_serve_tells_its_address_and_ends_with_ctrl_c(tmp_path: Path, as_json: bool) -> None:
    """The pages answer at the address that is told; Ctrl+C is how they are ended."""
    words = ("--json",) if as_json else ()
    with started("serve", "--port", "0", "--folder", tmp_path, *words) as process:
        assert process.stdout is not None
        if as_json:
            text = "".join(line_of(process.stdout) for _ in range(3))
            address = json.loads(text)["address"]
        else:
            line = line_of(process.stdout)
            assert line.startswith("Serving http://127.0.0.1:")
            address = line.split()[1]
        connection = HTTPConnection(urlsplit(address).netloc)
        connection.request("GET", "/")
        assert b"<title>Jobs" in connection.getresponse().read()
        connection.close()
        process.send_signal(signal.SIGINT)
        _, err = process.communicate()
    assert process.returncode == 0
    assert err == ""


def test_serve_says_that_a_port_is_taken(tmp_path: Path) -> None:
    """A port that another program uses is told with what to do."""
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        with started("serve", "--port", port, "--folder", tmp_path) as process:
            out, err = process.communicate()
    assert process.returncode == 2
    assert out == ""
    assert err.endswith(
        f"rooftree: port {port} of 127.0.0.1 is in use by another program; choose another one\n"
    )


def test_a_reader_that_stops_reading_is_no_error(tmp_path: Path) -> None:
    """`rooftree reduce ... | head` prints no trace."""
    job = tmp_path / "job.json"
    job.write_text(demo_text(), encoding="utf-8")
    with started("reduce", job, "--json") as process:
        assert process.stdout is not None
        process.stdout.close()
        assert process.stderr is not None
        err = process.stderr.read()
        process.wait()
    assert "Traceback" not in err


def test_pages_are_not_held_back() -> None:
    """Connections are known to be TCP, so that the event loop sends each part of a page at once."""
    with bound_socket(0) as listening, socket.create_connection(listening.getsockname()):
        connection, _ = listening.accept()
        with connection:
            assert connection.proto == socket.IPPROTO_TCP
