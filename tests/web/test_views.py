"""Check every page from request to answer, with a real database and no browser."""

from __future__ import annotations

import dataclasses
import importlib
import inspect
import pkgutil
import re
from typing import TYPE_CHECKING, Any

import pytest
from starlette.routing import Route

import rooftree.web
from rooftree.errors import RooftreeError
from rooftree.records import Store, open_store
from rooftree.web import create_app
from rooftree.web.app import bound_socket
from rooftree.web.rendering import environment
from rooftree.web.security import MEBIBYTE, PAPER_POLICY
from rooftree.web.views.jobs import UPLOAD_LIMITS
from rooftree.web.views.papers import file_name
from rooftree.web.warm import warm_up

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from starlette.testclient import TestClient

SHEETS = (
    "", "/readings", "/readings/fan-test/new", "/readings/pressures", "/instruments",
    "/instruments/new", "/house", "/diagnosis", "/plan", "/papers",
)  # fmt: skip


def page_types() -> list[type[Any]]:
    """Return every context of a page, and every part of one."""
    modules = [
        importlib.import_module(found.name)
        for found in pkgutil.walk_packages(rooftree.web.__path__, "rooftree.web.")
    ]
    return [
        member
        for module in modules
        for _, member in inspect.getmembers(module, dataclasses.is_dataclass)
        if member.__module__ == module.__name__ and "template" in member.__annotations__
    ]


@pytest.mark.parametrize("page", page_types(), ids=lambda page: page.__name__)
def test_context_of_each_page_is_documented(page: type[Any]) -> None:
    """Each attribute that a template may use is described where the context is defined."""
    told = " ".join(inspect.getdoc(one) or "" for one in page.__mro__)
    constants = {"title", "sheet", "new", "standards", "units", "job_limit", "weather_limit"}
    for field in dataclasses.fields(page):
        if field.name not in constants:
            assert re.search(rf"\b{field.name}\b[\w, ]* :", told), f"{field.name} is not described"


@pytest.mark.parametrize("page", page_types(), ids=lambda page: page.__name__)
def test_template_of_each_page_exists(page: type[Any]) -> None:
    """Each context names a template that can be read."""
    environment().get_template(page.template)


def test_templates_hold_nothing_inline() -> None:
    """No template has a script, a style or a handler in it: the policy would block it."""
    loader = environment().loader
    assert loader is not None
    for name in loader.list_templates():
        source, _, _ = loader.get_source(environment(), name)
        assert not re.search(r"<script(?![^>]*\bsrc=)|<style|\sstyle=|\son\w+=|javascript:", source)


def test_views_are_short() -> None:
    """A view parses, calls one action and renders: its module stays under 200 lines."""
    views = importlib.import_module("rooftree.web.views")
    for module in pkgutil.iter_modules(views.__path__, "rooftree.web.views."):
        assert len(inspect.getsource(importlib.import_module(module.name)).splitlines()) < 200


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("units", ["ip", "si"])
def test_each_page_of_a_job_answers(
    client: TestClient, job_path: str, sheet: str, units: str
) -> None:
    """Each page comes whole, in both systems of units."""
    client.cookies.set("rooftree-units", units)
    answer = client.get(job_path + sheet)
    assert answer.status_code == 200
    assert "</html>" in answer.text


def test_jobs_are_listed(client: TestClient, job_name: str) -> None:
    """The list links to each job and marks an invented one."""
    answer = client.get("/")
    assert f'href="/jobs/{job_name}"' in answer.text
    assert "invented example" in answer.text


def test_empty_database_says_what_to_do(tmp_path: Path) -> None:
    """Without a job the page says how to get one."""
    from starlette.testclient import TestClient

    store = open_store(tmp_path)
    with TestClient(create_app(store, port=80), base_url="http://127.0.0.1") as client:
        assert "No job is kept here yet" in client.get("/").text
    store.close()


