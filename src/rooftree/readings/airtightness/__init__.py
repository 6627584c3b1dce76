"""Fan pressurization tests of the enclosure."""
