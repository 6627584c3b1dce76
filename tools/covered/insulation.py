"""Insulation: whether the truth is in the range, for attics and for walls."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import spsolve
from scipy.special import ndtri

from covered.method import Method
from rooftree.readings.insulation import (
    DepthPoint,
    InsulationPatch,
    InsulationSurvey,
    Material,
    Position,
    reduce_insulation,
)

if TYPE_CHECKING:
    from numpy.random import Generator
    from numpy.typing import NDArray

    from covered.method import Ranged

R, INCH = 0.1761101837, 0.0254
RULER = 0.006
"""Standard uncertainty of the ruler, common to all depths [m]."""

AROUND = 0.107 + 0.081 + 0.099
"""Films and board of an attic floor [m²·K/W]."""

ATTIC = (
    "conductivity anywhere in the published range; depths log-normal, scatter 8 to 35 %; ruler;"
    " joists, voids and what a void resists; films by a tenth"
)


def blown_attic(random: Generator, points: int) -> tuple[float, Ranged] | None:
    """Draw an attic of blown insulation, read some depths, and reduce them."""
    material, low, high = (
        (Material.LOOSE_CELLULOSE, 0.0390, 0.0465),
        (Material.LOOSE_GLASS, 0.0481, 0.0656),
    )[int(random.integers(2))]
    k = random.uniform(low, high)
    scatter = random.uniform(0.08, 0.35)
    middle = random.uniform(0.10, 0.40)
    spread = math.sqrt(math.log1p(scatter**2))
    quantiles = middle * np.exp(spread * ndtri((np.arange(400) + 0.5) / 400))
    framing, voids = random.uniform(0.06, 0.12), random.uniform(0.0, 0.03)
    around = AROUND * (1.0 + 0.1 * random.standard_normal())
    void = 1.0 * R * math.exp(0.23 * random.standard_normal())
    resists = quantiles / k
    open_part = float(np.mean(1.0 / (around + resists)))
    joist = 0.089 / random.uniform(0.11, 0.13)
    above = np.maximum(quantiles - 0.089, 0.0) / k
    upper = 1.0 / ((1.0 - framing) / (around + resists) + framing / (around + joist + above))
    beside = resists - above
    lower = around + above + 1.0 / ((1.0 - framing) / beside + framing / joist)
    whole = float(np.mean(1.0 / (upper + random.uniform() * (lower - upper))))
    whole += (1.0 - framing) * voids * (1.0 / void - open_part)
    ruler = RULER * random.standard_normal()
    read = middle * np.exp(spread * random.standard_normal(points)) + ruler
    patch = InsulationPatch(
        "all",
        100.0,
        material,
        void_share=max(voids * (1.0 + 0.3 * random.standard_normal()), 0.0),
        framing_share=framing * (1.0 + 0.1 * random.standard_normal()),
    )
    depths = tuple(DepthPoint("", max(float(depth), 0.0)) for depth in read)
    survey = InsulationSurvey("the attic", Position.ATTIC_FLOOR, (patch,), depths)
    result = reduce_insulation(survey).total
    return None if result is None else (1.0 / whole, result)


def attic_of_few(random: Generator) -> tuple[float, Ranged] | None:
    """Try one or two depths."""
    return blown_attic(random, int(random.integers(1, 3)))


def attic_of_many(random: Generator) -> tuple[float, Ranged] | None:
    """Try three to ten depths."""
    return blown_attic(random, int(random.integers(3, 11)))


def framed_wall(random: Generator) -> tuple[float, Ranged] | None:
    """Draw a wall with batts, work it out in two dimensions, and reduce it."""
    share, wood = random.uniform(0.15, 0.30), random.uniform(0.11, 0.13)
    label = 13.0 * R * (1.0 + 0.05 * random.standard_normal())
    chart = 1.0 + 1.0 / math.sqrt(3.0) / 13.0 * random.standard_normal()
    scatter = random.uniform(0.08, 0.25)
    voids, board = random.uniform(0.0, 0.04), random.uniform(0.05, 0.16)
    cavity = 0.0889
    off = 1.0 + 0.1 * random.standard_normal()
    films, others = 0.150 * off, 2.0 * 0.0127 / board
    depths = _squeezed(cavity, scatter, ndtri((np.arange(100) + 0.5) / 100))
    parts = np.interp(depths / INCH, [0.0, 1.5, 2.5, 3.5], [0.0, 6.0, 10.0, 13.0]) / 13.0
    filled = 1.0 / float(np.mean(1.0 / (films + others + label * chart * parts)))
    solid = _bay(share, wood, cavity / (filled - films - others), board, films, cavity)
    void = films + others + 0.16
    whole = 1.0 / solid + (1.0 - share) * voids * (
        1.0 / (void * math.exp(0.23 * random.standard_normal())) - 1.0 / filled
    )
    patch = InsulationPatch(
        "wall",
        50.0,
        Material.GLASS_BATT,
        label_resistance=13.0 * R,
        label_depth=3.5 * INCH,
        void_share=max(voids * (1.0 + 0.3 * random.standard_normal()), 0.0),
        framing_share=share * (1.0 + 0.1 * random.standard_normal()),
        framing_depth=cavity,
    )
    ruler = RULER * random.standard_normal()
    read = _squeezed(cavity, scatter, random.standard_normal(int(random.integers(3, 7)))) + ruler
    points = tuple(DepthPoint("", max(float(depth), 0.0)) for depth in read)
    survey = InsulationSurvey(
        "the wall",
        Position.WALL,
        (patch,),
        points,
        other_resistance=others / off,
    )
    result = reduce_insulation(survey).total
    return None if result is None else (1.0 / whole, result)


def _squeezed(cavity: float, scatter: float, deviates: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return depths of batts that fill the cavity at best and are squeezed here and there."""
    return np.asarray(cavity * (1.0 - scatter * np.abs(deviates)))


