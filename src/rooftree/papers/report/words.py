"""Amounts, ranges and dates as a homeowner reads them."""

from __future__ import annotations

import calendar
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.plan.model import Effect

EVEN = 15.0
"""Money in a year that is not worth a figure [$/year]; judgement."""


def dollars(amount: float) -> str:
    """Return an amount rounded as an estimate deserves: to tens, or to hundreds from $2,000.

    Parameters
    ----------
    amount : float
        [$].

    Returns
    -------
    str
        Such as ``"$3,200"``.
    """
    step = 100.0 if abs(amount) >= 2000.0 else 10.0
    rounded = round(amount / step) * step
    return f"−${-rounded:,.0f}" if rounded < 0 else f"${rounded:,.0f}"


def money_range(low: float, high: float) -> str:
    """Return a range of money.

    Parameters
    ----------
    low, high : float
        Ends of the range [$].

    Returns
    -------
    str
        Such as ``"$1,900 to $3,200"``; one amount where both ends round to it.
    """
    ends = [dollars(low), dollars(high)]
    return ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"


def saving_words(effect: Effect) -> str:
    """Return what an effect saves or costs in a year, as computed.

    Parameters
    ----------
    effect : Effect
        Any.

    Returns
    -------
    str
        Such as ``"saves $210"``, ``"costs $40"`` or ``"about even"``.
    """
    return likely_saving_words(effect, effect)


def likely_saving_words(low: Effect, high: Effect) -> str:
    """Return what something saves or costs in a year, as a likely range.

    Parameters
    ----------
    low, high : Effect
        Ends of the range.

    Returns
    -------
    str
        Such as ``"saves $90 to $210"``, ``"costs $20 to $40"`` or ``"about even"``.
    """
    least, most = low.money_saved, high.money_saved
    if max(abs(least), abs(most)) < EVEN:
        return "about even"
    if least >= 0.0:
        return f"saves {_up_to(least, most)}"
    if most <= 0.0:
        return f"costs {_up_to(-most, -least)}"
    return f"saves up to {dollars(most)}, or costs up to {dollars(-least)}"


def _up_to(least: float, most: float) -> str:
    return money_range(least, most) if least >= EVEN else f"up to {dollars(most)}"


def day_words(iso: str) -> str:
    """Return an ISO date in words; what is not one is returned as it is.

    Parameters
    ----------
    iso : str
        Such as ``"2026-01-21"``.

    Returns
    -------
    str
        Such as ``"21 January 2026"``.

    Examples
    --------
    >>> day_words("2026-01-21")
    '21 January 2026'
    """
    try:
        day = date.fromisoformat(iso)
    except ValueError:
        return iso
    return f"{day.day} {calendar.month_name[day.month]} {day.year}"


def first_sentence(text: str) -> str:
    """Return a text up to the end of its first sentence.

    Parameters
    ----------
    text : str
        One or more sentences.

    Returns
    -------
    str
        The whole text where it is one sentence. A figure such as "2.0 Pa" ends none.
    """
    first, separator, rest = text.partition(". ")
    return f"{first}." if separator and rest else text


def capitalised(text: str) -> str:
    """Return a text with a capital at its start.

    Parameters
    ----------
    text : str
        Any.

    Returns
    -------
    str
    """
    return text[:1].upper() + text[1:]
