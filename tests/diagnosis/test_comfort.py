"""Check comfort against the tables of the standards, and hours worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from diagnosis.held import HOURS, all_year, held_year
from diagnosis.ranch_year import ranch_year
from engine.houses import make_house, make_space
from rooftree.diagnosis.comfort import (
    diagnose_comfort,
    dissatisfied_with_floor,
    operative_temperature,
    predicted_votes,
    votes_in_room,
)
from rooftree.errors import OutOfRangeError
from rooftree.house import OUTDOORS, House, Layer, Surface, Window

ZERO = 273.15
BOARD = (Layer("board", 0.01, 0.2),)


@pytest.mark.published(
    source="ISO 7730:2005, annex D",
    where="table D.1, rows 1 to 6 and 8 to 13 as far as recalled: mean vote and dissatisfied",
    read="memory; rounded values seen in an open validation data set for comfort models",
)
@pytest.mark.parametrize(
    ("air", "radiant", "speed", "percent", "met", "clo", "vote", "dissatisfied"),
    [
        (22.0, 22.0, 0.10, 60, 1.2, 0.5, -0.75, 17),
        (27.0, 27.0, 0.10, 60, 1.2, 0.5, 0.77, 17),
        (27.0, 27.0, 0.30, 60, 1.2, 0.5, 0.44, 9),
        (23.5, 25.5, 0.10, 60, 1.2, 0.5, -0.01, 5),
        (23.5, 25.5, 0.30, 60, 1.2, 0.5, -0.55, 11),
        (19.0, 19.0, 0.10, 40, 1.2, 1.0, -0.60, 13),
        (22.0, 22.0, 0.10, 60, 1.6, 0.5, 0.05, 5),
        (27.0, 27.0, 0.10, 60, 1.6, 0.5, 1.17, 34),
        (27.0, 27.0, 0.30, 60, 1.6, 0.5, 0.95, 24),
    ],
)
def test_votes_of_the_standard(
    air: float, radiant: float, speed: float, percent: float, met: float, clo: float,
    vote: float, dissatisfied: float,
) -> None:  # fmt: skip
    """Every recalled row of the table, to 0.1 of the vote and 1 % of the people."""
    told = predicted_votes(
        [air + ZERO], [radiant + ZERO], [percent / 100.0],
        clothing=[clo], activity=met, air_speed=speed,
    )  # fmt: skip
    assert told.mean_vote[0] == pytest.approx(vote, abs=0.1)
    assert 100.0 * told.dissatisfied[0] == pytest.approx(dissatisfied, abs=1.0)


def test_votes_keep_the_shape_of_the_year() -> None:
    """A year of hours gives a vote for each; warmer is never colder; 5 % always complain."""
    air = np.linspace(283.15, 303.15, 100)
    told = predicted_votes(air, air, np.full(100, 0.5), clothing=1.0)
    assert told.mean_vote.shape == (100,)
    assert np.all(np.diff(told.mean_vote) > 0.0)
    assert told.dissatisfied.min() >= 0.05 - 1e-9


@pytest.mark.published(
    source="ISO 7726:1998, annex G", where="weights of the air's temperature", read="memory"
)
@pytest.mark.parametrize(("speed", "expected"), [(0.1, 295.0), (0.4, 294.0), (0.8, 293.0)])
def test_operative_temperature_by_air_speed(speed: float, expected: float) -> None:
    """Half, 0.6 and 0.7 of the air's temperature, exactly."""
    assert float(operative_temperature(290.0, 300.0, speed)) == pytest.approx(expected)


def test_fast_air_is_refused() -> None:
    """The weights end at 1 m/s."""
    with pytest.raises(OutOfRangeError, match=r"air speed is 1\.5 m/s; .* 0 to 1 m/s"):
        operative_temperature(290.0, 300.0, 1.5)


@pytest.mark.published(
    source="ISO 7730:2005",
    where="equation 8, and 10 % at the ends of 19 to 29 °C",
    read="memory",
)
def test_floors_that_ten_percent_dislike() -> None:
    """About a tenth complain at 19 and 29 °C, and half of that at 24."""
    told = dissatisfied_with_floor([292.15, 297.15, 302.15])
    assert told[[0, 2]] == pytest.approx([0.10, 0.12], abs=0.01)
    assert told[1] == pytest.approx(0.055, abs=0.001)


