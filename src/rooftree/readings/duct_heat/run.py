"""One run with its size, its layers and its films."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.air import moist_air_density
from rooftree.physics.air_films import (
    HEAT_OF_AIR,
    forced_film,
    natural_film_round,
    radiation_film,
)
from rooftree.readings.duct_heat.conduction import (
    FOAM_CONDUCTIVITY,
    LOOSE_CONDUCTIVITY,
    WRAP_CONDUCTIVITY,
    arriving_temperature,
    buried_layer,
    compressed_resistance,
    outer_temperature,
    round_layer,
)
from rooftree.readings.duct_heat.readings import Cover, DuctKind, Jacket

if TYPE_CHECKING:
    from rooftree.readings.duct_heat.readings import DuctRunReading

EMITTANCE = {Jacket.PLASTIC: 0.90, Jacket.FOIL: 0.05, Jacket.METAL: 0.25}
"""Of the outer face, ASHRAE Handbook - Fundamentals 2021, ch. 26 Table 2: non-metallic faces,
aluminium foil bright, galvanized steel bright [0-1]."""

ROUGHNESS = {DuctKind.FLEXIBLE: 0.9e-3, DuctKind.SHEET_METAL: 0.09e-3, DuctKind.BOARD: 1.5e-3}
"""Of the inner face, ASHRAE Handbook - Fundamentals 2021, ch. 21 Table 1: flexible stretched,
smooth steel, liner (its lower end) [m]."""

SMALLEST, LARGEST = 0.03, 2.0
"""Sizes that a duct of a house can have [m]; ours."""

COLDEST, HOTTEST = 233.15, 393.15
"""Temperatures that air in or round a duct can have [K]; ours."""


@dataclass(frozen=True, slots=True)
class Size:
    """Inside of a duct.

    Attributes
    ----------
    perimeter : float
        [m].
    section : float
        [m²].
    hydraulic : float
        Hydraulic diameter [m].
    """

    perimeter: float
    section: float
    hydraulic: float


@dataclass(frozen=True, slots=True)
class Run:
    """What stands between the air in a run and that round it.

    Attributes
    ----------
    size : Size
        Inside of the duct.
    length : float
        [m].
    flow : float
        Air flow [m³/s].
    capacity_rate : float
        Mass flow times specific heat [W/K].
    inner : float
        Film inside, of one meter of duct [m·K/W].
    wrap : float
        All layers of the duct itself, of one meter [m·K/W].
    outer : float
        Film, or loose insulation, round one meter [m·K/W].
    bare_outer : float
        Film at the bare parts, of one meter [m·K/W].
    bare_share : float
        Share of the surface without wrap [0-1].
    outer_perimeter : float
        Round the jacket [m].
    """

    size: Size
    length: float
    flow: float
    capacity_rate: float
    inner: float
    wrap: float
    outer: float
    bare_outer: float
    bare_share: float
    outer_perimeter: float

    def conductance(self, insulation: float = 1.0, film: float = 1.0) -> float:
        """Return the conductance of one meter of the run.

        Parameters
        ----------
        insulation : float
            Factor on the resistance of the wrap [-].
        film : float
            Factor on the resistance of both films [-].

        Returns
        -------
        float
            [W/(m·K)].
        """
        wrapped = film * (self.inner + self.outer) + insulation * self.wrap
        bare = film * (self.inner + self.bare_outer)
        return (1.0 - self.bare_share) / wrapped + self.bare_share / bare

    def jacket(
        self, air: float, surroundings: float, insulation: float = 1.0, film: float = 1.0
    ) -> float:
        """Return the temperature of the coldest part of the outer face.

        Parameters
        ----------
        air, surroundings : float
            Inside and round the duct there [K].
        insulation, film : float
            Factors on the resistance of the wrap and of the films [-].

        Returns
        -------
        float
            Of the bare part where there is one [K].
        """
        if self.bare_share > 0.0:
            return outer_temperature(air, surroundings, film * self.inner, film * self.bare_outer)
        within = film * self.inner + insulation * self.wrap
        return outer_temperature(air, surroundings, within, film * self.outer)


def size_of(reading: DuctRunReading) -> Size | None:
    """Return the inside of a duct.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.

    Returns
    -------
    Size or None
        None where it was not read, or is no size of a duct.
    """
    if reading.diameter is not None:
        if not SMALLEST <= reading.diameter <= LARGEST:
            return None
        area = 0.25 * math.pi * reading.diameter**2
        return Size(math.pi * reading.diameter, area, reading.diameter)
    if reading.width is None or reading.height is None:
        return None
    if not all(SMALLEST <= side <= LARGEST for side in (reading.width, reading.height)):
        return None
    around, area = 2.0 * (reading.width + reading.height), reading.width * reading.height
    return Size(around, area, 4.0 * area / around)


def flow_of(reading: DuctRunReading, size: Size) -> float | None:
    """Return the air flow of a run.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.
    size : Size
        Inside of the duct.

    Returns
    -------
    float or None
        [m³/s]; None where neither flow nor air speed was read, or none blows.
    """
    flow = reading.flow
    if flow is None and reading.air_speed is not None:
        flow = reading.air_speed * size.section
    return flow if flow is not None and 0.0 < flow <= 20.0 * size.section else None


def layers(
    reading: DuctRunReading, size: Size, resistance: float | None = None
) -> tuple[float, float]:
    """Return the layers of a duct: their resistance and the perimeter round them.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.
    size : Size
        Inside of the duct.
    resistance : float or None
        Of a flat blanket to put in place of the labelled one [m²·K/W].

    Returns
    -------
    tuple of float
        Resistance of one meter [m·K/W] and outer perimeter [m].

    Notes
    -----
    The blanket is as thick as its label over the conductivity of light glass fibre, and
    thinner where it was found so. Metal, liner and jacket count for nothing.
    """
    flat = reading.insulation_resistance if resistance is None else resistance
    made = flat * WRAP_CONDUCTIVITY
    thickness, total = made, 0.0
    if resistance is None and reading.wrap_thickness is not None and made > 0.0:
        thickness = min(max(reading.wrap_thickness, 0.0), made)
        flat = compressed_resistance(flat, thickness / made)
    if thickness > 0.0:
        total += round_layer(size.perimeter, thickness, thickness / flat)
    around = size.perimeter + 2.0 * math.pi * thickness
    if reading.foam_thickness > 0.0:
        total += round_layer(around, reading.foam_thickness, FOAM_CONDUCTIVITY)
        around += 2.0 * math.pi * reading.foam_thickness
    return total, around


def beyond(
    reading: DuctRunReading,
    around: float,
    face: float,
    pressure: float,
) -> float:
    """Return what stands between the outer face and the air round it.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.
    around : float
        Perimeter of the face [m].
    face : float
        Its temperature [K].
    pressure : float
        Barometric [Pa].

    Returns
    -------
    float
        Resistance of one meter [m·K/W].

    Notes
    -----
    A face in the air: natural convection round a cylinder of the same perimeter, and
    radiation to surroundings as warm as the air (a hot roof deck above it makes the duct
    gain more). Under loose insulation: its shape factor. Half in it: both, half and half,
    the covered half as if under insulation as deep as the duct's radius; ours.
    """
    diameter, air = around / math.pi, reading.surroundings_temperature
    emittance = 0.90 if reading.foam_thickness > 0.0 else EMITTANCE[reading.jacket]
    film = natural_film_round(diameter, face, air, pressure) + radiation_film(emittance, face, air)
    open_air = 1.0 / (film * around)
    if reading.cover is Cover.BURIED and reading.cover_depth > 0.0:
        return buried_layer(diameter, reading.cover_depth, LOOSE_CONDUCTIVITY)
    if reading.cover is Cover.PARTLY:
        covered = buried_layer(diameter, 0.5 * diameter, LOOSE_CONDUCTIVITY)
        return 2.0 / (1.0 / open_air + 1.0 / (open_air + covered))
    return open_air


def build_run(
    reading: DuctRunReading, pressure: float, resistance: float | None = None
) -> Run | None:
    """Return the run that a reading describes.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.
    pressure : float
        Barometric [Pa].
    resistance : float or None
        Of a flat blanket to put in place of the labelled one [m²·K/W].

    Returns
    -------
    Run or None
        None where size, flow or temperatures are missing or cannot be.
    """
    size = size_of(reading)
    flow = None if size is None else flow_of(reading, size)
    if size is None or flow is None or not is_possible(reading):
        return None
    entering, around_air = reading.entering_temperature, reading.surroundings_temperature
    # The outer films depend little on the temperature of the face: three rounds settle them.
    wrap, around = layers(reading, size, resistance)
    inner = 1.0 / (
        size.perimeter
        * forced_film(
            flow / size.section,
            size.hydraulic,
            entering,
            roughness=ROUGHNESS[reading.kind],
            pressure=pressure,
        )
    )
    face, bare_face = around_air, 0.5 * (entering + around_air)
    outer, bare_outer = 1.0, 1.0
    for _ in range(3):
        outer = beyond(reading, around, face, pressure)
        bare_outer = beyond(reading, size.perimeter, bare_face, pressure)
        face = outer_temperature(entering, around_air, inner + wrap, outer)
        bare_face = outer_temperature(entering, around_air, inner, bare_outer)
    rate = moist_air_density(entering, pressure) * flow * HEAT_OF_AIR
    return Run(
        size=size,
        length=reading.length,
        flow=flow,
        capacity_rate=rate,
        inner=inner,
        wrap=wrap,
        outer=outer,
        bare_outer=bare_outer,
        bare_share=min(max(reading.bare_share, 0.0), 1.0),
        outer_perimeter=around,
    )


def is_possible(reading: DuctRunReading) -> bool:
    """Return whether length and temperatures can be those of a duct in a house.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.

    Returns
    -------
    bool
    """
    read = (
        reading.entering_temperature,
        reading.surroundings_temperature,
        reading.register_temperature,
        reading.surroundings_dew_point,
    )
    humidity = reading.surroundings_humidity
    return (
        all(t is None or COLDEST <= t <= HOTTEST for t in read)
        and 0.0 < reading.length <= 200.0
        and 0.0 <= reading.insulation_resistance <= 20.0
        and 0.0 <= reading.foam_thickness <= 0.5
        and 0.0 <= reading.cover_depth <= 3.0
        and (humidity is None or 0.0 <= humidity <= 1.2)
    )


def temperatures_along(
    run: Run, entering: float, surroundings: float, points: int = 9
) -> tuple[tuple[float, float], ...]:
    """Return the temperature of the air along a run.

    Parameters
    ----------
    run : Run
        The run.
    entering, surroundings : float
        Of the air that enters and round it [K].
    points : int
        How many, both ends among them [-].

    Returns
    -------
    tuple of tuple of float
        Distance from the entering end [m] and temperature [K].
    """
    each = run.conductance()
    places = [run.length * i / (points - 1) for i in range(points)]
    return tuple(
        (x, arriving_temperature(entering, surroundings, each * x, run.capacity_rate))
        for x in places
    )
