"""What every request passes before a page sees it, and every answer on its way out.

The server listens on 127.0.0.1 only, but any web page that the user has open can
send requests there, and any name can be made to resolve to 127.0.0.1. So the `Host`
must be ours (a foreign name that resolves here is refused), and whatever changes
something must come from one of our own pages, which the browser states in
`Sec-Fetch-Site` and `Origin`. Forms need no hidden token.

A logger is a program and states neither. Below `PROGRAM_PATHS`, and only there, a request
that states neither is let through if it comes from this computer: a browser always states
the origin of a page that sends something elsewhere.
"""

from __future__ import annotations

from ipaddress import ip_address
from typing import TYPE_CHECKING

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.types import ASGIApp, Message, Receive, Scope, Send

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
"""Methods that must not change anything."""

PROGRAM_PATHS = "/streams/"
"""Beginning of the paths at which programs of this computer may send."""

MEBIBYTE = 1024 * 1024

CONTENT_POLICY = (
    "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; "
    "frame-ancestors 'none'"
)
"""Only our own files; no inline script or style, no evaluation, no outside request."""

PAPER_POLICY = "default-src 'self'; frame-ancestors 'self'"
"""For a PDF, which one of our own pages shows in a frame."""

SAFE_HEADERS = {
    "content-security-policy": CONTENT_POLICY,
    "x-content-type-options": "nosniff",
    # Not "no-referrer": browsers then send "Origin: null" with forms.
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=()",
    "cache-control": "no-cache",
}
"""What every answer carries, unless it says otherwise itself."""


def own_hosts(port: int) -> frozenset[str]:
    """Return the values of `Host` under which this server answers."""
    names = ("127.0.0.1", "localhost", "[::1]")
    return frozenset(f"{name}:{port}" for name in names) | (
        frozenset(names) if port == 80 else frozenset()
    )


class Gate:
    """Refuse foreign hosts, and changes that do not come from our own pages."""

    def __init__(self, app: ASGIApp, *, port: int) -> None:
        self.app = app
        self.hosts = own_hosts(port)
        self.origins = frozenset(f"http://{host}" for host in self.hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let the request through, or refuse it."""
        if scope["type"] == "http":
            headers = Headers(scope=scope)
            if headers.get("host", "").lower() not in self.hosts:
                raise HTTPException(
                    400, "Rooftree answers only under the address that it printed when it started."
                )
            if scope["method"] not in SAFE_METHODS and not self._is_our_own(scope, headers):
                raise HTTPException(
                    403, "This request did not come from a page of Rooftree, so nothing was done."
                )
        await self.app(scope, receive, send)

    def _is_our_own(self, scope: Scope, headers: Headers) -> bool:
        site, origin = headers.get("sec-fetch-site"), headers.get("origin")
        if site is None and origin is None:
            return is_for_programs(scope["path"]) and _is_from_here(scope)
        return site in (None, "same-origin") and (origin is None or origin in self.origins)


def is_for_programs(path: str) -> bool:
    """Return whether a path belongs to loggers, which are answered in JSON."""
    return path.startswith(PROGRAM_PATHS) or path == PROGRAM_PATHS.rstrip("/")


def _is_from_here(scope: Scope) -> bool:
    client = scope.get("client")
    try:
        return client is not None and ip_address(client[0]).is_loopback
    except ValueError:
        return False


class BodyLimit:
    """Stop reading a request that is larger than its path allows.

    Parameters
    ----------
    limits : mapping from str to int
        Largest body [bytes] by the path at which it may be sent; elsewhere `default`. A
        path that ends in a slash stands for all below it, one that begins with ``*`` for all
        that end so.
    """

    def __init__(self, app: ASGIApp, *, limits: Mapping[str, int], default: int = MEBIBYTE) -> None:
        self.app = app
        self.limits = limits
        self.default = default

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let the request through while its body stays within the limit."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        limit = self._limit(scope["path"])
        declared = Headers(scope=scope).get("content-length", "")
        if declared.isdecimal() and int(declared) > limit:
            raise too_large(limit)
        taken = 0

        async def counted() -> Message:
            nonlocal taken
            message = await receive()
            taken += len(message.get("body", b""))
            if taken > limit:
                raise too_large(limit)
            return message

        await self.app(scope, counted, send)

    def _limit(self, path: str) -> int:
        above, _, last = path.rpartition("/")
        names = (path, f"{above}/", f"*/{last}")
        return next((self.limits[name] for name in names if name in self.limits), self.default)


def too_large(limit: int) -> HTTPException:
    """Return the error that says how large a body may be here."""
    size = f"{limit / MEBIBYTE:.0f} MB" if limit >= MEBIBYTE else f"{limit / 1024:.0f} kB"
    return HTTPException(
        413, f"What was sent is larger than {size}, the most this page takes. Nothing was kept."
    )


class SafeHeaders:
    """Give every answer the headers that keep a browser on the safe side."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer with the safe headers added."""

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in SAFE_HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        await self.app(scope, receive, with_headers)
