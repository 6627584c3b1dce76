"""The columns that somebody wants, and how well the words and units of others fit them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from rooftree.units.reading import PRIMARY
from rooftree.units.spelling import find_unit

if TYPE_CHECKING:
    from rooftree.units import Kind


@dataclass(frozen=True, slots=True)
class Column:
    """A column that is wanted.

    Attributes
    ----------
    name : str
        Of the field that it fills.
    words : str
        As people call it.
    units : tuple of str
        Units for numbers typed alone, the usual first; empty for words and pure numbers.
    kind : Kind or None
        What it measures; None for words.
    choices : tuple of (str, str)
        Value and words of each choice; empty where any words will do.
    is_needed : bool
        Whether a row cannot do without it.
    """

    name: str
    words: str
    units: tuple[str, ...] = ()
    kind: Kind | None = None
    choices: tuple[tuple[str, str], ...] = ()
    is_needed: bool = False

    def choice(self, cell: str) -> str | None:
        """Return the value that a cell chooses, or None.

        Examples
        --------
        >>> Column("is_open", "Open?", choices=(("yes", "yes"), ("no", "no"))).choice("TRUE")
        'yes'
        """
        told = _squeezed(cell)
        for value, words in self.choices:
            if told in (_squeezed(value), _squeezed(words)):
                return value
        values = {value for value, _ in self.choices if value}
        return _ANSWERS.get(told) if values == {"yes", "no"} else None


_ANSWERS = {
    "y": "yes", "true": "yes", "1": "yes", "x": "yes", "on": "yes", "open": "yes",
    "n": "no", "false": "no", "0": "no", "off": "no", "closed": "no",
}  # fmt: skip

_PHRASES = {
    "air flow": "flow", "airflow": "flow", "flow rate": "flow", "flowrate": "flow",
    "carbon monoxide": "co", "carbon dioxide": "co2", "relative humidity": "humidity",
    "wood moisture": "moisture", "moisture content": "moisture", "delta p": "pressure",
    "pressure difference": "pressure", "differential pressure": "pressure", "dew point": "dewpoint",
    "air handler": "airhandler", "static pressure": "static", "ext static": "static",
    "with respect to": "against", "wrt": "against", "in reference to": "against",
    "clock time": "time", "time stamp": "time", "elapsed time": "time", "as left": "after",
    "as found": "before", "test in": "before", "test out": "after", "wet bulb": "wetbulb",
    "fan pressure": "fanpressure", "flow pressure": "fanpressure",
}  # fmt: skip
"""Words of the trade that stand together for one thing."""

_WORDS = {
    "press": "pressure", "dp": "pressure", "p": "pressure", "pres": "pressure", "q": "flow",
    "q50": "flow", "p50": "pressure",
    "vol": "flow", "volume": "flow", "building": "house", "envelope": "house",
    "enclosure": "house", "dwelling": "house", "home": "house", "main": "house",
    "outside": "outdoors", "outdoor": "outdoors", "exterior": "outdoors", "ambient": "outdoors",
    "inside": "indoors", "indoor": "indoors", "interior": "indoors", "temp": "temperature",
    "temperatures": "temperature", "t": "temperature", "rh": "humidity", "bias": "baseline",
    "zero": "baseline", "natural": "baseline", "offset": "baseline", "ring": "configuration",
    "range": "configuration", "plate": "configuration", "config": "configuration",
    "setup": "configuration", "timestamp": "time", "clock": "time", "datetime": "time",
    "elapsed": "time", "seconds": "time", "minutes": "time", "pre": "before", "post": "after",
    "grille": "register", "diffuser": "register", "boot": "register", "outlet": "register",
    "room": "place", "location": "place",
    "where": "place", "position": "place", "comment": "note", "comments": "note",
    "remark": "note", "remarks": "note", "notes": "note", "mc": "moisture", "wme": "moisture",
    "sp": "static", "tesp": "static", "ahu": "airhandler", "blower": "fan", "co₂": "co2",
    "reg": "register", "registers": "register", "zones": "zone",
    "velocity": "speed", "w": "width", "h": "height",
    "o2": "oxygen", "draught": "draft", "depth": "thickness", "thick": "thickness",
    "price": "cost", "money": "cost", "label": "name",
    "readings": "reading", "no": "number", "nr": "number", "station": "number", "index": "number",
    "point": "number", "row": "number", "step": "number",
}  # fmt: skip
"""Single words of the trade for one thing; recalled, common practice."""

_IDLE = frozenset({
    "the", "of", "a", "an", "at", "as", "in", "to", "and", "read", "reading", "value", "measured",
    "shown", "is", "was", "against", "by", "from", "per", "with",
})  # fmt: skip
_BRACKETED = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")
_CAMEL = re.compile(r"(?<=[a-z])(?=[A-Z])")


def _squeezed(text: str) -> str:
    return " ".join(text.casefold().replace("_", " ").replace("-", " ").split())


@lru_cache(maxsize=4096)
def meaning(text: str) -> frozenset[str]:
    """Return what a heading is about, in one word for each thing.

    Examples
    --------
    >>> sorted(meaning("Bldg. air flow, as read [cfm]")), sorted(meaning("ZonePressure"))
    (['bldg', 'flow'], ['pressure', 'zone'])
    """
    plain = _BRACKETED.sub(" ", _CAMEL.sub(" ", text)).casefold()
    plain = " ".join(re.findall(r"[^\W_]+", plain))
    for phrase, word in _PHRASES.items():
        plain = re.sub(rf"\b{phrase}\b", word, plain)
    words = plain.split()
    told = {_WORDS.get(word, word) for word in words} - _IDLE
    return frozenset(told) or frozenset(words)


def likeness(column: Column, heading: str) -> float:
    """Return how alike a heading and a wanted column are [0-1]."""
    about = meaning(heading)
    if not about:
        return 0.0
    units = {word for unit in column.units for word in meaning(unit)}
    return max(_alike(meaning(text), about, units) for text in (column.words, column.name) if text)


def _alike(one: frozenset[str], other: frozenset[str], units: set[str]) -> float:
    other = other - (units - one) or other
    both = len(one & other)
    return 2.0 * both / (len(one) + len(other)) if both else 0.0


def unit_in(heading: str, kind: Kind) -> str:
    """Return the unit that a heading names for this kind of quantity, or an empty text.

    Examples
    --------
    >>> from rooftree.units import Kind
    >>> unit_in("House pressure (Pa)", Kind.PRESSURE), unit_in("flow cfm", Kind.FLOW)
    ('Pa', 'cfm')
    """
    return next((text for text in _unit_texts(heading) if fits(text, kind)), "")


def names_another_kind(heading: str, kind: Kind) -> bool:
    """Return whether a heading names, in brackets, a unit that does not measure this kind."""
    bracketed = [text.strip() for text in _BRACKETED.findall(heading) if text.strip()]
    return any(is_unit(text) for text in bracketed) and not any(
        fits(text, kind) for text in bracketed
    )


def _unit_texts(heading: str) -> list[str]:
    found = [text.strip() for text in _BRACKETED.findall(heading)]
    words = _BRACKETED.sub(" ", heading).replace("_", " ").replace(",", " ").split()
    tails = [" ".join(words[-k:]) for k in (3, 2, 1) if len(words) >= k]
    after_slash = heading.partition("/")[2].strip()
    return [text for text in (*found, *tails, after_slash) if text]


@lru_cache(maxsize=2048)
def fits(text: str, kind: Kind) -> bool:
    """Return whether a text is a unit of this kind."""
    return find_unit(text, kind) is not None


@lru_cache(maxsize=2048)
def is_unit(text: str) -> bool:
    """Return whether a text is a unit of any kind."""
    return any(fits(text, kind) for kind in PRIMARY)
