"""Round trips, to see whether the truth lies in the range that a reduction states.

``PYTHONPATH=tools python -m covered`` runs all and writes ``docs/reference/coverage.md``; with
names of test kinds behind it, it runs those and replaces only their sections. The folder is
not called "coverage", since that name would hide a library for which numba looks at import.
"""
