"""Answers that several tests ask for."""

from __future__ import annotations

from enum import StrEnum


class Answer(StrEnum):
    """An answer that may not have been given yet."""

    YES = "yes"
    NO = "no"
    NOT_NEEDED = "not needed"
    NOT_SAID = "not said"
