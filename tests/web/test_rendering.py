"""Check how values, choices and drawings get onto a page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jinja2 import DictLoader, Environment, UndefinedError
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rooftree.units import DisplaySystem
from rooftree.web.display import Display, Theme, changed, display_of, remember
from rooftree.web.drawing import for_page
from rooftree.web.rendering import environment, money, money_range, render, share
from rooftree.web.views.display import own_path

if TYPE_CHECKING:
    from collections.abc import Iterator


@dataclass(frozen=True, slots=True)
class Sample:
    """A page of a test."""

    template: ClassVar[str] = "sample.html"
    text: str
    flow: float | None = 0.5


@pytest.fixture
def sample(monkeypatch: pytest.MonkeyPatch) -> Iterator[dict[str, str]]:
    """Return the templates that `render` finds, to be filled by a test."""
    templates: dict[str, str] = {}
    made: Environment = environment()
    monkeypatch.setattr(made, "loader", DictLoader(templates))
    made.cache and made.cache.clear()  # type: ignore[union-attr]
    yield templates
    made.cache and made.cache.clear()  # type: ignore[union-attr]


def request(cookie: str = "", path: str = "/") -> Request:
    """Return a request with these cookies."""

    def page(_: Request) -> Response:
        return Response()

    app = Starlette(routes=[Route("/jobs/{job}", page, name="front")])
    headers = [(b"cookie", cookie.encode())] if cookie else []
    return Request(
        {"type": "http", "method": "GET", "path": path, "query_string": b"", "headers": headers,
         "app": app, "server": ("127.0.0.1", 80), "scheme": "http"}
    )  # fmt: skip


def text_of(answer: Response) -> str:
    """Return the body as text."""
    return bytes(answer.body).decode()


def test_words_of_people_are_escaped(sample: dict[str, str]) -> None:
    """What somebody typed is shown, never run."""
    sample["sample.html"] = "{{ page.text }}"
    page = Sample("<script>alert(1)</script>")
    assert text_of(render(request(), page)) == "&lt;script&gt;alert(1)&lt;/script&gt;"


def test_name_that_does_not_exist_is_an_error(sample: dict[str, str]) -> None:
    """A mistyped name in a template fails, it does not print nothing."""
    sample["sample.html"] = "{{ page.txet }}"
    with pytest.raises(UndefinedError, match="txet"):
        render(request(), Sample(""))


@pytest.mark.parametrize(
    ("cookie", "text"),
    [("", "1,060 cfm"), ("rooftree-units=si", "500 L/s"), ("rooftree-units=stone", "1,060 cfm")],
)
def test_values_follow_the_units_of_the_reader(
    sample: dict[str, str], cookie: str, text: str
) -> None:
    """Units come from the reader's choice; an unknown choice counts as none."""
    sample["sample.html"] = '{{ page.flow|shown("flow") }}'
    assert text_of(render(request(cookie), Sample(""))) == text


def test_value_that_is_not_there_says_so(sample: dict[str, str]) -> None:
    """An unknown value is told in words."""
    sample["sample.html"] = '{{ page.flow|shown("flow") }}'
    assert text_of(render(request(), Sample("", None))) == "not known"


def test_job_names_are_quoted_in_addresses(sample: dict[str, str]) -> None:
    """A name with signs that mean something in an address stays one name."""
    sample["sample.html"] = '{{ path("front", job=page.text) }}'
    assert text_of(render(request(), Sample("a b?c#d%"))) == "/jobs/a%20b%3Fc%23d%25"


@pytest.mark.parametrize(
    ("value", "text"),
    [(1234.4, "$1,234"), (-1234.6, "−$1,235"), (0.0, "$0"), (-0.4, "$0"), (None, "not known")],
)
def test_money_is_shown_to_the_dollar(value: float | None, text: str) -> None:
    """Sums have no cents, thousands separators and a true minus."""
    assert money(value) == text


def test_range_of_money_collapses() -> None:
    """A range whose ends agree is one sum."""
    assert money_range(900.0, 1400.0) == "$900 to $1,400"
    assert money_range(900.0, 900.4) == "$900"


def test_share_is_a_percentage() -> None:
    """Fractions become percentages at the edge only."""
    assert share(0.314) == "31 %"
    assert share(0.0314, 1) == "3.1 %"


@pytest.mark.parametrize("theme", Theme)
@pytest.mark.parametrize("system", DisplaySystem)
def test_choice_survives_in_cookies(system: DisplaySystem, theme: Theme) -> None:
    """What was chosen is what the next request sees."""
    response = Response()
    remember(response, Display(system, theme))
    cookies = [
        value.split(";")[0] for name, value in response.headers.items() if name == "set-cookie"
    ]
    assert display_of(request("; ".join(cookies))) == Display(system, theme)


def test_what_was_not_pressed_stays() -> None:
    """Pressing one choice leaves the other, and nonsense leaves both."""
    before = Display(DisplaySystem.SI, Theme.DARK)
    assert changed(before, system="ip", theme=None) == Display(DisplaySystem.IP, Theme.DARK)
    assert changed(before, system="furlong", theme="pink") == before


@given(st.text())
def test_way_back_never_leaves_the_pages(text: str) -> None:
    """Whatever the form sends, the answer leads to a path of this server."""
    path = own_path(text)
    assert path.startswith("/")
    assert not path.startswith("//")
    assert "\\" not in path
    assert path.isprintable()


def test_drawing_takes_the_colours_of_the_page() -> None:
    """Ink of paper becomes ink of the page; other colours and plain text stay."""
    svg = '<text fill="#22262b" stroke="#abcdef">part #22262b</text>'
    assert for_page(svg) == '<text fill="var(--ink)" stroke="#abcdef">part #22262b</text>'
