"""Check the address at which a logger sends readings, with and without a real connection."""

from __future__ import annotations

import asyncio
import json
import socket
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPConnection
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

import pytest
from starlette.testclient import TestClient

from rooftree.records import open_store
from rooftree.web import create_app
from rooftree.web.views import streams

if TYPE_CHECKING:
    from collections.abc import Iterator

    from starlette.applications import Starlette

PORT = 8437
OWN = f"http://127.0.0.1:{PORT}"
LINES = {"content-type": "application/x-ndjson"}


def line(k: int, **values: str) -> bytes:
    """Return one line."""
    entry = {"time": f"2026-11-25T10:{k // 60:02d}:{k % 60:02d}Z", "values": values}
    return json.dumps(entry).encode() + b"\n"


BODY = b"".join(line(k, house_pressure=f"-50.{k % 3} Pa", flow="1980 cfm") for k in range(40))


@pytest.fixture
def logger(tmp_path: Path) -> Iterator[TestClient]:
    """Return a program of this computer: it states neither origin nor site."""
    store = open_store(tmp_path)
    app = create_app(store, port=PORT)
    with TestClient(app, base_url=OWN, client=("127.0.0.1", 50000)) as made:
        yield made
    store.close()


def test_a_logger_sends_and_a_page_reads(logger: TestClient) -> None:
    """Lines are acknowledged by number, then read back as last values and means."""
    answer = logger.post("/streams/gauge", content=BODY, headers=LINES)
    assert answer.status_code == 200
    assert answer.json() == {
        "stream": "gauge", "kept": 40, "repeated": 0, "refused": 0, "problems": [], "notes": [],
        "last": "2026-11-25T10:00:39Z", "last_sequence": None, "go_on_with": None,
    }  # fmt: skip
    told = logger.get("/streams/gauge?window=20").json()
    assert told["names"] == {"house_pressure": "-50.0 Pa", "flow": "1980 cfm"}
    pressure, flow = told["readings"]
    assert pressure["mean"] == "-50.10 Pa"
    assert pressure["is_settled"]
    assert flow["mean"] == "1980.0 cfm"
    assert logger.get("/streams").json()["streams"][0]["stream"] == "gauge"
    course = logger.get("/streams/gauge/readings/flow?window=10&points=8").json()
    assert (course["count"], course["unit"], course["time"][-1]) == (11, "cfm", 0.0)


def test_what_is_refused_is_named(logger: TestClient) -> None:
    """The answer says what is kept, which line is not, and what to send instead."""
    body = line(1, flow="1980 cfm") + line(0, flow="1970 cfm") + line(2, flow="1990")
    answer = logger.post("/streams/gauge", content=body, headers=LINES)
    assert answer.status_code == 422
    told = answer.json()
    assert told["says"] == "1 lines are kept, 2 are refused; each problem names its line."
    assert [one["line"] for one in told["problems"]] == [2, 3]
    assert logger.post("/streams/gauge", content=line(1, flow="1980 cfm"), headers=LINES).json()[
        "repeated"
    ]


def test_a_sending_that_ends_within_a_line_can_go_on(logger: TestClient) -> None:
    """The answer says from which line to send again."""
    answer = logger.post("/streams/gauge", content=BODY[:1000], headers=LINES)
    told = answer.json()
    assert answer.status_code == 422
    assert told["go_on_with"] == BODY[:1000].count(b"\n") + 1 == told["kept"] + 1
    assert told["says"].endswith(f"Send again from line {told['go_on_with']} on.")
    rest = b"".join(BODY.splitlines(keepends=True)[told["go_on_with"] - 1 :])
    assert logger.post("/streams/gauge", content=rest, headers=LINES).status_code == 200
    assert logger.get("/streams/gauge").json()["lines"] == 40


@pytest.mark.parametrize(
    "kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data", ""]
)
def test_what_a_form_could_send_is_refused(logger: TestClient, kind: str) -> None:
    """A form of another page can send these without asking, so they are not taken."""
    answer = logger.post("/streams/gauge", content=BODY, headers={"content-type": kind})
    assert answer.status_code == 415
    assert "application/x-ndjson" in answer.json()["says"]


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "https://elsewhere.test"},
        {"origin": "null"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"sec-fetch-site": "none"},
        {"origin": OWN, "sec-fetch-site": "cross-site"},
    ],
)
def test_other_pages_cannot_send(logger: TestClient, headers: dict[str, str]) -> None:
    """A browser states who sends, and whoever is not ours is refused."""
    answer = logger.post("/streams/gauge", content=BODY, headers=LINES | headers)
    assert answer.status_code == 403
    assert "nothing was done" in answer.json()["says"]
    assert logger.get("/streams").json() == {"streams": []}


def test_our_own_pages_can_send(logger: TestClient) -> None:
    """A page of ours may send what it read from a gauge."""
    headers = LINES | {"origin": OWN, "sec-fetch-site": "same-origin"}
    assert logger.post("/streams/gauge", content=BODY, headers=headers).status_code == 200


@pytest.mark.parametrize("peer", ["192.168.1.7", "10.0.0.1", "testclient", "2001:db8::1"])
def test_other_computers_cannot_send(tmp_path: Path, peer: str) -> None:
    """Without an origin, only a program of this computer is believed."""
    app = create_app(open_store(tmp_path), port=PORT)
    with TestClient(app, base_url=OWN, client=(peer, 50000)) as client:
        assert client.post("/streams/gauge", content=BODY, headers=LINES).status_code == 403


