"""The table of the bench says what is kept, and what is measured is what the table says."""

from __future__ import annotations

import pytest
from bench.engine_speed import exponent, with_halved_leaks
from bench.figures import Figure, median_time, page, text_table
from bench.variants import OFFERED, ensemble, packages

from rooftree.actions.demo import demo_text
from rooftree.house import LeakKind
from rooftree.house.sound import require_sound
from rooftree.plan.leakage import flow_at_50
from rooftree.plan.years import digest
from rooftree.records.document import read_document

MOST = Figure("One year", 25.0, "ms", 30.0)
LEAST = Figure("Packages", 3880.0, "packages", 2000.0, at_least=True)
TOLD = Figure("Ratio", 591.4, "times")


@pytest.mark.parametrize(
    ("figure", "holds"),
    [
        (MOST, True),
        (Figure("One year", 30.0, "ms", 30.0), True),
        (Figure("One year", 30.1, "ms", 30.0), False),
        (LEAST, True),
        (Figure("Packages", 1999.0, "packages", 2000.0, at_least=True), False),
        (TOLD, True),
    ],
)
def test_a_limit_is_kept_or_not(figure: Figure, holds: bool) -> None:
    """At most and at least are each held to the right side; without a limit nothing fails."""
    assert figure.holds is holds


def test_the_table_says_what_fails() -> None:
    """A limit that is not kept stands out."""
    table = text_table([MOST, Figure("Help", 0.7, "s", 0.5)])
    assert table.splitlines()[-1].split() == ["Help", "0.7", "s", "at", "most", "0.5", "s", "NO"]


def test_the_page_holds_every_figure_and_note() -> None:
    """The written page has one row a figure and says what it was measured on."""
    text = page([MOST, LEAST, TOLD], ["How it was measured."], "2 cores")
    assert "measured on 2 cores." in text
    assert "| One year | 25 ms | at most 30 ms | yes |" in text
    assert "| Packages | 3,880 packages | at least 2,000 packages | yes |" in text
    assert "| Ratio | 591 times |  |  |" in text
    assert text.endswith("- How it was measured.\n")


def test_an_action_is_done_once_more_than_it_is_timed() -> None:
    """The first time, which warms up, is not counted."""
    done: list[int] = []
    assert median_time(lambda: done.append(1), 3) >= 0.0
    assert len(done) == 4


def test_every_package_is_another_house() -> None:
    """Twelve measures make 4,096 packages; each of them changes the house."""
    job = read_document(demo_text()).to_core()
    houses = packages(job.house, job)
    assert len(OFFERED) == 12
    assert len({digest(house) for house in houses}) == 4096


def test_members_are_sound_and_share_no_surface() -> None:
    """The draws make legal houses, the same for the same seed, no two with an equal surface."""
    house = read_document(demo_text()).to_core().house
    members = ensemble(house, 20)
    for member in members:
        require_sound(member)
    layers = {surface.layers for member in members for surface in member.surfaces}
    assert len(layers) == 20 * len(house.surfaces)
    assert members == ensemble(house, 20)


def test_halved_leaks_are_the_same_house() -> None:
    """With two leaks of half the size for each, a fan test finds the same."""
    house = read_document(demo_text()).to_core().house
    twice = with_halved_leaks(house)
    require_sound(twice)
    holes = sum(leak.kind is LeakKind.HOLE for leak in house.leaks)
    assert len(twice.leaks) == 2 * len(house.leaks) - holes
    assert flow_at_50(twice) == pytest.approx(flow_at_50(house), rel=1e-9)


def test_proportion_is_the_power_of_one() -> None:
    """Time that doubles with size has exponent 1, time that stays has 0."""
    assert exponent([1, 2, 4], [3.0, 6.0, 12.0]) == pytest.approx(1.0)
    assert exponent([1, 2], [3.0, 3.0]) == pytest.approx(0.0)
