"""Field mistakes given to the reductions: which are caught, and do clean tests stay quiet.

``PYTHONPATH=tools python -m mistakes`` runs all and writes ``docs/reference/mistakes.md``;
with names of test kinds behind it, it runs those and replaces only their sections.
"""