@pytest.mark.parametrize(
    "path",
    ["/nowhere", "/jobs/nobody", "/jobs/nobody/plan", "/jobs/nobody/readings/fan-test/new"],
)
def test_what_is_not_there_is_a_page_of_words(client: TestClient, path: str) -> None:
    """An address or a job that does not exist gets 404 with a way out."""
    answer = client.get(path)
    assert answer.status_code == 404
    assert "To the jobs" in answer.text


def test_fan_test_that_is_not_there(client: TestClient, job_path: str) -> None:
    """A fan test that the job does not have is 404, not an empty form."""
    assert client.get(f"{job_path}/readings/fan-test/none").status_code == 404


def test_page_of_parts_is_for_developers(client: TestClient, store: Store) -> None:
    """The page of parts is there only when it was asked for."""
    from starlette.testclient import TestClient

    assert client.get("/ui").status_code == 404
    app = create_app(store, port=80, developer=True)
    with TestClient(app, base_url="http://127.0.0.1") as developer:
        assert developer.get("/ui").status_code == 200


def send(client: TestClient, path: str, name: str, content: bytes) -> Any:
    """Send a file as the form does."""
    return client.post(path, files={"file": (name, content)}, follow_redirects=False)


def test_job_file_is_brought_in(tmp_path: Path, demo_file: bytes) -> None:
    """A job file that is sent is kept, and its front page opens."""
    from starlette.testclient import TestClient

    store = open_store(tmp_path)
    app = create_app(store, port=80)
    headers = {"origin": "http://127.0.0.1"}
    with TestClient(app, base_url="http://127.0.0.1", headers=headers) as client:
        answer = send(client, "/jobs/import", "demo.json", demo_file)
        assert answer.status_code == 303
        assert answer.headers["location"] == f"/jobs/{store.names()[0]}"
    store.close()


@pytest.mark.parametrize(
    ("path", "name", "content", "status"),
    [
        ("/jobs/import", "job.json", b"{ half a fi", 422),
        ("/jobs/import", "job.json", b'{"format": "something else"}', 422),
        ("/jobs/import", "job.json", b"\xff\xfe\x00", 422),
        ("/jobs/import", "job.zip", b"not a bundle", 422),
        ("/jobs/import", "job.exe", b"MZ", 415),
        ("/weather", "year.epw", b"LOCATION,half,a,file", 422),
        ("/weather", "year.docx", b"PK", 415),
    ],
)
def test_file_that_cannot_be_taken_changes_nothing(
    client: TestClient, store: Store, path: str, name: str, content: bytes, status: int
) -> None:
    """A broken file or one of another kind is refused in words, and nothing is kept."""
    before = (store.summaries(), store.weather_names())
    answer = send(client, path, name, content)
    assert answer.status_code == status
    assert "To the jobs" in answer.text
    assert (store.summaries(), store.weather_names()) == before


@pytest.mark.parametrize("path", UPLOAD_LIMITS)
def test_form_without_a_file_says_so(client: TestClient, path: str) -> None:
    """Pressing the button before choosing a file is answered with what to do."""
    answer = client.post(path, data={}, follow_redirects=False)
    assert answer.status_code == 422
    assert "Choose one" in answer.text


def test_file_that_is_too_large_is_refused(client: TestClient) -> None:
    """A year of weather beyond the limit is refused before it is read through."""
    answer = send(client, "/weather", "year.epw", b"x" * (UPLOAD_LIMITS["/weather"] + MEBIBYTE))
    assert answer.status_code == 413
    assert "8 MB" in answer.text


def test_choice_leads_back_to_its_page(client: TestClient, job_path: str) -> None:
    """Choosing units goes back to the page it was chosen on, as its script left the address."""
    came_from = {"referer": f"{client.base_url}{job_path}/plan?chosen=yes&measure=attic"}
    sent = {"system": "si", "back": "/"}
    answer = client.post("/display", data=sent, headers=came_from, follow_redirects=False)
    assert answer.headers["location"] == f"{job_path}/plan?chosen=yes&measure=attic"
    assert answer.cookies["rooftree-units"] == "si"


