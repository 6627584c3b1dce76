"""One hour of heat at the faces of all surfaces, in the order in which it happens.

Sources: conduction.py for layers, films.py for films. All functions are compiled; they
take the groups of arrays that arrays.py describes.

Every face balances: what comes from air, radiant point, sun and lamps goes into the
layers. The two faces of an element know each other only through the layers, so they are
solved for in place, and each element leaves in the balance of its spaces a few numbers
that depend on air and radiant temperature alone.

Loops over elements are short and many, because the compiler can then do eight elements
at once; loops over runs of elements of one space sum in registers.
"""

from __future__ import annotations

import math
from typing import Any

from numba import njit

from rooftree.engine.films import LEAST_CONVECTION, STEFAN_BOLTZMANN, STILL_AIR, cube_root

TETHER = 1e-6
"""Conductance that keeps a radiant point without faces at the temperature of its air [W/K]."""


@njit(inline="always", error_model="numpy")
def recall_past(elements: Any, state: Any, work: Any) -> None:
    """Sum what the modes of each element send out of its two faces [W/m²]."""
    mode, modes = elements.mode, state.modes
    feel_inside, feel_outside = elements.feel_inside, elements.feel_outside
    for e in range(elements.area.shape[0]):
        inner, outer = 0.0, 0.0
        for m in range(mode[e], mode[e + 1]):
            inner += feel_inside[m] * modes[m]
            outer += feel_outside[m] * modes[m]
        work.source_inside[e] = inner
        work.source_outside[e] = outer


@njit(inline="always", error_model="numpy")
def let_sun_in(elements: Any, weather: Any, hour: int, work: Any) -> float:
    """Pass the sun through windows to the faces of each space; return all of it [W].

    Adds to the sources of the faces.
    """
    beam, diffuse = work.sun_beam, work.sun_diffuse
    source, area, space = work.source_inside, elements.area, elements.space
    total = 0.0
    for g in range(weather.glass_heat.shape[1]):
        total += weather.glass_heat[hour, g]
    if total == 0.0:
        return 0.0
    beam[:] = 0.0
    diffuse[:] = 0.0
    total = 0.0
    for w in range(elements.glazing.shape[0]):
        e, g = elements.first_window + w, elements.glazing[w]
        p, through = space[e], elements.glass_area[w]
        beam[p] += through * weather.glass_beam[hour, g]
        diffuse[p] += through * weather.glass_diffuse[hour, g]
        taken = elements.glass_taken[w] * weather.glass_heat[hour, g]
        source[e] += taken
        total += area[e] * taken
    beam_inside, diffuse_inside = elements.beam_inside, elements.diffuse_inside
    for e in range(area.shape[0]):
        taken = beam_inside[e] * beam[space[e]] + diffuse_inside[e] * diffuse[space[e]]
        source[e] += taken
        total += area[e] * taken
    for e in range(elements.first_partition, area.shape[0]):
        p = elements.other[e]
        taken = elements.beam_outside[e] * beam[p] + elements.diffuse_outside[e] * diffuse[p]
        work.source_outside[e] += taken
        total += area[e] * taken
    return total


@njit(inline="always", error_model="numpy")
def face_outdoors(elements: Any, weather: Any, hour: int, state: Any, work: Any) -> None:
    """Balance the outside faces of elements to outdoors, but for what comes from inside.

    ``(film + outside) v = across u + source``: wind and still air, radiation to sky, air
    and ground at the temperature of the air, sun, and the past of the layers.
    """
    air, sky = weather.temperature[hour], weather.sky[hour]
    wind, sun = weather.wind_film[hour], weather.sun[hour]
    plane, face = elements.plane, state.face_outside
    film, to_sky, outer = work.film_outside, work.to_sky, work.outer
    blown, gain = work.near, work.gain_outside
    last = elements.first_ground
    roughness, absorptance = elements.roughness, elements.absorptance
    for e in range(last):
        blown[e] = wind[plane[e]]
        gain[e] = absorptance[e] * sun[plane[e]]
    for e in range(last):
        still = STILL_AIR * cube_root(abs(face[e] - air))
        film[e] = still + roughness[e] * (math.sqrt(still * still + blown[e] * blown[e]) - still)
    sky_factor, air_factor = elements.sky_factor, elements.air_factor
    for e in range(last):
        t = face[e]
        to_sky[e] = sky_factor[e] * (t * t + sky * sky) * (t + sky)
        film[e] += air_factor[e] * (t * t + air * air) * (t + air)
    outside = elements.outside
    for e in range(last):
        outer[e] = 1.0 / (film[e] + to_sky[e] + outside[e])
    source = work.source_outside
    for e in range(last):
        gain[e] += film[e] * air + to_sky[e] * sky
        source[e] += gain[e]


