"""Packages and an ensemble of the demo house in a process of its own, and the memory they take.

Run by ``python -m bench``; prints one JSON object.
"""

from __future__ import annotations

import json
from functools import partial

from bench.figures import held_to, peak_memory, timed
from bench.variants import ensemble, packages
from rooftree.actions.demo import demo_text
from rooftree.actions.simulation import case_of
from rooftree.actions.year import weather_of
from rooftree.engine import simulate, simulate_many
from rooftree.records.document import read_document

CORES = 2
"""On which they are to be simulated in time."""

MEMBERS = 1000
"""Of the ensemble."""


@held_to(CORES)
def measure() -> dict[str, float]:
    """Return what they took; results are kept until all are there, as a plan does."""
    job = read_document(demo_text()).to_core()
    house, year = case_of(job).house, weather_of(job)
    simulate(house, year)  # warms up: the hour loop is compiled once on each machine
    many = packages(house, job)
    package_seconds = timed(partial(simulate_many, many, year, workers=CORES))
    package_memory = peak_memory()
    members = ensemble(house, MEMBERS)
    simulate_many(members[:16], year, workers=1)
    return {
        "packages": len(many),
        "package_seconds": package_seconds,
        "package_memory": package_memory,
        "members": len(members),
        "member_seconds": timed(partial(simulate_many, members, year, workers=CORES)),
    }


if __name__ == "__main__":
    print(json.dumps(measure()))
