"""Check that a job file becomes the job, and the job a job file again, without loss."""

from __future__ import annotations

import dataclasses
import json
import math
import sys
from typing import TYPE_CHECKING, Any, get_args, get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import DocumentError
from rooftree.house import House
from rooftree.job import Job
from rooftree.known import How, Known
from rooftree.physics.air import pressure_at_altitude
from rooftree.readings.airtightness.readings import FanTest
from rooftree.records.document import (
    Around,
    HouseDocument,
    JobDocument,
    house_document,
    job_document,
    read_document,
    read_test,
    with_test,
)
from rooftree.records.document.field_tests import MODELS, FieldTestPart
from rooftree.records.document.part import Part, first_within
from strategies import job_files, put, small_job, systems

if TYPE_CHECKING:
    from rooftree.units import DisplaySystem


def core(job: dict[str, Any]) -> Job:
    """Return the core's job of a job file."""
    return read_document(json.dumps(job)).to_core()


def differences(one: Any, other: Any, path: str = "") -> list[str]:
    """Return where two things of the core differ by more than a part in 100,000."""
    if dataclasses.is_dataclass(one):
        return [
            found
            for field in dataclasses.fields(one)
            if field.name != "typed"
            for found in differences(
                getattr(one, field.name), getattr(other, field.name), f"{path}.{field.name}"
            )
        ]
    if isinstance(one, tuple) and len(one) == len(other):
        return [
            found
            for k, pair in enumerate(zip(one, other, strict=True))
            for found in differences(*pair, f"{path}[{k}]")
        ]
    if isinstance(one, dict) and set(one) == set(other):
        return [
            found for key in one for found in differences(one[key], other[key], f"{path}.{key}")
        ]
    if isinstance(one, float) and isinstance(other, float):
        return [] if math.isclose(one, other, rel_tol=1e-5, abs_tol=1e-12) else [path]
    return [] if one == other else [path]


@given(job_files())
def test_a_job_file_survives_being_read_and_written(job: dict[str, Any]) -> None:
    """Document to text to document is the same document, and the text is what was typed."""
    document = JobDocument.model_validate(job)
    again = read_document(document.to_json())
    assert again == document
    assert json.loads(document.to_json()) == job


@given(job_files(), systems)
def test_a_job_survives_being_written_in_either_system(
    job: dict[str, Any], system: DisplaySystem
) -> None:
    """Job to file to job keeps every number to 5 parts in a million, in IP and in SI."""
    before = core(job)
    document = job_document(before, system)
    assert differences(before, read_document(document.to_json()).to_core()) == []


@given(job_files(), systems)
def test_a_house_survives_being_written_in_either_system(
    job: dict[str, Any], system: DisplaySystem
) -> None:
    """House to file to house keeps every number and how it is known."""
    house = core(job).house
    assert differences(house, house_document(house, system).to_core()) == []


def test_quantities_become_si() -> None:
    """What was typed in the units of the trade reaches the core in SI."""
    job = core(small_job())
    living, attic = job.house.spaces
    assert living.floor_area == pytest.approx(1000 * 0.3048**2)
    assert living.floor_level == pytest.approx(0.6096)
    assert attic.capacity == 0.0
    ceiling = job.house.surfaces[0]
    assert ceiling.azimuth == 0.0
    assert ceiling.layers[1].resistance == pytest.approx(38 * 0.1761101838)
    assert ceiling.layers[1].role == "insulation"
    assert job.house.windows[0].panes == 2
    assert job.house.use.people == 3
    assert job.house.use.cooling_setpoint == pytest.approx((297.5944444,) * 24)
    assert job.house.fans[0].hours == (0.1,) * 24
    assert job.budget == 20000.0
    assert job.tariff.price["natural gas"] == pytest.approx(1.2 / 105505585.262)
    assert job.tariff.standing_charge == {"natural gas": 144.0}
    assert job.bills[0].energy == pytest.approx(120 * 105505585.262)
    assert job.measures[0].settings["target_flow_50"] == pytest.approx(0.5191421875)
    assert job.measures[0].life == 20.0
    assert job.photo_files == {"photo-1": "wall 1.jpg"}