@njit(inline="always", error_model="numpy")
def film_rooms(elements: Any, state: Any, work: Any) -> None:
    """Find convection and radiation at the faces in all spaces.

    Convection follows the cube root of the difference between face and air an hour ago;
    radiation the cube of the temperature of the radiant point.
    """
    air, radiant, face, near = state.air, state.radiant, state.face_inside, work.near
    space, convective, radiative = elements.space, work.film_inside, work.beam_inside
    above, below, share = elements.warm_inside, elements.cold_inside, elements.radiant_inside
    for e in range(space.shape[0]):
        t = radiant[space[e]]
        radiative[e] = 4.0 * STEFAN_BOLTZMANN * share[e] * t * t * t
        near[e] = air[space[e]]
    for e in range(space.shape[0]):
        excess, warm, cold = face[e] - near[e], above[e], below[e]
        factor = warm if excess > 0.0 else cold
        convective[e] = factor * cube_root(abs(excess)) + LEAST_CONVECTION
    face, convective, radiative = state.face_outside, work.film_outside, work.beam_outside
    above, below, share = elements.warm_outside, elements.cold_outside, elements.radiant_outside
    for e in range(elements.first_partition, space.shape[0]):
        t = radiant[elements.other[e]]
        radiative[e] = 4.0 * STEFAN_BOLTZMANN * share[e] * t * t * t
        near[e] = air[elements.other[e]]
    for e in range(elements.first_partition, space.shape[0]):
        excess, warm, cold = face[e] - near[e], above[e], below[e]
        factor = warm if excess > 0.0 else cold
        convective[e] = factor * cube_root(abs(excess)) + LEAST_CONVECTION


@njit(inline="always", error_model="numpy")
def gather_rooms(elements: Any, weather: Any, hour: int, air: Any, state: Any, work: Any) -> None:
    """Fill the balance of radiant points and air: gains, and elements of one space only."""
    n = state.air.shape[0]
    matrix, right, day_hour = work.matrix, work.right, hour % 24
    matrix[:] = 0.0
    for p in range(n):
        matrix[p, p] = TETHER
        matrix[n + p, n + p] = TETHER
        matrix[p, n + p] = -TETHER
        right[p] = air.radiant[day_hour, p]
        right[n + p] = air.convective[day_hour, p] + state.drying_heat[p]
    convective, radiative = work.film_inside, work.beam_inside
    source, inner, outer = work.source_inside, work.inner, work.outer
    across, inside = elements.across, elements.inside
    for e in range(elements.first_ground):
        source[e] += across[e] * outer[e] * work.source_outside[e]
    for e in range(elements.first_ground):
        passing = inside[e] - across[e] * across[e] * outer[e]
        inner[e] = 1.0 / (convective[e] + radiative[e] + passing)
    for e in range(elements.first_ground, elements.first_partition):
        source[e] += across[e] * weather.ground[hour]
        inner[e] = 1.0 / (convective[e] + radiative[e] + inside[e])
    e, area, space = 0, elements.area, elements.space
    while e < elements.first_partition:
        p = space[e]
        of_radiant, of_both, of_air, to_radiant, to_air = 0.0, 0.0, 0.0, 0.0, 0.0
        while e < elements.first_partition and space[e] == p:
            c, r, i = convective[e], radiative[e], inner[e]
            by_air, by_radiant = area[e] * c, area[e] * r
            of_radiant += by_radiant * (1.0 - i * r)
            of_both += by_air * i * r
            of_air += by_air * (1.0 - i * c)
            to_radiant += by_radiant * i * source[e]
            to_air += by_air * i * source[e]
            e += 1
        matrix[p, p] += of_radiant
        matrix[p, n + p] -= of_both
        matrix[n + p, n + p] += of_air
        right[p] += to_radiant
        right[n + p] += to_air


@njit(inline="always", error_model="numpy")
def gather_partitions(elements: Any, state: Any, work: Any) -> None:
    """Do the same for elements between two spaces, whose two faces are solved together."""
    n = state.air.shape[0]
    matrix, right = work.matrix, work.right
    for e in range(elements.first_partition, elements.area.shape[0]):
        p, s, across, area = (
            elements.space[e],
            elements.other[e],
            elements.across[e],
            elements.area[e],
        )
        c1, c2 = work.film_inside[e], work.film_outside[e]
        r1, r2 = work.beam_inside[e], work.beam_outside[e]
        a11 = c1 + r1 + elements.inside[e]
        a22 = c2 + r2 + elements.outside[e]
        scale = 1.0 / (a11 * a22 - across * across)
        i11, i12, i22 = a22 * scale, across * scale, a11 * scale
        work.inner[e], work.outer[e], work.joint[e] = i11, i22, i12
        q1, q2 = work.source_inside[e], work.source_outside[e]
        u, v = area * (i11 * q1 + i12 * q2), area * (i12 * q1 + i22 * q2)
        # rows and columns: radiant p, air p, radiant s, air s; the upper triangle is kept
        matrix[p, p] += area * r1 * (1.0 - i11 * r1)
        matrix[p, n + p] -= area * r1 * i11 * c1
        matrix[n + p, n + p] += area * c1 * (1.0 - i11 * c1)
        matrix[s, s] += area * r2 * (1.0 - i22 * r2)
        matrix[s, n + s] -= area * r2 * i22 * c2
        matrix[n + s, n + s] += area * c2 * (1.0 - i22 * c2)
        low, high = min(p, s), max(p, s)
        twice = 2.0 if p == s else 1.0  # both off-diagonal places are then the diagonal
        matrix[low, high] -= twice * area * r1 * i12 * r2
        matrix[n + low, n + high] -= twice * area * c1 * i12 * c2
        matrix[p, n + s] -= area * r1 * i12 * c2
        matrix[s, n + p] -= area * r2 * i12 * c1
        right[p] += r1 * u
        right[n + p] += c1 * u
        right[s] += r2 * v
        right[n + s] += c2 * v


