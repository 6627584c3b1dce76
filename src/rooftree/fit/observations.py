"""What the simulated network has to give back: numbers read in some state of the house."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.engine.gauges import Setting
    from rooftree.fit.unknowns import Unknown

GAUGE = ""
"""The space in which the test fan and its gauge stand."""


class Quantity(StrEnum):
    """What is read in a state."""

    LOG_FLOW = "logarithm of the flow of a test fan"
    FLOW = "flow of a test fan"
    PRESSURE = "pressure"


@dataclass(frozen=True, slots=True)
class State:
    """A house in some setting, with places held at a pressure by test fans.

    Attributes
    ----------
    setting : Setting
        What stands open and runs.
    held : tuple of (str, float)
        Place, and its pressure with reference to outdoors [Pa]; `GAUGE` for the space of the
        gauge.
    """

    setting: Setting
    held: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Term:
    """One quantity in one state, as part of an observation.

    Attributes
    ----------
    weight : float
        By which it counts [-].
    state : State
        In which it is read.
    quantity : Quantity
        What is read.
    place : str
        Of the fan, or whose pressure it is.
    against : str or None
        Reference of a pressure; None for outdoors.
    """

    weight: float
    state: State
    quantity: Quantity
    place: str = GAUGE
    against: str | None = None


@dataclass(frozen=True, slots=True)
class Observation:
    """One number that a test gave.

    Attributes
    ----------
    test : str
        Name of the test.
    what : str
        What was read, in words.
    terms : tuple of Term
        Whose weighted sum it is.
    value : float
        As read [unit], or its logarithm.
    uncertainty : float
        Standard uncertainty, without what `of_the_test` holds [unit], > 0.
    unit : str
        ``"Pa"``, ``"m³/s"`` or ``"-"``; logarithms of flows have ``"-"``.
    of_the_test : tuple of (str, float)
        Keys of unknowns of the test, such as the calibration of its fan, and how much each
        adds to the value.
    """

    test: str
    what: str
    terms: tuple[Term, ...]
    value: float
    uncertainty: float
    unit: str
    of_the_test: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class NotUsed:
    """A test that tells nothing of the network of this house.

    Attributes
    ----------
    test : str
        Its name.
    why : str
        The reason, with what to do about it.
    is_told : bool
        Whether a person should hear of it: not where nothing else was to be expected.
    """

    test: str
    why: str
    is_told: bool


@dataclass(frozen=True, slots=True)
class Observed:
    """All that a fit has to meet.

    Attributes
    ----------
    observations : tuple of Observation
        Numbers of all tests.
    unknowns : tuple of Unknown
        What is unknown of the tests themselves.
    not_used : tuple of NotUsed
        Tests that tell nothing of the network of this house.
    """

    observations: tuple[Observation, ...]
    unknowns: tuple[Unknown, ...]
    not_used: tuple[NotUsed, ...]
