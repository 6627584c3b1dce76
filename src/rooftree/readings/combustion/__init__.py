"""Combustion safety tests."""
