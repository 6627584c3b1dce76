"""Years of weather that the tests of this folder share."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pvlib
import pytest

from rooftree.weather import parse_any

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.weather import WeatherYear

SHARED = Path(__file__).parents[3] / "shared" / "weather"
WHEEL = Path(pvlib.__file__).parent / "data"


@cache
def _year(path: Path) -> WeatherYear:
    return parse_any(path.read_text(encoding="utf-8", errors="replace"), path.name)


@pytest.fixture(scope="session")
def wheel() -> Path:
    """Return the folder of typical years in pvlib's wheel."""
    return WHEEL


@pytest.fixture(scope="session")
def greensboro() -> WeatherYear:
    """Return the TMY3 year of Greensboro, from pvlib's wheel."""
    return _year(WHEEL / "723170TYA.CSV")


@pytest.fixture(scope="session")
def shared_text() -> Callable[[str], str]:
    """Return the text of a file in ../shared/weather; skip where that is absent."""

    def text(name: str) -> str:
        path = SHARED / name
        if not path.exists():
            pytest.skip(f"needs ../shared/weather/{name}")
        return path.read_text(encoding="utf-8", errors="replace")

    return text


@pytest.fixture(scope="session")
def shared_year() -> Callable[[str], WeatherYear]:
    """Return the year of a file in ../shared/weather; skip where that is absent."""

    def year(name: str) -> WeatherYear:
        path = SHARED / name
        if not path.exists():
            pytest.skip(f"needs ../shared/weather/{name}")
        return _year(path)

    return year
