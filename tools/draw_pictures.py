"""Draw the picture of the README from the demo job: ``python tools/draw_pictures.py``."""

from __future__ import annotations

from pathlib import Path

from rooftree.actions.demo import demo_text
from rooftree.actions.papers import WINTER
from rooftree.actions.simulation import case_of, simulate_job, weather_of
from rooftree.papers.section import draw_section, measured_pressures, state_over_year
from rooftree.records.document import read_document
from rooftree.units import DisplaySystem

PICTURE = Path(__file__).parents[1] / "docs" / "pictures" / "section.svg"


def draw_picture() -> str:
    """Return the section through the demo house, mean of the winter."""
    job = read_document(demo_text()).to_core()
    house = case_of(job).house
    return draw_section(
        house,
        state_over_year(house, simulate_job(job), weather_of(job), WINTER),
        system=DisplaySystem.IP,
        note="invented house",
        pressures=measured_pressures(house, [test.reading for test in job.tests]),
    )


if __name__ == "__main__":
    PICTURE.parent.mkdir(parents=True, exist_ok=True)
    PICTURE.write_text(draw_picture() + "\n", encoding="utf-8")
    print(PICTURE.name)
