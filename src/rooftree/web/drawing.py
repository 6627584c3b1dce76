"""The section drawing, made for paper, put on a page that may be dark."""

from __future__ import annotations

import re

from markupsafe import Markup

_TOKENS = {
    "#faf8f3": "--paper",
    "#22262b": "--ink",
    "#4c4a44": "--soft",
    "#6f6a5e": "--soft",
    "#8a8577": "--soft",
    "#b9b4a8": "--faint",
    "#efeadf": "--fill",
    "#ffffff": "--white",
    "#1f6f8b": "--cool",
    "#b5541c": "--warm",
}
_TITLE = re.compile(r"<title[^>]*>([^<]*)</title>")
_COLOUR = re.compile(r'(?<=")(#[0-9a-fA-F]{6})(?=")')


def for_page(svg: str) -> Markup:
    """Return a drawing whose colours are those of the page, light or dark.

    The drawing comes from our own generator, which escapes every label.

    Examples
    --------
    >>> print(for_page('<path stroke="#22262B" fill="#123456"/>'))
    <path stroke="var(--ink)" fill="#123456"/>
    """
    return Markup(_COLOUR.sub(_as_variable, svg))  # noqa: S704


def title_of(svg: str) -> str:
    """Return what a drawing says that it shows.

    Examples
    --------
    >>> title_of("<svg><title>Air rises &amp; leaves</title></svg>")
    'Air rises & leaves'
    """
    found = _TITLE.search(svg)
    return str(Markup(found[1]).unescape()) if found else "Section through the house"  # noqa: S704


def _as_variable(found: re.Match[str]) -> str:
    token = _TOKENS.get(found[1].lower())
    return f"var({token})" if token else found[1]
