"""The engine: a house through a year of weather, air, heat and moisture together."""