@njit(inline="always", error_model="numpy")
def eliminate_radiant(work: Any, n: int) -> None:
    """Eliminate the radiant points, and fill in the lower triangle of the air's matrix."""
    matrix, right = work.matrix, work.right
    for k in range(n):
        pivot = 1.0 / matrix[k, k]
        for i in range(k + 1, 2 * n):
            factor = matrix[k, i] * pivot
            if factor != 0.0:
                for j in range(i, 2 * n):
                    matrix[i, j] -= factor * matrix[k, j]
                right[i] -= factor * right[k]
    for i in range(n, 2 * n):
        for j in range(n, i):
            matrix[i, j] = matrix[j, i]


@njit(inline="always", error_model="numpy")
def restore_radiant(work: Any, state: Any, n: int) -> None:
    """Find the radiant points back from the temperatures of the air."""
    matrix, right = work.matrix, work.right
    for k in range(n - 1, -1, -1):
        total = right[k]
        for j in range(k + 1, n):
            total -= matrix[k, j] * state.radiant[j]
        for j in range(n):
            total -= matrix[k, n + j] * state.air[j]
        state.radiant[k] = total / matrix[k, k]


@njit(inline="always", error_model="numpy")
def restore_faces(elements: Any, weather: Any, hour: int, state: Any, work: Any) -> None:
    """Find all faces back from the temperatures of the spaces, and step the modes."""
    air, radiant, face, other_face = state.air, state.radiant, state.face_inside, state.face_outside
    space, inner, outer = elements.space, work.inner, work.outer
    convective, radiative, source = work.film_inside, work.beam_inside, work.source_inside
    last, m = elements.first_partition, space.shape[0]
    for e in range(m):
        p = space[e]
        source[e] += convective[e] * air[p] + radiative[e] * radiant[p]
    for e in range(last):
        face[e] = inner[e] * source[e]
    across, source_outside = elements.across, work.source_outside
    for e in range(elements.first_ground):
        other_face[e] = outer[e] * (source_outside[e] + across[e] * face[e])
    for e in range(elements.first_ground, last):
        other_face[e] = weather.ground[hour]
    for e in range(last, m):
        s = elements.other[e]
        there = work.film_outside[e] * air[s] + work.beam_outside[e] * radiant[s]
        there += source_outside[e]
        face[e] = inner[e] * source[e] + work.joint[e] * there
        other_face[e] = work.joint[e] * source[e] + outer[e] * there
    modes, fade, owner = state.modes, elements.fade, elements.owner
    push_inside, push_outside = elements.push_inside, elements.push_outside
    for i in range(modes.shape[0]):
        e = owner[i]
        modes[i] = fade[i] * modes[i] + push_inside[i] * face[e] + push_outside[i] * other_face[e]


@njit(inline="always", error_model="numpy")
def heat_through_envelope(elements: Any, state: Any, work: Any) -> tuple[float, float]:
    """Return net and gross heat that enters from beyond the outer films and the ground [W].

    To outdoors: sun and film at the outside face. To the ground: conduction at the ground.
    """
    net, gross = 0.0, 0.0
    area, face, film, to_sky = elements.area, state.face_outside, work.film_outside, work.to_sky
    gain = work.gain_outside
    for e in range(elements.first_ground):
        heat = area[e] * (gain[e] - (film[e] + to_sky[e]) * face[e])
        net += heat
        gross += abs(heat)
    for e in range(elements.first_ground, elements.first_partition):
        heat = elements.outside[e] * face[e] - elements.across[e] * state.face_inside[e]
        heat = area[e] * (heat - work.source_outside[e])
        net += heat
        gross += abs(heat)
    return net, gross


@njit(inline="always", error_model="numpy")
def stored_heat(elements: Any, air: Any, state: Any) -> float:
    """Return the heat in all layers and in the air [J], from an arbitrary zero."""
    total = 0.0
    for e in range(elements.area.shape[0]):
        for m in range(elements.mode[e], elements.mode[e + 1]):
            total += elements.area[e] * elements.store[m] * state.modes[m]
    for p in range(state.air.shape[0]):
        total += air.capacity[p] * state.air[p]
    return total
