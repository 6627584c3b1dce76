"""Physics: moist air, leaks and orifices, stack and wind, uncertainty."""