def house() -> House:
    """Return a room with floor, ceiling and a window."""
    parts = tuple(
        Surface(kind, kind, kind, "room", OUTDOORS, area, tilt, 0.0, BOARD)
        for kind, area, tilt in (("floor", 100.0, 180.0), ("ceiling", 100.0, 0.0))
    )
    window = Window("pane", "pane", "room", 2.0, 90.0, 0.0, 3.0, 0.6)
    return replace(make_house(make_space("room")), surfaces=parts, windows=(window,))


def test_hours_outside_the_band_by_hand() -> None:
    """A radiant point 8 K below 294.15 K makes a day feel 2 K too cold for 19 °C."""
    radiant = all_year(294.15)
    radiant[:24] = 286.15
    radiant[24:36] = 310.15
    room = diagnose_comfort(held_year(house(), temperature=294.15, radiant=radiant)).rooms[0]
    assert (room.cold_hours, room.hot_hours) == (24, 12)
    assert room.cold_degree_hours == pytest.approx(24 * 2.0)
    assert room.hot_degree_hours == pytest.approx(12 * 2.0)


def test_faces_that_chill_or_heat_by_hand() -> None:
    """A floor of 18 °C, glass 11 K colder, a ceiling 6 K warmer than the room: each is told."""
    face = all_year(293.15, 293.15, 293.15)
    face[:1000, 0] = 291.15
    face[:300, 1] = 299.15
    face[:500, 2] = 282.15
    found = diagnose_comfort(held_year(house(), face_inside=face))
    room = found.rooms[0]
    assert room.cold_floor_hours == 1000
    assert room.warm_ceiling_hours == 300
    assert room.cool_glass_hours == 500
    codes = {finding.code.removeprefix("diagnosis/") for finding in found.findings}
    assert codes == {"cold-floor", "warm-ceiling", "cold-glass"}


def test_the_ceiling_below_is_the_floor_above() -> None:
    """Of a surface between two storeys the room above sees the outside face, as its floor."""
    slab = Surface("slab", "slab", "ceiling", "low", "high", 50.0, 0.0, 0.0, BOARD)
    two = replace(make_house(make_space("low"), make_space("high")), surfaces=(slab,))
    year = held_year(two, face_inside=all_year(295.15), face_outside=all_year(290.15))
    low, high = diagnose_comfort(year).rooms
    assert low.floor is None
    assert low.ceiling is not None
    assert low.ceiling[0] == 295.15
    assert high.floor is not None
    assert high.floor[0] == 290.15
    assert high.cold_floor_hours == HOURS


def test_a_room_without_windows_has_no_coldest_glass() -> None:
    """What is not there is None, and counts no hours."""
    room = diagnose_comfort(held_year(replace(house(), windows=()))).rooms[0]
    assert room.coldest_glass is None
    assert room.cool_glass_hours == 0


def test_a_band_upside_down_is_refused() -> None:
    """The lower end comes first."""
    with pytest.raises(OutOfRangeError, match="upper end of the band"):
        diagnose_comfort(held_year(house()), (299.15, 293.15))


def test_bonus_room_of_the_ranch_is_worst() -> None:
    """It is outside the band for more degree-hours than any other room, either way."""
    rooms = {room.space: room for room in diagnose_comfort(ranch_year()).rooms}
    for other in ("main", "beds"):
        assert rooms["bonus"].cold_degree_hours > rooms[other].cold_degree_hours
        assert rooms["bonus"].hot_degree_hours > rooms[other].hot_degree_hours


def test_votes_in_a_room_follow_the_seasons() -> None:
    """The ranch's main rooms are voted colder in winter nights than on summer afternoons."""
    told = votes_in_room(ranch_year(), "main")
    winter, summer = slice(0, 31 * 24), slice(181 * 24, 212 * 24)
    assert told.mean_vote[winter].mean() < told.mean_vote[summer].mean()
    assert -3.0 < told.mean_vote.min() < told.mean_vote.max() < 3.0
    with pytest.raises(KeyError):
        votes_in_room(ranch_year(), "nowhere")