def test_choice_does_not_lead_elsewhere(client: TestClient) -> None:
    """A foreign page cannot use the choice to send a person somewhere."""
    came_from = {"referer": "https://elsewhere.test/trap"}
    sent = {"system": "si", "back": "//elsewhere.test/trap"}
    answer = client.post("/display", data=sent, headers=came_from, follow_redirects=False)
    assert answer.headers["location"] == "/"


def test_comparison_is_a_part_for_the_script(client: TestClient, job_path: str) -> None:
    """The script of the plan gets the part that changes, and the address to show."""
    answer = client.get(f"{job_path}/plan/compare?chosen=yes", headers={"hx-request": "true"})
    assert "<html" not in answer.text
    assert "the house as found" in answer.text
    assert answer.headers["hx-replace-url"] == f"{job_path}/plan?chosen=yes"


def test_unknown_measure_is_not_switched_on(client: TestClient, job_path: str) -> None:
    """A measure that the job does not offer is ignored, as in an old bookmark."""
    answer = client.get(f"{job_path}/plan/compare?chosen=yes&measure=dragon")
    assert "the house as found" in answer.text


def fields_of_page(text: str) -> dict[str, str]:
    """Return what the form in a page holds, read from its HTML."""
    import html

    inputs = re.findall(r"<input ([^>]*)>", text)
    pairs = [
        (re.search(r'name="([^"]*)"', one), re.search(r'value="([^"]*)"', one)) for one in inputs
    ]
    fields = {html.unescape(n[1]): html.unescape(v[1]) for n, v in pairs if n and v}
    for name, options in re.findall(r'<select [^>]*name="([^"]*)"[^>]*>(.*?)</select>', text, re.S):
        chosen = re.search(r'value="([^"]*)" selected', options)
        fields[html.unescape(name)] = html.unescape(chosen[1]) if chosen else ""
    return {name: value for name, value in fields.items() if name not in ("back", "file")}


@pytest.fixture
def fan_test(own: Store) -> str:
    """Return the address of a fan test of the demo job."""
    from rooftree.readings.airtightness import FanTest

    name = own.names()[0]
    tests = own.load(name).to_core().tests
    test = next(one.id for one in tests if isinstance(one.reading, FanTest))
    return f"/jobs/{name}/readings/fan-test/{test}"


def test_saving_a_test_unchanged_makes_no_revision(
    own: Store, own_client: TestClient, fan_test: str
) -> None:
    """A form that is opened and saved at once leaves the job as it was."""
    name = own.names()[0]
    before = own.revision(name)
    sent = fields_of_page(own_client.get(fan_test).text)
    answer = own_client.post(fan_test, data=sent, follow_redirects=False)
    assert answer.status_code == 303
    assert own.revision(name) == before


def test_saved_reading_is_kept_as_typed(own_client: TestClient, fan_test: str) -> None:
    """What was typed is what the job holds, unit included."""
    sent = fields_of_page(own_client.get(fan_test).text)
    sent["outdoor_temperature"] = "2.5 °C"
    assert own_client.post(fan_test, data=sent, follow_redirects=False).status_code == 303
    assert 'value="2.5 °C"' in own_client.get(fan_test).text


@pytest.mark.parametrize("typed", ["fifty", "50 apples", "-50 cfm", "NaN", "1e999 Pa", "<b>"])
def test_form_comes_back_as_typed(
    own: Store, own_client: TestClient, fan_test: str, typed: str
) -> None:
    """A reading that cannot be read is marked; nothing is saved and nothing typed is lost."""
    name = own.names()[0]
    before = own.revision(name)
    sent = fields_of_page(own_client.get(fan_test).text)
    sent |= {"stations[1].pressure": typed, "note": "windy <later>"}
    answer = own_client.post(fan_test, data=sent, follow_redirects=False)
    assert answer.status_code == 422
    back = fields_of_page(answer.text)
    assert {key: back[key] for key in sent if sent[key]} == {k: v for k, v in sent.items() if v}
    assert 'aria-invalid="true"' in answer.text
    assert "<b>" not in answer.text.split("<form")[2].split("</form>")[0].replace("<b></b>", "")
    assert own.revision(name) == before