def test_readings_become_si_and_keep_their_signs() -> None:
    """A fan test is read as it stands: signs, fans, and the barometer from the altitude."""
    test = core(small_job()).tests[0]
    assert isinstance(test.reading, FanTest)
    assert test.reading.baseline_before == (-1.4, -1.2)
    assert [station.pressure for station in test.reading.stations] == [-60, -50, -40, -30, -20]
    assert test.reading.fans[0].flow_uncertainty == pytest.approx(0.03)
    assert test.reading.fans[0].calibration_density == 1.2041
    expected = pressure_at_altitude(890 * 0.3048)
    assert test.reading.barometric_pressure == pytest.approx(expected)
    job = put(small_job(), "tests.0.barometric_pressure", "29.0 inHg")
    assert core(job).tests[0].reading.barometric_pressure == pytest.approx(29.0 * 3386.389)


def test_how_a_value_is_known_reaches_the_core() -> None:
    """Beside a quantity, within a layer, or for what is no quantity: all are kept."""
    house = core(small_job()).house
    assert house.spaces[0].known == {"floor_area": Known(How.MEASURED, "tape")}
    assert house.surfaces[0].known == {
        "layers": Known(How.OBSERVED, "from the hatch"),
        "layers[1].resistance": Known(How.OBSERVED, ""),
    }
    assert house.use.known == {
        "people": Known(How.TOLD, "owner"),
        "heating_setpoint": Known(How.TOLD, ""),
    }


def test_everything_typed_is_kept_as_typed() -> None:
    """Each quantity of the file is there with its path, its text and how it is known."""
    typed = {one.path: one for one in core(small_job()).typed}
    assert typed["house.surfaces[0].layers[0].thickness"].text == "1/2 in"
    assert typed["tests[0].stations[2].pressure"].text == "-40 Pa"
    assert typed["tests[0].stations[2].pressure"].known.how is How.MEASURED
    assert typed["house.use.people"].text == "3"
    assert typed["house.use.cooling_setpoint[5]"].text == "76 F"
    assert typed["house.use.heating_setpoint"].known.how is How.TOLD
    assert typed["house.leaks[0].level"].known.how is How.ASSUMED
    assert typed["tariff.price.electricity"].text == "$0.13/kWh"


@given(st.data())
def test_a_field_left_out_has_the_default_of_the_core(data: st.DataObject) -> None:
    """What the file may leave out is exactly what the core has a default for."""
    house = small_job()["house"]
    part, core_type = data.draw(
        st.sampled_from(
            [("spaces", "Space"), ("surfaces", "Surface"), ("windows", "Window"), ("leaks", "Leak")]
        )
    )
    import rooftree.house as core_house

    defaults = {
        field.name: field.default
        for field in dataclasses.fields(getattr(core_house, core_type))
        if field.default is not dataclasses.MISSING
    }
    optional = [name for name in defaults if name in house[part][0]]
    for name in optional:
        del house[part][0][name]
    made = getattr(HouseDocument.model_validate(house).to_core(), part)[0]
    assert {name: getattr(made, name) for name in defaults} == defaults


def models() -> list[tuple[type, type]]:
    """Return every model of the file with the core class that it becomes."""
    from rooftree import house as h
    from rooftree import job as j
    from rooftree.bills.tariff import Bill, Tariff
    from rooftree.plan.model import Measure
    from rooftree.readings.airtightness import readings as r
    from rooftree.records.document import house as d
    from rooftree.records.document import instruments as i
    from rooftree.records.document import money as m
    from rooftree.records.document import visit as v
    from rooftree.records.document.field_tests import EnclosureDocument
    from rooftree.records.document.field_tests import fan_test as t

    return [
        (d.SiteDocument, h.Site), (d.SpaceDocument, h.Space), (d.LayerDocument, h.Layer),
        (d.SurfaceDocument, h.Surface), (d.WindowDocument, h.Window), (d.LeakDocument, h.Leak),
        (d.DuctDocument, h.DuctRun), (d.AirHandlerDocument, h.AirHandler),
        (d.HeatingDocument, h.Heating), (d.CoolingDocument, h.Cooling),
        (d.WaterHeaterDocument, h.WaterHeater), (d.FanDocument, h.Fan),
        (d.DehumidifierDocument, h.Dehumidifier), (d.UseDocument, h.Use),
        (d.RoomUnitDocument, h.RoomUnit), (d.HouseDocument, House), (t.StationDocument, r.Station),
        (t.FanReadingDocument, r.FanReading), (t.FanBandDocument, r.FanBand),
        (t.FanOfTestDocument, r.Fan), (EnclosureDocument, r.Enclosure),
        (m.BillDocument, Bill), (m.TariffDocument, Tariff),
        (m.MeasureDocument, Measure), (m.DecisionDocument, j.Decision),
        (v.VisitDocument, j.Visit), (v.ComplaintDocument, j.Complaint),
        (v.PlaceDocument, j.Place), (v.ObservationDocument, j.Observation),
        (v.PhotoDocument, j.Photo), (i.InstrumentDocument, j.Instrument), (JobDocument, Job),
        *((model, model.readings) for model in MODELS),
    ]  # fmt: skip