def _bay(
    share: float, wood: float, fill: float, board: float, films: float, cavity: float
) -> float:
    """Return the resistance of half a framing bay by conduction in two dimensions [m²·K/W]."""
    across, deep = 20, 22
    framed = share * 0.203
    width = np.concatenate([np.full(6, framed / 6), np.full(14, (0.203 - framed) / 14)])
    depth = np.concatenate(
        [np.full(3, 0.0127 / 3), np.full(16, cavity / 16), np.full(3, 0.0127 / 3)]
    )
    k = np.full((deep, across), board)
    k[3:19, :] = fill
    k[3:19, :6] = wood
    cell = np.arange(deep * across).reshape(deep, across)
    half_down, half_side = depth[:, None] / (2.0 * k), width[None, :] / (2.0 * k)
    down = width[None, :] / (half_down[:-1] + half_down[1:])
    side = depth[:, None] / (half_side[:, :-1] + half_side[:, 1:])
    one = np.concatenate([cell[:-1].ravel(), cell[:, :-1].ravel()])
    other = np.concatenate([cell[1:].ravel(), cell[:, 1:].ravel()])
    link = np.concatenate([down.ravel(), side.ravel()])
    warm = width / (0.8 * films + half_down[0])
    cold = width / (0.2 * films + half_down[-1])
    diagonal = np.zeros(deep * across)
    np.add.at(diagonal, one, link)
    np.add.at(diagonal, other, link)
    diagonal[cell[0]] += warm
    diagonal[cell[-1]] += cold
    everything = np.arange(deep * across)
    matrix = coo_matrix(
        (
            np.concatenate([diagonal, -link, -link]),
            (np.concatenate([everything, one, other]), np.concatenate([everything, other, one])),
        )
    ).tocsr()
    right = np.zeros(deep * across)
    right[cell[0]] = warm
    temperature = spsolve(matrix, right)
    flow = float(np.sum(warm * (1.0 - temperature[cell[0]])))
    return float(np.sum(width)) / flow


METHODS = (
    Method("Blown attic, three to ten depths", attic_of_many, ATTIC),
    Method("Blown attic, one or two depths", attic_of_few, ATTIC),
    Method(
        "Wall with batts, against conduction in two dimensions",
        framed_wall,
        "framing 15 to 30 %, wood, label by 5 %, chart by R-1, squeezed by 8 to 25 %, voids up to"
        " 4 %, boards and films",
    ),
)
