"""Check the shade of overhangs and fins against hand geometry and limit cases."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.engine.shading import Projections, shade_window, sunlit_fraction
from rooftree.errors import OutOfRangeError

SOUTH = (90.0, 180.0)

sizes = st.builds(
    Projections,
    st.floats(0.3, 3.0),
    st.floats(0.3, 3.0),
    st.floats(0.0, 3.0),
    st.floats(0.0, 1.0),
    st.floats(0.0, 3.0),
    st.floats(0.0, 1.0),
)
suns = st.tuples(st.floats(-10.0, 90.0), st.floats(0.0, 360.0))


def light_that_arrives(tilt: float, projections: Projections, fineness: int = 24) -> float:
    """Return the share of an even sky's light that reaches the glass, ray by ray.

    From points all over the glass, in directions all over the hemisphere spread so that each
    brings the same light; a ray is followed until it meets overhang, fin or sky.
    """
    middle = (np.arange(fineness) + 0.5) / fineness
    x, y, one, two = np.meshgrid(middle, middle, middle, middle, indexing="ij")
    sine, turn = np.sqrt(one), 2.0 * np.pi * two
    ahead = np.sqrt(1.0 - one)
    level, upslope = sine * np.cos(turn), sine * np.sin(turn)
    up = ahead * math.cos(math.radians(tilt)) + upslope * math.sin(math.radians(tilt))
    to_top = projections.overhang_gap + projections.height * (1.0 - y)
    to_side = projections.fin_gap + projections.width * np.where(level > 0.0, 1.0 - x, x)
    over = ahead * to_top < projections.overhang_depth * upslope
    beside = ahead * to_side < projections.fin_depth * np.abs(level)
    sky = up > 0.0
    return float((sky & ~over & ~beside).sum() / sky.sum())


def test_shadow_of_an_overhang_by_hand() -> None:
    """Sun 60° high before the wall: half a metre of overhang shades 0.866 m of 1.5 m."""
    window = Projections(1.0, 1.5, overhang_depth=0.5)
    lit = sunlit_fraction([60.0], [180.0], *SOUTH, window)
    assert lit[0] == pytest.approx(1.0 - 0.5 * math.tan(math.radians(60.0)) / 1.5)


def test_profile_angle_by_hand() -> None:
    """Sun 30° high and 60° aside stands under a profile angle of 49.1°: tan 30° / cos 60°."""
    window = Projections(1.0, 1.5, overhang_depth=0.5, overhang_gap=0.2)
    lit = sunlit_fraction([30.0], [240.0], *SOUTH, window)
    assert lit[0] == pytest.approx(1.0 - (0.5 * 0.57735 / 0.5 - 0.2) / 1.5, abs=1e-4)


def test_shadow_of_fins_by_hand() -> None:
    """Sun 45° aside: fins of 0.3 m, 0.1 m from the glass, shade 0.2 m of 1 m on either side."""
    window = Projections(1.0, 1.5, fin_depth=0.3, fin_gap=0.1)
    lit = sunlit_fraction([20.0, 20.0], [135.0, 225.0], *SOUTH, window)
    assert lit == pytest.approx([0.8, 0.8])


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals, exterior shading",
    where="S_H = P_H tan(profile angle), S_W = P_V |tan(azimuth difference)|, sunlit area",
    read="memory",
)
@given(st.floats(1.0, 80.0), st.floats(-80.0, 80.0), sizes)
def test_walls_follow_the_handbook(altitude: float, turn: float, window: Projections) -> None:
    """On a wall the sunlit share is that of the handbook's profile angle, whatever the sizes."""
    beta, gamma = math.radians(altitude), math.radians(turn)
    down = window.overhang_depth * math.tan(beta) / math.cos(gamma) - window.overhang_gap
    aside = window.fin_depth * abs(math.tan(gamma)) - window.fin_gap
    high = min(max(window.height - max(down, 0.0), 0.0), window.height)
    wide = min(max(window.width - max(aside, 0.0), 0.0), window.width)
    lit = sunlit_fraction([altitude], [180.0 + turn], *SOUTH, window)
    assert lit[0] == pytest.approx(high * wide / (window.height * window.width), abs=1e-9)


@given(suns, sizes, st.floats(0.0, 90.0))
def test_shares_are_shares(sun: tuple[float, float], window: Projections, tilt: float) -> None:
    """Whatever stands out, no share is below none or above all."""
    shading = shade_window([sun[0]], [sun[1]], tilt, 180.0, window)
    for share in (shading.beam[0], shading.sky, shading.ground):
        assert 0.0 <= share <= 1.0 + 1e-12


