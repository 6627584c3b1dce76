"""Check what a request must pass, with an application that does nothing else."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.responses import PlainTextResponse
from starlette.routing import Mount, Route
from starlette.testclient import TestClient

from rooftree.web.problems import HANDLERS
from rooftree.web.security import CONTENT_POLICY, BodyLimit, Gate, SafeHeaders, own_hosts

if TYPE_CHECKING:
    from collections.abc import Iterator

    from starlette.requests import Request

PORT = 8437
OWN = f"http://127.0.0.1:{PORT}"


async def read(_: Request) -> PlainTextResponse:
    """Answer a page."""
    return PlainTextResponse("read")


async def change(request: Request) -> PlainTextResponse:
    """Take everything that was sent."""
    return PlainTextResponse(f"{len(await request.body())} bytes")


async def fail(_: Request) -> PlainTextResponse:
    """Make a mistake."""
    raise ZeroDivisionError


@pytest.fixture
def client() -> Iterator[TestClient]:
    """Return a client of the guarded application."""
    methods = ["GET", "POST", "PUT", "PATCH", "DELETE"]
    routes = [
        Route("/", read, name="jobs"),
        Route("/display", change, methods=["POST"], name="display"),
        Route("/change", change, methods=methods),
        Route("/upload", change, methods=["POST"]),
        Route("/fail", fail),
    ]
    guards = [
        Middleware(Gate, port=PORT),
        Middleware(BodyLimit, limits={"/upload": 4000}, default=1000),
    ]
    app = Starlette(
        routes=[Mount("/", routes=routes, middleware=guards)],
        middleware=[Middleware(SafeHeaders)],
        exception_handlers=HANDLERS,
    )
    with TestClient(app, base_url=OWN, raise_server_exceptions=False) as made:
        yield made


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost", "[::1]", "LOCALHOST"])
def test_own_names_are_answered(client: TestClient, host: str) -> None:
    """The server answers under the names of this machine, with its port."""
    assert client.get("/", headers={"host": f"{host}:{PORT}"}).status_code == 200


@pytest.mark.parametrize(
    "host",
    ["", "127.0.0.1", f"127.0.0.1:{PORT + 1}", f"elsewhere.test:{PORT}", f"127.0.0.1.test:{PORT}"],
)
def test_foreign_names_are_refused(client: TestClient, host: str) -> None:
    """A name that merely resolves to this machine is refused, for reading too."""
    answer = client.get("/", headers={"host": host})
    assert answer.status_code == 400
    assert "printed when it started" in answer.text


def test_port_80_may_be_left_out() -> None:
    """Browsers leave the usual port out of the host."""
    assert "localhost" in own_hosts(80)
    assert "localhost" not in own_hosts(PORT)


@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE"])
@pytest.mark.parametrize(
    "headers",
    [
        {"sec-fetch-site": "same-origin"},
        {"origin": OWN},
        {"origin": f"http://localhost:{PORT}", "sec-fetch-site": "same-origin"},
    ],
)
def test_changes_from_our_own_pages_are_taken(
    client: TestClient, method: str, headers: dict[str, str]
) -> None:
    """A browser that says that one of our pages sent it is believed."""
    assert client.request(method, "/change", headers=headers).status_code == 200


@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE"])
@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"origin": "null"},
        {"origin": "https://elsewhere.test"},
        {"origin": f"http://127.0.0.1:{PORT + 1}"},
        {"origin": f"https://127.0.0.1:{PORT}"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"sec-fetch-site": "none"},
        {"origin": OWN, "sec-fetch-site": "cross-site"},
        {"origin": "https://elsewhere.test", "sec-fetch-site": "same-origin"},
    ],
)
def test_changes_from_elsewhere_are_refused(
    client: TestClient, method: str, headers: dict[str, str]
) -> None:
    """A change that another page sends, or that does not say who sends it, is not made."""
    answer = client.request(method, "/change", headers=headers)
    assert answer.status_code == 403
    assert "nothing was done" in answer.text


def test_reading_needs_no_origin(client: TestClient) -> None:
    """A link typed or followed from elsewhere only reads, and is answered."""
    assert client.get("/", headers={"sec-fetch-site": "cross-site"}).status_code == 200


def post(client: TestClient, path: str, content: bytes | Iterator[bytes]) -> tuple[int, str]:
    """Send a body as one of our own pages would."""
    answer = client.post(path, content=content, headers={"origin": OWN})
    return answer.status_code, answer.text


@pytest.mark.parametrize(("path", "limit"), [("/change", 1000), ("/upload", 4000)])
def test_body_up_to_the_limit_is_taken(client: TestClient, path: str, limit: int) -> None:
    """A body of exactly the limit of its path is taken."""
    assert post(client, path, b"x" * limit) == (200, f"{limit} bytes")


@pytest.mark.parametrize(("path", "limit"), [("/change", 1000), ("/upload", 4000)])
def test_larger_body_is_refused(client: TestClient, path: str, limit: int) -> None:
    """One byte more is refused, with the limit in words."""
    status, text = post(client, path, b"x" * (limit + 1))
    assert status == 413
    assert "Nothing was kept" in text


def test_body_that_does_not_declare_its_size_is_counted(client: TestClient) -> None:
    """A body sent in pieces is stopped where it passes the limit."""
    status, _ = post(client, "/change", iter([b"x" * 600, b"x" * 600]))
    assert status == 413


@pytest.mark.parametrize(
    ("path", "status"), [("/", 200), ("/nowhere", 404), ("/fail", 500), ("/change", 200)]
)
def test_every_answer_carries_the_safe_headers(client: TestClient, path: str, status: int) -> None:
    """Pages, error pages and the last resort all forbid inline code and framing."""
    answer = client.get(path)
    assert answer.status_code == status
    assert answer.headers["content-security-policy"] == CONTENT_POLICY
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["referrer-policy"] == "same-origin"


def test_policy_allows_nothing_inline() -> None:
    """The policy has no loophole for inline code, evaluation or other origins."""
    assert "unsafe" not in CONTENT_POLICY
    assert "*" not in CONTENT_POLICY
    assert "data:" not in CONTENT_POLICY
    assert "frame-ancestors 'none'" in CONTENT_POLICY


def test_mistake_of_ours_tells_no_inner_details(
    client: TestClient, caplog: pytest.LogCaptureFixture
) -> None:
    """A page after a mistake of ours is plain words; the details go to the log."""
    answer = client.get("/fail")
    assert answer.status_code == 500
    assert "Everything saved before is still there" in answer.text
    assert "ZeroDivisionError" not in answer.text
    assert "ZeroDivisionError" in caplog.text


@pytest.mark.parametrize(
    ("method", "path", "status"), [("GET", "/nowhere", 404), ("GET", "/display", 405)]
)
def test_script_gets_a_notice_instead_of_a_page(
    client: TestClient, method: str, path: str, status: int
) -> None:
    """When a page's own script asked, what went wrong goes to the notice of that page."""
    answer = client.request(method, path, headers={"hx-request": "true"})
    assert answer.status_code == status
    assert answer.headers["hx-retarget"] == "#notice"
    assert "<html" not in answer.text
