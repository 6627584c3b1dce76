"""The section drawing: a cut through this house, drawn from its record."""

from rooftree.papers.section.alternative import describe_section
from rooftree.papers.section.draw import draw_section
from rooftree.papers.section.pressures import SectionPressures, measured_pressures
from rooftree.papers.section.state import (
    SectionState,
    breathing_sentence,
    state_at,
    state_over_year,
)

__all__ = [
    "SectionPressures",
    "SectionState",
    "breathing_sentence",
    "describe_section",
    "draw_section",
    "measured_pressures",
    "state_at",
    "state_over_year",
]
