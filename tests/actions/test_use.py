"""What a household usually uses, beside what a job says."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from rooftree.actions.use import usual_use_of
from rooftree.house.use import Seen
from rooftree.known import How, Known

if TYPE_CHECKING:
    from rooftree.job import Job

KWH = 3.6e6


def test_usual_use_is_that_of_the_job_s_size(job: Job) -> None:
    """People, bedrooms, gas range and garage are those of the job; its own use stands beside."""
    found = usual_use_of(job)
    assert found.told is job.house.use
    assert (found.usual.people, found.usual.bedrooms) == (4, 3)
    items = {item.id: item for item in found.items}
    assert items["range"].gas > 0.0
    assert "garage lighting" in items
    assert 0.5 < found.usual.electricity / found.told.electricity < 2.0


def test_what_was_seen_is_put_in(job: Job) -> None:
    """A metered part replaces the usual one and moves the sum by the difference."""
    meter = Known(How.MEASURED, "plug meter")
    usual, seen = usual_use_of(job), usual_use_of(
        job, {"refrigerator": Seen(energy=1500.0 * KWH, known=meter)}
    )  # fmt: skip
    fridge = next(item for item in usual.items if item.id == "refrigerator")
    more = (seen.usual.electricity - usual.usual.electricity) * 365.0 * 86400.0
    assert more == pytest.approx(1500.0 * KWH - fridge.electricity)
