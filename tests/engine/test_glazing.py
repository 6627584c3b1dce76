"""Check the optics of windows against published glass and their own laws."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.engine.glazing import (
    glass_curve,
    glass_resistance,
    inward_absorption,
    light_lost,
    normal_transmittance,
)

HERS = "NREL/TP-472-7332 (1995) and ANSI/ASHRAE Standard 140-2011, section 7"


@pytest.mark.published(source=HERS, where="glass of case L100A", read="quoted in an NREL report")
@pytest.mark.parametrize(
    ("degrees", "transmittance"), [(0, 0.837), (40, 0.821), (60, 0.752), (70, 0.639), (80, 0.390)]
)
def test_single_glass_falls_off_with_the_angle(degrees: int, transmittance: float) -> None:
    """One clear pane loses the published share of its transmittance at each angle.

    Compared relative to the sun straight on, as used; three printed digits make 0.0015.
    """
    share = glass_curve(1).beam_transmitted(math.cos(math.radians(degrees)))
    assert float(share) == pytest.approx(transmittance / 0.837, abs=0.0015)


@pytest.mark.published(
    source="ANSI/ASHRAE Standard 140-2020",
    where="window of case 600",
    read="quoted in a public implementation",
)
def test_one_pane_straight_on() -> None:
    """A 3 mm pane passes 0.834 and reflects 0.075 of the sun, to the last digit."""
    curve = glass_curve(1)
    assert curve.normal_transmittance == pytest.approx(0.834, abs=0.0005)
    reflected = 1.0 - curve.normal_transmittance - curve.normal_absorptance
    assert reflected == pytest.approx(0.075, abs=0.0005)


@pytest.mark.parametrize("panes", [1, 2, 3])
def test_light_is_passed_absorbed_or_reflected(panes: int) -> None:
    """At no angle do transmittance and absorptance exceed what falls on the glass."""
    curve = glass_curve(panes)
    passed = curve.normal_transmittance * curve.transmitted
    taken = curve.normal_absorptance * curve.absorbed
    assert np.all(passed + taken <= 1.0)
    assert np.all(np.diff(passed) >= 0.0)


@pytest.mark.parametrize(("u_value", "gain"), [(6.0, 0.75), (2.7, 0.76), (1.8, 0.30), (4.0, 0.6)])
def test_rated_gain_is_given_back(u_value: float, gain: float) -> None:
    """What passes and what flows inward under the standard films is the rated gain."""
    inward = inward_absorption(u_value, gain) * (1.0 - u_value / 8.29)
    assert normal_transmittance(u_value, gain) + inward == pytest.approx(gain, rel=1e-9)


def test_rated_u_value_is_given_back() -> None:
    """Glass and standard films in series have the rated U-value."""
    u_value = 1.0 / (glass_resistance(2.7) + 1.0 / 8.29 + 1.0 / 29.3)
    assert u_value == pytest.approx(2.7)


def test_more_panes_keep_more_light_inside() -> None:
    """Light that falls on a window from inside is lost to a smaller part through more panes."""
    assert light_lost(5.9, 0.86, 1) > light_lost(2.7, 0.76, 2) > light_lost(1.8, 0.68, 3) > 0.0


@pytest.mark.published(
    source="ANSI/ASHRAE Standard 140-2020, case 670",
    where="one clear pane of 3.048 mm",
    read="quoted in a public implementation of the cases",
)
def test_one_clear_pane_from_its_ratings() -> None:
    """Ratings of one clear pane give back its transmittance, to its last digit."""
    u_value = 1.0 / (0.003048 + 1.0 / 8.29 + 1.0 / 29.3)
    gain = 0.834 + (1.0 - 0.834 - 0.075) * u_value / 29.3
    assert normal_transmittance(u_value, gain) == pytest.approx(0.834, abs=0.0005)


@pytest.mark.published(source=HERS, where="window of case L100A", read="quoted; gain recalled")
def test_framed_single_glass_from_its_ratings() -> None:
    """A framed window whose glass passes 0.837 over 0.731 of its area is met to 0.015."""
    passes = normal_transmittance(1.039 * 5.678263, 0.670)
    assert passes == pytest.approx(0.837 * 10.96 / 15.0, abs=0.015)


@given(st.floats(0.05, 0.9), st.floats(0.8, 7.0))
def test_windows_pass_less_than_they_gain(gain: float, u_value: float) -> None:
    """Whatever the ratings, a window passes some sun, and no more than its rated gain."""
    assert 0.0 <= normal_transmittance(u_value, gain) <= gain


def test_stated_transmittance_is_taken() -> None:
    """What a data sheet says of the transmittance replaces the fit; the rated gain stays."""
    u_value, gain, stated = 1.3, 0.43, 0.39
    assert normal_transmittance(u_value, gain, stated) == stated
    inward = 1.0 - u_value / 8.29
    for transmittance in (0.0, stated):
        passed = normal_transmittance(u_value, gain, transmittance)
        absorbed = inward_absorption(u_value, gain, transmittance)
        assert passed + inward * absorbed == pytest.approx(gain)
    assert light_lost(u_value, gain, 2, stated) > light_lost(u_value, gain, 2)
