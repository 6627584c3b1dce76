"""Check that an instrument is entered from its certificate and kept as typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hypothesis import given
from hypothesis import strategies as st

from rooftree.job.instruments import Measured
from rooftree.web.instrument_form import InstrumentForm, fields_of

if TYPE_CHECKING:
    from starlette.testclient import TestClient

    from rooftree.records import Store

TYPED = {
    "id": "gauge-9",
    "name": "gauge of the van",
    "kind": "pressure gauge",
    "calibrated": "2025-11-02",
    "due": "2027-11-02",
    "measures[0].absolute": "0.15",
    "measures[0].share": "1",
    "measures[0].accuracy": "larger",
    "measures[0].resolution": "0.1 Pa",
    "measures[2].absolute": "0.5",
}


def test_numbers_alone_get_the_unit_of_their_row() -> None:
    """A row in which nothing was typed is left out."""
    entry = InstrumentForm(TYPED).entry
    first, second = entry["measures"]  # type: ignore[misc]
    assert first == {
        "quantity": "pressure",
        "absolute": "0.15 Pa",
        "share": "1 %",
        "accuracy": "larger",
        "resolution": "0.1 Pa",
    }
    assert second == {"quantity": "temperature", "absolute": "0.5 °C"}


@given(rows=st.sets(st.sampled_from(range(len(Measured)))))
def test_an_entry_comes_back_to_its_rows(rows: set[int]) -> None:
    """Whatever is measured stands in its own row again."""
    typed = {"id": "a", "name": "a", "kind": "b"}
    typed |= {f"measures[{k}].share": "2 %" for k in rows}
    assert fields_of(InstrumentForm(typed).entry) == typed


def test_an_instrument_is_saved_and_shown_as_typed(own_client: TestClient, own: Store) -> None:
    """What was typed stands in the form again, and the list says what it measures."""
    path = f"/jobs/{own.names()[0]}/instruments"
    answer = own_client.post(f"{path}/new", data=TYPED, follow_redirects=False)
    assert answer.status_code == 303
    listed = own_client.get(path).text
    assert "gauge of the van" in listed
    assert "how well it measures pressure, temperature" in listed
    shown = own_client.get(f"{path}/gauge-9").text
    assert 'value="0.15 Pa"' in shown
    assert own.load(own.names()[0]).to_core().instruments[-1].measures[1].terms.absolute == 0.5


def test_a_mistake_is_marked_in_its_own_row(own_client: TestClient, own: Store) -> None:
    """The form comes back as typed, and nothing is saved."""
    path = f"/jobs/{own.names()[0]}/instruments/new"
    answer = own_client.post(path, data=TYPED | {"measures[2].absolute": "half a degree"})
    assert answer.status_code == 422
    assert 'id="measures[2].absolute-said"' in answer.text
    assert "half a degree" in answer.text


def test_an_instrument_that_is_nowhere_is_not_found(own_client: TestClient, own: Store) -> None:
    """Its address says so."""
    assert own_client.get(f"/jobs/{own.names()[0]}/instruments/nothing").status_code == 404
