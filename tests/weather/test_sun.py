"""Check the sun's place and the sun on planes against published values and laws."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.weather import plane_irradiance
from rooftree.weather.hours import MONTH_START
from rooftree.weather.sun import incidence_cosine, sun_position

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from rooftree.weather import WeatherYear

DENVER = "USA_CO_Denver.Intl.AP.725650_TMY3.epw"
LEVEL, SOUTH, WEST, NORTH = (0.0, 180.0), (90.0, 180.0), (90.0, 270.0), (90.0, 0.0)

# Hour ending: lowest and highest of the programs compared, Wh/m².
CLEAR_DAY = {
    LEVEL: {
        5: (0, 6), 6: (82, 103), 7: (264, 290), 8: (466, 493), 9: (657, 682), 10: (816, 838),
        11: (932, 948), 12: (996, 1005), 13: (1002, 1008), 14: (946, 955), 15: (835, 848),
        16: (679, 697), 17: (490, 512), 18: (286, 309), 19: (99, 116), 20: (0, 7),
    },
    SOUTH: {
        5: (0, 3), 6: (15, 27), 7: (34, 55), 8: (56, 82), 9: (139, 179), 10: (273, 306),
        11: (372, 399), 12: (428, 450), 13: (433, 453), 14: (390, 409), 15: (300, 321),
        16: (174, 198), 17: (64, 85), 18: (39, 58), 19: (19, 30), 20: (0, 3),
    },
    WEST: {
        5: (0, 3), 6: (15, 27), 7: (34, 55), 8: (56, 82), 9: (76, 104), 10: (92, 119),
        11: (104, 134), 12: (110, 141), 13: (208, 259), 14: (443, 492), 15: (645, 684),
        16: (771, 812), 17: (818, 862), 18: (758, 807), 19: (526, 590), 20: (0, 95),
    },
}  # fmt: skip


def total(year: WeatherYear, plane: tuple[float, float]) -> NDArray[np.float64]:
    """Return beam, sky and ground together on a plane, each hour."""
    sun = plane_irradiance(year, *plane)
    return sun.beam + sun.sky + sun.ground


@pytest.mark.published(
    source="Reda and Andreas, Solar Position Algorithm, NREL/TP-560-34302", where="table A5.1",
    read="source",
)  # fmt: skip
def test_sun_of_the_worked_example() -> None:
    """Zenith, azimuth and incidence of the worked example come back.

    The algorithm states ±0.0003°. The example gives the air 820 mbar and 11 °C; the
    standard atmosphere at that height has 812 mbar, at 12 °C, which moves the refraction
    by 0.0003°.
    """
    moment = 24.0 * (MONTH_START[9] // 24 + 16) + 12.0 + 30.5 / 60.0
    altitude, azimuth = sun_position([moment], 39.742476, -105.1786, -7.0, 1830.14)
    assert 90.0 - altitude[0] == pytest.approx(50.11162, abs=6e-4)
    assert azimuth[0] == pytest.approx(194.34024, abs=3e-4)
    cosine = incidence_cosine(altitude, azimuth, 30.0, 170.0)[0]
    assert math.degrees(math.acos(cosine)) == pytest.approx(25.18700, abs=6e-4)


@pytest.mark.published(
    source="ANSI/ASHRAE Standard 140-2023", where="incident solar, Case 600, clear day 14 July",
    read="source",
)  # fmt: skip
@pytest.mark.parametrize("plane", CLEAR_DAY, ids=["level", "south", "west"])
def test_clear_day_lies_in_the_reference_range(
    shared_year: Callable[[str], WeatherYear], plane: tuple[float, float]
) -> None:
    """Each hour of a clear day lies between the lowest and highest program compared.

    Needs ../shared/weather; the ranges are printed in whole Wh/m².
    """
    day = total(shared_year(DENVER), plane)[24 * (181 + 13) :][:24]
    outside = {
        hour: day[hour - 1]
        for hour, (low, high) in CLEAR_DAY[plane].items()
        if not low <= round(day[hour - 1]) <= high
    }
    assert outside == {}


@pytest.mark.published(
    source="ANSI/ASHRAE Standard 140-2023", where="tables B8-13, B8-14, incident, Case 600",
    read="source",
)  # fmt: skip
@pytest.mark.parametrize(
    ("plane", "low", "high"), [(LEVEL, 1663, 1670), (SOUTH, 1291, 1387), (NORTH, 399, 477)]
)
def test_annual_sun_lies_in_the_reference_range(
    shared_year: Callable[[str], WeatherYear], plane: tuple[float, float], low: int, high: int
) -> None:
    """The sun of a year on a plane lies in the range, printed in whole kWh/m².

    Needs ../shared/weather.
    """
    assert low <= round(total(shared_year(DENVER), plane).sum() / 1000.0) <= high


@pytest.mark.parametrize("station", ["DRYCOLDTMY.epw", DENVER, "LasvegaTMY-v5.0.epw"])
def test_level_plane_receives_the_global_irradiance(
    shared_year: Callable[[str], WeatherYear], station: str
) -> None:
    """On level ground the year's sum is the file's global irradiance, within 0.05 %.

    The rest is the sky model at sun altitudes below 5°. Needs ../shared/weather.
    """
    year = shared_year(station)
    received = total(year, LEVEL)
    assert received.sum() == pytest.approx(year.global_horizontal.sum(), rel=5e-4)
    high = year.sun_altitude > 5.0
    assert received[high] == pytest.approx(year.global_horizontal[high], rel=1e-9, abs=1e-9)


def test_plane_facing_down_sees_only_ground(greensboro: WeatherYear) -> None:
    """A surface that faces the ground gets the reflected sun and no beam by day."""
    sun = plane_irradiance(greensboro, 180.0, 0.0, ground_reflectance=0.25)
    assert sun.beam.max() == 0.0
    assert sun.ground == pytest.approx(0.25 * greensboro.global_horizontal)


def test_beam_obeys_its_cosine_and_never_exceeds_the_file(greensboro: WeatherYear) -> None:
    """Beam is at most direct normal times cosine, and no part is ever below zero."""
    for tilt, azimuth in ((18.0, 180.0), SOUTH, WEST, NORTH):
        sun = plane_irradiance(greensboro, tilt, azimuth)
        assert (sun.beam <= greensboro.direct_normal * sun.cosine + 1e-9).all()
        assert min(sun.beam.min(), sun.sky.min(), sun.ground.min(), sun.cosine.min()) >= 0.0
        assert sun.cosine.max() <= 1.0


def test_almost_no_beam_is_lost_at_sunrise(greensboro: WeatherYear) -> None:
    """Hours with direct sun have the sun above the horizon: none of the year's beam is lost."""
    down = greensboro.sun_altitude <= 0.0
    assert greensboro.direct_normal[down].sum() < 1e-3 * greensboro.direct_normal.sum()


