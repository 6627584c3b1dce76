"""The section drawing: a cut through this house, drawn from its record."""

from rooftree.papers.section.draw import draw_section
from rooftree.papers.section.state import SectionState, state_at, state_over_year

__all__ = ["SectionState", "draw_section", "state_at", "state_over_year"]
