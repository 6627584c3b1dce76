"""One hour of heat at the faces of all surfaces, in the order in which it happens.

Sources: conduction.py for layers, films.py for films. All functions are compiled; they
take the groups of arrays that arrays.py describes.

Every face balances: what comes from air, radiant point, sun and lamps goes into the
layers. The two faces of an element know each other only through the layers, so they are
solved for in place, and each element leaves in the balance of its spaces four numbers that
depend on air and radiant temperature alone.
"""

from __future__ import annotations

from typing import Any

from numba import njit

from rooftree.engine.films import (
    LEAST_CONVECTION,
    STEFAN_BOLTZMANN,
    cube_root,
    outdoor_convection,
    radiation_coefficient,
)

TETHER = 1e-6
"""Conductance that keeps a radiant point without faces at the temperature of its air [W/K]."""

OUTER, JOINT = 1, 2
"""Columns of `solve`: of the outside face, and across both faces."""


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
        work.carry[e, 0] = inner
        work.carry[e, 1] = outer


@njit(inline="always", error_model="numpy")
def let_sun_in(elements: Any, weather: Any, hour: int, work: Any) -> None:
    """Pass the sun through the windows and spread it over the faces of each space."""
    sun, beam, diffuse = work.sun, work.sun_beam, work.sun_diffuse
    sun[:] = 0.0
    if weather.glass_heat.shape[1] == 0:
        return
    beam[:] = 0.0
    diffuse[:] = 0.0
    total = 0.0
    for w in range(elements.glazing.shape[0]):
        e, g = elements.first_window + w, elements.glazing[w]
        p = elements.space[e]
        through = elements.glass_area[w]
        beam[p] += through * weather.glass_beam[hour, g]
        diffuse[p] += through * weather.glass_diffuse[hour, g]
        sun[e, 0] = elements.glass_taken[w] * weather.glass_heat[hour, g]
        total += weather.glass_heat[hour, g]
    if total == 0.0:
        return
    for e in range(elements.area.shape[0]):
        p = elements.space[e]
        sun[e, 0] += elements.beam_share[e, 0] * beam[p] + elements.diffuse_share[e, 0] * diffuse[p]
    for e in range(elements.first_partition, elements.area.shape[0]):
        p = elements.other[e]
        sun[e, 1] = elements.beam_share[e, 1] * beam[p] + elements.diffuse_share[e, 1] * diffuse[p]


@njit(inline="always", error_model="numpy")
def face_outdoors(elements: Any, weather: Any, hour: int, state: Any, work: Any) -> None:
    """Balance the outside faces of elements to outdoors, but for what comes from inside.

    ``(film + outside) v = across u + source``: wind and still air, radiation to sky, air
    and ground, sun, and the past of the layers.
    """
    air, sky = weather.temperature[hour], weather.sky[hour]
    for e in range(elements.first_ground):
        plane, face = elements.plane[e], state.face[e, 1]
        wind = weather.wind_film[hour, plane]
        to_sky = elements.sky_emittance[e] * radiation_coefficient(face, sky)
        to_air = elements.air_emittance[e] * radiation_coefficient(face, air)
        to_air += outdoor_convection(wind, face - air, elements.roughness[e])
        work.solve[e, OUTER] = 1.0 / (to_sky + to_air + elements.outside[e])
        work.source[e, 1] = (
            to_air * air
            + to_sky * sky
            + elements.absorptance[e] * weather.sun[hour, plane]
            + work.carry[e, 1]
        )


@njit(inline="always", error_model="numpy")
def film_at(elements: Any, e: int, side: int, excess: Any) -> Any:
    """Return convection at a face from its excess over the air [W/(m²·K)].

    Heat flows up if the face that looks up is warmer than the air, or the face that
    looks down is colder.
    """
    looks_down = elements.facing[e] if side == 0 else -elements.facing[e]
    is_up = (excess < 0.0) == (looks_down > 0.0)
    factor = elements.film_up[e, side] if is_up else elements.film_down[e, side]
    return factor * cube_root(abs(excess)) + LEAST_CONVECTION


@njit(inline="always", error_model="numpy")
def gather_rooms(elements: Any, weather: Any, hour: int, air: Any, state: Any, work: Any) -> None:
    """Fill the balance of radiant points and air with what each element does to them."""
    n = state.air.shape[0]
    matrix, right = work.matrix, work.right
    matrix[:] = 0.0
    day_hour = hour % 24
    for p in range(n):
        matrix[p, p] = TETHER
        matrix[n + p, n + p] = TETHER
        matrix[p, n + p] = -TETHER
        right[p] = air.radiant[day_hour, p]
        right[n + p] = air.convective[day_hour, p] + state.drying_heat[p]
    for e in range(elements.first_partition):
        p = elements.space[e]
        across = elements.across[e]
        radiant = state.radiant[p]
        convective = film_at(elements, e, 0, state.face[e, 0] - state.air[p])
        radiative = 4.0 * STEFAN_BOLTZMANN * radiant**3 * elements.radiant[e, 0]
        work.film[e, 0], work.beam[e, 0] = convective, radiative
        if e < elements.first_ground:
            outer = work.solve[e, OUTER]
            passing = elements.inside[e] - across * across * outer
            source = across * outer * work.source[e, 1]
        else:
            passing = elements.inside[e]
            source = across * weather.ground[hour]
        source += work.carry[e, 0] + work.sun[e, 0]
        work.source[e, 0] = source
        inner = 1.0 / (convective + radiative + passing)
        work.solve[e, 0] = inner
        area = elements.area[e]
        c, r = area * convective * inner, area * radiative * inner
        matrix[p, p] += area * radiative - r * radiative
        matrix[p, n + p] -= c * radiative
        matrix[n + p, n + p] += area * convective - c * convective
        right[p] += r * source
        right[n + p] += c * source


