"""Measures, packages, stages and money."""
