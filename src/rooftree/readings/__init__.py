"""Field tests: readings in, defended results and findings out."""
