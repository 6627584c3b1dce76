"""One spelling out of the many in which people write the same unit."""

from __future__ import annotations

import re
from functools import cache
from itertools import permutations
from typing import TYPE_CHECKING

from rooftree.units.table import UNITS, Unit

if TYPE_CHECKING:
    from rooftree.units.kinds import Kind

_SIGNS = str.maketrans(
    {
        "²": "2", "³": "3", "⁻": "-", "¹": "1", "ⁿ": "n", "º": "°", "℉": "°F", "℃": "°C",
        "′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"',
        "−": "-", "–": "-", "‐": "-", "‑": "-", "\u00a0": " ", "\u202f": " ", "\u2009": " ",
        "∕": "/", "⁄": "/", "μ": "µ", "∆": "Δ",
    }
)  # fmt: skip
_WORD = re.compile(r"[A-Za-zµΔ]+")
_WORDS = {"hr": "h", "hrs": "h", "hour": "h", "hours": "h", "per": "/", "sqft": "ft2"}
_DEGREE = re.compile(r"(?:°|\bdeg(?:rees?)?\.?)\s*(?=[FCKfck]\b)")
_SQUARE = re.compile(r"\b(sq|cu)\.?\s*(ft|in|m|yd)\b", re.IGNORECASE)
_SEPARATORS = re.compile(r"[\s·⋅*×.()^\-]+")


def plain_signs(text: str) -> str:
    """Return a text with typographic signs replaced by those on every keyboard."""
    return text.translate(_SIGNS)


def spelling(text: str) -> str:
    """Return the one spelling under which a unit is looked up."""
    power = {"sq": "2", "cu": "3"}
    text = _DEGREE.sub("", plain_signs(text).strip())
    text = _SQUARE.sub(lambda found: found[2] + power[found[1].lower()], text)
    text = _WORD.sub(lambda found: _WORDS.get(found[0].lower(), found[0]), text)
    text = _SEPARATORS.sub("", text)
    above, slash, below = text.partition("/")
    return above + slash + below.replace("/", "")


def _orders(name: str) -> set[str]:
    """Return the spellings of a unit's name with its factors in any order."""
    above, slash, below = name.strip().partition("/")
    sides = [
        ["".join(order) for order in permutations(side.strip("()").split("·"))]
        for side in (above, below)
    ]
    return {spelling(first + slash + second) for first in sides[0] for second in sides[1]}


@cache
def spellings(kind: Kind) -> dict[str, Unit]:
    """Return the units of a kind by every spelling, as written and folded to lower case."""
    found: dict[str, Unit] = {}
    for unit in UNITS[kind]:
        for name in (unit.name, unit.plural, *unit.spellings):
            for key in _orders(name) if name else ():
                found.setdefault(key, unit)
                if not unit.case_matters:
                    found.setdefault("folded " + key.casefold(), unit)
    return found


def find_unit(text: str, kind: Kind) -> Unit | None:
    """Return the unit of a kind that a text names, or None."""
    key, known = spelling(text), spellings(kind)
    return known.get(key) or known.get("folded " + key.casefold())
