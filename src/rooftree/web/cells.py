"""One field of a form, as a template lays it out."""

from __future__ import annotations

from dataclasses import dataclass

NOT_CHOSEN = ("", "—")
"""Choice of a field of which nothing was chosen."""

YES_OR_NO = (NOT_CHOSEN, ("yes", "yes"), ("no", "no"))
"""Choices of a question; nothing is chosen before somebody answered."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One field of a form.

    Attributes
    ----------
    path : str
        Name of the field: where its value stands in the entry.
    words : str
        Its label.
    text : str
        What was typed.
    mistake : str
        What is wrong with it; empty where nothing is.
    hint : str
        How it may be written.
    options : tuple of (str, str)
        Value and words of each choice; empty for a field to type into.
    is_number : bool
        Whether a phone should offer digits first.
    is_signed : bool
        Whether the number may be below zero; a phone's digits have no minus sign.
    is_next : bool
        Whether typing goes on here.
    """

    path: str
    words: str
    text: str
    mistake: str = ""
    hint: str = ""
    options: tuple[tuple[str, str], ...] = ()
    is_number: bool = False
    is_signed: bool = False
    is_next: bool = False

    @property
    def is_short(self) -> bool:
        """Return whether two such fields fit beside each other on a phone."""
        return self.is_number or bool(self.options and max(len(o[1]) for o in self.options) < 14)
