"""Run as ``python -m rooftree.cli``."""

from rooftree.cli import main

main()
