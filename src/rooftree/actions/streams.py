"""Take readings that a logger sends, and read them back while the test runs."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.steadiness import Settling, Steadiness, judge_steadiness
from rooftree.records.streams import Sending, Sent, StreamShelf, StreamStatus
from rooftree.units.spelling import find_unit

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    from rooftree.records.streams import NameStatus, Readings
    from rooftree.units import Kind, Unit

__all__ = [
    "Course",
    "Sending",
    "Sent",
    "StreamShelf",
    "StreamStatus",
    "Window",
    "begin_sending",
    "list_streams",
    "open_streams",
    "reading_course",
    "reading_windows",
    "thin",
]

WINDOW = 20.0
"""Seconds over which a reading is averaged where nobody says."""

POINTS = 300
"""Points of a picture: about one for each pixel of a phone's width."""


@dataclass(frozen=True, slots=True)
class Window:
    """What one name has shown in the last seconds.

    Attributes
    ----------
    name : str
        Of the reading.
    kind : Kind
        What it measures.
    unit : str
        In which the logger sends it.
    last : str
        The newest reading as it was sent.
    mean : str
        Mean over the window with its unit, one digit finer than the display; the reading
        to take.
    scatter : str
        Standard deviation of one reading, with unit.
    standard : str
        Standard uncertainty of the mean from the scatter, with unit.
    count : int
        Readings in the window.
    settling : Settling
        Whether the reading can be taken.
    says : str
        The same in one plain sentence.
    """

    name: str
    kind: Kind
    unit: str
    last: str
    mean: str
    scatter: str
    standard: str
    count: int
    settling: Settling
    says: str


@dataclass(frozen=True, slots=True)
class Course:
    """How one reading went, thinned for a picture.

    Attributes
    ----------
    name : str
        Of the reading.
    kind : Kind
        What it measures.
    unit : str
        In which the logger sends it.
    count : int
        Readings that it stands for.
    time : tuple of float
        Since the newest [s]; not above zero.
    value : tuple of float
        In the unit of the core.
    """

    name: str
    kind: Kind
    unit: str
    count: int
    time: tuple[float, ...]
    value: tuple[float, ...]


def open_streams(folder: Path) -> StreamShelf:
    """Return the streams of a data folder; nothing is made before the first line.

    Parameters
    ----------
    folder : Path
        The data folder.

    Returns
    -------
    StreamShelf
    """
    return StreamShelf(folder)


def begin_sending(shelf: StreamShelf, name: str) -> Sending:
    """Begin to take lines for a stream.

    Parameters
    ----------
    shelf : StreamShelf
        Of the data folder.
    name : str
        Of the stream.

    Returns
    -------
    Sending
        `feed` it pieces of any size, then let it `finish`.

    Raises
    ------
    DocumentError
        If a stream cannot be called so.
    """
    return Sending(shelf.stream(name))


def list_streams(shelf: StreamShelf) -> tuple[StreamStatus, ...]:
    """Return where every stream stands, the last written first.

    Parameters
    ----------
    shelf : StreamShelf
        Of the data folder.

    Returns
    -------
    tuple of StreamStatus
    """
    return tuple(shelf.stream(name).status() for name in shelf.names())


def reading_windows(
    shelf: StreamShelf, name: str, seconds: float = WINDOW
) -> tuple[StreamStatus, tuple[Window, ...]]:
    """Return where a stream stands, and what each of its names showed in the last seconds.

    Parameters
    ----------
    shelf : StreamShelf
        Of the data folder.
    name : str
        Of the stream.
    seconds : float
        Length of the window [s], counted back from the last line.

    Returns
    -------
    tuple of StreamStatus and tuple of Window
        A name that has stopped coming has a window of no readings.

    Raises
    ------
    DocumentError
        If a stream cannot be called so.
    """
    stream = shelf.stream(name)
    status = stream.status()
    windows = tuple(
        _window(one, readings, seconds)
        for one in status.names
        if (readings := stream.readings(one.name, seconds)) is not None
    )
    return status, windows