@pytest.mark.parametrize(("model", "of_core"), models(), ids=lambda one: one.__name__)
def test_the_file_has_a_place_for_every_field_of_the_core(model: Any, of_core: Any) -> None:
    """A field that is added to the core and forgotten in the file fails here."""
    computed = {"typed", "photo_files", "hot_water_months"}
    missing = {field.name for field in dataclasses.fields(of_core)} - set(model.model_fields)
    assert missing <= computed


@pytest.mark.parametrize("model", MODELS, ids=lambda one: one.__name__)
def test_the_file_has_a_place_for_every_field_of_a_row(model: type[FieldTestPart]) -> None:
    """Rows of readings, too, are kept whole."""
    hints = get_type_hints(model.readings, vars(sys.modules[model.readings.__module__]))
    for name, hint in hints.items():
        rows = [one for one in get_args(hint) if dataclasses.is_dataclass(one)]
        part = first_within((model.model_fields[name].annotation,), (), Part)
        assert (part is None) == (not rows), name
        for row in rows:
            missing = {field.name for field in dataclasses.fields(row)} - set(part.model_fields)
            assert not missing, name


def entry() -> dict[str, Any]:
    """Return the fan test of the small job."""
    return dict(small_job()["tests"][0])


def test_a_fan_test_alone_is_read_like_in_the_file() -> None:
    """A form needs no id, name or visit to see its readings reduced."""
    typed = entry()
    for name in ("id", "name", "visit", "kind", "place", "instrument"):
        del typed[name]
    reading = read_test(typed, Around(barometric_pressure=95_000.0))
    assert reading.barometric_pressure == 95_000.0
    assert reading.stations == core(small_job()).tests[0].reading.stations


@pytest.mark.parametrize(
    ("path", "value", "says"),
    [
        ("stations.1.pressure", "50", '"50" has no unit'),
        ("stations.1.pressure", "50 Pa", 'is "50 Pa" in a test that is said to depressurize'),
        ("stations.0.fans.0.flow", "a lot", '"a lot" is not a number with a unit'),
    ],
)
def test_a_fan_test_alone_is_refused_by_the_path_within_it(
    path: str, value: str, says: str
) -> None:
    """The path begins at the test, so that the form finds its field."""
    with pytest.raises(DocumentError) as caught:
        read_test(put(entry(), path, value))
    ((where, text),) = caught.value.problems
    assert where.replace("[", ".").replace("]", "") == path
    assert text.startswith(says)


def test_a_test_is_added_to_a_job_or_replaced() -> None:
    """The same id means the same test; without one it is a new test of the last visit."""
    document = read_document(json.dumps(small_job()))
    replaced = with_test(document, put(entry(), "note", "read again"))
    assert [test.id for test in replaced.tests] == [test.id for test in document.tests]
    assert replaced.tests[0].note == "read again"
    new = entry()
    del new["id"]
    del new["visit"]
    added = with_test(document, new)
    assert len(added.tests) == len(document.tests) + 1
    assert added.tests[-1].visit == "visit-1"
    assert added.tests[-1].id not in {test.id for test in document.tests}
    assert len(document.tests) == 4


def test_a_test_that_does_not_fit_its_job_is_refused() -> None:
    """A reference that only the job can check is named by its path within the test."""
    document = read_document(json.dumps(small_job()))
    with pytest.raises(DocumentError) as caught:
        with_test(document, put(entry(), "visit", "visit-9"))
    assert caught.value.problems == (("visit", 'is "visit-9"; use an id of visits: visit-1'),)


def test_one_test_can_be_taken_out_as_typed() -> None:
    """A form is filled with exactly what was typed."""
    document = read_document(json.dumps(small_job()))
    assert document.test_entry("fan-in") == entry()
    with pytest.raises(DocumentError, match=r'^the job "small house" has no test "x"; its tests:'):
        document.test_entry("x")
