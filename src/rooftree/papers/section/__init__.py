"""The section drawing: a cut through this house, drawn from its record."""

from rooftree.papers.section.alternative import describe_section
from rooftree.papers.section.draw import draw_section
from rooftree.papers.section.labels import conditions
from rooftree.papers.section.moving import Moment, MovingSection
from rooftree.papers.section.pressures import SectionPressures, measured_pressures
from rooftree.papers.section.sequences import Sequence, sequence_names, sequence_of
from rooftree.papers.section.state import (
    SectionState,
    breathing_sentence,
    state_at,
    state_of_hours,
    state_over_year,
    widest_state,
)

__all__ = [
    "Moment",
    "MovingSection",
    "SectionPressures",
    "SectionState",
    "Sequence",
    "breathing_sentence",
    "conditions",
    "describe_section",
    "draw_section",
    "measured_pressures",
    "sequence_names",
    "sequence_of",
    "state_at",
    "state_of_hours",
    "state_over_year",
    "widest_state",
]