def reading_course(
    shelf: StreamShelf, name: str, reading: str, seconds: float, points: int = POINTS
) -> Course | None:
    """Return how one reading of a stream went, thinned for a picture.

    Parameters
    ----------
    shelf : StreamShelf
        Of the data folder.
    name : str
        Of the stream.
    reading : str
        Name of the reading.
    seconds : float
        How far back [s].
    points : int
        Points at most, about.

    Returns
    -------
    Course or None
        None where the stream has no such reading.
    """
    found = shelf.stream(name).readings(reading, seconds)
    if found is None:
        return None
    kept = thin(found.value, points)
    return Course(
        name=found.name,
        kind=found.kind,
        unit=found.unit,
        count=int(found.value.size),
        time=tuple(found.time[kept].tolist()),
        value=tuple(found.value[kept].tolist()),
    )


def thin(value: NDArray[np.float64], points: int) -> NDArray[np.intp]:
    """Return the places of values that draw the same line as all of them.

    Parameters
    ----------
    value : ndarray, shape (n,)
        In their order.
    points : int
        Places at most, about; at least 8.

    Returns
    -------
    ndarray
        Rising places: the lowest and the highest of each stretch, so that no gust is lost,
        and the two ends.
    """
    size = int(value.size)
    stretches = max(points, 8) // 2 - 1
    if size <= 2 * stretches + 2:
        return np.arange(size)
    length = -(-size // stretches)
    padded = np.pad(value, (0, stretches * length - size), mode="edge").reshape(stretches, length)
    starts = np.arange(stretches) * length
    places = np.concatenate(
        ([0, size - 1], starts + padded.argmin(axis=1), starts + padded.argmax(axis=1))
    )
    return np.unique(np.minimum(places, size - 1))


def _window(status: NameStatus, readings: Readings, seconds: float) -> Window:
    unit = find_unit(readings.unit, readings.kind)
    assert unit is not None  # noqa: S101 - the line was read by it
    if not readings.value.size:
        says = f"No reading in the last {seconds:g} s."
        return Window(
            status.name, status.kind, status.unit, status.text, "", "", "", 0,
            Settling.TOO_SHORT, says,
        )  # fmt: skip
    steady = judge_steadiness(
        readings.time, readings.value, window=seconds, resolution=readings.resolution
    )
    places = _places(readings.resolution, unit) + 1
    scatter, standard, drift = (
        f"{one / abs(unit.factor):.{places}f} {unit.name}"
        for one in (steady.scatter, steady.standard, abs(steady.drift))
    )
    return Window(
        name=status.name,
        kind=status.kind,
        unit=status.unit,
        last=status.text,
        mean=_plainly(f"{unit.from_core(steady.mean):.{places}f} {unit.name}"),
        scatter=scatter,
        standard=standard,
        count=steady.count,
        settling=steady.settling,
        says=_says(steady, seconds, scatter, drift),
    )


def _places(resolution: float, unit: Unit) -> int:
    return max(round(-math.log10(resolution / abs(unit.factor))), 0)


def _plainly(text: str) -> str:
    """Return a number without the sign that a rounded zero may keep."""
    return text.removeprefix("-") if not text.partition(" ")[0].strip("-0.") else text


def _says(steady: Steadiness, seconds: float, scatter: str, drift: str) -> str:
    match steady.settling:
        case Settling.SETTLED:
            return f"Settled: {steady.count} readings in {steady.span:.0f} s scatter by {scatter}."
        case Settling.DRIFTING:
            way = "Rising" if steady.drift > 0.0 else "Falling"
            return f"{way} by {drift} in {steady.span:.0f} s, more than its noise: wait."
    return f"{steady.count} readings in {steady.span:.0f} s; {seconds:g} s are needed: wait."