def test_a_foreign_name_is_refused(logger: TestClient) -> None:
    """A name that merely leads to this computer opens nothing."""
    headers = LINES | {"host": "elsewhere.test"}
    assert logger.post("/streams/gauge", content=BODY, headers=headers).status_code == 400


@pytest.mark.parametrize("path", ["/", "/weather", "/streamsx", "/display"])
def test_programs_are_let_in_at_their_own_paths_only(logger: TestClient, path: str) -> None:
    """Everything else still asks for an origin."""
    assert logger.post(path, content=BODY, headers=LINES).status_code == 403


@pytest.mark.parametrize("name", ["Gauge", "a%20b", "..", "x" * 65])
def test_an_odd_name_is_refused(logger: TestClient, name: str) -> None:
    """The answer says how a stream may be called, or that there is no such address."""
    answer = logger.post(f"/streams/{name}", content=BODY, headers=LINES)
    assert answer.status_code in (403, 422)
    assert answer.json()["says"] if answer.status_code == 422 else True


@pytest.mark.parametrize(
    ("path", "status", "says"),
    [
        ("/streams/none", 404, "holds no readings yet"),
        ("/streams/none/readings/x", 404, "has no reading"),
        ("/streams/none?window=-1", 422, "window is “-1”"),
        ("/streams/none?window=nan", 422, "window is “nan”"),
        ("/streams/none?window=x", 422, "window is “x”"),
        ("/streams/none/readings/x?points=1e9", 422, "points is “1e9”"),
    ],
)
def test_what_cannot_be_read_is_said(logger: TestClient, path: str, status: int, says: str) -> None:
    """A program that asks for what is not there is told in JSON."""
    answer = logger.get(path)
    assert answer.status_code == status
    assert says in answer.json()["says"]


def test_a_sending_beyond_the_limit_keeps_what_came_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Noticed on the way, the limit ends the sending; the lines before it are kept and told."""
    monkeypatch.setitem(streams.SENDING_LIMITS, "/streams/", 2000)
    app = create_app(open_store(tmp_path), port=PORT)
    with ThreadPoolExecutor(1) as apart:  # a browser of other tests may have a loop here
        sent = apart.submit(lambda: asyncio.run(sent_in_pieces(app, BODY[:1500], BODY[1500:])))
        status, answer = sent.result()
    assert status == 413
    assert answer["kept"] == BODY[:1500].count(b"\n")
    assert answer["go_on_with"] == answer["kept"] + 1
    with TestClient(app, base_url=OWN, client=("127.0.0.1", 50000)) as logger:
        declared = logger.post("/streams/gauge", content=BODY, headers=LINES)
        assert declared.status_code == 413
        assert "Nothing was kept" in declared.json()["says"]


async def sent_in_pieces(app: Starlette, *pieces: bytes) -> tuple[int, dict[str, Any]]:
    """Return status and answer of a sending whose pieces come one by one, undeclared."""
    headers = LINES | {"host": f"127.0.0.1:{PORT}"}
    scope = {
        "type": "http", "method": "POST", "path": "/streams/gauge", "query_string": b"",
        "headers": [(name.encode(), value.encode()) for name, value in headers.items()],
        "client": ("127.0.0.1", 50000),
    }  # fmt: skip
    coming = iter(pieces)
    answered: list[Any] = []

    async def receive() -> dict[str, Any]:
        return {"type": "http.request", "body": next(coming), "more_body": True}

    async def send(message: Any) -> None:
        answered.append(message)

    await app(scope, receive, send)
    body = b"".join(message.get("body", b"") for message in answered)
    return int(answered[0]["status"]), dict(json.loads(body))


@pytest.fixture
def address(tmp_path: Path) -> Iterator[tuple[str, int]]:
    """Return host and port of a real server with an empty database."""
    open_store(tmp_path).close()
    command = [sys.executable, str(Path(__file__).with_name("serve_folder.py")), str(tmp_path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        parts = urlsplit(process.stdout.readline().strip())
        try:
            yield str(parts.hostname), int(parts.port or 0)
        finally:
            process.terminate()


def told(address: tuple[str, int], method: str, body: bytes = b"") -> dict[str, object]:
    """Return what the real server answers a program without any header of a browser."""
    connection = HTTPConnection(*address, timeout=60)
    connection.request(method, "/streams/gauge", body or None, LINES)
    answer = json.loads(connection.getresponse().read())
    connection.close()
    return dict(answer)


def test_a_connection_that_breaks_keeps_the_whole_lines(address: tuple[str, int]) -> None:
    """Cut in the middle of a line, what came before is kept, and the logger goes on."""
    cut = 1234
    whole = BODY[:cut].count(b"\n")
    head = (
        f"POST /streams/gauge HTTP/1.1\r\nHost: {address[0]}:{address[1]}\r\n"
        f"Content-Type: application/x-ndjson\r\nContent-Length: {len(BODY)}\r\n\r\n"
    )
    with socket.create_connection(address, timeout=60) as connection:
        connection.sendall(head.encode() + BODY[:cut])
        connection.shutdown(socket.SHUT_WR)
        while connection.recv(4096):
            pass  # until the server has noticed
    status = told(address, "GET")
    for _ in range(1000):  # the server may still be writing when it hangs up
        if status.get("lines") == whole:
            break
        status = told(address, "GET")
    assert status["last"] == f"2026-11-25T10:00:{whole - 1:02d}Z"
    assert told(address, "POST", BODY)["kept"] == 40 - whole
