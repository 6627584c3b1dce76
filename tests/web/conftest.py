"""Shared by the tests of the pages: a database with the demo job, a client, a browser."""

from __future__ import annotations

import json
import subprocess
import sys
from contextlib import ExitStack
from pathlib import Path
from shutil import which
from typing import TYPE_CHECKING
from urllib.parse import quote, urlsplit
from urllib.request import urlopen

import pytest
from playwright.sync_api import sync_playwright
from starlette.testclient import TestClient

import rooftree
from rooftree.records import Store, open_store
from rooftree.web import create_app

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from playwright.sync_api import Browser, Page

DEMO = Path(rooftree.__file__).parent / "demo" / "ranch.json"

FEW_MEASURES = ("drainage", "water-heater", "air-sealing", "ventilation", "attic")
"""Of the demo: a plan of these takes a second, and one holds another back."""

PORT = 8437
OWN = f"http://127.0.0.1:{PORT}"

CHROMIUM_ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="session")
def demo_file() -> bytes:
    """Return the job file of the demo, with few measures so that its plan is quick."""
    job = json.loads(DEMO.read_bytes())
    job["measures"] = [one for one in job["measures"] if one["id"] in FEW_MEASURES]
    job["decisions"] = []
    return json.dumps(job).encode()


@pytest.fixture(scope="session")
def store(tmp_path_factory: pytest.TempPathFactory, demo_file: bytes) -> Iterator[Store]:
    """Return a database with the demo job that tests only read."""
    made = open_store(tmp_path_factory.mktemp("pages"))
    made.import_file("demo.json", demo_file, "test")
    yield made
    made.close()


@pytest.fixture(scope="session")
def job_name(store: Store) -> str:
    """Return the name of the demo job."""
    return store.names()[0]


@pytest.fixture(scope="session")
def job_path(job_name: str) -> str:
    """Return the address of the demo job below that of the server."""
    return f"/jobs/{quote(job_name)}"


@pytest.fixture
def client(store: Store) -> Iterator[TestClient]:
    """Return a client that sends what our own pages send."""
    app = create_app(store, port=PORT)
    with TestClient(app, base_url=OWN, headers={"origin": OWN}) as made:
        yield made


@pytest.fixture(scope="session")
def server(
    tmp_path_factory: pytest.TempPathFactory, demo_file: bytes, job_path: str
) -> Iterator[str]:
    """Return the address of a server in a process of its own, with its own database."""
    folder = tmp_path_factory.mktemp("served")
    kept = open_store(folder)
    kept.import_file("demo.json", demo_file, "test")
    kept.close()
    command = [sys.executable, str(Path(__file__).with_name("serve_folder.py")), str(folder)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        address = process.stdout.readline().strip()
        assert address.startswith("http://127.0.0.1:"), "the server did not start"
        try:
            # The first year waits for the engine to be compiled; the tests should not.
            with urlopen(f"{address}{job_path}/plan", timeout=600) as answer:  # noqa: S310 - ours
                answer.read()
            yield address
        finally:
            process.terminate()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Return a browser; the tests that need one are skipped where there is none."""
    path = which("chromium") or which("chromium-browser")
    if path is None:
        pytest.skip("no chromium is installed")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=path, args=CHROMIUM_ARGUMENTS)
        yield started
        started.close()


@pytest.fixture
def console() -> list[str]:
    """Return what the console of the pages of a test complained about."""
    return []


@pytest.fixture
def open_page(browser: Browser, server: str, console: list[str]) -> Iterator[Callable[..., Page]]:
    """Return what opens a page; at the end, complaints and outside requests fail the test."""
    outside: list[str] = []

    with ExitStack() as stack:

        def opened(path: str, *, width: int = 1440, script: bool = True) -> Page:
            context = browser.new_context(
                base_url=server,
                viewport={"width": width, "height": 900},
                java_script_enabled=script,
            )
            stack.callback(context.close)
            page = context.new_page()
            page.on("console", lambda said: said.type == "error" and console.append(said.text))
            page.on("pageerror", lambda error: console.append(str(error)))
            page.on("request", lambda sent: _is_ours(sent.url, server) or outside.append(sent.url))
            page.goto(path)
            return page

        yield opened
    assert console == []
    assert outside == []


def _is_ours(url: str, server: str) -> bool:
    return urlsplit(url).netloc == urlsplit(server).netloc or url.startswith("blob:")


@pytest.fixture
def own(tmp_path: Path, demo_file: bytes) -> Iterator[Store]:
    """Return a database that a test may change."""
    made = open_store(tmp_path)
    made.import_file("demo.json", demo_file, "test")
    yield made
    made.close()


@pytest.fixture
def own_client(own: Store) -> Iterator[TestClient]:
    """Return a client of that database."""
    from starlette.testclient import TestClient

    headers = {"origin": "http://127.0.0.1"}
    app = create_app(own, port=80)
    with TestClient(app, base_url="http://127.0.0.1", headers=headers) as made:
        yield made