def test_preview_follows_and_saves_nothing(
    own: Store, own_client: TestClient, fan_test: str
) -> None:
    """The preview reduces what was typed so far and leaves the job alone."""
    name = own.names()[0]
    before = own.revision(name)
    sent = fields_of_page(own_client.get(fan_test).text)
    answer = own_client.post(f"{fan_test}/preview", data=sent, headers={"hx-request": "true"})
    assert "at 50 Pa" in answer.text
    assert "<html" not in answer.text
    assert own.revision(name) == before


def test_preview_of_nothing_says_what_is_needed(own_client: TestClient, fan_test: str) -> None:
    """An empty form has no result yet and says what it waits for."""
    answer = own_client.post(f"{fan_test}/preview", data={"name": "x"})
    assert answer.status_code == 200
    assert "as soon as" in answer.text
    assert answer.headers["hx-retarget"] == "#fit-notice"


def test_report_waits_for_the_plan(own_client: TestClient, own: Store) -> None:
    """Without a plan the page leads to it, and the report's address says so."""
    from rooftree.actions import planning

    planning._TASKS.clear()  # other tests of this process may have planned the same job
    path = f"/jobs/{own.names()[0]}/papers"
    assert "Make the plan first" in own_client.get(path).text
    answer = own_client.get(f"{path}/report.pdf")
    assert answer.status_code == 404
    assert "make the plan first" in answer.text


def test_plan_leads_to_a_report(own_client: TestClient, own: Store) -> None:
    """A plan that was made is shown in stages, and its report is a PDF for one frame of ours."""
    from rooftree.actions import planning

    path = f"/jobs/{own.names()[0]}"
    assert own_client.post(f"{path}/plan/start", follow_redirects=False).status_code == 303
    task = planning.plan_task(own.load(own.names()[0]).to_core())
    assert task is not None
    assert task.thread is not None
    task.thread.join()
    assert task.state == "done", task.message
    assert "Stage 1" in own_client.get(f"{path}/plan").text
    answer = own_client.get(f"{path}/papers/report.pdf")
    assert answer.content.startswith(b"%PDF-")
    assert answer.headers["content-security-policy"] == PAPER_POLICY
    assert answer.headers["content-disposition"].startswith("inline")
    kept = own_client.get(f"{path}/papers/report.pdf?keep=yes")
    assert kept.headers["content-disposition"].startswith("attachment")


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("ranch", "ranch-report.pdf"),
        ("../etc/passwd", "etc-passwd-report.pdf"),
        ("é", "report.pdf"),
    ],
)
def test_report_has_a_name_that_any_system_takes(name: str, file: str) -> None:
    """Signs that mean something to a file system are left out of the name."""
    assert file_name(name) == file


def routes(app: Any) -> Iterator[Route]:
    """Return every route of an application."""
    for mount in app.routes:
        yield from (one for one in mount.routes if isinstance(one, Route))


def test_reading_never_changes_and_changing_is_never_a_link(store: Store) -> None:
    """An address answers reading or changing, so that no link can change anything."""
    changing: Callable[[Route], bool] = lambda one: "POST" in (one.methods or ())  # noqa: E731
    for route in routes(create_app(store, port=80)):
        assert (route.methods or set()) in ({"GET", "HEAD"}, {"POST"}), route.path
        if changing(route):
            assert route.methods == {"POST"}


def test_first_page_need_not_wait(own: Store, tmp_path: Path) -> None:
    """The year of the last job is run when the server starts; without a job nothing is."""
    assert warm_up(own)
    empty = open_store(tmp_path / "empty")
    assert not warm_up(empty)
    empty.close()


def test_port_that_is_taken_is_refused_in_words() -> None:
    """Two servers cannot share a port, and the second says so."""
    with bound_socket(0) as taken:
        port = taken.getsockname()[1]
        with pytest.raises(RooftreeError, match=f"^port {port} of 127.0.0.1 is in use by another"):
            bound_socket(port)


def test_only_this_computer_is_served() -> None:
    """The server's socket is bound to 127.0.0.1, whatever port it takes."""
    with bound_socket(0) as taken:
        assert taken.getsockname()[0] == "127.0.0.1"