@given(suns, sizes)
def test_what_stands_out_further_shades_more(sun: tuple[float, float], window: Projections) -> None:
    """A deeper overhang or deeper fins never let in more."""
    deeper = window._replace(
        overhang_depth=window.overhang_depth + 0.1, fin_depth=window.fin_depth + 0.1
    )
    one, other = (shade_window([sun[0]], [sun[1]], *SOUTH, each) for each in (window, deeper))
    assert other.beam[0] <= one.beam[0]
    assert other.sky < one.sky
    assert other.ground < one.ground


@given(suns, st.floats(0.0, 90.0))
def test_bare_glass_gets_all(sun: tuple[float, float], tilt: float) -> None:
    """Without overhang and fins all light arrives wherever the sun stands before the glass."""
    shading = shade_window([sun[0]], [sun[1]], tilt, 180.0, Projections(1.0, 1.5))
    assert shading.beam[0] in (0.0, 1.0)
    assert (shading.sky, shading.ground) == pytest.approx((1.0, 1.0))


def test_deep_overhang_hides_the_sky_and_leaves_the_ground() -> None:
    """Under an endless overhang only the ground's light is left; between endless fins none."""
    roofed = shade_window([45.0], [180.0], *SOUTH, Projections(1.0, 1.0, overhang_depth=100.0))
    assert roofed.beam[0] == 0.0
    assert roofed.sky == pytest.approx(0.0, abs=0.01)
    assert roofed.ground == pytest.approx(1.0)
    narrow = shade_window([45.0], [170.0], *SOUTH, Projections(1.0, 1.0, fin_depth=100.0))
    assert narrow.beam[0] == 0.0
    assert narrow.ground == pytest.approx(0.0, abs=0.01)


def test_left_and_right_are_alike() -> None:
    """The same sun from the other side shades as much."""
    window = Projections(1.2, 1.4, 0.6, 0.3, 0.4, 0.2)
    lit = sunlit_fraction([35.0, 35.0], [140.0, 220.0], *SOUTH, window)
    assert lit[0] == pytest.approx(lit[1])


@pytest.mark.parametrize("altitude", [-5.0, 0.0, 40.0])
def test_no_sun_from_behind_or_below(altitude: float) -> None:
    """The sun behind the wall or under the horizon reaches nothing."""
    azimuth = 0.0 if altitude > 0.0 else 180.0
    lit = sunlit_fraction([altitude], [azimuth], *SOUTH, Projections(1.0, 1.0, 0.5))
    assert lit[0] == 0.0


@pytest.mark.parametrize(
    ("tilt", "window"),
    [
        (90.0, Projections(1.0, 1.5, overhang_depth=0.6)),
        (90.0, Projections(1.0, 1.5, overhang_depth=0.6, overhang_gap=0.4)),
        (90.0, Projections(1.0, 1.5, fin_depth=0.5, fin_gap=0.1)),
        (60.0, Projections(1.0, 1.5, overhang_depth=0.6)),
    ],
)
def test_sky_light_is_that_of_rays(tilt: float, window: Projections) -> None:
    """The view factors give what rays in all directions give, to 0.002."""
    sky = shade_window([0.0], [0.0], tilt, 180.0, window).sky
    assert sky == pytest.approx(light_that_arrives(tilt, window), abs=0.002)


@pytest.mark.parametrize(
    "window",
    [Projections(1.0, 1.5, 0.6, 0.2, 0.4, 0.1), Projections(3.0, 2.0, 1.0, 0.5, 1.0, 0.0)],
)
def test_overhang_and_fins_together_err_towards_too_little(window: Projections) -> None:
    """The product for both kinds together is below what rays give, by no more than 0.04."""
    sky = shade_window([0.0], [0.0], 90.0, 180.0, window).sky
    assert 0.0 < light_that_arrives(90.0, window) - sky < 0.04


@pytest.mark.parametrize(
    ("tilt", "window", "message"),
    [
        (120.0, Projections(1.0, 1.0),
         r"^tilt of a shaded window is 120 °; the method covers 0 to 90 °$"),
        (90.0, Projections(0.0, 1.0),
         r"^window width is 0 m; the method covers 0.01 to 100 m$"),
        (90.0, Projections(1.0, 1.0, overhang_depth=-0.5),
         r"^window overhang depth is -0.5 m; the method covers 0 to 100 m$"),
    ],
)  # fmt: skip
def test_impossible_windows_are_refused(tilt: float, window: Projections, message: str) -> None:
    """Glass without size, glass that faces down and negative depths are refused by name."""
    with pytest.raises(OutOfRangeError, match=message):
        shade_window([45.0], [180.0], tilt, 180.0, window)
