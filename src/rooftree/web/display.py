"""How a person wants to see things: units and light, kept in two cookies."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, TypeVar

from rooftree.units import DisplaySystem

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response

SYSTEM_COOKIE, THEME_COOKIE = "rooftree-units", "rooftree-light"

_YEAR = 365 * 24 * 3600

Choice = TypeVar("Choice", bound=StrEnum)


class Theme(StrEnum):
    """Light of the pages; `AUTO` follows the device."""

    AUTO = "auto"
    LIGHT = "light"
    DARK = "dark"


@dataclass(frozen=True, slots=True)
class Display:
    """What one browser has chosen.

    Attributes
    ----------
    system : DisplaySystem
        Units in which numbers are shown; entries may be typed in any unit.
    theme : Theme
        Light or dark.
    """

    system: DisplaySystem
    theme: Theme

    @property
    def dark(self) -> bool:
        """Return whether the dark variant was asked for by name."""
        return self.theme is Theme.DARK


def display_of(request: Request) -> Display:
    """Return what this browser has chosen, or feet and the device's own light."""
    return Display(
        _chosen(DisplaySystem, request.cookies.get(SYSTEM_COOKIE), DisplaySystem.IP),
        _chosen(Theme, request.cookies.get(THEME_COOKIE), Theme.AUTO),
    )


def remember(response: Response, display: Display) -> None:
    """Keep the choice in the browser for a year."""
    for name, value in ((SYSTEM_COOKIE, display.system), (THEME_COOKIE, display.theme)):
        response.set_cookie(name, value, max_age=_YEAR, httponly=True, samesite="lax")


def changed(display: Display, *, system: str | None, theme: str | None) -> Display:
    """Return the choice with what was pressed; anything else is ignored."""
    return Display(
        _chosen(DisplaySystem, system, display.system), _chosen(Theme, theme, display.theme)
    )


def _chosen(kind: type[Choice], text: str | None, otherwise: Choice) -> Choice:
    return kind(text) if text in set(kind) else otherwise
