"""Check that the record of an instrument reaches the tests made with it."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from rooftree.errors import DocumentError
from rooftree.job import Instrument, Job
from rooftree.job.instruments import (
    Capability,
    Measured,
    Sureness,
    judge_instruments,
    sureness_of,
    years_between,
)
from rooftree.physics.instruments import Accuracy, InstrumentTerms
from rooftree.records.document import job_document, read_document
from rooftree.units import DisplaySystem
from strategies import small_job

GAUGE = InstrumentTerms(absolute=0.15, share=0.01, accuracy=Accuracy.LARGER, resolution=0.1)


def job_with(**changes: Any) -> Job:
    """Return the small job whose first instrument was changed."""
    raw = small_job()
    raw["instruments"][0] |= changes
    return read_document(json.dumps(raw)).to_core()


def test_a_gauge_of_the_job_says_how_sure_its_readings_are() -> None:
    """What nobody stated in the test comes from the record, at the usual size of a reading."""
    raw = small_job()
    raw["instruments"][0] |= {
        "measures": [
            {
                "quantity": "pressure",
                "absolute": "0.15 Pa",
                "share": "1 %",
                "accuracy": "larger",
                "resolution": "0.1 Pa",
            }
        ]
    }
    test = raw["tests"][0]
    test["instrument"] = raw["instruments"][0]["id"]
    test.pop("pressure_uncertainty", None)
    reading: Any = read_document(json.dumps(raw)).to_core().tests[0].reading
    sizes = [abs(station.pressure) for station in reading.stations]
    middle = sorted([*sizes, *map(abs, reading.baseline_before), *map(abs, reading.baseline_after)])
    lowest, highest = (GAUGE.standard_uncertainty(end) for end in (middle[0], middle[-1]))
    assert lowest <= reading.pressure_uncertainty <= highest
    assert reading.pressure_uncertainty != pytest.approx(0.5)


def test_what_the_test_states_itself_is_kept() -> None:
    """A statement beside the readings is worth more than a record."""
    raw = small_job()
    raw["instruments"][0] |= {"measures": [{"quantity": "pressure", "absolute": "9 Pa"}]}
    raw["tests"][0] |= {"pressure_uncertainty": "0.7 Pa", "instrument": raw["instruments"][0]["id"]}
    reading: Any = read_document(json.dumps(raw)).to_core().tests[0].reading
    assert reading.pressure_uncertainty == pytest.approx(0.7)


def test_a_calibration_that_is_older_makes_a_reading_less_sure() -> None:
    """Drift grows with the years between calibration and visit."""
    drifting = replace(GAUGE, drift_per_year=0.2)
    young, old = (Sureness(drifting, age).standard([50.0], is_relative=False) for age in (0.5, 4.0))
    assert young is not None
    assert old is not None
    assert young < old


def test_a_share_is_returned_where_the_test_keeps_a_share() -> None:
    """A flow is as sure as its share, whatever its size; of nothing there is no share."""
    terms = InstrumentTerms(share=0.03, divisor=1.0)
    assert Sureness(terms, 0.0).standard([0.5, 1.0], is_relative=True) == pytest.approx(0.03)
    assert Sureness(terms, 0.0).standard([0.0], is_relative=True) is None


def test_the_first_instrument_that_measures_something_counts() -> None:
    """A fan's own gauge does not replace the one that the test names first."""
    one = Instrument("a", "a", "gauge", measures=(Capability(Measured.PRESSURE, GAUGE),))
    other = replace(one, id="b", measures=(Capability(Measured.PRESSURE, InstrumentTerms(9.0)),))
    assert sureness_of([other, one], ["a", "b"], "")[Measured.PRESSURE].terms is GAUGE


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"calibrated": "2020-01-01", "due": "2021-01-01"}, "instrument/overdue"),
        ({"calibrated": "", "due": ""}, "instrument/no-date"),
        ({"calibrated": "2099-01-01", "due": "2100-01-01"}, "instrument/later"),
    ],
)
def test_a_calibration_that_does_not_hold_is_told(changes: dict[str, str], code: str) -> None:
    """Overdue, unknown and impossible dates each have their own sentence."""
    job = job_with(**changes)
    found = judge_instruments(job, [job.instruments[0].id], job.visits[0].id)
    assert [one.code for one in found] == [code]


def test_an_instrument_in_calibration_gives_no_doubt() -> None:
    """Nor does a test that names none."""
    day = job_with().visits[0].date
    job = job_with(calibrated=day, due="2099-01-01")
    assert judge_instruments(job, [job.instruments[0].id, ""], job.visits[0].id) == ()


def test_an_instrument_that_is_not_there_is_told() -> None:
    """A form may name what was taken out meanwhile."""
    (found,) = judge_instruments(job_with(), ["nothing"], "")
    assert found.code == "instrument/unknown"


def test_dates_that_are_not_known_have_no_years_between() -> None:
    """The drift of an instrument without a date is not made up."""
    assert years_between("", "2026-01-01") == 0.0
    assert years_between("2024-01-01", "2026-01-01") == pytest.approx(2.0, abs=0.01)


def test_a_record_that_says_nothing_leaves_what_is_usual() -> None:
    """Nothing stated is not a perfect instrument."""
    assert Sureness(InstrumentTerms(), 2.0).standard([50.0], is_relative=False) is None


def test_instruments_survive_the_job_file() -> None:
    """Each quantity is written in its own unit."""
    flow = Capability(Measured.FLOW, InstrumentTerms(absolute=0.005, share=0.05))
    pressure = Capability(Measured.PRESSURE, GAUGE)
    job = job_with()
    both = replace(job.instruments[0], measures=(pressure, flow))
    written = job_document(replace(job, instruments=(both,)), DisplaySystem.IP)
    (read,) = read_document(written.to_json()).to_core().instruments
    assert [one.quantity for one in read.measures] == [Measured.PRESSURE, Measured.FLOW]
    assert read.measures[0].terms == GAUGE
    assert read.measures[1].terms.absolute == pytest.approx(0.005, rel=1e-4)


def test_an_uncertainty_of_nothing_is_refused() -> None:
    """No reading is without doubt."""
    raw = small_job()
    raw["tests"][0] |= {"pressure_uncertainty": "0 Pa"}
    with pytest.raises(DocumentError, match=r"no reading is without doubt"):
        read_document(json.dumps(raw))
