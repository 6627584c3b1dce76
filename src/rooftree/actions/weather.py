"""Keep years of weather: from files, or fetched over the network."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.actions.jobs import add_weather, fetch_weather, list_weather
from rooftree.actions.reading import read_file
from rooftree.records import open_store

if TYPE_CHECKING:
    from pathlib import Path


@dataclass(frozen=True, slots=True)
class Shelf:
    """The years of weather that jobs can name.

    Attributes
    ----------
    added : tuple of str
        Names of those that were just added.
    names : tuple of str
        All names.
    """

    added: tuple[str, ...]
    names: tuple[str, ...]


def keep_weather(
    folder: Path, file: Path | None = None, place: tuple[float, float] | None = None
) -> Shelf:
    """Keep a year of weather from a file, or one fetched for a place, and list all.

    Parameters
    ----------
    folder : Path
        Of the database; made if it is not there.
    file : Path or None
        Of a year to keep.
    place : tuple of float or None
        Latitude and longitude whose typical year is to be fetched, north and east
        positive [°].

    Returns
    -------
    Shelf

    Raises
    ------
    StoreError, WeatherError
        If the file cannot be read or is no whole year, or there is no network.
    """
    content = None if file is None else read_file(file)
    store = open_store(folder)
    added: tuple[str, ...] = ()
    if file is not None and content is not None:
        added += (add_weather(store, file.name, content),)
    if place is not None:
        added += (fetch_weather(store, *place),)
    return Shelf(added, list_weather(store))
