"""The job file: one open, versioned JSON file with a unit on every quantity.

`read_document` takes its text and gives a `JobDocument`, or refuses it with every
problem; `check_document` lists the problems; `JobDocument.to_core()` gives the job in SI.
"""

from rooftree.records.document.check import (
    check_document,
    check_raw,
    read_document,
    read_test,
    refuse_problems,
    with_instrument,
    with_test,
)
from rooftree.records.document.field_tests import Around
from rooftree.records.document.house import HouseDocument
from rooftree.records.document.job import FORMAT, VERSION, JobDocument
from rooftree.records.document.migrate import migrate
from rooftree.records.document.problems import Problem
from rooftree.records.document.schema import job_schema, schema_text
from rooftree.records.document.writing import (
    house_document,
    job_document,
    measure_entry,
    test_entry,
    written,
)

__all__ = [
    "FORMAT",
    "VERSION",
    "Around",
    "HouseDocument",
    "JobDocument",
    "Problem",
    "check_document",
    "check_raw",
    "house_document",
    "job_document",
    "job_schema",
    "measure_entry",
    "migrate",
    "read_document",
    "read_test",
    "refuse_problems",
    "schema_text",
    "test_entry",
    "with_instrument",
    "with_test",
    "written",
]