def test_south_gets_more_than_north_and_east_about_as_much_as_west(
    greensboro: WeatherYear,
) -> None:
    """A year at 36° north treats the walls as everyone knows."""
    south, west, north = (total(greensboro, p).sum() for p in (SOUTH, WEST, NORTH))
    east = total(greensboro, (90.0, 90.0)).sum()
    assert south > west > north
    assert east == pytest.approx(west, rel=0.05)


@given(st.floats(-90.0, 90.0), st.floats(0.0, 360.0), st.floats(0.0, 180.0), st.floats(0.0, 360.0))
def test_opposite_planes_have_opposite_cosines(
    altitude: float, azimuth: float, tilt: float, facing: float
) -> None:
    """Turning a plane over turns the sign of its cosine, which stays within one."""
    front = float(incidence_cosine(altitude, azimuth, tilt, facing))
    back = float(incidence_cosine(altitude, azimuth, 180.0 - tilt, facing + 180.0))
    assert front == pytest.approx(-back, abs=1e-9)
    assert abs(front) <= 1.0 + 1e-12


@given(st.floats(-90.0, 90.0), st.floats(0.0, 360.0))
def test_plane_facing_the_sun_meets_it_squarely(altitude: float, azimuth: float) -> None:
    """A plane tilted to face the sun has a cosine of one."""
    assert float(incidence_cosine(altitude, azimuth, 90.0 - altitude, azimuth)) == pytest.approx(1)


def test_sun_is_highest_near_noon_and_in_june() -> None:
    """On the meridian of its time zone the sun culminates close to clock noon."""
    moments = np.arange(0.0, 8760.0, 0.25)
    altitude, azimuth = sun_position(moments, 40.0, -75.0, -5.0)
    highest = moments[np.argmax(altitude)]
    assert MONTH_START[5] <= highest <= MONTH_START[6]
    assert highest % 24.0 == pytest.approx(12.0, abs=0.3)
    assert altitude.max() == pytest.approx(90.0 - 40.0 + 23.44, abs=0.05)
    assert azimuth[np.argmax(altitude)] == pytest.approx(180.0, abs=5.0)


@pytest.mark.parametrize(
    ("tilt", "reflectance", "message"),
    [
        (-1.0, 0.2, r"^tilt is -1 °; the method covers 0 to 180 °$"),
        (float("nan"), 0.2, r"^tilt is nan °; the method covers 0 to 180 °$"),
        (90, 1.1, r"^ground reflectance is 1\.1 \[0-1\]; the method covers 0 to 1 \[0-1\]$"),
    ],
)
def test_planes_that_cannot_be_are_refused(
    greensboro: WeatherYear, tilt: float, reflectance: float, message: str
) -> None:
    """A tilt or a reflectance out of range is refused by name and range."""
    with pytest.raises(OutOfRangeError, match=message):
        plane_irradiance(greensboro, tilt, 180.0, reflectance)
