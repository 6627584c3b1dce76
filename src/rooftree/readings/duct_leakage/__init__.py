"""Duct leakage by duct pressurization."""