@njit(inline="always", error_model="numpy")
def gather_partitions(elements: Any, state: Any, work: Any) -> None:
    """Do the same for elements between two spaces, whose two faces are solved together."""
    n = state.air.shape[0]
    matrix, right = work.matrix, work.right
    for e in range(elements.first_partition, elements.area.shape[0]):
        p, s = elements.space[e], elements.other[e]
        c1 = film_at(elements, e, 0, state.face[e, 0] - state.air[p])
        c2 = film_at(elements, e, 1, state.face[e, 1] - state.air[s])
        r1 = 4.0 * STEFAN_BOLTZMANN * state.radiant[p] ** 3 * elements.radiant[e, 0]
        r2 = 4.0 * STEFAN_BOLTZMANN * state.radiant[s] ** 3 * elements.radiant[e, 1]
        work.film[e, 0], work.film[e, 1] = c1, c2
        work.beam[e, 0], work.beam[e, 1] = r1, r2
        a11 = c1 + r1 + elements.inside[e]
        a22 = c2 + r2 + elements.outside[e]
        across = elements.across[e]
        scale = 1.0 / (a11 * a22 - across * across)
        i11, i12, i22 = a22 * scale, across * scale, a11 * scale
        q1 = work.carry[e, 0] + work.sun[e, 0]
        q2 = work.carry[e, 1] + work.sun[e, 1]
        work.source[e, 0], work.source[e, 1] = q1, q2
        work.solve[e, 0], work.solve[e, OUTER], work.solve[e, JOINT] = i11, i22, i12
        area = elements.area[e]
        u, v = i11 * q1 + i12 * q2, i12 * q1 + i22 * q2
        # rows and columns: radiant p, air p, radiant s, air s; the upper triangle is kept
        matrix[p, p] += area * r1 * (1.0 - i11 * r1)
        matrix[p, n + p] -= area * r1 * i11 * c1
        matrix[n + p, n + p] += area * c1 * (1.0 - i11 * c1)
        matrix[s, s] += area * r2 * (1.0 - i22 * r2)
        matrix[s, n + s] -= area * r2 * i22 * c2
        matrix[n + s, n + s] += area * c2 * (1.0 - i22 * c2)
        twice = 2.0 if p == s else 1.0  # both off-diagonal places are then the diagonal
        matrix[min(p, s), max(p, s)] -= twice * area * r1 * i12 * r2
        matrix[n + min(p, s), n + max(p, s)] -= twice * area * c1 * i12 * c2
        matrix[p, n + s] -= area * r1 * i12 * c2
        matrix[s, n + p] -= area * r2 * i12 * c1
        right[p] += area * r1 * u
        right[n + p] += area * c1 * u
        right[s] += area * r2 * v
        right[n + s] += area * c2 * v


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
def restore_faces(
    elements: Any, weather: Any, hour: int, state: Any, work: Any
) -> tuple[float, float]:
    """Find all faces back, step the modes, and return net and gross heat from outside [W].

    Outside is what lies beyond the outer films, and the sun that the inner faces take up.
    """
    net, gross = 0.0, 0.0
    for e in range(elements.area.shape[0]):
        p, across, area = elements.space[e], elements.across[e], elements.area[e]
        rooms = work.film[e, 0] * state.air[p] + work.beam[e, 0] * state.radiant[p]
        if e < elements.first_ground:
            u = work.solve[e, 0] * (rooms + work.source[e, 0])
            v = work.solve[e, OUTER] * (work.source[e, 1] + across * u)
            film = 1.0 / work.solve[e, OUTER] - elements.outside[e]
            heat = area * (work.source[e, 1] - work.carry[e, 1] - film * v + work.sun[e, 0])
        elif e < elements.first_partition:
            u = work.solve[e, 0] * (rooms + work.source[e, 0])
            v = weather.ground[hour]
            heat = area * (elements.outside[e] * v - across * u - work.carry[e, 1] + work.sun[e, 0])
        else:
            s = elements.other[e]
            f1 = rooms + work.source[e, 0]
            f2 = (
                work.film[e, 1] * state.air[s]
                + work.beam[e, 1] * state.radiant[s]
                + work.source[e, 1]
            )
            u = work.solve[e, 0] * f1 + work.solve[e, JOINT] * f2
            v = work.solve[e, JOINT] * f1 + work.solve[e, OUTER] * f2
            heat = area * (work.sun[e, 0] + work.sun[e, 1])
        net += heat
        gross += abs(heat)
        state.face[e, 0], state.face[e, 1] = u, v
        for m in range(elements.mode[e], elements.mode[e + 1]):
            state.modes[m] = (
                elements.fade[m] * state.modes[m]
                + elements.push_inside[m] * u
                + elements.push_outside[m] * v
            )
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
