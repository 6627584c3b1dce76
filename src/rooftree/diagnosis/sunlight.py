"""Through which window the sun came in, and how much of it went out again."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.climate import GROUND_REFLECTANCE
from rooftree.engine.glazing import glass_curve, light_lost, normal_transmittance
from rooftree.engine.sunlight import sun_shares
from rooftree.house import Surface
from rooftree.weather import plane_irradiance

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.diagnosis.simulated_year import SimulatedYear
    from rooftree.house import Window

    Floats = NDArray[np.float64]

FLOORS, CEILINGS = 135.0, 45.0
"""Tilt from which a surface is a floor of its space, and below which it is the floor of the
space above, as the engine has it [°]."""


def sun_by_window(year: SimulatedYear) -> tuple[tuple[Window, ...], Floats]:
    """Return the sun that stays in the house, by the window that let it in.

    Parameters
    ----------
    year : SimulatedYear
        The year.

    Returns
    -------
    tuple of (tuple of Window, ndarray of shape (hours, windows))
        The windows, and the heat of the sun that each gives its space [W].

    Notes
    -----
    The engine tells how much sun comes into each space. It is divided by what each window
    would let in unshaded but for its shading factor, so that between the windows of one
    space the shade of overhangs is spread evenly; the sum is right. What leaves again
    through the glass is taken off by the shares with which the engine spreads beam and
    diffuse light (:func:`rooftree.engine.sunlight.sun_shares`).
    """
    windows = year.house.windows
    if not windows:
        return windows, np.zeros((year.hours, 0))
    direct, diffuse = _let_in(year)
    space = np.array([year.result.space_ids.index(window.space) for window in windows])
    kept_beam, kept_diffuse = _kept(year)
    kept = direct * kept_beam[space] + diffuse * kept_diffuse[space]
    through = direct + diffuse
    belongs = (space[:, None] == np.arange(len(year.house.spaces))).astype(float)
    total = (through @ belongs)[:, space]
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where(total > 0.0, kept / total, 0.0)
    return windows, np.asarray(share * year.hourly.sun[:, space])


def _let_in(year: SimulatedYear) -> tuple[Floats, Floats]:
    """Return direct and diffuse light let in by each window [W], overhangs left out."""
    suns, direct, diffuse = {}, [], []
    for window in year.house.windows:
        key = (round(window.tilt, 1), round(window.azimuth % 360.0, 1))
        if key not in suns:
            suns[key] = plane_irradiance(year.weather, *key, GROUND_REFLECTANCE)
        sun, curve = suns[key], glass_curve(window.panes)
        gain, stated = window.solar_heat_gain_coefficient, window.solar_transmittance
        normal = normal_transmittance(window.u_value, gain, stated)
        size = window.area * window.shading_factor * normal
        direct.append(size * (sun.beam + sun.glow) * curve.beam_transmitted(sun.cosine))
        diffuse.append(size * (sun.sky - sun.glow + sun.ground) * curve.diffuse_transmitted)
    return np.stack(direct, axis=1), np.stack(diffuse, axis=1)


def _kept(year: SimulatedYear) -> tuple[Floats, Floats]:
    """Return the share of beam and of diffuse light that stays in each space [0-1]."""
    n = len(year.house.spaces)
    owner = np.concatenate([year.inside, year.beyond])
    area = np.tile(year.area, 2)
    taking, floor, lost = [], [], []
    for element in year.elements:
        if isinstance(element, Surface):
            taking.append((element.inside_absorptance, element.solar_absorptance))
            floor.append((element.tilt > FLOORS, element.tilt < CEILINGS))
        else:
            gain, stated = element.solar_heat_gain_coefficient, element.solar_transmittance
            taking.append((light_lost(element.u_value, gain, element.panes, stated), 0.0))
            floor.append((element.tilt > FLOORS, element.tilt < CEILINGS))
        lost.append((not isinstance(element, Surface),) * 2)
    absorptance, is_floor, is_glass = (np.array(each).T.ravel() for each in (taking, floor, lost))
    beam, diffuse = np.ones(n), np.ones(n)
    for space in range(n):
        faces = owner == space
        if faces.any():
            shares = sun_shares(area[faces], absorptance[faces], is_floor[faces])
            beam[space], diffuse[space] = (
                1.0 - float(share[is_glass[faces]].sum()) for share in shares
            )
    return beam, diffuse
