"""Ventilation the house needs."""
