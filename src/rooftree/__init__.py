"""Rooftree: from one visit's readings to a safe, ordered, costed plan for a house."""

__version__ = "0.1.0"
