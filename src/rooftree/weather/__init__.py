"""A year of weather, sun, sky, ground, climate zone, design days."""
