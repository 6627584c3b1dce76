"""Changes of the house: tried on the year, saved with their line in the trail, or left."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from actions.conftest import NAME
from rooftree.actions.house import (
    forget_trials,
    house_part,
    removal_obstacles,
    remove_part,
    save_part,
    try_house,
    try_part,
    try_removal,
)
from rooftree.actions.simulation import case_of, simulate_job, year_of
from rooftree.errors import DocumentError
from rooftree.house import EndUse

if TYPE_CHECKING:
    from rooftree.job import Job
    from rooftree.records import Store

WALL = "wall-north"


def test_the_house_as_it_is_has_the_year_of_the_other_pages(job: Job) -> None:
    """What stands as before is what every page shows of the job."""
    trial = try_house(job, job.house)
    assert trial.before is trial.after
    assert trial.before is not None
    assert trial.before.house == case_of(job).house
    assert trial.before.cost == pytest.approx(year_of(job).cost, rel=1e-12)
    assert trial.before.year.bought() == simulate_job(job).bought()


def test_less_insulation_buys_more_heat(store: Store) -> None:
    """A wall most of whose insulation does nothing needs more heating; nothing is saved."""
    entry = house_part(store, NAME, "surface", WALL)
    trial = try_part(store, NAME, "surface", WALL, entry | {"void_fraction": "95 %"})
    assert trial.before is not None
    assert trial.after is not None
    heat = [one.year.bought(use=EndUse.HEATING) for one in (trial.before, trial.after)]
    assert heat[1] > 1.005 * heat[0]
    assert trial.after.loads.heating > trial.before.loads.heating
    assert trial.after.cost is not None
    assert trial.before.cost is not None
    assert trial.after.cost > trial.before.cost
    assert store.revision(NAME) == 1


def test_cracks_are_scaled_to_the_fan_test_again(store: Store) -> None:
    """A crack written twice as large changes which crack leaks, not how much the house does."""
    entry = house_part(store, NAME, "leak", "crack-north-sill")
    trial = try_part(
        store, NAME, "leak", "crack-north-sill", entry | {"coefficient": "16 cfm/Pa^n"}
    )
    assert trial.after is not None
    assert trial.before is not None
    before, after = trial.before.year.mean_infiltration, trial.after.year.mean_infiltration
    assert after == pytest.approx(before, rel=0.05)
    crack = {leak.id: leak.coefficient for leak in trial.after.house.leaks}["crack-north-sill"]
    assert crack != pytest.approx(
        {leak.id: leak.coefficient for leak in trial.before.house.leaks}["crack-north-sill"]
    )


def test_a_field_that_cannot_be_taken_is_told_and_gives_no_year(store: Store) -> None:
    """Its path begins at the part; the house as found is still there."""
    entry = house_part(store, NAME, "surface", WALL)
    trial = try_part(store, NAME, "surface", WALL, entry | {"area": "12"})
    assert trial.after is None
    assert trial.before is not None
    assert [path for path, _ in trial.problems] == ["area"]


def test_a_house_that_cannot_be_simulated_says_why(store: Store) -> None:
    """The message of the engine is told, and that there is no year."""
    entry = house_part(store, NAME, "cooling")
    trial = try_part(store, NAME, "cooling", "", entry | {"sensible_fraction": "99 %"})
    assert trial.after is None
    assert "sensible fraction" in trial.says


def test_a_fuel_without_a_price_leaves_the_cost_open(job: Job) -> None:
    """The year is there; what it costs is not known."""
    bare = replace(job, tariff=replace(job.tariff, price={}))
    trial = try_house(bare, bare.house)
    assert trial.after is not None
    assert trial.after.cost is None


def test_a_saved_change_is_a_revision_with_its_line_in_the_trail(store: Store) -> None:
    """Word by word as typed, by whom it was told."""
    entry = house_part(store, NAME, "surface", WALL)
    typed = entry | {"void_fraction": {"value": "9 %", "known": "observed", "note": "lamp"}}
    job, name = save_part(store, NAME, "surface", WALL, typed, "A. N. Assessor")
    assert (store.revision(NAME), name) == (2, WALL)
    assert house_part(store, NAME, "surface", WALL) == typed
    assert {one.id: one for one in job.house.surfaces}[WALL].void_fraction == 0.09
    line = store.history(NAME)[-1]
    assert (line.kind, line.made_by) == ("house", "A. N. Assessor")


def test_an_added_part_is_there_and_can_be_taken_out_again(store: Store) -> None:
    """The house then is what it was, and every revision is kept."""
    before = store.load(NAME).plain()["house"]
    entry = {"space": "crawl", "capacity": "50 pt/day", "energy_factor": "1.8 L/kWh"}
    trial = try_part(store, NAME, "dehumidifier", "", entry)
    assert trial.after is not None
    assert trial.after.year.bought(use=EndUse.DRYING) > 0.0
    _, name = save_part(store, NAME, "dehumidifier", "", entry, "test")
    gone = try_removal(store, NAME, "dehumidifier", name)
    assert gone.after is not None
    assert gone.after.year.bought(use=EndUse.DRYING) == 0.0
    remove_part(store, NAME, "dehumidifier", name, "test")
    after = store.load(NAME).plain()["house"]
    assert after.pop("dehumidifiers") == []
    assert after == before
    assert store.revision(NAME) == 3


def test_a_space_that_is_named_stays(store: Store) -> None:
    """What names it is listed, and nothing changes."""
    assert {one.kind for one in removal_obstacles(store, NAME, "space", "attic")} >= {
        "surface",
        "leak",
    }
    assert try_removal(store, NAME, "space", "attic").after is None
    with pytest.raises(DocumentError, match="attic"):
        remove_part(store, NAME, "space", "attic", "test")
    assert store.revision(NAME) == 1


def test_forgotten_trials_are_run_again(job: Job) -> None:
    """A year of weather that was replaced is not told from memory."""
    first = try_house(job, job.house).before
    forget_trials()
    second = try_house(job, job.house).before
    assert first is not second
    assert first is not None
    assert second is not None
    assert first.cost == second.cost


def test_what_a_test_replaces_is_told(store: Store, job: Job) -> None:
    """The flow of the air handler was measured: what is written down does not count."""
    tried = try_house(job, job.house).before
    assert tried is not None
    assert ("flow", "test of the air handler") in tried.replaced("air handler")
    assert tried.replaced("heating") == ()
    entry = house_part(store, NAME, "air handler")
    trial = try_part(store, NAME, "air handler", "", entry | {"flow": "700 cfm"})
    assert trial.after is not None
    assert trial.before is not None
    assert trial.after.year.bought() == pytest.approx(trial.before.year.bought(), rel=1e-9)
